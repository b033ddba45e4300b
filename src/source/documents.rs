//! Every document that a figure of this crate is taken from: one constant each, with the one edition that it holds to.
//!
//! [`Document::at`] cites a clause of it. No other file names title and edition of a document, so that two figures of
//! one document cannot stand on two editions. Where a figure was published in an earlier edition and has not been
//! compared with this one, its clause says so.
//!
//! Which edition is in force at a place is for whoever signs to say. What is known of [newer ones](Document::newer) is
//! printed beside each source.

use super::{Source, SourceKind, Standing};
use std::borrow::Cow;

/// A standard, handbook or paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Document {
    /// Title; one constant for each.
    pub title: &'static str,
    /// The edition that this crate holds to; else why none is named.
    pub edition: &'static str,
    /// A newer edition that is known to exist, with what it is known to change; empty: none is known.
    pub newer: &'static str,
    kind: SourceKind,
    standing: Standing,
}

impl Document {
    const fn standard(title: &'static str, edition: &'static str) -> Self {
        Self {
            title,
            edition,
            newer: "",
            kind: SourceKind::Standard,
            standing: Standing::Quoted,
        }
    }

    const fn handbook(title: &'static str) -> Self {
        Self {
            kind: SourceKind::Handbook,
            ..Self::standard(title, NO_EDITION)
        }
    }

    const fn with_newer(self, newer: &'static str) -> Self {
        Self { newer, ..self }
    }

    /// Its own text is at hand, not only what others quote.
    const fn read(self) -> Self {
        Self {
            standing: Standing::Confirmed,
            ..self
        }
    }

    /// A clause or table of it, as sure as the document is.
    #[must_use]
    pub const fn at(&self, clause: &'static str) -> Source {
        Source {
            title: Cow::Borrowed(self.title),
            edition: Cow::Borrowed(self.edition),
            clause: Cow::Borrowed(clause),
            kind: self.kind,
            standing: self.standing,
        }
    }
}

/// The document that a source cites.
#[must_use]
pub fn of(source: &Source) -> Option<&'static Document> {
    ALL.iter().find(|document| document.title == source.title)
}

/// Where no edition is named.
const NOT_NAMED: &str = "edition not named where it is quoted";
/// What has no editions.
const NO_EDITION: &str = "no editions";

macro_rules! documents {
    ($($(#[$doc:meta])* $name:ident = $document:expr;)*) => {
        $($(#[$doc])* pub const $name: Document = $document;)*

        /// All of them.
        pub const ALL: &[Document] = &[$($name),*];
    };
}

documents! {
    /// Code of the United States. What only the text of 2017 gives is cited as its figures.
    NEC = Document::standard("National Electrical Code", "NFPA 70-2023")
        .read()
        .with_newer("2026: chapters on limited energy rearranged, load calculations moved to article 120, 16 AWG copper on branch circuits; chapter 9 not compared");
    /// Selection and erection of wiring systems.
    IEC_60364_5_52 = Document::standard("IEC 60364-5-52, selection and erection of wiring systems", "2009")
        .with_newer("AMD1:2024 (edition 3.1); whether it touches the ampacity tables is not known");
    /// Protection against overcurrent.
    IEC_60364_4_43 = Document::standard("IEC 60364-4-43, protection against overcurrent", "2008")
        .with_newer("2023 (edition 4): rebuilt, with a table of old and new clauses");
    /// Isolation and switching.
    IEC_60364_4_46 = Document::standard("IEC 60364-4-46, isolation and switching", NOT_NAMED)
        .with_newer("isolation stands in IEC 60364-5-53:2019 with AMD2:2024");
    /// Earthing arrangements: factors k.
    IEC_60364_5_54 = Document::standard("IEC 60364-5-54, earthing arrangements and protective conductors", "2011");
    /// Safety services.
    IEC_60364_5_56 = Document::standard("IEC 60364-5-56, safety services", NOT_NAMED);
    /// British code, and what it adopts of IEC 60364.
    BS_7671 = Document::standard("BS 7671, requirements for electrical installations", "2018 with amendment 4 of 2026");
    /// German ampacities of flexible and many-core cables.
    DIN_VDE_0298_4 = Document::standard("DIN VDE 0298-4", "2013-06")
        .with_newer("2023-06: the figures of table 11 are quoted from it unchanged, table 27 is announced for many cores");
    /// Protection against electric shock.
    IEC_61140 = Document::standard("IEC 61140, protection against electric shock", NOT_NAMED)
        .with_newer("2016 (edition 4)");
    /// Degrees of protection.
    IEC_60529 = Document::standard("IEC 60529, degrees of protection (IP code)", "1989 with AMD1:1999 and AMD2:2013");
    /// Conductors of insulated cables.
    IEC_60228 = Document::standard("IEC 60228, conductors of insulated cables", "2004")
        .with_newer("2023 (edition 4): tables renumbered; figures quoted from it are those of 2004");
    /// Resistance of copper.
    IEC_60028 = Document::standard("IEC 60028, standard of resistance for copper", "1925");
    /// Current rating of cables.
    IEC_60287_1_1 = Document::standard("IEC 60287-1-1, current rating of cables", NOT_NAMED)
        .with_newer("2023");
    /// Miniature cartridge fuses.
    IEC_60127_2 = Document::standard("IEC 60127-2, cartridge fuse-links", "2014");
    /// Blade fuses.
    ISO_8820_3 = Document::standard("ISO 8820-3, fuse-links with tabs (blade type)", "2015")
        .with_newer("final draft in ballot in 2026");
    /// Light-emitting modules.
    IEC_62717 = Document::standard("IEC 62717, LED modules, performance", "2014 with AMD1:2015 and AMD2:2019");
    /// Limited power source.
    IEC_60950_1 = Document::standard("IEC 60950-1, limited power source", NOT_NAMED)
        .with_newer("withdrawn in 2020 in favour of IEC 62368-1 (2023: edition 4), whose annex Q keeps the limited power source");
    /// Transformers and supplies.
    IEC_61558_1 = Document::standard("IEC 61558-1, definition of SELV in the international vocabulary", "2005")
        .with_newer("2017");
    /// Luminaires.
    IEC_60598_1 = Document::standard("IEC 60598-1, luminaires", "2008")
        .with_newer("2024 (edition 10): 8.2.3 c) was rewritten in 2020 for interrupted dc, and the order of clauses is new");
    /// Industrial control equipment.
    UL_508 = Document::standard("UL 508, limited voltage and current circuit", NOT_NAMED);
    /// Copper-clad aluminium.
    ASTM_B566 = Document::standard("ASTM B566, copper-clad aluminium wire", NOT_NAMED);
    /// Tinned copper.
    ASTM_B33 = Document::standard("ASTM B33, tin-coated soft copper wire", "2004").read();
    /// Rigid printed boards.
    IPC_6012 = Document::standard("IPC-6012, rigid printed boards", NOT_NAMED).with_newer("revision F");
    /// Brazilian code.
    NBR_5410 = Document::standard("ABNT NBR 5410 (national sizes below those of IEC 60364-5-52)", "2004");
    /// DMX512-A.
    E1_11 = Document::standard("ANSI E1.11, DMX512-A", "2008 (R2018)")
        .with_newer("2024: break of 92 µs and mark of 12 µs are quoted from it unchanged");
    /// RDM.
    E1_20 = Document::standard("ANSI E1.20, RDM", NOT_NAMED)
        .with_newer("2025: break of 88 to 352 µs and mark of 8 to 88 µs received, a controller waits 176 to 2800 µs for the answer and gives up no sooner than 3000 µs");
    /// Permanently installed control cables.
    E1_27_2 = Document::standard("ANSI E1.27-2, permanently installed control cables", "2009 (R2014)");
    /// Streaming ACN.
    E1_31 = Document::standard("ANSI E1.31, streaming ACN", "2018")
        .with_newer("2025: IPv6; universes 1 to 63999 and packets of 638 octets are quoted from it unchanged");
    /// The line of DMX512.
    TIA_485_A = Document::standard("TIA-485-A", "1998 (R2003)");
    /// The line before it.
    TIA_422_B = Document::standard("TIA-422-B, application guidance", NOT_NAMED);
    /// Data cable.
    USITT = Document::standard("USITT requirements for DMX512 data cable", NOT_NAMED);
    /// What makers and trade pages say of networks.
    DMX_GUIDANCE = Document::handbook("Installation guidance on DMX512 networks");
    /// What makers of receivers teach.
    EIA_485_TRAINING = Document::handbook("EIA-485 training material");
    /// What makers of receivers advise.
    EIA_485_GUIDANCE = Document::handbook("EIA-485 application guidance");
    /// What drives pixels.
    PIXEL_DRIVER = Document::handbook("Notes of an open driver for one-wire pixels");
    /// Electrostatics and magnetostatics.
    TWO_WIRE_LINE = Document::handbook("two-wire line, formulas of electrostatics and magnetostatics");
}
