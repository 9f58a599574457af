//! Where words have room among marks and lines. Decides that words never stand over a mark, a line or other words; leaves
//! which places there are, and what becomes of words that have none, to those who draw.

use super::paper::{MARGIN, Paper, Spot, Type, WIDTH};

/// Around words, at either side.
const AROUND: i32 = 4;

/// What stands where already.
#[derive(Default)]
pub struct Room {
    taken: Vec<Spot>,
}

impl Room {
    /// Nothing else stands here.
    pub fn take(&mut self, spot: Spot) {
        self.taken.push(spot);
    }

    /// Nothing else stands on the whole of this line.
    pub fn take_along(&mut self, points: &[(i32, i32)], reach: i32) {
        const STEP: i32 = 12;
        for pair in points.windows(2) {
            let (from, to) = (pair[0], pair[1]);
            // One that is level or upright is one place.
            if from.0 == to.0 || from.1 == to.1 {
                let (left, right) = (from.0.min(to.0), from.0.max(to.0));
                let (top, bottom) = (from.1.min(to.1), from.1.max(to.1));
                self.take(Spot {
                    left: left - reach,
                    top: top - reach,
                    right: right + reach + 1,
                    bottom: bottom + reach + 1,
                });
                continue;
            }
            let steps = ((to.0 - from.0).abs().max((to.1 - from.1).abs()) / STEP).max(1);
            for step in 0..=steps {
                let x = from.0 + (to.0 - from.0) * step / steps;
                let y = from.1 + (to.1 - from.1) * step / steps;
                self.take(Spot::around((x, y), reach.max(STEP / 2)));
            }
        }
    }

    /// Whether nothing stands there.
    pub fn clear(&self, spot: &Spot) -> bool {
        !self.taken.iter().any(|other| other.meets(spot))
    }

    /// The first of these places, each where a line of words begins, at which they are within these bounds and over nothing:
    /// it is theirs then.
    pub fn words(
        &mut self,
        (kind, text): (Type, &str),
        within: Spot,
        places: impl IntoIterator<Item = (i32, i32)>,
    ) -> Option<Spot> {
        let place = |(left, top)| Paper::spot(kind, text, left, top);
        let around = |spot: &Spot| Spot {
            left: spot.left - AROUND,
            right: spot.right + AROUND,
            ..*spot
        };
        let mut spots = places.into_iter().map(place);
        let found = spots.find(|spot| within.holds(spot) && self.clear(&around(spot)))?;
        self.take(around(&found));
        Some(found)
    }
}

/// A piece of words and what stands before it, where both go in lines from left to right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Flow {
    /// Where the piece begins.
    pub left: i32,
    /// The line that it stands on, counted from above.
    pub line: i32,
}

/// Places for pieces of these widths, in order, each on the line before it where that has room; and how many lines that is.
pub fn flow(widths: impl Iterator<Item = i32>, gap: i32) -> (Vec<Flow>, i32) {
    let most = WIDTH as i32 - MARGIN;
    let (mut left, mut line) = (MARGIN, 0);
    let places: Vec<Flow> = widths
        .map(|width| {
            if left > MARGIN && left + width > most {
                (left, line) = (MARGIN, line + 1);
            }
            let place = Flow { left, line };
            left += width + gap;
            place
        })
        .collect();
    let lines = places.last().map_or(0, |last| last.line + 1);
    (places, lines)
}
