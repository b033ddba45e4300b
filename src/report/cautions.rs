//! What every plan says before anyone acts on it.

/// The one line of a page that does not print them all.
pub(super) const CAUTION: &str = "This is calculation, not an approval: read the cautions and what was not evaluated in the full set; \
                                  local codes govern, and licensed people design and connect.";

/// One caution: a few words, and what they mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Caution {
    /// The few words.
    pub title: &'static str,
    /// What they mean.
    pub text: &'static str,
}

/// The cautions. Every text and every Markdown plan prints them before its schedules.
pub const CAUTIONS: &[Caution] = &[
    Caution {
        title: "No limit exceeded is not conformity",
        text: "\"Pass\" means that a limit encoded here is kept by the figures given. It does not mean that the \
               installation conforms to any code or standard; nothing here replaces the judgement of the inspector.",
    },
    Caution {
        title: "Some checks were not run",
        text: "The schedule \"Not evaluated\" names each and says what is missing. Read it before the findings that \
               passed: silence about a place is not a pass.",
    },
    Caution {
        title: "Some values are assumed",
        text: "Where the job is silent a value was taken; the schedule \"Assumptions\" holds every one. A class or mark \
               that is not stated counts as absent.",
    },
    Caution {
        title: "Marks must be read on the label",
        text: "Shock-protection class, energy class (such as Class 2), ingress and temperature ratings stand here as the \
               job states them. Verify each on the equipment delivered before it is connected.",
    },
    Caution {
        title: "Work for licensed persons",
        text: "Design, mains work, protection, connection and inspection belong to licensed persons under the code in \
               force at the place. This plan calculates; it decides nothing for them.",
    },
    Caution {
        title: "Editions of tables",
        text: "Limits and tables are those of the editions named under \"Sources\". Where another edition is in force, \
               its figures govern.",
    },
    Caution {
        title: "Quoted, from memory, common practice, assumed",
        text: "A source marked \"quoted\" is known as another document quotes it, not from its own text; one marked \"from memory\" was not confirmed in any document; \"common practice\" is good practice of the trade with no published limit behind it, and an assumption of this library has no source at all. Confirm each before relying on it.",
    },
    Caution {
        title: "Bad joints do not show here",
        text: "A loose or corroded joint can heat or arc at a current that no fuse and no supply limit notices. None of \
               these checks sees it: inspect the joints, and measure across them under load.",
    },
    Caution {
        title: "Control data is not checked",
        text: "A DMX512 packet of levels carries no check sum: a wrong level can arrive unnoticed. Nothing whose wrong \
               level could hurt belongs on it (ANSI E1.11-2008, clauses 1.3 and 1.5, quoted by another document).",
    },
    Caution {
        title: "Two supplies, one run",
        text: "A run fed from two supplies stays live while either is on. Switch off and secure every supply that \
               reaches it, and prove it dead before work.",
    },
];
