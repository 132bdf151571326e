//! A file that takes its name, and the place of an older one, only when it is whole.

use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use super::output::Refused;

/// A file that was begun under another name in the same folder.
pub(super) struct WholeFile {
    path: PathBuf,
    file: NamedTempFile,
}

impl WholeFile {
    /// Begins a file, so that one that cannot be written is known before the work.
    ///
    /// # Errors
    /// If it cannot be written.
    pub(super) fn begin(path: &Path) -> Result<WholeFile, Refused> {
        let file = temporary(path).map_err(|e| unwritable(path, &e))?;
        Ok(WholeFile { path: path.to_owned(), file })
    }

    /// Where it will stand.
    pub(super) fn path(&self) -> &Path {
        &self.path
    }

    /// Writes the file and gives it its name.
    ///
    /// # Errors
    /// If it cannot be written; what had the name before stays.
    pub(super) fn finish(self, write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> Result<(), Refused> {
        let mut out = BufWriter::with_capacity(1 << 16, self.file);
        let written = write(&mut out).and_then(|()| out.into_inner().map_err(io::IntoInnerError::into_error));
        let named = written.and_then(|file| file.persist(&self.path).map_err(|e| e.error));
        named.map(drop).map_err(|e| unwritable(&self.path, &e))
    }
}

fn unwritable(path: &Path, error: &io::Error) -> Refused {
    Refused::because(format!("{} cannot be written: {error}", path.display()))
}

/// A temporary file in the same folder, with the permissions of a new file, that can take the name in one step.
fn temporary(path: &Path) -> io::Result<NamedTempFile> {
    if path.is_dir() {
        return Err(io::ErrorKind::IsADirectory.into());
    }
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut builder = tempfile::Builder::new();
    builder.prefix(".boreband-");
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    builder.tempfile_in(folder)
}
