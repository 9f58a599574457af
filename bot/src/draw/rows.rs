//! Rows: named stretches and marks over one axis. Decides where they and their words stand, and the shape, thickness and
//! colour of each kind: no two kinds differ by colour alone. Leaves what is shown to the value.

use commands::picture::{Picture, ROWS_MAX, Row, RowMarkKind, Rows, StretchKind};
use plotters::style::RGBColor;

use super::chart::{across_ticks, part};
use super::ink;
use super::paper::{Drew, MARGIN, Paper, Shape, Spot, Stroke, Type, WIDTH, head_height};

/// Between rows.
const GAP: i32 = 16;
/// The part of a row with its marks.
const LANE: i32 = 60;
/// A mark among words.
const MARK: i32 = 46;
/// Marks at the ends stay on the sheet.
const INSET: i32 = 26;
/// From this many marks in a row on they are drawn smaller.
const MANY: usize = 40;

/// How tall the picture is.
pub fn height(picture: &Picture, rows: &Rows) -> i32 {
    let all: i32 = shown(rows).map(row_height).sum();
    let mut foot = GAP + Type::Plain.line();
    if !rows.across.title.is_empty() {
        foot += Type::Plain.line();
    }
    head_height(picture) + 2 * GAP + all + foot + MARGIN
}

/// Draws it.
pub fn draw<'a>(paper: &mut Paper<'a>, picture: &Picture, rows: &Rows) -> Drew<'a> {
    let begin = paper.head(picture)? + 2 * GAP;
    let (left, right) = (MARGIN + INSET, WIDTH as i32 - MARGIN - INSET);
    let end = begin + shown(rows).map(row_height).sum::<i32>();
    let across =
        |at: i64| left + (part(&rows.across, at) * f64::from(right - left - 1)).round() as i32;
    let mut top = begin;
    for row in shown(rows) {
        let lane = top + row_height(row) - GAP - LANE;
        for tick in &rows.across.ticks {
            let x = across(tick.at);
            paper.line(&[(x, lane), (x, lane + LANE)], ink::GRID, 3, Stroke::Whole)?;
        }
        let middle = lane + LANE / 2;
        paper.line(
            &[(left, middle), (right - 1, middle)],
            ink::GRID,
            3,
            Stroke::Whole,
        )?;
        for stretch in &row.stretches {
            let (color, thick) = thickness(stretch.kind);
            let spot = Spot {
                left: across(stretch.from),
                right: across(stretch.to) + 1,
                top: middle - thick / 2,
                bottom: middle + thick / 2,
            };
            paper.fill(spot, color)?;
            if stretch.kind == StretchKind::Chance {
                for x in [spot.left, spot.right - 1] {
                    paper.line(
                        &[(x, middle - 20), (x, middle + 20)],
                        color,
                        5,
                        Stroke::Whole,
                    )?;
                }
            }
        }
        for mark in &row.marks {
            let (shape, color) = shape(mark.kind);
            // A share's dot leaves the ends of its line to be seen, and one of many its neighbours.
            let reach = if mark.kind == RowMarkKind::Share || row.marks.len() > MANY {
                13
            } else {
                20
            };
            paper.mark(shape, (across(mark.at), middle), reach, color)?;
        }
        for piece in words(row) {
            let Piece {
                kind,
                words,
                mark,
                at,
            } = piece;
            if let Some(mark) = mark {
                let (shape, color) = shape(mark);
                let middle = top + at.1 + Type::Plain.size() * 3 / 5;
                paper.mark(shape, (at.0 - MARK / 2 - 4, middle), MARK / 2 - 5, color)?;
            }
            paper.words_at(kind, &words, at.0, top + at.1, ink::INK)?;
        }
        top += row_height(row);
    }
    paper.line(
        &[(MARGIN, end), (WIDTH as i32 - MARGIN, end)],
        ink::EDGE,
        3,
        Stroke::Whole,
    )?;
    across_ticks(paper, &rows.across, (left, right), end, end + GAP)?;
    if !rows.across.title.is_empty() {
        let title = Type::Plain.cut(&rows.across.title, WIDTH as i32 - 2 * MARGIN);
        let at = WIDTH as i32 - MARGIN - Type::Plain.width(&title);
        paper.words_at(
            Type::Plain,
            &title,
            at,
            end + GAP + Type::Plain.line(),
            ink::QUIET,
        )?;
    }
    Ok(())
}

fn shown(rows: &Rows) -> impl Iterator<Item = &Row> {
    rows.rows.iter().take(ROWS_MAX)
}

fn row_height(row: &Row) -> i32 {
    let lines = words(row);
    let low = lines
        .iter()
        .map(|piece| piece.at.1 + piece.kind.line())
        .max();
    low.unwrap_or(0) + LANE + GAP
}

/// Words of a row, where they stand in it, and the mark before them.
struct Piece {
    kind: Type,
    words: String,
    mark: Option<RowMarkKind>,
    at: (i32, i32),
}

/// The words of a row: its name, then what it says, each part on the line before it where that has room.
fn words(row: &Row) -> Vec<Piece> {
    let width = WIDTH as i32 - 2 * MARGIN;
    let name = Type::Strong.cut(&row.name, width);
    let (mut left, mut top) = (MARGIN + Type::Strong.width(&name) + 2 * GAP, 0);
    let mut all = vec![Piece {
        kind: Type::Strong,
        words: name,
        mark: None,
        at: (MARGIN, 0),
    }];
    for said in &row.says {
        let before = if said.mark.is_some() { MARK } else { 0 };
        let words = Type::Plain.cut(&said.words, width - before);
        let long = before + Type::Plain.width(&words);
        if left + long > MARGIN + width {
            (left, top) = (MARGIN, top + Type::Plain.line());
        }
        let at = (left + before, top);
        left += long + 2 * GAP;
        all.push(Piece {
            kind: Type::Plain,
            words,
            mark: said.mark,
            at,
        });
    }
    all
}

/// The colour and thickness of a stretch.
fn thickness(kind: StretchKind) -> (RGBColor, i32) {
    match kind {
        StretchKind::Waiting => (ink::VERMILION, 34),
        StretchKind::InHand => (ink::BLUE, 18),
        StretchKind::Safe => (ink::GREEN, 8),
        StretchKind::Chance => (ink::INK, 6),
        StretchKind::Rest => (ink::VERMILION, 10),
    }
}

/// The shape and colour of a mark.
fn shape(kind: RowMarkKind) -> (Shape, RGBColor) {
    match kind {
        RowMarkKind::Opened => (Shape::Down, ink::VERMILION),
        RowMarkKind::Asked => (Shape::Ring, ink::INK),
        RowMarkKind::Again => (Shape::Up, ink::VERMILION),
        RowMarkKind::Taken => (Shape::Disc, ink::BLUE),
        RowMarkKind::Safe => (Shape::Diamond, ink::GREEN),
        RowMarkKind::Fixed => (Shape::Square, ink::INK),
        RowMarkKind::Share | RowMarkKind::Half => (Shape::Disc, ink::BLUE),
        RowMarkKind::Most => (Shape::Diamond, ink::INK),
        RowMarkKind::Still => (Shape::Right, ink::VERMILION),
        // As the marks of charts.
        RowMarkKind::Good => (Shape::Disc, ink::BLUE),
        RowMarkKind::Low => (Shape::Down, ink::VERMILION),
        RowMarkKind::None => (Shape::Square, ink::VERMILION),
        RowMarkKind::High => (Shape::Up, ink::ORANGE),
        RowMarkKind::CouldNot => (Shape::Cross, ink::INK),
        RowMarkKind::Event => (Shape::Ring, ink::INK),
    }
}
