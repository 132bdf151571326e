//! The values behind the size calculator.
