//! The band of a joint under a shop's own rows and the trade's bands, and every band that is possible where something
//! is not known. Compares no hole with a band.

use super::thickness::{Between, thickness_words};
use super::{Limit, Origin, Practice};
use crate::trade::{
    Band, Material, Process, Status, Thread, Unsuitable, band_at, schedule_borders, too_hard,
};
use crate::units::{Length, Unit};

/// The slack on thickness over diameter at a border, so that 1.6 mm over M4 is 0.4 in every unit.
const BORDER: f64 = 1e-9;

/// A band that a shop sets. It holds for the joints that all its conditions fit; a condition that is none fits all.
#[derive(Debug, Clone, PartialEq)]
pub struct BandRow {
    /// Material.
    pub material: Option<Material>,
    /// Thread; major diameter and pitch are compared, not the name.
    pub thread: Option<Thread>,
    /// How the hole is made.
    pub process: Option<Process>,
    /// Thickness over diameter is more than this.
    pub over: Option<f64>,
    /// Thickness over diameter is no more than this.
    pub to: Option<f64>,
    /// Least engagement (percent, rolled).
    pub min: f64,
    /// Engagement to aim at (percent, rolled).
    pub target: f64,
    /// Greatest engagement (percent, rolled).
    pub max: f64,
    /// The place that it was read from.
    pub origin: Origin,
}

/// A band that is possible, and what would make it hold.
#[derive(Debug, Clone, PartialEq)]
pub struct Possible {
    /// The material it holds for.
    pub material: Material,
    /// The thicknesses it holds for; none if for all.
    pub thickness: Option<Between>,
    /// The process it holds for; none for all, or for all that have no band of their own.
    pub process: Option<Process>,
    /// The band.
    pub band: Band,
}

/// What is answered when a band is asked for.
#[derive(Debug, Clone, PartialEq)]
pub enum BandAnswer {
    /// One band holds for all that is known.
    One(Band),
    /// It depends on what is not known: every band that is possible.
    Depends {
        /// The possible bands. With the material unknown a material that takes no thread (grey iron) is
        /// possible too and stands in no band.
        bands: Vec<Possible>,
        /// What is missing: `material`, `thickness`, `process`.
        missing: Vec<&'static str>,
    },
    /// A thread cannot be formed in this material.
    Unsuitable(Unsuitable),
}

/// What is known of a joint. Anything but the thread may be unknown.
#[derive(Debug, Clone, PartialEq)]
pub struct Known<'a> {
    /// Thread of the screw.
    pub thread: &'a Thread,
    /// Material.
    pub material: Option<Material>,
    /// Length of metal in which the thread is formed.
    pub thickness: Option<Length>,
    /// How the hole is made.
    pub process: Option<Process>,
    /// Brinell hardness of the metal.
    pub hardness_hb: Option<f64>,
}

/// One way that what is not known may turn out, as coarse as the bands tell it apart.
#[derive(Debug, Clone, PartialEq)]
pub struct World {
    /// The material.
    pub material: Material,
    /// The thicknesses, over the first up to and including the second; none if the thickness is known or no band
    /// depends on it.
    pub thickness: Option<Between>,
    /// The process; none for every one that no row names.
    pub process: Option<Process>,
    /// The band, or why no thread can be formed.
    pub outcome: Result<Band, Unsuitable>,
}

impl BandRow {
    /// Whether everything but the thickness fits.
    fn fits(&self, thread: &Thread, material: Material, process: Option<Process>) -> bool {
        let same = |a: &Thread, b: &Thread| {
            (a.major - b.major).abs().mm() < 1e-3 && (a.pitch - b.pitch).abs().mm() < 1e-3
        };
        self.thread.as_ref().is_none_or(|own| same(own, thread))
            && self.material.is_none_or(|own| own == material)
            && self.process.is_none_or(|own| process == Some(own))
    }

    /// Whether a thickness over diameter lies in the row.
    fn holds(&self, ratio: f64) -> bool {
        self.over.is_none_or(|over| ratio > over + BORDER) && self.to.is_none_or(|to| ratio <= to + BORDER)
    }

    /// The row as a band.
    fn band(&self) -> Band {
        Band {
            min: self.min,
            target: self.target,
            max: self.max,
            source: self.origin.words().into(),
            status: Status::User,
            note: None,
        }
    }
}

impl Possible {
    /// What would make it hold, for people, lengths in `unit`: `low-carbon-steel, 0.8 to 1.6 mm thick`.
    pub fn label(&self, unit: Unit) -> String {
        let mut parts = vec![self.material.name().to_owned()];
        parts.extend(self.thickness_label(unit));
        parts.extend(self.process.map(|p| p.name().to_owned()));
        parts.join(", ")
    }

    /// The thickness part of [`Possible::label`]; none if the band holds for every thickness.
    pub fn thickness_label(&self, unit: Unit) -> Option<String> {
        self.thickness
            .and_then(|between| thickness_words(between, unit))
            .map(|words| format!("{words} thick"))
    }
}

impl World {
    /// Whether its thickness ends where that of the other starts, all else being the same.
    fn joins(&self, next: &World) -> bool {
        self.material == next.material
            && self.process == next.process
            && self.thickness.zip(next.thickness).is_some_and(|(a, b)| a.1.is_some() && a.1 == b.0)
    }
}

/// What holds for what is known, however the rest turns out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Standing<'w> {
    /// One band.
    One(&'w Band),
    /// No thread can be formed.
    Unsuitable(&'w Unsuitable),
    /// It depends on what is not known.
    Depends,
}

impl<'w> Standing<'w> {
    /// What holds in every one of these worlds, which a practice tells for what is known.
    pub fn of(known: &Known<'_>, worlds: &'w [World]) -> Standing<'w> {
        if known.material.is_none() {
            return Standing::Depends;
        }
        let mut with_band = worlds.iter().filter_map(|world| Some((world, world.outcome.as_ref().ok()?)));
        let Some((mut last, band)) = with_band.next() else {
            let why = worlds.first().and_then(|world| world.outcome.as_ref().err());
            return why.map_or(Standing::Depends, Standing::Unsuitable);
        };
        for (world, other) in with_band {
            if !last.joins(world) || other != band {
                return Standing::Depends;
            }
            last = world;
        }
        Standing::One(band)
    }
}

impl BandAnswer {
    /// The answer where what is not known may turn out in these ways, which a practice tells for what is known.
    pub fn of(known: &Known<'_>, worlds: &[World]) -> BandAnswer {
        match Standing::of(known, worlds) {
            Standing::One(band) => BandAnswer::One(band.clone()),
            Standing::Unsuitable(why) => BandAnswer::Unsuitable(why.clone()),
            Standing::Depends => {
                BandAnswer::Depends { bands: merged(worlds), missing: missing(known, worlds) }
            }
        }
    }
}

/// What is not known and makes a difference: `material`, `thickness`, `process`.
pub fn missing(known: &Known<'_>, worlds: &[World]) -> Vec<&'static str> {
    let unknown = [
        ("material", known.material.is_none()),
        ("thickness", known.thickness.is_none() && worlds.iter().any(|w| w.thickness.is_some())),
        ("process", known.process.is_none() && worlds.iter().any(|w| w.process.is_some())),
    ];
    unknown.into_iter().filter(|u| u.1).map(|u| u.0).collect()
}

impl Practice {
    /// The band for what is known, every possible one, or why there is none: the first of the shop's rows that fits,
    /// else the trade's. A row that names a thickness or a process fits no less because that is not known, so both
    /// what it says and what would hold without it are possible.
    pub fn band_for(&self, known: &Known<'_>) -> BandAnswer {
        BandAnswer::of(known, &self.worlds(known))
    }

    /// Every way that what is not known may turn out, by material, process and rising thickness.
    pub fn worlds(&self, known: &Known<'_>) -> Vec<World> {
        let materials = known.material.as_ref().map_or(&Material::ALL[..], std::slice::from_ref);
        let mut worlds = Vec::new();
        for &material in materials {
            for process in self.processes(known, material) {
                self.add_worlds(known, material, process, &mut worlds);
            }
        }
        worlds
    }

    /// The processes to be told apart: the known one, else each that a row names and one for all others.
    fn processes(&self, known: &Known<'_>, material: Material) -> Vec<Option<Process>> {
        if known.process.is_some() {
            return vec![known.process];
        }
        let named = |p: &Process| {
            self.bands.iter().any(|r| r.process == Some(*p) && r.fits(known.thread, material, Some(*p)))
        };
        let named = Process::ALL.into_iter().filter(named).map(Some);
        std::iter::once(None).chain(named).collect()
    }

    fn add_worlds(
        &self,
        known: &Known<'_>,
        material: Material,
        process: Option<Process>,
        worlds: &mut Vec<World>,
    ) {
        let hard = known.hardness_hb.and_then(|hb| self.too_hard(material, hb));
        let mut add = |thickness, outcome| worlds.push(World { material, thickness, process, outcome });
        if let Some(why) = hard {
            return add(None, Err(why));
        }
        let noted = known.process;
        if let Some(thickness) = known.thickness {
            return add(None, self.outcome(known.thread, material, process, noted, thickness, true));
        }
        let borders = self.borders(known.thread, material, process);
        let open = borders.is_empty();
        let major = known.thread.major;
        for (index, end) in borders.iter().map(|b| Some(*b)).chain([None]).enumerate() {
            let start = index.checked_sub(1).and_then(|i| borders.get(i).copied());
            // A border belongs to the row that it ends.
            let inside = end.unwrap_or_else(|| start.unwrap_or(0.5) * 1.5);
            let outcome = self.outcome(known.thread, material, process, noted, major * inside, false);
            add((!open).then(|| (start.map(|s| major * s), end.map(|e| major * e))), outcome);
        }
    }

    /// Thicknesses over diameter at which the band of a material may change, rising.
    fn borders(&self, thread: &Thread, material: Material, process: Option<Process>) -> Vec<f64> {
        let rows = self.bands.iter().filter(|r| r.fits(thread, material, process));
        let mut borders: Vec<f64> =
            rows.flat_map(|r| [r.over, r.to]).flatten().filter(|b| *b > 0.0).collect();
        if material == Material::LowCarbonSteel {
            borders.extend(schedule_borders());
        }
        borders.sort_by(f64::total_cmp);
        borders.dedup_by(|a, b| (*a - *b).abs() <= BORDER);
        borders
    }

    /// The band in one world, or why there is none. `noted` is the process that the trade's band speaks of.
    fn outcome(
        &self,
        thread: &Thread,
        material: Material,
        process: Option<Process>,
        noted: Option<Process>,
        thickness: Length,
        known: bool,
    ) -> Result<Band, Unsuitable> {
        let ratio = thickness / thread.major;
        // Where the thickness stands for many, what the trade notes of one outside its schedule says nothing.
        let borders = schedule_borders();
        let inside = match (borders.get(1), borders.last()) {
            (Some(least), Some(most)) if !known => thread.major * ratio.clamp(*least, *most),
            _ => thickness,
        };
        let trade = band_at(thread, material, inside, noted)?;
        let own = self.bands.iter().find(|r| r.fits(thread, material, process) && r.holds(ratio));
        Ok(own.map_or(trade, BandRow::band))
    }

    /// Why a metal of that hardness takes no rolled thread under this practice; none if it does, or if no limit is
    /// known for it.
    pub fn too_hard(&self, material: Material, hardness_hb: f64) -> Option<Unsuitable> {
        let Origin::File { .. } = self.limits.origin(Limit::SteelHardness) else {
            return too_hard(material, hardness_hb);
        };
        // What the trade has a limit for at any hardness is steel.
        too_hard(material, f64::INFINITY)?;
        let limit = self.limits.value(Limit::SteelHardness);
        (hardness_hb > limit).then(|| Unsuitable {
            reason: format!("steel above {limit} HB is too hard"),
            source: self.limits.origin(Limit::SteelHardness).words(),
            status: Status::User,
        })
    }
}

/// The bands of the worlds that have one; thicknesses that meet and have the same band are one.
fn merged(worlds: &[World]) -> Vec<Possible> {
    let mut bands: Vec<Possible> = Vec::new();
    let mut before: Option<&World> = None;
    for world in worlds {
        let Ok(band) = &world.outcome else { continue };
        let &World { material, thickness, process, .. } = world;
        match bands.last_mut() {
            Some(last) if last.band == *band && before.is_some_and(|before| before.joins(world)) => {
                last.thickness = last.thickness.zip(thickness).map(|(a, b)| (a.0, b.1));
            }
            _ => bands.push(Possible { material, thickness, process, band: band.clone() }),
        }
        before = Some(world);
    }
    for band in &mut bands {
        // Every thickness is no condition.
        band.thickness = band.thickness.filter(|t| *t != (None, None));
    }
    bands
}

#[cfg(test)]
mod tests {
    use super::*;

    fn m4() -> Thread {
        Thread::parse("M4").expect("M4")
    }

    fn known(thread: &Thread) -> Known<'_> {
        Known { thread, material: None, thickness: None, process: None, hardness_hb: None }
    }

    fn row(min: f64, max: f64) -> BandRow {
        let target = f64::midpoint(min, max);
        let origin = Origin::File { file: "boreband.json".to_owned(), pointer: "/bands/0".to_owned() };
        BandRow {
            material: None,
            thread: None,
            process: None,
            over: None,
            to: None,
            min,
            target,
            max,
            origin,
        }
    }

    fn with(rows: Vec<BandRow>) -> Practice {
        Practice { bands: rows, ..Practice::default() }
    }

    #[test]
    fn unknowns_widen_the_answer() {
        // The schedule has 6 rows and 8 materials have one band each (counted in the tables).
        let (thread, trade) = (m4(), Practice::default());
        let steel = Known { material: Some(Material::LowCarbonSteel), ..known(&thread) };
        let BandAnswer::Depends { bands, missing } = trade.band_for(&steel) else { panic!() };
        assert_eq!((bands.len(), missing), (6, vec!["thickness"]));
        assert_eq!(bands[1].label(Unit::Mm), "low-carbon-steel, 1.6 to 2.4 mm thick");
        assert_eq!(bands[0].label(Unit::Mm), "low-carbon-steel, up to 1.6 mm thick");
        assert_eq!(bands[5].label(Unit::Mm), "low-carbon-steel, over 5.6 mm thick");
        assert!(bands.iter().all(|b| b.band.note.is_none()), "{bands:?}");
        let thin = Known { thickness: Some(Length::mm_const(1.5)), ..known(&thread) };
        let BandAnswer::Depends { bands, missing } = trade.band_for(&thin) else { panic!() };
        assert_eq!((bands.len(), missing), (9, vec!["material"]));
        let BandAnswer::Depends { bands, missing } = trade.band_for(&known(&thread)) else { panic!() };
        assert_eq!((bands.len(), missing), (14, vec!["material", "thickness"]));
    }

    #[test]
    fn grey_iron_takes_no_thread_and_stainless_needs_no_thickness() {
        let (thread, trade) = (m4(), Practice::default());
        let of = |material| trade.band_for(&Known { material: Some(material), ..known(&thread) });
        assert!(
            matches!(of(Material::GreyIron), BandAnswer::Unsuitable(why) if why.reason.contains("brittle"))
        );
        assert!(matches!(of(Material::StainlessSteel), BandAnswer::One(band) if band.max == 75.0));
    }

    #[test]
    fn the_first_row_that_fits_stands_over_the_trade() {
        let thread = m4();
        let mut thin = row(60.0, 70.0);
        (thin.material, thin.to) = (Some(Material::LowCarbonSteel), Some(0.3));
        let practice = with(vec![thin, row(50.0, 60.0)]);
        let at = |material, mm| {
            let thickness = Some(Length::mm_const(mm));
            practice.band_for(&Known { material: Some(material), thickness, ..known(&thread) })
        };
        // M4: 1.2 mm is t/D 0.3, which the first row still holds for.
        for (mm, min) in [(1.2, 60.0), (1.21, 50.0)] {
            let BandAnswer::One(band) = at(Material::LowCarbonSteel, mm) else { panic!() };
            assert_eq!((band.min, band.status), (min, Status::User));
            assert_eq!(band.source, "policy boreband.json");
        }
        // No row makes a brittle metal flow.
        assert!(matches!(at(Material::GreyIron, 1.0), BandAnswer::Unsuitable(_)));
    }

    #[test]
    fn a_row_for_another_thread_does_not_count() {
        let thread = m4();
        let mut other = row(60.0, 70.0);
        other.thread = Thread::parse("M5").ok();
        let of = |practice: &Practice| {
            practice.band_for(&Known { material: Some(Material::Brass), ..known(&thread) })
        };
        assert_eq!(of(&with(vec![other.clone()])), of(&Practice::default()));
        other.thread = Thread::parse("M4x0.7").ok();
        assert!(matches!(of(&with(vec![other])), BandAnswer::One(band) if band.min == 60.0));
    }

    #[test]
    fn an_unknown_process_widens_where_a_row_names_one() {
        let thread = m4();
        let mut punched = row(60.0, 70.0);
        punched.process = Some(Process::Punched);
        let practice = with(vec![punched]);
        let brass = Known { material: Some(Material::Brass), ..known(&thread) };
        let BandAnswer::Depends { bands, missing } = practice.band_for(&brass) else { panic!() };
        let seen: Vec<_> = bands.iter().map(|b| (b.process, b.band.min)).collect();
        // Brass is 65 to 90 % by the trade (common practice).
        assert_eq!((seen, missing), (vec![(None, 65.0), (Some(Process::Punched), 60.0)], vec!["process"]));
        let drilled = Known { process: Some(Process::Drilled), ..brass };
        assert!(matches!(practice.band_for(&drilled), BandAnswer::One(band) if band.min == 65.0));
    }

    #[test]
    fn a_limit_of_hardness_can_be_set() {
        let mut practice = Practice::default();
        assert!(practice.too_hard(Material::StructuralSteel, 191.0).is_some()); // 190 HB, from memory
        assert_eq!(crate::practice::Limit::SteelHardness.row().value, 190.0);
        assert!(practice.too_hard(Material::StructuralSteel, 190.0).is_none());
        let origin = Origin::File { file: "boreband.json".to_owned(), pointer: String::new() };
        practice.limits.set(Limit::SteelHardness, 250.0, origin);
        assert!(practice.too_hard(Material::StructuralSteel, 240.0).is_none());
        assert!(
            practice
                .too_hard(Material::StainlessSteel, 251.0)
                .is_some_and(|w| w.source == "policy boreband.json")
        );
        assert!(practice.too_hard(Material::Brass, 900.0).is_none());
    }
}
