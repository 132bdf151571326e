//! The BLOCKS section: each definition with its entities.

use super::{Keyword, Scanner, symbol_name};
use crate::dxf::raw::RawBlock;
use crate::dxf::tags::{Fault, Start, Tags};
use crate::geometry::Vec3;

/// Flag bits of a block that is an external reference or an overlay of one.
const EXTERNAL: i64 = 4 | 8;

impl<'a, T: Tags<'a>> Scanner<'a, T> {
    pub(super) fn blocks_section(&mut self) {
        let mut open: Option<RawBlock> = None;
        self.until_section_end(|scanner, start| {
            let name = Keyword::new(start.name);
            match name.as_bytes() {
                b"BLOCK" => {
                    if let Some(block) = open.take() {
                        scanner.note(start, "ENDBLK is missing before this BLOCK");
                        scanner.close_block(block);
                    }
                    open = scanner.open_block(start);
                }
                b"ENDBLK" => {
                    if let Some(block) = open.take() {
                        scanner.close_block(block);
                    }
                }
                _ => scanner.entity(start),
            }
        });
        if let Some(block) = open.take() {
            self.close_block(block);
        }
    }

    fn open_block(&mut self, start: Start<'a>) -> Option<RawBlock> {
        let first = self.raw.entities.len();
        let mut block = RawBlock {
            key: String::new(),
            base: Vec3::ZERO,
            entities: first..first,
            external: None,
            unusable: false,
            record: 0,
            line: start.line,
            offset: start.offset,
        };
        match self.block_groups(&mut block) {
            Ok(true) => Some(block),
            Ok(false) => {
                self.loss(start, "BLOCK without a name; its content cannot be placed");
                None
            }
            Err(fault) => {
                self.entity_fault(b"BLOCK", fault);
                // Its name stays known, so that its INSERTs are not called missing as well; nothing is placed
                // where the base point is unknown.
                block.unusable = true;
                Some(block)
            }
        }
    }

    /// Reads the groups of a BLOCK; whether it has a name.
    fn block_groups(&mut self, block: &mut RawBlock) -> Result<bool, Fault> {
        let (mut fault, mut named) = (None, false);
        let (mut external, mut path) = (false, None);
        let decoder = &self.decoder;
        self.walk.groups(|tag, _| {
            let read = match tag.code {
                2 => {
                    named = true;
                    block.key = symbol_name(decoder, tag.name()).to_uppercase();
                    Ok(())
                }
                10 => tag.real().map(|v| block.base.x = v),
                20 => tag.real().map(|v| block.base.y = v),
                30 => tag.real().map(|v| block.base.z = v),
                70 => tag.int().map(|v| external = v & EXTERNAL != 0),
                1 => {
                    path = Some(tag.name());
                    Ok(())
                }
                330 => {
                    block.record = tag.handle().unwrap_or(0);
                    Ok(())
                }
                _ => Ok(()),
            };
            fault = fault.take().or(read.err());
            Ok(true)
        })?;
        block.external = external.then(|| path.map_or_else(String::new, |path| self.symbol_name(path)));
        match fault {
            Some(fault) if named => Err(fault),
            _ => Ok(named),
        }
    }

    fn close_block(&mut self, mut block: RawBlock) {
        block.entities.end = self.raw.entities.len();
        if block.unusable {
            block.entities.end = block.entities.start;
        }
        self.raw.blocks.push(block);
    }
}
