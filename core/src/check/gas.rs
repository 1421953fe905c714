//! What the flows of a job bring: streams of feeds, the gas that enters a stage, and whether vapour condenses on the way.

use crate::feed::Stream;
use crate::gas::Mixture;
use crate::job::{Bubbler, Feed, Fractions, Job, Stage, default};
use crate::line::{FEEDS, STAGES};
use crate::units::{MBAR, SCCM, kelvin};
use heapless::Vec;

/// How far the fractions of a carrier may be from a sum of 1: what rounding them to seven digits costs.
pub(super) const SUM_TOLERANCE: f64 = 1e-6;
/// Relative room in comparing a partial pressure with saturation, and an inject flow with what there is.
const ROUNDING: f64 = 1e-9;
/// Largest share of a stage's flow that may carry the seeds: beyond, the spread of the residence time does not exist.
pub(super) const LARGEST_SHARE: f64 = 0.95;

/// Mixture of the fractions, scaled so that they sum to 1.
pub(super) fn mixture(fractions: &Fractions) -> Mixture {
    let shares = fractions.shares();
    let sum: f64 = shares.iter().sum();
    Mixture { share: shares.map(|share| share / sum) }
}

/// What a feed makes before it is injected, mol/s; `None` where its bath boils or where it has no source.
pub(super) fn made(feed: &Feed) -> Option<Stream> {
    match (&feed.bubbler, feed.flow_sccm, feed.share) {
        (Some(bubbler), None, None) => {
            let vapour = feed.precursor.vapour()?.pressure(kelvin(bubbler.bath_c));
            Stream::bubbler(SCCM * bubbler.carrier_sccm, vapour, MBAR * bubbler.bath_mbar)
        }
        (None, Some(flow), Some(share)) => Some(Stream::cylinder(SCCM * flow, share)),
        _ => None,
    }
}

/// What of it enters the stage, mol/s; `None` where more is to be injected than there is.
pub(super) fn entering(feed: &Feed, made: &Stream) -> Option<Stream> {
    match (feed.push_sccm, feed.inject_sccm) {
        (Some(push), Some(inject)) => {
            let available = made.total() + SCCM * push;
            let wanted = SCCM * inject;
            // What is typed as all there is may be above it by rounding.
            let inject = if wanted <= available * (1.0 + ROUNDING) { wanted.min(available) } else { wanted };
            made.injected(SCCM * push, inject)
        }
        _ => Some(*made),
    }
}

/// Gas that a line adds on its way, as far as it could be resolved.
pub(super) struct Gas {
    /// One a stage, in the order of flow.
    pub(super) stages: Vec<Added, STAGES>,
}

/// Gas added at the inlet of a stage.
pub(super) struct Added {
    /// Carrier that comes with no precursor, mol/s.
    pub(super) carrier: f64,
    /// What each feed brings, mol/s, in the order of the feeds.
    pub(super) streams: Vec<Stream, FEEDS>,
}

impl Added {
    /// What a stage adds; `None` where one of its feeds cannot be resolved.
    pub(super) fn of(stage: &Stage) -> Option<Self> {
        let mut streams = Vec::new();
        for feed in &stage.feeds {
            streams.push(entering(feed, &made(feed)?)?).ok()?;
        }
        Some(Self { carrier: SCCM * stage.carrier(), streams })
    }

    /// All of it, mol/s.
    pub(super) fn total(&self) -> f64 {
        let fed: f64 = self.streams.iter().map(Stream::total).sum();
        self.carrier + fed
    }
}

/// Where vapour condenses behind a bath.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Condensing {
    /// Nowhere.
    No,
    /// Where the line is as cold as is assumed and the vapour still undiluted.
    Perhaps,
    /// At the coldest place of the line.
    Yes,
}

/// Whether the vapour of a bubbler condenses in the line behind it.
///
/// Undiluted it has its saturation pressure at the bath's temperature, behind a push flow its share of the mixture at the
/// bath's pressure. Where `line_c` is left out, what counts is its partial pressure in all gas that is added at the inlet.
///
/// * `added` — gas added at this inlet, mol/s; `None` where it is not known: then nothing is said of a line that is left out
pub(super) fn condensing(job: &Job, feed: &Feed, bubbler: &Bubbler, added: Option<f64>) -> Condensing {
    let (Some(pair), Some(made)) = (feed.precursor.vapour(), made(feed)) else {
        return Condensing::No;
    };
    let saturated = pair.pressure(kelvin(bubbler.line_c.unwrap_or(default::LINE_C))) * (1.0 + ROUNDING);
    let behind_push = made.total() + SCCM * feed.push_sccm.unwrap_or(0.0);
    // No flow, no vapour on its way.
    if behind_push <= 0.0 || MBAR * bubbler.bath_mbar * made.precursor / behind_push <= saturated {
        return Condensing::No;
    }
    if bubbler.line_c.is_some() {
        return Condensing::Yes;
    }
    let Some((added, entering)) = added.zip(entering(feed, &made)) else {
        return Condensing::No;
    };
    if MBAR * job.pressure_mbar * entering.precursor > saturated * added {
        Condensing::Yes
    } else {
        Condensing::Perhaps
    }
}
