//! What every device of every chain sees of a packet: the least volts while it samples, from a simulation in time.
//!
//! The driver is the weakest that TIA-485-A permits, the packet that of
//! [`SignalSpec::default`](crate::dmx::signal::SignalSpec). A line is simulated where it checks and its cable is known.

use super::phases;
use crate::design::{Chain, Limits, Margin, Solved};
use crate::dmx::signal::{DeviceSignal, SignalPlan, SignalSpec};
use crate::job::spec::DataCable;
use crate::many;
use crate::progress::{Go, Progress};
use crate::quantity::volts;
use crate::rules::data_line;

/// The chains with what their devices see.
pub(super) fn with_margins(
    mut chains: Vec<Chain>,
    limits: &Limits,
    progress: &mut Progress<'_>,
) -> Vec<Chain> {
    let plan = SignalSpec::default().check().map_err(|why| why.to_string());
    let all = many::each(&chains, phases::SIGNAL, progress, |chain, progress| {
        if progress.step(phases::SIGNAL, 0, 1) == Go::Cancel {
            return Err("planning was stopped".to_string());
        }
        margins(chain, limits, plan.as_ref().map_err(String::clone)?)
    });
    for (chain, seen) in chains.iter_mut().zip(all) {
        for (at, device) in chain.devices.iter_mut().enumerate() {
            device.margin = match &seen {
                Ok(seen) => seen.get(at).cloned().flatten().map_or_else(
                    || Solved::Not("no bit of the packet can be judged".into()),
                    Solved::Figures,
                ),
                Err(why) => Solved::Not(why.as_str().into()),
            };
        }
    }
    chains
}

/// Most devices of a chain that is simulated, as the work grows with their number and with the length: 32 unit loads
/// (TIA-485-A) of an eighth each.
const MOST_DEVICES: usize = 256;

/// By device of a chain, or why it is not simulated.
fn margins(
    chain: &Chain,
    limits: &Limits,
    plan: &SignalPlan,
) -> Result<Vec<Option<Margin>>, String> {
    if chain.cable == DataCable::Unknown {
        return Err("the cable of the chain is not known: no impedance, no delay".to_string());
    }
    if chain.devices.len() > MOST_DEVICES {
        return Err(format!(
            "the chain has {} devices; the signal is simulated for {MOST_DEVICES} at most, which is 32 unit loads of an \
             eighth: split the chain",
            chain.devices.len()
        ));
    }
    let line = data_line::line(chain, limits).check();
    let line = line.map_err(|why| format!("the chain cannot be judged as it is stated: {why}"))?;
    let signal = line.simulate(plan).map_err(|why| why.to_string())?;
    let mut out = vec![None; chain.devices.len()];
    for seen in signal.devices() {
        if let Some(own) = out.get_mut(seen.part) {
            *own = margin(seen);
        }
    }
    Ok(out)
}

fn margin(seen: &DeviceSignal) -> Option<Margin> {
    let all = [
        seen.margin(),
        seen.least_in_window.value,
        seen.least_at_middle.value,
        seen.peak.value,
        seen.steady.value,
        seen.arrival.value,
    ];
    all.iter().all(|figure| figure.is_finite()).then(|| Margin {
        margin: volts(seen.margin()).into(),
        least: seen.least_in_window.into(),
        least_at_middle: seen.least_at_middle.into(),
        peak: seen.peak.into(),
        steady: seen.steady.into(),
        arrival: seen.arrival.into(),
    })
}
