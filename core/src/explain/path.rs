//! Paths of figures and the patterns of rows.

use super::Row;
use crate::report::figure::PATH;
use crate::text;
use core::fmt::Write;
use heapless::{String, Vec};

/// Most places in a path.
const PLACES: usize = 4;
/// Longest text of which a distance is told; more is cut.
const LONGEST: usize = 96;

/// The places and the name by which a path fills its pattern.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Places<'p> {
    places: Vec<usize, PLACES>,
    name: &'p str,
}

impl Places<'_> {
    /// The first place: the stage of a figure of a stage; 0 where there is none.
    pub(super) fn first(&self) -> usize {
        self.places.first().copied().unwrap_or(0)
    }

    /// The same with another first place and no further ones.
    pub(super) fn at(&self, place: usize) -> Self {
        // One place fits.
        Self { places: [place].into_iter().collect(), name: self.name }
    }
}

/// The places of `path` where it fits `pattern`; `[]` in the path counts as the first place, and the last brackets may be
/// missing.
pub(super) fn matched<'p>(pattern: &str, path: &'p str) -> Option<Places<'p>> {
    let mut found = Places::default();
    let mut parts = text::split(path, ".");
    let mut wanted = text::split(pattern, ".").peekable();
    while let Some(want) = wanted.next() {
        let part = parts.next()?;
        let (name, places) = split(part);
        let (want_name, want_places) = split(want);
        if want_name == "NAME" {
            found.name = name;
        } else if want_name != name {
            return None;
        }
        let (given, asked) = (brackets(places).count(), brackets(want_places).count());
        let last = wanted.peek().is_none();
        if given > asked || (given < asked && !last) {
            return None;
        }
        for place in brackets(places) {
            let place = place.strip_suffix(']')?;
            let place = if place.is_empty() { 0 } else { place.parse().ok()? };
            found.places.push(place).ok()?;
        }
    }
    parts.next().is_none().then_some(found)
}

/// The pattern with the places and the name filled in; `None` where places are missing.
pub(super) fn filled(pattern: &str, places: &Places<'_>) -> Option<String<PATH>> {
    let mut path = String::new();
    let mut next = places.places.iter().copied();
    for (index, part) in text::split(pattern, ".").enumerate() {
        let (name, asked) = split(part);
        let name = if name == "NAME" { places.name } else { name };
        let point = if index > 0 { "." } else { "" };
        write!(path, "{point}{name}").ok()?;
        for _ in brackets(asked) {
            write!(path, "[{}]", next.next()?).ok()?;
        }
    }
    Some(path)
}

/// A part of a path as its name and its brackets.
fn split(part: &str) -> (&str, &str) {
    let name = text::split_once(part, "[").map_or(part, |(name, _)| name);
    (name, part.strip_prefix(name).unwrap_or(""))
}

/// What stands behind each opening bracket, the closing one included.
fn brackets(places: &str) -> impl Iterator<Item = &str> {
    let mut parts = text::split(places, "[");
    // Before the first bracket stands the name.
    parts.next();
    parts
}

/// How far a path is from a row: letters to change, and much less where a word of it stands in the row.
pub(super) fn distance(path: &str, row: &Row) -> usize {
    let (path, pattern) = (bare(path), bare(row.path));
    let last = text::rsplit_once(&path, ".").map_or(path.as_str(), |(_, last)| last);
    let known = !last.is_empty() && (text::contains(&pattern, last) || text::contains(row.name, last));
    letters(&path, &pattern) + if known { 0 } else { LONGEST }
}

/// Lower case and without brackets.
fn bare(path: &str) -> String<LONGEST> {
    let mut bare = String::new();
    let mut inside = false;
    for letter in path.chars() {
        inside = (inside || letter == '[') && letter != ']';
        if !inside && letter != ']' {
            // What does not fit is cut: a longer name is far from every row anyway.
            let _ = bare.push(letter.to_ascii_lowercase());
        }
    }
    bare
}

/// Letters to put in, take out or change to make one text of the other (Levenshtein 1966).
fn letters(first: &str, second: &str) -> usize {
    let mut above = [0_usize; LONGEST + 1];
    for (count, entry) in above.iter_mut().enumerate() {
        *entry = count;
    }
    for (row, one) in first.bytes().take(LONGEST).enumerate() {
        let mut diagonal = row;
        let mut left = row + 1;
        if let Some(entry) = above.first_mut() {
            *entry = left;
        }
        for (entry, other) in above.iter_mut().skip(1).zip(second.bytes()) {
            let changed = diagonal + usize::from(one != other);
            diagonal = *entry;
            left = changed.min(*entry + 1).min(left + 1);
            *entry = left;
        }
    }
    above.get(second.len().min(LONGEST)).copied().unwrap_or(LONGEST)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_fits_its_pattern_only() {
        let places = matched("stages[].inlet.dopant_pa.NAME", "stages[2].inlet.dopant_pa.DEZn").expect("it fits");
        assert_eq!((places.first(), places.name), (2, "DEZn"));
        assert_eq!(
            filled("stages[].inlet.dopant_iii.NAME", &places).as_deref(),
            Some("stages[2].inlet.dopant_iii.DEZn")
        );
        assert!(matched("stages[].profile.wall_c[]", "stages[0].profile.wall_c").is_some());
        assert!(matched("stages[].profile.wall_c[]", "stages[0].profile.wall_c[3][4]").is_none());
        assert!(matched("stages[].flow.reynolds", "stages.flow.reynolds").is_none());
        assert!(matched("stages[].flow.reynolds", "stages[0].flow").is_none());
        assert!(matched("stages[].flow.reynolds", "stages[0].flow.reynolds.x").is_none());
        assert!(matched("stages[].flow.reynolds", "stages[x].flow.reynolds").is_none());
    }

    /// Source: the usual example of the distance.
    #[test]
    fn kitten_is_three_letters_from_sitting() {
        assert_eq!(letters("kitten", "sitting"), 3);
        assert_eq!(letters("", "abc"), 3);
        assert_eq!(letters("abc", ""), 3);
    }
}
