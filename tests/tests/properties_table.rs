//! The table of properties is the formulas: any line, any temperature between its coldest and its warmest place.
//!
//! `LOFTWIRE_CASES` says how many random lines are asked.

use loftwire_core::gas::Trace;
use loftwire_core::line::Line;
use loftwire_core::material::{GOLD_CONDUCTIVITY, GOLD_DENSITY};
use loftwire_core::properties::{Place, Properties};
use loftwire_core::seed;
use loftwire_core::units::GAS_CONSTANT;
use loftwire_tests::prediction::{line, with_room};
use loftwire_tests::random::{Draw, NUMBERS};
use proptest::collection::vec;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use std::collections::BTreeMap;

/// Random lines unless `LOFTWIRE_CASES` says otherwise.
const CASES: usize = 100;
/// Start of the random numbers.
const SEED: [u8; 32] = *b"the table is what the formula is";
/// Temperatures asked of each line.
const TEMPERATURES: usize = 200;
/// What the table promises, relative; of a thermal diffusion factor, which may be 0, absolute.
const WITHIN: f64 = 1e-6;

/// A figure by the table and by its formula.
type Pair = (&'static str, f64, f64);

/// What depends on the gas and the median seed alone.
fn of_gas_and_seed(line: &Line, table: &Properties, at: &Place, t: f64) -> [Pair; 7] {
    let (gas, pressure, seeds) = (&line.carrier, line.pressure, &line.seeds);
    let d = seeds.median_diameter;
    let viscosity = gas.viscosity(t);
    let slip = seed::slip_correction(2.0 * gas.mean_free_path(t, pressure) / d);
    let brownian = seed::diffusion(t, d, viscosity, slip);
    let ratio = gas.conductivity(t) / GOLD_CONDUCTIVITY;
    let kinematic = viscosity * GAS_CONSTANT * t / (pressure * gas.molar_mass());
    let thermophoresis = seed::thermophoretic_coefficient(d, gas.mean_free_path(t, pressure), ratio) * kinematic;
    let mobility = seed::mobility(seeds.charges, d, viscosity, slip);
    [
        ("conductivity", table.conductivity(at), gas.conductivity(t)),
        ("heat capacity", table.heat_capacity(at), gas.molar_heat_capacity(t)),
        ("viscosity", table.viscosity(at), viscosity),
        ("thermophoresis", table.thermophoresis(at), if seeds.drift { thermophoresis } else { 0.0 }),
        ("coagulation", table.coagulation(at), 2.0 * seed::coagulation_coefficient(d, GOLD_DENSITY, t, brownian)),
        ("dispersion", table.dispersion(at), seed::dispersion_coefficient(mobility, seeds.charges)),
        ("diffusion of the seed", table.brownian(at), brownian),
    ]
}

/// What depends on a species.
fn of_species(line: &Line, table: &Properties, at: &Place, t: f64, s: usize) -> [Pair; 2] {
    let species = &line.species[s];
    let trace = Trace {
        molar_mass: species.molar_mass,
        collision_diameter: species.collision_diameter,
        well_depth: species.well_depth,
    };
    let density = line.pressure / (GAS_CONSTANT * t);
    let alpha = if line.thermal_diffusion { trace.thermal_diffusion_factor(&line.carrier, t) } else { 0.0 };
    [
        ("c D", table.diffusion(s, at), density * trace.diffusion(&line.carrier, t, line.pressure)),
        ("thermal diffusion", table.thermal_diffusion(s, at), alpha),
    ]
}

/// Source: the formulas of the gas, the feed and the seed, each with its own; the table's header promises 1e-6.
#[test]
fn the_table_is_the_formulas() {
    let cases = std::env::var("LOFTWIRE_CASES").ok().and_then(|text| text.parse().ok()).unwrap_or(CASES);
    let worst = with_room(|| {
        let mut runner = TestRunner::new_with_rng(Config::default(), TestRng::from_seed(RngAlgorithm::ChaCha, &SEED));
        let numbers = vec(0.0..1.0_f64, NUMBERS);
        let mut table = Box::new(Properties::new());
        let mut worst = BTreeMap::<&str, (f64, String)>::new();
        for _ in 0..cases {
            let drawn = numbers.new_tree(&mut runner).map(|tree| tree.current()).unwrap_or_default();
            let job = Draw::new(&drawn).job().to_string();
            let Ok(line) = line(&job) else { continue };
            table.fill(&line);
            let walls = line.stages.iter().map(|stage| (stage.wall.range(), stage.inlet));
            let (low, high) = walls.fold((f64::MAX, f64::MIN), |(low, high), ((a, b), inlet)| {
                (low.min(a).min(inlet), high.max(b).max(inlet))
            });
            for n in 0..=TEMPERATURES {
                let t = low + (high - low) * n as f64 / TEMPERATURES as f64;
                let at = table.place(t);
                let species = (0..line.species.len()).flat_map(|s| of_species(&line, &table, &at, t, s));
                for (what, got, want) in of_gas_and_seed(&line, &table, &at, t).into_iter().chain(species) {
                    let scale = if what == "thermal diffusion" { 1.0 } else { want.abs() };
                    let error = if got == want { 0.0 } else { (got - want).abs() / scale };
                    let held = worst.entry(what).or_default();
                    // NaN is worse than anything.
                    if !(error <= held.0) {
                        *held = (error, format!("at {t:.1} K in {:?}: {got:e} for {want:e}\n{job}", line.carrier));
                    }
                }
            }
        }
        worst
    });
    println!("{cases} lines from the seed {:?}", SEED.escape_ascii().to_string());
    for (what, (error, _)) in &worst {
        println!("    {what:24} {error:.1e}");
    }
    for (what, (error, where_)) in &worst {
        assert!(*error <= WITHIN, "{what} is off by {error:.1e} {where_}");
    }
    assert!(!worst.is_empty());
}
