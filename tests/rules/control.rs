//! Ports, addresses and what is there already: one short dimmed job, one thing changed at a time.

use crate::safety::said;
use evenrun::design::{Design, Item, SlotUse};
use evenrun::finding::{Subject, Value, Verdict};
use evenrun::{job, plan, rules};

const SMALL: &str = include_str!("../plan/small.toml");

const DECODER: &str = r#"
outputs = 4
output_current = "5 A"
total_current = "10 A"
terminal_current = "10 A"
volts = { low = "12 V", high = "36 V" }
polarity = "common plus"
switch = "10 mΩ"
frequency = "1 kHz"
bits = 8
levels = ["8 bit"]
curves = ["linear"]
"#;

const UNIVERSE: &str = r#"
[[universe]]
name = "house"
number = 1
port = "desk, port 1"
"#;

fn chain(name: &str, stops: &str) -> String {
    format!(
        "\n[[chain]]\nname = \"{name}\"\nuniverse = \"house\"\ncable = \"data pair\"\nstops = [{stops}]\nterminator = \"120 ohm\"\n"
    )
}

const BOX: &str = "{ place = \"box\", length = \"10 m\" }";

/// The short run dimmed by decoders of the kinds `new` and `old`, with what `more` adds to the job.
fn dimmed(decoders: &str, place: &str, more: &str) -> Design {
    let zone = format!("control = \"8 bit\"\ndecoders = [{decoders}]");
    let place = format!("lead = \"500 mm\"\n{place}");
    let text =
        SMALL
            .replacen("control = \"switched\"", &zone, 1)
            .replacen("lead = \"500 mm\"", &place, 1);
    let kinds = ["new", "old"].map(|name| format!("\n[[decoder]]\nname = \"{name}\"{DECODER}"));
    let text = format!("{text}{}{UNIVERSE}{more}", kinds.concat());
    let job = job::read(&text, "dimmed.toml").unwrap_or_else(|fault| panic!("{fault}"));
    plan::plan(&job)
}

fn installed(name: &str, more: &str) -> String {
    format!(
        "\n[[installed]]\nname = \"{name}\"\ndecoder = \"old\"\nplace = \"box\"\nzone = \"shelf\"\n{more}\n"
    )
}

/// ANSI E1.11: a daisy chain from one transmitter, without a branch. Two first cables are one, so the plan adds a splitter.
#[test]
fn two_chains_of_one_port_get_a_splitter() {
    let other = "{ device = \"dimmer\", length = \"12 m\" }";
    let both = format!("{}{}", chain("north", BOX), chain("south", other));
    let design = dimmed("\"new\"", "", &both);
    let [port] = said(&design, "port-chains")[..] else {
        panic!("one universe")
    };
    assert_eq!((port.verdict, &*port.case), (Verdict::Pass, "splitter"));
    let bought = |design: &Design| {
        let rows = design.materials.iter();
        rows.filter(|row| row.item == Item::Splitter { outputs: 2 })
            .map(|row| row.needed)
            .collect::<Vec<_>>()
    };
    assert_eq!(bought(&design), [evenrun::finding::Figure::count(1)]);
    let printed = evenrun::report::text(&design, 120);
    assert!(
        printed
            .contains("At desk, port 1: a powered splitter, output 1 to north, output 2 to south")
    );
    // Without it the two cables are a passive branch: one unit load of the dimmer and one of the decoder together.
    let mut bare = design.clone();
    bare.splitters.clear();
    let all = rules::judge(&bare);
    let mut passive = all.iter().filter(|f| f.rule.as_str() == "port-chains");
    let passive = passive.next().expect("an answer");
    assert_eq!((passive.is_fail(), &*passive.case), (true, "passive"));
    let line = rules::line(passive);
    assert!(
        line.contains("north, south leave desk, port 1 as 2 first cables"),
        "{line}"
    );
    assert!(line.contains("2 unit loads on one driver"), "{line}");
    // One chain needs none.
    let design = dimmed("\"new\"", "", &chain("north", BOX));
    assert_eq!(said(&design, "port-chains")[0].case, "one");
    assert_eq!(bought(&design), []);
}

#[test]
fn a_port_sends_one_universe() {
    let second = "\n[[universe]]\nname = \"street\"\nnumber = 2\nport = \"desk, port 1\"\n";
    let zone = dimmed_with_universe(second);
    let failed: Vec<_> = said(&zone, "port-chains")
        .into_iter()
        .filter(|f| f.is_fail())
        .collect();
    assert_eq!(failed.len(), 1);
    assert_eq!(failed[0].case, "two-universes");
}

fn dimmed_with_universe(second: &str) -> Design {
    let decoders = "\"new\"]\nuniverse = \"house\"\nsupplies = [\"60 W\"";
    dimmed(decoders, "", &format!("{second}{}", chain("north", BOX)))
}

/// A decoder that is there and not needed stays in the plan, on its chain and on its slots.
#[test]
fn an_idle_decoder_keeps_its_place_and_its_slots() {
    let there = installed("D-old", "address = 1");
    let design = dimmed("\"new\"", "", &format!("{there}{}", chain("north", BOX)));
    let decoder = |name: &str| {
        let found = design.decoders.iter().find(|d| d.id.as_str() == name);
        found.unwrap_or_else(|| panic!("{name} is not in the plan"))
    };
    let old = decoder("D-old");
    assert!(old.fixed && old.outputs_used == 0 && old.supply.is_none());
    assert_eq!(old.address.map(|a| (a.first, a.slots)), Some((1, 4)));
    // The one that is bought begins behind it.
    let new = decoder("D-A.1").address.expect("an address");
    assert_eq!((new.first, new.slots), (5, 4));
    let own: Vec<u16> = design
        .slots
        .iter()
        .filter(|slot| slot.device.as_str() == "D-old" && slot.sets == SlotUse::Unused)
        .map(|slot| slot.slot)
        .collect();
    assert_eq!(own, [1, 2, 3, 4]);
    let on_chain = design.chains[0].devices.iter();
    let names: Vec<&str> = on_chain.map(|device| device.name.as_str()).collect();
    assert_eq!(names, ["D-A.1", "D-old"]);
    // It is not bought.
    let bought = design.materials.iter().map(|row| &row.item);
    assert!(
        !bought
            .into_iter()
            .any(|item| matches!(item, Item::Decoder(kind) if kind.as_str() == "old"))
    );
}

/// What is there takes up room, whether it is used or not.
#[test]
fn an_idle_device_takes_up_room() {
    let there = installed("D-old", "");
    let of = |most: &str| {
        let design = dimmed("\"new\"", most, &there);
        let [room] = said(&design, "place-room")[..] else {
            panic!("one place")
        };
        (room.verdict, room.figure)
    };
    let two = Some(evenrun::finding::Figure::count(2));
    assert_eq!(of("most_decoders = 1"), (Verdict::Fail, two));
    assert_eq!(of("most_decoders = 2"), (Verdict::AtLimit, two));
    let supply = "\n[[installed]]\nname = \"PS-old\"\nsupply = \"12 V\"\nplace = \"box\"\n";
    let kind = SMALL_SUPPLY;
    let design = dimmed("\"new\"", "most_supplies = 1", &format!("{kind}{supply}"));
    assert!(said(&design, "place-room")[0].is_fail());
    let old = design.supplies.iter().find(|s| s.id.as_str() == "PS-old");
    assert!(old.is_some_and(|old| old.fixed));
}

const SMALL_SUPPLY: &str = "\n[[supply]]\nname = \"12 V\"\npower = \"60 W\"\nvolts = \"12 V\"\ntolerance = \"1 %\"\noutput_current = \"5 A\"\n";

/// A data cable to a place outdoors: its jacket is asked for.
#[test]
fn the_data_cable_stands_in_its_surroundings_too() {
    let jackets = |place: &str| {
        let design = dimmed("\"new\"", place, &chain("north", BOX));
        let all = said(&design, "cable-surroundings").into_iter();
        all.filter(|f| matches!(f.about, Subject::Chain(_)))
            .map(|f| (f.verdict, f.case.clone()))
            .collect::<Vec<_>>()
    };
    let open = (Verdict::NotEvaluated, "data".to_string());
    assert_eq!(jackets("environment = \"outdoor\""), [open]);
    assert_eq!(jackets(""), []);
}

/// Two decoders set to one address answer together: found, with both names, unless that is meant.
#[test]
fn two_devices_at_one_address_are_found() {
    let pair = |more: &str| {
        let there = installed("D-one", "serves = [\"A.1\"]\naddress = 7");
        let design = dimmed("", "", &format!("{there}{}", installed("D-two", more)));
        let found = said(&design, "address-clash");
        found.into_iter().cloned().collect::<Vec<_>>()
    };
    let found = pair("address = 9");
    let [clash] = found.as_slice() else {
        panic!("{found:#?}")
    };
    assert!(clash.is_fail());
    let Subject::Address { device, slot, .. } = &clash.about else {
        panic!("{clash:?}")
    };
    assert_eq!((device.as_str(), *slot), ("D-two", 9));
    assert_eq!(clash.value("other"), Some(&Value::name("D-one")));
    assert!(rules::line(clash).contains("slots 9 to 12 meet those of D-one"));
    assert!(pair("address = 9\nshares_slots = \"on purpose\"").is_empty());
    assert!(pair("address = 11").is_empty());
}
