//! The wires that leave the line: lengths, diameters, doping, and what makes them differ.

use super::part::{Clear, Named, Slots};
use super::{ALONG, BINS, POPULATION, Spread};
use crate::line::{DOPANTS, Doping, STAGES};
use heapless::Vec;
use serde::ser::{Serialize, Serializer};

/// The wires that leave.
#[derive(Clone, Debug, serde::Serialize)]
pub struct Wires {
    /// Length of the whole wire.
    pub length_nm: Spread,
    /// Diameters.
    pub diameter_nm: Diameter,
    /// One segment a stage, always.
    pub segments: Slots<Segment, STAGES>,
    /// The mean wire from base to tip.
    pub along: Along,
    /// Lengths of the whole wire.
    pub histogram: Histogram,
    /// What makes lengths differ.
    pub spread_from: SpreadFrom,
    /// What is behind all of it, a row a path and class within each group of kept stages.
    pub population: Vec<PopulationRow, POPULATION>,
}

impl Wires {
    /// No wires.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            length_nm: Spread::new(),
            diameter_nm: Diameter { tip: Spread::new(), base: Spread::new() },
            segments: Slots::new([const { Segment::new() }; STAGES]),
            along: Along::new(),
            histogram: Histogram::new(),
            spread_from: SpreadFrom { paths: None, seed_size: None, both: None, mixing: None },
            population: Vec::new(),
        }
    }
}

impl Default for Wires {
    fn default() -> Self {
        Self::new()
    }
}

impl Clear for Wires {
    fn clear(&mut self) {
        self.length_nm = Spread::new();
        self.diameter_nm = Diameter::default();
        self.segments.clear();
        self.along.clear();
        self.histogram.clear();
        self.spread_from = SpreadFrom::default();
        self.population.clear();
    }
}

/// Diameters of the wires.
#[derive(Clone, Copy, Debug, Default, PartialEq, serde::Serialize)]
pub struct Diameter {
    /// Under the seed.
    pub tip: Spread,
    /// At the base, with what the sidewall gained.
    pub base: Spread,
}

/// What one stage grew.
#[derive(Clone, Debug, serde::Serialize)]
pub struct Segment {
    /// Stage, counted from 0 as in `stages[]`.
    pub stage: usize,
    /// Length grown in this stage.
    pub length_nm: Spread,
    /// Where it starts on the mean wire, from the base.
    pub start_nm: f64,
    /// p, n or i; `None` where nothing grew.
    #[serde(serialize_with = "doping")]
    pub doping: Option<Doping>,
    /// Donors less acceptors, so negative where holes outweigh; `None` where nothing grew.
    pub net_per_cm3: Option<Carriers>,
    /// Each dopant by itself.
    pub dopants: Named<DopantAlong, DOPANTS>,
    /// What later stages laid on its sidewall (radius), mean over wires.
    pub coat_nm: f64,
    /// What its own stage laid on its base (radius), mean over wires.
    pub own_taper_nm: f64,
    /// The change of doping at its start; `None` in the first segment and where nothing changes.
    pub transition: Option<Transition>,
    /// Lengths of the segment.
    pub histogram: Histogram,
    /// Share of the wires whose segment is inside the order's tolerance; `None` where none is ordered.
    pub share_inside: Option<f64>,
}

impl Segment {
    /// Nothing grown.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            stage: 0,
            length_nm: Spread::new(),
            start_nm: 0.0,
            doping: None,
            net_per_cm3: None,
            dopants: Named::new(),
            coat_nm: 0.0,
            own_taper_nm: 0.0,
            transition: None,
            histogram: Histogram::new(),
            share_inside: None,
        }
    }
}

impl Default for Segment {
    fn default() -> Self {
        Self::new()
    }
}

impl Clear for Segment {
    fn clear(&mut self) {
        self.stage = 0;
        self.length_nm = Spread::new();
        self.start_nm = 0.0;
        self.doping = None;
        self.net_per_cm3 = None;
        self.dopants.clear();
        self.coat_nm = 0.0;
        self.own_taper_nm = 0.0;
        self.transition = None;
        self.histogram.clear();
        self.share_inside = None;
    }
}

/// Writes a doping as its letter.
// serde hands over a reference.
#[allow(clippy::ref_option, clippy::trivially_copy_pass_by_ref)]
fn doping<S: Serializer>(doping: &Option<Doping>, serializer: S) -> Result<S::Ok, S::Error> {
    doping.map(letter).serialize(serializer)
}

/// The letter of a doping: p, n or i.
#[must_use]
pub const fn letter(doping: Doping) -> &'static str {
    match doping {
        Doping::P => "p",
        Doping::N => "n",
        Doping::I => "i",
    }
}

/// Net carriers of a segment, donors less acceptors.
#[derive(Clone, Copy, Debug, Default, PartialEq, serde::Serialize)]
pub struct Carriers {
    /// Mean over length, then over wires by length.
    pub mean: f64,
    /// Where the segment starts.
    pub start: f64,
    /// Where it ends.
    pub end: f64,
}

/// One dopant in a segment.
#[derive(Clone, Copy, Debug, Default, PartialEq, serde::Serialize)]
pub struct DopantAlong {
    /// Mean over length, then over wires by length.
    pub mean_per_cm3: f64,
    /// Where the segment starts.
    pub start_per_cm3: f64,
    /// Where it ends.
    pub end_per_cm3: f64,
}

/// The change of net doping at a segment's start, on the mean wire, to the value farthest from it in the segment.
#[derive(Clone, Copy, Debug, Default, PartialEq, serde::Serialize)]
pub struct Transition {
    /// From the junction to half of the change.
    pub offset_nm: f64,
    /// From 10 to 90 % of the change.
    pub width_nm: f64,
}

/// The mean wire from base to tip; every column has one entry a point.
#[derive(Clone, Debug, Default, PartialEq, serde::Serialize)]
pub struct Along {
    /// From the base.
    pub x_nm: Vec<f64, ALONG>,
    /// All donors.
    pub donors_per_cm3: Vec<f64, ALONG>,
    /// All acceptors.
    pub acceptors_per_cm3: Vec<f64, ALONG>,
    /// Diameter with what the sidewall gained.
    pub diameter_nm: Vec<f64, ALONG>,
}

impl Along {
    /// No point.
    #[must_use]
    pub const fn new() -> Self {
        Self { x_nm: Vec::new(), donors_per_cm3: Vec::new(), acceptors_per_cm3: Vec::new(), diameter_nm: Vec::new() }
    }
}

impl Clear for Along {
    fn clear(&mut self) {
        self.x_nm.clear();
        self.donors_per_cm3.clear();
        self.acceptors_per_cm3.clear();
        self.diameter_nm.clear();
    }
}

/// Shares of the wires by length; bins 1-2-5 nearest to a quarter of the standard deviation.
#[derive(Clone, Debug, Default, PartialEq, serde::Serialize)]
pub struct Histogram {
    /// Edges, one more than bins.
    pub edges_nm: Vec<f64, { BINS + 1 }>,
    /// Share of the wires in each bin.
    pub share: Vec<f64, BINS>,
}

impl Histogram {
    /// No bin.
    #[must_use]
    pub const fn new() -> Self {
        Self { edges_nm: Vec::new(), share: Vec::new() }
    }
}

impl Clear for Histogram {
    fn clear(&mut self) {
        self.edges_nm.clear();
        self.share.clear();
    }
}

/// Shares of the variance of the whole length; all `None` where lengths do not differ.
#[derive(Clone, Copy, Debug, Default, PartialEq, serde::Serialize)]
pub struct SpreadFrom {
    /// Paths that the seeds take.
    pub paths: Option<f64>,
    /// Sizes of the seeds.
    pub seed_size: Option<f64>,
    /// Both together.
    pub both: Option<f64>,
    /// What the `mixed` junctions changed of the variance, as a share of it.
    pub mixing: Option<f64>,
}

/// A path and class within a group of kept stages.
#[derive(Clone, Debug, Default, PartialEq, serde::Serialize)]
pub struct PopulationRow {
    /// The stages of the group, counted from 0.
    pub stages: Vec<usize, STAGES>,
    /// Path, from the axis outwards, counted from 0.
    pub path: usize,
    /// Seed-size class over all charges, counted from 0.
    pub class: usize,
    /// Share of the wires; the weights of a group sum to 1.
    pub weight: f64,
    /// Length grown in the group.
    pub length_nm: f64,
    /// Diameter under the seed.
    pub tip_nm: f64,
    /// Diameter at the base.
    pub base_nm: f64,
}
