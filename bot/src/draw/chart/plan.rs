//! Where everything of a chart stands. Decides the places of axes, lines and words before anything is drawn: words that have no
//! room in the chart stand in a key below it, each behind a sample of what it names, so that none covers a mark, a line or other
//! words. Leaves shapes, strokes and colours to the drawing.

use commands::picture::{
    Axis, Chart, Layer, Level, Line, MARKS_MAX, Mark, MarkKind, Picture, UPRIGHTS_MAX, Upright,
};
use plotters::coord::CoordTranslate;
use plotters::coord::cartesian::Cartesian2d;
use plotters::coord::types::RangedCoordf64;

use super::super::paper::{MARGIN, Paper, Spot, Type, WIDTH, head_height};
use super::super::room::{Flow, Room, flow};
use super::shape;
use super::uprights::{self, named};

/// How tall the part with the marks is.
const PLOT: i32 = 600;
/// Within it, so that a mark at an end of an axis is on it whole.
const INSET: i32 = 26;
/// A strip below it: for what was looked at and felt, for what could not be found out.
const FOOT: i32 = 60;
/// How tall a sample in the key is from left to right.
const SAMPLE: i32 = 64;
/// Between things.
pub const GAP: i32 = 14;
/// How near to its mark words stand at the nearest, and how much farther they are put at a time.
const STEP: i32 = 44;
/// So often they are put farther away.
const STEPS: i32 = 6;
/// What words at a mark keep to a line.
const LINE_REACH: i32 = 5;

/// Where everything stands.
pub struct Plan<'a> {
    pub chart: &'a Chart,
    /// Where the axis' title stands.
    pub title: Option<i32>,
    pub plot: Spot,
    pub foot: Option<Spot>,
    pub uprights: Vec<Standing>,
    /// Where the words below the axis across stand.
    pub ticks: i32,
    /// Words in and above the chart.
    pub words: Vec<Words>,
    /// Where the key begins, and what is in it.
    pub key: (i32, Vec<(Key, Flow)>),
    pub bottom: i32,
    coords: Coords,
}

/// An upright line, from the foot up to here.
pub struct Standing {
    pub x: i32,
    pub top: i32,
    pub kind: Upright,
}

/// Words, where they stand, and the mark that a thin line leads to where they stand apart from it.
pub struct Words {
    pub kind: Type,
    pub text: String,
    pub spot: Spot,
    pub leads: Option<((i32, i32), (i32, i32))>,
}

/// A piece of the key.
pub struct Key {
    pub sample: Sample,
    pub text: String,
}

/// What a piece of the key names.
#[derive(Clone)]
pub enum Sample {
    /// An upright line, by its number.
    Number(String),
    Band,
    Level(Level),
    Line(Line),
    Missing,
    Mark(MarkKind),
}

impl Key {
    /// What stands before its words.
    pub fn before(&self) -> i32 {
        match &self.sample {
            Sample::Number(number) => Type::Strong.width(number) + GAP,
            Sample::Band | Sample::Level(_) | Sample::Line(_) => SAMPLE + GAP,
            Sample::Missing | Sample::Mark(_) => Type::Plain.size() + GAP,
        }
    }

    fn width(&self) -> i32 {
        self.before() + Type::Plain.width(&self.text)
    }
}

/// plotters' own coordinates: both axes from 0 to 1.
struct Coords(Cartesian2d<RangedCoordf64, RangedCoordf64>);

/// How far along an axis something is, 0 to 1; in its middle where it has no length.
pub fn part(axis: &Axis, at: i64) -> f64 {
    let whole = i128::from(axis.to) - i128::from(axis.from);
    if whole <= 0 {
        return 0.5;
    }
    let part = (i128::from(at) - i128::from(axis.from)) as f64 / whole as f64;
    part.clamp(0.0, 1.0)
}

/// The newest of what is drawn of a kind.
pub fn newest<T>(all: &[T]) -> std::slice::Iter<'_, T> {
    all[all.len().saturating_sub(MARKS_MAX)..].iter()
}

impl<'p> Plan<'p> {
    pub fn of(picture: &Picture, chart: &'p Chart) -> Self {
        let mut top = head_height(picture) + GAP;
        let title = (!chart.up.title.is_empty()).then_some(top);
        if title.is_some() {
            top += Type::Plain.line();
        }
        let labels = chart.up.ticks.iter();
        let labels = labels.map(|tick| Type::Plain.width(&tick.label));
        let left = MARGIN + labels.max().unwrap_or(0).min(WIDTH as i32 / 4) + GAP;
        let right = WIDTH as i32 - MARGIN;
        let inset = (left + INSET, right - INSET - 1);
        let lines = lines(chart, inset);
        let named = named(&lines);
        let lane = Type::Plain.line() + 6;
        let plot_top = top + named.lanes * lane + GAP;
        let plot = Spot {
            left,
            top: plot_top,
            right,
            bottom: plot_top + PLOT,
        };
        let mut layers = chart.layers.iter();
        let has_missing =
            layers.any(|layer| matches!(layer, Layer::Missing { at, .. } if !at.is_empty()));
        let mut layers = chart.layers.iter();
        let has_felt =
            layers.any(|layer| matches!(layer, Layer::Felt { marks, .. } if !marks.is_empty()));
        let strips = i32::from(has_missing) + i32::from(has_felt);
        let foot = (strips > 0).then_some(Spot {
            top: plot.bottom,
            bottom: plot.bottom + strips * FOOT,
            ..plot
        });
        let ticks = foot.map_or(plot.bottom, |foot| foot.bottom) + GAP;
        let dots = (inset.0..inset.1, plot.bottom - 1 - INSET..plot.top + INSET);
        let mut plan = Self {
            chart,
            title,
            plot,
            foot,
            uprights: lines
                .iter()
                .zip(&named.reach)
                .map(|(line, reach)| Standing {
                    x: line.x,
                    top: plot_top - GAP - (reach * lane - 6).max(0),
                    kind: line.kind,
                })
                .collect(),
            ticks,
            words: named
                .heads
                .into_iter()
                .map(|(text, place, left)| {
                    let kind = if named.key.is_empty() {
                        Type::Plain
                    } else {
                        Type::Strong
                    };
                    let spot = Paper::spot(kind, &text, left, plot_top - GAP - (place + 1) * lane);
                    Words {
                        kind,
                        text,
                        spot,
                        leads: None,
                    }
                })
                .collect(),
            key: (0, Vec::new()),
            bottom: 0,
            coords: Coords(Cartesian2d::new(0.0..1.0, 0.0..1.0, dots)),
        };
        let numbers = named.key.into_iter().map(|(number, text)| Key {
            sample: Sample::Number(number),
            text,
        });
        let key = numbers.chain(plan.place()).collect();
        plan.close(key);
        plan
    }

    /// Where something is.
    pub fn at(&self, across: i64, up: i64) -> (i32, i32) {
        let of = (part(&self.chart.across, across), part(&self.chart.up, up));
        self.coords.0.translate(&of)
    }

    /// How high something is.
    pub fn up(&self, up: i64) -> i32 {
        self.at(self.chart.across.from, up).1
    }

    /// From where to where the axis across goes.
    pub fn across(&self) -> (i32, i32) {
        (self.plot.left + INSET, self.plot.right - INSET)
    }

    /// Whether a line is worked out through marks, which are then drawn smaller and below it.
    pub fn is_fitted(&self) -> bool {
        let fitted = |layer: &Layer| {
            matches!(
                layer,
                Layer::Line {
                    kind: Line::Fitted,
                    ..
                }
            )
        };
        self.chart.layers.iter().any(fitted)
    }

    /// The shape, colour and reach of a mark among so many.
    pub fn shape(
        &self,
        kind: MarkKind,
        count: usize,
    ) -> (super::super::paper::Shape, plotters::style::RGBColor, i32) {
        shape(kind, count, self.is_fitted())
    }

    /// Puts the words of all layers where they have room; what has none is for the key.
    fn place(&mut self) -> Vec<Key> {
        let mut room = self.taken();
        let mut key = Vec::new();
        // Words at marks have but a few places.
        for layer in &self.chart.layers {
            if let Layer::Marks(marks) = layer {
                for mark in newest(marks).filter(|mark| !mark.label.is_empty()) {
                    if !self.beside(&mut room, mark, marks.len()) {
                        key.push(Key {
                            sample: Sample::Mark(mark.kind),
                            text: mark.label.clone(),
                        });
                    }
                }
            }
        }
        for layer in &self.chart.layers {
            let (label, sample, within, places) = match layer {
                Layer::Band { from, to, label } => {
                    let places = self.in_band(self.up(*to), self.up(*from), label);
                    (label, Sample::Band, self.inner(), places)
                }
                Layer::Level { at, kind, label } => {
                    let y = self.up(*at);
                    let tops = [y - Type::Plain.size() - 8, y + 8];
                    let places = self.along(label, &tops);
                    (label, Sample::Level(*kind), self.inner(), places)
                }
                Layer::Line {
                    points,
                    kind,
                    label,
                } => {
                    let places = self.at_line(points, label);
                    (label, Sample::Line(*kind), self.inner(), places)
                }
                Layer::Missing { at, label } => {
                    let Some(foot) = self.foot.filter(|_| !at.is_empty()) else {
                        continue;
                    };
                    let top = missing_at(foot) - Type::Plain.size() / 2;
                    (label, Sample::Missing, foot, self.along(label, &[top]))
                }
                Layer::Felt { marks, label } => {
                    let Some(foot) = self.foot.filter(|_| !marks.is_empty()) else {
                        continue;
                    };
                    let top = felt_at(foot) - Type::Plain.size() / 2;
                    let sample = Sample::Mark(MarkKind::Good);
                    (label, sample, foot, self.along(label, &[top]))
                }
                Layer::Marks(_) | Layer::Upright { .. } | Layer::Between { .. } => continue,
            };
            if label.is_empty() {
                continue;
            }
            match room.words((Type::Plain, label), within, places) {
                Some(spot) => self.words.push(Words {
                    kind: Type::Plain,
                    text: label.clone(),
                    spot,
                    leads: None,
                }),
                None => key.push(Key {
                    sample,
                    text: label.clone(),
                }),
            }
        }
        key
    }

    /// The part of the plot that words may stand in.
    fn inner(&self) -> Spot {
        Spot {
            left: self.plot.left + 8,
            top: self.plot.top + 4,
            right: self.plot.right - 8,
            bottom: self.plot.bottom - 4,
        }
    }

    /// What words keep off.
    fn taken(&self) -> Room {
        let mut room = Room::default();
        let plot = self.plot;
        for layer in &self.chart.layers {
            match layer {
                Layer::Marks(marks) => {
                    for mark in newest(marks) {
                        let (_, _, reach) = self.shape(mark.kind, marks.len());
                        let (low, high) = self.ends(mark);
                        room.take(Spot::around(
                            (low.0, i32::midpoint(low.1, high.1)),
                            reach + 2,
                        ));
                        room.take_along(&[low, high], LINE_REACH);
                        for end in [low, high].into_iter().filter(|_| low != high) {
                            let cap = [(end.0 - reach, end.1), (end.0 + reach, end.1)];
                            room.take_along(&cap, LINE_REACH);
                        }
                    }
                }
                Layer::Missing { at, .. } => {
                    let Some(foot) = self.foot else { continue };
                    let y = missing_at(foot);
                    for at in newest(at) {
                        let (x, _) = self.at(*at, self.chart.up.from);
                        room.take(Spot::around((x, y), CROSS));
                    }
                }
                Layer::Felt { marks, .. } => {
                    let Some(foot) = self.foot else { continue };
                    let y = felt_at(foot);
                    for (at, kind) in newest(marks) {
                        let (x, _) = self.at(*at, self.chart.up.from);
                        let (_, _, reach) = self.shape(*kind, marks.len());
                        room.take(Spot::around((x, y), reach + 2));
                    }
                }
                Layer::Level { at, .. } => {
                    let y = self.up(*at);
                    room.take_along(&[(plot.left, y), (plot.right, y)], LINE_REACH);
                }
                Layer::Line { points, .. } => {
                    let points: Vec<_> = points.iter().map(|(x, y)| self.at(*x, *y)).collect();
                    room.take_along(&points, LINE_REACH);
                }
                Layer::Between { points } => {
                    let edge = |upper: bool| {
                        let up = move |(_, low, high): &(i64, i64, i64)| {
                            if upper { *high } else { *low }
                        };
                        points.iter().map(move |point| (point.0, up(point)))
                    };
                    for upper in [false, true] {
                        let edge: Vec<_> = edge(upper).map(|(x, y)| self.at(x, y)).collect();
                        room.take_along(&edge, LINE_REACH);
                    }
                    // Its ends as well, where it begins and ends all at once.
                    for point in points.first().into_iter().chain(points.last()) {
                        let ends = [self.at(point.0, point.1), self.at(point.0, point.2)];
                        room.take_along(&ends, LINE_REACH);
                    }
                }
                Layer::Band { .. } | Layer::Upright { .. } => {}
            }
        }
        let low = self.foot.map_or(plot.bottom, |foot| foot.bottom);
        for line in &self.uprights {
            room.take_along(&[(line.x, low), (line.x, line.top)], LINE_REACH);
        }
        room
    }

    /// The ends of a mark: the lower, the upper.
    pub fn ends(&self, mark: &Mark) -> ((i32, i32), (i32, i32)) {
        (self.at(mark.at, mark.from), self.at(mark.at, mark.to))
    }

    /// In a band, at its corners first, then along its edges; then right above and below it.
    fn in_band(&self, top: i32, bottom: i32, label: &str) -> Vec<(i32, i32)> {
        let tall = Type::Plain.size();
        let inside = [bottom - tall - 6, top + 6].map(|at| at.clamp(top, bottom.max(top)));
        let tops = [inside[0], inside[1], bottom + 6, top - tall - 6];
        self.along(label, &tops)
    }

    /// At each of these heights: at the left, at the right, and between.
    fn along(&self, label: &str, tops: &[i32]) -> Vec<(i32, i32)> {
        const PARTS: i32 = 24;
        let left = self.plot.left + GAP;
        let right = self.plot.right - GAP - Type::Plain.width(label);
        let between = (1..PARTS).map(|part| left + (right - left) * part / PARTS);
        let all: Vec<i32> = [left, right].into_iter().chain(between).collect();
        let all = &all;
        tops.iter()
            .flat_map(|top| all.iter().map(move |left| (*left, *top)))
            .collect()
    }

    /// Above and below a line, near its end first.
    fn at_line(&self, points: &[(i64, i64)], label: &str) -> Vec<(i32, i32)> {
        const PARTS: i64 = 12;
        let (width, tall) = (Type::Plain.width(label), Type::Plain.size());
        let mut on: Vec<(i32, i32)> = Vec::new();
        for pair in points.windows(2).rev() {
            let (from, to) = (self.at(pair[0].0, pair[0].1), self.at(pair[1].0, pair[1].1));
            for part in (0..=PARTS as i32).rev() {
                let between = |from: i32, to: i32| from + (to - from) * part / PARTS as i32;
                on.push((between(from.0, to.0), between(from.1, to.1)));
            }
        }
        on.iter()
            .flat_map(|(x, y)| {
                let (before, after) = (x - width - GAP, x + GAP);
                [
                    (before, y - tall - GAP),
                    (after, y - tall - GAP),
                    (before, y + GAP),
                    (after, y + GAP),
                    (x - width / 2, y - tall - 2 * GAP),
                    (x - width / 2, y + 2 * GAP),
                ]
            })
            .collect()
    }

    /// Words at a mark: beside it, above or below it; where that is taken farther away, at the end of a thin line.
    fn beside(&mut self, room: &mut Room, mark: &Mark, count: usize) -> bool {
        let (_, _, reach) = self.shape(mark.kind, count);
        let (low, high) = self.ends(mark);
        let (x, middle) = (low.0, i32::midpoint(low.1, high.1));
        let (width, tall) = (Type::Strong.width(&mark.label), Type::Strong.size());
        for step in 0..=STEPS {
            let away = reach + 8 + step * STEP;
            let (right, left) = (x + away, x - away - width);
            let (above, below) = (high.1 - away - tall, low.1 + away);
            let places = [
                (right, middle - tall / 2),
                (left, middle - tall / 2),
                (x - width / 2, above),
                (x - width / 2, below),
                (right, above),
                (left, above),
                (right, below),
                (left, below),
            ];
            let text = (Type::Strong, mark.label.as_str());
            if let Some(spot) = room.words(text, self.inner(), places) {
                let near = |from: i32, to: i32, at: i32| at.clamp(from, to);
                let end = (
                    near(spot.left - 2, spot.right + 2, x),
                    near(spot.top + 4, spot.bottom, middle),
                );
                // Other words keep off the thin line as well.
                if step > 0 {
                    room.take_along(&[(x, middle), end], LINE_REACH);
                }
                self.words.push(Words {
                    kind: Type::Strong,
                    text: mark.label.clone(),
                    spot,
                    leads: (step > 0).then_some(((x, middle), end)),
                });
                return true;
            }
        }
        false
    }

    /// The key, and where the picture ends.
    fn close(&mut self, mut key: Vec<Key>) {
        let most = WIDTH as i32 - 2 * MARGIN;
        for piece in &mut key {
            piece.text = Type::Plain.cut(&piece.text, most - piece.before());
        }
        let (places, lines) = flow(key.iter().map(Key::width), 3 * GAP);
        let mut bottom = self.ticks;
        if !self.chart.across.ticks.is_empty() {
            bottom += Type::Plain.line();
        }
        if !self.chart.across.title.is_empty() {
            bottom += Type::Plain.line();
        }
        if lines > 0 {
            bottom += GAP;
        }
        self.key = (bottom, key.into_iter().zip(places).collect());
        self.bottom = bottom + lines * Type::Plain.line() + MARGIN;
    }
}

/// How high the marks of what was felt stand: in the strip right below the chart.
pub fn felt_at(foot: Spot) -> i32 {
    foot.top + FOOT / 2
}

/// How high those of what could not be found out stand: in the lowest strip.
pub fn missing_at(foot: Spot) -> i32 {
    foot.bottom - FOOT / 2
}

/// How far the cross of what could not be found out reaches.
pub const CROSS: i32 = 15;

/// The upright lines, as many as are drawn.
fn lines(chart: &Chart, (left, right): (i32, i32)) -> Vec<uprights::Line<'_>> {
    let found = chart.layers.iter().filter_map(|layer| match layer {
        Layer::Upright { at, kind, label } => Some((*at, *kind, label.as_str())),
        Layer::Band { .. }
        | Layer::Level { .. }
        | Layer::Marks(_)
        | Layer::Missing { .. }
        | Layer::Felt { .. }
        | Layer::Line { .. }
        | Layer::Between { .. } => None,
    });
    let place = |at| left + (part(&chart.across, at) * f64::from(right - left)).round() as i32;
    found
        .take(UPRIGHTS_MAX)
        .map(|(at, kind, label)| uprights::Line {
            x: place(at),
            kind,
            label,
        })
        .collect()
}
