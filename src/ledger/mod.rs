//! The ledger of an audit: a file of one JSON line a drawing, appended as each is done, so that a run that was killed
//! goes on where it stopped, and shards of a library can be joined. Knows what a line says and which lines count; what
//! they say of a whole library is added up in `library`.
//!
//! The last line of a path counts. Nothing in the file is ever changed, but for a last line that was cut short, which
//! is taken away.

mod entry;
mod file;
mod gone;
mod inputs;
mod join;
mod line;
mod shard;
#[cfg(test)]
mod tests;

pub use entry::{Entry, Found, ScrewHoles, Sight, YearSource};
pub use file::{Ledger, Opened};
pub use gone::gone;
pub use inputs::InputsDigest;
pub use join::Joined;
pub use line::Known;
pub use shard::{Shard, relative};
