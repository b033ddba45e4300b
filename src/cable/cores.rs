//! Cables: named, with cores that have functions.

use super::ampacity::{Ampacity, Asked, NoTable, look_up};
use super::installation::Installation;
use super::metal::{Construction, Metal};
use super::resistance::{Conductor, Resistance, ResistanceError};
use super::size::ConductorSize;
use super::tables::materials;
use crate::quantity::{
    ElectricCurrent, ElectricalResistance, LinearMass, Mass, RouteLength, ThermodynamicTemperature,
    amps, celsius, in_celsius, kilograms_per_metre, ohms, show,
};
use crate::source::Source;
use serde::{Deserialize, Serialize};
use thiserror::Error;

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
    /// Hottest ambient that it holds for.
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

/// One thing wrong with a cable, or with a question to it.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum CableError {
    /// No name.
    #[error("a cable has no name: give it one, such as \"feeder 5 x 0.75\"")]
    NoName,
    /// Too few or too many cores.
    #[error("cable `{cable}` has {found} cores; a cable here has 1 to {MOST_CORES}")]
    Cores {
        /// The cable.
        cable: String,
        /// How many.
        found: usize,
    },
    /// Two cores of one name.
    #[error(
        "cable `{cable}` has two cores called `{core}`: an installer could not tell them apart"
    )]
    SameCore {
        /// The cable.
        cable: String,
        /// The name.
        core: String,
    },
    /// No core carries the common.
    #[error("cable `{cable}` has returns but no common core: current would have no way there")]
    NoCommon {
        /// The cable.
        cable: String,
    },
    /// The insulation rating is no rating.
    #[error(
        "cable `{cable}`: an insulation rating of {found} is outside 60 °C to 250 °C, the ratings that are sold"
    )]
    Rating {
        /// The cable.
        cable: String,
        /// The rating.
        found: String,
    },
    /// A stated ampacity that is not a positive number.
    #[error(
        "cable `{cable}`: a stated ampacity of {found} is not above zero, or is for no loaded core"
    )]
    Stated {
        /// The cable.
        cable: String,
        /// The figure.
        found: String,
    },
    /// A core that the cable does not have.
    #[error("cable `{cable}` has {cores} cores, numbered from 0; there is no core {asked}")]
    NoCore {
        /// The cable.
        cable: String,
        /// How many it has.
        cores: usize,
        /// Which was asked for.
        asked: usize,
    },
    /// A core hotter than its insulation bears.
    #[error(
        "cable `{cable}`: a core at {found} is hotter than its insulation bears, {rated}; lower the load or take a hotter rating"
    )]
    TooHot {
        /// The cable.
        cable: String,
        /// The temperature asked for.
        found: String,
        /// The rating.
        rated: String,
    },
    /// A length that is negative or no number.
    #[error("cable `{cable}`: a route of {found} m is no length; give zero or more")]
    Route {
        /// The cable.
        cable: String,
        /// The length, m.
        found: f64,
    },
    /// A current for an emitter that has no return core.
    #[error(
        "cable `{cable}` has no return core for emitter {emitter}, which is to carry {current}"
    )]
    NoReturn {
        /// The cable.
        cable: String,
        /// The emitter, from 0.
        emitter: usize,
        /// Its current.
        current: String,
    },
    /// No table or formula gives the resistance.
    #[error("cable `{cable}`: {error}")]
    Resistance {
        /// The cable.
        cable: String,
        /// Why.
        error: ResistanceError,
    },
}

/// One core of a checked cable.
#[derive(Debug, Clone, PartialEq)]
pub struct Core {
    name: String,
    function: CoreFunction,
    conductor: Conductor,
}

impl Core {
    /// Colour or number.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }
    /// What it carries.
    #[must_use]
    pub fn function(&self) -> CoreFunction {
        self.function
    }
    /// Size, metal, construction.
    #[must_use]
    pub fn conductor(&self) -> Conductor {
        self.conductor
    }
}

/// A checked cable.
///
/// ```
/// use evenrun::cable::{Cable, CableSpec};
/// use evenrun::quantity::{RouteLength, celsius, metres};
/// let cable = CableSpec::two_core("feeder", "18 AWG".parse()?).check().map_err(|e| format!("{e:?}"))?;
/// let core = cable.core_resistance(0, RouteLength::new(metres(5.0)), celsius(75.0))?;
/// assert!((core.value - 5.0 * 26.1e-3).abs() < 1e-9); // stranded 18 AWG, 26.1 Ω/km at 75 °C
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Cable {
    name: String,
    cores: Vec<Core>,
    jacket: String,
    insulation_rating: Option<ThermodynamicTemperature>,
    stated_ampacity: Option<StatedAmpacity>,
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
            super::size::SizeSystem::American => Construction::Stranded,
            super::size::SizeSystem::Metric => Construction::Class5,
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

impl Cable {
    /// Name in the job.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The cores, in the order of the sheath.
    #[must_use]
    pub fn cores(&self) -> &[Core] {
        &self.cores
    }

    /// Type and jacket rating as marked.
    #[must_use]
    pub fn jacket(&self) -> &str {
        &self.jacket
    }

    /// Rating of the insulation, where stated.
    #[must_use]
    pub fn insulation_rating(&self) -> Option<ThermodynamicTemperature> {
        self.insulation_rating
    }

    /// Index of the first core with a function.
    #[must_use]
    pub fn core_for(&self, function: CoreFunction) -> Option<usize> {
        self.cores.iter().position(|core| core.function == function)
    }

    fn core(&self, core: usize) -> Result<&Core, CableError> {
        self.cores.get(core).ok_or_else(|| CableError::NoCore {
            cable: self.name.clone(),
            cores: self.cores.len(),
            asked: core,
        })
    }

    /// Resistance per length of one core at a core temperature, with basis, source and assumptions.
    ///
    /// # Errors
    /// No such core, hotter than the insulation bears, or outside the tables.
    pub fn core_resistance_per_length(
        &self,
        core: usize,
        at: ThermodynamicTemperature,
    ) -> Result<Resistance, CableError> {
        let core = self.core(core)?;
        if let Some(rated) = self.insulation_rating
            && at.value > rated.value
        {
            return Err(CableError::TooHot {
                cable: self.name.clone(),
                found: show(at),
                rated: show(rated),
            });
        }
        core.conductor
            .resistance(at)
            .map_err(|error| CableError::Resistance {
                cable: self.name.clone(),
                error,
            })
    }

    /// Resistance of one core over `route`, at core temperature `at`. A loop is two cores.
    ///
    /// # Errors
    /// As [`Cable::core_resistance_per_length`], and a route that is no length.
    pub fn core_resistance(
        &self,
        core: usize,
        route: RouteLength,
        at: ThermodynamicTemperature,
    ) -> Result<ElectricalResistance, CableError> {
        let metres = self.route(route)?;
        let found = self.core_resistance_per_length(core, at)?;
        Ok(ohms(found.per_length.value * metres))
    }

    fn route(&self, route: RouteLength) -> Result<f64, CableError> {
        let metres = route.length().value;
        if !(metres >= 0.0 && metres.is_finite()) {
            return Err(CableError::Route {
                cable: self.name.clone(),
                found: metres,
            });
        }
        Ok(metres)
    }

    /// What was assumed because the specification did not say.
    #[must_use]
    pub fn assumptions(&self) -> Vec<String> {
        let mut out: Vec<String> = Vec::new();
        for core in &self.cores {
            if let Ok(found) = core.conductor.resistance(celsius(20.0)) {
                for line in found.assumed {
                    if !out.contains(&line) {
                        out.push(line);
                    }
                }
            }
        }
        out
    }

    /// The current of every core when each emitter draws its own: the common carries the sum.
    ///
    /// Cores of one function share by area. Spare and earth cores carry none.
    ///
    /// # Errors
    /// [`CableError::NoReturn`] for an emitter with current and no return core.
    pub fn core_currents(
        &self,
        emitters: &[ElectricCurrent],
    ) -> Result<Vec<ElectricCurrent>, CableError> {
        let sum: f64 = emitters.iter().map(|current| current.value).sum();
        for (emitter, current) in emitters.iter().enumerate() {
            if current.value != 0.0 && self.core_for(CoreFunction::Return(emitter)).is_none() {
                return Err(CableError::NoReturn {
                    cable: self.name.clone(),
                    emitter,
                    current: show(*current),
                });
            }
        }
        let together = |function| -> f64 {
            self.cores
                .iter()
                .filter(|core| core.function == function)
                .map(|core| core.conductor.size.area().value)
                .sum()
        };
        Ok(self
            .cores
            .iter()
            .map(|core| {
                let whole = match core.function {
                    CoreFunction::Common => sum,
                    CoreFunction::Return(emitter) => {
                        emitters.get(emitter).map_or(0.0, |current| current.value)
                    }
                    CoreFunction::Spare | CoreFunction::Earth => return amps(0.0),
                };
                amps(whole * core.conductor.size.area().value / together(core.function))
            })
            .collect())
    }

    /// What one core may carry, installed so, with so many conductors loaded around it (itself included).
    ///
    /// # Errors
    /// [`NoTable`]: no table covers this cable used so. That is an answer.
    pub fn core_ampacity(
        &self,
        core: usize,
        ambient: ThermodynamicTemperature,
        loaded_cores: usize,
        installation: Installation,
    ) -> Result<Ampacity, NoTable> {
        let Some(conductor) = self.cores.get(core).map(|core| core.conductor) else {
            return Err(NoTable {
                what: format!("core {core} of cable `{}`", self.name),
                because: "the cable has no such core".to_string(),
                table: installation.to_string(),
                covers: format!("cores 0 to {}", self.cores.len().saturating_sub(1)),
            });
        };
        if installation == Installation::Stated {
            return self.stated(conductor, ambient, loaded_cores);
        }
        look_up(&Asked {
            conductor,
            rating: self.insulation_rating.map(in_celsius),
            ambient: in_celsius(ambient),
            loaded: loaded_cores,
            installation,
        })
    }

    /// What the cable may carry per core: the least over its current-carrying cores.
    ///
    /// # Errors
    /// [`NoTable`] as soon as one core is not covered.
    pub fn ampacity(
        &self,
        ambient: ThermodynamicTemperature,
        loaded_cores: usize,
        installation: Installation,
    ) -> Result<Ampacity, NoTable> {
        let thinnest = self
            .cores
            .iter()
            .enumerate()
            .filter(|(_, core)| {
                matches!(
                    core.function,
                    CoreFunction::Common | CoreFunction::Return(_)
                )
            })
            .min_by_key(|(_, core)| core.conductor.size)
            .map_or(0, |(index, _)| index);
        self.core_ampacity(thinnest, ambient, loaded_cores, installation)
    }

    fn stated(
        &self,
        conductor: Conductor,
        ambient: ThermodynamicTemperature,
        loaded: usize,
    ) -> Result<Ampacity, NoTable> {
        let no = |because: String, covers: String| NoTable {
            what: format!("{conductor} in cable `{}`", self.name),
            because,
            table: "the cable's own specification".to_string(),
            covers,
        };
        let Some(stated) = &self.stated_ampacity else {
            return Err(no(
                "the specification states no ampacity".to_string(),
                "nothing".to_string(),
            ));
        };
        let covers = format!(
            "up to {} and {} loaded cores",
            show(stated.ambient),
            stated.loaded_cores
        );
        if !(ambient.value <= stated.ambient.value) {
            return Err(no(format!("the ambient is {}", show(ambient)), covers));
        }
        if loaded > stated.loaded_cores {
            return Err(no(format!("{loaded} cores are loaded"), covers));
        }
        Ok(Ampacity {
            current: stated.current,
            tabulated: stated.current,
            source: stated.source.clone(),
            table: "",
            corrections: Vec::new(),
            largest_device: None,
            notes: vec!["stated, not looked up here".to_string()],
        })
    }

    /// Copper per length of the whole cable: nominal areas times 8.89 g/cm³ (IEC 60028), clad metal by its share.
    #[must_use]
    pub fn copper_per_length(&self) -> LinearMass {
        let kilograms: f64 = self
            .cores
            .iter()
            .map(|core| {
                core.conductor.size.area().value
                    * core.conductor.metal.copper_share()
                    * materials::COPPER_DENSITY
            })
            .sum();
        kilograms_per_metre(kilograms)
    }

    /// Copper in a length of the cable.
    #[must_use]
    pub fn copper_mass(&self, route: RouteLength) -> Mass {
        self.copper_per_length() * route.length()
    }
}

/// The thinnest standard size whose resistance at a core temperature is at most `limit`.
///
/// `None` when no size listed for this metal and construction reaches it.
#[must_use]
pub fn thinnest_with_at_most(
    limit: crate::quantity::LinearResistance,
    metal: Metal,
    construction: Construction,
    at: ThermodynamicTemperature,
    system: super::size::SizeSystem,
) -> Option<ConductorSize> {
    ConductorSize::standard_sizes(system)
        .into_iter()
        .find(|&size| {
            Conductor {
                size,
                metal,
                construction,
            }
            .resistance(at)
            .is_ok_and(|found| found.per_length.value <= limit.value)
        })
}
