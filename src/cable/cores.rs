//! Checked cables: named, with cores that have functions.

use super::ampacity::{
    Ampacity, Asked, Correction, CorrectionKind, NoTable, ambient_factor_by_formula, look_up,
};
use super::error::CableError;
use super::installation::Installation;
use super::metal::{Construction, Metal};
use super::resistance::{Conductor, Resistance};
use super::size::{ConductorSize, SizeSystem};
use super::spec::{CoreFunction, StatedAmpacity};
use super::tables::materials;
use crate::quantity::{
    ElectricCurrent, ElectricalResistance, LinearMass, LinearResistance, Mass, RouteLength,
    ThermodynamicTemperature, amps, celsius, in_celsius, kilograms_per_metre, ohms, show,
};
use crate::source::{Source, documents};

/// One core of a checked cable.
#[derive(Debug, Clone, PartialEq)]
pub struct Core {
    pub(super) name: String,
    pub(super) function: CoreFunction,
    pub(super) conductor: Conductor,
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

/// The factor from one ambient to another.
const BY_FORMULA: Source = documents::NEC.at("310.15(B)(1): sqrt((Tc - Ta') / (Tc - Ta))");

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
    pub(super) name: String,
    pub(super) cores: Vec<Core>,
    pub(super) jacket: String,
    pub(super) insulation_rating: Option<ThermodynamicTemperature>,
    pub(super) stated_ampacity: Option<StatedAmpacity>,
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
    ///
    /// ```
    /// use evenrun::cable::{CableSpec, Installation};
    /// use evenrun::quantity::celsius;
    /// let cable = CableSpec::two_core("feeder", "18 AWG".parse()?).check().expect("a cable");
    /// // US code, table 402.5: 18 AWG fixture wire, 6 A at 30 °C.
    /// let found = cable.ampacity(celsius(30.0), 2, "us 402.5".parse()?)?;
    /// assert_eq!(found.current.value, 6.0);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
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

    /// What the common core may carry, and with it each return, where the cores of a cable carry unequal currents: the
    /// common the sum of its returns.
    ///
    /// The heat of a cable is the sum of `I²` over its cores. A table with `n` loaded cores permits `n · Iz²`; the common
    /// and its returns make at most `2 · I²` of the common's current `I`, with one emitter lit alone. So `I` is at most
    /// `Iz(n) · √(n/2)`, and never above the figure for two loaded cores.
    ///
    /// # Errors
    /// As [`Cable::core_ampacity`], for two and for `loaded` cores.
    ///
    /// # Source
    /// Assumption of this library: equal heat in one sheath, the sum of squares of IEC 60364-5-52's equal currents.
    pub fn common_ampacity(
        &self,
        ambient: ThermodynamicTemperature,
        loaded: usize,
        installation: Installation,
    ) -> Result<Ampacity, NoTable> {
        let many = self.core_ampacity(0, ambient, loaded, installation)?;
        if loaded <= 2 || installation == Installation::Stated {
            return Ok(many);
        }
        let two = self.core_ampacity(0, ambient, 2, installation)?;
        let unequal = libm::sqrt(loaded as f64 / 2.0);
        let mut found = if many.current.value * unequal < two.current.value {
            Ampacity {
                current: many.current * unequal,
                tabulated: many.tabulated * unequal,
                ..many
            }
        } else {
            two
        };
        found.notes.push(format!(
            "cores of unequal current: the common carries the sum of its returns, and the squares of all together stay \
             within those of {loaded} equally loaded cores"
        ));
        Ok(found)
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
        let covers = format!("up to {} loaded cores", stated.loaded_cores);
        if loaded > stated.loaded_cores {
            return Err(no(format!("{loaded} cores are loaded"), covers));
        }
        let found = Ampacity {
            current: stated.current,
            tabulated: stated.current,
            source: stated.source.clone(),
            table: "",
            corrections: Vec::new(),
            largest_device: None,
            notes: vec![format!(
                "stated for {}, not looked up here",
                show(stated.ambient)
            )],
            reference: None,
        };
        let Some(rating) = self.insulation_rating else {
            if ambient.value <= stated.ambient.value {
                return Ok(found);
            }
            let covers = format!("up to {}", show(stated.ambient));
            return Err(no(
                format!(
                    "the ambient is {}, and no insulation rating says what is left there",
                    show(ambient)
                ),
                covers,
            ));
        };
        // Cooler surroundings raise no stated figure.
        let hotter = if ambient.value > stated.ambient.value {
            ambient
        } else {
            stated.ambient
        };
        let factor =
            ambient_factor_by_formula(rating, hotter, stated.ambient).ok_or_else(|| {
                no(
                    format!("the ambient is {}", show(ambient)),
                    format!("below its insulation rating of {}", show(rating)),
                )
            })?;
        Ok(found
            .between(in_celsius(rating), in_celsius(stated.ambient))
            .corrected(vec![Correction {
                kind: CorrectionKind::Ambient,
                what: format!(
                    "ambient {}, stated for {}",
                    show(ambient),
                    show(stated.ambient)
                ),
                factor,
                source: BY_FORMULA,
            }]))
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
    limit: LinearResistance,
    metal: Metal,
    construction: Construction,
    at: ThermodynamicTemperature,
    system: SizeSystem,
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
