//! One call from a line to its report.
//!
//! ```text
//! Line ──march on two grids──▶ two harvests ──judge──▶ Report
//! ```
//!
//! The desk's grids are 4 + 8 rings × 100 stations and 8 + 16 × 200 a stage. [`Predictor`] holds everything that a prediction needs, about a
//! megabyte, and is filled in place: nothing is allocated.

use crate::harvest::Harvest;
use crate::judge::{Pair, refuse};
use crate::line::{CHARGES, Line, NODES};
use crate::march::{March, Refusal};
use crate::properties::Properties;
use crate::report::Report;

/// Most seed classes.
pub const CLASSES: usize = CHARGES * NODES;
/// Records along a stage, the inlet among them.
pub const RECORDS: usize = 101;
/// March on the coarse grid.
pub type Coarse = March<12, 4, CLASSES, RECORDS>;
/// March on the fine grid.
pub type Fine = March<24, 8, CLASSES, RECORDS>;
/// Stations of the fine grid from one record to the next.
const STRIDE: usize = 2;
/// Stations of the fine grid along a stage.
#[allow(clippy::cast_possible_truncation, reason = "some hundreds")]
const STATIONS: u32 = ((RECORDS - 1) * STRIDE) as u32;

/// All that a prediction needs.
#[derive(Debug)]
pub struct Predictor {
    properties: Properties,
    coarse: Coarse,
    fine: Fine,
    report: Report,
}

impl Predictor {
    /// An empty one. It is large: put it in a static or in a box.
    #[must_use]
    pub const fn new() -> Self {
        Self { properties: Properties::new(), coarse: Coarse::new(), fine: Fine::new(), report: Report::new() }
    }

    /// Predicts a line.
    ///
    /// Where the gas turns back on either grid the report is a refusal, with the place that the finer grid found if it found one.
    pub fn predict(&mut self, line: &Line) -> &Report {
        self.properties.fill(line);
        let fine = self.fine.run(line, &self.properties, STRIDE);
        let coarse = self.coarse.run(line, &self.properties, 1);
        match (fine, coarse) {
            (Err(refusal), _) | (Ok(()), Err(refusal)) => refuse(line, &refusal, &mut self.report),
            (Ok(()), Ok(())) => {
                let pair = Pair { line, coarse: &self.coarse.harvest, fine: &self.fine.harvest, stations: STATIONS };
                pair.judge(&mut self.report);
            }
        }
        &self.report
    }

    /// Marches a line on the coarse grid alone: five times as fast, for differences. The report stays as it is.
    ///
    /// # Errors
    /// Where the gas of a stage turns back.
    pub fn sketch(&mut self, line: &Line) -> Result<&Harvest<12, 4, CLASSES, RECORDS>, Refusal> {
        self.properties.fill(line);
        self.coarse.run(line, &self.properties, 1)?;
        Ok(&self.coarse.harvest)
    }

    /// The report of the last prediction.
    #[must_use]
    pub const fn report(&self) -> &Report {
        &self.report
    }
}

impl Default for Predictor {
    fn default() -> Self {
        Self::new()
    }
}
