//! Where the names of marked holes stand on a sheet, so that none lies over another. Where there is no room near the
//! hole, a name stands farther off on a line of its own; where there is none at all, it is left out.

/// A box: left, top, right, bottom.
pub(super) type Field = (f64, f64, f64, f64);

/// What a name must not lie over.
#[derive(Debug, Default)]
pub(super) struct Taken {
    /// Rings and names.
    marks: Vec<Field>,
    /// Words of the drawing; a name lies over these rather than nowhere.
    words: Vec<Field>,
}

/// Where a name stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Place {
    /// Left end of the base line.
    pub(super) x: f64,
    /// The base line.
    pub(super) y: f64,
    /// From where to where a line leads to it; none where it stands at the ring.
    pub(super) line: Option<[(f64, f64); 2]>,
}

/// Directions to look for room in, the usual one first.
const WAYS: [(f64, f64); 8] =
    [(0.7, -0.7), (-0.7, -0.7), (0.7, 0.7), (-0.7, 0.7), (1.0, 0.0), (-1.0, 0.0), (0.0, -1.0), (0.0, 1.0)];
/// How far off to look, in heights of a name, beyond the ring.
const STEPS: [f64; 5] = [0.0, 1.0, 2.0, 3.5, 5.5];

impl Taken {
    /// A ring.
    pub(super) fn ring(&mut self, (x, y): (f64, f64), r: f64) {
        self.marks.push(square((x, y), r));
    }

    /// A box of a mark.
    pub(super) fn mark(&mut self, field: Field) {
        self.marks.push(field);
    }

    /// Words of the drawing.
    pub(super) fn words(&mut self, field: Field) {
        self.words.push(field);
    }

    /// Room for a name of this width and height near a ring within the sheet, which is then taken.
    pub(super) fn place(
        &mut self,
        (x, y): (f64, f64),
        r: f64,
        (w, h): (f64, f64),
        sheet: (f64, f64),
    ) -> Option<Place> {
        let mut second = None;
        for off in STEPS {
            for (dx, dy) in WAYS {
                let (field, near) = field((x, y), r, (w, h), (dx, dy), off * h);
                let inside = field.0 >= 0.0 && field.1 >= 0.0 && field.2 <= sheet.0 && field.3 <= sheet.1;
                if !inside || self.marks.iter().any(|own| meet(own, &field)) {
                    continue;
                }
                // The ring's edge, from where a line leads to a name that stands apart from it.
                let length = dx.hypot(dy);
                let from = (x + r * dx / length, y + r * dy / length);
                let line = (off > 0.0).then_some([from, near]);
                let place = Place { x: field.0, y: field.3 - 0.2 * h, line };
                if !self.words.iter().any(|own| meet(own, &field)) {
                    self.marks.push(field);
                    return Some(place);
                }
                second = second.or(Some((place, field)));
            }
        }
        let (place, field) = second?;
        self.marks.push(field);
        Some(place)
    }
}

/// The box of a name in a direction from the ring, and its point that is nearest to the ring.
fn field(
    (x, y): (f64, f64),
    r: f64,
    (w, h): (f64, f64),
    (dx, dy): (f64, f64),
    off: f64,
) -> (Field, (f64, f64)) {
    let (px, py) = (x + dx * (r * 1.15 + off), y + dy * (r * 1.15 + off));
    let along = |d: f64, size: f64| match d {
        d if d > 0.1 => 0.0,
        d if d < -0.1 => -size,
        _ => -size / 2.0,
    };
    let (left, top) = (px + along(dx, w), py + along(dy, h));
    ((left, top, left + w, top + h), (px, py))
}

/// The square that stands for a ring; its corners lie a little outside of the ring, its sides inside.
fn square((x, y): (f64, f64), r: f64) -> Field {
    let half = 0.78 * r;
    (x - half, y - half, x + half, y + half)
}

fn meet(a: &Field, b: &Field) -> bool {
    a.0 < b.2 && b.0 < a.2 && a.1 < b.3 && b.1 < a.3
}

#[cfg(test)]
mod tests {
    use super::*;

    const NAME: (f64, f64) = (30.0, 20.0);
    const SHEET: (f64, f64) = (1000.0, 1000.0);

    #[test]
    fn a_lone_name_stands_at_its_ring_to_the_upper_right() {
        let mut taken = Taken::default();
        taken.ring((500.0, 500.0), 10.0);
        let place = taken.place((500.0, 500.0), 10.0, NAME, SHEET).unwrap();
        assert!(place.x > 500.0 && place.y < 500.0 && place.line.is_none(), "{place:?}");
    }

    /// Rings closer together than names are wide: every name that stands lies over no ring and no other name.
    #[test]
    fn names_of_a_crowd_do_not_lie_over_each_other() {
        let mut taken = Taken::default();
        let rings: Vec<(f64, f64)> =
            (0..30).map(|i| (300.0 + 15.0 * f64::from(i % 6), 300.0 + 15.0 * f64::from(i / 6))).collect();
        rings.iter().for_each(|at| taken.ring(*at, 8.0));
        let mut fields: Vec<Field> = Vec::new();
        let mut lines = 0;
        for at in &rings {
            let Some(place) = taken.place(*at, 8.0, NAME, SHEET) else { continue };
            let field = (place.x, place.y - 0.8 * NAME.1, place.x + NAME.0, place.y + 0.2 * NAME.1);
            assert!(!fields.iter().any(|own| meet(own, &field)), "{field:?}");
            let free = rings.iter().all(|r| !meet(&square(*r, 8.0), &field));
            assert!(free, "{field:?} lies over a ring");
            lines += usize::from(place.line.is_some());
            fields.push(field);
        }
        assert!(fields.len() > 12 && lines > 0, "{} names, {lines} lines", fields.len());
    }

    #[test]
    fn words_are_gone_round_and_the_edge_is_not_crossed() {
        let mut taken = Taken::default();
        taken.words((510.0, 460.0, 600.0, 495.0));
        let place = taken.place((500.0, 500.0), 10.0, NAME, SHEET).unwrap();
        assert!(place.x < 500.0, "{place:?}");
        let place = taken.place((995.0, 5.0), 10.0, NAME, SHEET).unwrap();
        assert!(place.x + NAME.0 <= SHEET.0 && place.y > 5.0, "{place:?}");
    }
}
