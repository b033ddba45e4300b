//! Constant-power cells: do they work at this state, and which is lowest.

use super::plan::Network;
use super::workspace::Workspace;
use crate::load::Form;
use crate::load::Trend;

impl Network {
    /// Visits every live constant-power load: its voltage, its lowest working voltage, and its name.
    fn each_falling(&self, w: &Workspace, mut visit: impl FnMut(f64, f64, &dyn Fn() -> String)) {
        let from = |law: usize| match &*self.law(law).0 {
            Form::Power { from, .. } => Some(*from),
            _ => None,
        };
        for (load, spec) in self
            .loads
            .iter()
            .zip(&self.spec.loads)
            .filter(|(l, _)| !l.dark)
        {
            if let Some(from) = from(load.law) {
                let across = w.volts[load.plus as usize] - w.volts[load.minus as usize];
                visit(across, from, &|| format!("single load `{}`", spec.name));
            }
        }
        for tape in &self.tapes {
            for (e, emitter) in tape.emitters.iter().enumerate() {
                let usual = from(emitter.law);
                let special = emitter
                    .exceptions
                    .iter()
                    .any(|x| self.law(x.1).trend() == Trend::Falling);
                if usual.is_none() && !special {
                    continue;
                }
                let volts = &w.cell_volts[tape.first_cell + e * tape.cells..][..tape.cells];
                for (cell, &across) in volts.iter().enumerate() {
                    let law = emitter.exceptions.iter().find(|x| x.0 == cell).map(|x| x.1);
                    let from = law.map_or(usual, from);
                    if let Some(from) =
                        from.filter(|_| !emitter.dark.iter().any(|r| r.contains(&cell)))
                    {
                        visit(across, from, &|| {
                            format!("tape `{}`, cell {cell}", self.spec.tapes[tape.index].name)
                        });
                    }
                }
            }
        }
    }

    /// Whether every constant-power load is at or above its lowest working voltage.
    pub(super) fn falling_cells_work(&self, w: &Workspace) -> bool {
        let mut works = true;
        self.each_falling(w, |across, from, _| works &= across >= from);
        works
    }

    /// The lowest constant-power load and its place.
    pub(super) fn lowest_falling(&self, w: &Workspace) -> (f64, String) {
        let mut lowest = (f64::INFINITY, String::new());
        self.each_falling(w, |across, _, place| {
            if across < lowest.0 {
                lowest = (across, place());
            }
        });
        lowest
    }
}
