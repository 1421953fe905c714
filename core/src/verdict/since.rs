//! Why the wires differ from those of a pinned recipe: the changes of set-points that explain it.

use super::Text;
use crate::job::{Job, SetPoint};
use crate::levers::{Input, Levers};
use core::fmt::{self, Display, Formatter, Write};

/// Most changes that are named.
const NAMED: usize = 2;
/// Share of the whole that the named ones explain at least, else the second is named too.
const EXPLAINED: f64 = 0.8;

/// A change of one set-point with what it did to a figure.
#[derive(Clone, Copy, Debug)]
struct Change<'a> {
    job: &'a Job,
    point: SetPoint,
    more: bool,
    amount: f64,
}

/// The sentence that names the changes since `pinned` that moved figure `figure` most, in the direction in which it moved; empty where nothing
/// that was changed moved it.
///
/// * `levers` — effects of the set-points of `job`.
#[must_use]
pub fn since(levers: &Levers, figure: usize, pinned: &Job, job: &Job) -> Text {
    let changes = levers.levers.iter().filter_map(|lever| {
        let Input::Set(point) = lever.input else { return None };
        let change = point.value(job)? - point.value(pinned)?;
        let amount = lever.effects.get(figure)? * change;
        (change != 0.0 && amount != 0.0).then_some(Change { job, point, more: change > 0.0, amount })
    });
    let total: f64 = changes.clone().map(|change| change.amount).sum();
    let with = |change: &Change<'_>| change.amount * total > 0.0;
    let mut named: heapless::Vec<Change<'_>, NAMED> = heapless::Vec::new();
    for change in changes.filter(with) {
        let place = named.iter().position(|other| change.amount.abs() > other.amount.abs()).unwrap_or(named.len());
        if named.is_full() {
            if place == NAMED {
                continue;
            }
            named.pop();
        }
        // There is room, and the place is inside or at the end.
        let _ = named.insert(place, change);
    }
    let mut text = Text::new();
    let Some(first) = named.first() else { return text };
    // 480 bytes hold two changes with the longest names; a cut sentence would still be read.
    let _ = match named.get(1).filter(|_| first.amount.abs() < EXPLAINED * total.abs()) {
        Some(second) => write!(text, "Since the pin: {first} and {second}."),
        None => write!(text, "Since the pin: {first}."),
    };
    text
}

impl Change<'_> {
    fn precursor(&self, stage: u8, feed: u8) -> &'static str {
        let stage = self.job.stages.get(usize::from(stage));
        let feed = stage.and_then(|stage| stage.feeds.get(usize::from(feed)));
        feed.map_or("feed", |feed| feed.precursor.name())
    }

    /// " in absorber", nothing in a line of one stage.
    fn place(&self, f: &mut Formatter<'_>, stage: u8) -> fmt::Result {
        if self.job.stages.len() < 2 {
            return Ok(());
        }
        match self.job.stages.get(usize::from(stage)).and_then(|stage| stage.name.as_ref()) {
            Some(name) => write!(f, " in {}", name.trim()),
            None => write!(f, " in stage {}", u32::from(stage) + 1),
        }
    }
}

impl Display for Change<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let more = if self.more { "more" } else { "less" };
        let warmer = if self.more { "warmer" } else { "cooler" };
        match self.point {
            SetPoint::Pressure => f.write_str(if self.more { "a higher pressure" } else { "a lower pressure" }),
            SetPoint::Voltage => f.write_str(if self.more { "a higher voltage" } else { "a lower voltage" }),
            SetPoint::Aerosol => write!(f, "{more} aerosol"),
            SetPoint::Inlet(stage) => write!(f, "a {warmer} inlet").and_then(|()| self.place(f, stage)),
            SetPoint::Flange(stage) => write!(f, "a {warmer} flange").and_then(|()| self.place(f, stage)),
            SetPoint::Carrier(stage) => write!(f, "{more} carrier").and_then(|()| self.place(f, stage)),
            SetPoint::Wall(stage, zone) => {
                write!(f, "a {warmer} zone {}", u32::from(zone) + 1).and_then(|()| self.place(f, stage))
            }
            SetPoint::Bath(stage, feed) => {
                write!(f, "a {warmer} {} bath", self.precursor(stage, feed)).and_then(|()| self.place(f, stage))
            }
            SetPoint::Push(stage, feed) => {
                write!(f, "{more} push gas with {}", self.precursor(stage, feed)).and_then(|()| self.place(f, stage))
            }
            SetPoint::Cylinder(stage, feed) | SetPoint::Inject(stage, feed) | SetPoint::BubblerCarrier(stage, feed) => {
                write!(f, "{more} {}", self.precursor(stage, feed)).and_then(|()| self.place(f, stage))
            }
        }
    }
}
