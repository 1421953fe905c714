//! Hazards and their published limits, an issuer and a year on each row.
//!
//! Columns of a limit: check (row of `tests/checks/safety.csv`), what, value, unit, issuer, year, read (print, library
//! table, or memory). Year `None`: the issue is not known. Limits change: the newest of the issuer counts, not these.

use serde::ser::{Serialize, SerializeStruct, Serializer};

/// A hazard in two lines, with its limits.
#[derive(Debug)]
pub struct Hazard {
    /// Name.
    pub name: &'static str,
    /// What it does.
    pub does: &'static str,
    /// What to mind.
    pub mind: &'static str,
    /// Limits as published.
    pub limits: &'static [Limit],
    /// Source of the two lines.
    pub source: &'static str,
}

impl Hazard {
    /// Lowest of the limits that is a mole fraction in air, –.
    #[must_use]
    pub fn lowest(&self) -> Option<f64> {
        let shares = self.limits.iter().filter_map(Limit::share);
        shares.fold(None, |lowest: Option<f64>, share| Some(lowest.map_or(share, |lowest| lowest.min(share))))
    }
}

/// A published limit.
#[derive(Debug)]
pub struct Limit {
    /// Row of the check file.
    pub check: &'static str,
    /// What is limited.
    pub what: &'static str,
    /// Its value.
    pub value: f64,
    /// Unit of the value: ppm, mg/m3, % by volume, K.
    pub unit: &'static str,
    /// Who issued it.
    pub issuer: &'static str,
    /// When.
    pub year: Option<u16>,
    /// How it was read.
    pub read: &'static str,
}

impl Limit {
    /// Mole fraction in air, where the limit is one.
    #[must_use]
    pub fn share(&self) -> Option<f64> {
        match self.unit {
            "ppm" => Some(self.value * 1e-6),
            "% by volume" if self.what.starts_with("lower") => Some(self.value * 1e-2),
            _ => None,
        }
    }
}

impl Serialize for Limit {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut limit = serializer.serialize_struct("Limit", 5)?;
        limit.serialize_field("what", self.what)?;
        limit.serialize_field("value", &self.value)?;
        limit.serialize_field("unit", self.unit)?;
        limit.serialize_field("issuer", self.issuer)?;
        limit.serialize_field("year", &self.year)?;
        limit.end()
    }
}

const ONTARIO: &str = "Ontario, Regulation 833";
const NIOSH: &str = "NIOSH";
const OSHA: &str = "OSHA";
const ACGIH: &str = "ACGIH";
const NFPA: &str = "NFPA 497";
const IEC: &str = "IEC 60079-20-1";
const LIBRARY: &str = "library table";
const PRINT: &str = "print, in part";
const MEMORY: &str = "memory";

/// One row: check, what, value, unit, issuer, year, read.
const fn row(
    check: &'static str,
    what: &'static str,
    (value, unit): (f64, &'static str),
    (issuer, year): (&'static str, Option<u16>),
    read: &'static str,
) -> Limit {
    Limit { check, what, value, unit, issuer, year, read }
}

const PPM: &str = "ppm";
const VOLUME: &str = "% by volume";

const ARSINE_LIMITS: [Limit; 7] = [
    row("X001", "8 h time-weighted limit", (0.005, PPM), (ONTARIO, Some(2016)), LIBRARY),
    row("X010", "REL, 15 min ceiling", (0.002, "mg/m3"), (NIOSH, Some(1994)), PRINT),
    row("X011", "PEL, 8 h", (0.05, PPM), (OSHA, Some(1994)), PRINT),
    row("X012", "lower flammable limit", (5.1, VOLUME), (NIOSH, Some(1994)), PRINT),
    row("X019", "IDLH", (3.0, PPM), (NIOSH, Some(1994)), MEMORY),
    row("X020", "TLV-TWA", (0.005, PPM), (ACGIH, Some(2007)), MEMORY),
    row("X013", "IDLH before 1994", (6.0, PPM), (NIOSH, Some(1994)), PRINT),
];

const PHOSPHINE_LIMITS: [Limit; 9] = [
    row("X002", "8 h time-weighted limit", (0.3, PPM), (ONTARIO, Some(2016)), LIBRARY),
    row("X003", "short-term limit", (1.0, PPM), (ONTARIO, Some(2016)), LIBRARY),
    row("X014", "REL, 10 h", (0.3, PPM), (NIOSH, Some(1994)), PRINT),
    row("X015", "REL, short term", (1.0, PPM), (NIOSH, Some(1994)), PRINT),
    row("X016", "PEL, 8 h", (0.3, PPM), (OSHA, Some(1994)), PRINT),
    row("X017", "lower flammable limit", (1.79, VOLUME), (NIOSH, Some(1994)), PRINT),
    row("X018", "IDLH", (50.0, PPM), (NIOSH, Some(1994)), PRINT),
    row("X021", "TLV-TWA", (0.05, PPM), (ACGIH, Some(2018)), MEMORY),
    row("X022", "TLV-ceiling", (0.15, PPM), (ACGIH, Some(2018)), MEMORY),
];

const SULFIDE_LIMITS: [Limit; 7] = [
    row("X005", "8 h time-weighted limit", (10.0, PPM), (ONTARIO, Some(2016)), LIBRARY),
    row("X006", "short-term limit", (15.0, PPM), (ONTARIO, Some(2016)), LIBRARY),
    row("X024", "TLV-TWA", (1.0, PPM), (ACGIH, Some(2010)), MEMORY),
    row("X025", "TLV-STEL", (5.0, PPM), (ACGIH, Some(2010)), MEMORY),
    row("X031", "lower flammable limit in air", (4.0, VOLUME), (NFPA, Some(2008)), LIBRARY),
    row("X038", "upper flammable limit in air", (45.5, VOLUME), (IEC, Some(2010)), LIBRARY),
    row("X033", "auto-ignition temperature", (533.15, "K"), (NFPA, Some(2008)), LIBRARY),
];

const SILANE_LIMITS: [Limit; 2] = [
    row("X007", "8 h time-weighted limit", (5.0, PPM), (ONTARIO, Some(2016)), LIBRARY),
    row("X026", "TLV-TWA", (5.0, PPM), (ACGIH, Some(2014)), PRINT),
];

const HYDROGEN_LIMITS: [Limit; 3] = [
    row("X028", "lower flammable limit in air", (4.0, VOLUME), (NFPA, Some(2008)), LIBRARY),
    row("X035", "upper flammable limit in air", (77.0, VOLUME), (IEC, Some(2010)), LIBRARY),
    row("X030", "auto-ignition temperature", (773.15, "K"), (NFPA, Some(2008)), LIBRARY),
];

/// Hydrogen as a carrier.
pub static HYDROGEN: Hazard = Hazard {
    name: "hydrogen",
    does: "Burns from 4 to 77 % in air with a flame that is hardly seen, and a spark that is hardly felt lights it.",
    mind: "Leak-test, purge the air out before heating and the hydrogen out before opening, and vent away from ceilings.",
    limits: &HYDROGEN_LIMITS,
    source: "NFPA 497 (2008), IEC 60079-20-1 (2010); common practice",
};

/// High voltage of the classifier.
pub static VOLTAGE: Hazard = Hazard {
    name: "high voltage",
    does: "The classifier holds up to kilovolts, and its charge stays for a while after it is switched off.",
    mind: "Switch off, wait and ground before opening; no bare lead, and no hydrogen leak where it may spark.",
    limits: &[],
    source: "common practice",
};

/// Hot tubes.
pub static HEAT: Hazard = Hazard {
    name: "hot tubes",
    does: "Above 60 °C a touch burns, and a hot tube that cracks lets air into the gas.",
    mind: "Cool under inert gas before opening; keep alkyls and hydrogen off until the leak test is done.",
    limits: &[],
    source: "common practice",
};

/// Wires in the air when they are collected and when the line is opened.
pub static WIRES: Hazard = Hazard {
    name: "airborne wires",
    does: "Wires of III-V material are fine enough to be breathed; what they do in the lung is hardly known. Deposit holds arsenic or phosphorus, white phosphorus lights in air.",
    mind: "Collect closed, open wet or under extraction, and treat deposit as toxic and as able to burn. No workplace limit binds for such wires: 0.01 fibre/cm³ is a benchmark for rigid fibres that stay in the lung.",
    limits: &[],
    source: "PD 6699-2:2007 (memory), check X027; common practice",
};

static ARSINE: Hazard = Hazard {
    name: "arsine",
    does: "Destroys red blood cells at parts per million, without warning and with a delay of hours.",
    mind: "Gas cabinet, detector at the limit, scrubber: diluting a leak with air does not do.",
    limits: &ARSINE_LIMITS,
    source: "NIOSH, Documentation for IDLH concentrations, 1994",
};

static PHOSPHINE: Hazard = Hazard {
    name: "phosphine",
    does: "Harms lung and heart at parts per million and may light by itself in air.",
    mind: "Gas cabinet, detector at the limit, scrubber: diluting a leak with air does not do.",
    limits: &PHOSPHINE_LIMITS,
    source: "NIOSH, Documentation for IDLH concentrations, 1994; NIOSH Pocket Guide; check X044",
};

static TERTIARYBUTYLARSINE: Hazard = Hazard {
    name: "tertiarybutylarsine",
    does: "Toxic and lights easily; when heated it gives off arsine.",
    mind: "A liquid stays where it spills, but behind a tube treat its gas as arsine: the limits are those of arsine.",
    limits: &ARSINE_LIMITS,
    source: "common practice; no limit of its own in the check file",
};

static TERTIARYBUTYLPHOSPHINE: Hazard = Hazard {
    name: "tertiarybutylphosphine",
    does: "Toxic and lights by itself in air; when heated it gives off phosphine.",
    mind: "A liquid stays where it spills, but behind a tube treat its gas as phosphine: the limits are those of phosphine.",
    limits: &PHOSPHINE_LIMITS,
    source: "common practice; no limit of its own in the check file",
};

static ALKYL: Hazard = Hazard {
    name: "pyrophoric alkyl",
    does: "Lights by itself in air and reacts violently with water.",
    mind: "No water on a fire of it; close the bubbler's valves before anything else, and purge its lines both ways.",
    limits: &[],
    source: "GHS H250, H260; checks X041 to X043; common practice",
};

static TETRAETHYLTIN: Hazard = Hazard {
    name: "tetraethyltin",
    does: "Very toxic when breathed, swallowed or on the skin, with a delay; it burns.",
    mind: "Handle closed; gloves alone do not keep it out.",
    limits: &[],
    source: "common practice; no limit in the check file",
};

static SULFIDE: Hazard = Hazard {
    name: "hydrogen sulfide",
    does: "Stuns and kills at hundreds of parts per million; above some tens the nose no longer smells it. It burns.",
    mind: "Detector at the limit and scrubber; never trust the smell.",
    limits: &SULFIDE_LIMITS,
    source: "NFPA 497 (2008), IEC 60079-20-1 (2010); common practice",
};

static SILANE: Hazard = Hazard {
    name: "silane",
    does: "Lights by itself in air, or gathers and explodes.",
    mind: "Flow restrictor, gas cabinet, and a purge with inert gas before every opening.",
    limits: &SILANE_LIMITS,
    source: "common practice",
};

/// The hazard of a precursor by its name in the job.
#[must_use]
pub fn of(precursor: &str) -> Option<&'static Hazard> {
    match precursor {
        "AsH3" => Some(&ARSINE),
        "PH3" => Some(&PHOSPHINE),
        "TBAs" => Some(&TERTIARYBUTYLARSINE),
        "TBP" => Some(&TERTIARYBUTYLPHOSPHINE),
        "TMGa" | "TEGa" | "TMIn" | "DEZn" | "DMZn" => Some(&ALKYL),
        "TESn" => Some(&TETRAETHYLTIN),
        "H2S" => Some(&SULFIDE),
        "SiH4" => Some(&SILANE),
        _ => None,
    }
}

/// Every hazard of the table.
#[must_use]
pub fn all() -> [&'static Hazard; 12] {
    [
        &ARSINE,
        &PHOSPHINE,
        &TERTIARYBUTYLARSINE,
        &TERTIARYBUTYLPHOSPHINE,
        &ALKYL,
        &TETRAETHYLTIN,
        &SULFIDE,
        &SILANE,
        &HYDROGEN,
        &VOLTAGE,
        &HEAT,
        &WIRES,
    ]
}
