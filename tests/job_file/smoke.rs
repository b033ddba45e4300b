#[test]
fn smoke() {
    let text = r#"
schema = 1
title = "t"
[limits]
least_curent = "90 %"
load_factor = 0.8
[[place]]
name = "riser"
room = "foyer"
ambient = "30 °C"
[[zone]]
name = "cove"
strip = "white"
control = "8 bit"
places = ["riser", "rizer"]
[[run]]
name = "north cove"
zone = "cove"
room = "foyer"
path = [{ straight = 7.5 }, { corner = "inside", made="bend" }, { gap = "-3 m" }]
routes = [{ from = "riser", to = "start", length = "7,5 m", basis = "mesured" }]
"#;
    let faults = evenrun::job::read(text, "job.toml").unwrap_err();
    assert_eq!(faults.count(), 12, "{faults}");
}
