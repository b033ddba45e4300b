//! A folder of golden files: read, compared with what was printed, and written anew when that is asked for.

use crate::difference::{Difference, difference};
use std::collections::BTreeMap;
use std::path::Path;

/// Contents by name; a name may hold folders, `plan/runs.csv`.
pub type Pages = BTreeMap<String, Vec<u8>>;

/// The variable of the environment that asks for the files to be written anew.
const ASK: &str = "EVENRUN_GOLDEN";
/// The command that does so.
const COMMAND: &str = "EVENRUN_GOLDEN=rewrite cargo test --test golden";
/// Files of which the lines are shown; of further ones only the name.
const SHOWN: usize = 4;

/// Every file under a folder, by its name from there; nothing where there is no folder.
pub fn read(folder: &Path) -> Pages {
    let mut pages = Pages::new();
    let mut folders = vec![folder.to_path_buf()];
    while let Some(at) = folders.pop() {
        let Ok(entries) = std::fs::read_dir(&at) else {
            continue;
        };
        for entry in entries {
            let path = entry.expect("an entry of a folder").path();
            if path.is_dir() {
                folders.push(path);
                continue;
            }
            let name = path.strip_prefix(folder).expect("a path of the folder");
            let parts: Vec<_> = name.iter().map(|part| part.to_string_lossy()).collect();
            pages.insert(parts.join("/"), std::fs::read(&path).expect("a file"));
        }
    }
    pages
}

/// Compares pages with `tests/golden/<case>`; panics with what a person needs to judge the difference.
pub fn check(case: &str, pages: &Pages) {
    let name = format!("tests/golden/{case}");
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(&name);
    let kept = read(&folder);
    if rewriting() {
        rewrite(&folder, &kept, pages);
    } else if let Some(report) = report(&name, &kept, pages) {
        panic!("\n{report}");
    }
}

/// Whether the files are to be written anew.
pub fn rewriting() -> bool {
    match std::env::var(ASK).as_deref() {
        Err(_) => false,
        Ok("rewrite") => true,
        Ok(other) => panic!("{ASK} is `{other}`; the one word it takes is `rewrite`"),
    }
}

fn rewrite(folder: &Path, kept: &Pages, pages: &Pages) {
    for name in kept.keys().filter(|name| !pages.contains_key(*name)) {
        std::fs::remove_file(folder.join(name)).expect("a file that can be removed");
    }
    for (name, bytes) in pages {
        if kept.get(name) != Some(bytes) {
            let path = folder.join(name);
            let parent = path.parent().expect("a folder");
            std::fs::create_dir_all(parent).expect("a folder that can be made");
            std::fs::write(path, bytes).expect("a file that can be written");
        }
    }
}

/// What differs, or nothing.
fn report(folder: &str, kept: &Pages, pages: &Pages) -> Option<String> {
    let mut lines = Vec::new();
    let mut shown = 0;
    for (name, new) in pages {
        match kept.get(name) {
            None => lines.push(format!(
                "{folder}/{name}: printed, but no such file is kept"
            )),
            Some(old) => {
                let Some(found) = difference(old, new) else {
                    continue;
                };
                let Difference { gone, added, first } = found;
                lines.push(format!(
                    "{folder}/{name}: lines that differ: {gone} kept (-), {added} printed (+)"
                ));
                if shown < SHOWN {
                    lines.push(first);
                }
                shown += 1;
            }
        }
    }
    let extra = kept.keys().filter(|name| !pages.contains_key(*name));
    lines.extend(extra.map(|name| format!("{folder}/{name}: kept, but nothing prints it")));
    if lines.is_empty() {
        return None;
    }
    if shown > SHOWN {
        lines.push(format!(
            "({SHOWN} of {shown} files that differ are shown with their lines)"
        ));
    }
    lines.push(format!(
        "Is the change meant? Then this writes the files anew; read `git diff {folder}` afterwards:\n\n    {COMMAND}\n"
    ));
    Some(lines.join("\n"))
}

#[test]
fn a_file_too_few_or_too_many_is_told() {
    let page = |name: &str, text: &str| (name.to_string(), text.as_bytes().to_vec());
    let kept = Pages::from([page("a.txt", "one\n"), page("old.txt", "")]);
    let printed = Pages::from([page("a.txt", "one\n"), page("new.txt", "")]);
    let told = report("folder", &kept, &printed).expect("a difference");
    assert!(told.contains("folder/new.txt: printed, but no such file is kept"));
    assert!(told.contains("folder/old.txt: kept, but nothing prints it"));
    assert!(!told.contains("a.txt") && told.contains(COMMAND));
    assert_eq!(report("folder", &kept, &kept), None);
}

#[test]
fn what_is_written_anew_then_agrees() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"))
        .join("golden")
        .join(format!("rewritten.{}", std::process::id()));
    let _ = std::fs::remove_dir_all(&folder);
    let old = Pages::from([("gone.txt".to_string(), b"gone".to_vec())]);
    rewrite(&folder, &Pages::new(), &old);
    assert_eq!(read(&folder), old);
    let new = Pages::from([("plan/a.csv".to_string(), b"a\r\n".to_vec())]);
    rewrite(&folder, &old, &new);
    assert_eq!(read(&folder), new);
    std::fs::remove_dir_all(&folder).expect("it was written");
}
