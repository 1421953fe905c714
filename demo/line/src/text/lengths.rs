//! A text picture of how the lengths are spread.

use super::style::{WIDTH, right};
use loftwire_core::number::{Length, Share, whole};
use loftwire_core::report::Report;

/// Rows of the picture.
const ROWS: usize = 5;
/// Heights within a row.
const BARS: [char; 9] = [' ', '▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];
/// Columns left of the bars.
const MARGIN: usize = 8;

/// The histogram of the whole wire, a column or more a bin, with the share of the largest and the lengths below it.
pub fn picture(report: &Report) -> Vec<String> {
    let Some(wires) = report.wires.get() else { return Vec::new() };
    let (edges, shares) = (&wires.histogram.edges_nm, &wires.histogram.share);
    let largest = shares.iter().copied().fold(0.0, f64::max);
    let (Some(first), Some(last)) = (edges.first(), edges.last()) else { return Vec::new() };
    if largest <= 0.0 || last <= first {
        return Vec::new();
    }
    let wide = ((WIDTH - 2 * MARGIN) / shares.len().max(1)).clamp(1, 4);
    let mut rows = vec![String::new(), "Lengths of the whole wire, share of the wires".to_owned()];
    for row in (0..ROWS).rev() {
        let label = if row == ROWS - 1 { Share(largest).to_string() } else { String::new() };
        let bars: String = shares.iter().map(|share| bar(*share / largest, row).to_string().repeat(wide)).collect();
        rows.push(format!("{} {bars}", right(&label, MARGIN - 1)).trim_end().to_owned());
    }
    rows.push(axis(edges, wide));
    rows
}

/// What of a bar stands in a row, counted from below.
// A few rows and eight heights: every cast is exact.
#[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn bar(share: f64, row: usize) -> char {
    let eighths = share * (ROWS * 8) as f64 - (row * 8) as f64;
    let least = if share > 0.0 && row == 0 { 1.0 } else { 0.0 };
    BARS.get(eighths.round().clamp(least, 8.0) as usize).copied().unwrap_or('█')
}

/// Lengths below the picture: the edges of a few bins, none over another.
fn axis(edges: &[f64], wide: usize) -> String {
    let bins = edges.len().saturating_sub(1).max(1);
    let every = (14 / wide).max(1).min(bins);
    let mut axis = String::new();
    let mut used = 0;
    for (bin, edge) in edges.iter().enumerate().step_by(every) {
        let label = if edges.last().is_some_and(|last| *last >= 9_999.5) || used > 0 {
            whole(*edge).to_string()
        } else {
            Length(*edge).to_string()
        };
        let place = MARGIN + bin * wide;
        let room = place.saturating_sub(used);
        if place + label.chars().count() > WIDTH {
            break;
        }
        axis += &format!("{}{label}", " ".repeat(room));
        used = place + label.chars().count();
    }
    axis
}
