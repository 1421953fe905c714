//! The sentence of a verdict: state, then reason, the worst fault first.

use super::reason::{self, Reason};
use super::{CHARACTERS, Item, Kind, Text, grew};
use crate::line::{Doping, Line};
use crate::number::{Length, SetPointDigits, Share, placed, two};
use crate::report::{At, Report};
use core::fmt::{self, Display, Formatter, Write};
use heapless::String;

/// Longest name in a sentence, in characters; a longer one is cut.
const NAME: usize = 28;

/// The sentence of any report: its verdict, what it makes without an order, or why there is no prediction.
#[must_use]
pub fn sentence(report: &Report) -> Text {
    let mut text = Text::new();
    let written = match (&report.refused, &report.verdict, report.wires.get()) {
        (Some(refused), ..) => write!(
            text,
            "No prediction: {}: gas turns back at z = {} mm, {}.",
            refused.path,
            two(refused.z_mm),
            place(refused.at),
        ),
        (None, Some(verdict), _) => text.push_str(&verdict.text).map_err(|_| fmt::Error),
        (None, None, Some(wires)) if grew(wires) => write!(
            text,
            "No order yet. This recipe makes wires of {}, spread {}.",
            Length(wires.length_nm.mean),
            Share(wires.length_nm.cv.unwrap_or(0.0)),
        ),
        (None, None, Some(_)) => text.push_str("No order yet. Nothing grows.").map_err(|_| fmt::Error),
        (None, None, None) => Ok(()),
    };
    // Every one of them is shorter than the room; a cut sentence would still be read.
    let _ = written;
    text
}

/// What helps where gas turns back.
const HELPS: &str = "a narrower tube, a warmer inlet, a smaller step of the wall temperature, or flow upwards";

/// Why a report was refused, and what helps; empty where it was not.
#[must_use]
pub fn refusal(report: &Report) -> Text {
    let mut text = Text::new();
    if let Some(refused) = &report.refused {
        // 240 bytes of the report and those of the help have room.
        let _ = write!(text, "{}: {}. What helps: {HELPS}.", refused.path, without_stop(&refused.text));
    }
    text
}

/// A text without its full stop.
fn without_stop(text: &str) -> &str {
    text.strip_suffix('.').unwrap_or(text)
}

/// Where gas turns back, in words.
const fn place(at: At) -> &'static str {
    match at {
        At::Wall => "at the wall",
        At::Axis => "on the axis",
        At::Between => "between wall and axis",
    }
}

/// Path of the ordered field in the job.
pub(super) fn path(kind: Kind) -> String<48> {
    let mut path = String::new();
    // 48 bytes hold the longest of these.
    let _ = match kind {
        Kind::Length(stage) => write!(path, "order.segments[{stage}].length_nm"),
        Kind::Carriers(stage) => write!(path, "order.segments[{stage}].carriers_per_cm3"),
        Kind::Diameter => write!(path, "order.diameter_nm"),
        Kind::Spread => write!(path, "order.spread_cv"),
    };
    path
}

/// The sentence for judged items: worst first, a second after "and", then the reason of the worst.
pub(super) fn judged(line: &Line, report: &Report, items: &[Item]) -> Text {
    if report.wires.get().is_some_and(|wires| !grew(wires)) {
        return compose(format_args!("Nothing grows{}.", Because(reason::of_nothing(line, report))))
            .unwrap_or_default();
    }
    let Some(worst) = strained(items, None) else {
        return compose(format_args!("Inside the order.")).unwrap_or_default();
    };
    let state = State { line, report, item: worst, first: true, same: false };
    if worst.met {
        return compose(format_args!("Inside the order. Tightest is {}.", Tightest(state)))
            .or_else(|| compose(format_args!("Inside the order.")))
            .unwrap_or_default();
    }
    let reason = Sentence(worst, report);
    let second = strained(items, Some(worst)).filter(|item| !item.met);
    let with_second = second.and_then(|item| {
        let second =
            State { line, report, item, first: false, same: stage(item).is_some() && stage(item) == stage(worst) };
        compose(format_args!("{state} and {second}.{reason}"))
            .or_else(|| compose(format_args!("{state} and {second}.")))
    });
    with_second
        .or_else(|| compose(format_args!("{state}.{reason}")))
        .or_else(|| compose(format_args!("{state}.")))
        .unwrap_or_default()
}

/// The item with the largest strain, but for `except`; the first of equals.
fn strained<'a>(items: &'a [Item], except: Option<&Item>) -> Option<&'a Item> {
    let mut found: Option<&Item> = None;
    for item in items {
        let other = except.is_none_or(|except| except.kind != item.kind);
        if other && found.is_none_or(|found| (found.met, item.strain) > (item.met, found.strain)) {
            found = Some(item);
        }
    }
    found
}

/// The text, if it has at most [`CHARACTERS`] characters.
fn compose(arguments: fmt::Arguments<'_>) -> Option<Text> {
    let mut text = Text::new();
    text.write_fmt(arguments).ok()?;
    (text.chars().count() <= CHARACTERS).then_some(text)
}

/// ": reason", or nothing.
struct Because(Option<&'static str>);

impl Display for Because {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        self.0.map_or(Ok(()), |reason| write!(f, ": {reason}"))
    }
}

/// " Reason." of an item, or nothing.
struct Sentence<'a>(&'a Item, &'a Report);

impl Display for Sentence<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match (self.0.reason, self.1.seeds.and_then(|seeds| seeds.multiply_charged_share)) {
            (None, _) => Ok(()),
            (Some(Reason::TwoCharges), Some(share)) => write!(f, " {} of seeds carry two charges.", Share(share)),
            (Some(reason), _) => write!(f, " {}.", reason.words()),
        }
    }
}

/// What an item is and how it errs.
#[derive(Clone, Copy)]
struct State<'a> {
    line: &'a Line,
    report: &'a Report,
    item: &'a Item,
    /// Whether it starts the sentence.
    first: bool,
    /// Whether the segment has just been named.
    same: bool,
}

/// The stage whose segment an item is about.
const fn stage(item: &Item) -> Option<usize> {
    match item.kind {
        Kind::Length(stage) | Kind::Carriers(stage) => Some(stage),
        Kind::Diameter | Kind::Spread => None,
    }
}

impl State<'_> {
    fn name(&self, stage: usize) -> Name<'_> {
        let name = self.line.stages.get(stage).map_or("", |stage| stage.name.as_str());
        Name { text: name, stage, capital: self.first }
    }

    /// The name with a blank behind it; nothing where it has just been said.
    fn subject(&self, f: &mut Formatter<'_>, stage: usize) -> fmt::Result {
        if self.same { Ok(()) } else { write!(f, "{} ", self.name(stage)) }
    }

    /// Standard deviation of the wires, to whose place a margin is written; 0 where there is none.
    fn spread(&self) -> f64 {
        let Some(wires) = self.report.wires.get() else { return 0.0 };
        match self.item.kind {
            Kind::Length(stage) => wires.segments.get(stage).map_or(0.0, |segment| segment.length_nm.sd),
            Kind::Diameter => wires.diameter_nm.tip.sd,
            Kind::Carriers(_) | Kind::Spread => 0.0,
        }
    }

    fn ordered(&self, stage: usize) -> Option<Doping> {
        let order = self.line.order.as_ref()?;
        order.segments.get(stage)?.as_ref().map(|segment| segment.doping)
    }
}

impl Display for State<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let item = self.item;
        let predicted = item.predicted.unwrap_or(0.0);
        let outside = placed(item.margin.unwrap_or(0.0).abs(), self.spread());
        let long = predicted > item.ordered;
        match item.kind {
            Kind::Length(stage) => {
                let how = if long { "too long" } else { "too short" };
                self.subject(f, stage)?;
                // "Stage 1 389 nm" would be read as one number.
                let is = if !self.same && self.name(stage).text.ends_with(char::is_numeric) { "is " } else { "" };
                write!(f, "{is}{outside} nm {how}")
            }
            Kind::Carriers(stage) => self.carriers(f, stage, predicted),
            Kind::Diameter => {
                let wires = if self.first { "Wires" } else { "wires" };
                write!(f, "{wires} {outside} nm too {}", if long { "thick" } else { "thin" })
            }
            Kind::Spread => {
                let spread = if self.first { "Spread" } else { "spread" };
                write!(f, "{spread} {}, at most {}", Share(predicted), Share(item.ordered))
            }
        }
    }
}

impl State<'_> {
    fn carriers(&self, f: &mut Formatter<'_>, stage: usize, predicted: f64) -> fmt::Result {
        self.subject(f, stage)?;
        let ordered = self.item.ordered;
        let amount = SetPointDigits(ordered);
        match self.ordered(stage) {
            _ if self.item.predicted.is_none() => write!(f, "has not grown"),
            Some(Doping::I) => write!(f, "not clean enough: {}, at most {amount}", two(predicted)),
            Some(Doping::P) if predicted < 0.0 => write!(f, "came out n: {}", two(-predicted)),
            Some(Doping::N) if predicted < 0.0 => write!(f, "came out p: {}", two(-predicted)),
            _ => {
                let how = if predicted > ordered { "too heavily" } else { "too lightly" };
                write!(f, "doped {how}: {}", Of { predicted, ordered })
            }
        }
    }
}

/// The tightest item inside its order.
struct Tightest<'a>(State<'a>);

impl Display for Tightest<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let item = self.0.item;
        let predicted = item.predicted.unwrap_or(0.0);
        let ordered = item.ordered;
        let name = |stage| Name { capital: false, ..self.0.name(stage) };
        match item.kind {
            Kind::Length(stage) => {
                write!(f, "{}: {} nm to spare", name(stage), placed(item.margin.unwrap_or(0.0), self.0.spread()))
            }
            Kind::Carriers(stage) if self.0.ordered(stage) == Some(Doping::I) => {
                write!(f, "the doping of {}: {}, at most {}", name(stage), two(predicted), SetPointDigits(ordered))
            }
            Kind::Carriers(stage) => write!(f, "the doping of {}: {}", name(stage), Of { predicted, ordered }),
            Kind::Diameter => {
                write!(f, "the diameter: {} nm to spare", placed(item.margin.unwrap_or(0.0), self.0.spread()))
            }
            Kind::Spread => write!(f, "the spread: {}, at most {}", Share(predicted), Share(ordered)),
        }
    }
}

/// A stage's name, cut where it is long; capital at the start of a sentence unless its first word is one letter (p, n, i).
#[derive(Clone, Copy)]
struct Name<'a> {
    text: &'a str,
    stage: usize,
    capital: bool,
}

impl Display for Name<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        if self.text.chars().all(unseen) {
            return write!(f, "{} {}", if self.capital { "Stage" } else { "stage" }, self.stage + 1);
        }
        let letter = self.text.chars().nth(1).is_none_or(char::is_whitespace);
        let long = self.text.chars().count() > NAME;
        let kept = if long { NAME - 1 } else { NAME };
        for (place, letter_now) in self.text.chars().take(kept).enumerate() {
            if unseen(letter_now) {
                f.write_char(' ')?;
            } else if place == 0 && self.capital && !letter {
                for capital in letter_now.to_uppercase() {
                    f.write_char(capital)?;
                }
            } else {
                f.write_char(letter_now)?;
            }
        }
        if long { f.write_char('…') } else { Ok(()) }
    }
}

/// Blanks, and letters that do not show or turn the direction of what does.
fn unseen(letter: char) -> bool {
    letter.is_whitespace()
        || letter.is_control()
        || matches!(letter, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// "1.4 of 3 × 10¹⁸": the predicted amount in the power of ten of the ordered one.
struct Of {
    predicted: f64,
    ordered: f64,
}

impl Display for Of {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let power = crate::number::power(self.ordered);
        if self.predicted > 0.05 * power && self.predicted < 1000.0 * power {
            write!(f, "{} of {}", two(self.predicted / power), SetPointDigits(self.ordered))
        } else {
            write!(f, "{} of {}", two(self.predicted), SetPointDigits(self.ordered))
        }
    }
}
