//! Bytes of text values to readable text: code pages, control codes, formatting, symbol fonts. Knows nothing about
//! what the text means.

pub(super) mod codepage;
pub(super) mod control;
pub(super) mod mtext;
pub(super) mod symbols;
