//! The finished report to each form: one file a form, each writing to any writer. Calculates nothing anew.

pub mod clean;
pub mod draft;
pub mod explain;
pub mod json;
pub mod lines;
pub mod page;
pub mod schema;
pub mod seen;
pub mod sheaf;
pub mod size;
mod spool;
pub mod text;
pub mod trial;
