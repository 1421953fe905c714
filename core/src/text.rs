//! Texts taken apart, without a path to a panic.
//!
//! What `core` offers for it (`find`, `split` and their kin) checks indices of its own, which the proof of `tests/panicless`
//! would find. Texts here are paths and sentences of a hundred bytes: a search may take its time.

/// What stands before and behind the first `mark`.
#[must_use]
pub fn split_once<'t>(text: &'t str, mark: &str) -> Option<(&'t str, &'t str)> {
    (0..text.len()).find_map(|at| parted(text, mark, at))
}

/// What stands before and behind the last `mark`.
#[must_use]
pub fn rsplit_once<'t>(text: &'t str, mark: &str) -> Option<(&'t str, &'t str)> {
    (0..text.len()).rev().find_map(|at| parted(text, mark, at))
}

/// The parts between the marks; without a mark the whole text.
pub fn split<'t>(text: &'t str, mark: &'t str) -> impl Iterator<Item = &'t str> {
    let mut left = Some(text);
    core::iter::from_fn(move || {
        let rest = left?;
        let (part, behind) = split_once(rest, mark).map_or((rest, None), |(part, behind)| (part, Some(behind)));
        left = behind;
        Some(part)
    })
}

/// Whether `part` stands somewhere in a text.
#[must_use]
pub fn contains(text: &str, part: &str) -> bool {
    part.is_empty() || split_once(text, part).is_some()
}

/// Both sides of the mark at byte `at`; no mark is empty.
fn parted<'t>(text: &'t str, mark: &str, at: usize) -> Option<(&'t str, &'t str)> {
    let (before, behind) = text.split_at_checked(at)?;
    behind.strip_prefix(mark).filter(|_| !mark.is_empty()).map(|behind| (before, behind))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: the functions of the standard library that they stand for.
    #[test]
    fn parts_are_those_of_the_standard_library() {
        for text in ["", ".", "a", "a.b", "..a..", "µ.ß.", "stages[0].zones[1].wall_c", " at line 3 column 1"] {
            for mark in [".", "[", "].", " at line ", "ß", ".."] {
                assert_eq!(split_once(text, mark), text.split_once(mark));
                assert_eq!(rsplit_once(text, mark), text.rsplit_once(mark));
                assert!(split(text, mark).eq(text.split(mark)), "{text} {mark}");
                assert_eq!(contains(text, mark), text.contains(mark));
            }
        }
        assert_eq!(split_once("abc", ""), None);
        assert!(contains("abc", ""));
    }
}
