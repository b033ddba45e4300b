//! Cables as they are specified: plain data, and the check that makes a [`Cable`].

use super::cores::{Cable, Core};
use super::error::CableError;
use super::metal::{Construction, Metal};
use super::resistance::{Conductor, ResistanceError};
use super::size::{ConductorSize, SizeSystem};
use crate::quantity::{ElectricCurrent, ThermodynamicTemperature, celsius, in_celsius, show};
use crate::source::Source;
use serde::{Deserialize, Serialize};

/// Most cores of one cable.
pub const MOST_CORES: usize = 200;

/// What a core carries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum CoreFunction {
    /// The pole that all emitters share: it carries the *sum* of their currents.
    Common,
    /// The return of one emitter, counted from 0.
    Return(usize),
    /// Not connected.
    Spare,
    /// Protective conductor or functional earth.
    Earth,
}

/// One core, as stated.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CoreSpec {
    /// Colour or number, as marked.
    pub name: String,
    /// What it carries.
    pub function: CoreFunction,
    /// Size, where it differs from the cable's.
    #[serde(default)]
    pub size: Option<ConductorSize>,
}

/// An ampacity that the maker or an engineer states.
#[derive(Debug, Clone, PartialEq)]
pub struct StatedAmpacity {
    /// Current per core with every core of the cable loaded.
    pub current: ElectricCurrent,
    /// Ambient that it is stated for; a hotter one takes from it by the insulation rating.
    pub ambient: ThermodynamicTemperature,
    /// Most loaded cores that it holds for.
    pub loaded_cores: usize,
    /// Who says so: document, edition, page.
    pub source: Source,
}

/// A cable as it is specified: plain data, checked by [`CableSpec::check`].
#[derive(Debug, Clone, PartialEq)]
pub struct CableSpec {
    /// Name in the job.
    pub name: String,
    /// Size of the cores.
    pub size: ConductorSize,
    /// Metal of the cores.
    pub metal: Metal,
    /// Construction of the cores.
    pub construction: Construction,
    /// The cores, in the order of the sheath.
    pub cores: Vec<CoreSpec>,
    /// Type and jacket rating as marked on the cable: what a wet, buried, plenum or riser place asks for.
    pub jacket: String,
    /// Rating of the insulation. `None`: not known; the lowest that a table offers is assumed, and said.
    pub insulation_rating: Option<ThermodynamicTemperature>,
    /// Ampacity from outside the tables here.
    pub stated_ampacity: Option<StatedAmpacity>,
}

impl CableSpec {
    /// A two-core cable, plus and minus, of stranded copper (class 5 for a mm² size), insulation rating not stated.
    #[must_use]
    pub fn two_core(name: impl Into<String>, size: ConductorSize) -> Self {
        let core = |name: &str, function| CoreSpec {
            name: name.to_string(),
            function,
            size: None,
        };
        let construction = match size.system() {
            SizeSystem::American => Construction::Stranded,
            SizeSystem::Metric => Construction::Class5,
        };
        Self {
            name: name.into(),
            size,
            metal: Metal::Copper,
            construction,
            cores: vec![
                core("1", CoreFunction::Common),
                core("2", CoreFunction::Return(0)),
            ],
            jacket: String::new(),
            insulation_rating: None,
            stated_ampacity: None,
        }
    }

    /// Checks everything at once.
    ///
    /// # Errors
    /// Every [`CableError`] of the specification, resistance at 20 °C included.
    pub fn check(self) -> Result<Cable, Vec<CableError>> {
        let cable = crate::quantity::shorten(&self.name);
        let mut errors = Vec::new();
        if self.name.trim().is_empty() {
            errors.push(CableError::NoName);
        }
        let count = self.cores.len();
        if count == 0 || count > MOST_CORES {
            errors.push(CableError::Cores {
                cable: cable.clone(),
                found: count,
            });
            return Err(errors);
        }
        for (k, core) in self.cores.iter().enumerate() {
            if self
                .cores
                .iter()
                .take(k)
                .any(|other| other.name == core.name)
            {
                errors.push(CableError::SameCore {
                    cable: cable.clone(),
                    core: crate::quantity::shorten(&core.name),
                });
            }
        }
        let has =
            |wanted: fn(CoreFunction) -> bool| self.cores.iter().any(|core| wanted(core.function));
        if has(|f| matches!(f, CoreFunction::Return(_))) && !has(|f| f == CoreFunction::Common) {
            errors.push(CableError::NoCommon {
                cable: cable.clone(),
            });
        }
        if let Some(rating) = self.insulation_rating
            && !(60.0..=250.0).contains(&in_celsius(rating))
        {
            errors.push(CableError::Rating {
                cable: cable.clone(),
                found: show(rating),
            });
        }
        if let Some(stated) = &self.stated_ampacity {
            let sound = stated.current.value > 0.0 && stated.current.value.is_finite();
            if !sound || stated.loaded_cores == 0 {
                errors.push(CableError::Stated {
                    cable: cable.clone(),
                    found: show(stated.current),
                });
            }
        }
        let mut refused: Vec<ResistanceError> = Vec::new();
        let cores: Vec<Core> = self
            .cores
            .into_iter()
            .map(|core| {
                let conductor = Conductor {
                    size: core.size.unwrap_or(self.size),
                    metal: self.metal,
                    construction: self.construction,
                };
                if let Err(error) = conductor.resistance(celsius(20.0))
                    && !refused.contains(&error)
                {
                    refused.push(error);
                }
                Core {
                    name: core.name,
                    function: core.function,
                    conductor,
                }
            })
            .collect();
        errors.extend(refused.into_iter().map(|error| CableError::Resistance {
            cable: cable.clone(),
            error,
        }));
        if errors.is_empty() {
            Ok(Cable {
                name: self.name,
                cores,
                jacket: self.jacket,
                insulation_rating: self.insulation_rating,
                stated_ampacity: self.stated_ampacity,
            })
        } else {
            Err(errors)
        }
    }
}
