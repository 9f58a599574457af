//! The card of a checklist: what is done, by whom and when, what is not right, and what is asked now. Decides how it
//! reads and which buttons it has; what a tap on one does is `set_up`'s.

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};

use super::check::air_rows;
use super::draft::{Asked, button, clock_time, person, span};
use super::set_up::by_name;
use super::setting::{setting_rows, table_line};
use crate::choice::{FirstFill, Opening, Step};
use crate::ids::{Person, Tag};
use crate::message::{Button, Look, Menu, MenuEntry, Message};
use crate::record::Profile;
use crate::request::Right;
use crate::role::authorize;
use crate::rules::hand_check::Check;
use crate::rules::set_up::{self as rules, Stage};
use crate::say;
use crate::state::{Setting, Steps, Surface};
use crate::tap::{Bedside, ListCard, Tap};
use crate::words::Lang;

/// A checklist as it stands once a draft is a fact, with what its card needs besides.
pub(super) struct View<'a> {
    pub tag: &'a Tag,
    /// The surface as its people read it.
    pub name: String,
    pub profile: &'a Profile,
    /// The setting on record.
    pub setting: Option<Setting>,
    pub list: Steps,
    /// How long it was unplugged, in minutes, where that was just said.
    pub unplugged: Option<u16>,
    /// A check made before its turn has just come to count: when it was made, and by whom.
    pub counted: Option<(DateTime<Utc>, Option<Person>)>,
}

impl<'a> View<'a> {
    pub fn new(asked: &Asked<'a>, tag: &'a Tag, surface: &'a Surface, list: Steps) -> Self {
        Self {
            tag,
            name: asked.with_bed(tag),
            profile: asked.state.profile_of(surface),
            setting: surface.setting.clone(),
            list,
            unplugged: None,
            counted: None,
        }
    }

    /// The card of this list that its taps name.
    pub fn card(&self) -> ListCard {
        ListCard {
            tag: self.tag.clone(),
            list: self.list.no,
            post: false,
        }
    }
}

/// The card.
pub(super) fn message(asked: &Asked<'_>, view: &View<'_>) -> Message {
    let lang = asked.lang;
    let list = &view.list;
    let Some(stage) = rules::next(list.left()) else {
        let mut lines = vec![say!(lang, "steps-complete", surface = view.name.as_str())];
        lines.extend(counted_line(lang, view));
        lines.extend(done_lines(lang, view));
        lines.push(say!(lang, "steps-complete-caution"));
        return Message::text(lines.join("\n"));
    };
    let key = format!("steps-head-{}", list.opening.as_str());
    let mut lines = vec![say!(lang, &key, surface = view.name.as_str())];
    lines.extend(done_lines(lang, view));
    lines.extend(missed_lines(lang, list));
    lines.extend(counted_line(lang, view));
    let mut rows = Message::default();
    if let Some(minutes) = view.unplugged {
        lines.push(unplugged_line(lang, view, minutes));
    }
    lines.push(say!(
        lang,
        "steps-now",
        part = part_words(lang, list.opening, stage)
    ));
    match stage {
        Stage::Empty | Stage::Rest => {
            let open: Vec<Step> = list
                .left()
                .filter(|step| rules::stage(*step) == stage)
                .filter(|step| !list.missed.contains_key(step))
                .collect();
            lines.extend(
                open.iter()
                    .map(|step| format!("- {}", step_words(lang, *step))),
            );
            if open.is_empty() {
                lines.push(say!(lang, "steps-only-missed"));
            }
            let nobody = stage == Stage::Empty && list.opening == Opening::Placed;
            let key = if nobody {
                "steps-maker-empty"
            } else {
                "steps-maker"
            };
            lines.push(say!(lang, key));
            if !open.is_empty() {
                let key = if open.contains(&Step::Plugged) {
                    "button-plugged"
                } else {
                    "button-all-done"
                };
                rows = rows.buttons(vec![done_button(lang, view, key, stage)]);
                let tap = Bedside::Missed {
                    card: view.card(),
                    step: open[0],
                };
                rows = rows.menu(menu(lang, "menu-step-missed", tap, &open));
            }
        }
        Stage::Full => {
            lines.extend(fill_lines(lang, view, asked.now));
            let key = match list.opening {
                // The resident may be on it again.
                Opening::Cpr => "button-refilled",
                Opening::Placed | Opening::Moved | Opening::Power => "button-full",
            };
            rows = rows.buttons(vec![done_button(lang, view, key, stage)]);
        }
        Stage::Setting => {
            lines.push(table_line(lang, view.profile));
            // Whoever may not change a setting is not offered to.
            if may(asked, Right::Setting) {
                rows = setting_rows(rows, lang, view);
            } else {
                lines.push(say!(lang, "steps-setting-nurse"));
            }
        }
        Stage::Check => {
            let key = match view.profile.check {
                Check::LookAndFeel => "steps-look",
                Check::Hand | Check::None => "steps-hand",
            };
            lines.push(say!(lang, key));
            rows = air_rows(rows, asked.state, lang, view.tag, asked.now);
            if list.left().any(|step| step == Step::Rails) && may(asked, Right::Place) {
                rows = rows.buttons(vec![done_button(lang, view, "button-rails", Stage::Rails)]);
            }
        }
        Stage::Rails => {
            lines.push(say!(lang, "steps-rails"));
            if may(asked, Right::Place) {
                rows = rows.buttons(vec![done_button(lang, view, "button-rails", stage)]);
            } else {
                lines.push(say!(lang, "steps-rails-nurse"));
            }
        }
    }
    let missed: Vec<Step> = list
        .missed
        .keys()
        .copied()
        .filter(|step| by_name(*step))
        .collect();
    if let Some(first) = missed.first()
        && rows.rows.len() < crate::message::ROWS_MAX
    {
        let tap = Bedside::Mended {
            card: view.card(),
            step: *first,
        };
        rows = rows.menu(menu(lang, "menu-step-right", tap, &missed));
    }
    if view.unplugged.is_some() && rows.rows.len() < crate::message::ROWS_MAX {
        let tap = Tap::Bedside(Bedside::TypeMinutes { card: view.card() });
        rows = rows.buttons(vec![button(lang, "button-minutes", Look::Plain, &tap)]);
    }
    Message {
        text: lines.join("\n"),
        ..rows
    }
}

fn may(asked: &Asked<'_>, right: Right) -> bool {
    authorize(asked.state, asked.ask, right).is_ok()
}

fn done_button(lang: Lang, view: &View<'_>, key: &str, stage: Stage) -> Button {
    let tap = Tap::Bedside(Bedside::Done {
        card: view.card(),
        stage,
    });
    button(lang, key, Look::Good, &tap)
}

fn menu(lang: Lang, hint: &str, tap: Bedside, steps: &[Step]) -> Menu {
    Menu {
        id: Tap::Bedside(tap).id(),
        hint: say!(lang, hint),
        entries: steps
            .iter()
            .map(|step| MenuEntry {
                value: step.as_str().to_owned(),
                label: step_words(lang, *step),
                about: None,
            })
            .collect(),
    }
}

fn fill_lines(lang: Lang, view: &View<'_>, now: DateTime<Utc>) -> Vec<String> {
    let key = match view.profile.first_fill {
        // The resident may be back on it already.
        FirstFill::Lowest | FirstFill::Highest if view.list.opening == Opening::Cpr => {
            "steps-refill"
        }
        FirstFill::Lowest => "steps-fill-lowest",
        FirstFill::Highest => "steps-fill-highest",
    };
    let mut lines = vec![say!(lang, key)];
    if let Some(full) = view.list.full {
        let key = if now < full {
            "steps-full-at"
        } else {
            "steps-full-since"
        };
        lines.push(say!(lang, key, at = clock_time(full)));
    }
    lines
}

fn unplugged_line(lang: Lang, view: &View<'_>, minutes: u16) -> String {
    match view.profile.holds_minutes {
        Some(holds) if minutes > holds => say!(
            lang,
            "steps-unplugged-long",
            span = span(lang, i64::from(minutes)),
            holds = i64::from(holds)
        ),
        Some(_) | None => say!(
            lang,
            "steps-unplugged",
            span = span(lang, i64::from(minutes))
        ),
    }
}

/// That a check which was made before its turn counts now.
fn counted_line(lang: Lang, view: &View<'_>) -> Option<String> {
    let (at, who) = view.counted?;
    let who = who.map_or_else(String::new, person);
    Some(say!(
        lang,
        "steps-check-counts",
        at = clock_time(at),
        who = who
    ))
}

/// What is done, who said so and when: a whole group in one line, where one person did it at one time.
fn done_lines(lang: Lang, view: &View<'_>) -> Vec<String> {
    let list = &view.list;
    let mut lines = Vec::new();
    for stage in Stage::ALL {
        let mut by: BTreeMap<(i64, Option<Person>), Vec<Step>> = BTreeMap::new();
        for (step, mark) in list
            .done
            .iter()
            .filter(|(step, _)| rules::stage(**step) == stage)
        {
            let minute = mark.at.timestamp().div_euclid(60);
            by.entry((minute, mark.who)).or_default().push(*step);
        }
        let all = list
            .wanted
            .iter()
            .filter(|step| rules::stage(**step) == stage);
        let all = all.count().max(by.values().map(Vec::len).sum());
        let most = by.values().map(Vec::len).max().unwrap_or(0);
        let mut named = false;
        for ((minute, who), steps) in by {
            let group = !named && steps.len() == most && steps.len() > 1;
            named |= group;
            let part = part_words(lang, list.opening, stage);
            let what = if group && steps.len() == all {
                part
            } else if group {
                let count = steps.len() as i64;
                say!(
                    lang,
                    "steps-some",
                    part = part,
                    count = count,
                    all = all as i64
                )
            } else {
                names(lang, steps)
            };
            let what = match &view.setting {
                Some(setting) if stage == Stage::Setting => {
                    let setting = setting.text.as_str();
                    say!(lang, "steps-setting", what = what, setting = setting)
                }
                Some(_) | None => what,
            };
            let at = DateTime::from_timestamp(minute * 60, 0).unwrap_or_default();
            lines.push(say!(
                lang,
                "steps-done",
                what = what,
                who = who.map_or_else(String::new, person),
                at = clock_time(at)
            ));
        }
    }
    lines
}

fn missed_lines(lang: Lang, list: &Steps) -> Vec<String> {
    list.missed
        .iter()
        .map(|(step, mark)| {
            say!(
                lang,
                "steps-not-right",
                what = step_words(lang, *step),
                who = mark.who.map_or_else(String::new, person),
                at = clock_time(mark.at)
            )
        })
        .collect()
}

/// What a stage is called, on this kind of list.
pub(super) fn part_words(lang: Lang, opening: Opening, stage: Stage) -> String {
    match (stage, opening) {
        (Stage::Empty, Opening::Moved | Opening::Power) => say!(lang, "stage-plugged"),
        (Stage::Empty, Opening::Cpr) => say!(lang, "step-valve"),
        (Stage::Full, Opening::Cpr) => say!(lang, "stage-refilled"),
        (Stage::Empty, Opening::Placed)
        | (
            Stage::Full | Stage::Setting | Stage::Rest | Stage::Check | Stage::Rails,
            Opening::Placed | Opening::Moved | Opening::Cpr | Opening::Power,
        ) => say!(lang, &format!("stage-{}", stage.as_str())),
    }
}

/// What is left, short enough for a line: a group by its name where none of it is done, else its steps.
pub(super) fn left_words(lang: Lang, list: &Steps) -> String {
    let mut words = Vec::new();
    for stage in Stage::ALL {
        let of = |step: &Step| rules::stage(*step) == stage;
        let left: Vec<Step> = list.left().filter(of).collect();
        let all = list.wanted.iter().filter(|step| of(step)).count();
        if left.len() > 1 && left.len() == all {
            words.push(part_words(lang, list.opening, stage));
        } else if !left.is_empty() {
            words.push(names(lang, left));
        }
    }
    words.join(", ")
}

/// Steps by name, with commas between.
pub(super) fn names(lang: Lang, steps: Vec<Step>) -> String {
    let names: Vec<String> = steps
        .into_iter()
        .map(|step| step_words(lang, step))
        .collect();
    names.join(", ")
}

fn step_words(lang: Lang, step: Step) -> String {
    say!(lang, &format!("step-{}", step.as_str()))
}
