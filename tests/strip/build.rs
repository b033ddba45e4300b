//! Sheets in a line or two, and a piece of the model they give, solved on its own.

use evenrun::exact::{CutPitch, ExactLength};
use evenrun::network::*;
use evenrun::quantity::*;
use evenrun::strip::{
    CellSpec, EmitterSpec as Emitter, PowerBasis, RailSpec as Rails, StripSpec, TapeModel,
};

pub fn mm(length: i64) -> ExactLength {
    ExactLength::from_millimetres(length)
}

pub fn pitch(text: &str) -> CutPitch {
    text.parse().expect("a pitch of the test")
}

pub fn emitter(name: &str, cell: CellSpec) -> Emitter {
    Emitter {
        name: name.into(),
        cell,
        flux: None,
    }
}

/// Constant current, held far below the voltages of the tests.
pub fn regulated(milli: f64) -> CellSpec {
    CellSpec::ConstantCurrent {
        diodes: 3,
        forward: volts(3.0),
        current: milliamps(milli),
        drop_out: volts(0.5),
    }
}

/// Nothing below 18 V, `milli` at 24 V.
pub fn knee(milli: f64) -> CellSpec {
    CellSpec::StraightLine {
        knee: volts(18.0),
        current: milliamps(milli),
    }
}

/// Six diodes of 3 V and a ballast, `milli` at 24 V.
pub fn string(milli: f64) -> CellSpec {
    CellSpec::Series {
        diodes: 6,
        forward: volts(3.0),
        current: milliamps(milli),
        ballast: None,
    }
}

/// A 24 V tape with a cut every 50 mm and a reel of 5 m.
pub fn tape(emitters: Vec<Emitter>, rails: Rails) -> StripSpec {
    StripSpec {
        name: "sample".into(),
        rated: volts(24.0),
        polarity: Polarity::CommonPlus,
        pitch: pitch("50 mm"),
        cells: 1,
        emitters,
        rails,
        power: None,
        power_basis: PowerBasis::Unknown,
        longest_branch: None,
        pad_current: None,
        bend_radius: None,
        reel: mm(5000),
        reel_joint: None,
        splices: None,
        highest_volts: None,
        highest_ambient: None,
        ingress: None,
        price: None,
    }
}

pub fn stated(common: f64, returns: f64) -> Rails {
    Rails::Stated {
        common: ohms_per_metre(common),
        returns: ohms_per_metre(returns),
    }
}

/// What a piece of the nominal model shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Seen {
    /// Cells of the first emitter, V.
    pub volts: Vec<f64>,
    /// Least last cell over the emitters, V.
    pub far: f64,
    /// Current of the last increment, all emitters, A.
    pub last: f64,
    /// Power into the piece, W.
    pub watts: f64,
}

/// Solves `cells` increments of a model fed stiffly with `fed` at its first mark, or at both ends, through
/// `lead` times an increment of rail.
pub fn see(model: &TapeModel, cells: usize, fed: f64, both: bool, lead: f64) -> Seen {
    let mut spec = NetworkSpec::new();
    let (plus, minus) = (spec.node("plus"), spec.node("minus"));
    spec.stiff_source("feed", plus, minus, volts(fed));
    let rail = |node, increment: ElectricalResistance| {
        let mut attachments = vec![Attachment::through(0, node, increment * lead)];
        if both {
            attachments.push(Attachment::through(cells - 1, node, increment * lead));
        }
        RailSpec::uniform(increment, attachments)
    };
    let emitters = model
        .emitters
        .iter()
        .map(|emitter| EmitterSpec {
            name: emitter.name.clone(),
            lit: true,
            law: spec.law(emitter.law.nominal.clone()),
            exceptions: Vec::new(),
            rail: rail(minus, emitter.rail.nominal),
        })
        .collect();
    let tape = spec.tape(TapeSpec {
        name: "piece".into(),
        polarity: model.polarity,
        cells,
        common: rail(plus, model.common.nominal),
        emitters,
    });
    let network = spec.check().expect("a network of the test");
    let mut work = Workspace::new();
    let options = SolveOptions {
        step_tolerance: volts(1e-12),
        ..SolveOptions::default()
    };
    let solution = network.solve(&options, &mut work).expect("a solution");
    let found = solution.tape(tape).expect("the tape");
    let emitters = 0..model.emitters.len();
    Seen {
        volts: found.cell_volts(0).to_vec(),
        far: emitters
            .clone()
            .map(|e| found.cell_volts(e)[cells - 1])
            .fold(f64::INFINITY, f64::min),
        last: emitters.map(|e| found.cell_amps(e)[cells - 1]).sum(),
        watts: solution.total_source_power().value,
    }
}
