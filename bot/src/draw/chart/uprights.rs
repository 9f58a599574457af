//! The words of upright lines, above a chart. Decides whether each has its words at its upper end, or, where not all have
//! room, a number there that the key below the chart explains: none is ever without.

use commands::picture::Upright;

use super::super::paper::{MARGIN, Paper, Spot, Type, WIDTH};

/// The most lines of words above a chart.
const LANES_MAX: usize = 5;
/// The most runs of numbers of one piece of the key.
const RUNS_MAX: usize = 6;
/// Between words, and between words and a line.
const AROUND: i32 = 8;

/// An upright line.
#[derive(Clone, Copy)]
pub struct Line<'a> {
    /// Where.
    pub x: i32,
    /// What kind.
    pub kind: Upright,
    /// Its words.
    pub label: &'a str,
}

impl Line<'_> {
    fn pointed(&self) -> bool {
        matches!(self.kind, Upright::Chosen | Upright::Now)
    }
}

/// How the lines are named.
pub struct Named {
    /// How many lines of words are above the chart.
    pub lanes: i32,
    /// For each line, how many of them it goes up into.
    pub reach: Vec<i32>,
    /// What stands there: the words, the lane counted from below, where it begins.
    pub heads: Vec<(String, i32, i32)>,
    /// For the key: numbers, and what they stand for.
    pub key: Vec<(String, String)>,
}

/// Names them.
pub fn named(lines: &[Line<'_>]) -> Named {
    let lanes = lanes(lines);
    let said = |line: &Line<'_>| !line.label.is_empty();
    let all = lines.iter().zip(&lanes);
    if all
        .clone()
        .all(|(line, lane)| lane.is_some() || !said(line))
    {
        let used = lanes.iter().flatten().map(|(lane, _)| lane + 1).max();
        return Named {
            lanes: used.unwrap_or(0) as i32,
            reach: lanes
                .iter()
                .map(|lane| lane.map_or(0, |(lane, _)| lane as i32 + 1))
                .collect(),
            heads: all
                .filter_map(|(line, lane)| {
                    let (lane, left) = (*lane)?;
                    Some((line.label.to_owned(), lane as i32, left))
                })
                .collect(),
            key: Vec::new(),
        };
    }
    numbered(lines)
}

/// For each line the lane of its words, counted from below, and where they begin; nothing where there is no room. What is
/// chosen, and how it is today, come first.
fn lanes(lines: &[Line<'_>]) -> Vec<Option<(usize, i32)>> {
    let mut order: Vec<usize> = (0..lines.len()).collect();
    order.sort_by_key(|place| !lines[*place].pointed());
    let mut room = Lanes::default();
    let mut all = vec![None; lines.len()];
    for place in order {
        let line = lines[place];
        // Of what is pointed out the left one has its words at the left, so that they do not stand over the right one.
        let mut others = lines.iter().filter(|other| other.pointed());
        let left = line.pointed() && others.any(|other| other.x > line.x);
        if !line.label.is_empty() {
            all[place] = room.take(line.x, Type::Plain.width(line.label), left);
        }
    }
    all
}

/// The room above a chart.
#[derive(Default)]
struct Lanes {
    /// Per lane: from and to of the words in it.
    taken: [Vec<(i32, i32)>; LANES_MAX],
    /// Per lane: the lines that go through it.
    lines: [Vec<i32>; LANES_MAX],
}

impl Lanes {
    /// A lane, and where words of this width begin in it, at the right or the left of a line that goes up to them.
    fn take(&mut self, x: i32, width: i32, left_first: bool) -> Option<(usize, i32)> {
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
                let mut under = self.taken[..=lane].iter().flatten();
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

/// Lines that are so near to each other that they share a number's place.
struct Group {
    /// The first and the last number.
    numbers: (usize, usize),
    /// The first and the last line.
    across: (i32, i32),
}

impl Group {
    fn numbers((first, last): (usize, usize)) -> String {
        if first == last {
            first.to_string()
        } else {
            format!("{first}–{last}")
        }
    }

    fn words(&self) -> String {
        Self::numbers(self.numbers)
    }

    fn spot(&self) -> Spot {
        let words = self.words();
        let width = Type::Strong.width(&words);
        let middle = i32::midpoint(self.across.0, self.across.1);
        let left = (middle - width / 2).clamp(MARGIN, WIDTH as i32 - MARGIN - width);
        Paper::spot(Type::Strong, &words, left, 0)
    }
}

/// Numbers from left to right in one row, and what they stand for.
fn numbered(lines: &[Line<'_>]) -> Named {
    let mut order: Vec<&Line<'_>> = lines.iter().filter(|line| !line.label.is_empty()).collect();
    order.sort_by_key(|line| line.x);
    let mut groups: Vec<Group> = Vec::new();
    for (place, line) in order.iter().enumerate() {
        groups.push(Group {
            numbers: (place + 1, place + 1),
            across: (line.x, line.x),
        });
        // Those that would stand over each other become one.
        while let [.., before, last] = groups.as_slice()
            && before.spot().right + AROUND > last.spot().left
        {
            let joined = Group {
                numbers: (before.numbers.0, last.numbers.1),
                across: (before.across.0, last.across.1),
            };
            groups.truncate(groups.len() - 2);
            groups.push(joined);
        }
    }
    // What has the same words is explained together, as far as the numbers have room on a line.
    let mut key: Vec<(Vec<(usize, usize)>, &str)> = Vec::new();
    for (place, line) in order.iter().enumerate() {
        let number = place + 1;
        let known = key.iter().rposition(|(_, words)| *words == line.label);
        if let Some(runs) = known.map(|place| &mut key[place].0) {
            if let Some((_, last)) = runs.last_mut()
                && *last + 1 == number
            {
                *last = number;
                continue;
            }
            if runs.len() < RUNS_MAX {
                runs.push((number, number));
                continue;
            }
        }
        key.push((vec![(number, number)], line.label));
    }
    let run = |run: &(usize, usize)| Group::numbers(*run);
    let key = key
        .iter()
        .map(|(runs, words)| {
            let numbers: Vec<String> = runs.iter().map(run).collect();
            (numbers.join(", "), (*words).to_owned())
        })
        .collect();
    Named {
        lanes: 1,
        reach: vec![0; lines.len()],
        heads: groups
            .iter()
            .map(|group| (group.words(), 0, group.spot().left))
            .collect(),
        key,
    }
}
