//! A small builder of drawings for the tests of this module. Coordinates and lengths are drawing units.

use std::num::NonZeroU64;

use crate::drawing::{
    Arc, Circular, Dimension, DimensionKind, Drawing, Insert, InsertId, Layer, Leader, MadeOf, Origin,
    Segment, Space, Stands, Table, Text, TextKind,
};
use crate::geometry::{Bounds, Point};

/// Letter height of the texts that the builder makes.
pub(crate) const HEIGHT: f64 = 2.5;

/// A drawing in the making.
pub(crate) struct Sheet {
    drawing: Drawing,
    layer: u32,
    next: u64,
}

impl Sheet {
    /// An empty drawing in millimetres by its header.
    pub(crate) fn new() -> Sheet {
        let mut drawing = Drawing::default();
        drawing.header.insunits = Some(4);
        drawing.layers.push(Layer { name: "0".to_owned(), on: true, frozen: false });
        drawing.spaces.push(Space { name: "model".to_owned() });
        Sheet { drawing, layer: 0, next: 0x20 }
    }

    /// Changes `$INSUNITS`.
    pub(crate) fn insunits(mut self, value: Option<i64>) -> Sheet {
        self.drawing.header.insunits = value;
        self
    }

    /// What follows is on this layer.
    pub(crate) fn layer(mut self, name: &str) -> Sheet {
        self.layer = match self.drawing.layers.iter().position(|l| l.name == name) {
            Some(i) => i as u32,
            None => {
                self.drawing.layers.push(Layer { name: name.to_owned(), on: true, frozen: false });
                self.drawing.layers.len() as u32 - 1
            }
        };
        self
    }

    fn origin(&mut self) -> Origin {
        self.next += 1;
        Origin {
            handle: NonZeroU64::new(self.next),
            layer: self.layer,
            line: self.next as u32 * 10,
            space: 0,
            visible: true,
            insert: None,
            stands: Stands::Other,
        }
    }

    /// A circle.
    pub(crate) fn circle(mut self, x: f64, y: f64, diameter: f64) -> Sheet {
        let origin = self.origin();
        self.drawing.circles.push(Circular {
            origin,
            center: Point::new(x, y),
            diameter,
            made_of: MadeOf::Circle,
        });
        self
    }

    /// A circle of centre-line type.
    pub(crate) fn centre_circle(self, x: f64, y: f64, diameter: f64) -> Sheet {
        let mut sheet = self.circle(x, y, diameter);
        if let Some(c) = sheet.drawing.circles.last_mut() {
            c.origin.stands = Stands::Centre;
        }
        sheet
    }

    /// An arc of three quarters of a turn.
    pub(crate) fn three_quarter_arc(mut self, x: f64, y: f64, diameter: f64) -> Sheet {
        let origin = self.origin();
        let center = Point::new(x, y);
        self.drawing.arcs.push(Arc {
            origin,
            center,
            radius: diameter / 2.0,
            start_deg: 10.0,
            sweep_deg: 270.0,
        });
        self
    }

    /// An arc.
    pub(crate) fn arc(mut self, x: f64, y: f64, diameter: f64, start_deg: f64, sweep_deg: f64) -> Sheet {
        let origin = self.origin();
        let center = Point::new(x, y);
        self.drawing.arcs.push(Arc { origin, center, radius: diameter / 2.0, start_deg, sweep_deg });
        self
    }

    /// A line.
    pub(crate) fn line(mut self, x0: f64, y0: f64, x1: f64, y1: f64) -> Sheet {
        let origin = self.origin();
        self.drawing.segments.push(Segment { origin, from: Point::new(x0, y0), to: Point::new(x1, y1) });
        self
    }

    /// Four lines round a box.
    pub(crate) fn outline(self, x0: f64, y0: f64, x1: f64, y1: f64) -> Sheet {
        self.line(x0, y0, x1, y0).line(x1, y0, x1, y1).line(x1, y1, x0, y1).line(x0, y1, x0, y0)
    }

    /// A text with its lower left corner at a point.
    pub(crate) fn text(self, x: f64, y: f64, content: &str) -> Sheet {
        self.carrier(x, y, content, TextKind::Text)
    }

    /// A text of any kind with its lower left corner at a point.
    pub(crate) fn carrier(mut self, x: f64, y: f64, content: &str, kind: TextKind) -> Sheet {
        let origin = self.origin();
        let longest = content.lines().map(|l| l.chars().count()).max().unwrap_or(0) as f64;
        let lines = content.lines().count().max(1) as f64;
        let bounds = Bounds {
            min: Point::new(x, y),
            max: Point::new(x + 0.9 * HEIGHT * longest, y + HEIGHT * (1.0 + 1.67 * (lines - 1.0))),
        };
        self.drawing.texts.push(Text {
            origin,
            kind,
            content: content.to_owned(),
            at: Point::new(x, y),
            bounds,
            height: HEIGHT,
            rotation_deg: 0.0,
        });
        self
    }

    /// The last text in smaller letters.
    pub(crate) fn small(mut self, height: f64) -> Sheet {
        if let Some(text) = self.drawing.texts.last_mut() {
            let (b, factor) = (text.bounds, height / text.height);
            text.bounds.max.x = b.min.x + factor * (b.max.x - b.min.x);
            text.bounds.max.y = b.min.y + factor * (b.max.y - b.min.y);
            text.height = height;
        }
        self
    }

    /// A leader from a tip to a text that is placed at the tail.
    pub(crate) fn leader(self, tip: (f64, f64), tail: (f64, f64), content: &str) -> Sheet {
        let mut sheet = self.text(tail.0 + 1.0, tail.1 - HEIGHT / 2.0, content);
        let origin = sheet.origin();
        let vertices = vec![Point::new(tip.0, tip.1), Point::new(tail.0, tail.1)];
        sheet.drawing.leaders.push(Leader { origin, vertices, annotation: None, text: None });
        sheet
    }

    /// A diameter dimension of a circle, horizontal chord, shown as given.
    pub(crate) fn diameter_dimension(mut self, x: f64, y: f64, diameter: f64, shown: &str) -> Sheet {
        let origin = self.origin();
        let r = diameter / 2.0;
        self.drawing.dimensions.push(Dimension {
            origin,
            kind: DimensionKind::Diameter,
            measured: diameter,
            length_factor: 1.0,
            text: None,
            shown: shown.to_owned(),
            tolerance: None,
            decimals: 2,
            points: vec![Point::new(x - r, y), Point::new(x + r, y)],
            text_at: Some(Point::new(x + 3.0 * r, y + 3.0 * r)),
        });
        self
    }

    /// A placed block with one attribute.
    pub(crate) fn attribute(self, x: f64, y: f64, tag: &str, value: &str) -> Sheet {
        let mut sheet = self.carrier(x, y, value, TextKind::Attribute { tag: tag.to_owned() });
        let origin = sheet.origin();
        let insert = InsertId::new(sheet.drawing.inserts.len());
        sheet.drawing.inserts.push(Insert { origin, block: "BLOCK".to_owned(), at: Point::new(x, y) });
        if let Some(text) = sheet.drawing.texts.last_mut() {
            text.origin.insert = insert;
        }
        sheet
    }

    /// A table entity.
    pub(crate) fn table(mut self, x: f64, y: f64, rows: &[&[&str]]) -> Sheet {
        let origin = self.origin();
        let rows = rows.iter().map(|r| r.iter().map(|c| (*c).to_owned()).collect()).collect();
        self.drawing.tables.push(Table { origin, at: Point::new(x, y), rows });
        self
    }

    /// The finished drawing.
    pub(crate) fn drawing(self) -> Drawing {
        self.drawing
    }
}
