//! Stages and feeds.

use super::gas::{Added, Condensing, Gas, LARGEST_SHARE, condensing, entering, made};
use super::{Checker, table};
use crate::fault::{Quoted, Typed, cut};
use crate::feed::Stream;
use crate::feed::table::{Element, Precursor, Role};
use crate::furnace::{self, Wall};
use crate::job::{Bubbler, Feed, Point, Stage, Zone};
use crate::kinetics::is_dopant;
use crate::line::{DOPANTS, GROUP_V, PROFILE_POINTS, STAGES, ZONES};
use crate::material::{self, Material};
use crate::units::{MBAR, SCCM, celsius, kelvin};
use core::fmt;
use heapless::{String, Vec};

/// mm in m.
const MM: f64 = 1e-3;
/// Places at which a wall with zones is held against the range of wall temperatures.
const SAMPLES: u16 = 200;
/// Room for rounding there, K.
const WALL_ROUNDING: f64 = 1e-6;
/// Least rise of a measured profile from point to point, mm: slopes must stay finite.
const LEAST_RISE: f64 = 1e-3;

impl Checker<'_> {
    /// The stages, and the gas that each adds; `None` where something is wrong with it.
    pub(super) fn stages(&mut self) -> Option<Gas> {
        let job = self.job;
        if job.stages.is_empty() {
            self.fault(format_args!("stages"), "", "is empty", format_args!("1 to {STAGES} stages"));
        }
        let mut stages = Vec::new();
        for (index, stage) in job.stages.iter().enumerate() {
            let before = self.faults.iter().count();
            self.stage(index, stage);
            let good = self.feeds(index, stage) && table::FLOW.holds(stage.carrier());
            let added = if good { Added::of(stage) } else { None };
            self.lines(index, stage, added.as_ref());
            // A stage without fault adds gas that is known; there is room for every stage.
            if let (Some(added), true) = (added, self.faults.iter().count() == before) {
                let _ = stages.push(added);
            }
        }
        self.precursors();
        if stages.len() < job.stages.len() || stages.is_empty() {
            return None;
        }
        self.shares(&stages);
        Some(Gas { stages })
    }

    /// Numbers of a stage, and its wall.
    fn stage(&mut self, index: usize, stage: &Stage) {
        self.number(format_args!("stages[{index}].tube_diameter_mm"), stage.tube_diameter_mm, &table::TUBE_DIAMETER);
        let mut good = self.number(format_args!("stages[{index}].inlet_c"), stage.inlet_c, &table::TEMPERATURE);
        if let Some(zones) = &stage.zones {
            good &= self.zones(index, zones);
        }
        if let Some(profile) = &stage.profile {
            self.profile(index, profile);
        }
        good &= self.optional(format_args!("stages[{index}].blend_mm"), stage.blend_mm, &table::BLEND);
        good &= self.optional(format_args!("stages[{index}].flange_c"), stage.flange_c, &table::TEMPERATURE);
        match (&stage.zones, &stage.profile) {
            (Some(_), None) if good => self.blended_wall(index, stage),
            (Some(_), None) => {}
            (None, Some(_)) => self.nothing_beside_a_profile(index, stage),
            (Some(_), Some(_)) => {
                self.fault(format_args!("stages[{index}].profile"), "", "stands beside zones", "one of the two");
            }
            (None, None) => {
                self.missing(format_args!("stages[{index}].zones"), format_args!("1 to {ZONES} zones, or a profile"));
            }
        }
        self.optional(format_args!("stages[{index}].carrier_sccm"), stage.carrier_sccm, &table::FLOW);
    }

    fn nothing_beside_a_profile(&mut self, index: usize, stage: &Stage) {
        for (field, value) in [("blend_mm", stage.blend_mm), ("flange_c", stage.flange_c)] {
            if let Some(value) = value {
                let path = format_args!("stages[{index}].{field}");
                self.fault(path, Typed(value), "stands beside a measured profile", "zones, or no such field");
            }
        }
    }

    fn zones(&mut self, index: usize, zones: &[Zone]) -> bool {
        let mut good = !zones.is_empty();
        if zones.is_empty() {
            self.fault(format_args!("stages[{index}].zones"), "", "is empty", format_args!("1 to {ZONES} zones"));
        }
        for (zone, Zone { length_mm, wall_c }) in zones.iter().enumerate() {
            let path = format_args!("stages[{index}].zones[{zone}]");
            good &= self.number(format_args!("{path}.length_mm"), *length_mm, &table::ZONE_LENGTH);
            good &= self.number(format_args!("{path}.wall_c"), *wall_c, &table::TEMPERATURE);
        }
        good
    }

    /// A wall whose zones blend stays inside the range of wall temperatures. It leaves it only where a zone at an end is
    /// shorter than half a blend, so that the blends beyond it cross.
    fn blended_wall(&mut self, index: usize, stage: &Stage) {
        let Some(wall) = wall(stage) else {
            return;
        };
        let step = wall.length() / f64::from(SAMPLES);
        let (least, most) = (kelvin(table::TEMPERATURE.from), kelvin(table::TEMPERATURE.to));
        for sample in 0..=SAMPLES {
            let place = step * f64::from(sample);
            let temperature = wall.temperature(place);
            if temperature < least - WALL_ROUNDING || temperature > most + WALL_ROUNDING {
                let at = place / MM;
                self.fault(
                    format_args!("stages[{index}].blend_mm"),
                    Typed(stage.blend()),
                    format_args!(
                        "brings the wall to {} °C at z = {} mm",
                        Typed::near(celsius(temperature), 0),
                        Typed::near(at, 0)
                    ),
                    "a blend of at most twice the first and the last zone",
                );
                return;
            }
        }
    }

    fn profile(&mut self, index: usize, points: &[Point]) {
        if points.len() < 2 {
            let accepted = format_args!("2 to {PROFILE_POINTS} points");
            self.fault(format_args!("stages[{index}].profile"), "", "has too few points", accepted);
        }
        let mut before: Option<f64> = None;
        for (number, Point { z_mm, wall_c }) in points.iter().enumerate() {
            let path = format_args!("stages[{index}].profile[{number}]");
            self.number(format_args!("{path}.wall_c"), *wall_c, &table::TEMPERATURE);
            let place = format_args!("{path}.z_mm");
            let last = number > 0 && number + 1 == points.len();
            let bound = if last { &table::PROFILE_LENGTH } else { &table::AMOUNT };
            if !self.number(place, *z_mm, bound) {
                continue;
            }
            match before {
                None if number == 0 && *z_mm > 0.0 => {
                    self.fault(place, Typed(*z_mm), "is not the inlet", "0 in the first point");
                }
                Some(before) if *z_mm < before + LEAST_RISE => {
                    self.fault(place, Typed(*z_mm), "does not rise", format_args!("above {} mm", Typed(before)));
                }
                _ => {}
            }
            before = Some(*z_mm);
        }
    }

    /// Feeds of a stage.
    ///
    /// Returns whether what each brings can be resolved.
    fn feeds(&mut self, index: usize, stage: &Stage) -> bool {
        if index == 0 && stage.feeds.is_empty() {
            self.fault(format_args!("stages[0].feeds"), "", "is empty", "at least one feed in the first stage");
        }
        let mut good = true;
        for (number, feed) in stage.feeds.iter().enumerate() {
            let path: String<32> = cut(format_args!("stages[{index}].feeds[{number}]"));
            good &= self.feed(&path, feed);
        }
        good
    }

    /// One feed: where it comes from, and what of it is injected.
    fn feed(&mut self, path: &str, feed: &Feed) -> bool {
        let flow = self.optional(format_args!("{path}.flow_sccm"), feed.flow_sccm, &table::FLOW);
        let share = self.optional(format_args!("{path}.share"), feed.share, &table::SHARE);
        let bath = feed.bubbler.as_ref().is_none_or(|bubbler| self.bubbler(path, feed, bubbler));
        let source = flow && share && bath && self.source(path, feed);
        let push = self.optional(format_args!("{path}.push_sccm"), feed.push_sccm, &table::FLOW);
        let inject = self.optional(format_args!("{path}.inject_sccm"), feed.inject_sccm, &table::FLOW);
        match (feed.push_sccm, feed.inject_sccm) {
            (Some(_), None) => {
                self.missing(format_args!("{path}.inject_sccm"), "push_sccm and inject_sccm, or neither");
                return false;
            }
            (None, Some(_)) => {
                self.missing(format_args!("{path}.push_sccm"), "push_sccm and inject_sccm, or neither");
                return false;
            }
            _ => {}
        }
        source && push && inject && self.injected(path, feed)
    }

    /// A bubbler, or a cylinder with what it holds.
    fn source(&mut self, path: &str, feed: &Feed) -> bool {
        match (&feed.bubbler, feed.flow_sccm, feed.share) {
            (Some(_), None, None) | (None, Some(_), Some(_)) => return true,
            (Some(_), ..) => {
                self.fault(
                    format_args!("{path}.bubbler"),
                    "",
                    "stands beside a cylinder's flow_sccm or share",
                    "one of the two",
                );
            }
            (None, Some(_), None) => {
                self.missing(format_args!("{path}.share"), format_args!("{}, beside flow_sccm", table::SHARE));
            }
            (None, None, Some(_)) => {
                self.missing(format_args!("{path}.flow_sccm"), format_args!("{}, beside share", table::FLOW));
            }
            (None, None, None) => {
                self.missing(format_args!("{path}.bubbler"), "a bubbler, or flow_sccm with share");
            }
        }
        false
    }

    /// A bath, and that it does not boil.
    fn bubbler(&mut self, path: &str, feed: &Feed, bubbler: &Bubbler) -> bool {
        let path: String<40> = cut(format_args!("{path}.bubbler"));
        let mut good = self.number(format_args!("{path}.bath_c"), bubbler.bath_c, &table::BATH);
        good &= self.number(format_args!("{path}.bath_mbar"), bubbler.bath_mbar, &table::PRESSURE);
        good &= self.number(format_args!("{path}.carrier_sccm"), bubbler.carrier_sccm, &table::FLOW);
        good &= self.optional(format_args!("{path}.charge_g"), bubbler.charge_g, &table::AMOUNT);
        good &= self.optional(format_args!("{path}.line_c"), bubbler.line_c, &table::LINE);
        let name = feed.precursor.name();
        let Some(pair) = feed.precursor.vapour() else {
            self.fault(format_args!("{path}"), "", format_args!("cannot hold {name}, a gas"), "flow_sccm with share");
            return false;
        };
        if !good {
            return false;
        }
        let vapour = pair.pressure(kelvin(bubbler.bath_c)) / MBAR;
        let Some(made) = Stream::bubbler(bubbler.carrier_sccm, vapour, bubbler.bath_mbar) else {
            self.fault(
                format_args!("{path}.bath_mbar"),
                Typed(bubbler.bath_mbar),
                format_args!("is not above the {} mbar that {name} has in this bath", Typed::near(vapour, 1)),
                "a higher pressure, or a colder bath",
            );
            return false;
        };
        let picked = table::FLOW.holds(made.precursor);
        if !picked {
            self.fault(
                format_args!("{path}.bath_c"),
                Typed(bubbler.bath_c),
                format_args!("makes {} sccm of vapour", Typed::near(made.precursor, 0)),
                format_args!("a bath that makes {}", table::FLOW),
            );
        }
        picked
    }

    /// No more is injected than there is.
    fn injected(&mut self, path: &str, feed: &Feed) -> bool {
        let (Some(made), Some(inject)) = (made(feed), feed.inject_sccm) else {
            return true;
        };
        let good = entering(feed, &made).is_some();
        if !good {
            let available = made.total() / SCCM + feed.push_sccm.unwrap_or(0.0);
            self.fault(
                format_args!("{path}.inject_sccm"),
                Typed(inject),
                "is more than there is",
                format_args!("0 to {} sccm, what the source and push_sccm bring", Typed::near(available, 3)),
            );
        }
        good
    }

    /// Lines behind the baths of a stage.
    fn lines(&mut self, index: usize, stage: &Stage, added: Option<&Added>) {
        for (number, feed) in stage.feeds.iter().enumerate() {
            let Some(bubbler) = &feed.bubbler else {
                continue;
            };
            let good = table::BATH.holds(bubbler.bath_c)
                && table::PRESSURE.holds(bubbler.bath_mbar)
                && table::FLOW.holds(bubbler.carrier_sccm)
                && bubbler.line_c.is_none_or(|line| table::LINE.holds(line))
                && feed.push_sccm.is_none_or(|push| table::FLOW.holds(push));
            if good && condensing(self.job, feed, bubbler, added.map(Added::total)) == Condensing::Yes {
                let line = bubbler.line_c.unwrap_or(crate::job::default::LINE_C);
                self.fault(
                    format_args!("stages[{index}].feeds[{number}].bubbler.line_c"),
                    Typed(line),
                    format_args!("lets {} from a bath at {} °C condense", feed.precursor.name(), Typed(bubbler.bath_c)),
                    "a warmer line, a colder bath, or push_sccm",
                );
            }
        }
    }

    /// What is fed, over all stages: the elements of the material, one of group III, and no more of each than is followed.
    fn precursors(&mut self) {
        let job = self.job;
        let mut first: Option<Precursor> = None;
        let mut group_v: Vec<Precursor, GROUP_V> = Vec::new();
        let mut dopants: Vec<Precursor, DOPANTS> = Vec::new();
        for (index, stage) in job.stages.iter().enumerate() {
            for (number, feed) in stage.feeds.iter().enumerate() {
                let path = format_args!("stages[{index}].feeds[{number}].precursor");
                let precursor = feed.precursor;
                let name = precursor.name();
                let accepted = format_args!("{}", Fits(job.material));
                if !fits(precursor, job.material) {
                    let reason = format_args!("brings no element of {}", job.material.name());
                    self.fault(path, Quoted(name), reason, accepted);
                    continue;
                }
                match precursor.role() {
                    Role::GroupIII(_) => {
                        let same = *first.get_or_insert(precursor);
                        if same != precursor {
                            self.fault(path, Quoted(name), "is a second group III precursor", same.name());
                        }
                    }
                    Role::GroupV(_) => {
                        if !known(&mut group_v, precursor) {
                            let accepted = format_args!("at most {GROUP_V}");
                            self.fault(path, Quoted(name), "is one group V precursor too many", accepted);
                        }
                    }
                    Role::Acceptor | Role::Donor => {
                        if !known(&mut dopants, precursor) {
                            let accepted = format_args!("at most {DOPANTS} dopants");
                            self.fault(path, Quoted(name), "is one dopant too many", accepted);
                        }
                    }
                }
            }
        }
        if first.is_none() && job.stages.iter().any(|stage| !stage.feeds.is_empty()) {
            let accepted = format_args!("one group III precursor: {}", GroupIii(job.material));
            self.fault(format_args!("stages[0].feeds"), "", "brings nothing of group III", accepted);
        }
    }

    /// The aerosol's share of each stage's flow.
    fn shares(&mut self, stages: &[Added]) {
        let job = self.job;
        if !table::AEROSOL_FLOW.holds(job.aerosol_sccm) {
            return;
        }
        let mut flow = job.aerosol_sccm;
        for (index, (added, stage)) in stages.iter().zip(&job.stages).enumerate() {
            flow += added.total() / SCCM;
            let share = job.aerosol_sccm / flow;
            if share > LARGEST_SHARE {
                let lacking = job.aerosol_sccm / LARGEST_SHARE - flow;
                self.fault(
                    format_args!("stages[{index}].carrier_sccm"),
                    Typed(stage.carrier()),
                    format_args!(
                        "leaves the aerosol {} of the stage's flow, above {}",
                        Typed::near(share, 3),
                        Typed(LARGEST_SHARE)
                    ),
                    format_args!("{} sccm or more, or less aerosol_sccm", Typed::near(stage.carrier() + lacking, 1)),
                );
            }
        }
    }
}

/// Wall of a stage; `None` where it has neither zones nor a profile.
pub(super) fn wall(stage: &Stage) -> Option<Wall> {
    if let Some(given) = &stage.zones {
        let mut zones = Vec::new();
        for zone in given {
            zones.push(furnace::Zone { length: MM * zone.length_mm, temperature: kelvin(zone.wall_c) }).ok()?;
        }
        return Some(Wall::zones(zones, MM * stage.blend(), kelvin(stage.flange())));
    }
    let mut points: Vec<furnace::Point, PROFILE_POINTS> = Vec::new();
    for point in stage.profile.as_ref()? {
        points.push(furnace::Point { position: MM * point.z_mm, temperature: kelvin(point.wall_c) }).ok()?;
    }
    Some(Wall::measured(&points))
}

/// Whether a precursor is in the list or finds room in it.
fn known<const N: usize>(list: &mut Vec<Precursor, N>, precursor: Precursor) -> bool {
    list.contains(&precursor) || list.push(precursor).is_ok()
}

/// Whether a precursor brings an element of a material, or dopes.
fn fits(precursor: Precursor, material: Material) -> bool {
    match precursor.role() {
        Role::GroupIII(Element::Gallium) => material.group_iii() == material::Element::Ga,
        Role::GroupIII(Element::Indium) => material.group_iii() == material::Element::In,
        Role::GroupV(Element::Arsenic) => material.group_v() == material::Element::As,
        Role::GroupV(Element::Phosphorus) => material.group_v() == material::Element::P,
        Role::GroupIII(_) | Role::GroupV(_) => false,
        Role::Acceptor | Role::Donor => true,
    }
}

/// Precursors that fit a material.
struct Fits(Material);

impl fmt::Display for Fits {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let listed = |precursor: &Precursor| fits(*precursor, self.0) && !is_dopant(*precursor);
        Precursor::ALL
            .iter()
            .filter(|precursor| listed(precursor))
            .try_for_each(|precursor| write!(f, "{}, ", precursor.name()))?;
        f.write_str("or a dopant")
    }
}

/// Group III precursors that fit a material.
struct GroupIii(Material);

impl fmt::Display for GroupIii {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut between = "";
        for precursor in Precursor::ALL {
            if matches!(precursor.role(), Role::GroupIII(_)) && fits(precursor, self.0) {
                write!(f, "{between}{}", precursor.name())?;
                between = ", ";
            }
        }
        Ok(())
    }
}
