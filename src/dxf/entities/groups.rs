//! The groups of one entity as numbers, texts and what all entities have in common. Only what an entity wants is
//! parsed; what it wants must be sound.

use super::{Opened, Opens};
use crate::dxf::scan::Scanner;
use crate::dxf::tags::{Fault, Quick, Start, Tag, Tags};
use crate::geometry::Vec3;

/// Group codes are below this that an entity can want.
const CODES: usize = 80;

/// A set of group codes, as a mark by each.
pub(super) type Codes = [bool; CODES];

/// The set of these group codes.
pub(super) const fn wanted(codes: &[usize]) -> Codes {
    let mut set = [false; CODES];
    let mut i = 0;
    while i < codes.len() {
        set[codes[i]] = true;
        i += 1;
    }
    set
}

/// What all entities have, as it was written.
#[derive(Debug, Clone, Copy, Default)]
pub(in crate::dxf) struct Gathered<'a> {
    pub(in crate::dxf) handle: Option<u64>,
    pub(in crate::dxf) owner: u64,
    pub(in crate::dxf) layer: Option<&'a [u8]>,
    pub(in crate::dxf) line_type: Option<&'a [u8]>,
    pub(in crate::dxf) invisible: bool,
    pub(in crate::dxf) on_paper: bool,
    pub(in crate::dxf) normal: Option<Vec3>,
}

impl<'a> Gathered<'a> {
    /// Takes a group that all entities have; whether it was one. The first of a repeated group counts: what repeats
    /// it are embedded objects and subclass data.
    #[inline(always)]
    pub(super) fn take(&mut self, tag: Tag<'a>) -> Result<bool, Fault> {
        match tag.code {
            8 => self.layer = self.layer.or(Some(tag.name())),
            5 => self.handle = self.handle.or(tag.handle()),
            6 => self.line_type = Some(tag.name()),
            60 => self.invisible = tag.int()? == 1,
            67 => self.on_paper = tag.int()? == 1,
            210 => self.normal_mut().x = tag.real()?,
            220 => self.normal_mut().y = tag.real()?,
            230 => self.normal_mut().z = tag.real()?,
            330 if self.owner == 0 => self.owner = tag.handle().unwrap_or(0),
            _ => return Ok(false),
        }
        Ok(true)
    }

    /// Whether this entity stands in the drawing as another one: all but the handle is the same. Not for one that is
    /// drawn in another plane than the plan.
    #[inline(always)]
    pub(in crate::dxf) fn stands_as(&self, other: &Gathered<'_>) -> bool {
        let flat = |gathered: &Gathered<'_>| gathered.normal.is_none_or(|normal| normal == Vec3::UP);
        self.layer == other.layer
            && self.owner == other.owner
            && self.line_type == other.line_type
            && (self.invisible, self.on_paper) == (other.invisible, other.on_paper)
            && flat(self)
            && flat(other)
    }

    fn normal_mut(&mut self) -> &mut Vec3 {
        self.normal.get_or_insert(Vec3::ZERO)
    }
}

/// The numbered groups of an entity. What was not seen may hold what an earlier entity left.
#[derive(Debug)]
pub(in crate::dxf) struct Groups<'a> {
    seen: Codes,
    texts: [&'a [u8]; 10],
    /// By group code.
    reals: [f64; 60],
    ints: [i64; 20],
    start: Start<'a>,
}

impl<'a> Groups<'a> {
    /// Reads the groups of the entity that `start` opened, those in `wants` with their values.
    pub(super) fn read<T: Tags<'a>>(
        scanner: &mut Scanner<'a, T>,
        kind: Opens,
        start: Start<'a>,
        wants: &Codes,
    ) -> Result<(Opened<'a>, Box<Groups<'a>>), Fault> {
        let mut opened = scanner.open(kind);
        let mut groups = Groups::new(scanner, start);
        scanner.walk.groups(|tag, quick| {
            if tag.code == 101 {
                return Ok(false);
            }
            groups.take_with_point(tag, quick, wants, &mut opened)?;
            Ok(true)
        })?;
        Ok((opened, groups))
    }

    /// Empty groups for the entity that `start` opened, in the spare place of the scanner if there is one: they are
    /// large, and most entities need them.
    pub(super) fn new<T: Tags<'a>>(scanner: &mut Scanner<'a, T>, start: Start<'a>) -> Box<Groups<'a>> {
        let mut groups = scanner.spare_groups.take().unwrap_or_else(|| {
            Box::new(Groups {
                seen: [false; CODES],
                texts: [b""; 10],
                reals: [0.0; 60],
                ints: [0; 20],
                start,
            })
        });
        groups.seen = [false; CODES];
        groups.start = start;
        groups
    }

    /// Keeps the place for the next entity.
    pub(super) fn give_back<T: Tags<'a>>(self: Box<Self>, scanner: &mut Scanner<'a, T>) {
        scanner.spare_groups = Some(self);
    }

    /// As [`Self::take`], and takes y and z of a point with its x where all three are wanted and follow each other.
    #[inline(always)]
    pub(super) fn take_with_point(
        &mut self,
        tag: Tag<'a>,
        quick: &mut impl Quick<'a>,
        wants: &Codes,
        opened: &mut Opened<'a>,
    ) -> Result<(), Fault> {
        self.take(tag, wants, opened)?;
        if let code @ 10..=18 = tag.code {
            let [of_y, of_z] = [code as usize + 10, code as usize + 20];
            if wants[of_y]
                && wants[of_z]
                && let Some([y, z]) = quick.run([code + 10, code + 20])
            {
                (self.reals[of_y], self.reals[of_z]) = (y, z);
                (self.seen[of_y], self.seen[of_z]) = (true, true);
            }
        }
        Ok(())
    }

    /// Takes one group if it is wanted or common to all entities.
    #[inline(always)]
    pub(super) fn take(&mut self, tag: Tag<'a>, wants: &Codes, opened: &mut Opened<'a>) -> Result<(), Fault> {
        let n = tag.code as usize;
        if wants.get(n) != Some(&true) {
            return opened.take(tag);
        }
        match n {
            0..=9 => self.texts[n] = tag.text(),
            10..=59 => self.reals[n] = tag.real()?,
            60..=79 => self.ints[n - 60] = tag.int()?,
            _ => {}
        }
        self.seen[n] = true;
        Ok(())
    }

    /// Whether the entity had this group.
    pub(super) fn has(&self, code: usize) -> bool {
        self.seen[code]
    }

    /// The point that begins at group `code` (10 to 18); missing coordinates are 0.
    pub(super) fn point(&self, code: usize) -> Vec3 {
        let part = |code| self.real_or(code, 0.0);
        Vec3::new(part(code), part(code + 10), part(code + 20))
    }

    /// The point at group `code`, which the entity must have, x and y.
    pub(super) fn needed_point(&self, code: usize) -> Result<Vec3, Fault> {
        for part in [code, code + 10] {
            if !self.has(part) {
                return Err(self.missing(part));
            }
        }
        Ok(self.point(code))
    }

    /// The number at group `code` (10 to 59), or what counts where it is missing.
    pub(super) fn real_or(&self, code: usize, default: f64) -> f64 {
        if self.has(code) { self.reals.get(code).copied().unwrap_or(default) } else { default }
    }

    /// The number at group `code`, which the entity must have.
    pub(super) fn needed_real(&self, code: usize) -> Result<f64, Fault> {
        if self.has(code) { Ok(self.real_or(code, 0.0)) } else { Err(self.missing(code)) }
    }

    /// The whole number at group `code` (60 to 79), or what counts where it is missing.
    pub(super) fn int_or(&self, code: usize, default: i64) -> i64 {
        if self.has(code) { self.ints.get(code - 60).copied().unwrap_or(default) } else { default }
    }

    /// The text at group `code` (0 to 9), empty where it is missing.
    pub(super) fn text(&self, code: usize) -> &'a [u8] {
        if self.has(code) { self.texts.get(code).copied().unwrap_or_default() } else { b"" }
    }

    /// The fault of the whole entity.
    pub(super) fn fault(&self, message: String) -> Fault {
        Fault { line: self.start.line, offset: self.start.offset, message }
    }

    fn missing(&self, code: usize) -> Fault {
        self.start.lacks(code)
    }
}
