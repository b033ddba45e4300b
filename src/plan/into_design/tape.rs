//! Runs, pieces, segments and feeds.

use super::{corners, feed_id, finite};
use crate::choose::feeding;
use crate::design::{
    Conductor, Corner, CornerMade, Cover, Design, EndWork, Feed, FeedConductor, Gap, Joint, Line,
    Lit, Name, Path, Piece, Run, Segment, SegmentFigures, Solved, Step, Terminals, VoltsAt,
    Weakest,
};
use crate::exact::ExactLength;
use crate::id::{CableId, EmitterId, PieceId, ProductId, RunId, ZoneId};
use crate::layout;
use crate::layout::spec::{CornerPolicy, LeadOut, Sight};
use crate::network::Polarity;
use crate::plan::SolvedJob;
use crate::plan::devices::SegmentWork;
use crate::plan::laid::RunWork;
use crate::progress::Progress;
use crate::quantity::{Corners, Share, Volts};
use crate::segment::{self, BranchBands, FeedBand, FeedFigures, SegmentBands};
use crate::strip::StripSpec;

impl SolvedJob<'_> {
    /// Figures of a segment from the joint solve.
    pub(in crate::plan) fn figures(
        &self,
        segment: usize,
    ) -> Option<Corners<&segment::SegmentFigures>> {
        self.joint.figures(segment)
    }

    /// Figures of a feed from the joint solve.
    pub(super) fn feed_figures(
        &self,
        segment: usize,
        feed: usize,
    ) -> Option<Corners<&FeedFigures>> {
        let all = self.figures(segment)?;
        Some(Corners {
            low: all.low.feeders.get(feed)?,
            nominal: all.nominal.feeders.get(feed)?,
            high: all.high.feeders.get(feed)?,
        })
    }

    /// Bands of what is read on the branch of a decoder or switched group.
    pub(super) fn branch_bands(&self, decoder_unit: usize) -> Option<&BranchBands> {
        self.readings.branches.get(decoder_unit)?.as_ref()
    }

    /// Bands of what is read at a segment.
    pub(super) fn segment_bands(&self, segment: usize) -> Option<&SegmentBands> {
        let decoder_unit = self.decoder_unit_of(segment)?;
        let own = self.joint.decoder_units[decoder_unit].segments();
        let at = own.iter().position(|s| *s == segment)?;
        self.branch_bands(decoder_unit)?.segments.get(at)
    }

    /// Bands of what is read at a feed.
    pub(super) fn feed_band(&self, segment: usize, feed: usize) -> Option<&FeedBand> {
        self.segment_bands(segment)?.feeders.get(feed)
    }

    /// Volts at a feed, where a return is lit there.
    pub(super) fn feed_volts(&self, segment: usize, feed: usize) -> Option<Corners<Volts>> {
        corners(self.feed_band(segment, feed)?.volts?)
    }

    /// Volts along a segment, where they were solved.
    fn along(&self, segment: usize) -> Vec<VoltsAt> {
        let cells = self.segment_bands(segment).into_iter();
        let cells = cells.flat_map(|bands| &bands.cells);
        cells
            .filter_map(|cell| {
                Some(VoltsAt {
                    mark: cell.increment,
                    volts: corners(cell.volts)?,
                })
            })
            .collect()
    }

    /// Bound on the error of the voltages of a segment, nominal.
    fn volt_error_bound(&self, segment: usize) -> Option<Volts> {
        let decoder_unit = self.decoder_unit_of(segment)?;
        let own = self.joint.output_of(decoder_unit)?;
        finite(own.figures.as_ref().ok()?.nominal.volt_error_bound)
    }

    /// The decoder or switched group that serves a segment.
    pub(in crate::plan) fn decoder_unit_of(&self, segment: usize) -> Option<usize> {
        Some(self.joint.served.segment(segment)?.0)
    }

    /// The supply and output that feed a decoder or switched group.
    pub(in crate::plan) fn unit_of(&self, decoder_unit: usize) -> Option<(usize, usize)> {
        let own = self.joint.output_of(decoder_unit)?;
        Some((own.unit, own.output))
    }

    /// Name of a conductor in this tape.
    pub(super) fn conductor(&self, tape: usize, conductor: feeding::Conductor) -> Conductor {
        match conductor {
            feeding::Conductor::Common => match self.job.strips()[tape].polarity {
                Polarity::CommonPlus => Conductor::Plus,
                Polarity::CommonMinus => Conductor::Minus,
            },
            feeding::Conductor::Return(e) => {
                Conductor::Return(EmitterId::new(self.emitter(tape, e).0))
            }
        }
    }

    /// Runs with their segments, feeds and pieces of tape.
    pub(in crate::plan) fn put_tape(&self, design: &mut Design, progress: &mut Progress<'_>) {
        let weakest = self.weakest(progress);
        // Segments stand in the order of their runs.
        let mut segments = self.joint.segments.iter().enumerate().peekable();
        for (at, (run, weakest)) in self.runs.iter().zip(weakest).enumerate() {
            design.runs.push(self.run(run, weakest));
            while let Some((number, segment)) = segments.next_if(|(_, own)| own.run == at) {
                design.segments.push(self.segment(number, segment));
                let feeds = (0..segment.plan.feeds.len()).map(|n| self.feed(number, n));
                design.feeds.extend(feeds);
                self.put_pieces(design, segment);
            }
        }
    }

    fn run(&self, run: &RunWork<'_>, weakest: Solved<Weakest>) -> Run {
        let layout = &run.layout;
        let name = run.spec.profile.as_ref();
        let profile = name.and_then(|name| self.job.profile(name));
        let cover = profile.and_then(|p| p.cover.as_ref());
        let [straights, inside, outside, gaps] = layout.path_counts().map(|n| n as u64);
        Run {
            id: RunId::new(&*run.spec.name),
            zone: ZoneId::new(&*run.zone.name),
            room: Name::from(&*run.spec.room),
            drawing: Name::from(&*run.spec.drawing),
            strip: ProductId::new(&*self.job.strips()[run.tape].name),
            drawn: layout.drawn(),
            lit: layout.lit(),
            dark_start: layout.dark_start(),
            dark_end: layout.dark_end(),
            dark_between: layout.dark_between(),
            increments: layout.increments(),
            path: Path {
                straights,
                inside_corners: inside,
                outside_corners: outside,
                gaps,
            },
            line: line(run),
            profile: profile.map(|p| ProductId::new(&*p.name)),
            profile_earthed: profile.and_then(|p| p.earthed),
            cover: cover.map(|c| Cover {
                description: Name::from(&*c.description),
            }),
            environment: run.spec.environment,
            ambient: run.spec.ambient.into(),
            ingress: run.spec.ingress,
            service: run.zone.service,
            seen: run.spec.layout.sight == Sight::Seen,
            fed: run.holds,
            weakest,
        }
    }

    fn segment(&self, number: usize, segment: &SegmentWork) -> Segment {
        let run = &self.runs[segment.run];
        let strip = &self.job.strips()[segment.tape];
        let own = &segment.plan;
        Segment {
            id: self.segment_id(number),
            run: RunId::new(&*run.spec.name),
            strip: ProductId::new(&*strip.name),
            first: own.from,
            last: own.to,
            length: strip.pitch.length_of(own.to - own.from),
            end_seen: run.is_seen(own.to),
            pattern: own.pattern,
            feeds: (0..own.feeds.len())
                .map(|n| feed_id(&segment.id, n))
                .collect(),
            solved: match self.figures(number) {
                None => Solved::Not("the output that it hangs on was not solved".into()),
                Some(figures) => match self.segment_figures(number, figures, run) {
                    Some(typed) => Solved::Figures(typed),
                    None => Solved::Not("the solve gave no finite figures".into()),
                },
            },
        }
    }

    fn segment_figures(
        &self,
        number: usize,
        f: Corners<&segment::SegmentFigures>,
        run: &RunWork<'_>,
    ) -> Option<SegmentFigures> {
        let tape = self.joint.segments[number].tape;
        let cells = |f: &segment::SegmentFigures, side: usize| -> Vec<Option<Share>> {
            let cells = f.ends[side].iter();
            cells.map(|one| finite((*one)?)).collect()
        };
        let raised = |side: usize| {
            let found = self.joint.raised(number);
            found.map_or_else(Vec::new, |f| cells(f, side))
        };
        let steps = f.low.joint_steps.iter().map(|joint| {
            Some(Step {
                at: joint.mark,
                seen: run.is_seen(joint.mark),
                step: finite(joint.step)?,
            })
        });
        Some(SegmentFigures {
            least_volts: corners(f.map(|f| f.least_volts))?,
            along: self.along(number),
            drop: self
                .segment_bands(number)
                .and_then(|own| finite(own.drop.high)),
            least_current: corners(f.map(|f| f.least_current))?,
            weakest: self.emitter(tape, f.low.weakest.emitter),
            weakest_at: f.low.weakest.increment,
            balance: finite(f.low.imbalance)?,
            power: corners(f.map(|f| f.power))?,
            rail_current: finite(f.high.rail_current)?,
            volt_error_bound: self.volt_error_bound(number)?,
            first_cell: cells(f.low, 0),
            last_cell: cells(f.low, 1),
            first_cell_raised: raised(0),
            last_cell_raised: raised(1),
            steps: steps.collect::<Option<_>>()?,
        })
    }

    /// Where the feeders of a segment start.
    pub(super) fn source_of(&self, segment: usize) -> Terminals {
        let Some(decoder_unit) = self.decoder_unit_of(segment) else {
            return Terminals::Nothing;
        };
        let own = &self.joint.decoder_units[decoder_unit];
        if own.spec.is_none() {
            return self.supply_terminals(decoder_unit);
        }
        let emitters = self.job.strips()[self.joint.segments[segment].tape]
            .emitters
            .len();
        Terminals::Decoder {
            decoder: self.decoder_id(decoder_unit),
            outputs: (0..emitters)
                .filter_map(|e| Some(own.output_of(segment, e)? as u64 + 1))
                .collect(),
        }
    }

    fn feed(&self, number: usize, n: usize) -> Feed {
        let segment = &self.joint.segments[number];
        let strip: &StripSpec = &self.job.strips()[segment.tape];
        let feed = &segment.plan.feeds[n];
        let found = self.feed_figures(number, n);
        let id = feed_id(&segment.id, n);
        Feed {
            cable: CableId::new(id.as_str()),
            id,
            segment: self.segment_id(number),
            mark: feed.at,
            position: strip.pitch.length_of(feed.at),
            conductors: feed
                .conductors
                .iter()
                .map(|c| FeedConductor {
                    conductor: self.conductor(segment.tape, c.conductor),
                    current: found
                        .and_then(|f| f.high.current(c.conductor))
                        .unwrap_or(c.current)
                        .into(),
                })
                .collect(),
            kind: ProductId::new(&*feed.cable),
            from: self.source_of(number),
            volts: self.feed_volts(number, n),
            joint: Joint::Soldered,
        }
    }

    /// Pieces of tape of a segment: it is cut where a leg of the path ends.
    fn put_pieces(&self, design: &mut Design, segment: &SegmentWork) {
        let run = &self.runs[segment.run];
        let strip = &self.job.strips()[segment.tape];
        let (from, to) = (segment.plan.from, segment.plan.to);
        let pieces = run.pieces(from, to);
        let end = |mark: u64, first: bool| -> EndWork {
            if segment.plan.feeds.iter().any(|f| f.at == mark) {
                let ends = &run.spec.layout;
                let out = if first {
                    ends.start.lead_out
                } else {
                    ends.end.lead_out
                };
                match out {
                    LeadOut::Back if mark == 0 || mark == run.layout.increments() => {
                        EndWork::LeadAtBack
                    }
                    _ => EndWork::Lead,
                }
            } else if mark == from || mark == to {
                EndWork::EndCap
            } else {
                EndWork::Jumper
            }
        };
        for (n, (a, b)) in pieces.iter().enumerate() {
            let id = if pieces.len() == 1 {
                segment.id.clone()
            } else {
                format!("{}-{}", segment.id, n + 1)
            };
            design.pieces.push(Piece {
                id: PieceId::new(id),
                run: RunId::new(&*run.spec.name),
                segment: crate::id::SegmentId::new(&*segment.id),
                number: segment.number as u64 + 1,
                strip: ProductId::new(&*strip.name),
                increments: b - a,
                length: strip.pitch.length_of(b - a),
                from: strip.pitch.length_of(*a),
                start: end(*a, true),
                end: end(*b, false),
                reels: Vec::new(),
            });
        }
    }
}

/// Where the tape, corners and gaps of a run lie on its drawn line.
fn line(run: &RunWork<'_>) -> Line {
    let lit = run.layout.lit_stretches().into_iter().map(|own| Lit {
        first: own.first,
        last: own.last,
        from: own.from,
        to: own.to,
    });
    let mut out = Line {
        lit: lit.collect(),
        ..Line::default()
    };
    let mut at = ExactLength::ZERO;
    for piece in &run.spec.layout.pieces {
        match piece {
            layout::spec::Piece::Straight { length } => at = at.saturating_add(*length),
            layout::spec::Piece::Corner(corner) => out.corners.push(Corner {
                at,
                turn: corner.turn,
                made: match corner.policy {
                    CornerPolicy::CutAndJumper { .. } => CornerMade::Jumper,
                    CornerPolicy::Bend { .. } => CornerMade::Bend,
                    CornerPolicy::MouldedJoint { .. } => CornerMade::MouldedJoint,
                },
            }),
            layout::spec::Piece::Gap(gap) => {
                let to = at.saturating_add(gap.length);
                out.gaps.push(Gap {
                    from: at,
                    to,
                    jumper: gap.jumper.is_some(),
                });
                at = to;
            }
        }
    }
    out
}
