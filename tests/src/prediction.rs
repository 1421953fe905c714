//! A job predicted for a test: read, checked, marched on both grids and judged.
//!
//! What the report does not hold can be read from the harvests, and from the cross-sections themselves with [`follow`].

use loftwire_core::check::check;
use loftwire_core::harvest::Harvest;
use loftwire_core::job::Job;
use loftwire_core::judge::extrapolated;
use loftwire_core::line::{Line, STAGES};
use loftwire_core::predict::{CLASSES, Coarse, Fine, Predictor};
use loftwire_core::properties::Properties;
use loftwire_core::statistics::{Moments, Quantity, Table, Wires};
use serde_json::Value;

/// Stations of a stage on the coarse grid of the desk.
pub const COARSE_STATIONS: usize = 100;
/// Stations of a stage on its fine grid.
pub const FINE_STATIONS: usize = 200;
/// Stack of a thread that makes predictions, bytes: without optimisation large parts pass over it.
const STACK: usize = 256 << 20;

/// Runs something on a thread with room for predictions.
///
/// # Panics
/// If the work does.
pub fn with_room<T: Send>(work: impl FnOnce() -> T + Send) -> T {
    std::thread::scope(|scope| {
        let thread = std::thread::Builder::new().stack_size(STACK).spawn_scoped(scope, work);
        let thread = thread.unwrap_or_else(|why| panic!("no thread: {why}"));
        thread.join().unwrap_or_else(|why| std::panic::resume_unwind(why))
    })
}

/// The line of a job.
///
/// # Errors
/// What is wrong with it, in words.
pub fn line(text: &str) -> Result<Box<Line>, String> {
    let job: Job = serde_json::from_str(text).map_err(|why| why.to_string())?;
    check(&job).map(Box::new).map_err(|faults| faults.to_string())
}

/// A prediction with all that led to it.
pub struct Prediction {
    /// The line.
    pub line: Box<Line>,
    /// Property table of the line.
    pub properties: Box<Properties>,
    /// March on the coarse grid.
    pub coarse: Box<Coarse>,
    /// March on the fine grid.
    pub fine: Box<Fine>,
    /// The report as its JSON says it.
    pub report: Value,
}

impl Prediction {
    /// Predicts a job; to be called [`with_room`].
    ///
    /// # Errors
    /// What is wrong with the job, or why the gas turns back, in words.
    ///
    /// # Panics
    /// If a report cannot be written.
    pub fn of(text: &str) -> Result<Self, String> {
        let line = line(text)?;
        let mut predictor = Box::new(Predictor::new());
        let report = predictor.predict(&line);
        if let Some(refused) = &report.refused {
            return Err(format!("{}: {}", refused.path, refused.text));
        }
        let report = serde_json::to_value(report).unwrap_or_else(|why| panic!("the report: {why}"));
        let mut properties = Box::new(Properties::new());
        properties.fill(&line);
        let (mut coarse, mut fine) = (Box::new(Coarse::new()), Box::new(Fine::new()));
        let marched = coarse.run(&line, &properties, 1).and_then(|()| fine.run(&line, &properties, 2));
        marched.map_err(|refusal| format!("{refusal:?}"))?;
        Ok(Self { line, properties, coarse, fine, report })
    }

    /// A figure of the report by its path, such as `stages[0].flow.reynolds`; `None` if it is not there or no number.
    #[must_use]
    pub fn figure(&self, path: &str) -> Option<f64> {
        value(&self.report, path)?.as_f64()
    }

    /// A figure that both grids give, extrapolated.
    #[must_use]
    pub fn both(&self, of: impl Fn(&dyn Grid) -> f64) -> f64 {
        extrapolated(of(&self.coarse.harvest), of(&self.fine.harvest))
    }
}

/// What stands at a path of a JSON value: keys joined by dots, places in brackets.
#[must_use]
pub fn value<'v>(from: &'v Value, path: &str) -> Option<&'v Value> {
    path.split('.').try_fold(from, |value, part| {
        let (key, places) = part.split_once('[').map_or((part, None), |(key, rest)| (key, Some(rest)));
        let value = value.get(key)?;
        places.map_or(Some(value), |places| {
            places.split('[').try_fold(value, |value, place| value.get(place.strip_suffix(']')?.parse::<usize>().ok()?))
        })
    })
}

/// Figures of a harvest, whatever its grid.
pub trait Grid {
    /// Moments over all wires of a figure of stage, path and class, summed over a range of stages.
    fn moments(&self, line: &Line, stages: std::ops::Range<usize>, of: PathFigure) -> Moments;
    /// Mean over the classes of a figure of each.
    fn over_classes(&self, of: &dyn Fn(&loftwire_core::wire::Class) -> f64) -> f64;
    /// Share of the seeds whose path flies at the end of a stage.
    fn flying(&self, stage: usize) -> f64;
    /// Mean over all seeds of the number still single at the exit of a stage.
    fn single(&self, stage: usize) -> f64;
    /// Molar flow of a species: at the outlet of a stage, into its wall, into wires, mol/s.
    fn went(&self, stage: usize, species: usize) -> [f64; 3];
    /// Time on the first and the last path through a stage, s.
    fn ends(&self, stage: usize) -> [f64; 2];
    /// Gr of a stage.
    fn grashof_over_reynolds(&self, stage: usize, line: &Line) -> f64;
    /// Length-average of the wall temperature of a stage, K.
    fn mean_wall(&self, stage: usize) -> f64;
}

/// Figures of path and class that a harvest holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PathFigure {
    /// Length grown, m.
    Length,
    /// Time, s.
    Time,
    /// Volume of the whole wire at the exit, m³.
    Volume,
}

impl<const R: usize, const P: usize, const N: usize> Grid for Harvest<R, P, CLASSES, N> {
    fn moments(&self, line: &Line, stages: std::ops::Range<usize>, of: PathFigure) -> Moments {
        let mut tables: Vec<Table<P, CLASSES>> = Vec::new();
        let mut positions: Vec<[f64; P]> = Vec::new();
        for number in stages {
            let Some((stage, record)) = line.stages.get(number).zip(self.stages.get(number)) else { continue };
            if tables.is_empty() || stage.mixed {
                tables.push([[0.0; CLASSES]; P]);
                positions.push(record.position);
            }
            for (p, row) in tables.iter_mut().next_back().into_iter().flatten().enumerate() {
                for (k, sum) in row.iter_mut().enumerate().take(self.count) {
                    *sum += match of {
                        PathFigure::Length => record.length[p][k],
                        PathFigure::Time => record.time[p],
                        PathFigure::Volume => record.volume[0][p][k],
                    };
                }
            }
        }
        Wires::of(line, self).moments(&Quantity { groups: &tables, position: &positions })
    }

    fn over_classes(&self, of: &dyn Fn(&loftwire_core::wire::Class) -> f64) -> f64 {
        self.classes.iter().take(self.count).map(|class| class.weight * of(class)).sum()
    }

    fn flying(&self, stage: usize) -> f64 {
        let flying = &self.stages[stage.min(STAGES - 1)].flying;
        self.weight.iter().zip(flying).map(|(weight, flies)| if *flies { *weight } else { 0.0 }).sum()
    }

    fn single(&self, stage: usize) -> f64 {
        let single = &self.stages[stage.min(STAGES - 1)].single[1];
        self.weight.iter().zip(single).map(|(weight, single)| weight * single).sum()
    }

    fn went(&self, stage: usize, species: usize) -> [f64; 3] {
        let record = &self.stages[stage.min(STAGES - 1)];
        [record.outlet[species], record.on_wall[species], record.in_wires[species]]
    }

    fn ends(&self, stage: usize) -> [f64; 2] {
        let time = &self.stages[stage.min(STAGES - 1)].time;
        [time[0], time[P - 1]]
    }

    fn grashof_over_reynolds(&self, stage: usize, line: &Line) -> f64 {
        let of = &line.stages[stage];
        self.stages[stage.min(STAGES - 1)].grashof_over_reynolds(line, 0.5 * of.diameter, of.flow)
    }

    fn mean_wall(&self, stage: usize) -> f64 {
        self.stages[stage.min(STAGES - 1)].mean_wall
    }
}
