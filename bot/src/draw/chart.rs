//! Charts: marks over two axes. Decides the shape, stroke and colour of each kind, and which lies above which: no two kinds differ
//! by colour alone, and no mark hides a line that is worked out from it. Leaves where things stand to its plan, and what is shown
//! to the value.

use commands::picture::{Axis, Chart, Layer, Level, Line, MarkKind, Picture, Upright};
use plotters::style::RGBColor;

use super::ink;
use super::paper::{Drew, Fault, MARGIN, Paper, Shape, Spot, Stroke, Type, WIDTH};
pub(super) use plan::part;
use plan::{CROSS, GAP, Key, Plan, Sample, felt_at, missing_at, newest};

mod plan;
mod uprights;

/// From this many marks on they are drawn smaller.
const MANY: usize = 60;

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
    for layer in &chart.layers {
        plan.ground(paper, layer)?;
    }
    plan.axes(paper)?;
    for layer in &chart.layers {
        plan.behind(paper, layer)?;
    }
    plan.uprights(paper)?;
    plan.marks(paper, |kind| kind != MarkKind::Chosen)?;
    for layer in &chart.layers {
        plan.fitted(paper, layer)?;
    }
    plan.marks(paper, |kind| kind == MarkKind::Chosen)?;
    plan.words(paper)
}

impl Plan<'_> {
    /// What lies behind the axes.
    fn ground<'a>(&self, paper: &mut Paper<'a>, layer: &Layer) -> Drew<'a> {
        if let Layer::Band { from, to, .. } = layer {
            let (top, bottom) = (self.up(*to), self.up(*from));
            let band = Spot {
                top,
                bottom: bottom + 1,
                ..self.plot
            };
            paper.fill(band, ink::BAND)?;
            for edge in [top, bottom] {
                let ends = [(band.left, edge), (band.right - 1, edge)];
                paper.line(&ends, ink::BLUE, 3, Stroke::Whole)?;
            }
        }
        Ok(())
    }

    fn axes<'a>(&self, paper: &mut Paper<'a>) -> Drew<'a> {
        let Self { chart, plot, .. } = self;
        for tick in &chart.up.ticks {
            let y = self.up(tick.at);
            let ends = [(plot.left, y), (plot.right - 1, y)];
            paper.line(&ends, ink::GRID, 2, Stroke::Whole)?;
            let width = Type::Plain.width(&tick.label);
            let top = y - Type::Plain.size() / 2;
            let spot = Paper::spot(Type::Plain, &tick.label, plot.left - GAP - width, top);
            if paper.free(&spot) {
                paper.words_at(Type::Plain, &tick.label, spot.left, top, ink::QUIET)?;
            }
        }
        let low = self.foot.map_or(plot.bottom, |foot| foot.bottom);
        across_ticks(paper, &chart.across, self.across(), low, self.ticks)?;
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

    /// What lies behind the marks.
    fn behind<'a>(&self, paper: &mut Paper<'a>, layer: &Layer) -> Drew<'a> {
        match layer {
            Layer::Between { points } => {
                let edge = |upper: bool| {
                    points
                        .iter()
                        .map(move |(across, low, up)| (*across, if upper { *up } else { *low }))
                        .map(|(across, up)| self.at(across, up))
                };
                let (upper, lower): (Vec<_>, Vec<_>) =
                    (edge(true).collect(), edge(false).collect());
                if points.len() > 1 {
                    let around = upper.iter().chain(lower.iter().rev()).copied().collect();
                    paper.polygon(around, ink::LEEWAY)?;
                }
                paper.line(&lower, ink::QUIET, 2, Stroke::Dotted)?;
                paper.line(&upper, ink::QUIET, 2, Stroke::Dotted)
            }
            Layer::Level { at, kind, .. } => {
                let y = self.up(*at);
                let ends = [(self.plot.left, y), (self.plot.right - 1, y)];
                let (color, wide, stroke) = level(*kind);
                paper.line(&ends, color, wide, stroke)
            }
            Layer::Line {
                points,
                kind: Line::Seen,
                ..
            } => {
                let points: Vec<_> = points.iter().map(|(x, y)| self.at(*x, *y)).collect();
                paper.line(&points, ink::INK, 4, Stroke::Whole)
            }
            Layer::Line {
                kind: Line::Fitted, ..
            }
            | Layer::Band { .. }
            | Layer::Upright { .. }
            | Layer::Marks(_)
            | Layer::Felt { .. }
            | Layer::Missing { .. } => Ok(()),
        }
    }

    /// A line that is worked out lies above the marks that it is worked out from, each dash on a lighter one that sets it off;
    /// between its dashes they are seen.
    fn fitted<'a>(&self, paper: &mut Paper<'a>, layer: &Layer) -> Drew<'a> {
        if let Layer::Line {
            points,
            kind: Line::Fitted,
            ..
        } = layer
        {
            let points: Vec<_> = points.iter().map(|(x, y)| self.at(*x, *y)).collect();
            paper.line(&points, ink::GROUND, 12, Stroke::Dashed)?;
            paper.line(&points, ink::BLUE, 6, Stroke::Dashed)?;
        }
        Ok(())
    }

    fn uprights<'a>(&self, paper: &mut Paper<'a>) -> Drew<'a> {
        let low = self.foot.map_or(self.plot.bottom, |foot| foot.bottom);
        for line in &self.uprights {
            let (color, wide, stroke) = stroke(line.kind);
            paper.line(&[(line.x, low), (line.x, line.top)], color, wide, stroke)?;
        }
        Ok(())
    }

    /// The marks of these kinds.
    fn marks<'a>(&self, paper: &mut Paper<'a>, of: impl Fn(MarkKind) -> bool) -> Drew<'a> {
        for layer in &self.chart.layers {
            match layer {
                Layer::Marks(marks) => {
                    for mark in newest(marks).filter(|mark| of(mark.kind)) {
                        let (shape, color, reach) = self.shape(mark.kind, marks.len());
                        let (low, high) = self.ends(mark);
                        if low.1 > high.1 {
                            paper.line(&[low, high], ink::INK, 5, Stroke::Whole)?;
                            for end in [low, high] {
                                let cap = [(end.0 - reach, end.1), (end.0 + reach, end.1)];
                                paper.line(&cap, ink::INK, 5, Stroke::Whole)?;
                            }
                        }
                        let middle = (low.0, i32::midpoint(low.1, high.1));
                        paper.mark(shape, middle, reach, color)?;
                    }
                }
                Layer::Missing { at, .. } => {
                    let Some(foot) = self.foot.filter(|_| of(MarkKind::Plain)) else {
                        continue;
                    };
                    let y = missing_at(foot);
                    for at in newest(at) {
                        let (x, _) = self.at(*at, self.chart.up.from);
                        paper.mark(Shape::Cross, (x, y), CROSS, ink::INK)?;
                    }
                }
                Layer::Felt { marks, .. } => {
                    let Some(foot) = self.foot else { continue };
                    let y = felt_at(foot);
                    for (at, kind) in newest(marks).filter(|(_, kind)| of(*kind)) {
                        let (x, _) = self.at(*at, self.chart.up.from);
                        let (shape, color, reach) = self.shape(*kind, marks.len());
                        paper.mark(shape, (x, y), reach, color)?;
                    }
                }
                Layer::Band { .. }
                | Layer::Level { .. }
                | Layer::Upright { .. }
                | Layer::Line { .. }
                | Layer::Between { .. } => {}
            }
        }
        Ok(())
    }

    fn words<'a>(&self, paper: &mut Paper<'a>) -> Drew<'a> {
        for words in &self.words {
            if let Some((mark, end)) = words.leads {
                paper.line(&[mark, end], ink::INK, 2, Stroke::Whole)?;
            }
            let spot = words.spot;
            paper.words_at(words.kind, &words.text, spot.left, spot.top, ink::INK)?;
        }
        let (begin, key) = &self.key;
        for (piece, place) in key {
            let top = begin + place.line * Type::Plain.line();
            self.sample(paper, piece, (place.left, top))?;
            let left = place.left + piece.before();
            paper.words_at(Type::Plain, &piece.text, left, top, ink::INK)?;
        }
        Ok(())
    }

    /// What stands before the words of a piece of the key.
    fn sample<'a>(&self, paper: &mut Paper<'a>, key: &Key, (left, top): (i32, i32)) -> Drew<'a> {
        let tall = Type::Plain.size();
        let (right, middle) = (left + key.before() - GAP, top + tall * 3 / 5);
        let across = [(left, middle), (right, middle)];
        match &key.sample {
            Sample::Number(number) => paper.words_at(Type::Strong, number, left, top, ink::INK),
            Sample::Band => {
                let spot = Spot {
                    left,
                    top: middle - tall / 3,
                    right,
                    bottom: middle + tall / 3,
                };
                paper.fill(spot, ink::BAND)?;
                paper.frame(spot, ink::BLUE, 3)
            }
            Sample::Level(kind) => {
                let (color, wide, stroke) = level(*kind);
                paper.line(&across, color, wide, stroke)
            }
            Sample::Line(Line::Seen) => paper.line(&across, ink::INK, 4, Stroke::Whole),
            Sample::Line(Line::Fitted) => paper.line(&across, ink::BLUE, 6, Stroke::Dashed),
            Sample::Missing => paper.mark(Shape::Cross, (left + tall / 2, middle), CROSS, ink::INK),
            Sample::Mark(kind) => {
                let (shape, color, _) = shape(*kind, 0, false);
                paper.mark(shape, (left + tall / 2, middle), tall * 2 / 5, color)
            }
        }
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

/// The shape, colour and reach of a mark among so many; smaller where a line is worked out through them.
fn shape(kind: MarkKind, count: usize, fitted: bool) -> (Shape, RGBColor, i32) {
    let (shape, color, reach) = match kind {
        MarkKind::Good => (Shape::Disc, ink::BLUE, 14),
        MarkKind::Low => (Shape::Down, ink::VERMILION, 19),
        MarkKind::None => (Shape::Square, ink::VERMILION, 19),
        MarkKind::High => (Shape::Up, ink::ORANGE, 19),
        MarkKind::Plain => (Shape::Disc, ink::BLUE, 12),
        MarkKind::Chosen => (Shape::Diamond, ink::GREEN, 24),
    };
    let reach = match count {
        _ if kind == MarkKind::Chosen => reach,
        0..=MANY if fitted => reach * 3 / 4,
        0..=MANY => reach,
        _ if count <= 4 * MANY => reach * 3 / 4,
        _ => reach / 2,
    };
    (shape, color, reach)
}

/// The stroke of a level: no two have the same, whatever the colours are to whoever looks.
fn level(kind: Level) -> (RGBColor, u32, Stroke) {
    match kind {
        Level::Limit => (ink::VERMILION, 5, Stroke::Dashed),
        Level::Mean => (ink::BLUE, 8, Stroke::Whole),
        Level::Chance => (ink::INK, 6, Stroke::Dotted),
    }
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
