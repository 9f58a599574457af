//! A conversation as a file: read into steps and written back. Decides the layout; leaves what a step
//! means to [`super::act`].

/// A conversation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Script {
    /// What it shows, in plain words: the first line.
    pub title: String,
    /// Everything after it.
    pub lines: Vec<Line>,
}

/// A line with what belongs to it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Line {
    /// Empty, or an aside to the reader in brackets.
    Aside(String),
    /// Something happens.
    Step(Step),
}

/// Something happens.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// The line, beginning at the margin.
    pub says: String,
    /// Lines of its own, each after `| `: a file's, a form's, a list of people.
    pub given: Vec<String>,
    /// What follows from it, indented by two.
    pub follows: Vec<String>,
    /// Its place in the file, from 1.
    pub number: usize,
}

impl Script {
    /// Reads a file.
    ///
    /// # Errors
    /// Names the line that belongs to no step.
    pub fn read(text: &str) -> Result<Self, String> {
        let mut all = text.lines().enumerate();
        let title = all
            .next()
            .map(|(_, line)| line.to_owned())
            .filter(|line| !line.is_empty())
            .ok_or("the first line says what is shown")?;
        let mut lines: Vec<Line> = Vec::new();
        // Empty lines may stand inside of what follows, and between steps.
        let mut empty = 0;
        for (at, line) in all {
            if line.trim().is_empty() {
                empty += 1;
                continue;
            }
            let indented = line.strip_prefix("  ");
            if let (Some(inner), Some(Line::Step(step))) = (indented, lines.last_mut()) {
                match inner.strip_prefix('|') {
                    Some(given) if step.follows.is_empty() => step
                        .given
                        .push(given.strip_prefix(' ').unwrap_or(given).to_owned()),
                    _ => {
                        step.follows
                            .extend(std::iter::repeat_n(String::new(), empty));
                        step.follows.push(inner.trim_end().to_owned());
                    }
                }
                empty = 0;
                continue;
            }
            if indented.is_some() {
                return Err(format!("line {}: belongs to no step", at + 1));
            }
            lines.extend(std::iter::repeat_n(Line::Aside(String::new()), empty));
            empty = 0;
            if line.starts_with('(') {
                lines.push(Line::Aside(line.trim_end().to_owned()));
            } else {
                lines.push(Line::Step(Step {
                    says: line.trim_end().to_owned(),
                    given: Vec::new(),
                    follows: Vec::new(),
                    number: at + 1,
                }));
            }
        }
        Ok(Self { title, lines })
    }

    /// Writes it as it is read.
    pub fn write(&self) -> String {
        let mut out = format!("{}\n", self.title);
        let mut put = |line: &str| {
            out.push_str(line.trim_end());
            out.push('\n');
        };
        for line in &self.lines {
            match line {
                Line::Aside(text) => put(text),
                Line::Step(step) => {
                    put(&step.says);
                    step.given
                        .iter()
                        .for_each(|line| put(&format!("  | {line}")));
                    step.follows
                        .iter()
                        .for_each(|line| put(&format!("  {line}")));
                }
            }
        }
        out
    }

    /// The steps.
    pub fn steps(&self) -> impl Iterator<Item = &Step> {
        self.lines.iter().filter_map(|line| match line {
            Line::Step(step) => Some(step),
            Line::Aside(_) => None,
        })
    }

    /// The same conversation with these following from its steps, in order.
    #[must_use]
    pub fn with(&self, follows: &[Vec<String>]) -> Self {
        let mut follows = follows.iter();
        let lines = self.lines.iter().map(|line| match line {
            Line::Step(step) => Line::Step(Step {
                follows: follows.next().cloned().unwrap_or_default(),
                ..step.clone()
            }),
            Line::Aside(text) => Line::Aside(text.clone()),
        });
        Self {
            title: self.title.clone(),
            lines: lines.collect(),
        }
    }
}

/// Two versions line by line: `-` is written and did not happen, `+` happened and is not written.
pub fn difference(written: &str, happened: &str) -> String {
    let (a, b): (Vec<&str>, Vec<&str>) = (written.lines().collect(), happened.lines().collect());
    // The longest common subsequence, from the end.
    let mut common = vec![vec![0usize; b.len() + 1]; a.len() + 1];
    for i in (0..a.len()).rev() {
        for j in (0..b.len()).rev() {
            common[i][j] = if a[i] == b[j] {
                common[i + 1][j + 1] + 1
            } else {
                common[i + 1][j].max(common[i][j + 1])
            };
        }
    }
    let mut lines: Vec<(char, &str)> = Vec::new();
    let (mut i, mut j) = (0, 0);
    while i < a.len() || j < b.len() {
        if i < a.len() && j < b.len() && a[i] == b[j] {
            lines.push((' ', a[i]));
            (i, j) = (i + 1, j + 1);
        } else if i < a.len() && (j == b.len() || common[i + 1][j] >= common[i][j + 1]) {
            lines.push(('-', a[i]));
            i += 1;
        } else {
            lines.push(('+', b[j]));
            j += 1;
        }
    }
    // Three lines around each difference are enough to find it.
    const AROUND: usize = 3;
    let near = |at: usize| {
        lines[at.saturating_sub(AROUND)..(at + AROUND + 1).min(lines.len())]
            .iter()
            .any(|(mark, _)| *mark != ' ')
    };
    let mut out = String::new();
    let mut gap = false;
    for (at, (mark, line)) in lines.iter().enumerate() {
        if near(at) {
            out.push_str(&format!("{mark} {line}\n"));
            gap = false;
        } else if !gap {
            out.push_str("  …\n");
            gap = true;
        }
    }
    out
}
