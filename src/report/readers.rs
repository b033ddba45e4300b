//! One file a reader: who reads it, and the schedules that they need.

use super::document::{blocks_for, schedules};
use super::printed::Printed;
use super::{schedule::Schedule, text};
use crate::design::Design;

/// A reader of the plan.
pub(super) struct Reader {
    /// Stem of the file.
    pub(super) key: &'static str,
    /// The first sentence: for whom it is.
    pub(super) says: &'static str,
    /// Keys of the schedules, in order.
    pub(super) schedules: &'static [&'static str],
    /// Whether they decide or connect something: then every caution stands in full.
    pub(super) decides: bool,
}

/// The readers, each with a file.
pub(super) const READERS: &[Reader] = &[
    Reader {
        key: "designer",
        says: "For the designer: what is broken or open, each run, what was chosen and why, what was assumed.",
        schedules: &[
            "findings",
            "not-evaluated",
            "runs",
            "segments",
            "levers",
            "choices",
            "energy",
            "assumptions",
            "sources",
        ],
        decides: true,
    },
    Reader {
        key: "electrician",
        says: "For the electrician: supplies, cables and feeds, and what protects each conductor.",
        schedules: &["supplies", "cables", "feeds", "protection"],
        decides: true,
    },
    Reader {
        key: "bench",
        says: "For the bench: tape to cut and from which reel, bars to saw.",
        schedules: &["cuts", "reels", "bars"],
        decides: false,
    },
    Reader {
        key: "programmer",
        says: "For the programmer: decoders, what each output dims, addresses and data chains.",
        schedules: &["decoders", "outputs", "addresses", "chains", "data_cables"],
        decides: false,
    },
    Reader {
        key: "purchasing",
        says: "For purchasing: what to buy, with prices where the job states them.",
        schedules: &["materials"],
        decides: false,
    },
    Reader {
        key: "site",
        says: "For the site: readings to expect, with room to write; a run at a time stands in run_sheets.txt.",
        schedules: &["readings", "supplies", "data_cables"],
        decides: true,
    },
];

/// A file a reader, as its name and content.
pub(super) fn files(design: &Design, width: usize) -> Vec<(String, String)> {
    let printed = Printed::of(design);
    let all: Vec<Schedule> = schedules(&printed);
    let each = READERS.iter().map(|reader| {
        let blocks = blocks_for(&printed, &all, reader);
        (format!("{}.txt", reader.key), text::set(blocks, width))
    });
    each.collect()
}
