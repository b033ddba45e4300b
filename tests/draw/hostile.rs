//! Names that would be markup, turn the text, or run over their boxes.

use super::{CORNER, planned};
use evenrun::draw;
use roxmltree::Document;

const NAMES: &[&str] = &[
    "<script>alert(1)</script>",
    "\\\" onload=\\\"alert(1)",
    "' onmouseover='alert(1)",
    "]]> <![CDATA[ --> <!--",
    "&lt;b&gt; &#60;i&#62;",
    "</title></svg></style>",
    "\u{202e}desrever\u{2066} \u{200f}right",
    "a\u{0}b\u{7}c",
    "אבג שלום",
    "𐍈 e\u{301}\u{301}\u{301} 幅の広い文字",
];

/// The corner job with a name in the place of each of its own.
fn with(name: &str) -> String {
    let mut text = CORNER.to_string();
    for own in [
        "Plant nursery, potting bench",
        "Invented for tests: place, product and prices.",
        "tunable white 24 V, 2 x 7.2 W/m",
        "bench profile",
        "opal cover",
        "tool wall",
        "24 V, 100 W",
        "2 outputs, 5 A each",
        "potting shed, bench along two walls",
        "shed line",
        "wall panel",
    ] {
        text = text.replace(&format!("\"{own}\""), &format!("\"{name} {own}\""));
    }
    text.replace("name = \"B1\"", &format!("name = \"{name} B1\""))
}

#[test]
fn no_name_is_markup() {
    let mut drawn = 0;
    for name in NAMES {
        let text = with(name);
        // A name that the job file refuses never comes so far.
        let Ok(job) = evenrun::job::read(&text, "job.toml") else {
            continue;
        };
        let design = evenrun::plan::plan(&job);
        assert!(!design.runs.is_empty(), "{name}");
        for (file, content) in draw::files(&design) {
            drawn += 1;
            for bad in [
                "<script",
                "<!--",
                "<![CDATA[",
                "\u{202e}",
                "\u{2066}",
                "\u{200f}",
                "\u{0}",
                "\u{7}",
            ] {
                assert!(!content.contains(bad), "{file}: {bad:?} of {name:?}");
            }
            if file.ends_with(".svg") {
                let read =
                    Document::parse(&content).unwrap_or_else(|e| panic!("{file}, {name}: {e}"));
                let handlers = read.descendants().flat_map(|node| node.attributes());
                assert!(
                    handlers.into_iter().all(|a| !a.name().starts_with("on")),
                    "{file}"
                );
                for tag in ["script", "style", "b", "i"] {
                    assert!(
                        !read.descendants().any(|node| node.has_tag_name(tag)),
                        "{file}: {tag}"
                    );
                }
            } else {
                assert_eq!(
                    content.matches("<title>").count(),
                    content.matches("</title>").count()
                );
                assert_eq!(content.matches("<style>").count(), 1);
                assert_eq!(content.matches("</style>").count(), 1);
            }
        }
    }
    assert!(
        drawn >= 30,
        "{drawn} files: too few names passed the job file"
    );
}

#[test]
fn the_longest_name_is_drawn_and_marked_as_shortened() {
    // As long as a name may be.
    let long = "long name ".repeat(8);
    let long = long.trim();
    let text = CORNER.replace("\"24 V, 100 W\"", &format!("\"{long}\""));
    let design = planned(&text);
    let riser = draw::supply_riser(&design);
    assert!(riser.iter().any(|figure| figure.svg.contains('…')));
    // Whole on the page.
    assert!(draw::page(&design).contains(long));
}
