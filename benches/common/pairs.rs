//! Writes group code and value pairs, as text or binary.

/// How a drawing is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Form {
    /// Binary instead of text.
    pub(crate) binary: bool,
    /// R12 instead of R2018.
    pub(crate) r12: bool,
}

impl Form {
    /// All four.
    pub(crate) const ALL: [Form; 4] = [
        Form { binary: false, r12: false },
        Form { binary: false, r12: true },
        Form { binary: true, r12: false },
        Form { binary: true, r12: true },
    ];
}

/// As the tables name it.
impl std::fmt::Display for Form {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let version = if self.r12 { "R12" } else { "R2018" };
        write!(f, "{version} {}", if self.binary { "binary" } else { "text" })
    }
}

/// A file in the making.
pub(crate) struct Pairs {
    pub(crate) bytes: Vec<u8>,
    pub(crate) form: Form,
    handle: u64,
}

impl Pairs {
    pub(crate) fn new(form: Form) -> Self {
        let bytes = if form.binary { b"AutoCAD Binary DXF\r\n\x1a\0".to_vec() } else { Vec::new() };
        Pairs { bytes, form, handle: 0x100 }
    }

    fn code(&mut self, code: i16) {
        if !self.form.binary {
            self.bytes.extend_from_slice(format!("{code:>3}\n").as_bytes());
        } else if !self.form.r12 {
            self.bytes.extend_from_slice(&code.to_le_bytes());
        } else if (0..255).contains(&code) {
            self.bytes.push(code as u8);
        } else {
            self.bytes.push(255);
            self.bytes.extend_from_slice(&code.to_le_bytes());
        }
    }

    /// A text, name or handle.
    pub(crate) fn text(&mut self, code: i16, value: &str) {
        self.code(code);
        self.bytes.extend_from_slice(value.as_bytes());
        self.bytes.push(if self.form.binary { 0 } else { b'\n' });
    }

    /// A real.
    pub(crate) fn real(&mut self, code: i16, value: f64) {
        self.code(code);
        if self.form.binary {
            self.bytes.extend_from_slice(&value.to_le_bytes());
        } else {
            self.bytes.extend_from_slice(format!("{value:?}\n").as_bytes());
        }
    }

    /// A whole number, as wide as its code asks.
    pub(crate) fn int(&mut self, code: i16, value: i32) {
        self.code(code);
        if !self.form.binary {
            self.bytes.extend_from_slice(format!("{value:>6}\n").as_bytes());
        } else if (90..100).contains(&code) {
            self.bytes.extend_from_slice(&value.to_le_bytes());
        } else {
            self.bytes.extend_from_slice(&(value as i16).to_le_bytes());
        }
    }

    /// A point at `code`, `code + 10` and `code + 20`.
    pub(crate) fn point(&mut self, code: i16, x: f64, y: f64) {
        self.real(code, x);
        self.real(code + 10, y);
        self.real(code + 20, 0.0);
    }

    /// The beginning of an entity with its handle, owner and layer.
    pub(crate) fn entity(&mut self, name: &str, layer: &str, subclass: &str) {
        self.text(0, name);
        self.handle += 1;
        self.text(5, &format!("{:X}", self.handle));
        if !self.form.r12 {
            self.text(330, "1F");
            self.text(100, "AcDbEntity");
        }
        self.text(8, layer);
        self.subclass(subclass);
    }

    /// A subclass mark, which R12 does not have.
    pub(crate) fn subclass(&mut self, name: &str) {
        if !self.form.r12 && !name.is_empty() {
            self.text(100, name);
        }
    }

    /// The beginning of a section.
    pub(crate) fn section(&mut self, name: &str) {
        self.text(0, "SECTION");
        self.text(2, name);
    }
}
