//! The HEADER section: version, code page, units and the variables of the dimension style.

use super::{Keyword, Scanner};
use crate::drawing::Header;
use crate::dxf::raw::StyleValues;
use crate::dxf::tags::{Fault, Tag, Tags};
use crate::dxf::text::codepage::Decoder;

impl<'a, T: Tags<'a>> Scanner<'a, T> {
    pub(super) fn header_section(&mut self) {
        let Scanner { walk, header, raw, problems, .. } = self;
        let mut variable = Keyword::new(b"");
        // What is wrong with a value is told of its variable, and stops nothing.
        let _ = walk.groups(|tag, _| {
            if tag.code == 9 {
                variable = Keyword::new(tag.name());
            } else if let Err(fault) = take(header, &mut raw.header_style, variable.as_bytes(), &tag) {
                let name = String::from_utf8_lossy(variable.as_written()).into_owned();
                problems
                    .push(Fault { message: format!("{name} not read: {}", fault.message), ..fault }.loss());
            }
            Ok(true)
        });
        self.decoder =
            Decoder::new(self.file, self.header.version.as_deref(), self.header.code_page.as_deref());
        self.until_section_end(|_, _| {});
    }
}

/// Takes a value of the variable of this name, in upper case.
fn take<'a>(
    header: &mut Header,
    style: &mut StyleValues<'a>,
    variable: &[u8],
    tag: &Tag<'a>,
) -> Result<(), Fault> {
    match (variable, tag.code) {
        (b"$ACADVER", 1) => header.version = Some(lossy(tag)),
        (b"$DWGCODEPAGE", 1..=3) => header.code_page = Some(lossy(tag)),
        (b"$INSUNITS", 70) => header.insunits = Some(tag.int()?),
        (b"$MEASUREMENT", 70) => header.measurement = Some(tag.int()?),
        (b"$DIMLFAC", 40) => {
            let factor = tag.real()?;
            header.dimlfac = Some(factor);
            style.length_factor = Some(factor);
        }
        // What is no date is none: nothing about a hole is lost by it.
        (b"$TDUPDATE", 40) => header.saved_in = tag.real().ok().and_then(year_of),
        (name, _) => {
            if let Some(group) = style_group(name) {
                style.take(&Tag { code: group, ..*tag })?;
            }
        }
    }
    Ok(())
}

fn lossy(tag: &Tag<'_>) -> String {
    String::from_utf8_lossy(tag.name()).into_owned()
}

/// The year of a time as headers write it: the number of the Julian day, with the share of the day since midnight behind
/// the point. None for one before the format was and for one that cannot be.
fn year_of(time: f64) -> Option<i16> {
    const NEW_YEAR_2000: i64 = 2_451_545;
    let days = (time.floor() as i64).checked_sub(NEW_YEAR_2000)?;
    let date = jiff::civil::date(2000, 1, 1).checked_add(jiff::Span::new().try_days(days).ok()?).ok()?;
    (1980..=2200).contains(&date.year()).then(|| date.year())
}

/// The group by which a dimension style states what this header variable states.
fn style_group(variable: &[u8]) -> Option<i32> {
    Some(match variable {
        b"$DIMPOST" => 3,
        b"$DIMAPOST" => 4,
        b"$DIMRND" => 45,
        b"$DIMTP" => 47,
        b"$DIMTM" => 48,
        b"$DIMTOL" => 71,
        b"$DIMLIM" => 72,
        b"$DIMZIN" => 78,
        b"$DIMALTF" => 143,
        b"$DIMALT" => 170,
        b"$DIMALTD" => 171,
        b"$DIMADEC" => 179,
        b"$DIMDEC" => 271,
        b"$DIMTDEC" => 272,
        b"$DIMLUNIT" => 277,
        b"$DIMDSEP" => 278,
        b"$DIMTZIN" => 284,
        _ => return None,
    })
}

impl<'a> StyleValues<'a> {
    /// Takes the value of a dimension style group; other groups are none of its business.
    pub(in crate::dxf) fn take(&mut self, tag: &Tag<'a>) -> Result<(), Fault> {
        match tag.code {
            3 => self.post = Some(tag.text()),
            4 => self.alternate_post = Some(tag.text()),
            45 => self.round = Some(tag.real()?),
            47 => self.plus = Some(tag.real()?),
            48 => self.minus = Some(tag.real()?),
            71 => self.tolerance = Some(tag.int()?),
            72 => self.limits = Some(tag.int()?),
            78 => self.zeros = Some(tag.int()?),
            143 => self.alternate_factor = Some(tag.real()?),
            144 => self.length_factor = Some(tag.real()?),
            170 => self.alternate = Some(tag.int()?),
            171 => self.alternate_decimals = Some(tag.int()?),
            179 => self.angle_decimals = Some(tag.int()?),
            271 => self.decimals = Some(tag.int()?),
            272 => self.tolerance_decimals = Some(tag.int()?),
            270 if self.units.is_none() => self.units = Some(tag.int()?),
            277 => self.units = Some(tag.int()?),
            278 => self.separator = Some(tag.int()?),
            284 => self.tolerance_zeros = Some(tag.int()?),
            _ => {}
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::year_of;

    #[test]
    fn a_time_is_a_julian_day_counted_from_midnight() {
        // The example of the format's reference: 31 December 1999, 9:58:35 in the evening; ezdxf reads it so, too.
        assert_eq!(year_of(2_451_544.915_682_87), Some(1999));
        assert_eq!(year_of(2_451_545.0), Some(2000));
        for wrong in [0.0, -1.0, 1e300, f64::NAN, 2_415_020.5, -1e300] {
            assert_eq!(year_of(wrong), None, "{wrong}");
        }
    }
}
