//! A text picture of each tube: how warm wall and seeds are, and how the wire grows along it.

use super::style::{Look, WIDTH, clean, columns, indented, wrapped};
use loftwire_core::line::Line;
use loftwire_core::number::{Length, SetPoint, Share, two, whole};
use loftwire_core::number::{PlusMinus, three};
use loftwire_core::report::{Report, Stage};

/// Columns of a picture.
const PICTURE: usize = 48;
/// Columns of the word before it.
const WORD: usize = 10;
/// Heights of a bar, from next to nothing to full.
const BARS: [char; 8] = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];

/// Dopant over group III below which what is left of it is not worth a word.
const TRACE: f64 = 1e-4;

/// The scales that all pictures share, so that they can be compared.
struct Scales {
    /// Warmest of all, °C, up to the next hundred.
    hottest: f64,
    /// Longest that one stage grows, nm.
    longest: f64,
}

/// All stages, each with its picture, and how to read them.
pub fn stages(look: Look, line: &Line, report: &Report) -> Vec<String> {
    let scales = scales(report);
    let mut rows = Vec::new();
    for (index, stage) in report.stages.iter().enumerate() {
        rows.push(String::new());
        rows.push(look.bold(&format!("{} {}", index + 1, clean(&stage.name, WIDTH - 4))));
        rows.extend(indented(&set_points(line, index, stage), "  ", WIDTH).into_iter().map(|row| look.dim(&row)));
        rows.extend(pictures(&scales, stage));
        rows.extend(indented(&whereabouts(line, stage), "  ", WIDTH));
    }
    if report.stages.iter().any(|stage| stage.profile.z_mm.len() > 1) {
        let key = format!(
            "Left the inlet, right the outlet; wall and seeds 0 to {} °C, length 0 to {}.",
            whole(scales.hottest),
            Length(scales.longest),
        );
        rows.push(String::new());
        rows.extend(wrapped(&key, "", WIDTH).into_iter().map(|row| look.dim(&row)));
    }
    rows
}

fn scales(report: &Report) -> Scales {
    let warm = report.stages.iter().flat_map(|stage| stage.profile.wall_c.iter().chain(&stage.profile.seeds_c));
    let hottest = warm.copied().fold(0.0, f64::max);
    let grown = report.stages.iter().filter_map(|stage| {
        let length = &stage.profile.length_nm_mean;
        Some(length.last()? - length.first()?)
    });
    Scales { hottest: ((hottest / 100.0).ceil() * 100.0).max(100.0), longest: grown.fold(0.0, f64::max) }
}

/// Tube, flow and gas of a stage.
fn set_points(line: &Line, index: usize, stage: &Stage) -> String {
    let mut text = String::new();
    if let Some(set) = line.stages.get(index) {
        let way = if set.upward { "up" } else { "down" };
        let (bore, long) = (set.diameter * 1e3, set.length * 1e3);
        text += &format!(
            "{} mm × {} mm, {way}",
            SetPoint((bore * 1e6).round() / 1e6),
            SetPoint((long * 1e6).round() / 1e6)
        );
        if set.mixed {
            text += ", seeds mixed at the inlet";
        }
        text += ", ";
    }
    text += &format!("{} sccm; ", three(stage.flow.total_sccm));
    text += &format!("group III {} Pa", three(stage.inlet.group_iii_pa));
    if let Some(ratio) = stage.inlet.v_iii {
        text += &format!(", V/III {}", three(ratio));
    }
    for (name, pressure) in &stage.inlet.dopant_pa {
        if *pressure > TRACE * stage.inlet.group_iii_pa {
            text += &format!(", {name} {} Pa", three(*pressure));
        }
    }
    text
}

/// Three rows: wall, seeds, length.
fn pictures(scales: &Scales, stage: &Stage) -> Vec<String> {
    let profile = &stage.profile;
    let z = profile.z_mm.as_slice();
    let (Some(start), Some(end)) = (profile.length_nm_mean.first(), profile.length_nm_mean.last()) else {
        return Vec::new();
    };
    if z.len() < 2 {
        return Vec::new();
    }
    let row = |word: &str, picture: String, what: String| {
        let row = format!("  {}{picture}  {what}", columns(word, WORD));
        row.trim_end().to_owned()
    };
    let warm = |column: &[f64]| {
        let (least, most) = column
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), now| (now.min(least), now.max(most)));
        (picture(z, column, |value| value / scales.hottest), format!("{} to {} °C", whole(least), whole(most)))
    };
    let (wall, walls) = warm(&profile.wall_c);
    let (seeds, gas) = warm(&profile.seeds_c);
    let of_longest = |value: f64| if scales.longest > 0.0 { (value - start) / scales.longest } else { 0.0 };
    let length = picture(z, &profile.length_nm_mean, of_longest);
    let grown = end - start;
    let grows = if grown > 0.0 { format!("+ {}", Length(grown)) } else { "nothing grows".to_owned() };
    vec![row("wall", wall, walls), row("seeds", seeds, gas), row("length", length, grows)]
}

/// A row of bars: the column at equal steps of z, scaled to 0…1; blank below a thousandth.
// Fewer than a hundred places and eight heights: every cast is exact.
#[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn picture(z: &[f64], column: &[f64], scale: impl Fn(f64) -> f64) -> String {
    let end = z.last().copied().unwrap_or(0.0);
    (0..PICTURE)
        .map(|place| {
            let share = scale(at(z, column, end * (place as f64 + 0.5) / PICTURE as f64));
            if share < 1e-3 {
                return ' ';
            }
            // 0…1 in eight heights; rounding to the nearest keeps small changes apart at both ends.
            let height = (share * 8.0 - 0.5).round().clamp(0.0, 7.0) as usize;
            BARS.get(height).copied().unwrap_or('█')
        })
        .collect()
}

/// A column at a place between its stations, linear.
fn at(z: &[f64], column: &[f64], place: f64) -> f64 {
    let points: Vec<_> = z.iter().copied().zip(column.iter().copied()).collect();
    let pair = points.windows(2).find(|pair| matches!(pair, [_, (right, _)] if *right >= place));
    match pair {
        Some([(left, low), (right, high)]) if right > left => low + (high - low) * (place - left) / (right - left),
        _ => column.last().copied().unwrap_or(0.0),
    }
}

/// Where the group III goes, how long the seeds stay and how many are lost.
fn whereabouts(line: &Line, stage: &Stage) -> String {
    let mut text = String::new();
    let parent = line.species.first().map(|species| species.name.as_str());
    if let Some(row) = stage.balance.iter().find(|row| Some(row.species.as_str()) == parent) {
        let shares = (Share(row.in_wires), Share(row.on_wall), Share(row.leaving));
        text += &format!("{}: {} in the wires, {} on the wall, {} leaves. ", row.species, shares.0, shares.1, shares.2);
    }
    let stay = PlusMinus { value: stage.residence_s.seeds.mean, spread: stage.residence_s.seeds.sd };
    text += &format!("Seeds stay {stay} s");
    let lost = stage.seeds.coagulated_share + stage.seeds.dispersed_share;
    if lost >= 0.001 {
        text += &format!(", {} % of them are lost", two(100.0 * lost));
    }
    text + "."
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_picture_rises_where_its_column_rises() {
        let z = [0.0, 50.0, 100.0];
        let drawn = picture(&z, &[0.0, 0.5, 1.0], |value| value);
        assert_eq!(drawn.chars().count(), PICTURE);
        let heights: Vec<_> = drawn.chars().map(|bar| BARS.iter().position(|one| *one == bar)).collect();
        assert!(heights.is_sorted());
        assert_eq!((heights.first(), heights.last()), (Some(&Some(0)), Some(&Some(7))));
    }
}
