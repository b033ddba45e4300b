//! A set of schedules as a folder: whole or not there, and never in place of something else.
//!
//! ```text
//! files ──► .DIR.new-PID, each written in full ──► moved to DIR
//!                                                    │ a set of the same fingerprint stood there: it goes
//!                                                    │ of another: it is moved to DIR.FINGERPRINT first (--force: it goes)
//!                                                    └ anything else: refused, nothing is touched
//! ```
//!
//! What is written is written into a folder that was just made, so that no link leads out of it.

use std::fs::{self, File};
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

/// How the last row of a sheet of a set begins.
const ROW: &str = "\"fingerprint ";
/// The sheet that tells whose set a folder is.
const SHEET: &str = "runs.csv";

/// What stands where a set is to go.
enum Found {
    Nothing,
    Set(String),
}

/// Writes a set; answers where a set of another fingerprint was moved to.
///
/// # Errors
/// Words that name the file or folder, and what is wrong with it. The folder is then as it was.
pub fn write(
    folder: &Path,
    fingerprint: &str,
    files: &[(String, String)],
    force: bool,
) -> Result<Option<PathBuf>, String> {
    let folder = &whole_path(folder)?;
    let (parent, name) = match (folder.parent(), folder.file_name()) {
        (Some(parent), Some(name)) => (parent, name.to_string_lossy().into_owned()),
        _ => {
            return Err(format!(
                "{}: no folder that can be moved into place; name one inside it",
                folder.display()
            ));
        }
    };
    let found = look(folder)?;
    fs::create_dir_all(parent).map_err(|error| told(parent, &error))?;
    let beside = |word: &str| parent.join(format!(".{name}.{word}-{}", std::process::id()));
    let (new, old) = (beside("new"), beside("old"));
    fs::create_dir(&new).map_err(|error| told(&new, &error))?;
    let placed =
        fill(&new, files).and_then(|()| place(folder, &new, &old, fingerprint, found, force));
    if placed.is_err() {
        discard(&new);
    }
    placed
}

/// Moves the new set into place, and what stood there out of it.
fn place(
    folder: &Path,
    new: &Path,
    old: &Path,
    fingerprint: &str,
    found: Found,
    force: bool,
) -> Result<Option<PathBuf>, String> {
    let moved = |from: &Path, to: &Path| fs::rename(from, to).map_err(|error| told(to, &error));
    let kept = match found {
        Found::Nothing => {
            // An empty folder may stand there.
            if let Err(error) = fs::remove_dir(folder)
                && error.kind() != ErrorKind::NotFound
            {
                return Err(told(folder, &error));
            }
            return moved(new, folder).map(|()| None);
        }
        Found::Set(other) if other != fingerprint && !force => Some(free(folder, &other)?),
        Found::Set(_) => None,
    };
    let away = kept.as_deref().unwrap_or(old);
    moved(folder, away)?;
    if let Err(why) = moved(new, folder) {
        moved(away, folder)?;
        return Err(why);
    }
    if kept.is_none() {
        discard(old);
        if old.exists() {
            return Err(format!(
                "{}: holds more than a set and was not removed; look what it is",
                old.display()
            ));
        }
    }
    Ok(kept)
}

/// A name that is free for a set that is kept: `DIR.01234567`, `DIR.01234567-2`.
fn free(folder: &Path, fingerprint: &str) -> Result<PathBuf, String> {
    let short: String = fingerprint.chars().take(8).collect();
    let named = |end: String| {
        let mut name = folder.as_os_str().to_owned();
        name.push(end);
        PathBuf::from(name)
    };
    let names = (1..1000).map(|n| {
        if n == 1 {
            named(format!(".{short}"))
        } else {
            named(format!(".{short}-{n}"))
        }
    });
    let mut free = names.filter(|path| {
        fs::symlink_metadata(path).is_err_and(|error| error.kind() == ErrorKind::NotFound)
    });
    free.next().ok_or_else(|| {
        format!(
            "{}.{short}: a thousand sets are kept there; move them away",
            folder.display()
        )
    })
}

/// The path from the root, its folders without links where they are there; its last part as it stands.
fn whole_path(folder: &Path) -> Result<PathBuf, String> {
    let whole = std::path::absolute(folder).map_err(|error| told(folder, &error))?;
    // `DIR/.` and `DIR/..` have no last part of their own.
    match folder.components().next_back() {
        Some(std::path::Component::Normal(_)) => Ok(whole),
        _ => fs::canonicalize(&whole).map_err(|error| told(folder, &error)),
    }
}

/// What stands where the set is to go, unless it must not be touched.
fn look(folder: &Path) -> Result<Found, String> {
    let refuse = |why: &str| Err(format!("{}: {why}", folder.display()));
    match fs::symlink_metadata(folder) {
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Found::Nothing),
        Err(error) => return Err(told(folder, &error)),
        Ok(data) if data.is_symlink() => {
            return refuse("is a link; name the folder that it leads to");
        }
        Ok(data) if !data.is_dir() => return refuse("is no folder; name another"),
        Ok(_) => {}
    }
    let mut entries = fs::read_dir(folder).map_err(|error| told(folder, &error))?;
    if entries.next().is_none() {
        return Ok(Found::Nothing);
    }
    let sheet = folder.join(SHEET);
    let text = match fs::symlink_metadata(&sheet) {
        Ok(data) if data.is_file() => fs::read_to_string(&sheet).unwrap_or_default(),
        _ => String::new(),
    };
    let row = text
        .lines()
        .next_back()
        .and_then(|line| line.strip_prefix(ROW));
    let fingerprint = row.and_then(|row| row.split('"').next());
    match fingerprint {
        Some(hex) if !hex.is_empty() && hex.bytes().all(|b| b.is_ascii_hexdigit()) => {
            Ok(Found::Set(hex.to_string()))
        }
        _ => refuse("holds files and is no set of schedules; name a new folder"),
    }
}

/// Writes every file in full.
fn fill(folder: &Path, files: &[(String, String)]) -> Result<(), String> {
    for (name, content) in files {
        let path = folder.join(name);
        let written = File::create_new(&path).and_then(|mut file| {
            file.write_all(content.as_bytes())?;
            file.sync_all()
        });
        written.map_err(|error| told(&path, &error))?;
    }
    Ok(())
}

/// Removes the files of a set and then its folder, if nothing else is in it. What cannot be removed stays.
fn discard(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    for entry in entries.flatten() {
        let path = entry.path();
        let ours = path
            .extension()
            .is_some_and(|end| end == "csv" || end == "txt" || end == "md");
        // A link is no file of a set.
        if ours && entry.file_type().is_ok_and(|kind| kind.is_file()) {
            let _ = fs::remove_file(path);
        }
    }
    let _ = fs::remove_dir(folder);
}

fn told(path: &Path, error: &std::io::Error) -> String {
    format!("{}: {error}", path.display())
}
