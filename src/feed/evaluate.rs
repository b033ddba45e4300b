//! Full evaluation of candidates during a search, and what is learned from a refused one.

use super::candidate::Candidate;
use super::lessons;
use super::model::{HIGH, LOW};
use super::search::Search;
use super::spec::Pattern;

impl Search<'_> {
    /// Whether the permitted number of evaluations is spent.
    pub fn is_exhausted(&self) -> bool {
        self.judge.evaluated >= self.m.spec.effort
    }

    /// Whether a candidate keeps every limit in full; remembers it, and what follows for longer ones.
    pub fn holds(&mut self, c: &Candidate) -> bool {
        match self.known.get(c) {
            Some(known) => known.is_some(),
            None => self.evaluate(c).is_some(),
        }
    }

    /// Evaluates in full: the price of the watts lost, or none where a limit breaks.
    pub fn evaluate(&mut self, c: &Candidate) -> Option<i64> {
        let m = self.m;
        let broken = self.judge.judge(m, c);
        let answer = match broken {
            Some(figure) => {
                if let Some(light) = lessons::kind(c, &figure) {
                    self.shortest_refused(c, light);
                }
                None
            }
            None => Some(m.spec.costs.energy.as_ref().map_or(0, |energy| {
                let kilowatt_hours = self.judge.lost(m, c) * energy.time.value / 3.6e6;
                (kilowatt_hours * energy.per_kilowatt_hour as f64).round() as i64
            })),
        };
        self.known.insert(*c, answer);
        answer
    }

    /// Finds by halving the shortest refused candidate of the same kind, and learns it.
    fn shortest_refused(&mut self, c: &Candidate, light: bool) {
        let m = self.m;
        // The same shape where its feeder is most in its favour: refused there, it is refused everywhere.
        let favoured = self.most_in_favour(c, light);
        let found = favoured.and_then(|f| self.judge.judge(m, &f));
        let c = match favoured {
            Some(f) if found.and_then(|x| lessons::kind(&f, &x)) == Some(light) => f,
            _ => *c,
        };
        let c = &c;
        let n = c.cells();
        let feed = c.feeds[0].0;
        let shorter = |length: usize| match c.pattern {
            Pattern::Start => Candidate {
                to: c.from + length,
                ..*c
            },
            Pattern::End => Candidate {
                from: c.to - length,
                ..*c
            },
            _ => Candidate {
                to: feed + length,
                ..*c
            },
        };
        let (mut holds, mut breaks) = match c.pattern {
            Pattern::Start | Pattern::End => (0, n),
            Pattern::Inside => (0, c.to - feed),
            _ => {
                self.lessons.learn(m, c, light);
                return;
            }
        };
        while breaks - holds > 1 {
            let middle = usize::midpoint(holds, breaks);
            let found = self.judge.judge(m, &shorter(middle));
            if found.and_then(|f| lessons::kind(c, &f)) == Some(light) {
                breaks = middle;
            } else {
                holds = middle;
            }
        }
        self.lessons.learn(m, &shorter(breaks), light);
    }

    /// The candidate of the same branches with the feeder that favours it most: the least
    /// resistance for light, the most for current.
    fn most_in_favour(&self, c: &Candidate, light: bool) -> Option<Candidate> {
        let m = self.m;
        let (mark, option) = c.feeds[0];
        let place = c.place(m);
        let (left, right) = match c.pattern {
            Pattern::Start => (0, c.cells()),
            Pattern::End => (c.cells(), 0),
            Pattern::Inside => (mark - c.from, c.to - mark),
            _ => return None,
        };
        let lists = if c.pattern == Pattern::End {
            &m.end_options
        } else {
            &m.options
        };
        let mut best = (mark, option);
        let favour = |(at, o): (usize, usize)| {
            let core = &lists[at][o].core;
            if light { -core[LOW] } else { core[HIGH] }
        };
        for (at, list) in lists.iter().enumerate().take(m.n - right + 1).skip(left) {
            for o in (0..list.len()).filter(|o| list[*o].place == place) {
                if favour((at, o)) > favour(best) {
                    best = (at, o);
                }
            }
        }
        let (at, o) = best;
        let found = Candidate::new(at - left, at + right, c.pattern, &[(at, o)]);
        (best != (mark, option) && lessons::plain(m, &found)).then_some(found)
    }
}
