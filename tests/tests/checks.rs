//! Every row of every check file: met, waiting for a capability, or for orientation; nothing else.

use loftwire_tests::checks::{CAPABILITIES, FILES, Outcome, Status, all, strays};

/// Rows of a file that are missed without being listed, and listed ones that are met.
fn faults(file: &str) -> Vec<String> {
    let outcomes: Vec<Outcome> = all().into_iter().filter(|outcome| outcome.file == file).collect();
    let count = |which: fn(&Outcome) -> bool| outcomes.iter().filter(|outcome| which(outcome)).count();
    println!(
        "{file}: {} rows; {} met ({} by the rounding of the print), {} missed ({} of them known), {} later, {} for orientation",
        outcomes.len(),
        count(|outcome| outcome.status == Status::Met),
        count(|outcome| outcome.by_print),
        count(|outcome| outcome.status == Status::Missed),
        count(|outcome| outcome.status == Status::Missed && outcome.disagreement.is_some()),
        count(|outcome| matches!(outcome.status, Status::Later(_))),
        count(|outcome| matches!(outcome.status, Status::Orientation(_))),
    );
    outcomes.iter().filter_map(fault).collect()
}

/// Most faults that are printed in full.
const PRINTED: usize = 60;

fn fault(outcome: &Outcome) -> Option<String> {
    let missed = outcome.status == Status::Missed;
    match (missed, outcome.disagreement) {
        (true, None) => Some(format!(
            "{} {} [{}]\n    want {} {}, got {}, tolerance {}, error/tolerance {}\n    {}",
            outcome.id,
            outcome.quantity,
            outcome.inputs,
            outcome.want,
            outcome.unit,
            outcome.got.map_or("nothing".to_owned(), |got| format!("{got:e}")),
            outcome.tolerance,
            outcome.strain.map_or("unknown".to_owned(), |strain| format!("{strain:.3}")),
            outcome.source,
        )),
        (true, Some(known)) if outcome.strain.is_none_or(|strain| strain > known.at_most) => Some(format!(
            "{} {}: is missed by {:?} tolerances, more than the {} that are known: {}",
            outcome.id, outcome.quantity, outcome.strain, known.at_most, known.reason
        )),
        (false, Some(known)) => Some(format!("{}: is met now, so it is no disagreement: {}", outcome.id, known.reason)),
        _ => None,
    }
}

macro_rules! file {
    ($name:ident, $file:literal) => {
        #[test]
        fn $name() {
            let faults = faults($file);
            let first: Vec<_> = faults.iter().take(PRINTED).cloned().collect();
            assert!(faults.is_empty(), "{} faults\n{}", faults.len(), first.join("\n"));
        }
    };
}

file!(gas_rows_are_met, "gas.csv");
file!(slip_rows_are_met, "slip.csv");
file!(charge_rows_are_met, "charge.csv");
file!(classifier_rows_are_met, "classifier.csv");
file!(pipe_rows_are_met, "pipe.csv");
file!(vapour_rows_are_met, "vapour.csv");
file!(kinetics_rows_are_met, "kinetics.csv");
file!(semiconductor_rows_are_met, "semiconductors.csv");
file!(statistics_rows_are_met, "statistics.csv");
file!(safety_rows_are_met, "safety.csv");
file!(trade_rows_are_met, "trade.csv");
file!(published_rows_are_met, "published.csv");

#[test]
fn every_row_has_an_entry_and_every_entry_a_row() {
    let strays = strays();
    assert!(strays.is_empty(), "{} strays\n{}", strays.len(), strays.join("\n"));
}

#[test]
fn no_row_waits_for_what_is_there() {
    let core = concat!(env!("CARGO_MANIFEST_DIR"), "/../core/src");
    let outcomes = all();
    for (capability, module) in CAPABILITIES {
        let waiting = outcomes.iter().filter(|outcome| outcome.status == Status::Later(capability)).count();
        let there = [format!("{core}/{module}.rs"), format!("{core}/{module}/mod.rs")]
            .iter()
            .any(|path| std::path::Path::new(path).exists());
        assert!(waiting == 0 || !there, "core has {module}, but {waiting} rows still wait for {capability}");
        assert!(waiting > 0, "no row waits for {capability}: take it off the list");
    }
}

/// The files under `checks/` are the ones that are read.
#[test]
fn every_check_file_is_read() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/checks");
    for entry in std::fs::read_dir(folder).expect("the folder of checks") {
        let name = entry.expect("an entry of the folder").file_name().into_string().expect("a plain name");
        if name.ends_with(".csv") && name != "strd_data.csv" {
            assert!(FILES.iter().any(|(file, _)| *file == name), "{name} is not read");
        }
    }
}
