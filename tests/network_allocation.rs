//! A repeated solve allocates nothing: counted by the allocator of this test program.
#![allow(
    unsafe_code,
    reason = "an allocator is an unsafe trait; the library itself forbids unsafe code"
)]
use evenrun::load::{Diode, Load, SeriesString, StraightLine};
use evenrun::network::*;
use evenrun::quantity::*;
use std::alloc::{GlobalAlloc, Layout, System};
use std::cell::Cell;

thread_local! {
    static COUNT: Cell<usize> = const { Cell::new(0) };
}

/// The system's allocator, counting the calls of each thread.
struct Counting;

// SAFETY: every call is passed on unchanged to the system's allocator.
unsafe impl GlobalAlloc for Counting {
    unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
        let _ = COUNT.try_with(|c| c.set(c.get() + 1));
        unsafe { System.alloc(layout) }
    }
    unsafe fn dealloc(&self, pointer: *mut u8, layout: Layout) {
        unsafe { System.dealloc(pointer, layout) }
    }
    unsafe fn realloc(&self, pointer: *mut u8, layout: Layout, size: usize) -> *mut u8 {
        let _ = COUNT.try_with(|c| c.set(c.get() + 1));
        unsafe { System.realloc(pointer, layout, size) }
    }
}

#[global_allocator]
static ALLOCATOR: Counting = Counting;

fn count(call: impl FnOnce()) -> usize {
    let before = COUNT.with(Cell::get);
    call();
    COUNT.with(Cell::get) - before
}

fn white() -> Load {
    let diode = Diode {
        forward_voltage: volts(3.0),
        at_current: milliamps(20.0),
        ideality: 2.0,
        series_resistance: ohms(3.0),
        volts_per_kelvin: -0.002,
    };
    Load::Series(SeriesString {
        diode,
        count: 6,
        ballast: ohms(300.0),
    })
}

fn plateau() -> Load {
    Load::Straight(StraightLine {
        knee: volts(16.0),
        resistance: ohms(100.0),
        limit: Some(milliamps(20.0)),
        volts_per_kelvin: 0.0,
    })
}

#[test]
fn the_counter_counts() {
    assert!(count(|| drop(std::hint::black_box(vec![0_u8; 100]))) > 0);
}

#[test]
fn a_repeated_network_solve_allocates_nothing() {
    let mut spec = NetworkSpec::new();
    let (plus, minus) = (spec.node("plus"), spec.node("minus"));
    spec.stiff_source("supply", plus, minus, volts(24.0));
    let laws = [white(), plateau()].map(|l| spec.law(l.law(celsius(25.0)).expect("a law")));
    let rail = |node| {
        RailSpec::uniform(
            ohms(0.01),
            vec![Attachment::at(0, node), Attachment::at(150, node)],
        )
    };
    let emitter = |name: &str, law| EmitterSpec {
        name: name.into(),
        lit: true,
        law,
        exceptions: vec![],
        rail: rail(minus),
    };
    spec.tape(TapeSpec {
        name: "tape".into(),
        polarity: Polarity::CommonPlus,
        cells: 200,
        common: rail(plus),
        emitters: vec![emitter("white", laws[0]), emitter("plateau", laws[1])],
    });
    let network = spec.check().expect("a network");
    let mut work = Workspace::new();
    let mut solve = |corner| {
        let options = SolveOptions {
            corner,
            ..SolveOptions::default()
        };
        let solution = network.solve(&options, &mut work).expect("a solution");
        std::hint::black_box((solution.total_copper_loss(), solution.volt_error_bound()));
    };
    solve(Corner::Nominal);
    for corner in [Corner::Low, Corner::High, Corner::Nominal] {
        assert_eq!(count(|| solve(corner)), 0);
    }
}
