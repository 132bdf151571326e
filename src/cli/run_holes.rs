//! What the arguments of `holes` mean: one drawing, shown as it was understood.

use super::args::{HolesArgs, TextOrJson};
use super::inputs::Inputs;
use super::output::{self, Refused};
use super::{NOT_DONE, terminal};
use crate::batch::shown_path;
use crate::check::{Against, examine, seen};
use crate::drawing::ReadState;
use crate::reading::is_zip;
use crate::report::draft::draft;
use crate::report::text::{Detail, Look};
use crate::report::{json, seen as form};

/// Runs `holes`; the exit code.
pub(super) fn run(args: &HolesArgs) -> Result<u8, Refused> {
    if args.drawing.is_dir() {
        let path = shown_path(&args.drawing);
        return Err(Refused::because(format!("{path}: this is a folder; name one drawing")));
    }
    if is_zip(&args.drawing) && args.drawing.is_file() {
        let path = shown_path(&args.drawing);
        return Err(Refused::because(format!(
            "{path}: this is an archive; name one drawing in it, such as {path}/lid.dxf"
        )));
    }
    let inputs =
        Inputs::find(std::slice::from_ref(&args.drawing), &args.holes, args.policy.as_deref(), &args.joint)?;
    let path = shown_path(&args.drawing);
    let bytes = inputs
        .files
        .read(&args.drawing)
        .map_err(|reason| Refused::because(format!("{path}: the file cannot be read: {reason}")))?;
    let rows = inputs.lists.rows_for(&args.drawing);
    let policy = inputs.policies.for_drawing(&args.drawing);
    let against = Against {
        rows: rows.as_ref(),
        defaults: &inputs.defaults,
        policy,
        trials: &inputs.trials,
        waiving: None,
        pictured: false,
        converting: false,
        reasoned: true,
        digested: false,
    };
    let examined = examine(bytes, against);
    let seen = seen(&path, &examined);
    let code = if examined.state == ReadState::Read { 0 } else { NOT_DONE };
    if args.draft {
        let name = args.drawing.file_name().unwrap_or_default().to_string_lossy();
        let draft = draft(&seen, &name);
        output::result(|out| json::write(&draft, out))?;
        output::tell(
            seen.problems.iter().filter(|p| p.loss).map(|p| format!("{path}:{}: {}", p.line, p.message)),
        );
        output::tell(draft.unknown.iter().map(|what| format!("{path}: {what}")));
        return Ok(code);
    }
    let detail = if args.verbose { Detail::Verbose } else { Detail::Normal };
    let look =
        Look { width: terminal::width(), colour: terminal::colour(args.color), detail, ..Look::default() };
    output::result(|out| match args.format {
        TextOrJson::Text => form::write(&seen, &examined, &look, out),
        TextOrJson::Json => json::write(&seen, out),
    })?;
    Ok(code)
}
