//! What can be wrong with a job: where, what was typed, why not, and what is accepted.
//!
//! A [`Fault`] is a value, not a text; its one sentence is made here and nowhere else:
//!
//! `stages[1].zones[0].wall_c: -400 is below absolute zero; accepted: -50 to 1000 °C`
//!
//! [`Faults`] is what [`crate::check::check`] answers instead of a line: every fault of the job at once, as many as there
//! is room for, and how many more there were. A fault of structure, which the reader of the text finds, comes alone: nothing
//! can be read behind it. Its words are made from the reader's by [`Fault::of_structure`].
//!
//! Covered by the tests below and by `tests/tests/job_file.rs`.

use crate::number::{rounded, typed};
use crate::text::{rsplit_once, split, split_once};
use core::fmt::{self, Display, Write as _};
use heapless::{String, Vec};
use serde::ser::{SerializeStruct, Serializer};
use serde::{Deserialize, Serialize};

/// Most faults that are listed; the others are counted.
pub const FAULTS: usize = 64;
/// Longest path, bytes.
const PATH: usize = 80;
/// Longest value that is repeated, bytes; the rest is cut off.
const VALUE: usize = 48;
/// Longest reason, bytes.
const REASON: usize = 144;
/// Longest list of what is accepted, bytes.
const ACCEPTED: usize = 208;

/// One thing that is wrong with a job.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Fault {
    /// Path of the field, such as `stages[1].zones[0].wall_c`; empty for the job as a whole.
    pub path: String<PATH>,
    /// The value as it was typed; empty if there is none.
    pub value: String<VALUE>,
    /// Why not; goes on behind the value, such as `is below absolute zero`.
    pub reason: String<REASON>,
    /// What is accepted, such as `-50 to 1000 °C`; empty if nothing needs to be said.
    pub accepted: String<ACCEPTED>,
}

impl Fault {
    /// A fault from its parts; each is cut off where it is longer than there is room for.
    #[must_use]
    pub fn new(path: impl Display, value: impl Display, reason: impl Display, accepted: impl Display) -> Self {
        Self { path: cut(path), value: cut(value), reason: cut(reason), accepted: cut(accepted) }
    }

    /// A fault of structure, from the words of serde and of a JSON reader.
    ///
    /// * `path` — as far as the reader came; `.` or empty for the top
    /// * `message` — what it says, such as ``missing field `seeds` at line 3 column 1``
    ///
    /// Returns the fault in the words of this program; what it does not know is kept as it stands.
    #[must_use]
    pub fn of_structure(path: &str, message: &str) -> Self {
        // The reader writes a question mark where it has not come as far as the name.
        let path = path.strip_suffix('?').unwrap_or(path);
        let path = path.strip_suffix('.').unwrap_or(path);
        let (message, place) = split_place(message);
        field(path, message).or_else(|| kind(path, message)).unwrap_or_else(|| syntax(path, message, place))
    }
}

impl Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.path.is_empty() {
            f.write_str("the job")?;
        } else {
            f.write_str(&self.path)?;
        }
        f.write_str(":")?;
        if !self.value.is_empty() {
            write!(f, " {}", self.value)?;
        }
        write!(f, " {}", self.reason)?;
        if !self.accepted.is_empty() {
            write!(f, "; accepted: {}", self.accepted)?;
        }
        Ok(())
    }
}

/// With a `text`: the sentence.
impl Serialize for Fault {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut fields = serializer.serialize_struct("Fault", 5)?;
        fields.serialize_field("path", &self.path)?;
        fields.serialize_field("value", &self.value)?;
        fields.serialize_field("reason", &self.reason)?;
        fields.serialize_field("accepted", &self.accepted)?;
        let text: String<{ PATH + VALUE + REASON + ACCEPTED + 32 }> = cut(self);
        fields.serialize_field("text", &text)?;
        fields.end()
    }
}

/// All that is wrong with a job, in the order of its file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Faults {
    list: Vec<Fault, FAULTS>,
    more: usize,
}

impl Faults {
    /// No fault yet.
    #[must_use]
    pub const fn new() -> Self {
        Self { list: Vec::new(), more: 0 }
    }

    /// Adds a fault; where there is no room, it is counted.
    pub fn push(&mut self, fault: Fault) {
        if self.list.push(fault).is_err() {
            self.more = self.more.saturating_add(1);
        }
    }

    /// Whether nothing is wrong.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// The faults that are listed.
    pub fn iter(&self) -> impl Iterator<Item = &Fault> {
        self.list.iter()
    }

    /// How many more there are.
    #[must_use]
    pub const fn more(&self) -> usize {
        self.more
    }
}

impl From<Fault> for Faults {
    fn from(fault: Fault) -> Self {
        let mut faults = Self::new();
        faults.push(fault);
        faults
    }
}

/// One sentence a line; the last says how many more there are.
impl Display for Faults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, fault) in self.list.iter().enumerate() {
            if index > 0 {
                f.write_str("\n")?;
            }
            write!(f, "{fault}")?;
        }
        if self.more > 0 {
            write!(f, "\nand {} more", self.more)?;
        }
        Ok(())
    }
}

/// A list of the faults that are listed.
impl Serialize for Faults {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.list.iter())
    }
}

/// A number as one would type it: no more digits than it needs, at most fifteen, a power of ten where it is large or small.
#[derive(Clone, Copy, Debug)]
pub struct Typed(pub f64);

impl Typed {
    /// A value that was computed, to a number of decimals.
    #[must_use]
    pub fn near(value: f64, decimals: u8) -> Self {
        Self(rounded(value, decimals))
    }
}

impl Display for Typed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        typed(f, self.0)
    }
}

/// A text between quotation marks.
#[derive(Clone, Copy, Debug)]
pub struct Quoted<'t>(pub &'t str);

impl Display for Quoted<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "\"{}\"", self.0)
    }
}

/// Writes as much as there is room for; an ellipsis stands where something was cut off, a blank for a control character.
pub(crate) fn cut<const N: usize>(text: impl Display) -> String<N> {
    let mut cutter = Cutter { text: String::new() };
    if write!(cutter, "{text}").is_err() {
        // Room for the ellipsis was left.
        let _ = cutter.text.push('…');
    }
    cutter.text
}

struct Cutter<const N: usize> {
    text: String<N>,
}

impl<const N: usize> fmt::Write for Cutter<N> {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        for letter in text.chars() {
            let letter = if letter.is_control() { ' ' } else { letter };
            if self.text.len() + letter.len_utf8() + '…'.len_utf8() > N || self.text.push(letter).is_err() {
                return Err(fmt::Error);
            }
        }
        Ok(())
    }
}

/// Splits ` at line 3 column 1` off a message and keeps `3 column 1` of it.
fn split_place(message: &str) -> (&str, &str) {
    rsplit_once(message, " at line ").unwrap_or((message, ""))
}

/// Splits `` `name`rest `` into the name and the rest.
fn between_ticks(text: &str) -> Option<(&str, &str)> {
    split_once(text.strip_prefix('`')?, "`")
}

/// The path of a field, whether the reader has already gone into it or not.
struct Inside<'p>(&'p str, &'p str);

impl Display for Inside<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self(path, name) = *self;
        let before = path.strip_suffix(name);
        if before.is_some_and(|before| before.is_empty() || before.ends_with('.')) {
            f.write_str(path)
        } else if path.is_empty() {
            f.write_str(name)
        } else {
            write!(f, "{path}.{name}")
        }
    }
}

/// Names without ticks and without `one of`.
struct Names<'t>(&'t str);

impl Display for Names<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let list = self.0.strip_prefix("one of ").unwrap_or(self.0);
        split(list, "`").try_for_each(|part| f.write_str(part))
    }
}

/// Faults of a field's name: missing, unknown, twice.
fn field(path: &str, message: &str) -> Option<Fault> {
    if let Some(rest) = message.strip_prefix("missing field ") {
        let (name, _) = between_ticks(rest)?;
        return Some(Fault::new(Inside(path, name), "", "is missing", "a value; it has no default"));
    }
    if let Some(rest) = message.strip_prefix("duplicate field ") {
        let (name, _) = between_ticks(rest)?;
        return Some(Fault::new(Inside(path, name), "", "is given twice", "one value"));
    }
    let (name, rest) = between_ticks(message.strip_prefix("unknown field ")?)?;
    let accepted = rest.strip_prefix(", expected ").unwrap_or("none here");
    Some(Fault::new(Inside(path, name), "", "is not a field of a job", Names(accepted)))
}

/// Faults of a value's kind: a word that is not known, a wrong type, too many entries.
fn kind(path: &str, message: &str) -> Option<Fault> {
    if let Some(rest) = message.strip_prefix("unknown variant ") {
        // The word may hold a tick of its own.
        let (word, accepted) = rsplit_once(rest, ", expected ")?;
        return Some(Fault::new(path, Quoted(word.trim_matches('`')), "is not known", Names(accepted)));
    }
    let (found, expected) = rsplit_once(message, ", expected ")?;
    let expected = match expected {
        "f64" => "a number",
        "a boolean" => "true or false",
        "a string" => "text",
        other => other,
    };
    if let Some(length) = found.strip_prefix("invalid length ") {
        let reason = if expected.starts_with("text") { "bytes are too many" } else { "entries or more are too many" };
        return Some(Fault::new(path, length, reason, expected));
    }
    let found = found.strip_prefix("invalid type: ").or_else(|| found.strip_prefix("invalid value: "))?;
    let (value, reason) = match split_once(found, " ") {
        Some(("string", text)) => (text, "is text"),
        Some(("boolean", value)) => (value, "is not of the right kind"),
        Some((_, value)) if value.ends_with('`') => {
            (rsplit_once(value, " ").map_or(value, |(_, last)| last), "is a number")
        }
        _ => match found {
            "sequence" => ("", "is a list"),
            "map" => ("", "is an object"),
            "null" => ("null", "is nothing"),
            other => (other, "is not of the right kind"),
        },
    };
    Some(Fault::new(path, value.trim_matches('`'), reason, expected))
}

/// What is no JSON, with the place in the text.
fn syntax(path: &str, message: &str, place: &str) -> Fault {
    let place = Place(place);
    let not_json = |why: &str| Fault::new(path, "", format_args!("is not JSON{place}: {why}"), "");
    if message.starts_with("EOF") {
        return not_json("the text ends too early, it was cut off or is empty");
    }
    match message {
        "number out of range" => Fault::new(path, "", format_args!("is too large a number{place}"), "a finite number"),
        "expected value" | "expected ident" => {
            not_json("a value is expected; NaN and Infinity are none, and text stands in quotation marks")
        }
        "recursion limit exceeded" => not_json("brackets are nested too deep"),
        "trailing characters" => not_json("more text stands behind the end of the job"),
        other => not_json(other),
    }
}

/// `3 column 1` as a place between brackets.
struct Place<'t>(&'t str);

impl Display for Place<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match split_once(self.0, " column ") {
            Some((line, column)) => write!(f, " (line {line}, column {column})"),
            None => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{FAULTS, Fault, Faults, Typed, cut};
    use heapless::String;

    fn sentence(fault: &Fault) -> String<512> {
        cut(fault)
    }

    /// The sentence names the field, the value and what is accepted.
    #[test]
    fn a_fault_is_one_sentence() {
        let fault = Fault::new("stages[1].zones[0].wall_c", Typed(-400.0), "is below absolute zero", "-50 to 1000 °C");
        let want = "stages[1].zones[0].wall_c: -400 is below absolute zero; accepted: -50 to 1000 °C";
        assert_eq!(sentence(&fault), want);
    }

    /// Each message of a reader has its words, with the path of the field.
    #[test]
    fn readers_words_become_ours() {
        for (path, message, want) in [
            (
                ".",
                "missing field `seeds` at line 3 column 1",
                "seeds: is missing; accepted: a value; it has no default",
            ),
            ("seeds", "missing field `x`", "seeds.x: is missing; accepted: a value; it has no default"),
            (
                "seeds.siz",
                "unknown field `siz`, expected `a` or `b`",
                "seeds.siz: is not a field of a job; accepted: a or b",
            ),
            (
                "seeds",
                "unknown field `x`, expected one of `a`, `b`, `c` at line 1 column 1",
                "seeds.x: is not a field of a job; accepted: a, b, c",
            ),
            ("order", "duplicate field `wires`", "order.wires: is given twice; accepted: one value"),
            (
                "material",
                "unknown variant `GaN`, expected GaAs, InP",
                "material: \"GaN\" is not known; accepted: GaAs, InP",
            ),
            (
                "pressure_mbar",
                "invalid type: string \"high\", expected f64 at line 2 column 3",
                "pressure_mbar: \"high\" is text; accepted: a number",
            ),
            ("title", "invalid type: integer `5`, expected text", "title: 5 is a number; accepted: text"),
            ("title", "invalid type: floating point `5.5`, expected text", "title: 5.5 is a number; accepted: text"),
            ("stages", "invalid type: map, expected a list", "stages: is an object; accepted: a list"),
            (".", "invalid type: sequence, expected an object", "the job: is a list; accepted: an object"),
            (
                "stages",
                "invalid length 7, expected a list of at most 6 entries",
                "stages: 7 entries or more are too many; accepted: a list of at most 6 entries",
            ),
            (
                "stages[0].?",
                "trailing comma at line 1 column 9",
                "stages[0]: is not JSON (line 1, column 9): trailing comma",
            ),
            (
                "x",
                "number out of range at line 1 column 9",
                "x: is too large a number (line 1, column 9); accepted: a finite number",
            ),
        ] {
            assert_eq!(sentence(&Fault::of_structure(path, message)), want);
        }
    }

    /// Text that is too long, and control characters in it, do no harm.
    #[test]
    fn long_text_is_cut_between_letters() {
        let text: String<8> = cut("ÄÖÜ\nßßß");
        assert_eq!(text, "ÄÖ…");
        let text: String<8> = cut("a\tb");
        assert_eq!(text, "a b");
    }

    /// What has no room is counted.
    #[test]
    fn faults_beyond_the_room_are_counted() {
        let mut faults = Faults::new();
        for _ in 0..FAULTS + 3 {
            faults.push(Fault::new("a", "", "is wrong", ""));
        }
        assert_eq!((faults.iter().count(), faults.more()), (FAULTS, 3));
    }

    /// Numbers read as they would be typed.
    #[test]
    fn numbers_read_as_typed() {
        for (number, want) in
            [(-400.0, "-400"), (0.1, "0.1"), (1e22, "1e22"), (0.0, "0"), (6e5, "600000"), (1e-6, "1e-6")]
        {
            let text: String<32> = cut(Typed(number));
            assert_eq!(text, want);
        }
    }
}
