//! Whole jobs against an independent high-resolution solution of the same model: every figure of every solution.

use loftwire_tests::compare::{Fate, Kind, Outcome, idle};
use loftwire_tests::prediction::with_room;
use loftwire_tests::solved::{Case, JOBS, LATER, ROWS, comparison, figures};
use std::collections::BTreeMap;

#[test]
fn every_figure_is_met() {
    let all = with_room(|| {
        JOBS.map(|(name, job, solution)| {
            let case = Case::new(name, job);
            let (leaves, uncertainty) = figures(name, &case, solution);
            (name, comparison(&case, uncertainty).run(&leaves))
        })
    });
    for (name, outcomes) in &all {
        for o in outcomes.iter().filter(|o| matches!(o.fate, Fate::Missed | Fate::Stray)) {
            println!("{name} {} -> {} want {} got {} error {:.2e} strain {:.2} {:?}", o.path, o.there, o.want, o.got, o.error, o.strain, o.fate);
        }
    }
    let seen: Vec<Outcome> = all.iter().flat_map(|(_, o)| o.clone()).collect();
    println!("idle {:?}", idle(ROWS, &seen));
    let mut worst: BTreeMap<(Kind, &str), (f64, String)> = BTreeMap::new();
    for (name, outcomes) in &all { for o in outcomes { if let Some(k)=o.kind { let w=worst.entry((k,name)).or_insert((0.0,String::new())); if o.fate==Fate::Met && o.error>w.0 { *w=(o.error,o.path.clone()); } } } }
    for (k,v) in worst { println!("{k:?} {v:?}"); }
    let _=LATER;
}
