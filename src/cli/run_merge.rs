//! `merge`: the ledgers of shards to the picture of one run.

use super::audit_args::MergeArgs;
use super::order;
use super::output::Refused;
use super::pictures;

/// Runs `merge`; the exit code.
pub(super) fn run(args: &MergeArgs) -> Result<u8, Refused> {
    let files = order::begin(&args.picture.write)?;
    pictures::finish(&args.ledgers, &args.picture, files)
}
