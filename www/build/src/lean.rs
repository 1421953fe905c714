//! Source without what only its readers need: whole-line comments, blank lines and the blanks before a line.
//!
//! Nothing inside a line is touched, and nothing inside a template literal, so that what runs is what was written.

/// A script without whole-line comments and indentation.
pub fn script(text: &str) -> String {
    let mut lean = String::with_capacity(text.len());
    let mut in_comment = false;
    let mut in_template = false;
    for line in text.lines() {
        let bare = line.trim();
        if in_template {
            lean += line;
        } else if in_comment || bare.starts_with("/*") && (bare.ends_with("*/") || !bare.contains("*/")) {
            in_comment = !bare.ends_with("*/");
            continue;
        } else if bare.is_empty() || bare.starts_with("//") {
            continue;
        } else {
            lean += bare;
        }
        lean.push('\n');
        in_template ^= opens_or_closes(line, in_template);
    }
    lean
}

/// Whether a template literal that began before this line ends in it, or one begins that goes on behind it.
fn opens_or_closes(line: &str, in_template: bool) -> bool {
    let mut quote = in_template.then_some('`');
    let mut letters = line.chars();
    while let Some(letter) = letters.next() {
        match (quote, letter) {
            (_, '\\') => drop(letters.next()),
            (None, '\'' | '"' | '`') => quote = Some(letter),
            (Some(open), letter) if open == letter => quote = None,
            _ => {}
        }
    }
    // A quotation mark that is left open, as in a pattern or a comment, ends with its line.
    (quote == Some('`')) != in_template
}

/// A style without comments and indentation.
pub fn style(text: &str) -> String {
    let mut bare = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, behind)) = rest.split_once("/*") {
        bare += before;
        rest = behind.split_once("*/").map_or("", |(_, behind)| behind);
    }
    bare += rest;
    let lines = bare.lines().map(str::trim).filter(|line| !line.is_empty());
    lines.flat_map(|line| [line, "\n"]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_whole_line_comments_and_blanks_go() {
        let text = "/**\n * @param {string} a\n */\nfunction f(a) {\n  // why\n  return a; // stays\n\n}\n/* one */\nconst g = 1 /* stays */ + 2;\n";
        assert_eq!(script(text), "function f(a) {\nreturn a; // stays\n}\nconst g = 1 /* stays */ + 2;\n");
    }

    #[test]
    fn template_literals_stay_as_they_are() {
        let text = "const a = `\n  // text\n\n  '${b}' end`;\n  // comment\nconst c = `x`, d = '`';\n  // comment\n";
        assert_eq!(script(text), "const a = `\n  // text\n\n  '${b}' end`;\nconst c = `x`, d = '`';\n");
    }

    #[test]
    fn styles_lose_comments() {
        assert_eq!(style("/* a\n b */\n.c {\n  color: red; /* d */\n}\n"), ".c {\ncolor: red;\n}\n");
    }
}
