//! ACAD_TABLE: the texts of its cells.

use super::Gathered;
use super::text::has_symbol_style;
use crate::dxf::bounds::MAX_TABLE_CELLS;
use crate::dxf::raw::{Chunks, Entity, Kind, RawTable, add};
use crate::dxf::scan::Scanner;
use crate::dxf::tags::{Fault, Start, Tags};

pub(super) fn read<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    start: Start<'a>,
) -> Result<Option<Entity>, Fault> {
    let mut gathered = Gathered::default();
    let mut table = RawTable::default();
    let mut in_table = false;
    // From R2007 on group 302 holds the whole text of a cell; before it stands in pieces in groups 3, 2 and 1.
    let mut whole = false;
    while let Some(tag) = scanner.walk.group() {
        match tag.code {
            100 => in_table = tag.name().eq_ignore_ascii_case(b"AcDbTable"),
            10 if !in_table || table.cells.is_empty() => table.at.x = tag.real()?,
            20 if !in_table || table.cells.is_empty() => table.at.y = tag.real()?,
            30 if !in_table || table.cells.is_empty() => table.at.z = tag.real()?,
            92 if in_table && table.cells.is_empty() => {
                table.columns = usize::try_from(tag.int()?).unwrap_or(0);
            }
            171 if in_table => {
                if table.cells.len() >= MAX_TABLE_CELLS {
                    return Err(tag.fault(&format!("a table of at most {MAX_TABLE_CELLS} cells")));
                }
                table.cells.push(Chunks::default());
                whole = false;
            }
            7 if in_table && !table.cells.is_empty() => {
                let cell = table.cells.len() - 1;
                if has_symbol_style(scanner, tag.name()) && table.symbols.last() != Some(&cell) {
                    table.symbols.push(cell);
                }
            }
            302 => {
                if let Some(cell) = table.cells.last_mut() {
                    *cell = Chunks::one(tag.text());
                    whole = true;
                }
            }
            1..=3 if in_table && !whole => {
                if let Some(cell) = table.cells.last_mut() {
                    cell.push(tag.text());
                }
            }
            _ if table.cells.is_empty() => {
                gathered.take(tag)?;
            }
            _ => {}
        }
    }
    let common = scanner.common(start, &gathered);
    Ok(Some(Entity { common, kind: Kind::Table(add(&mut scanner.raw.tables, table)) }))
}
