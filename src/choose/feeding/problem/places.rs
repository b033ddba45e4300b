//! What is faulty about where things lie, and what they are called.

use super::check::Check;
use super::error::FeedError;
use super::spec::Positions;
use std::collections::BTreeSet;
impl Check<'_> {
    fn mark(&mut self, what: &'static str, at: u64, first: u64, last: u64) {
        if !(at >= first && at <= last) {
            self.faults.push(FeedError::Mark {
                run: self.p.run.clone(),
                what,
                at,
                first,
                last,
            });
        }
    }

    pub fn marks(&mut self) {
        let p = self.p;
        let n = p.increments;
        let mut seen = BTreeSet::new();
        for joint in &p.joints {
            self.mark("a joint", joint.at, 1, n.saturating_sub(1));
            if !seen.insert(joint.at) {
                self.twice("a joint at mark", &joint.at.to_string());
            }
        }
        for (what, positions) in [("a break", &p.breaks), ("a feed point", &p.feed_points)] {
            if let Positions::At(marks) = positions {
                for at in marks {
                    self.mark(what, *at, 0, n);
                }
            }
        }
        for place in &p.places {
            let mut seen = BTreeSet::new();
            for (at, route) in &place.to_marks {
                self.mark("a route", *at, 0, n);
                if !seen.insert(*at) {
                    self.twice("a route to mark", &at.to_string());
                }
                self.route(&place.place, *route);
            }
            for route in [place.to_start, place.to_end, Some(place.slack)]
                .into_iter()
                .flatten()
            {
                self.route(&place.place, route);
            }
            if place.to_start.is_none() && place.to_end.is_none() && place.to_marks.is_empty() {
                self.value(
                    format!("the routes of `{}`", place.place),
                    "empty",
                    "a route to the start, to the end or to a mark",
                );
            }
        }
        for s in &p.fixed.segments {
            self.mark("a fixed segment", s.from, 0, n);
            self.mark("a fixed segment", s.to, s.from.saturating_add(1), n);
        }
        let mut seen = BTreeSet::new();
        for f in &p.fixed.feeds {
            self.mark("a fixed feed", f.at, 0, n);
            if !seen.insert(f.at) {
                self.twice("a fixed feed at mark", &f.at.to_string());
            }
        }
    }

    fn route(&mut self, place: &str, route: crate::exact::ExactLength) {
        if !(0..=10_000_000_000_000).contains(&route.nanometres()) {
            self.value(
                format!("a route or slack of `{place}`"),
                route,
                "0 to 10 km",
            );
        }
    }

    fn twice(&mut self, what: &'static str, name: &str) {
        self.faults.push(FeedError::Twice {
            run: self.p.run.clone(),
            what,
            name: name.to_owned(),
        });
    }

    pub fn names(&mut self) {
        let p = self.p;
        let mut seen = BTreeSet::new();
        for place in &p.places {
            if !seen.insert(place.place.as_str()) {
                self.twice("the place", &place.place);
            }
        }
        let places = seen;
        let mut seen = BTreeSet::new();
        for wire in &p.wires {
            if !seen.insert(wire.cable.as_str()) {
                self.twice("the wire", &wire.cable);
            }
        }
        for feed in &p.fixed.feeds {
            for (what, name, among) in [
                ("the place of a fixed feed", &feed.place, &places),
                ("the wire of a fixed feed", &feed.cable, &seen),
            ] {
                if let Some(name) = name
                    && !among.contains(name.as_str())
                {
                    self.faults.push(FeedError::Unknown {
                        run: p.run.clone(),
                        what,
                        name: name.clone(),
                    });
                }
            }
        }
    }
}
