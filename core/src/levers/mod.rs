//! What moves the wires, how sure the prediction is, and what brings it back into the order.
//!
//! A loop around the arrow from job to report: [`Levers`] is started on a job and its report and then advances by [`Levers::step`], each step
//! a march or two; whoever steps decides how long. It answers
//!
//! ```text
//! G_fx = ∂f/∂x ≈ [f(x + h) − f(x − h)]/2h                     on the coarse grid, for each figure f and input x      (1)
//! V = G U R U Gᵀ,   u_f = √V_ff                               law of propagation of uncertainty                     (2)
//! share of x in u_f²: (G_fx u_x)² / Σ_x (G_fx u_x)²                                                              (3)
//! chance = P(every ordered figure is inside) for f ~ N(f of the report, V)                                        (4)
//! ```
//!
//! and the smallest single change of a set-point that brings every ordered figure inside: from (1), rounded to what the instrument can be set to,
//! and predicted again on both grids.
//!
//! Standard uncertainties: an accuracy a of an instrument is the half-width of a rectangle, u = a/√3; vapour pressures, diffusion and kinetic
//! numbers are given as standard errors. Inputs are independent but for the kinetic numbers that the job says are correlated (R).
//!
//! Range: small changes; (4) takes every figure as normal. Figures: mean length and net doping of each segment, mean tip diameter, coefficient of
//! variation of the whole length. Sources: (2) JCGM 100:2008, 5.1 and 5.2; rectangle: 4.3.7.

mod budget;
mod figure;
mod input;

pub use figure::{FIGURES, Figure};
pub use input::{Input, Lever};

use crate::check::check;
use crate::job::{Job, SetPoint};
use crate::line::Line;
use crate::predict::Predictor;
use crate::ranking::rank;
use crate::report::Report;
use crate::verdict::{Known, Reason, Text, since, with_chance, with_reason};
use heapless::{String, Vec};
use serde::{Serialize, Serializer};

/// The format of levers.
pub const FORMAT: &str = "wire-growth-levers/1";
/// Most inputs: set-points of six full stages, kinetic numbers with a standard error, what is measured of seeds and tubes.
pub const INPUTS: usize = 320;
/// Single changes that are predicted again before it is said that none brings the order back.
const TRIES: usize = 8;
/// How far inside the limits a change aims, as a share of the distance between them.
const ROOM: f64 = 0.02;

/// A single change that brings every ordered figure inside.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BringBack {
    /// Path of the set-point.
    pub path: String<48>,
    /// Its unit.
    pub unit: &'static str,
    /// What it is set to.
    pub from: f64,
    /// What it is to be set to.
    pub to: f64,
    /// The verdict of the prediction with it.
    pub text: Text,
}

/// How far the work is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Progress {
    /// Steps done.
    pub done: usize,
    /// Steps in all, as far as known.
    pub of: usize,
}

impl Progress {
    /// Whether nothing is left to do.
    #[must_use]
    pub const fn finished(&self) -> bool {
        self.done >= self.of
    }
}

/// A change that is to be tried.
#[derive(Clone, Copy, Debug)]
struct Candidate {
    point: SetPoint,
    from: f64,
    to: f64,
    /// Share of the instrument's range that it moves, –.
    cost: f64,
}

/// What moves the wires of a job.
#[derive(Clone, Debug)]
pub struct Levers {
    job: Option<Job>,
    pinned: Option<Job>,
    /// Words of the limit that the verdict names, to be replaced where changes since the pin explain it.
    reason: Option<Reason>,
    inputs: Vec<Input, INPUTS>,
    next: usize,
    candidates: Vec<Candidate, TRIES>,
    tried: usize,
    covariance: [[f64; FIGURES]; FIGURES],
    /// The figures, with their uncertainties once all inputs are done.
    pub figures: Vec<Figure, FIGURES>,
    /// The inputs with their effects, in the order of the job file.
    pub levers: Vec<Lever, INPUTS>,
    /// Chance that the lot meets its order; `None` without one or before the inputs are done.
    pub chance: Option<f64>,
    /// Figure nearest to a limit, or farthest outside; `None` without an order.
    pub tightest: Option<usize>,
    /// The smallest single change that brings the order back, if one was needed and found.
    pub bring_back: Option<BringBack>,
    /// The verdict, with the chance in it once the inputs are done; empty without an order.
    pub text: Text,
}

impl Default for Levers {
    fn default() -> Self {
        Self::new()
    }
}

impl Levers {
    /// Nothing to do yet.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            job: None,
            pinned: None,
            reason: None,
            inputs: Vec::new(),
            next: 0,
            candidates: Vec::new(),
            tried: 0,
            covariance: [[0.0; FIGURES]; FIGURES],
            figures: Vec::new(),
            levers: Vec::new(),
            chance: None,
            tightest: None,
            bring_back: None,
            text: String::new(),
        }
    }

    /// Starts on a job whose line was predicted into `report`. A refused report leaves nothing to do.
    pub fn start(&mut self, job: &Job, line: &Line, report: &Report) {
        *self = Self::new();
        if report.wires.get().is_none() {
            return;
        }
        self.figures = figure::figures(line, report);
        self.tightest = figure::tightest(&self.figures);
        for input in input::of(job) {
            // What finds no room is the tail of the kinetic numbers: INPUTS holds every job of the format.
            let _ = self.inputs.push(input);
        }
        if let Some(verdict) = &report.verdict {
            self.text = verdict.text.clone();
            let named = |reason: &Reason| verdict.text.trim_end_matches('.').ends_with(reason.words());
            self.reason = verdict.items.iter().filter_map(|item| item.reason).find(named);
        }
        self.job = Some(job.clone());
    }

    /// Names the recipe that the job is compared with: what was changed since is then the first reason of a verdict outside the order.
    pub fn pin(&mut self, pinned: &Job) {
        self.pinned = Some(pinned.clone());
    }

    /// How far it is.
    #[must_use]
    pub fn progress(&self) -> Progress {
        let (inputs, tries) = (self.inputs.len(), self.candidates.len());
        let tried = if self.bring_back.is_some() { tries } else { self.tried };
        let closing = usize::from(!self.inputs.is_empty());
        Progress { done: (self.next + tried).min(inputs + closing + tries), of: inputs + closing + tries }
    }

    /// Whether effects, uncertainties and chance are known; what may be left is the search for a change that brings the order back.
    #[must_use]
    pub fn known(&self) -> bool {
        self.inputs.is_empty() || self.next > self.inputs.len()
    }

    /// Does the next piece of work; does nothing when there is none.
    ///
    /// * `predictor` — whose grids are used; its report is overwritten once changes are tried
    pub fn step(&mut self, predictor: &mut Predictor) -> Progress {
        let Some(job) = self.job.take() else { return self.progress() };
        if let Some(input) = self.inputs.get(self.next) {
            if let Some(lever) = input::lever(*input, &job, &self.figures, predictor) {
                let _ = self.levers.push(lever);
            }
            self.next += 1;
        } else if self.next == self.inputs.len() {
            self.next += 1;
            self.close(&job);
        } else if self.bring_back.is_none() {
            self.try_next(&job, predictor);
        }
        self.job = Some(job);
        self.progress()
    }

    /// Budget, chance and the changes worth trying, once all inputs are known.
    fn close(&mut self, job: &Job) {
        self.covariance = budget::covariance(job, &self.levers);
        budget::shares(&mut self.levers, self.figures.len());
        for (f, figure) in self.figures.iter_mut().enumerate() {
            figure.u = crate::root::sqrt(self.covariance[f.min(FIGURES - 1)][f.min(FIGURES - 1)].max(0.0));
        }
        self.chance = budget::chance(&self.figures, &self.covariance);
        self.say(job);
        if self.figures.iter().any(|figure| !figure.inside()) {
            self.candidates = self.worth_trying(job);
        }
    }

    /// The verdict with the chance in it, and with what was changed since the pin where that explains it.
    fn say(&mut self, job: &Job) {
        let Some((place, chance)) = self.tightest.zip(self.chance) else { return };
        let Some(tightest) = self.figures.get(place) else { return };
        let known = Known { u: tightest.u, unit: tightest.unit };
        let met = self.figures.iter().all(Figure::inside);
        let changes = match &self.pinned {
            Some(pinned) if !met => since(self, place, pinned, job),
            _ => Text::new(),
        };
        if !changes.is_empty() {
            self.text = with_reason(&self.text, self.reason, &changes);
        }
        self.text = with_chance(&self.text, met, known, chance);
    }

    /// Single changes that by (1) bring every figure inside, the smallest first.
    fn worth_trying(&self, job: &Job) -> Vec<Candidate, TRIES> {
        let mut found: Vec<Candidate, TRIES> = Vec::new();
        for lever in &self.levers {
            let Some(candidate) = self.candidate(job, lever) else { continue };
            rank(&mut found, candidate, |one, other| one.cost > other.cost);
        }
        found
    }

    fn candidate(&self, job: &Job, lever: &Lever) -> Option<Candidate> {
        let Input::Set(point) = lever.input else { return None };
        // Inlets and flanges can be set, but are not moved unless asked for.
        if matches!(point, SetPoint::Inlet(_) | SetPoint::Flange(_)) {
            return None;
        }
        let range = job.range(point)?;
        let width = range.max - range.min;
        if !(width > 0.0) {
            return None;
        }
        let (mut low, mut high) = (range.min - lever.value, range.max - lever.value);
        for (figure, effect) in self.figures.iter().zip(&lever.effects) {
            let (from, to) = figure.room(ROOM);
            let (a, b) = (from - figure.value, to - figure.value);
            if effect.abs() > 0.0 {
                let (a, b) = (a / effect, b / effect);
                low = low.max(a.min(b));
                high = high.min(a.max(b));
            } else if a > 0.0 || b < 0.0 {
                return None;
            }
        }
        if low > high {
            return None;
        }
        let change = if low > 0.0 { low } else { high.min(0.0) };
        // Away from what it is set to, so that rounding does not take the change back.
        let mut to = range.nearest(lever.value + change);
        if (to - lever.value).abs() < change.abs() {
            to = range.nearest(to + range.step * change.signum());
        }
        let moved = to - lever.value;
        let beyond = 0.5 * range.step;
        let fits = range.holds(to) && moved != 0.0 && moved >= low - beyond && moved <= high + beyond;
        fits.then_some(Candidate { point, from: lever.value, to, cost: moved.abs() / width })
    }

    /// Predicts the next candidate; if its own change falls short, once more by the step that this shows.
    fn try_next(&mut self, job: &Job, predictor: &mut Predictor) {
        let Some(candidate) = self.candidates.get(self.tried).copied() else { return };
        self.tried += 1;
        let Some(range) = job.range(candidate.point) else { return };
        let mut to = candidate.to;
        for _ in 0..3 {
            let mut changed = job.clone();
            if !candidate.point.set(&mut changed, to) {
                return;
            }
            let Ok(line) = check(&changed) else { return };
            let report = predictor.predict(&line);
            let Some(verdict) = &report.verdict else { return };
            if verdict.met {
                let mut path = String::new();
                // 48 bytes hold every path of a set-point.
                let _ = core::fmt::Write::write_fmt(&mut path, format_args!("{}", candidate.point));
                self.bring_back = Some(BringBack {
                    path,
                    unit: candidate.point.kind().unit(),
                    from: candidate.from,
                    to,
                    text: verdict.text.clone(),
                });
                return;
            }
            // The model bends: a quarter further, at least a step, as long as the instrument goes there.
            let further = (0.25 * (to - candidate.from).abs()).max(range.step);
            let next = range.nearest(to + further * (to - candidate.from).signum());
            #[allow(clippy::float_cmp, reason = "settable numbers: the same to the bit, or another")]
            if next == to || !range.holds(next) {
                return;
            }
            to = next;
        }
    }
}

impl Serialize for Levers {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        use serde::ser::SerializeStruct;
        let mut out = serializer.serialize_struct("Levers", 7)?;
        out.serialize_field("format", FORMAT)?;
        out.serialize_field("figures", &self.figures)?;
        out.serialize_field("levers", &self.levers)?;
        out.serialize_field("chance", &self.chance)?;
        out.serialize_field("tightest", &self.tightest)?;
        out.serialize_field("bring_back", &self.bring_back)?;
        out.serialize_field("text", &self.text)?;
        out.end()
    }
}
