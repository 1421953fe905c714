//! Whether the wires are what was ordered, and if not, what stops them.
//!
//! Takes the line (what is ordered), the report (what is predicted) and [`Signs`] (what the march saw and no figure
//! tells); gives a [`Verdict`]: one item a quantity that is ordered, and one sentence.
//!
//! | item | met when |
//! | --- | --- |
//! | length of a segment | \|mean − ordered\| ≤ tolerance |
//! | doping p or n | the type is right and the net mean is within a factor of 2 of the ordered |
//! | doping i | the amount of the net mean is at most the ordered |
//! | diameter | \|mean tip diameter − ordered\| ≤ tolerance |
//! | spread | cv of the whole length ≤ ordered; only if it is ordered |
//!
//! `met` rests on means alone. A margin has the unit of its item and is negative outside.
//!
//! The reasons are a fixed list and each has its test in [`reason`]: numbers (2) to (10) of the list; (1), the changes
//! since the pinned recipe, needs its levers, which are not there yet, and so does the chance. A test is a rule of thumb
//! with its threshold beside it (common practice, no source): it says what most likely acts, the figures say how much.
//!
//! Covered by the tests of this module and by `tests/tests/words.rs`.

mod chance;
pub mod reason;
mod since;
pub mod words;

pub use chance::{Known, with_chance, with_reason};
pub use reason::Reason;
pub use since::since;

use crate::line::{Doping, Line, OrderSegment, STAGES};
use crate::report::{Report, Segment, Wires};
use heapless::{String, Vec};
use serde::Serialize;

/// Most items: a length and a doping a stage, diameter and spread.
pub const ITEMS: usize = 2 * STAGES + 2;
/// Most characters of the sentence.
pub const CHARACTERS: usize = 120;

/// Text of a sentence; room for [`CHARACTERS`] of up to three bytes and a name that is then cut.
pub type Text = String<480>;

/// The order against the wires.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Verdict {
    /// Whether every item is met, on means alone.
    pub met: bool,
    /// One or two sentences, at most [`CHARACTERS`] characters.
    pub text: Text,
    /// One entry a quantity that is ordered.
    pub items: Vec<Item, ITEMS>,
    /// Chance that the lot meets the order; `None` until the uncertainty is known.
    pub chance: Option<f64>,
}

/// One quantity that is ordered.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Item {
    /// Path of the ordered field in the job.
    pub what: String<48>,
    /// What is ordered: nm, 1/cm³ or –.
    pub ordered: f64,
    /// What is predicted, in the same unit; doping as its amount. `None` where nothing grew.
    pub predicted: Option<f64>,
    /// Distance to the nearer limit in the same unit, negative outside; `None` where nothing grew.
    pub margin: Option<f64>,
    /// Whether it is inside.
    pub met: bool,
    /// The limit that acts, if one is known.
    pub reason: Option<Reason>,
    /// What it is, for the sentence.
    #[serde(skip)]
    pub kind: Kind,
    /// Distance from the ordered value in accepted half-widths: 1 at a limit.
    #[serde(skip)]
    pub strain: f64,
}

/// What an item is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Length of the segment of a stage.
    Length(usize),
    /// Net doping of the segment of a stage.
    Carriers(usize),
    /// Mean tip diameter.
    Diameter,
    /// Coefficient of variation of the whole length.
    Spread,
}

/// What the march saw and no figure of the report tells.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Signs {
    /// One entry a stage.
    pub stages: [StageSigns; STAGES],
}

/// What the march saw in a stage.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct StageSigns {
    /// Molar flow of group III (parent and fragment) where the last zone begins, over that at the stage's inlet, –;
    /// `None` with fewer than two zones, with a measured profile, and without group III.
    pub left_before_last_zone: Option<f64>,
    /// Supply rate over kinetic rate, –, mean over wires and over the length they grow here; `None` where nothing grew.
    pub supply_over_kinetic: Option<f64>,
}

/// The order against the wires; `None` without an order, and where no prediction was made.
#[must_use]
pub fn verdict(line: &Line, report: &Report, signs: &Signs) -> Option<Verdict> {
    let order = line.order.as_ref()?;
    let wires = report.wires.get()?;
    let mut items = Vec::new();
    for (stage, ordered) in order.segments.iter().enumerate() {
        if let (Some(ordered), Some(segment)) = (ordered, wires.segments.get(stage)) {
            // ITEMS has room for two a stage and the two below, so no push is lost.
            let _ = items.push(length(stage, ordered, segment));
            let _ = items.push(carriers(stage, ordered, segment));
        }
    }
    let _ = items.push(band(
        Kind::Diameter,
        order.diameter * 1e9,
        order.diameter_tolerance * 1e9,
        Some(wires.diameter_nm.tip.mean),
    ));
    if let Some(limit) = order.spread_cv {
        let _ = items.push(at_most(Kind::Spread, limit, wires.length_nm.cv));
    }
    for item in &mut items {
        item.reason = reason::reason(item, line, report, signs);
    }
    let met = items.iter().all(|item| item.met);
    let text = words::judged(line, report, &items);
    Some(Verdict { met, text, items, chance: None })
}

fn length(stage: usize, ordered: &OrderSegment, segment: &Segment) -> Item {
    band(Kind::Length(stage), ordered.length * 1e9, ordered.tolerance * 1e9, Some(segment.length_nm.mean))
}

fn carriers(stage: usize, ordered: &OrderSegment, segment: &Segment) -> Item {
    let kind = Kind::Carriers(stage);
    let wanted = ordered.carriers * 1e-6;
    let net = segment.net_per_cm3.map(|net| net.mean);
    if net.is_none() {
        // Nothing grew: the length says it, with its reason.
        return item(kind, wanted, None, None, 1.0);
    }
    match ordered.doping {
        Doping::I => Item { strain: halvings(wanted, net), ..at_most(kind, wanted, net.map(f64::abs)) },
        Doping::P => factor_of_two(kind, wanted, net.map(|net| -net)),
        Doping::N => factor_of_two(kind, wanted, net),
    }
}

/// Strain of a segment that is to be clean: 1 at the limit, 0 at half of it, as for p and n; doping is wide of its mark by
/// factors.
fn halvings(limit: f64, net: Option<f64>) -> f64 {
    net.map_or(f64::MAX, |net| if net == 0.0 { 0.0 } else { (1.0 + libm::log2(net.abs() / limit)).max(0.0) })
}

/// Met within `tolerance` of `ordered`, ends included.
fn band(kind: Kind, ordered: f64, tolerance: f64, predicted: Option<f64>) -> Item {
    let off = predicted.map(|predicted| (predicted - ordered).abs());
    let strain = off.map_or(f64::MAX, |off| ratio(off, tolerance));
    item(kind, ordered, predicted, off.map(|off| tolerance - off), strain)
}

/// Met up to `limit`, end included.
fn at_most(kind: Kind, limit: f64, predicted: Option<f64>) -> Item {
    let strain = predicted.map_or(f64::MAX, |predicted| ratio(predicted, limit));
    item(kind, limit, predicted, predicted.map(|predicted| limit - predicted), strain)
}

/// Met from half of `ordered` to twice of it, ends included; below 0 the type is wrong.
fn factor_of_two(kind: Kind, ordered: f64, predicted: Option<f64>) -> Item {
    let strain = predicted.map_or(f64::MAX, |predicted| {
        if predicted > 0.0 { libm::fabs(libm::log2(predicted / ordered)) } else { f64::MAX }
    });
    let margin = predicted.map(|predicted| (predicted - ordered / 2.0).min(ordered * 2.0 - predicted));
    item(kind, ordered, predicted, margin, strain)
}

/// Part over whole; nothing over nothing is 0.
fn ratio(part: f64, whole: f64) -> f64 {
    if whole > 0.0 {
        part / whole
    } else if part > 0.0 {
        f64::MAX
    } else {
        0.0
    }
}

fn item(kind: Kind, ordered: f64, predicted: Option<f64>, margin: Option<f64>, strain: f64) -> Item {
    Item {
        what: words::path(kind),
        ordered,
        predicted,
        margin,
        met: margin.is_some_and(|margin| margin >= 0.0),
        reason: None,
        kind,
        strain,
    }
}

/// Whether any wire grew at all.
fn grew(wires: &Wires) -> bool {
    wires.length_nm.mean > 0.0
}
