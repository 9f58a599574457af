//! What people noticed, as the lines of a conversation. Decides how times, people, roles, channels,
//! buttons, menus and forms are written so that they can be read aloud.

use chrono::{DateTime, Utc};
use commands::rules::zone::Zone;

use super::cast::Cast;
use super::chat::{Called, Form, Look, Noticed, Row, What};

/// How many lines of a report's page are shown.
const REPORT_LINES: usize = 60;

/// Writes for one home.
pub struct Show<'a> {
    /// Who and what there is.
    pub cast: &'a Cast,
    /// The home's zone.
    pub zone: &'a Zone,
}

impl Show<'_> {
    /// The lines for something noticed; with the time, where time passed.
    pub fn noticed(&self, one: &Noticed, timed: bool) -> Vec<String> {
        let (head, look) = match &one.what {
            What::Private(who, look) => {
                (format!("only {} sees:", self.cast.name(*who)), Some(look))
            }
            What::Shared(channel, who, look) => (
                format!(
                    "everybody in {} sees, asked by {}:",
                    self.cast.channel_name(*channel),
                    self.cast.name(*who)
                ),
                Some(look),
            ),
            What::PrivateChanged(who, look) => (
                format!("{}'s card now reads:", self.cast.name(*who)),
                Some(look),
            ),
            What::Changed(channel, look) => (
                format!(
                    "the card in {} now reads:",
                    self.cast.channel_name(*channel)
                ),
                Some(look),
            ),
            What::Post {
                channel,
                called,
                to,
                silent,
                look,
            } => {
                let how = if *silent { ", without a sound" } else { "" };
                let to = to.map_or_else(String::new, |who| {
                    format!(", in answer to {}", self.cast.name(who))
                });
                (
                    format!(
                        "{} gets{to}{}{how}:",
                        self.cast.channel_name(*channel),
                        self.calling(called)
                    ),
                    Some(look),
                )
            }
            What::Form(who, form) => return self.form(*who, form),
            What::Offered(who, list) => return self.offered(*who, list),
        };
        let head = if timed {
            format!("at {}, {head}", self.zone.local(one.at).format("%H:%M"))
        } else {
            head
        };
        let mut lines = vec![head];
        if let Some(look) = look {
            lines.extend(self.look(look, one.at).into_iter().map(indented));
        }
        lines
    }

    /// A message as it looks at a moment.
    pub fn look(&self, look: &Look, now: DateTime<Utc>) -> Vec<String> {
        let mut lines: Vec<String> = self
            .text(&look.text, now)
            .split('\n')
            .map(str::to_owned)
            .collect();
        for (name, text) in &look.files {
            lines.push(format!("(file {name})"));
            // A report is read on paper, page by page: here only how it begins.
            let most = match (name.starts_with("report-"), name.ends_with(".html")) {
                (true, true) => REPORT_LINES,
                _ => usize::MAX,
            };
            lines.extend(
                text.lines()
                    .take(most)
                    .map(|line| format!("> {}", self.file_line(line))),
            );
        }
        if let Some((name, said)) = &look.picture {
            lines.push(format!("(picture {name}: {})", unnumbered(said)));
        }
        for row in &look.rows {
            lines.push(match row {
                Row::Buttons(all) => all
                    .iter()
                    .map(|(_, label)| format!("[{label}]"))
                    .collect::<Vec<_>>()
                    .join(" "),
                Row::Menu { hint, entries, .. } => {
                    let entry = |(_, label, about): &(String, String, String)| {
                        let label = unnumbered(label);
                        if about.is_empty() {
                            label
                        } else {
                            format!("{label}, {about}")
                        }
                    };
                    format!(
                        "({hint}: {})",
                        entries.iter().map(entry).collect::<Vec<_>>().join(" / ")
                    )
                }
            });
        }
        lines
    }

    /// Whom a message called.
    pub fn calling(&self, called: &Called) -> String {
        let roles = called.roles.iter().map(|role| self.cast.role_name(*role));
        let people = called.people.iter();
        let mut people: Vec<String> = people
            .map(|who| format!("@{}", self.cast.name(*who)))
            .collect();
        // Each chat has an order of its own.
        people.sort();
        let all: Vec<String> = roles.chain(people).collect();
        match all.split_last() {
            None => String::new(),
            Some((last, [])) => format!(", calling {last}"),
            Some((last, rest)) => format!(", calling {} and {last}", rest.join(", ")),
        }
    }

    fn form(&self, who: u64, form: &Form) -> Vec<String> {
        let mut lines = vec![format!(
            "{} gets a form, {}:",
            self.cast.name(who),
            form.title
        )];
        for (id, label, hint, required) in &form.fields {
            let must = if *required { "" } else { ", may stay empty" };
            lines.push(indented(format!("{id}: {label} ({hint}){must}")));
        }
        lines
    }

    fn offered(&self, who: u64, list: &[(String, String)]) -> Vec<String> {
        if list.is_empty() {
            return vec![format!("{} is offered nothing", self.cast.name(who))];
        }
        let mut lines = vec![format!("{} is offered:", self.cast.name(who))];
        lines.extend(list.iter().map(|(label, value)| {
            indented(if label == value {
                label.clone()
            } else if label.starts_with(&format!("#{value} ")) {
                unnumbered(label)
            } else {
                format!("{label} → {value}")
            })
        }));
        lines
    }

    /// The platform's markup as people see it.
    fn text(&self, text: &str, now: DateTime<Utc>) -> String {
        let mut out = String::with_capacity(text.len());
        let mut rest = text;
        while let Some(at) = rest.find('<') {
            out.push_str(&rest[..at]);
            rest = &rest[at..];
            let end = rest.find('>').unwrap_or(0);
            match (end > 0).then(|| self.mark(&rest[1..end], now)).flatten() {
                Some(shown) => {
                    out.push_str(&shown);
                    rest = &rest[end + 1..];
                }
                None => {
                    out.push('<');
                    rest = &rest[1..];
                }
            }
        }
        out.push_str(rest);
        unnumbered(&out)
    }

    /// A file's line: people stand in it by number.
    fn file_line(&self, line: &str) -> String {
        // Colours of a style sheet are written as numbers are.
        let style = line.contains('{');
        // Of a picture in a page its words are read, not its dots.
        let line = &without_dots(line);
        let mut line = if style {
            line.to_owned()
        } else {
            unnumbered(line)
        };
        for member in self.cast.people() {
            let shown = format!("@{}", member.name);
            line = line.replace(&member.id.to_string(), &shown);
        }
        line
    }

    fn mark(&self, mark: &str, now: DateTime<Utc>) -> Option<String> {
        if let Some(role) = mark.strip_prefix("@&") {
            return Some(self.cast.role_name(role.parse().ok()?));
        }
        if let Some(who) = mark.strip_prefix('@') {
            return Some(format!("@{}", self.cast.name(who.parse().ok()?)));
        }
        if let Some(channel) = mark.strip_prefix('#') {
            return Some(self.cast.channel_name(channel.parse().ok()?));
        }
        let (seconds, style) = mark.strip_prefix("t:")?.split_once(':')?;
        let at = DateTime::from_timestamp(seconds.parse().ok()?, 0)?;
        let local = self.zone.local(at);
        Some(match style {
            "t" => local.format("%H:%M").to_string(),
            "d" | "D" => local.format("%-d %B").to_string(),
            "R" => relative((at - now).num_seconds()),
            _ => local.format("%-d %B %H:%M").to_string(),
        })
    }
}

/// Without the numbers of entries: what comes before them in the log is no part of a conversation.
pub(super) fn unnumbered(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find('#') {
        let (before, number) = rest.split_at(at + 1);
        let digits = number.bytes().take_while(u8::is_ascii_digit).count();
        out.push_str(before);
        // In a page of a file it also writes a sign: `&#39;`.
        let sign = before.ends_with("&#");
        let kept = if sign || digits == 0 { digits } else { 0 };
        out.push_str(&number[..kept]);
        if digits > kept {
            out.push('…');
        }
        rest = &number[digits..];
    }
    out.push_str(rest);
    out
}

/// As a phone would say it.
fn relative(seconds: i64) -> String {
    let (count, unit) = match seconds.abs() {
        0..=44 => return "now".to_owned(),
        45..=3_569 => ((seconds.abs() + 30) / 60, "minute"),
        3_570..=129_599 => ((seconds.abs() + 1_800) / 3_600, "hour"),
        other => ((other + 43_200) / 86_400, "day"),
    };
    let many = if count == 1 { "" } else { "s" };
    if seconds > 0 {
        format!("in {count} {unit}{many}")
    } else {
        format!("{count} {unit}{many} ago")
    }
}

fn indented(line: String) -> String {
    if line.is_empty() {
        line
    } else {
        format!("  {line}")
    }
}

/// A line of a page in which three dots stand for those of its pictures.
fn without_dots(line: &str) -> String {
    const IMAGE: &str = "data:image/png;base64,";
    let mut parts = line.split(IMAGE);
    let mut kept = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let end = part.find('"').expect("an image ends with its quote");
        assert!(end > 1_000, "a picture of {end} letters is none");
        kept.push_str(&format!("{IMAGE}…{}", &part[end..]));
    }
    kept
}
