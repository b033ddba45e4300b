//! Specs as data: what is written reads back the same, and what is left out is what the constructor takes.

use evenrun::choose::devices::{Rules, SupplyProblem};
use evenrun::choose::feeding::{FeedLimits, Fixed, LitStates, Positions, SourceModel};
use evenrun::choose::stock::{Batches, Joints, Piece, StockLength, StockSpec};
use evenrun::exact::{CutPitch, ExactLength};
use evenrun::load::{Load, Readings};
use evenrun::network::Limit;
use evenrun::quantity::{Corners, amps, fraction, ohms, volts};
use serde::{Serialize, de::DeserializeOwned};
use std::fmt::Debug;

/// Writes and reads; equal means equal to the last bit of every figure, as `Debug` shows it.
fn there_and_back<T: Serialize + DeserializeOwned + Debug>(whole: &T) -> String {
    let text = serde_json::to_string(whole).expect("written");
    let read: T = serde_json::from_str(&text).expect("read");
    assert_eq!(format!("{read:?}"), format!("{whole:?}"), "{text}");
    text
}

fn read<T: DeserializeOwned>(text: &str) -> T {
    serde_json::from_str(text).expect("read")
}

#[test]
fn specs_read_back_the_same() {
    let mut stock = StockSpec::new("tape");
    stock.increment = Some("1000/24 mm".parse::<CutPitch>().expect("a pitch"));
    stock.stock.push(StockLength::new(
        "reel",
        ExactLength::from_millimetres(5000),
        41,
    ));
    stock
        .pieces
        .push(Piece::new("A", ExactLength::from_nanometres(1)));
    stock.joints = Joints::ByChoice { price: 7 };
    stock.batches = Batches::Priced(3);
    stock.joint_resistance = ohms(0.1 + 0.2);
    there_and_back(&stock);
    there_and_back(&SupplyProblem::new("gallery"));
    let mut limits = FeedLimits::light_alone(fraction(1.0 / 3.0));
    limits.rail_current = Some(amps(5.1));
    there_and_back(&limits);
    there_and_back(&Positions::At(vec![3, 1]));
    there_and_back(&LitStates::Listed(vec![vec![true, false]]));
    there_and_back(&Fixed::default());
    there_and_back(&Limit::Trip(amps(4.0)));
    let readings = Load::Readings(Readings {
        rows: vec![(volts(18.0), amps(0.001)), (volts(24.0), amps(0.02))],
    });
    let text = there_and_back(&readings);
    assert_eq!(
        text,
        r#"{"readings":{"rows":[[{"V":18.0},{"A":0.001}],[{"V":24.0},{"A":0.02}]]}}"#
    );
}

#[test]
fn what_is_left_out_is_what_the_constructor_takes() {
    let same = |a: &dyn Debug, b: &dyn Debug| assert_eq!(format!("{a:?}"), format!("{b:?}"));
    same(&read::<StockSpec>(r#"{"what":"x"}"#), &StockSpec::new("x"));
    same(
        &read::<SupplyProblem>(r#"{"what":"x","loads":[],"kinds":[]}"#),
        &SupplyProblem::new("x"),
    );
    same(&read::<Rules>("{}"), &Rules::default());
    same(
        &read::<FeedLimits>(r#"{"least_current":"80 %"}"#),
        &FeedLimits::light_alone(fraction(0.8)),
    );
    same(
        &read::<Piece>(r#"{"id":"A","length":"1 m"}"#),
        &Piece::new("A", ExactLength::from_millimetres(1000)),
    );
}

/// One figure holds at every corner; a unit that is none of the quantity is refused with what is accepted.
#[test]
fn corners_are_one_figure_or_three() {
    let source: SourceModel = read(r#"{"set_point":"24 V"}"#);
    assert_eq!(source.set_point, Corners::same(volts(24.0)));
    let source: SourceModel =
        read(r#"{"set_point":{"low":"23 V","nominal":{"V":24.0},"high":"25 V"}}"#);
    assert_eq!(source.set_point.high, volts(25.0));
    for wrong in [r#""24 A""#, "24", r#"{"low":"23 V"}"#, "null"] {
        let text = format!(r#"{{"set_point":{wrong}}}"#);
        let error = serde_json::from_str::<SourceModel>(&text)
            .unwrap_err()
            .to_string();
        assert!(error.contains("one quantity, or three"), "{error}");
    }
}
