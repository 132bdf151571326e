//! Small drawings built by hand for the tests of rules and of what runs them.

use std::num::NonZeroU64;

use super::{Rule, ScrewHole, Subject};
use crate::callout::Callout;
use crate::drawing::{Circular, Drawing, Layer, MadeOf, Origin, Problem, ReadState, Space, Stands};
use crate::finding::Finding;
use crate::geometry::Point;
use crate::joint::{Defaults, Row, Screw, ScrewForm, StatedSize, Tolerance};
use crate::pairing::{Hole, Joint, PairedBy, Role, SeenCallout, SeenCircle, SeenRow, ThicknessSource, pair};
use crate::practice::Practice;
use crate::shared::SharedText;
use crate::trade::{Band, Material, Status, Thread};
use crate::units::{Length, Unit};
use crate::verdict::{
    Advice, DiameterSource, Engagement, HoleBand, Judged, Judgements, Limits, ToleranceSource,
};

/// A drawing, paired and judged by hand. Screw holes are M4 in 1.5 mm low-carbon steel, or 1/4-20 in .060 in.
pub(crate) struct Scene {
    pub(crate) state: ReadState,
    pub(crate) problems: Vec<Problem>,
    pub(crate) drawing: Drawing,
    pub(crate) paired: crate::pairing::Paired,
    pub(crate) judged: Judgements,
    pub(crate) practice: Practice,
    pub(crate) trials: crate::trial::Trials,
}

/// A length in mm.
pub(crate) fn mm(value: f64) -> Length {
    Length::from_mm(value).expect("a finite length")
}

/// A length in inches.
pub(crate) fn inch(value: f64) -> Length {
    Length::from_inch(value).expect("a finite length")
}

/// A nominal size written with so many decimals and no tolerance.
pub(crate) fn stated(value: f64, decimals: u8, unit: Unit) -> StatedSize {
    let nominal = Length::new(value, unit).ok();
    StatedSize { nominal, tolerance: None, decimals, unit: Some(unit) }
}

/// The same with plus and minus, in the size's unit.
pub(crate) fn toleranced(size: StatedSize, plus: f64, minus: f64) -> StatedSize {
    let unit = size.unit.expect("a unit");
    let length = |value| Length::new(value, unit).expect("a finite length");
    StatedSize { tolerance: Some(Tolerance::PlusMinus { plus: length(plus), minus: length(minus) }), ..size }
}

/// A band, and the hole edges worked by hand that go with it.
pub(crate) fn band(min: f64, max: f64, hole_min: Length, hole_max: Length) -> HoleBand {
    let band = Band {
        min,
        target: f64::midpoint(min, max),
        max,
        source: "made up for this test".into(),
        status: Status::User,
        note: None,
    };
    HoleBand { band, hole_min, hole_max }
}

impl Scene {
    /// An empty drawing in mm.
    pub(crate) fn metric() -> Scene {
        let mut drawing = Drawing::default();
        drawing.layers.push(Layer { name: "HOLES".to_owned(), on: true, frozen: false });
        drawing.layers.push(Layer { name: "NOTES".to_owned(), on: true, frozen: false });
        drawing.spaces.push(Space { name: "model".to_owned() });
        let paired = pair(&Drawing::default(), None, &Defaults::default());
        Scene {
            state: ReadState::Read,
            problems: Vec::new(),
            drawing,
            paired,
            judged: Judgements::default(),
            practice: Practice::default(),
            trials: crate::trial::Trials::default(),
        }
    }

    /// An empty drawing in inches.
    pub(crate) fn inches() -> Scene {
        let mut scene = Scene::metric();
        scene.paired.unit.unit = Unit::Inch;
        scene
    }

    fn origin(&self, layer: u32) -> Origin {
        let serial = 1 + self.paired.holes.len() as u64 + 16 * self.paired.callouts.len() as u64;
        Origin {
            handle: NonZeroU64::new(serial),
            layer,
            line: 10 * serial as u32,
            space: 0,
            visible: true,
            insert: None,
            stands: Stands::Other,
        }
    }

    /// Adds a hole that is no screw hole, drawn at this diameter in the drawing's unit. Gives its index.
    pub(crate) fn hole(&mut self, drawn: f64) -> usize {
        let index = self.paired.holes.len();
        let at = Point::new(10.0 * index as f64, 5.0);
        let origin = self.origin(0);
        let drawn_length = Length::new(drawn, self.paired.unit.unit).expect("a finite length");
        self.drawing.circles.push(Circular { origin, center: at, diameter: drawn, made_of: MadeOf::Circle });
        self.paired.circles.push(SeenCircle { circle: index, role: Role::Hole, hole: Some(index) });
        self.paired.holes.push(Hole {
            id: format!("H{}", index + 1).into(),
            circle: index,
            origin,
            at,
            drawn: drawn_length,
            view_scale: 1.0,
            tag: None,
            callout: None,
            row: None,
            paired_by: PairedBy::Drawn,
            confidence: 1.0,
            reasons: Box::default(),
            joint: Joint {
                screw: None,
                making: crate::joint::Making::default(),
                thickness_source: ThicknessSource::None,
                called: None,
                listed: None,
                entry: None,
                depth: None,
            }
            .into(),
        });
        self.judged.push(Judged::plain(Limits {
            nominal: drawn_length,
            min: drawn_length,
            max: drawn_length,
            source: DiameterSource::Drawn,
            tolerance_source: ToleranceSource::None,
            tolerance_text: SharedText::default(),
        }));
        index
    }

    /// Adds a hole for a thread-rolling screw in low-carbon steel, drawn at this diameter. Gives its index.
    pub(crate) fn screw_hole(&mut self, drawn: f64) -> usize {
        let index = self.hole(drawn);
        let (name, major, pitch, thickness) = match self.paired.unit.unit {
            Unit::Mm => ("M4", mm(4.0), mm(0.7), mm(1.5)),
            Unit::Inch => ("1/4-20", inch(0.25), inch(0.05), inch(0.06)),
        };
        let thread = Thread { name: name.to_owned(), major, pitch, unit: self.paired.unit.unit };
        let hole = &mut self.paired.holes[index];
        hole.screw = Some(Screw { thread, length: None, form: ScrewForm::Rolling });
        hole.making.material = Some(Material::LowCarbonSteel);
        hole.making.thickness = Some(thickness);
        hole.thickness_source = ThicknessSource::List;
        self.judged[index].limits.tolerance_source = ToleranceSource::Callout;
        index
    }

    /// Gives a hole its limits, engagement and band, all worked by hand.
    pub(crate) fn judge(
        &mut self,
        index: usize,
        limits: (f64, f64, f64),
        engagement: Engagement,
        band: HoleBand,
    ) {
        let unit = self.paired.unit.unit;
        let length = |value| Length::new(value, unit).expect("a finite length");
        let judged = &mut self.judged[index];
        (judged.limits.nominal, judged.limits.min, judged.limits.max) =
            (length(limits.0), length(limits.1), length(limits.2));
        judged.engagement = Some(engagement);
        judged.band = Some(band);
    }

    /// Gives a hole advice.
    pub(crate) fn advise(&mut self, index: usize, diameter: Length, callout: &str) {
        self.judged[index].advice = Some(Advice {
            diameter,
            drill: None,
            callout: callout.to_owned(),
            tolerance: None,
            narrowed: false,
        });
    }

    /// Adds a callout for these holes. Gives its index.
    pub(crate) fn callout(&mut self, callout: Callout, holes: &[usize]) -> usize {
        let index = self.paired.callouts.len();
        for &hole in holes {
            self.paired.holes[hole].callout = Some(index);
        }
        self.paired.callouts.push(SeenCallout {
            callout: callout.into(),
            origin: Origin {
                handle: NonZeroU64::new(0x41 + index as u64),
                line: 900 + index as u32,
                ..self.origin(1)
            },
            at: Point::new(0.0, 50.0),
            holes: holes.to_vec(),
            left: None,
            claims: Vec::new(),
            measured: false,
        });
        index
    }

    /// Adds a row of a hole list for these holes. Gives its index.
    pub(crate) fn row(&mut self, row: Row, holes: &[usize]) -> usize {
        let index = self.paired.rows.len();
        for &hole in holes {
            self.paired.holes[hole].row = Some(index);
        }
        let row =
            Row { pointer: format!("/drawings/0/holes/{index}"), list: "lid.holes.json".to_owned(), ..row };
        self.paired.rows.push(SeenRow {
            row,
            holes: holes.to_vec(),
            by: PairedBy::Tag,
            missing_at: Vec::new(),
            left: None,
        });
        index
    }

    /// Adds a loss at a line of the file.
    pub(crate) fn lose(&mut self, line: u64, message: &str) {
        self.state = ReadState::PartlyRead;
        self.problems.push(Problem { line, offset: 0, message: message.to_owned(), loss: true });
    }

    /// The subject of the rules.
    pub(crate) fn subject(&self) -> Subject<'_> {
        Subject {
            path: "lid.dxf",
            state: self.state,
            problems: &self.problems,
            drawing: &self.drawing,
            paired: &self.paired,
            judged: &self.judged,
            screws: ScrewHole::all(&self.paired, &self.judged, &self.practice),
            practice: &self.practice,
            trials: &self.trials,
            waivers: &[],
        }
    }

    /// What one rule finds.
    pub(crate) fn run(&self, rule: &Rule) -> Vec<Finding> {
        (rule.check)(&self.subject())
    }

    /// The messages of what one rule finds.
    pub(crate) fn messages(&self, rule: &Rule) -> Vec<String> {
        self.run(rule).into_iter().map(|finding| finding.message.to_string()).collect()
    }
}
