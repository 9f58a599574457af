//! Charts: marks over two axes. Decides where axes, marks and words stand, and the shape, stroke and colour of each kind:
//! no two kinds differ by colour alone. Leaves what is shown to the value.

use commands::picture::{
    Axis, Chart, Layer, Line, MARKS_MAX, MarkKind, Picture, UPRIGHTS_MAX, Upright,
};
use plotters::coord::cartesian::Cartesian2d;
use plotters::coord::types::RangedCoordf64;
use plotters::prelude::{BitMapBackend, DrawingArea};
use plotters::style::RGBColor;

use super::ink;
use super::paper::{Drew, Fault, MARGIN, Paper, Shape, Spot, Stroke, Type, WIDTH, head_height};

/// How tall the part with the marks is.
const PLOT: i32 = 580;
/// The strip below it for what could not be found out.
const FOOT: i32 = 60;
/// The most lines of words above it.
const LANES_MAX: usize = 5;
/// Between things.
const GAP: i32 = 14;
/// From this many marks on they are drawn smaller.
const MANY: usize = 60;

/// Where everything stands.
struct Plan<'a> {
    chart: &'a Chart,
    /// Where the axis' title stands.
    title: Option<i32>,
    plot: Spot,
    foot: Option<Spot>,
    uprights: Vec<Lane<'a>>,
    /// Where the words below the axis across stand.
    ticks: i32,
    bottom: i32,
}

/// An upright line, and the words at its upper end.
struct Lane<'a> {
    x: i32,
    top: i32,
    kind: Upright,
    label: Option<(&'a str, Spot)>,
}

/// How tall the picture is.
pub fn height(picture: &Picture, chart: &Chart) -> i32 {
    Plan::of(picture, chart).bottom
}

/// Draws it.
pub fn draw<'a>(paper: &mut Paper<'a>, picture: &Picture, chart: &Chart) -> Drew<'a> {
    let plan = Plan::of(picture, chart);
    paper.head(picture)?;
    if let Some(top) = plan.title {
        let title = Type::Plain.cut(&chart.up.title, WIDTH as i32 - 2 * MARGIN);
        paper.words_at(Type::Plain, &title, MARGIN, top, ink::QUIET)?;
    }
    let coords = plan.coords(paper);
    for layer in &chart.layers {
        plan.ground(paper, &coords, layer)?;
    }
    plan.axes(paper, &coords)?;
    for layer in &chart.layers {
        plan.layer(paper, &coords, layer)?;
    }
    plan.uprights(paper)?;
    for layer in &chart.layers {
        plan.marks(paper, &coords, layer)?;
    }
    for layer in &chart.layers {
        plan.words(paper, &coords, layer)?;
    }
    Ok(())
}

/// plotters' own coordinates: both axes from 0 to 1.
struct Coords<'a>(DrawingArea<BitMapBackend<'a>, Cartesian2d<RangedCoordf64, RangedCoordf64>>);

impl Coords<'_> {
    fn at(&self, chart: &Chart, across: i64, up: i64) -> (i32, i32) {
        self.0
            .map_coordinate(&(part(&chart.across, across), part(&chart.up, up)))
    }

    /// How high something is.
    fn up(&self, chart: &Chart, up: i64) -> i32 {
        self.at(chart, chart.across.from, up).1
    }
}

/// How far along an axis something is, 0 to 1; in its middle where it has no length.
pub(super) fn part(axis: &Axis, at: i64) -> f64 {
    let whole = i128::from(axis.to) - i128::from(axis.from);
    if whole <= 0 {
        return 0.5;
    }
    let part = (i128::from(at) - i128::from(axis.from)) as f64 / whole as f64;
    part.clamp(0.0, 1.0)
}

impl<'p> Plan<'p> {
    fn of(picture: &Picture, chart: &'p Chart) -> Self {
        let mut top = head_height(picture) + GAP;
        let title = (!chart.up.title.is_empty()).then_some(top);
        if title.is_some() {
            top += Type::Plain.line();
        }
        let labels = chart
            .up
            .ticks
            .iter()
            .map(|tick| Type::Plain.width(&tick.label));
        let left = MARGIN + labels.max().unwrap_or(0).min(WIDTH as i32 / 4) + GAP;
        let right = WIDTH as i32 - MARGIN - GAP;
        let uprights: Vec<(i64, Upright, &str)> = chart
            .layers
            .iter()
            .filter_map(|layer| match layer {
                Layer::Upright { at, kind, label } => Some((*at, *kind, label.as_str())),
                Layer::Band { .. }
                | Layer::Level { .. }
                | Layer::Marks(_)
                | Layer::Missing { .. }
                | Layer::Line { .. }
                | Layer::Between { .. } => None,
            })
            .take(UPRIGHTS_MAX)
            .collect();
        let places: Vec<i32> = uprights
            .iter()
            .map(|(at, _, _)| {
                left + (part(&chart.across, *at) * f64::from(right - left)).round() as i32
            })
            .collect();
        let lanes = lanes(&places, &uprights);
        let used = lanes
            .iter()
            .flatten()
            .map(|(lane, _)| lane + 1)
            .max()
            .unwrap_or(0);
        let lane_height = Type::Plain.line() + 6;
        let plot_top = top + i32::try_from(used).unwrap_or(0) * lane_height + GAP;
        let plot = Spot {
            left,
            top: plot_top,
            right,
            bottom: plot_top + PLOT,
        };
        let has_foot = chart
            .layers
            .iter()
            .any(|layer| matches!(layer, Layer::Missing { at, .. } if !at.is_empty()));
        let foot = has_foot.then_some(Spot {
            top: plot.bottom,
            bottom: plot.bottom + FOOT,
            ..plot
        });
        let ticks = foot.map_or(plot.bottom, |foot| foot.bottom) + GAP;
        let mut bottom = ticks;
        if !chart.across.ticks.is_empty() {
            bottom += Type::Plain.line();
        }
        if !chart.across.title.is_empty() {
            bottom += Type::Plain.line();
        }
        let uprights = uprights
            .into_iter()
            .zip(places)
            .zip(lanes)
            .map(|(((_, kind, label), x), lane)| {
                let placed = lane.map(|(lane, left)| {
                    let top = plot_top - GAP - (i32::try_from(lane).unwrap_or(0) + 1) * lane_height;
                    (label, Paper::spot(Type::Plain, label, left, top))
                });
                Lane {
                    x,
                    top: placed.map_or(plot_top - GAP, |(_, spot)| spot.top + 6),
                    kind,
                    label: placed,
                }
            })
            .collect();
        Self {
            chart,
            title,
            plot,
            foot,
            uprights,
            ticks,
            bottom: bottom + MARGIN,
        }
    }

    /// plotters' coordinates over the part with the marks; it puts 1 on the last dot.
    fn coords<'a>(&self, paper: &Paper<'a>) -> Coords<'a> {
        let plot = self.plot;
        let dots = (plot.left..plot.right - 1, plot.bottom - 1..plot.top);
        let whole = Cartesian2d::<RangedCoordf64, RangedCoordf64>::new(0.0..1.0, 0.0..1.0, dots);
        Coords(paper.area.clone().apply_coord_spec(whole))
    }

    /// What lies behind the axes.
    fn ground<'a>(&self, paper: &mut Paper<'a>, coords: &Coords<'a>, layer: &Layer) -> Drew<'a> {
        if let Layer::Band { from, to, .. } = layer {
            let (top, bottom) = (coords.up(self.chart, *to), coords.up(self.chart, *from));
            let band = Spot {
                top,
                bottom: bottom + 1,
                ..self.plot
            };
            paper.fill(band, ink::BAND)?;
            for edge in [top, bottom] {
                paper.line(
                    &[(band.left, edge), (band.right - 1, edge)],
                    ink::BLUE,
                    3,
                    Stroke::Whole,
                )?;
            }
        }
        Ok(())
    }

    fn axes<'a>(&self, paper: &mut Paper<'a>, coords: &Coords<'a>) -> Drew<'a> {
        let Self { chart, plot, .. } = self;
        for tick in &chart.up.ticks {
            let y = coords.up(self.chart, tick.at);
            paper.line(
                &[(plot.left, y), (plot.right - 1, y)],
                ink::GRID,
                2,
                Stroke::Whole,
            )?;
            let width = Type::Plain.width(&tick.label);
            let top = y - Type::Plain.size() / 2;
            let spot = Paper::spot(Type::Plain, &tick.label, plot.left - GAP - width, top);
            if paper.free(&spot) {
                paper.words_at(Type::Plain, &tick.label, spot.left, top, ink::QUIET)?;
            }
        }
        let low = self.foot.map_or(plot.bottom, |foot| foot.bottom);
        across_ticks(
            paper,
            &chart.across,
            (plot.left, plot.right),
            low,
            self.ticks,
        )?;
        if !chart.across.title.is_empty() {
            let width = plot.right - MARGIN;
            let title = Type::Plain.cut(&chart.across.title, width);
            let left = plot.right - Type::Plain.width(&title);
            let mut top = self.ticks;
            if !chart.across.ticks.is_empty() {
                top += Type::Plain.line();
            }
            paper.words_at(Type::Plain, &title, left, top, ink::QUIET)?;
        }
        for spot in [Some(*plot), self.foot].into_iter().flatten() {
            paper.frame(spot, ink::EDGE, 2)?;
        }
        Ok(())
    }

    fn layer<'a>(&self, paper: &mut Paper<'a>, coords: &Coords<'a>, layer: &Layer) -> Drew<'a> {
        let at = |across, up| coords.at(self.chart, across, up);
        match layer {
            Layer::Between { points } => {
                let lower = points
                    .iter()
                    .rev()
                    .map(|(across, low, _)| at(*across, *low));
                let around: Vec<(i32, i32)> = points
                    .iter()
                    .map(|(across, _, high)| at(*across, *high))
                    .chain(lower)
                    .collect();
                if around.len() > 3 {
                    paper.polygon(around, ink::LEEWAY)?;
                }
                for high in [false, true] {
                    let edge: Vec<(i32, i32)> = points
                        .iter()
                        .map(|(across, low, up)| at(*across, if high { *up } else { *low }))
                        .collect();
                    paper.line(&edge, ink::QUIET, 2, Stroke::Dotted)?;
                }
                Ok(())
            }
            Layer::Level { at, .. } => {
                let y = coords.up(self.chart, *at);
                paper.line(
                    &[(self.plot.left, y), (self.plot.right - 1, y)],
                    ink::VERMILION,
                    5,
                    Stroke::Dashed,
                )
            }
            Layer::Line { points, kind, .. } => {
                let points: Vec<(i32, i32)> =
                    points.iter().map(|(across, up)| at(*across, *up)).collect();
                paper.keep_off_along(&points);
                match kind {
                    Line::Seen => paper.line(&points, ink::INK, 4, Stroke::Whole),
                    Line::Fitted => paper.line(&points, ink::BLUE, 6, Stroke::Dashed),
                }
            }
            Layer::Band { .. }
            | Layer::Upright { .. }
            | Layer::Marks(_)
            | Layer::Missing { .. } => Ok(()),
        }
    }

    fn uprights<'a>(&self, paper: &mut Paper<'a>) -> Drew<'a> {
        let low = self.foot.map_or(self.plot.bottom, |foot| foot.bottom);
        for lane in &self.uprights {
            let (color, wide, stroke) = stroke(lane.kind);
            paper.line(&[(lane.x, low), (lane.x, lane.top)], color, wide, stroke)?;
            paper.keep_off(Spot {
                left: lane.x - 4,
                right: lane.x + 5,
                top: lane.top,
                bottom: low,
            });
            if let Some((label, spot)) = &lane.label {
                paper.words_at(Type::Plain, label, spot.left, spot.top, ink::INK)?;
            }
        }
        Ok(())
    }

    fn marks<'a>(&self, paper: &mut Paper<'a>, coords: &Coords<'a>, layer: &Layer) -> Drew<'a> {
        match layer {
            Layer::Marks(marks) => {
                for mark in newest(marks) {
                    let (shape, color, reach) = shape(mark.kind, marks.len());
                    let low = coords.at(self.chart, mark.at, mark.from);
                    let high = coords.at(self.chart, mark.at, mark.to);
                    if low.1 > high.1 {
                        paper.line(&[low, high], ink::INK, 5, Stroke::Whole)?;
                        for end in [low, high] {
                            paper.line(
                                &[(end.0 - reach, end.1), (end.0 + reach, end.1)],
                                ink::INK,
                                5,
                                Stroke::Whole,
                            )?;
                        }
                    }
                    paper.mark(shape, (low.0, i32::midpoint(low.1, high.1)), reach, color)?;
                }
                Ok(())
            }
            Layer::Missing { at, .. } => {
                let Some(foot) = self.foot else { return Ok(()) };
                for at in newest(at) {
                    let (x, _) = coords.at(self.chart, *at, self.chart.up.from);
                    paper.mark(
                        Shape::Cross,
                        (x, i32::midpoint(foot.top, foot.bottom)),
                        15,
                        ink::INK,
                    )?;
                }
                Ok(())
            }
            Layer::Band { .. }
            | Layer::Level { .. }
            | Layer::Upright { .. }
            | Layer::Line { .. }
            | Layer::Between { .. } => Ok(()),
        }
    }

    fn words<'a>(&self, paper: &mut Paper<'a>, coords: &Coords<'a>, layer: &Layer) -> Drew<'a> {
        let plot = self.plot;
        let tall = Type::Plain.size();
        match layer {
            Layer::Band { from, to, label } => {
                let (top, bottom) = (coords.up(self.chart, *to), coords.up(self.chart, *from));
                let right = plot.right - GAP - Type::Plain.width(label);
                let left = plot.left + GAP;
                let inside = [bottom - tall - 4, top + 4];
                let places: Vec<(i32, i32)> = inside
                    .into_iter()
                    .chain([bottom + 4, top - tall - 4])
                    .flat_map(|top| [(left, top), (right, top)])
                    .collect();
                paper.words_near(Type::Plain, label, &places)?;
            }
            Layer::Level { at, label } => {
                let y = coords.up(self.chart, *at);
                let right = plot.right - GAP - Type::Plain.width(label);
                let middle = i32::midpoint(plot.left, right);
                let places: Vec<(i32, i32)> = [y - tall - 6, y + 6]
                    .into_iter()
                    .flat_map(|top| [right, plot.left + GAP, middle].map(|left| (left, top)))
                    .filter(|(_, top)| *top > plot.top && top + tall < plot.bottom)
                    .collect();
                paper.words_near(Type::Plain, label, &places)?;
            }
            Layer::Marks(marks) => {
                for mark in newest(marks).filter(|mark| !mark.label.is_empty()) {
                    let (_, _, reach) = shape(mark.kind, marks.len());
                    let high = coords.at(self.chart, mark.at, mark.to);
                    let low = coords.at(self.chart, mark.at, mark.from);
                    self.beside(paper, &mark.label, (high, low), reach)?;
                }
            }
            Layer::Missing { at, label } => {
                if let (Some(foot), false) = (self.foot, at.is_empty()) {
                    let top = i32::midpoint(foot.top, foot.bottom) - tall / 2;
                    let right = foot.right - GAP - Type::Plain.width(label);
                    let left = foot.left + GAP;
                    let places: Vec<(i32, i32)> = (0..=8)
                        .map(|eighth| (left + (right - left) * eighth / 8, top))
                        .collect();
                    paper.words_near(Type::Plain, label, &places)?;
                }
            }
            Layer::Line { points, label, .. } => {
                let ends = [
                    points.last(),
                    points.get(points.len() * 2 / 3),
                    points.get(points.len() / 3),
                ];
                let width = Type::Plain.width(label);
                let places: Vec<(i32, i32)> = ends
                    .into_iter()
                    .flatten()
                    .map(|(across, up)| coords.at(self.chart, *across, *up))
                    .flat_map(|(x, y)| {
                        let (before, after) = (x - width - GAP, x + GAP);
                        [
                            (before, y - tall - GAP),
                            (before, y + GAP),
                            (after, y - tall - GAP),
                            (after, y + GAP),
                        ]
                    })
                    .filter(|(left, top)| {
                        *left > plot.left
                            && left + width < plot.right
                            && *top > plot.top
                            && top + tall < plot.bottom
                    })
                    .collect();
                if !label.is_empty() {
                    paper.words_near(Type::Plain, label, &places)?;
                }
            }
            Layer::Upright { .. } | Layer::Between { .. } => {}
        }
        Ok(())
    }

    /// Words at a mark: at its right, its left, above and below.
    fn beside<'a>(
        &self,
        paper: &mut Paper<'a>,
        label: &str,
        (high, low): ((i32, i32), (i32, i32)),
        reach: i32,
    ) -> Drew<'a> {
        let (x, tall) = (high.0, Type::Strong.size());
        let (width, middle) = (
            Type::Strong.width(label),
            i32::midpoint(high.1, low.1) - tall / 2,
        );
        let (above, below) = (high.1 - reach - tall - 2, low.1 + reach + 2);
        let (right, left) = (x + reach + 8, x - reach - 8 - width);
        let places: Vec<(i32, i32)> = [
            (right, middle),
            (left, middle),
            (x - width / 2, above),
            (x - width / 2, below),
            (right, above),
            (left, above),
            (right, below),
            (left, below),
        ]
        .into_iter()
        .filter(|(left, top)| {
            let plot = self.plot;
            plot.left < *left
                && left + width < plot.right
                && plot.top < *top
                && top + tall < plot.bottom
        })
        .collect();
        paper.words_near(Type::Strong, label, &places)?;
        Ok(())
    }
}

/// The axis across, with the words that have room.
pub(super) fn across_ticks<'a>(
    paper: &mut Paper<'a>,
    axis: &Axis,
    (left, right): (i32, i32),
    low: i32,
    top: i32,
) -> Result<(), Fault<'a>> {
    for tick in &axis.ticks {
        let x = left + (part(axis, tick.at) * f64::from(right - left - 1)).round() as i32;
        let width = Type::Plain.width(&tick.label);
        let most = WIDTH as i32 - MARGIN / 2 - width;
        let at = (x - width / 2).min(most);
        let wide = Spot {
            left: at - GAP,
            right: at + width + GAP,
            top,
            bottom: top + Type::Plain.size(),
        };
        if !paper.free(&Spot {
            left: at,
            right: at + width,
            ..wide
        }) || !paper.clear(&wide)
        {
            continue;
        }
        paper.line(&[(x, low), (x, low + GAP - 4)], ink::EDGE, 3, Stroke::Whole)?;
        paper.words_at(Type::Plain, &tick.label, at, top, ink::QUIET)?;
    }
    Ok(())
}

/// For each upright the lane of its words, counted from below, and where they begin; nothing where there is no room. What
/// is chosen, and how it is today, come first.
fn lanes(places: &[i32], uprights: &[(i64, Upright, &str)]) -> Vec<Option<(usize, i32)>> {
    let mut order: Vec<usize> = (0..uprights.len()).collect();
    order.sort_by_key(|place| match uprights[*place].1 {
        Upright::Chosen => 0,
        Upright::Now => 1,
        Upright::Alarm | Upright::Setting | Upright::Moved | Upright::Upkeep => 2,
    });
    let pointed = |place: usize| matches!(uprights[place].1, Upright::Chosen | Upright::Now);
    let mut room = Room::default();
    let mut all = vec![None; uprights.len()];
    for place in order {
        let (x, label) = (places[place], uprights[place].2);
        // Of what is pointed out the left one has its words at the left, so that they do not stand over the right one.
        let mut others = (0..places.len()).filter(|other| pointed(*other));
        let left = pointed(place) && others.any(|other| places[other] > x);
        if !label.is_empty() {
            all[place] = room.take(x, Type::Plain.width(label), left);
        }
    }
    all
}

/// The room above a chart.
#[derive(Default)]
struct Room {
    /// Per lane: from and to of the words in it.
    taken: [Vec<(i32, i32)>; LANES_MAX],
    /// Per lane: the lines that go through it.
    lines: [Vec<i32>; LANES_MAX],
}

impl Room {
    /// A lane, and where words of this width begin in it, at the right or the left of a line that goes up to them.
    fn take(&mut self, x: i32, width: i32, left_first: bool) -> Option<(usize, i32)> {
        const AROUND: i32 = 8;
        let sheet = MARGIN - AROUND..=WIDTH as i32 - MARGIN + AROUND;
        let mut starts = [x + 10, x - 10 - width];
        if left_first {
            starts.reverse();
        }
        for start in starts {
            let (from, to) = (start - AROUND, start + width + AROUND);
            if !(sheet.contains(&from) && sheet.contains(&to)) {
                continue;
            }
            for lane in 0..LANES_MAX {
                // A line that went through other words would strike them out.
                let mut under = self.taken[..lane].iter().flatten();
                if under.any(|(from, to)| (*from..=*to).contains(&x)) {
                    break;
                }
                let clear = |other: &(i32, i32)| to <= other.0 || from >= other.1;
                let through = |line: &i32| (from..=to).contains(line);
                if self.taken[lane].iter().all(clear) && !self.lines[lane].iter().any(through) {
                    self.taken[lane].push((from, to));
                    self.lines[..=lane]
                        .iter_mut()
                        .for_each(|lines| lines.push(x));
                    return Some((lane, start));
                }
            }
        }
        None
    }
}

fn newest<T>(all: &[T]) -> std::slice::Iter<'_, T> {
    all[all.len().saturating_sub(MARKS_MAX)..].iter()
}

/// The shape, colour and reach of a mark.
fn shape(kind: MarkKind, count: usize) -> (Shape, RGBColor, i32) {
    let (shape, color, reach) = match kind {
        MarkKind::Good => (Shape::Disc, ink::BLUE, 14),
        MarkKind::Low => (Shape::Down, ink::VERMILION, 19),
        MarkKind::None => (Shape::Square, ink::VERMILION, 19),
        MarkKind::High => (Shape::Up, ink::ORANGE, 19),
        MarkKind::Plain => (Shape::Disc, ink::BLUE, 12),
        MarkKind::Chosen => (Shape::Diamond, ink::GREEN, 24),
    };
    let reach = match count {
        0..=MANY => reach,
        _ if count <= 4 * MANY => reach * 3 / 4,
        _ => reach / 2,
    };
    (shape, color, reach)
}

/// The stroke of an upright.
fn stroke(kind: Upright) -> (RGBColor, u32, Stroke) {
    match kind {
        Upright::Alarm => (ink::VERMILION, 6, Stroke::Whole),
        Upright::Setting => (ink::INK, 4, Stroke::Dashed),
        Upright::Moved => (ink::GREEN, 4, Stroke::Whole),
        Upright::Upkeep => (ink::QUIET, 4, Stroke::Dotted),
        Upright::Chosen => (ink::GREEN, 7, Stroke::Whole),
        Upright::Now => (ink::INK, 4, Stroke::Dashed),
    }
}
