//! A drawing is read as a stranger would: its scale from its ticks, and then feeds and volts by the scale.

use super::{CORNER, DEMO, PLACES, planned};
use evenrun::design::{Design, Run};
use evenrun::draw;
use roxmltree::{Document, Node};

fn number(node: &Node<'_, '_>, key: &str) -> f64 {
    let text = node.attribute(key).unwrap_or_default();
    text.parse().unwrap_or_else(|_| panic!("{key}: {text}"))
}

fn texts<'d>(drawing: &'d Document<'d>) -> impl Iterator<Item = (f64, f64, &'d str)> {
    let texts = drawing
        .descendants()
        .filter(|node| node.has_tag_name("text"));
    texts.map(|node| {
        (
            number(&node, "x"),
            number(&node, "y"),
            node.text().unwrap_or("").trim(),
        )
    })
}

/// Points of a path of straight lines.
fn points(node: &Node<'_, '_>) -> Vec<(f64, f64)> {
    let data = node.attribute("d").unwrap_or_default();
    let numbers = data.split(|c: char| c.is_ascii_alphabetic() || c == ',' || c == ' ');
    let numbers: Vec<f64> = numbers.filter_map(|text| text.parse().ok()).collect();
    numbers
        .chunks_exact(2)
        .map(|two| (two[0], two[1]))
        .collect()
}

/// The line through two points, as a function.
fn scale(a: (f64, f64), b: (f64, f64)) -> impl Fn(f64) -> f64 {
    move |at| a.1 + (at - a.0) * (b.1 - a.1) / (b.0 - a.0)
}

/// Metres by places on paper: from the first and the last tick of the line.
fn metres(drawing: &Document<'_>) -> impl Fn(f64) -> f64 {
    let (_, y, _) = texts(drawing).find(|t| t.2 == "line, m").expect("a scale");
    let ticks = texts(drawing).filter(|t| t.1 == y && t.2 != "line, m");
    let ticks: Vec<(f64, f64)> = ticks.map(|t| (t.0, t.2.parse().expect("a tick"))).collect();
    scale(ticks[0], ticks[ticks.len() - 1])
}

/// Volts by places on paper: a faint line for each tick, its words at the left.
fn volts(drawing: &Document<'_>) -> impl Fn(f64) -> f64 {
    let lines = drawing.descendants();
    let lines = lines.filter(|node| node.attribute("stroke") == Some("#bbb"));
    let mut lines: Vec<f64> = lines.map(|node| points(&node)[0].1).collect();
    lines.sort_by(f64::total_cmp);
    let below = texts(drawing).find(|t| t.2 == "lit tape");
    let below = below.expect("a legend").1;
    let ticks = texts(drawing).filter(|t| t.1 < below);
    let ticks = ticks.filter_map(|t| t.2.strip_suffix(" V")?.parse().ok());
    let mut ticks: Vec<f64> = ticks.collect();
    // Upwards on paper is downwards in its numbers.
    ticks.sort_by(|a, b| b.total_cmp(a));
    assert!(ticks.len() > 1 && ticks.len() == lines.len());
    let last = ticks.len() - 1;
    scale((lines[0], ticks[0]), (lines[last], ticks[last]))
}

/// Where feeds lie on the line by the layout of the job, m: the tape of a straight run begins after its dark start.
fn on_the_line(design: &Design, run: &Run) -> Vec<f64> {
    let mut out = Vec::new();
    for segment in design.segments.iter().filter(|s| s.run == run.id) {
        for feed in design.feeds.iter().filter(|f| f.segment == segment.id) {
            out.push(run.dark_start.metres() + feed.position.metres());
        }
    }
    out.sort_by(f64::total_cmp);
    out
}

#[test]
fn feeds_of_straight_runs_stand_where_they_enter() {
    let mut found = 0;
    for text in [DEMO, PLACES] {
        let design = planned(text);
        let straight = |run: &&Run| run.path.straights == 1;
        for run in design.runs.iter().filter(straight) {
            let text = draw::run(&design, &run.id).expect("a drawing");
            let drawing = Document::parse(&text).expect("XML");
            let metres = metres(&drawing);
            let circles = drawing
                .descendants()
                .filter(|node| node.has_tag_name("circle"));
            let mut drawn: Vec<f64> = circles.map(|node| metres(number(&node, "cx"))).collect();
            drawn.sort_by(f64::total_cmp);
            let expected = on_the_line(&design, run);
            assert_eq!(drawn.len(), expected.len(), "{}", run.id);
            // A point stands 2.5 units inside its segment where it is fed at an end.
            let aside = metres(2.6) - metres(0.0);
            for (drawn, expected) in drawn.iter().zip(&expected) {
                assert!(
                    (drawn - expected).abs() <= aside,
                    "{}: {drawn} {expected}",
                    run.id
                );
                found += 1;
            }
        }
    }
    assert!(found >= 8, "{found} feeds");
}

#[test]
fn the_chart_shows_the_volts_of_the_design() {
    let design = planned(DEMO);
    let run = design
        .runs
        .iter()
        .find(|run| run.id.as_str() == "S1")
        .expect("a run");
    let text = draw::run(&design, &run.id).expect("a drawing");
    let drawing = Document::parse(&text).expect("XML");
    let (metres, volts) = (metres(&drawing), volts(&drawing));
    let strip = design.strip(&run.strip).expect("a tape");
    let mut paths: Vec<Vec<(f64, f64)>> = drawing
        .descendants()
        .filter(|node| node.has_tag_name("path") && node.attribute("fill") == Some("none"))
        .map(|node| points(&node))
        .filter(|points| points.len() > 10)
        .collect();
    // For each segment its low line, its high one and the nominal one.
    for segment in design.segments.iter().filter(|s| s.run == run.id) {
        let along = &segment.solved.figures().expect("figures").along;
        assert!(along.len() >= 16);
        for which in 0..3 {
            let line = paths.remove(0);
            assert_eq!(line.len(), along.len());
            for ((x, y), point) in line.iter().zip(along) {
                let volts_of = [point.volts.low, point.volts.high, point.volts.nominal];
                assert!((volts(*y) - volts_of[which].si()).abs() < 0.005);
                let middle = strip.pitch.length_of(2 * point.mark + 1).metres() / 2.0;
                let line = run.dark_start.metres() + middle;
                assert!((metres(*x) - line).abs() < 0.001, "{} {line}", metres(*x));
            }
        }
    }
    assert!(paths.is_empty());
}

/// Along a segment the volts are those of the other figures: none below the least of all states, the nominal inside its band.
#[test]
fn volts_along_a_segment_agree_with_its_figures() {
    for text in [DEMO, CORNER, PLACES] {
        let design = planned(text);
        for segment in &design.segments {
            let figures = segment.solved.figures().expect("figures");
            let marks: Vec<u64> = figures.along.iter().map(|p| p.mark).collect();
            assert!(marks.is_sorted_by(|a, b| a < b));
            assert_eq!(marks.first(), Some(&segment.first));
            assert_eq!(marks.last().map(|mark| mark + 1), Some(segment.last));
            for point in &figures.along {
                let v = point.volts;
                assert!(v.low <= v.nominal && v.nominal <= v.high, "{point:?}");
                assert!(v.nominal.si() >= figures.least_volts.nominal.si() - 1e-6);
            }
            let feeds = design.feeds.iter().filter(|f| f.segment == segment.id);
            let most = feeds
                .filter_map(|f| Some(f.volts?.nominal.si()))
                .fold(0.0, f64::max);
            // No cell has more than the strongest feed: its emitters each hang on a return of their own, the weakest of which
            // is read at the feed.
            let cells = figures.along.iter().map(|p| p.volts.nominal.si());
            assert!(cells.fold(0.0, f64::max) <= most + 1e-6, "{}", segment.id);
        }
    }
}

#[test]
fn every_figure_is_xml_with_words_for_it() {
    for text in [DEMO, CORNER, PLACES] {
        for (name, content) in draw::files(&planned(text)) {
            if !name.ends_with(".svg") {
                continue;
            }
            let drawing = Document::parse(&content).unwrap_or_else(|e| panic!("{name}: {e}"));
            let root = drawing.root_element();
            assert_eq!(root.attribute("role"), Some("img"));
            for tag in ["title", "desc"] {
                let words = root.children().find(|node| node.has_tag_name(tag));
                let words: String = words
                    .iter()
                    .flat_map(Node::descendants)
                    .filter_map(|node| node.text())
                    .collect();
                assert!(words.trim().len() > 8, "{name}: {tag}");
            }
            // Black, white and grey.
            for node in drawing.descendants() {
                for key in ["fill", "stroke"] {
                    let Some(shade) = node.attribute(key).and_then(|v| v.strip_prefix('#')) else {
                        continue;
                    };
                    let digits: Vec<char> = shade.chars().collect();
                    let parts: Vec<&[char]> = digits.chunks(digits.len() / 3).collect();
                    assert!(
                        parts.iter().all(|part| part == &parts[0]),
                        "{name}: {shade}"
                    );
                }
            }
        }
    }
}
