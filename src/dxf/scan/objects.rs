//! The OBJECTS section: only the layouts, for the names of the paper spaces. All other objects are passed over.

use super::{Keyword, Scanner};
use crate::dxf::raw::RawLayout;
use crate::dxf::tags::{Start, Tags};

impl<'a, T: Tags<'a>> Scanner<'a, T> {
    pub(super) fn object(&mut self, start: Start<'a>) {
        if Keyword::new(start.name).as_bytes() != b"LAYOUT" {
            return;
        }
        let (mut name, mut record, mut order) = (None, 0, 0);
        // The page set-up in front has a name and an owner of its own in the same groups.
        let mut in_layout = false;
        while let Some(tag) = self.walk.group() {
            match tag.code {
                100 => in_layout = tag.name().eq_ignore_ascii_case(b"AcDbLayout"),
                1 if in_layout && name.is_none() => name = Some(tag.name()),
                71 if in_layout => order = tag.int().unwrap_or(0),
                330 if in_layout && record == 0 => record = tag.handle().unwrap_or(0),
                _ => {}
            }
        }
        if let Some(name) = name {
            let name = self.symbol_name(name);
            self.raw.layouts.push(RawLayout { name, record, order });
        }
    }
}
