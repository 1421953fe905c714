//! What moves the figure that matters most, one step of each instrument.

use super::style::{Look, clean, columns, right};
use loftwire_core::feed::table::Precursor;
use loftwire_core::job::{Job, SetPoint};
use loftwire_core::levers::{Figure, Input, Lever, Levers};
use loftwire_core::number::{SetPoint as Digits, two};

/// Rows beside a prediction.
const ROWS: usize = 6;

/// Which figure the rows are about: the tightest of the order, else the first.
pub fn shown(levers: &Levers) -> Option<usize> {
    levers.tightest.or(if levers.figures.is_empty() { None } else { Some(0) })
}

/// The set-points that move it most, the strongest first.
pub fn strongest(levers: &Levers, figure: usize, rows: usize) -> Vec<(&Lever, f64)> {
    let effect = |lever: &Lever| lever.effects.get(figure).copied().unwrap_or(0.0) * lever.step;
    let mut found: Vec<(&Lever, f64)> = levers.levers.iter().map(|lever| (lever, effect(lever))).collect();
    found.retain(|(_, moved)| *moved != 0.0);
    found.sort_by(|a, b| b.1.abs().total_cmp(&a.1.abs()));
    found.truncate(rows);
    found
}

/// The part of a prediction's page.
pub fn moves(look: Look, job: &Job, levers: &Levers) -> Vec<String> {
    let Some((index, figure)) = shown(levers).and_then(|index| Some((index, levers.figures.get(index)?))) else {
        return Vec::new();
    };
    let rows = strongest(levers, index, ROWS);
    if rows.is_empty() {
        return Vec::new();
    }
    let mut page = vec![String::new(), look.bold(&format!("What moves the {}, one step up", name(figure)))];
    page.extend(rows.into_iter().map(|(lever, moved)| row(job, figure, lever, moved)));
    page
}

/// One set-point with its step and what it does.
pub fn row(job: &Job, figure: &Figure, lever: &Lever, moved: f64) -> String {
    let unit = if let Input::Set(point) = lever.input { point.kind().unit() } else { "" };
    let step = format!("+ {} {unit}", Digits(lever.step));
    format!(
        "  {}{}   {}",
        columns(&clean(&label(job, lever.input), 40), 40),
        right(&step, 14),
        right(&signed(figure, moved), 18)
    )
}

/// An amount of a figure with its sign and unit.
fn signed(figure: &Figure, amount: f64) -> String {
    let sign = if amount < 0.0 { "−" } else { "+" };
    if figure.unit.is_empty() {
        return format!("{sign} {} %", two(100.0 * amount.abs()));
    }
    format!("{sign} {} {}", two(amount.abs()), figure.unit)
}

/// Room for the name of a stage in the name of a figure.
const NAME: usize = 22;

/// What a figure is called in a sentence.
pub fn name(figure: &Figure) -> String {
    let path = figure.path.as_str();
    if path.ends_with("length_nm.mean") {
        format!("length of {}", clean(&figure.name, NAME))
    } else if path.contains("net_per_cm3") {
        format!("net doping of {}", clean(&figure.name, NAME))
    } else if path.contains("diameter") {
        "tip diameter".to_owned()
    } else {
        "spread of the length".to_owned()
    }
}

/// What an input is called.
pub fn label(job: &Job, input: Input) -> String {
    match input {
        Input::Set(point) => set_point(job, point),
        Input::Number(number) => format!("kinetics: {number}"),
        Input::SeedDiameter => "seed diameter".to_owned(),
        Input::SeedCount => "number of seeds".to_owned(),
        Input::Tube(stage) => format!("tube diameter, {}", stage_name(job, stage)),
        Input::Vapour(precursor) => format!("vapour pressure of {}", precursor.name()),
        Input::Diffusion => "diffusion coefficients".to_owned(),
    }
}

fn set_point(job: &Job, point: SetPoint) -> String {
    let fed = |stage: u8, feed: u8| {
        let feeds = job.stages.get(usize::from(stage)).map(|stage| &stage.feeds);
        feeds.and_then(|feeds| feeds.get(usize::from(feed))).map_or("feed", |feed| Precursor::name(feed.precursor))
    };
    let at = |what: String, stage: u8| format!("{what}, {}", stage_name(job, stage));
    match point {
        SetPoint::Pressure => "pressure".to_owned(),
        SetPoint::Aerosol => "aerosol".to_owned(),
        SetPoint::Voltage => "classifier voltage".to_owned(),
        SetPoint::Inlet(stage) => at("gas at the inlet".to_owned(), stage),
        SetPoint::Flange(stage) => at("flange".to_owned(), stage),
        SetPoint::Carrier(stage) => at("carrier".to_owned(), stage),
        SetPoint::Wall(stage, zone) => at(format!("zone {}", u32::from(zone) + 1), stage),
        SetPoint::Cylinder(stage, feed) => at(fed(stage, feed).to_owned(), stage),
        SetPoint::Push(stage, feed) => at(format!("{} push", fed(stage, feed)), stage),
        SetPoint::Inject(stage, feed) => at(format!("{} inject", fed(stage, feed)), stage),
        SetPoint::BubblerCarrier(stage, feed) => at(format!("{} carrier", fed(stage, feed)), stage),
        SetPoint::Bath(stage, feed) => at(format!("{} bath", fed(stage, feed)), stage),
    }
}

fn stage_name(job: &Job, stage: u8) -> String {
    let name = job.stages.get(usize::from(stage)).and_then(|stage| stage.name.as_deref());
    name.filter(|name| !name.trim().is_empty()).map_or_else(|| format!("stage {}", u32::from(stage) + 1), str::to_owned)
}
