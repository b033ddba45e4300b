//! A sheet for each run: facts, drawing.

use super::shown;
use crate::design::{Binding, Run, Solved};
use crate::draw::index::Index;
use crate::draw::{Figure, run};
use crate::report::wrap::clean;
use maud::{Markup, html};

/// The sheet of a run, by its number from 1.
pub(super) fn sheet<'a>(index: &Index<'a>, number: usize, run: &'a Run) -> Markup {
    let drawn = run::figure(index, run);
    html! {
        article class="sheet" id={ "run-" (number) } {
            h3 { "Run " (clean(run.id.as_str())) }
            dl class="facts" {
                @for (word, words) in facts(index, run) {
                    div { dt { (word) } dd { (clean(&words)) } }
                }
            }
            @match drawn {
                Some(svg) => {
                    (shown(&Figure { title: format!("Run {}, drawn to scale", clean(run.id.as_str())), svg }))
                }
                None => { p { "Nothing of this run was planned: see what fails and what was not evaluated." } }
            }
        }
    }
}

fn facts(index: &Index<'_>, run: &Run) -> Vec<(&'static str, String)> {
    let lengths = index.lengths;
    let mut out = vec![
        ("Room", run.room.to_string()),
        ("Zone", run.zone.to_string()),
        ("Tape", run.strip.to_string()),
        ("As drawn", lengths.words(run.drawn)),
        ("Lit", lengths.words(run.lit)),
    ];
    if !run.drawing.as_str().is_empty() {
        out.push(("Drawing", run.drawing.to_string()));
    }
    let dark = [
        ("at the start", run.dark_start),
        ("at the end", run.dark_end),
        ("between", run.dark_between),
    ];
    let dark = dark.iter().filter(|(_, length)| length.nanometres() > 0);
    let dark: Vec<String> = dark
        .map(|(place, length)| format!("{} {place}", lengths.cut(*length)))
        .collect();
    if !dark.is_empty() {
        out.push(("Dark", dark.join(", ")));
    }
    if let Some(profile) = &run.profile {
        let cover = run.cover.as_ref();
        let cover = cover.map_or_else(String::new, |cover| format!(", {}", cover.description));
        out.push(("Profile", format!("{profile}{cover}")));
    }
    let watts: Option<f64> = index
        .segments(run)
        .iter()
        .map(|own| Some(own.solved.figures()?.power.nominal.si()))
        .sum();
    if let Some(watts) = watts.filter(|watts| *watts > 0.0) {
        out.push(("Power into the tape", format!("{watts:.1} W nominal")));
    }
    match &run.weakest {
        Solved::Figures(own) => out.push((
            "Weakest cell",
            format!(
                "{:.1} % of its nominal current worst case low, {}, at {} of tape",
                own.current.si() * 100.0,
                own.emitter,
                lengths.words(own.position)
            ),
        )),
        Solved::Not(why) => out.push(("Weakest cell", format!("not known: {why}"))),
    }
    if let Some(Binding::Nearest { limit, used, .. }) = index.design.nearest_limit(&run.id) {
        let used = used.si() * 100.0;
        out.push((
            "Nearest limit",
            format!("{}, {used:.1} % used", limit.words()),
        ));
    }
    out.retain(|(_, words)| !words.trim().is_empty());
    out
}
