//! The sheet that is drawn on: words with their measure, shapes, and who stands where.
//! Decides how a word or a shape is put down; leaves what and where to those who draw.

use commands::picture::Picture;
use plotters::coord::Shift;
use plotters::element::{Circle, PathElement, Polygon, Rectangle};
use plotters::prelude::{BitMapBackend, DrawingArea, DrawingAreaErrorKind};
use plotters::style::text_anchor::{HPos, Pos, VPos};
use plotters::style::{Color, FontFamily, FontStyle, IntoFont, RGBColor, ShapeStyle, TextStyle};

use super::ink;

/// The width of every picture, in dots: a phone of 360 points draws three to a point.
pub const WIDTH: u32 = 1_080;
/// Around everything.
pub const MARGIN: i32 = 36;
/// The name that the fonts are registered under.
pub const FONT: &str = "ours";

/// A size of type, in dots from the highest to the lowest a letter reaches.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Type {
    /// The title.
    Title,
    /// Words at a mark, names of rows.
    Strong,
    /// Everything else.
    Plain,
}

impl Type {
    /// Dots from top to bottom.
    pub fn size(self) -> i32 {
        match self {
            Type::Title => 54,
            Type::Strong | Type::Plain => 44,
        }
    }

    /// From one line to the next.
    pub fn line(self) -> i32 {
        self.size() * 23 / 20
    }

    fn style(self, color: RGBColor) -> TextStyle<'static> {
        let weight = match self {
            Type::Title | Type::Strong => FontStyle::Bold,
            Type::Plain => FontStyle::Normal,
        };
        let font = (FontFamily::Name(FONT), self.size(), weight).into_font();
        let mut style = TextStyle::from(font).pos(Pos::new(HPos::Left, VPos::Top));
        style.color = color.to_backend_color();
        style
    }

    /// How wide these words are, in dots.
    pub fn width(self, text: &str) -> i32 {
        let measured = self.style(ink::INK).font.box_size(text);
        measured.map_or(0, |(width, _)| i32::try_from(width).unwrap_or(i32::MAX))
    }

    /// The words in lines that fit; a word that does not fit alone is cut.
    pub fn wrapped(self, text: &str, width: i32) -> Vec<String> {
        let mut lines: Vec<String> = Vec::new();
        for word in text.split_whitespace() {
            let word = self.cut(word, width);
            match lines.last_mut() {
                Some(line) if self.width(&format!("{line} {word}")) <= width => {
                    line.push(' ');
                    line.push_str(&word);
                }
                _ => lines.push(word),
            }
        }
        lines
    }

    /// The words, or as many letters of them as fit, with three dots.
    pub fn cut(self, text: &str, width: i32) -> String {
        if self.width(text) <= width {
            return text.to_owned();
        }
        let mut kept: Vec<char> = text.chars().collect();
        while kept.pop().is_some() {
            let cut: String = kept.iter().chain(['…'].iter()).collect();
            if self.width(&cut) <= width {
                return cut;
            }
        }
        String::new()
    }
}

/// A place on the sheet, in dots from its upper left corner; the right and lower ends are outside of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spot {
    /// Left end.
    pub left: i32,
    /// Upper end.
    pub top: i32,
    /// Right end.
    pub right: i32,
    /// Lower end.
    pub bottom: i32,
}

impl Spot {
    /// Around a point.
    pub fn around((x, y): (i32, i32), reach: i32) -> Self {
        Self {
            left: x - reach,
            top: y - reach,
            right: x + reach + 1,
            bottom: y + reach + 1,
        }
    }

    /// Whether they share a dot.
    pub fn meets(&self, other: &Spot) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    /// Whether the other is all in this one.
    pub fn holds(&self, other: &Spot) -> bool {
        self.left <= other.left
            && self.top <= other.top
            && self.right >= other.right
            && self.bottom >= other.bottom
    }
}

/// What drawing may fail with.
pub type Fault<'a> =
    DrawingAreaErrorKind<<BitMapBackend<'a> as plotters::prelude::DrawingBackend>::ErrorType>;
/// The end of drawing something.
pub type Drew<'a> = Result<(), Fault<'a>>;
/// The sheet as plotters knows it.
pub type Area<'a> = DrawingArea<BitMapBackend<'a>, Shift>;

/// The sheet.
pub struct Paper<'a> {
    /// All of it.
    pub area: Area<'a>,
    height: i32,
    words: Vec<Spot>,
    marks: Vec<Spot>,
}

/// What a mark looks like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// A disc.
    Disc,
    /// A ring.
    Ring,
    /// A triangle that points down.
    Down,
    /// A triangle that points up.
    Up,
    /// A triangle that points to the right: it goes on.
    Right,
    /// A square.
    Square,
    /// A square on its corner.
    Diamond,
    /// Two strokes that cross.
    Cross,
}

/// How a line is broken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stroke {
    /// Not at all.
    Whole,
    /// In dashes.
    Dashed,
    /// In dots.
    Dotted,
}

impl<'a> Paper<'a> {
    /// An empty sheet.
    pub fn new(area: Area<'a>, height: u32) -> Result<Self, Fault<'a>> {
        area.fill(&ink::GROUND)?;
        let height = i32::try_from(height).unwrap_or(i32::MAX);
        let mut paper = Self {
            area,
            height,
            words: Vec::new(),
            marks: Vec::new(),
        };
        let all = paper.all();
        paper.frame(all, ink::EDGE, 3)?;
        Ok(paper)
    }

    /// All of it.
    pub fn all(&self) -> Spot {
        Spot {
            left: 0,
            top: 0,
            right: WIDTH as i32,
            bottom: self.height,
        }
    }

    /// The head of a picture. Returns where the rest may begin.
    pub fn head(&mut self, picture: &Picture) -> Result<i32, Fault<'a>> {
        let mut top = MARGIN;
        for (kind, line) in head_lines(picture) {
            let color = if kind == Type::Title {
                ink::INK
            } else {
                ink::QUIET
            };
            self.words_at(kind, &line, MARGIN, top, color)?;
            top += kind.line();
        }
        Ok(top)
    }

    /// Where words of this type stand whose line begins here.
    pub fn spot(kind: Type, text: &str, left: i32, top: i32) -> Spot {
        Spot {
            left,
            top,
            right: left + kind.width(text),
            bottom: top + kind.size(),
        }
    }

    /// Whether words may stand there: on the sheet, and over no others.
    pub fn free(&self, spot: &Spot) -> bool {
        let inner = Spot {
            left: MARGIN / 2,
            top: MARGIN / 2,
            right: WIDTH as i32 - MARGIN / 2,
            bottom: self.height - MARGIN / 2,
        };
        inner.holds(spot) && !self.words.iter().any(|other| other.meets(spot))
    }

    /// Whether no words stand there; it may reach beyond the sheet.
    pub fn clear(&self, spot: &Spot) -> bool {
        !self.words.iter().any(|other| other.meets(spot))
    }

    /// Puts words down.
    pub fn words_at(
        &mut self,
        kind: Type,
        text: &str,
        left: i32,
        top: i32,
        color: RGBColor,
    ) -> Drew<'a> {
        if text.is_empty() {
            return Ok(());
        }
        // The line they stand on is at four fifths of their height: plotters counts from half of it.
        let y = top + kind.size() * 3 / 10;
        self.area.draw_text(text, &kind.style(color), (left, y))?;
        self.words.push(Self::spot(kind, text, left, top));
        Ok(())
    }

    /// Fills an area.
    pub fn fill(&mut self, spot: Spot, color: impl Color) -> Drew<'a> {
        let corners = [(spot.left, spot.top), (spot.right - 1, spot.bottom - 1)];
        self.area.draw(&Rectangle::new(corners, color.filled()))
    }

    /// Draws around an area, inside of it.
    pub fn frame(&mut self, spot: Spot, color: RGBColor, wide: i32) -> Drew<'a> {
        let Spot {
            left,
            top,
            right,
            bottom,
        } = spot;
        for side in [
            Spot {
                bottom: top + wide,
                ..spot
            },
            Spot {
                top: bottom - wide,
                ..spot
            },
            Spot {
                right: left + wide,
                ..spot
            },
            Spot {
                left: right - wide,
                ..spot
            },
        ] {
            self.fill(side, color)?;
        }
        Ok(())
    }

    /// Draws a line through points.
    pub fn line(
        &mut self,
        points: &[(i32, i32)],
        color: RGBColor,
        wide: u32,
        stroke: Stroke,
    ) -> Drew<'a> {
        let style = ShapeStyle::from(&color).stroke_width(wide);
        match stroke {
            Stroke::Whole => self.area.draw(&PathElement::new(points.to_vec(), style)),
            Stroke::Dashed => self.broken(points, style, 20, 14),
            Stroke::Dotted => self.broken(points, style, 6, 12),
        }
    }

    fn broken(
        &mut self,
        points: &[(i32, i32)],
        style: ShapeStyle,
        dash: i32,
        gap: i32,
    ) -> Drew<'a> {
        // How far into the present dash or gap the line is, over the corners.
        let (mut drawn, mut walked) = (true, 0.0);
        for pair in points.windows(2) {
            let (from, to) = (pair[0], pair[1]);
            let (dx, dy) = (f64::from(to.0 - from.0), f64::from(to.1 - from.1));
            let long = dx.hypot(dy);
            let at = |way: f64| {
                let part = if long > 0.0 { way / long } else { 0.0 };
                (
                    from.0 + (dx * part).round() as i32,
                    from.1 + (dy * part).round() as i32,
                )
            };
            let mut here = 0.0;
            while here < long {
                let whole = f64::from(if drawn { dash } else { gap });
                let step = (whole - walked).min(long - here);
                if drawn {
                    self.area
                        .draw(&PathElement::new(vec![at(here), at(here + step)], style))?;
                }
                here += step;
                walked += step;
                if walked >= whole {
                    (drawn, walked) = (!drawn, 0.0);
                }
            }
        }
        Ok(())
    }

    /// Fills what lies between points.
    pub fn polygon(&mut self, points: Vec<(i32, i32)>, color: RGBColor) -> Drew<'a> {
        self.area.draw(&Polygon::new(points, color.filled()))
    }

    /// Puts a mark down, with an edge of ink.
    pub fn mark(&mut self, shape: Shape, at: (i32, i32), reach: i32, color: RGBColor) -> Drew<'a> {
        let (x, y) = at;
        self.marks.push(Spot::around(at, reach));
        let corners = |reach: i32| -> Vec<(i32, i32)> {
            match shape {
                Shape::Down => vec![
                    (x - reach, y - reach * 3 / 4),
                    (x + reach, y - reach * 3 / 4),
                    (x, y + reach),
                ],
                Shape::Up => vec![
                    (x - reach, y + reach * 3 / 4),
                    (x + reach, y + reach * 3 / 4),
                    (x, y - reach),
                ],
                Shape::Right => vec![
                    (x - reach * 3 / 4, y - reach),
                    (x - reach * 3 / 4, y + reach),
                    (x + reach, y),
                ],
                Shape::Square => {
                    let half = reach * 4 / 5;
                    vec![
                        (x - half, y - half),
                        (x + half, y - half),
                        (x + half, y + half),
                        (x - half, y + half),
                    ]
                }
                Shape::Diamond => vec![
                    (x, y - reach),
                    (x + reach, y),
                    (x, y + reach),
                    (x - reach, y),
                ],
                Shape::Disc | Shape::Ring | Shape::Cross => Vec::new(),
            }
        };
        match shape {
            Shape::Disc => {
                self.area.draw(&Circle::new(at, reach, ink::INK.filled()))?;
                self.area.draw(&Circle::new(at, reach - 3, color.filled()))
            }
            Shape::Ring => {
                self.area.draw(&Circle::new(at, reach, color.filled()))?;
                self.area
                    .draw(&Circle::new(at, reach - 6, ink::GROUND.filled()))
            }
            Shape::Cross => {
                let style = ShapeStyle::from(&color).stroke_width(6);
                let ends = reach * 4 / 5;
                for (from, to) in [
                    ((-ends, -ends), (ends, ends)),
                    ((-ends, ends), (ends, -ends)),
                ] {
                    let path = vec![(x + from.0, y + from.1), (x + to.0, y + to.1)];
                    self.area.draw(&PathElement::new(path, style))?;
                }
                Ok(())
            }
            Shape::Down | Shape::Up | Shape::Right | Shape::Square | Shape::Diamond => {
                self.polygon(corners(reach), ink::INK)?;
                self.polygon(corners(reach - 4), color)
            }
        }
    }

    /// Puts everything down. Returns where the words stand, and the marks.
    pub fn done(self) -> Result<(Vec<Spot>, Vec<Spot>), Fault<'a>> {
        self.area.present()?;
        Ok((self.words, self.marks))
    }
}

/// The lines above a picture.
pub fn head_lines(picture: &Picture) -> Vec<(Type, String)> {
    let width = WIDTH as i32 - 2 * MARGIN;
    let title = Type::Title
        .wrapped(&picture.title, width)
        .into_iter()
        .take(2);
    let about = Type::Plain
        .wrapped(&picture.about, width)
        .into_iter()
        .take(3);
    let title = title.map(|line| (Type::Title, line));
    title.chain(about.map(|line| (Type::Plain, line))).collect()
}

/// How tall they are together, with the margin above them.
pub fn head_height(picture: &Picture) -> i32 {
    let lines = head_lines(picture);
    MARGIN + lines.iter().map(|(kind, _)| kind.line()).sum::<i32>()
}
