//! Every key of a job file: what it says, what is accepted, what is taken when silent, an example.
//!
//! ```sh
//! cargo run --example keys              # the whole page
//! cargo run --example keys -- feeder    # the tables and keys that name it
//! ```

use std::io::Write as _;
use std::process::ExitCode;

fn main() -> ExitCode {
    let mut arguments = std::env::args().skip(1);
    let word = arguments.next();
    if arguments.next().is_some() || word.as_deref().is_some_and(|word| word.starts_with('-')) {
        eprintln!("usage: keys [WORD]");
        return ExitCode::from(2);
    }
    let page = match word {
        None => evenrun::job::KEYS.trim_start().to_string(),
        Some(word) => naming(&word),
    };
    if page.is_empty() {
        eprintln!("no key, table or word of the page is like that");
        return ExitCode::FAILURE;
    }
    // A reader who leaves early is no fault.
    let _ = std::io::stdout().write_all(page.as_bytes());
    ExitCode::SUCCESS
}

/// Tables whose heading has the word, and the rows that have it, each under its heading.
fn naming(word: &str) -> String {
    let word = word.to_lowercase();
    let has = |line: &str| line.to_lowercase().contains(&word);
    let mut page = String::new();
    let mut heading = "";
    let mut shown = "";
    for line in evenrun::job::KEYS.lines() {
        if line.starts_with('#') {
            heading = line;
        }
        let row =
            line.starts_with('|') && !line.starts_with("| key |") && !line.starts_with("| ---");
        if row && (has(line) || has(heading)) {
            if shown != heading {
                page.push_str(&format!("\n{heading}\n\n"));
                shown = heading;
            }
            page.push_str(line);
            page.push('\n');
        }
    }
    page.trim_start().to_string()
}
