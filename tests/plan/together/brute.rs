//! Every whole plan of a small job, priced one by one.
//!
//! Segments: every span, way of feeding, wire and place, solved as one dense system of linear equations (Kirchhoff,
//! Gauss elimination); cells are straight lines, so that this is exact. Devices: every way to part segments among
//! decoders and these among supplies. Nothing is shared with the crate but the ohms of a metre of cable.

use super::gauss;
use evenrun::cable::Conductor;
use evenrun::job::Job;
use evenrun::quantity::celsius;
use std::collections::BTreeMap;

/// Set point and rated voltage of every job here.
const VOLTS: f64 = 24.0;
/// Share of a device's current and power that a plan may use.
const BESIDE: f64 = 0.99;
/// Share of a supply's power that may be used.
const LOAD_FACTOR: f64 = 0.8;

/// What the test says of a job, beside its text.
#[derive(Debug, Clone)]
pub struct Case {
    /// Increments of each run.
    pub runs: Vec<usize>,
    /// Cable and price a metre.
    pub wires: Vec<(&'static str, i64)>,
    /// Routes by run and place, mm: to the start, to the end.
    pub routes: Vec<Vec<[i64; 2]>>,
    pub dimmed: bool,
    /// Only the ends of a run are fed.
    pub ends: bool,
    /// Of an increment at 24 V, A, and its knee, V.
    pub amps: f64,
    pub knee: f64,
    /// Of a rail, ohm an increment.
    pub rail: f64,
    pub least: f64,
    /// Segment, feed, break.
    pub costs: [i64; 3],
    /// Power, outputs, current of one, price.
    pub supplies: Vec<(f64, usize, f64, i64)>,
    /// Outputs, current of one, of all, price.
    pub decoders: Vec<(usize, f64, f64, i64)>,
    /// Of each supply, ohm: copper that all on one output share.
    pub output: f64,
    /// One of each kind in use stands by.
    pub standby: bool,
    /// Most decoders and most supplies of a place, those that stand by among them.
    pub room: Option<[usize; 2]>,
}

/// Of each increment.
pub const PITCH_MM: i64 = 500;
/// Ohm of a switch.
const TINY: f64 = 1e-4;

/// A segment that holds: place, A, W.
type Segment = (usize, f64, f64);

/// A chain over a run.
type Chain = (i64, Vec<Segment>);

impl Case {
    /// The job as a file.
    pub fn text(&self) -> String {
        let [segment, feed, cut] = self.costs;
        let mut text = format!(
            "schema = 1\ntitle = \"Shelves\"\nnote = \"Invented for tests.\"\ncurrency = \"EUR\"\n\
             [limits]\nleast_current = \"{} %\"\nslack = \"0 m\"\nconnector_current = \"none\"\n\
             core_current = \"none\"\nvoltage_drop = \"none\"\nconductor_hot = \"20 °C\"\n\
             conductor_nominal = \"20 °C\"\nconductor_cold = \"20 °C\"\ncell_cold = \"20 °C\"\n\
             cell_nominal = \"20 °C\"\ncell_hot = \"20 °C\"\nrail_tolerance = \"0 %\"\n\
             current_tolerance = \"0 %\"\ncable_tolerance = \"0 %\"\ncurrent_margin = \"0 %\"\n\
             [costs]\nsegment_minor = {segment}\nfeed_minor = {feed}\nbreak_minor = {cut}\n\
             [[strip]]\nname = \"white\"\nrated = \"24 V\"\npolarity = \"common plus\"\ncut_pitch = \"{PITCH_MM} mm\"\n\
             emitters = [{{ name = \"white\", cell = \"straight line\", knee = \"{} V\", current = \"{} A\" }}]\n\
             rails = {{ known_from = \"resistance\", common = \"{ohm} Ω/m\", returns = \"{ohm} Ω/m\" }}\n\
             reel = \"5 m\"\n",
            self.least * 100.0,
            self.knee,
            self.amps,
            ohm = self.rail * 1000.0 / PITCH_MM as f64,
        );
        for (size, price) in &self.wires {
            text += &format!(
                "[[cable]]\nname = \"{size}\"\ncores = 2\nsize = \"{size}\"\nmaterial = \"copper\"\nstrands = \"flexible\"\n\
                 insulation = \"90 °C\"\nampacity = \"60 A\"\nprice_per_metre_minor = {price}\n"
            );
        }
        for (at, (power, outputs, amps, price)) in self.supplies.iter().enumerate() {
            text += &format!(
                "[[supply]]\nname = \"S{at}\"\npower = \"{power} W\"\nvolts = \"24 V\"\ntolerance = \"0 %\"\n\
                 outputs = {outputs}\noutput_current = \"{amps} A\"\noutput_resistance = \"{ohm} Ω\"\n\
                 derating = [{{ ambient = \"50 °C\", share = \"100 %\" }}]\nprice_minor = {price}\n",
                ohm = self.output
            );
        }
        for (at, (outputs, amps, total, price)) in self.decoders.iter().enumerate() {
            text += &format!(
                "[[decoder]]\nname = \"D{at}\"\noutputs = {outputs}\noutput_current = \"{amps} A\"\n\
                 total_current = \"{total} A\"\nterminal_current = \"{total} A\"\n\
                 volts = {{ low = \"12 V\", high = \"36 V\" }}\npolarity = \"common plus\"\nswitch = \"{TINY} Ω\"\n\
                 frequency = \"1 kHz\"\nbits = 8\nlevels = [\"8 bit\"]\ncurves = [\"linear\"]\nprice_minor = {price}\n"
            );
        }
        let places: Vec<String> = (0..self.routes[0].len())
            .map(|p| format!("\"P{p}\""))
            .collect();
        for place in &places {
            text += &format!(
                "[[place]]\nname = {place}\nroom = \"store\"\nambient = \"30 °C\"\nlead = \"1 mm\"\n\
                 lead_cables = [\"{}\"]\nstandby = \"{}\"\n",
                self.wires[self.wires.len() - 1].0,
                if self.standby { "both" } else { "none" }
            );
            if let Some([decoders, supplies]) = self.room {
                text += &format!("most_decoders = {decoders}\nmost_supplies = {supplies}\n");
            }
        }
        let cables: Vec<String> = self.wires.iter().map(|w| format!("\"{}\"", w.0)).collect();
        text += &format!(
            "[[zone]]\nname = \"shelf\"\nstrip = \"white\"\ncontrol = \"{}\"\nplaces = [{}]\ncables = [{}]\n",
            if self.dimmed { "8 bit" } else { "switched" },
            places.join(", "),
            cables.join(", ")
        );
        for (run, increments) in self.runs.iter().enumerate() {
            let routes: Vec<String> = self.routes[run]
                .iter()
                .enumerate()
                .flat_map(|(place, to)| {
                    ["start", "end"].into_iter().zip(to).map(move |(end, mm)| {
                        format!("{{ from = \"P{place}\", to = \"{end}\", length = \"{mm} mm\", basis = \"measured\" }}")
                    })
                })
                .collect();
            text += &format!(
                "[[run]]\nname = \"R{run}\"\nzone = \"shelf\"\nroom = \"store\"\n\
                 path = [{{ straight = \"{} mm\" }}]\nroutes = [{}]\nfeed_points = \"{}\"\njoints = \"hidden\"\n",
                *increments as i64 * PITCH_MM,
                routes.join(", "),
                if self.ends { "ends" } else { "anywhere" }
            );
        }
        if self.dimmed {
            text += "[[universe]]\nname = \"house\"\nnumber = 1\nport = \"desk\"\n";
        }
        text
    }

    fn feeder(&self, job: &Job, run: usize, place: usize, wire: usize, mark: usize) -> (f64, i64) {
        let [start, end] = self.routes[run][place];
        let n = self.runs[run];
        let along = |marks: usize| marks as i64 * PITCH_MM;
        let mm = (start + along(mark)).min(end + along(n - mark));
        let (name, price) = self.wires[wire];
        let copper = (price * mm + 999) / 1000;
        (
            self.ohms(job, name) * mm as f64 / 1000.0,
            copper + self.costs[1],
        )
    }

    /// Ohm a metre of a core.
    fn ohms(&self, job: &Job, name: &str) -> f64 {
        let item = job.cable(name).expect("a cable of the job");
        let core = Conductor {
            size: item.size,
            metal: item.metal,
            construction: item.construction,
        };
        core.resistance(celsius(20.0))
            .expect("in the table")
            .per_length
            .value
    }

    /// Most current of a segment.
    fn most(&self) -> f64 {
        let supply = |s: &(f64, usize, f64, i64)| s.2.min(LOAD_FACTOR * s.0 / VOLTS);
        let supplies = self.supplies.iter().map(supply).fold(0.0, f64::max);
        let decoders = |of: fn(&(usize, f64, f64, i64)) -> f64| {
            let all = self.decoders.iter().map(of);
            if self.dimmed {
                all.fold(0.0, f64::max)
            } else {
                f64::INFINITY
            }
        };
        supplies.min(decoders(|d| d.1)).min(decoders(|d| d.2)) * BESIDE
    }

    /// Every segment of a span that holds, with its cost.
    fn segments(&self, job: &Job, run: usize, from: usize, to: usize) -> Vec<(i64, Segment)> {
        let mut out = Vec::new();
        let thickest = self.wires[self.wires.len() - 1].0;
        let lead = if self.dimmed {
            2.0 * self.ohms(job, thickest) * 1e-3
        } else {
            0.0
        };
        let switch = if self.dimmed { TINY } else { 0.0 };
        let most = self.most();
        for place in 0..self.routes[run].len() {
            let mut offer = |feeds: &[(usize, usize, bool, bool)]| {
                let at = |mark: usize, wire: usize| self.feeder(job, run, place, wire, mark);
                let cost: i64 = feeds.iter().map(|f| at(f.0, f.1).1).sum();
                let feeds: Vec<Feed> = feeds
                    .iter()
                    .map(|f| (f.0, at(f.0, f.1).0, f.2, f.3))
                    .collect();
                let (least, amps) = self.solve([self.output + lead, switch], from, to, &feeds);
                if least >= self.least && amps <= most {
                    out.push((
                        self.costs[0] + cost,
                        (place, amps, (VOLTS - self.output * amps) * amps),
                    ));
                }
            };
            for w in 0..self.wires.len() {
                for mark in from..=to {
                    let inside = mark > from && mark < to;
                    if self.fed(run, mark) || inside && !self.ends {
                        offer(&[(mark, w, true, true)]);
                    }
                }
                let both = self.fed(run, from) && self.fed(run, to);
                for v in 0..self.wires.len() {
                    if both {
                        offer(&[(from, w, true, true), (to, v, true, true)]);
                        offer(&[(from, w, true, false), (to, v, false, true)]);
                        offer(&[(from, w, false, true), (to, v, true, false)]);
                    }
                }
                // Even places of two and three feeds through one wire: of up to three increments these are all.
                if !self.ends && to - from == 2 {
                    offer(&[from, from + 1, to].map(|m| (m, w, true, true)));
                }
                if !self.ends && to - from == 3 {
                    for middle in [from + 1, from + 2] {
                        offer(&[from, middle, to].map(|m| (m, w, true, true)));
                    }
                    offer(&[from + 1, from + 2].map(|m| (m, w, true, true)));
                }
            }
        }
        out
    }

    fn fed(&self, run: usize, mark: usize) -> bool {
        !self.ends || mark == 0 || mark == self.runs[run]
    }

    /// Every chain of segments over a run, cheapest first.
    fn chains(&self, job: &Job, run: usize) -> Vec<Chain> {
        let n = self.runs[run];
        let mut from_mark: Vec<Vec<Chain>> = vec![Vec::new(); n + 1];
        from_mark[n] = vec![(0, Vec::new())];
        for from in (0..n).rev() {
            let mut all = Vec::new();
            for (to, rests) in from_mark.iter().enumerate().skip(from + 1) {
                let cut = if to < n { self.costs[2] } else { 0 };
                for (cost, segment) in self.segments(job, run, from, to) {
                    for (rest, others) in rests {
                        let mut own = vec![segment];
                        own.extend(others);
                        all.push((cost + cut + rest, own));
                    }
                }
            }
            from_mark[from] = all;
        }
        let mut all = from_mark.swap_remove(0);
        all.sort_by_key(|c| c.0);
        all
    }

    /// Least relative current of a cell and the current of a segment.
    fn solve(&self, source: [f64; 2], from: usize, to: usize, feeds: &[Feed]) -> (f64, f64) {
        let n = to - from;
        // Nodes: bus, hub, then mark, cell, mark, cell, …, mark of the common, and of the return.
        let along = 2 * n + 1;
        let node = |rail: usize, k: usize| 2 + rail * along + k;
        let size = 2 + 2 * along;
        let mut a = vec![vec![0.0; size + 1]; size];
        let mut link = |x: usize, y: usize, ohm: f64| {
            let g = 1.0 / ohm.max(1e-9);
            a[x][x] += g;
            a[y][y] += g;
            a[x][y] -= g;
            a[y][x] -= g;
        };
        for rail in 0..2 {
            for k in 0..2 * n {
                link(node(rail, k), node(rail, k + 1), 0.5 * self.rail);
            }
            for (mark, core, common, returns) in feeds {
                if [*common, *returns][rail] {
                    link(rail, node(rail, 2 * (mark - from)), *core);
                }
            }
        }
        // A straight line: a conductance behind its knee.
        let slope = self.amps / (VOLTS - self.knee);
        for k in 0..n {
            let (x, y) = (node(0, 2 * k + 1), node(1, 2 * k + 1));
            link(x, y, 1.0 / slope);
        }
        for k in 0..n {
            let (x, y) = (node(0, 2 * k + 1), node(1, 2 * k + 1));
            a[x][size] += slope * self.knee;
            a[y][size] -= slope * self.knee;
        }
        let shared = 1.0 / source[0];
        a[0][0] += shared;
        a[0][size] += VOLTS * shared;
        a[1][1] += 1.0 / source[1].max(1e-9);
        let v = gauss(a);
        let cell = |k: usize| v[node(0, 2 * k + 1)] - v[node(1, 2 * k + 1)];
        let least = (0..n).map(cell).fold(f64::INFINITY, f64::min);
        let relative = (least - self.knee) / (VOLTS - self.knee);
        (relative, (VOLTS - v[0]) * shared)
    }

    /// The least cost of all whole plans.
    pub fn cheapest(&self, job: &Job) -> Option<i64> {
        let chains: Vec<Vec<Chain>> = (0..self.runs.len()).map(|r| self.chains(job, r)).collect();
        let mut best = None;
        self.combine(&chains, 0, &mut Vec::new(), &mut BTreeMap::new(), &mut best);
        best
    }

    fn combine(
        &self,
        chains: &[Vec<Chain>],
        spent: i64,
        segments: &mut Vec<Segment>,
        known: &mut BTreeMap<Vec<(usize, u64)>, Option<i64>>,
        best: &mut Option<i64>,
    ) {
        // Every plan has a supply at least.
        let supply = self.supplies.iter().map(|s| s.3).min().unwrap_or(0);
        let too_much =
            |cost: i64, best: Option<i64>| best.is_some_and(|best| cost + supply >= best);
        let Some((own, others)) = chains.split_first() else {
            let mut key: Vec<_> = segments.iter().map(|s| (s.0, s.1.to_bits())).collect();
            key.sort_unstable();
            let devices = *known.entry(key).or_insert_with(|| self.devices(segments));
            if let Some(devices) = devices {
                *best = Some(best.map_or(i64::MAX, |b| b).min(spent + devices));
            }
            return;
        };
        for (cost, chain) in own {
            if too_much(spent + cost, *best) {
                break;
            }
            let before = segments.len();
            segments.extend(chain);
            self.combine(others, spent + cost, segments, known, best);
            segments.truncate(before);
        }
    }

    /// The cheapest decoders and supplies, by every way to part segments and bodies.
    fn devices(&self, segments: &[Segment]) -> Option<i64> {
        let mut best = None;
        let alone: Vec<Vec<usize>> = (0..segments.len()).map(|s| vec![s]).collect();
        let ways = if self.dimmed {
            partitions(segments.len())
        } else {
            vec![alone]
        };
        for bodies in ways {
            let same = |all: &[usize]| all.iter().all(|s| segments[*s].0 == segments[all[0]].0);
            if !bodies.iter().all(|b| same(b)) {
                continue;
            }
            let sums: Vec<Segment> = bodies
                .iter()
                .map(|b| {
                    let sum = |of: fn(&Segment) -> f64| b.iter().map(|s| of(&segments[*s])).sum();
                    (segments[b[0]].0, sum(|s| s.1), sum(|s| s.2))
                })
                .collect();
            let decoder = |(body, sum): (&Vec<usize>, &Segment)| {
                let own: Vec<f64> = body.iter().map(|s| segments[*s].1).collect();
                let fit = |d: &(usize, f64, f64, i64)| {
                    sum.1 <= d.2 && fits(&own, &mut vec![0.0; d.0], d.1)
                };
                (sum.0, which(&self.decoders, fit))
            };
            let prices: Vec<i64> = self.decoders.iter().map(|d| d.3).collect();
            let most = self.room.map(|r| r[0]);
            let decoders = if self.dimmed {
                let each: Vec<_> = bodies.iter().zip(&sums).map(decoder).collect();
                self.bought(&each, &prices, most, &mut Vec::new())
            } else {
                Some(0)
            };
            let Some(decoders) = decoders else { continue };
            for units in partitions(bodies.len()) {
                let supply = |unit: &Vec<usize>| {
                    let own: Vec<f64> = unit.iter().map(|b| sums[*b].1).collect();
                    let load: f64 = unit.iter().map(|b| sums[*b].2).sum();
                    let place = sums[unit[0]].0;
                    let here = unit.iter().all(|b| sums[*b].0 == place);
                    let fit = |s: &(f64, usize, f64, i64)| {
                        here && load <= BESIDE * LOAD_FACTOR * s.0
                            && fits(&own, &mut vec![0.0; s.1], s.2)
                    };
                    (place, which(&self.supplies, fit))
                };
                let each: Vec<_> = units.iter().map(supply).collect();
                let prices: Vec<i64> = self.supplies.iter().map(|s| s.3).collect();
                let most = self.room.map(|r| r[1]);
                if let Some(supplies) = self.bought(&each, &prices, most, &mut Vec::new()) {
                    best = Some(best.map_or(i64::MAX, |b: i64| b).min(decoders + supplies));
                }
            }
        }
        best
    }

    /// The least price of devices, each at a place and of one of some kinds, over every choice of kinds.
    fn bought(
        &self,
        each: &[(usize, Vec<usize>)],
        prices: &[i64],
        most: Option<usize>,
        chosen: &mut Vec<(usize, usize)>,
    ) -> Option<i64> {
        let Some((place, kinds)) = each.get(chosen.len()) else {
            let mut all = chosen.clone();
            if self.standby {
                let mut used = chosen.clone();
                used.sort_unstable();
                used.dedup();
                all.extend(used);
            }
            let roomy = |place: usize| {
                let count = all.iter().filter(|d| d.0 == place).count();
                most.is_none_or(|most| count <= most)
            };
            let fits = all.iter().all(|d| roomy(d.0));
            return fits.then(|| all.iter().map(|d| prices[d.1]).sum());
        };
        let mut best: Option<i64> = None;
        for kind in kinds {
            chosen.push((*place, *kind));
            if let Some(cost) = self.bought(each, prices, most, chosen) {
                best = Some(best.map_or(cost, |b| b.min(cost)));
            }
            chosen.pop();
        }
        best
    }
}

/// Places of the kinds that fit.
fn which<T>(kinds: &[T], fit: impl Fn(&T) -> bool) -> Vec<usize> {
    (0..kinds.len()).filter(|k| fit(&kinds[*k])).collect()
}

/// A feed: mark, core, and whether the common and the return enter there.
type Feed = (usize, f64, bool, bool);

/// Every way to part `0..n` into sets.
fn partitions(n: usize) -> Vec<Vec<Vec<usize>>> {
    let mut out = vec![Vec::new()];
    for item in 0..n {
        let mut next: Vec<Vec<Vec<usize>>> = Vec::new();
        for parts in out {
            for at in 0..=parts.len() {
                let mut parts: Vec<Vec<usize>> = parts.clone();
                match parts.get_mut(at) {
                    Some(part) => part.push(item),
                    None => parts.push(vec![item]),
                }
                next.push(parts);
            }
        }
        out = next;
    }
    out
}

/// Whether currents lie whole on so many outputs.
fn fits(amps: &[f64], outputs: &mut [f64], most: f64) -> bool {
    let Some((first, rest)) = amps.split_first() else {
        return true;
    };
    (0..outputs.len()).any(|at| {
        outputs[at] += first;
        let ok = outputs[at] <= most && fits(rest, outputs, most);
        outputs[at] -= first;
        ok
    })
}
