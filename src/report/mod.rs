//! The finished report to each form: one file a form, each writing to any writer. Calculates nothing anew.

mod by_hole;
pub mod clean;
pub mod conversion;
pub mod csv;
pub mod draft;
pub mod explain;
pub mod html;
pub mod json;
pub mod junit;
pub mod library;
pub mod lines;
pub mod marks;
pub mod overlay;
pub mod page;
pub mod policy;
mod said;
pub mod sarif;
pub mod schema;
pub mod seen;
pub mod sheaf;
pub mod size;
mod spool;
mod table;
pub mod text;
pub mod trial;
mod web;
pub mod xlsx;
