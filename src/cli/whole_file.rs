//! A file that takes its name, and the place of an older one, only when it is whole. What is no file (a pipe, a device,
//! `/dev/stdout`) cannot be replaced so and is written into; a link leads to the file that is replaced, and stays.

use std::fs::{self, File, OpenOptions};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use super::output::Refused;

/// A file that was begun under another name in the same folder.
pub(super) struct WholeFile {
    /// As it was asked for.
    path: PathBuf,
    begun: Begun,
}

enum Begun {
    /// A file that will take this name.
    Apart(NamedTempFile, PathBuf),
    /// What is written into as it stands.
    Stream(File),
}

/// Begins the files that `--write` orders, each with the form that goes into it.
///
/// # Errors
/// Each that cannot be written, and each that was ordered twice.
pub(super) fn begin_all<'a, F>(
    orders: impl Iterator<Item = (F, &'a Path)>,
) -> Result<Vec<(F, WholeFile)>, Refused> {
    let mut wrong = Refused::default();
    let mut begun: Vec<(F, WholeFile)> = Vec::new();
    for (form, path) in orders {
        if begun.iter().any(|(_, other)| other.path() == path) {
            wrong.add([format!("--write: {} is given twice", path.display())]);
            continue;
        }
        begun.extend(wrong.unless(WholeFile::begin(path)).map(|file| (form, file)));
    }
    wrong.or_ok()?;
    Ok(begun)
}

impl WholeFile {
    /// Begins a file, so that one that cannot be written is known before the work.
    ///
    /// # Errors
    /// If it cannot be written.
    pub(super) fn begin(path: &Path) -> Result<WholeFile, Refused> {
        let begun = begin(path).map_err(|e| unwritable(path, &e))?;
        Ok(WholeFile { path: path.to_owned(), begun })
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
        let written = match self.begun {
            Begun::Apart(file, name) => {
                written(file, write).and_then(|file| file.persist(name).map_err(|e| e.error)).map(drop)
            }
            Begun::Stream(stream) => written(stream, write).map(drop),
        };
        written.map_err(|e| unwritable(&self.path, &e))
    }
}

fn written<W: Write>(out: W, write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> io::Result<W> {
    let mut out = BufWriter::with_capacity(1 << 16, out);
    write(&mut out)?;
    out.into_inner().map_err(io::IntoInnerError::into_error)
}

fn unwritable(path: &Path, error: &io::Error) -> Refused {
    Refused::because(format!("{} cannot be written: {error}", path.display()))
}

fn begin(path: &Path) -> io::Result<Begun> {
    let name = match fs::metadata(path) {
        Ok(there) if there.is_dir() => return Err(io::ErrorKind::IsADirectory.into()),
        Ok(there) if !there.is_file() => {
            return OpenOptions::new().write(true).open(path).map(Begun::Stream);
        }
        Ok(_) => fs::canonicalize(path)?,
        Err(_) => path.to_owned(),
    };
    Ok(Begun::Apart(temporary(&name)?, name))
}

/// A temporary file in the same folder, with the permissions of a new file, that can take the name in one step.
fn temporary(path: &Path) -> io::Result<NamedTempFile> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut builder = tempfile::Builder::new();
    builder.prefix(".boreband-");
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    builder.tempfile_in(folder)
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;

    fn put(path: &Path, text: &str) {
        WholeFile::begin(path).ok().unwrap().finish(|out| out.write_all(text.as_bytes())).ok().unwrap();
    }

    #[test]
    fn a_file_takes_its_name_when_it_is_whole_and_not_before() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.txt");
        put(&path, "one");
        let fails = WholeFile::begin(&path).ok().unwrap();
        assert!(fails.finish(|out| out.write_all(b"tw").and(Err(io::Error::other("full")))).is_err());
        assert_eq!(fs::read_to_string(&path).unwrap(), "one");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "nothing is left behind");
    }

    /// Once a device was replaced by a file of its name.
    #[test]
    fn what_is_no_file_is_written_into_and_stays_what_it_is() {
        use std::os::unix::fs::FileTypeExt as _;
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("pipe");
        assert!(std::process::Command::new("mkfifo").arg(&path).status().unwrap().success());
        let there = path.clone();
        let reader = std::thread::spawn(move || fs::read_to_string(there).unwrap());
        put(&path, "through");
        assert!(fs::metadata(&path).unwrap().file_type().is_fifo());
        assert_eq!(reader.join().unwrap(), "through");
    }

    #[test]
    fn a_link_stays_and_leads_to_the_new_file() {
        let folder = tempfile::tempdir().unwrap();
        let (file, link) = (folder.path().join("real.txt"), folder.path().join("link.txt"));
        put(&file, "old");
        std::os::unix::fs::symlink(&file, &link).unwrap();
        put(&link, "new");
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_eq!(fs::read_to_string(&file).unwrap(), "new");
    }
}
