//! A checked strip, and its model at corners of tolerance.

use super::cells::increments;
use super::class::ABOVE_RATED;
use super::error::{SheetPart, StripError, StripErrors};
use super::model::{CornerSet, TapeEmitter, TapeModel};
use super::power::{self, Scale};
use super::rails::{self, PerMetre};
use super::spec::{Falls, FedFrom, RailSpec, StripSpec};
use crate::load::Law;
use crate::quantity::{
    Corners, LinearPower, LinearResistance, ThermodynamicTemperature, in_celsius, ohms_per_metre,
    show, watts_per_metre,
};
use std::borrow::Cow;

/// A strip whose figures can be: [`StripSpec::check`] makes it.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip(StripSpec);

/// A model, and what it was made from.
#[derive(Debug, Clone)]
pub struct Calibration {
    /// The model.
    pub model: TapeModel,
    /// Common rail per length as it was stated or found, without splices, before tolerance.
    pub common: LinearResistance,
    /// Each return rail, likewise.
    pub returns: LinearResistance,
    /// Temperature at which the two hold.
    pub rails_at: ThermodynamicTemperature,
    /// How many times their stated current the cells draw, before tolerance.
    pub current_scale: Corners<f64>,
    /// Which figures were used, what they could mean otherwise, what was taken.
    pub notes: Vec<String>,
}

impl Strip {
    pub(super) fn checked(spec: StripSpec) -> Self {
        Self(spec)
    }

    /// The sheet.
    #[must_use]
    pub fn spec(&self) -> &StripSpec {
        &self.0
    }

    /// The model of one cut increment at the corners of tolerance.
    ///
    /// # Errors
    /// [`StripError`]: a corner out of range, a maximum run or reading that no rail resistance
    /// explains, a power of a full reel that the cells do not draw.
    pub fn model(&self, corners: &CornerSet) -> Result<TapeModel, StripError> {
        self.parts(corners).map(|(model, ..)| model)
    }

    /// The model, and what it was made from; a maximum run is also read in its other meanings.
    ///
    /// # Errors
    /// As [`Strip::model`].
    pub fn calibrate(&self, corners: &CornerSet) -> Result<Calibration, StripError> {
        let (model, known, scale, nominal) = self.parts(corners)?;
        let mut notes = vec![self.rails_note(&known)];
        notes.extend(self.other_meanings(corners, &nominal));
        notes.extend(scale.note);
        notes.push(super::cells::diode_source().to_string());
        Ok(Calibration {
            model,
            common: ohms_per_metre(known.common),
            returns: ohms_per_metre(known.returns),
            rails_at: known.at,
            current_scale: scale.by,
            notes,
        })
    }

    fn parts(
        &self,
        corners: &CornerSet,
    ) -> Result<(TapeModel, PerMetre, Scale, Vec<Law>), StripError> {
        let strip = &self.0;
        self.corners_can_be(corners)?;
        let sides = strip.sides();
        let scale = power::scale(&sides, corners)?;
        let tolerance = corners.current_tolerance.value;
        let most = (1.0 + tolerance)
            * (1.0 + corners.current_margin.value)
            * stronger_current(&sides, corners)?;
        let laws = |side: &StripSpec, at, times| increments(side, at, times);
        let low = laws(
            &sides.low,
            corners.cell.low,
            scale.by.low * (1.0 - tolerance),
        )?;
        let nominal = laws(&sides.nominal, corners.cell.nominal, scale.by.nominal)?;
        let high = laws(&sides.high, corners.cell.high, scale.by.high * most)?;
        let at = corners.conductor.nominal;
        let known = rails::per_metre(&sides.nominal, &nominal, at)?;
        // Each side of a class by itself: one that meets a maximum run has to meet it with its own strings.
        let of_side = |side: &StripSpec| {
            let laws = increments(side, corners.cell.nominal, scale.by.nominal)?;
            rails::per_metre(side, &laws, at)
        };
        let rails_known = if strip.is_of_a_class() {
            Corners {
                low: of_side(&sides.low)?,
                nominal: known,
                high: of_side(&sides.high)?,
            }
        } else {
            Corners::same(known)
        };
        let [common, rail] = rails::corners(strip, &rails_known, corners);
        let emitters = strip
            .emitters
            .iter()
            .zip(low.into_iter().zip(nominal.iter().cloned()).zip(high))
            .map(|(emitter, ((low, nominal), high))| TapeEmitter {
                name: emitter.name.clone(),
                rail,
                law: Corners { low, nominal, high },
            })
            .collect();
        let model = TapeModel {
            strip: strip.name.clone(),
            pitch: strip.pitch,
            rated: strip.rated,
            polarity: strip.polarity,
            common,
            emitters,
            branch: strip.longest_branch.map(|l| strip.pitch.count_in(l)),
        };
        Ok((model, known, scale, nominal))
    }

    fn corners_can_be(&self, corners: &CornerSet) -> Result<(), StripError> {
        let refuse = |what: &str, found: String, accepted: &str| {
            Err(StripError::Figure {
                strip: self.0.name.clone(),
                part: SheetPart::Beside,
                what: what.to_string(),
                found,
                accepted: accepted.to_string(),
                remedy: "Correct the corners of tolerance",
            })
        };
        for (what, share) in [
            ("the tolerance of its rails", corners.rail_tolerance),
            ("the tolerance of its currents", corners.current_tolerance),
            ("the margin of its currents", corners.current_margin),
        ] {
            if !(share.value >= 0.0 && share.value <= 0.5) {
                return refuse(what, show(share), "0 % to 50 %");
            }
        }
        for (what, set) in [
            ("a temperature of its rails", corners.conductor),
            ("a temperature of its cells", corners.cell),
        ] {
            for at in [set.low, set.nominal, set.high] {
                if !(in_celsius(at) >= -60.0 && in_celsius(at) <= 200.0) {
                    return refuse(what, show(at), "-60 °C to 200 °C");
                }
            }
        }
        Ok(())
    }

    fn rails_note(&self, known: &PerMetre) -> String {
        let from = match &self.0.rails {
            RailSpec::Stated { .. } => "as stated",
            RailSpec::Foil { .. } => "from the foil and annealed copper (IEC 60028:1925)",
            RailSpec::Class { .. } => "the middle of a class by its copper",
            RailSpec::MaximumRun { .. } => "from the maximum run, every rail alike",
            RailSpec::Reading { .. } => "from the voltage read at the far end, every rail alike",
            RailSpec::CurrentReading { .. } => {
                "from the current read at the far end, every rail alike"
            }
        };
        format!(
            "rails: common {}, returns {} at {}, {from}",
            show(ohms_per_metre(known.common)),
            show(ohms_per_metre(known.returns)),
            show(known.at)
        )
    }

    /// What a maximum run would give if its words meant something else.
    fn other_meanings(&self, corners: &CornerSet, nominal: &[Law]) -> Vec<String> {
        let RailSpec::MaximumRun {
            length,
            fed,
            falls,
            by,
        } = &self.0.rails
        else {
            return Vec::new();
        };
        let mut notes = Vec::new();
        for other_fed in [FedFrom::OneEnd, FedFrom::BothEnds] {
            for other_falls in [Falls::Volts, Falls::Light] {
                if (other_fed, other_falls) == (*fed, *falls) {
                    continue;
                }
                let mut other = self.0.clone();
                other.rails = RailSpec::MaximumRun {
                    length: *length,
                    fed: other_fed,
                    falls: other_falls,
                    by: *by,
                };
                let what = match other_falls {
                    Falls::Volts => "voltage",
                    Falls::Light => "light",
                };
                let ends = match other_fed {
                    FedFrom::OneEnd => "one end",
                    FedFrom::BothEnds => "both ends",
                };
                let gives = rails::per_metre(&other, nominal, corners.conductor.nominal)
                    .map_or_else(
                        |_| "no resistance".into(),
                        |r| show(ohms_per_metre(r.common)),
                    );
                notes.push(format!("read as {what} fed from {ends}: {gives}"));
            }
        }
        notes
    }
}

/// How many times its stated current the stronger side of a class is taken to draw, so that at [`ABOVE_RATED`] above the rated
/// voltage no string of the class draws more; 1 without a class. Below that voltage the steeper string draws less still.
fn stronger_current(
    sides: &Corners<Cow<'_, StripSpec>>,
    corners: &CornerSet,
) -> Result<f64, StripError> {
    let Cow::Owned(weaker) = &sides.low else {
        return Ok(1.0);
    };
    let top = sides.high.rated * (1.0 + ABOVE_RATED);
    let weak = increments(weaker, corners.cell.high, 1.0)?;
    let strong = increments(&sides.high, corners.cell.high, 1.0)?;
    let ratio = weak.iter().zip(&strong).map(|(weak, strong)| {
        let least = f64::MIN_POSITIVE;
        weak.current(top).value / strong.current(top).value.max(least)
    });
    Ok(ratio.fold(1.0, f64::max))
}

impl StripSpec {
    /// Checks the sheet and gives its model: [`StripSpec::check`], then [`Strip::model`].
    ///
    /// # Errors
    /// [`StripErrors`] of either. An example: the [page of the room](crate::strip).
    pub fn model(&self, corners: &CornerSet) -> Result<TapeModel, StripErrors> {
        Ok(self.check()?.model(corners)?)
    }
}

impl TapeModel {
    /// Power per length at the rated voltage with every emitter lit, no drop: `V·ΣI/pitch`.
    #[must_use]
    pub fn power_per_length(&self) -> Corners<LinearPower> {
        let of = |pick: fn(&Corners<Law>) -> &Law| {
            let amps: f64 = self
                .emitters
                .iter()
                .map(|emitter| pick(&emitter.law).current(self.rated).value)
                .sum();
            watts_per_metre(self.rated.value * amps / self.pitch.to_length().value)
        };
        Corners {
            low: of(|law| &law.low),
            nominal: of(|law| &law.nominal),
            high: of(|law| &law.high),
        }
    }
}
