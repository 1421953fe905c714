//! Instruments and limits, order, collector, plant.

use super::bound::Bound;
use super::{Checker, table};
use crate::fault::{Quoted, Typed};
use crate::feed::table::Precursor;
use crate::job::{
    Batch, Collector, CollectorKind, Fractions, FullScale, Key, Kind, Limit, Order, Plant, Price, SeedMetal, Segment,
    SetPoint,
};

impl Checker<'_> {
    /// What stands in a job beside the line itself.
    pub(super) fn settings(&mut self) {
        let job = self.job;
        self.instruments();
        self.limits();
        if let Some(order) = &job.order {
            self.order(order);
        }
        if let Some(collector) = &job.collector {
            self.collector(collector);
        }
        if let Some(plant) = &job.plant {
            self.plant(plant);
        }
    }

    fn instruments(&mut self) {
        let given = &self.job.instruments;
        for (field, value) in [
            ("flow_percent_of_reading", given.flow_percent_of_reading),
            ("flow_percent_of_full_scale", given.flow_percent_of_full_scale),
            ("thermocouple_c", given.thermocouple_c),
            ("pressure_mbar", given.pressure_mbar),
            ("bath_c", given.bath_c),
            ("inlet_c", given.inlet_c),
            ("seed_count_percent", given.seed_count_percent),
            ("seed_diameter_percent", given.seed_diameter_percent),
            ("tube_diameter_mm", given.tube_diameter_mm),
        ] {
            self.optional(format_args!("instruments.{field}"), value, &table::AMOUNT);
        }
        match &given.full_scale_sccm {
            Some(FullScale::All(number)) => {
                self.number(format_args!("instruments.full_scale_sccm"), *number, &table::POSITIVE);
            }
            Some(FullScale::Each(paths)) => {
                for (path, number) in paths.iter() {
                    self.full_scale(path, *number);
                }
            }
            None => {}
        }
        for (precursor, percent) in given.vapour_pressure_percent.iter() {
            let name = precursor.name();
            let path = format_args!("instruments.vapour_pressure_percent.{name}");
            self.number(path, *percent, &table::AMOUNT);
            if precursor.vapour().is_none() {
                self.fault(path, "", "is of a gas, which has no bath", "a precursor that comes from a bubbler");
            }
        }
    }

    fn full_scale(&mut self, path: &str, number: f64) {
        let at = format_args!("instruments.full_scale_sccm.{path}");
        self.number(at, number, &table::POSITIVE);
        let point = SetPoint::from_path(path).filter(|point| point.kind() == Kind::Flow);
        if point.and_then(|point| point.value(self.job)).is_none() {
            self.fault(at, "", "is no flow of this job", "a path such as stages[0].carrier_sccm");
        }
    }

    fn limits(&mut self) {
        let job = self.job;
        for (key, limit) in job.limits.iter() {
            let mut good = self.optional(format_args!("limits.{key}.min"), limit.min, &table::NUMBER);
            good &= self.optional(format_args!("limits.{key}.max"), limit.max, &table::NUMBER);
            good &= self.optional(format_args!("limits.{key}.step"), limit.step, &table::POSITIVE);
            let kind = Kind::of(key);
            let point = SetPoint::from_path(key).filter(|point| point.value(job).is_some());
            if kind.is_none() && point.is_none() {
                let accepted = format_args!("{}, or the path of a set-point", Kind::ACCEPTED);
                self.fault(format_args!("limits.{key}"), "", "is no kind and no set-point of this job", accepted);
            } else if good {
                self.limit(key, limit, kind, point);
            }
        }
    }

    /// The least of a limit is not above its most, for whatever it stands for.
    fn limit(&mut self, key: &str, limit: &Limit, kind: Option<Kind>, point: Option<SetPoint>) {
        let job = self.job;
        let stands_for = |other: SetPoint| point == Some(other) || kind == Some(other.kind());
        let resolved =
            SetPoint::of(job).filter(|other| stands_for(*other)).filter_map(|other| job.default_range(other));
        // A kind without a set-point in this job still has the two numbers that were typed.
        let typed = limit.min.zip(limit.max);
        let pairs = resolved.map(|range| (limit.min.unwrap_or(range.min), limit.max.unwrap_or(range.max))).chain(typed);
        let crossed = pairs.into_iter().find(|(min, max)| min > max);
        if let Some((min, max)) = crossed {
            let path = format_args!("limits.{key}.min");
            self.fault(path, Typed(min), "is above the largest", format_args!("at most {}", Typed(max)));
        }
    }

    fn order(&mut self, order: &Order) {
        self.number(format_args!("order.diameter_nm"), order.diameter_nm, &table::DIAMETER);
        let diameter_tolerance = order.diameter_tolerance_nm;
        self.optional(format_args!("order.diameter_tolerance_nm"), diameter_tolerance, &table::AMOUNT);
        self.optional(format_args!("order.spread_cv"), order.spread_cv, &table::AMOUNT);
        self.optional(format_args!("order.wires"), order.wires, &table::POSITIVE);
        self.optional(format_args!("order.area_cm2"), order.area_cm2, &table::POSITIVE);
        self.optional(format_args!("order.pitch_nm"), order.pitch_nm, &table::POSITIVE);
        match (order.wires, order.area_cm2, order.pitch_nm) {
            (Some(_), Some(_), _) | (Some(_), _, Some(_)) => {
                self.fault(format_args!("order.wires"), "", "stands beside area_cm2 or pitch_nm", "one of the two");
            }
            (None, Some(_), None) => {
                self.missing(format_args!("order.pitch_nm"), format_args!("{} nm, beside area_cm2", table::POSITIVE));
            }
            (None, None, Some(_)) => {
                self.missing(format_args!("order.area_cm2"), format_args!("{} cm², beside pitch_nm", table::POSITIVE));
            }
            _ => {}
        }
        let (segments, stages) = (order.segments.len(), self.job.stages.len());
        if segments != stages {
            let reason = format_args!("has {segments} segments for {stages} stages");
            self.fault(format_args!("order.segments"), "", reason, "one entry a stage; null where nothing is counted");
        }
        for (index, segment) in order.segments.iter().enumerate() {
            let Some(Segment { length_nm, tolerance_nm, carriers_per_cm3, .. }) = segment else {
                continue;
            };
            let path = format_args!("order.segments[{index}]");
            self.number(format_args!("{path}.length_nm"), *length_nm, &table::ORDERED_LENGTH);
            self.number(format_args!("{path}.tolerance_nm"), *tolerance_nm, &table::ORDERED_LENGTH);
            self.number(format_args!("{path}.carriers_per_cm3"), *carriers_per_cm3, &table::CARRIERS);
        }
    }

    fn collector(&mut self, collector: &Collector) {
        let kind = collector.resolved_kind();
        let (plate, kept) = (kind == CollectorKind::Plate, kind != CollectorKind::Plate);
        let liquid = kind == CollectorKind::Liquid;
        let rows: [(&str, Option<f64>, &Bound, bool); 6] = [
            ("plate_area_cm2", collector.plate_area_cm2, &table::POSITIVE, plate),
            ("gap_mm", collector.gap_mm, &table::POSITIVE, plate),
            ("voltage_v", collector.voltage_v, &table::AMOUNT, plate),
            ("wire_charge", collector.wire_charge, &table::AMOUNT, plate),
            ("volume_ml", collector.volume_ml, &table::POSITIVE, liquid),
            ("efficiency", collector.efficiency, &table::SHARE, kept),
        ];
        for (field, value, bound, belongs) in rows {
            let path = format_args!("collector.{field}");
            match value {
                Some(value) => {
                    self.number(path, value, bound);
                    if !belongs {
                        let reason = format_args!("does not belong to a {}", kind.name());
                        self.fault(path, Typed(value), reason, "fields of the collector's kind");
                    }
                }
                None if belongs && plate => self.missing(path, format_args!("{bound}; a plate needs it")),
                None => {}
            }
        }
        self.optional(format_args!("collector.temperature_c"), collector.temperature_c, &table::TEMPERATURE);
    }

    fn plant(&mut self, plant: &Plant) {
        for (name, Price { per_g, per_l }) in plant.prices.iter() {
            let path = format_args!("plant.prices.{name}");
            self.optional(format_args!("{path}.per_g"), *per_g, &table::AMOUNT);
            self.optional(format_args!("{path}.per_l"), *per_l, &table::AMOUNT);
            if per_g.is_some() == per_l.is_some() {
                self.fault(path, "", "needs one price", "either per_g or per_l");
            }
            if !is_priced(name) {
                self.fault(path, Quoted(name), "is nothing that a line uses", "a precursor, a carrier gas, or Au");
            }
        }
        self.optional(format_args!("plant.cleaning_um"), plant.cleaning_um, &table::POSITIVE);
        if let Some(Batch { wafer_mm, wafers, pitch_nm, rate_nm_per_s, cycle_min }) = &plant.batch {
            for (field, value) in [
                ("wafer_mm", wafer_mm),
                ("wafers", wafers),
                ("pitch_nm", pitch_nm),
                ("rate_nm_per_s", rate_nm_per_s),
                ("cycle_min", cycle_min),
            ] {
                self.number(format_args!("plant.batch.{field}"), *value, &table::POSITIVE);
            }
        }
    }
}

/// Whether something that a line uses has this name.
fn is_priced(name: &str) -> bool {
    Precursor::from_name(name).is_some()
        || Fractions::default().named().iter().any(|(carrier, _)| *carrier == name)
        || SeedMetal::of(name).is_some()
}
