//! The picture of a library in its forms.

pub mod csv;
mod features;
pub mod html;
mod rank;
mod table;
pub mod xlsx;
