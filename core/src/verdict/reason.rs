//! The limits that may act on a segment, each with its test.

use super::{Item, Kind, Signs};
use crate::line::{Line, Part};
use crate::report::{Report, Stage};
use crate::units::{GAS_CONSTANT, celsius, kelvin};
use serde::ser::{Serialize, Serializer};

/// A limit that acts; numbered as in the list of reasons.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reason {
    /// (2) Group III is used up before the last zone.
    UsedUp,
    /// (3) The wall takes it.
    Wall,
    /// (4) The gas is too cool.
    TooCool,
    /// (5) Too little time in the tube.
    TooLittleTime,
    /// (6) Seeds fill late.
    FillLate,
    /// (7) Too little group V.
    TooLittleGroupV,
    /// (8) The seed is too small.
    SeedTooSmall,
    /// (9) Supply by diffusion.
    Supply,
    /// (10) The gas added with it dilutes it.
    Diluted,
    /// Seeds with more than one charge make the wires thick and the lengths differ.
    TwoCharges,
}

impl Reason {
    /// The reason as a sentence without its full stop.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::UsedUp => "Group III is used up before the last zone",
            Self::Wall => "The wall takes it",
            Self::TooCool => "The gas is too cool",
            Self::TooLittleTime => "Too little time in the tube",
            Self::FillLate => "Seeds fill late",
            Self::TooLittleGroupV => "Too little group V",
            Self::SeedTooSmall => "The seed is too small",
            Self::Supply => "Supply by diffusion limits it",
            Self::Diluted => "The gas added here dilutes it",
            Self::TwoCharges => "Some seeds carry two charges",
        }
    }
}

impl Serialize for Reason {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.words())
    }
}

/// (2) Share of group III left before the last zone, below which it is used up.
const LEFT: f64 = 0.1;
/// (3) Share on the wall above which the wall takes it, if it is also more than the wires take.
const ON_WALL: f64 = 0.5;
/// (4) Kinetic rate at the hottest gas over that at the reference temperature, below which the gas is too cool.
const COOL: f64 = 0.5;
/// (6) Share of the tube behind which seeds fill late.
const LATE: f64 = 0.4;
/// (7) Bracket q/(q + q_half) below which there is too little group V.
const GROUP_V: f64 = 0.7;
/// (8) Gibbs–Thomson factor, 1 for a thick wire, below which the seed is too small.
const SMALL: f64 = 0.5;
/// (9) Supply rate over kinetic rate, below which supply limits.
const SUPPLY: f64 = 1.0;
/// (10) Share of the stage's gas that is added at its inlet, above which it dilutes.
const ADDED: f64 = 0.5;
/// Share of seeds with more than one charge above which they are named.
const CHARGED: f64 = 0.05;

/// The limit that acts on an item outside its order: the first of the list whose test fits, `None` where none does.
#[must_use]
pub fn reason(item: &Item, line: &Line, report: &Report, signs: &Signs) -> Option<Reason> {
    if item.met {
        return None;
    }
    let above = item.predicted.is_some_and(|predicted| predicted > item.ordered);
    match item.kind {
        Kind::Length(_) | Kind::Carriers(_) if above => None,
        Kind::Length(stage) => Case { item, line, report, signs, stage }.limit(),
        Kind::Carriers(stage) => dopant_on_wall(line, report, stage).then_some(Reason::Wall),
        Kind::Diameter | Kind::Spread => (above && charged(report)).then_some(Reason::TwoCharges),
    }
}

/// Why nothing grows in any stage, if a test fits.
#[must_use]
pub fn of_nothing(line: &Line, report: &Report) -> Option<&'static str> {
    let tip = report.wires.get().map_or(0.0, |wires| wires.diameter_nm.tip.mean) * 1e-9;
    let any = |amount: fn(&Stage) -> f64| report.stages.iter().any(|stage| amount(stage) > 0.0);
    if tip > 0.0 && tip <= line.growth.critical_diameter {
        Some("seeds are too small")
    } else if !any(|stage| stage.inlet.group_iii_pa) {
        Some("there is no group III")
    } else if !any(|stage| stage.inlet.group_v_pa) {
        Some("there is no group V")
    } else {
        Some("seeds do not fill before the last zone")
    }
}

/// A test of the list: `None` where it has nothing to look at.
type Test<'a> = fn(&Case<'a>) -> Option<bool>;

/// A segment that is too short, with all that the tests look at.
struct Case<'a> {
    item: &'a Item,
    line: &'a Line,
    report: &'a Report,
    signs: &'a Signs,
    stage: usize,
}

impl<'a> Case<'a> {
    fn limit(&self) -> Option<Reason> {
        let tests: [(Test<'a>, Reason); 9] = [
            (Self::used_up, Reason::UsedUp),
            (Self::on_wall, Reason::Wall),
            (Self::too_cool, Reason::TooCool),
            (Self::too_little_time, Reason::TooLittleTime),
            (Self::fills_late, Reason::FillLate),
            (Self::too_little_group_v, Reason::TooLittleGroupV),
            (Self::seed_too_small, Reason::SeedTooSmall),
            (Self::supply_limits, Reason::Supply),
            (Self::diluted, Reason::Diluted),
        ];
        tests.iter().find(|(test, _)| test(self) == Some(true)).map(|(_, reason)| *reason)
    }

    fn stage(&self) -> Option<&Stage> {
        self.report.stages.get(self.stage)
    }

    /// (2) Less than [`LEFT`] of the group III reaches the last zone.
    fn used_up(&self) -> Option<bool> {
        Some(self.signs.stages.get(self.stage)?.left_before_last_zone? < LEFT)
    }

    /// (3) More than [`ON_WALL`] of the group III ends on the wall, and more than in the wires.
    fn on_wall(&self) -> Option<bool> {
        let parent = self.line.species.iter().find(|species| species.part == Part::Parent)?;
        let row = self.stage()?.balance.iter().find(|row| row.species == parent.name)?;
        Some(row.on_wall > ON_WALL && row.on_wall > row.in_wires)
    }

    /// (4) exp(−(E_a/R)(1/T − 1/T_ref)) at the hottest gas on the seeds' path is below [`COOL`].
    fn too_cool(&self) -> Option<bool> {
        let growth = &self.line.growth;
        let coldest = celsius(0.0);
        let hottest = self.stage()?.profile.seeds_c.iter().copied().fold(coldest, f64::max);
        let inverse = 1.0 / kelvin(hottest).max(1.0) - 1.0 / growth.reference_temperature;
        Some(libm::exp(-growth.axial_activation / GAS_CONSTANT * inverse) < COOL)
    }

    /// (5) The time where it is hot is too short for the least that is accepted, even at the reference rate or at the largest
    /// of the stage, whichever is more.
    fn too_little_time(&self) -> Option<bool> {
        let margin = self.item.margin?;
        let least = self.item.predicted? - margin;
        let rates = self.stage()?.profile.rate_um_per_s_axis.iter();
        let rate = rates.copied().fold(self.line.growth.axial_rate * 1e6, f64::max);
        let longest = rate * 1e3 * self.stage()?.residence_s.hot_seeds.mean;
        Some(longest < least)
    }

    /// (6) Growth begins in this stage and behind [`LATE`] of the tube.
    fn fills_late(&self) -> Option<bool> {
        let profile = &self.stage()?.profile;
        let begun_above = profile.length_nm_mean.first().is_none_or(|length| *length > 0.0);
        let end = profile.z_mm.last().copied()?;
        let first = profile.z_mm.iter().zip(&profile.length_nm_mean).find(|(_, length)| **length > 0.0);
        Some(!begun_above && first.is_none_or(|(z, _)| *z > LATE * end))
    }

    /// (7) q/(q + q_half) where the rate is largest is below [`GROUP_V`].
    fn too_little_group_v(&self) -> Option<bool> {
        let profile = &self.stage()?.profile;
        let mut largest = (0.0, None);
        let gas = profile.group_iii_pa_axis.iter().zip(&profile.group_v_pa_axis);
        for (rate, (three, five)) in profile.rate_um_per_s_axis.iter().zip(gas) {
            if *rate > largest.0 {
                largest = (*rate, Some((*three, *five)));
            }
        }
        let Some((three, five)) = largest.1 else {
            return Some(self.stage()?.inlet.group_v_pa <= 0.0);
        };
        Some(five < GROUP_V * (five + self.line.growth.v_iii_half * three))
    }

    /// (8) (1 − d_c/d)² is below [`SMALL`].
    fn seed_too_small(&self) -> Option<bool> {
        let growth = &self.line.growth;
        let tip = self.report.wires.get()?.diameter_nm.tip.mean * 1e-9;
        if tip <= growth.critical_diameter {
            return Some(true);
        }
        let factor = 1.0 - growth.critical_diameter / tip;
        Some(factor * factor < SMALL)
    }

    /// (9) Supply rate over kinetic rate is below [`SUPPLY`].
    fn supply_limits(&self) -> Option<bool> {
        Some(self.signs.stages.get(self.stage)?.supply_over_kinetic? < SUPPLY)
    }

    /// (10) More than [`ADDED`] of the gas is added at this inlet and the group III is below the reference.
    fn diluted(&self) -> Option<bool> {
        let flow = self.line.stages.get(self.stage)?.flow;
        let above = match self.stage.checked_sub(1) {
            Some(above) => self.line.stages.get(above)?.flow,
            None => self.line.aerosol,
        };
        let low = self.stage()?.inlet.group_iii_pa < self.line.growth.reference_group_iii;
        Some(low && 1.0 - above / flow > ADDED)
    }
}

/// Whether the wall takes most of a dopant that is fed to this stage.
fn dopant_on_wall(line: &Line, report: &Report, stage: usize) -> bool {
    let Some((set, figures)) = line.stages.get(stage).zip(report.stages.get(stage)) else {
        return false;
    };
    let fed = line.species.iter().zip(set.fed).filter(|(species, fed)| species.part == Part::Dopant && *fed > 0.0);
    fed.map(|(species, _)| &species.name)
        .any(|name| figures.balance.iter().any(|row| row.species == *name && row.on_wall > ON_WALL))
}

/// Whether enough seeds carry more than one charge to matter.
fn charged(report: &Report) -> bool {
    report.seeds.and_then(|seeds| seeds.multiply_charged_share).is_some_and(|share| share > CHARGED)
}
