//! Tables of a report as CSV: a header, then a row each, full digits.

use crate::command::Table;
use crate::status::Stop;
use csv::Writer;
use loftwire_core::report::{Histogram, Report};
use std::io::Write;

/// Writes one table; nothing for a report that was refused.
pub fn write(out: &mut impl Write, report: &Report, table: Table) -> Result<(), Stop> {
    let mut rows = Writer::from_writer(out);
    let written = match table {
        Table::Along => along(&mut rows, report),
        Table::Histogram => histograms(&mut rows, report),
        Table::Profile => profile(&mut rows, report),
    };
    written.map_err(stop)?;
    rows.flush()?;
    Ok(())
}

/// What stops a writer of CSV is what stops the output.
fn stop(why: csv::Error) -> Stop {
    match why.into_kind() {
        csv::ErrorKind::Io(why) => why.into(),
        other => Stop::Write(std::io::Error::other(format!("{other:?}"))),
    }
}

/// All digits that tell a number apart, with a power of ten where it is very small or large.
fn digits(value: f64) -> String {
    format!("{value:?}")
}

fn along<W: Write>(rows: &mut Writer<W>, report: &Report) -> csv::Result<()> {
    let Some(wires) = report.wires.get() else { return Ok(()) };
    let along = &wires.along;
    rows.write_record(["x_nm", "donors_per_cm3", "acceptors_per_cm3", "diameter_nm"])?;
    let doping = along.donors_per_cm3.iter().zip(&along.acceptors_per_cm3);
    for ((x, (donors, acceptors)), diameter) in along.x_nm.iter().zip(doping).zip(&along.diameter_nm) {
        rows.write_record([x, donors, acceptors, diameter].map(|value| digits(*value)))?;
    }
    Ok(())
}

fn histograms<W: Write>(rows: &mut Writer<W>, report: &Report) -> csv::Result<()> {
    let Some(wires) = report.wires.get() else { return Ok(()) };
    rows.write_record(["of", "from_nm", "to_nm", "share"])?;
    histogram(rows, "wires", &wires.histogram)?;
    for segment in &wires.segments {
        histogram(rows, &format!("wires.segments[{}]", segment.stage), &segment.histogram)?;
    }
    Ok(())
}

fn histogram<W: Write>(rows: &mut Writer<W>, of: &str, histogram: &Histogram) -> csv::Result<()> {
    for (edges, share) in histogram.edges_nm.windows(2).zip(&histogram.share) {
        if let [from, to] = edges {
            rows.write_record([of.to_owned(), digits(*from), digits(*to), digits(*share)])?;
        }
    }
    Ok(())
}

fn profile<W: Write>(rows: &mut Writer<W>, report: &Report) -> csv::Result<()> {
    for (index, stage) in report.stages.iter().enumerate() {
        let columns = stage.profile.columns();
        if index == 0 {
            rows.write_record(["stage", "name"].into_iter().chain(columns.iter().map(|(name, _)| *name)))?;
        }
        for station in 0..stage.profile.z_mm.len() {
            let figures =
                columns.iter().map(|(_, column)| column.get(station).copied().map(digits).unwrap_or_default());
            rows.write_record([index.to_string(), stage.name.to_string()].into_iter().chain(figures))?;
        }
    }
    Ok(())
}
