//! The finished report to each form: one file a form, each writing to any writer.
