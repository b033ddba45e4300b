//! Every tape of the invented demonstration job gives a model, corner by corner in order.
use evenrun::job::read;
use evenrun::quantity::Corners;
use evenrun::strip::CornerSet;

#[test]
fn the_tapes_of_the_demonstration_job() {
    let text = include_str!("../../examples/archive_wing.toml");
    let job = read(text, "job.toml").unwrap_or_else(|faults| panic!("{faults}"));
    let limits = job.limits();
    let corners = CornerSet {
        conductor: limits.conductor,
        cell: limits.cell,
        rail_tolerance: limits.rail_tolerance,
        current_tolerance: limits.current_tolerance,
        current_margin: limits.current_margin,
    };
    let falls = |c: Corners<f64>| c.low > c.nominal && c.nominal > c.high;
    assert!(job.strips().len() >= 3);
    for sheet in job.strips() {
        let strip = sheet.check().unwrap_or_else(|errors| panic!("{errors}"));
        let found = strip.calibrate(&corners).unwrap_or_else(|e| panic!("{e}"));
        let model = &found.model;
        assert!(falls(model.common.map(|r| r.value)), "{}", sheet.name);
        for emitter in &model.emitters {
            assert!(falls(emitter.rail.map(|r| r.value)), "{}", sheet.name);
            let amps = emitter.law.map(|law| law.current(model.rated).value);
            assert!(
                amps.low < amps.nominal && amps.nominal < amps.high,
                "{}: {amps:?}",
                sheet.name
            );
        }
        // The sheet's own power, where it states one, lies within the corners.
        if let Some(power) = sheet.power {
            let drawn = model.power_per_length();
            assert!(drawn.low <= power && power <= drawn.high, "{}", sheet.name);
        }
    }
}
