//! A job put into the built page, so that one file carries both.

/// The element that holds the job, empty as it is built.
const EMPTY: &str = "<script type=\"application/json\" id=\"job\"></script>";

/// The page with a job in it.
///
/// * `page` — the built page, without a job
/// * `job` — the text of a job; a bracket in it is escaped, so that no text can end the element it stands in
///
/// Returns `None` if the page has no empty place for a job, or more than one.
#[must_use]
pub fn with_job(page: &str, job: &str) -> Option<String> {
    let (before, behind) = page.split_once(EMPTY)?;
    if behind.contains(EMPTY) {
        return None;
    }
    let opening = EMPTY.strip_suffix("</script>")?;
    // In JSON a bracket can only stand inside a text, where it may be written by its number.
    let job = job.trim().trim_start_matches('\u{feff}').replace('<', "\\u003c");
    Some(format!("{before}{opening}{job}</script>{behind}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_text_of_a_job_ends_its_element() {
        let page = format!("<p>{EMPTY}<script>1</script>");
        let filled = with_job(&page, r#"{"title": "</script><!--<script>"}"#).expect("there is a place");
        assert_eq!(filled.matches("</script").count(), 2);
        assert!(filled.contains(r#"{"title": "\u003c/script>\u003c!--\u003cscript>"}"#));
        assert_eq!(with_job(&filled, "{}"), None);
        assert_eq!(with_job("", "{}"), None);
    }
}
