//! Widths, wrapping and the few ways in which text is set.
//!
//! Nothing is coloured unless a terminal reads it, and not where `NO_COLOR` is set (and not empty) or the terminal is dumb.
//! What is set bold or dim says the same without it.

use clap::builder::styling::{AnsiColor, Style};
use std::env;
use std::io::{self, IsTerminal};
use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// Columns of human text.
pub const WIDTH: usize = 80;

/// Whether text is set, or plain.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    set: bool,
}

impl Look {
    /// For standard output as it is.
    pub fn of_output() -> Self {
        let refused = env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
        let dumb = env::var_os("TERM").is_some_and(|term| term == "dumb");
        Self { set: io::stdout().is_terminal() && !refused && !dumb }
    }

    /// What is read first.
    pub fn bold(self, text: &str) -> String {
        self.with(Style::new().bold(), text)
    }

    /// What is read last.
    pub fn dim(self, text: &str) -> String {
        self.with(Style::new().dimmed(), text)
    }

    /// What is outside the order; the words say so too.
    pub fn outside(self, text: &str) -> String {
        self.with(Style::new().bold().fg_color(Some(AnsiColor::Red.into())), text)
    }

    fn with(self, style: Style, text: &str) -> String {
        if self.set { format!("{style}{text}{style:#}") } else { text.to_owned() }
    }
}

/// Text from a file, safe to show: control and direction characters are blanks, and what is wider than `width` is cut.
pub fn clean(text: &str, width: usize) -> String {
    let turning =
        |letter: char| matches!(letter, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    let shown: String =
        text.chars().map(|letter| if letter.is_control() || turning(letter) { ' ' } else { letter }).collect();
    if shown.width() <= width {
        return shown;
    }
    let mut kept = String::new();
    let mut used = 1;
    for letter in shown.chars() {
        used += letter.width().unwrap_or(0);
        if used > width {
            break;
        }
        kept.push(letter);
    }
    kept.push('…');
    kept
}

/// Text in a column of `width`, to the left; a longer one keeps its length.
pub fn columns(text: &str, width: usize) -> String {
    format!("{text}{}", " ".repeat(width.saturating_sub(text.width())))
}

/// Text in a column of `width`, to the right; a longer one keeps its length.
pub fn right(text: &str, width: usize) -> String {
    format!("{}{text}", " ".repeat(width.saturating_sub(text.width())))
}

/// Units that stay with the number before them.
const UNITS: [&str; 14] = ["±", "×", "%", "nm", "µm", "mm", "s", "min", "h", "°C", "K", "Pa", "sccm", "mbar"];

/// The words of a text; a number and its unit, and the numbers on both sides of ± and ×, are one.
fn words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let bare = word.trim_end_matches(['.', ',', ';', ':', ')']);
        match words.last_mut() {
            Some(last) if last.ends_with(['±', '×']) || (UNITS.contains(&bare) && ends_in_digit(last)) => {
                last.push(' ');
                last.push_str(word);
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

/// Whether a word ends in a digit, superscripts among them.
fn ends_in_digit(word: &str) -> bool {
    word.ends_with(char::is_numeric)
}

/// Text broken into lines at blanks; every line but the first starts with `indent`, a word longer than a line is broken.
pub fn wrapped(text: &str, indent: &str, width: usize) -> Vec<String> {
    broken(text, "", indent, width)
}

/// The same with `indent` before the first line too.
pub fn indented(text: &str, indent: &str, width: usize) -> Vec<String> {
    broken(text, indent, indent, width)
}

fn broken(text: &str, first: &str, indent: &str, width: usize) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = first.to_owned();
    for word in words(text) {
        for piece in pieces(&word, width - indent.width()) {
            let blank = line.width() > if lines.is_empty() { first.width() } else { indent.width() };
            if blank && line.width() + 1 + piece.width() > width {
                lines.push(std::mem::replace(&mut line, indent.to_owned()));
            } else if blank {
                line.push(' ');
            }
            line.push_str(&piece);
        }
    }
    lines.push(line);
    lines
}

/// A word in pieces that fit a line.
fn pieces(word: &str, width: usize) -> Vec<String> {
    let mut pieces = vec![String::new()];
    let mut used = 0;
    for letter in word.chars() {
        let wide = letter.width().unwrap_or(0);
        if used + wide > width {
            pieces.push(String::new());
            used = 0;
        }
        used += wide;
        if let Some(piece) = pieces.last_mut() {
            piece.push(letter);
        }
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_wider_than_asked() {
        let text = format!("{} a bb ccc {}", "x".repeat(200), "管".repeat(100));
        for line in wrapped(&text, "  ", 20) {
            assert!(line.width() <= 20, "{line}");
        }
    }

    #[test]
    fn escape_sequences_do_not_reach_the_terminal() {
        assert_eq!(clean("a\u{1b}[31mb\u{202e}c", 20), "a [31mb c");
        assert_eq!(clean("管管管管", 6), "管管…");
    }
}
