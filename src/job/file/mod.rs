//! The job file: TOML with units in the text.
//!
//! Read in three steps, none of which stops at the first fault: flat checks of the whole text
//! (`scan`), a tree with the place of every value and every fault of its writing (the `toml`
//! crate), and a decoder that takes each field by itself (`table`). What is wrong with names,
//! ranges and references is said by [`check`](super::check), with the places noted here.
//!
//! What the file is silent about and a plan needs is taken (`short`), and noted as such.

mod candidates;
mod choice;
mod common_words;
mod control;
mod fields;
mod fixed;
mod general;
mod lines;
mod places;
mod products;
mod runs;
mod scan;
mod short;
mod table;
mod tape;
mod units;

use super::check::{finish, walk};
use super::checked::Job;
use super::fault::{Fault, FaultKind, Faults, JobFaults};
use super::spec::JobSpec;
use super::subjects::Subjects;
use crate::quantity::shorten;
use lines::Lines;
use std::cell::RefCell;
use std::collections::BTreeSet;
use table::{Shared, Table};
use toml::de::DeTable;

/// Version of the file's layout that is read.
pub const SCHEMA: u64 = 1;

/// Largest file of which every fault of writing is told, in bytes.
const MOST_RECOVERED: usize = 1 << 20;

/// Reads a job file; `file_name` is only for messages.
///
/// Units stand in the text (`"7.5 m"`, `"25 ft"`, `"24 V"`): a bare number for a dimensioned
/// field is refused, as is any key that is not known. A byte order mark and either kind of line
/// ending are taken.
///
/// Time and memory are proportional to the length of the text.
///
/// # Errors
/// [`JobFaults`]: all faults of the file in its order, each with line and column, table and
/// field, what was found, what is accepted and how to mend it. Of a file of more than 1 MiB
/// that is not TOML, only the first fault of its writing.
///
/// # Example
/// ```
/// let faults = evenrun::job::read("schema = 1\ntitle = 7.5", "job.toml").unwrap_err();
/// assert!(faults.to_string().contains("job.toml:2:9: title is the number 7.5, where text is needed"));
/// ```
pub fn read(text: &str, file_name: &str) -> Result<Job, JobFaults> {
    read_bytes(text.as_bytes(), file_name)
}

/// Reads a job file as it comes from the disk: also says so if it is not UTF-8.
///
/// # Errors
/// As [`read`].
pub fn read_bytes(bytes: &[u8], file_name: &str) -> Result<Job, JobFaults> {
    let alone = |fault: Box<Fault>| {
        let mut faults = Faults::default();
        faults.push(*fault);
        faults.into_job_faults(file_name)
    };
    let text = scan::text_of(bytes).map_err(alone)?;
    scan::check_shape(text, &Lines::new(text)).map_err(alone)?;

    let shared = Shared {
        lines: Lines::new(text),
        faults: RefCell::new(Faults::default()),
        taken: RefCell::default(),
    };
    // Every fault of writing is kept until the end: of a large file only the first is told.
    let (tree, errors) = if text.len() <= MOST_RECOVERED {
        DeTable::parse_recoverable(text)
    } else {
        match DeTable::parse(text) {
            Ok(tree) => (tree, Vec::new()),
            Err(error) => {
                syntax(&error, text, &shared);
                return Err(shared.faults.into_inner().into_job_faults(file_name));
            }
        }
    };
    let broken_lines: BTreeSet<usize> = errors
        .iter()
        .map(|error| syntax(error, text, &shared))
        .collect();
    let root = Table::new(&shared, Some(tree.get_ref()), 0..0, String::new());
    if let Some(fault) = newer_schema(&root) {
        return Err(alone(Box::new(fault)));
    }
    let mut spec = job(root);
    spec.units = units::of(tree.get_ref());
    let mut faults = shared.faults.into_inner();
    if broken_lines.is_empty() {
        return finish(spec, faults, file_name);
    }
    // After a fault of writing the tree may lack what the file has: what only the lack of
    // something gives rise to is not said, nor anything about the line itself.
    walk(&spec, &mut faults);
    faults.retain(|fault| {
        let on_broken_line = fault
            .place
            .is_some_and(|place| broken_lines.contains(&place.line));
        let may_be_lack = matches!(
            fault.kind,
            FaultKind::Missing | FaultKind::UnknownName | FaultKind::Contradiction
        );
        fault.kind == FaultKind::Syntax || !(may_be_lack || on_broken_line)
    });
    Err(faults.into_job_faults(file_name))
}

/// Notes a fault of writing and answers with its line.
fn syntax(error: &toml::de::Error, text: &str, shared: &Shared<'_>) -> usize {
    let span = error.span().unwrap_or(0..0);
    let place = shared.lines.place(span.start);
    let found = text.get(span).unwrap_or("").trim();
    let message = error.message();
    let (says, remedy) = if message.contains("duplicate key") {
        (
            format!("the key `{}` is given twice in one table", shorten(found)),
            "Keep one of them".to_string(),
        )
    } else {
        let found = if found.is_empty() {
            String::new()
        } else {
            format!(" at `{}`", shorten(found))
        };
        (
            format!("this is not TOML{found}: {message}"),
            "Text stands between quotation marks, lists in [ ], tables in { }".to_string(),
        )
    };
    shared.faults.borrow_mut().push(Fault {
        kind: FaultKind::Syntax,
        place: Some(place),
        subject: String::new(),
        field: String::new(),
        says,
        remedy,
        accepted: String::new(),
        suggestion: String::new(),
    });
    place.line
}

/// A file of a newer layout is not read at all: its other keys may mean something else.
fn newer_schema(root: &Table<'_>) -> Option<Fault> {
    let value = root.value("schema")?;
    let number = value.get_ref().as_integer()?;
    let version = u64::from_str_radix(number.as_str(), number.radix()).ok()?;
    (version > SCHEMA).then(|| Fault {
        kind: FaultKind::File,
        place: Some(root.place_of(value)),
        subject: String::new(),
        field: "schema".to_string(),
        says: format!("is {version}, newer than the {SCHEMA} that this version reads"),
        remedy: "Use a newer version of the program".to_string(),
        accepted: String::new(),
        suggestion: String::new(),
    })
}

/// Tables that others take something from are read before them.
fn job(root: Table<'_>) -> JobSpec {
    let mut subjects = Subjects::default();
    root.count("schema", 1..=SCHEMA);
    let stated = general::limits(root.table_called("limits"));
    let limits = stated.resolve();
    let mut spec = JobSpec {
        title: root.text("title", "what the job is called"),
        note: root.text_or_empty("note"),
        currency: root.maybe_text("currency"),
        costs: general::costs(root.table_called("costs")),
        strips: read_all(&root, "strip", &mut subjects, tape::strip),
        limits: stated,
        ..JobSpec::default()
    };
    let cores = short::cores(&spec);
    spec.cables = read_all(&root, "cable", &mut subjects, |table| {
        products::cable(table, cores)
    });
    spec.supplies = read_all(&root, "supply", &mut subjects, products::supply);
    spec.decoders = read_all(&root, "decoder", &mut subjects, products::decoder);
    spec.profiles = read_all(&root, "profile", &mut subjects, runs::profile);
    spec.places = read_all(&root, "place", &mut subjects, places::place);
    short::place(&root, &mut spec);
    spec.zones = read_all(&root, "zone", &mut subjects, |table| {
        places::zone(table, &spec)
    });
    short::zone(&root, &mut spec);
    spec.runs = read_all(&root, "run", &mut subjects, |table| {
        runs::run(table, &limits, &spec)
    });
    spec.installed = read_all(&root, "installed", &mut subjects, fixed::installed);
    spec.universes = read_all(&root, "universe", &mut subjects, control::universe);
    spec.chains = read_all(&root, "chain", &mut subjects, control::chain);
    spec.candidates = read_all(&root, "candidate", &mut subjects, candidates::candidate);
    short::control(&root, &mut spec);
    spec.taken = root.shared.taken.take();
    root.done();
    spec
}

fn read_all<'t, T>(
    root: &Table<'t>,
    key: &'static str,
    subjects: &mut Subjects,
    read: impl Fn(Table<'t>) -> T,
) -> Vec<T> {
    root.named_tables(key, subjects)
        .into_iter()
        .map(read)
        .collect()
}
