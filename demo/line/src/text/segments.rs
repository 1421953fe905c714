//! Each segment against its order, the whole wire, diameter and spread.

use super::style::{Look, WIDTH, clean, columns, right, wrapped};
use loftwire_core::line::{Doping, Line, OrderSegment};
use loftwire_core::number::{PlusMinus, SetPoint, SetPointDigits, Share, placed, three};
use loftwire_core::report::{Report, Segment, Spread, letter};
use loftwire_core::verdict::{Item, Kind};

/// Columns: name, predicted, accepted, to spare, doping, ordered doping; 80 with the blanks between.
const WIDTHS: [usize; 6] = [14, 14, 14, 12, 12, 9];

/// The table; without an order its columns are left out.
pub fn table(look: Look, line: &Line, report: &Report) -> Vec<String> {
    let Some(wires) = report.wires.get() else { return Vec::new() };
    let ordered = line.order.is_some();
    let mut rows = vec![String::new(), look.dim(&row(heads(ordered)))];
    for (index, segment) in wires.segments.iter().enumerate() {
        rows.push(look_at(look, report, index, &row(cells(line, report, index, segment))));
    }
    rows.push(row(["whole wire".into(), length(&wires.length_nm), String::new(), String::new(), String::new(), String::new()]));
    rows.push(diameter(look, line, report));
    if let Some(item) = item(report, Kind::Spread) {
        let cells = [
            "spread".into(),
            Share(item.predicted.unwrap_or(0.0)).to_string(),
            format!("to {}", Share(item.ordered)),
            verdict(item, 0.0),
            String::new(),
            String::new(),
        ];
        rows.push(if item.met { row(cells) } else { look.outside(&row(cells)) });
    }
    rows.push(look.dim("± is one standard deviation of the wires."));
    rows.extend(coats(report));
    rows
}

fn heads(ordered: bool) -> [String; 6] {
    let heads = ["", "predicted", "accepted", "to spare", "per cm³", "ordered"];
    heads.map(|head| if ordered || !["accepted", "to spare", "ordered"].contains(&head) { head.to_owned() } else { String::new() })
}

fn row(cells: [String; 6]) -> String {
    let mut row = String::new();
    for (index, (cell, width)) in cells.iter().zip(WIDTHS).enumerate() {
        if index > 0 {
            row.push(' ');
        }
        row += &if index == 0 { columns(cell, width) } else { right(cell, width) };
    }
    row.trim_end().to_owned()
}

/// A row of a segment outside its order is set apart; its words say so too.
fn look_at(look: Look, report: &Report, stage: usize, row: &str) -> String {
    let outside = [Kind::Length(stage), Kind::Carriers(stage)].iter().any(|kind| item(report, *kind).is_some_and(|item| !item.met));
    if outside { look.outside(row) } else { row.to_owned() }
}

fn item(report: &Report, kind: Kind) -> Option<&Item> {
    report.verdict.as_ref()?.items.iter().find(|item| item.kind == kind)
}

fn order(line: &Line, stage: usize) -> Option<&OrderSegment> {
    line.order.as_ref()?.segments.get(stage)?.as_ref()
}

fn cells(line: &Line, report: &Report, stage: usize, segment: &Segment) -> [String; 6] {
    let name = report.stages.get(stage).map_or("", |stage| stage.name.as_str());
    let ordered = order(line, stage);
    let item = item(report, Kind::Length(stage));
    let accepted = ordered.map_or_else(String::new, |ordered| {
        limits(ordered.length * 1e9, ordered.tolerance * 1e9)
    });
    [
        clean(name, WIDTHS[0]),
        length(&segment.length_nm),
        accepted,
        item.map_or_else(String::new, |item| verdict(item, segment.length_nm.sd)),
        doping(segment),
        ordered.map_or_else(String::new, ordered_doping),
    ]
}

/// A length with the spread of the wires.
fn length(spread: &Spread) -> String {
    if spread.mean >= 9_999.5 {
        return format!("{} µm", PlusMinus { value: spread.mean * 1e-3, spread: spread.sd * 1e-3 });
    }
    format!("{} nm", PlusMinus { value: spread.mean, spread: spread.sd })
}

/// What is accepted of a length.
fn limits(middle: f64, half: f64) -> String {
    // Metres and back leave their last bits behind.
    let bound = |value: f64| SetPoint((value * 1e6).round() / 1e6);
    format!("{}–{} nm", bound((middle - half).max(0.0)), bound(middle + half))
}

/// How far inside, or on which side outside, to the place of the spread.
fn verdict(item: &Item, spread: f64) -> String {
    let margin = item.margin.unwrap_or(0.0);
    let long = item.predicted.is_some_and(|predicted| predicted > item.ordered);
    let (small, large) = match item.kind {
        Kind::Length(_) => ("short", "long"),
        Kind::Diameter => ("thin", "thick"),
        Kind::Spread if item.met => return "inside".to_owned(),
        Kind::Spread => return "too wide".to_owned(),
        Kind::Carriers(_) if item.met => return "inside".to_owned(),
        Kind::Carriers(_) => return "outside".to_owned(),
    };
    match item.met {
        true => format!("{} nm", placed(margin, spread)),
        false => format!("{} {}", placed(-margin, spread), if long { large } else { small }),
    }
}

/// Doping with its letter; the mark says that it is outside.
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

fn diameter(look: Look, line: &Line, report: &Report) -> String {
    let tip = report.wires.get().map_or_else(Spread::new, |wires| wires.diameter_nm.tip);
    let accepted = line.order.as_ref().map_or_else(String::new, |order| {
        limits(order.diameter * 1e9, order.diameter_tolerance * 1e9)
    });
    let item = item(report, Kind::Diameter);
    let cells = [
        "diameter, tip".into(),
        format!("{} nm", PlusMinus { value: tip.mean, spread: tip.sd }),
        accepted,
        item.map_or_else(String::new, |item| verdict(item, tip.sd)),
        String::new(),
        String::new(),
    ];
    if item.is_some_and(|item| !item.met) { look.outside(&row(cells)) } else { row(cells) }
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
    wrapped(&format!("Later stages coat {}; base {} nm thick.", coats.join(", "), three(wires.diameter_nm.base.mean)), "", WIDTH)
}
