//! Each segment against its order, the whole wire, diameter and spread.

use super::style::{Look, WIDTH, clean, columns, right, wrapped};
use loftwire_core::line::{Doping, Line, OrderSegment};
use loftwire_core::number::{Decimals, PlusMinus, SetPoint, SetPointDigits, Share, placed, three};
use loftwire_core::report::{Report, Segment, Spread, letter};
use loftwire_core::verdict::{Item, Kind};
use unicode_width::UnicodeWidthStr;

/// Lengths from here on are in µm.
const MICROMETRES: f64 = 9_999.5;
/// Least columns of a name.
const NAME: usize = 8;
/// Heads of the columns; the order's own are left out without an order.
const HEADS: [&str; 6] = ["", "predicted", "accepted", "to spare", "per cm³", "ordered"];

/// A row before it is set: its cells, and whether it is outside the order.
struct Row {
    cells: [String; 6],
    outside: bool,
}

impl Row {
    fn new(cells: [String; 6]) -> Self {
        Self { cells, outside: false }
    }
}

/// The table; without an order its columns are left out.
pub fn table(look: Look, line: &Line, report: &Report) -> Vec<String> {
    let Some(wires) = report.wires.get() else { return Vec::new() };
    let mut rows = Vec::new();
    for (index, part) in wires.segments.iter().enumerate() {
        rows.push(segment(line, report, index, part));
    }
    let none = String::new;
    rows.push(Row::new(["whole wire".into(), length(&wires.length_nm), none(), none(), none(), none()]));
    rows.push(diameter(line, report));
    rows.extend(item(report, Kind::Spread).map(|item| Row {
        cells: [
            "spread".into(),
            Share(item.predicted.unwrap_or(0.0)).to_string(),
            format!("to {}", Share(item.ordered)),
            verdict(item, 0.0),
            none(),
            none(),
        ],
        outside: !item.met,
    }));
    let mut text = vec![String::new()];
    text.extend(set(look, line.order.is_some(), &rows));
    text.push(look.dim("± is one standard deviation of the wires."));
    text.extend(coats(report));
    text
}

/// The rows under their heads; columns as wide as they need, the names get what is left.
fn set(look: Look, ordered: bool, rows: &[Row]) -> Vec<String> {
    let heads =
        HEADS.map(|head| if ordered || !["accepted", "to spare", "ordered"].contains(&head) { head } else { "" });
    let mut widths = heads.map(UnicodeWidthStr::width);
    for row in rows {
        for (width, cell) in widths.iter_mut().zip(&row.cells) {
            *width = (*width).max(cell.width());
        }
    }
    let [name, figures @ ..] = widths;
    let used: usize = figures.iter().filter(|width| **width > 0).map(|width| width + 1).sum();
    let name = name.min(WIDTH.saturating_sub(used)).max(NAME);
    // What is left over goes between the columns, up to two blanks more.
    let shown = figures.iter().filter(|width| **width > 0).count().max(1);
    let gap = 1 + (WIDTH.saturating_sub(used + name) / shown).min(2);
    let one = |cells: [&str; 6]| {
        let [first, rest @ ..] = cells;
        let mut row = columns(&clean(first, name), name);
        for (cell, width) in rest.iter().zip(figures).filter(|(_, width)| *width > 0) {
            row += &" ".repeat(gap);
            row += &right(cell, width);
        }
        row.trim_end().to_owned()
    };
    let mut text = vec![look.dim(&one(heads))];
    for row in rows {
        let cells = one(row.cells.each_ref().map(String::as_str));
        text.push(if row.outside { look.outside(&cells) } else { cells });
    }
    text
}

fn item(report: &Report, kind: Kind) -> Option<&Item> {
    report.verdict.as_ref()?.items.iter().find(|item| item.kind == kind)
}

fn segment(line: &Line, report: &Report, stage: usize, segment: &Segment) -> Row {
    let name = report.stages.get(stage).map_or("", |stage| stage.name.as_str());
    let ordered = line.order.as_ref().and_then(|order| order.segments.get(stage)?.as_ref());
    let item = |kind| item(report, kind);
    let grown = item(Kind::Length(stage));
    let cells = [
        name.to_owned(),
        length(&segment.length_nm),
        ordered.map_or_else(String::new, |ordered| limits(ordered.length * 1e9, ordered.tolerance * 1e9)),
        grown.map_or_else(String::new, |item| verdict(item, segment.length_nm.sd)),
        doping(segment),
        ordered.map_or_else(String::new, ordered_doping),
    ];
    let outside = [grown, item(Kind::Carriers(stage))].iter().flatten().any(|item| !item.met);
    Row { cells, outside }
}

fn diameter(line: &Line, report: &Report) -> Row {
    let tip = report.wires.get().map_or_else(Spread::new, |wires| wires.diameter_nm.tip);
    let item = item(report, Kind::Diameter);
    let order = line.order.as_ref();
    let cells = [
        "tip diameter".into(),
        length(&tip),
        order.map_or_else(String::new, |order| limits(order.diameter * 1e9, order.diameter_tolerance * 1e9)),
        item.map_or_else(String::new, |item| verdict(item, tip.sd)),
        String::new(),
        String::new(),
    ];
    Row { cells, outside: item.is_some_and(|item| !item.met) }
}

/// A length with the spread of the wires.
fn length(spread: &Spread) -> String {
    if spread.mean < MICROMETRES {
        return format!("{} nm", PlusMinus { value: spread.mean, spread: spread.sd });
    }
    let micrometres = |value: f64| Decimals { value: value * 1e-3, decimals: 2 };
    format!("{} ± {} µm", micrometres(spread.mean), micrometres(spread.sd))
}

/// What is accepted of a length.
fn limits(middle: f64, half: f64) -> String {
    let (least, most) = ((middle - half).max(0.0), middle + half);
    let (scale, unit) = if most < MICROMETRES { (1.0, "nm") } else { (1e-3, "µm") };
    // Metres and back leave their last bits behind.
    let bound = |value: f64| SetPoint((value * scale * 1e6).round() / 1e6);
    format!("{}–{} {unit}", bound(least), bound(most))
}

/// How far inside, or on which side outside, to the place of the spread.
fn verdict(item: &Item, spread: f64) -> String {
    let margin = item.margin.unwrap_or(0.0);
    let long = item.predicted.is_some_and(|predicted| predicted > item.ordered);
    let (small, large) = match item.kind {
        Kind::Length(_) => ("short", "long"),
        Kind::Diameter => ("thin", "thick"),
        Kind::Carriers(_) | Kind::Spread if item.met => return "inside".to_owned(),
        Kind::Carriers(_) | Kind::Spread => return "outside".to_owned(),
    };
    if item.met {
        format!("{} nm", placed(margin, spread))
    } else {
        format!("{} {}", placed(-margin, spread), if long { large } else { small })
    }
}

/// Net doping with its letter.
fn doping(segment: &Segment) -> String {
    match (segment.doping, segment.net_per_cm3) {
        (Some(doping), Some(net)) if net.mean == 0.0 => letter(doping).to_owned(),
        (Some(doping), Some(net)) => format!("{} {}", letter(doping), three(net.mean.abs())),
        _ => "–".to_owned(),
    }
}

fn ordered_doping(ordered: &OrderSegment) -> String {
    let amount = SetPointDigits(ordered.carriers * 1e-6);
    match ordered.doping {
        Doping::I => format!("≤ {amount}"),
        doping => format!("{} {amount}", letter(doping)),
    }
}

/// What lies on the sidewalls, where it is anything.
fn coats(report: &Report) -> Vec<String> {
    let Some(wires) = report.wires.get() else { return Vec::new() };
    let coats: Vec<_> = wires
        .segments
        .iter()
        .filter(|segment| segment.coat_nm >= 0.05)
        .filter_map(|segment| {
            let name = report.stages.get(segment.stage)?.name.as_str();
            Some(format!("{} nm on {}", three(segment.coat_nm), clean(name, 28)))
        })
        .collect();
    if coats.is_empty() {
        return Vec::new();
    }
    let base = three(wires.diameter_nm.base.mean);
    wrapped(&format!("Later stages coat {}; the base is {base} nm thick.", coats.join(", ")), "", WIDTH)
}
