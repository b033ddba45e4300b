//! Edges on stubs, capacitors and loaded lines: our simulation, the reference simulation and the closed forms.

use crate::common::{assert_relative, assert_within, rows};
use evenrun::dmx::line::{self};
use evenrun::dmx::signal::{LineNet, Node};
use evenrun::quantity::{farads, ohms, seconds};

const Z0: f64 = 120.0;

/// Volts of some nodes under a straight edge from 0 to `volts` in `rise` seconds.
pub(crate) fn edge(
    mut net: LineNet,
    watched: &[Node],
    step: f64,
    steps: usize,
    volts: f64,
    rise: f64,
) -> Vec<Vec<f64>> {
    let mut waves = vec![Vec::with_capacity(steps); watched.len()];
    net.run(
        steps,
        |first, out| {
            for (offset, out) in out.iter_mut().enumerate() {
                *out = volts * ((first + offset) as f64 * step / rise).min(1.0);
            }
        },
        |node, _, seen| {
            for (wave, &at) in waves.iter_mut().zip(watched) {
                if at == node {
                    wave.extend_from_slice(seen);
                }
            }
        },
    );
    waves
}

#[test]
fn stubs_in_time() {
    for row in rows("dmx/stub_waveform_check.csv", 7) {
        let what = row.text("case");
        let (stub, rise) = (row.number("stub_delay_ns"), row.number("edge_0_100_ns"));
        let mut net = LineNet::new(1e-9).expect("a step");
        let [source, tap, open, end] = [(); 4].map(|()| net.node().expect("a node"));
        net.source(source, Z0).expect("a source");
        net.resistor(end, Z0).expect("a resistor");
        for (ends, steps) in [
            ([source, tap], 500),
            ([tap, open], stub as usize),
            ([tap, end], 500),
        ] {
            net.line(ends, Z0, steps, 0.0).expect("a line");
        }
        let waves = edge(net, &[end, open], 1e-9, 6000, 3.0, rise * 1e-9);
        let after = &waves[0][1000 + rise as usize..];
        let least = after.iter().copied().fold(f64::INFINITY, f64::min);
        let top = waves[0].iter().copied().fold(0.0, f64::max);
        let off = after.iter().map(|v| (v - 1.5).abs()).fold(0.0, f64::max);
        let half = waves[0].iter().position(|&v| v >= 0.75).expect("it rises") as f64;
        assert_within(
            what,
            1.5 - least,
            row.number("dip_below_final_after_edge_v"),
            1e-6,
        );
        assert_within(what, top - 1.5, row.number("overshoot_v"), 1e-6);
        assert_within(
            what,
            off / 1.5 * 100.0,
            row.number("largest_departure_percent"),
            1e-4,
        );
        let peak = waves[1].iter().copied().fold(0.0, f64::max);
        assert_within(what, peak, row.number("peak_at_stub_end_v"), 1e-6);
        let delay = half - 1000.0 - rise / 2.0;
        assert_within(what, delay, row.number("extra_delay_of_half_level_ns"), 0.0);
        let share = row.number("round_trip_over_edge");
        assert_relative(what, 2.0 * stub / rise, share, 1e-9);
        let rule = line::stub_departure(seconds(stub * 1e-9), seconds(rise * 1e-9));
        assert_relative(what, rule.expect("in range"), off / 1.5, 0.04);
    }
    assert!(line::stub_departure(seconds(30e-9), seconds(100e-9)).is_none());
    assert!(line::stub_departure(seconds(f64::NAN), seconds(100e-9)).is_none());
}

#[test]
fn capacitors() {
    for row in rows("dmx/shunt_capacitance_check.csv", 5) {
        let what = format!("line {}", row.line);
        let farad = row.number("capacitance_pf") * 1e-12;
        let rise = row.number("edge_0_100_ns") * 1e-9;
        assert_relative(&what, Z0 * farad / 2.0 * 1e9, row.number("tau_ns"), 1e-9);
        let share = line::capacitor_echo(ohms(Z0), farads(farad), seconds(rise));
        assert_relative(&what, 1.5 * share, row.number("peak_echo_formula_v"), 1e-6);
        assert_relative(&what, share, row.number("peak_echo_over_step"), 2e-5);
        let mut net = LineNet::new(0.25e-9).expect("a step");
        let [source, middle, end] = [(); 3].map(|()| net.node().expect("a node"));
        net.source(source, Z0).expect("a source");
        net.capacitor(middle, farad).expect("a capacitor");
        net.resistor(end, Z0).expect("a resistor");
        net.line([source, middle], Z0, 2000, 0.0).expect("a line");
        net.line([middle, end], Z0, 2000, 0.0).expect("a line");
        let waves = edge(net, &[source], 0.25e-9, 8000, 3.0, rise);
        let least = waves[0][4000..5600]
            .iter()
            .copied()
            .fold(f64::INFINITY, f64::min);
        // Two programs, one step of 0.25 ns: 0.1 % of the step apart at most.
        assert_within(
            &what,
            1.5 - least,
            row.number("peak_echo_simulated_v"),
            1.5e-3,
        );
    }
    let echo = |c, t| line::capacitor_echo(ohms(Z0), farads(c), seconds(t));
    assert_eq!((echo(0.0, 1e-9), echo(1e-12, 0.0)), (0.0, 1.0));
}

#[test]
fn evenly_loaded_lines() {
    for row in rows("dmx/loaded_line_check.csv", 4) {
        let what = format!("line {}", row.line);
        let farad = row.number("device_capacitance_pf") * 1e-12;
        let delay = row.number("delay_between_devices_ns");
        let count = row.number("devices") as usize;
        let loaded = line::loaded(ohms(Z0), farads(farad), seconds(delay * 1e-9));
        assert_relative(&what, loaded.slowing, row.number("slowing_factor"), 1e-6);
        assert_relative(
            &what,
            loaded.impedance.value,
            row.number("loaded_impedance_ohm"),
            1e-6,
        );
        let whole = count as f64 * delay * loaded.slowing;
        assert_relative(&what, whole, row.number("total_delay_formula_ns"), 1e-6);
        let mut net = LineNet::new(1e-9).expect("a step");
        let first = net.node().expect("a node");
        net.source(first, loaded.impedance.value).expect("a source");
        let mut last = first;
        for _ in 0..count {
            let next = net.node().expect("a node");
            net.line([last, next], Z0, delay as usize, 0.0)
                .expect("a line");
            net.capacitor(next, farad).expect("a capacitor");
            last = next;
        }
        net.resistor(last, loaded.impedance.value)
            .expect("a resistor");
        let waves = edge(net, &[first, last], 1e-9, 1500, 2.0, 200e-9);
        let at = waves[1].iter().position(|&v| v >= 0.5).expect("it rises");
        let (before, here) = (waves[1][at - 1], waves[1][at]);
        let half = (at - 1) as f64 + (0.5 - before) / (here - before) - 100.0;
        let known = row.number("total_delay_simulated_ns");
        assert_relative(&what, half, known, 1e-4);
        assert_relative(&what, half, whole, 0.0015);
        let echo = waves[0][..1000].iter().copied().fold(0.0, f64::max) - 1.0;
        assert_within(&what, echo, row.number("largest_echo_at_source_v"), 1e-4);
    }
}
