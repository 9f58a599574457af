//! A turnover: from released to ready, step by step. Decides which step is next, what each asks and warns of, and when
//! a surface is ready; leaves what a cleaning is worth to [`crate::rules::turnover`] and filters to `filter`.

use chrono::{DateTime, TimeDelta, Utc};

use super::draft::{Asked, Draft, button, clock_time, day_time, in_post, person, take_back};
use crate::choice::{Call, FilterKind, Finding, TurnStep};
use crate::due::calls;
use crate::ids::Tag;
use crate::message::{Button, Look, Message, Row};
use crate::record::{Body, On};
use crate::refusal::Refusal;
use crate::rules::policy::Name;
use crate::rules::turnover::{self, Inspection};
use crate::say;
use crate::state::{Life, Mark, Surface, Turnover};
use crate::tap::{Began, Tap, Turn};
use crate::words::Lang;

mod called;
mod steps;

pub(super) use called::{notice, together};
pub(super) use steps::{function, same, tapped};

/// A surface is soiled from now on: what must be shown before it is ready, and when somebody is called if it is not.
pub(super) fn open(asked: &Asked<'_>, draft: &mut Draft, tag: &Tag, surface: &Surface) {
    open_for(asked, draft, tag, asked.state.profile_of(surface).filter);
}

/// As [`open`], for one that is not in the register yet.
pub(super) fn open_for(asked: &Asked<'_>, draft: &mut Draft, tag: &Tag, filter: FilterKind) {
    draft.fact(Body::TurnoverOpened {
        tag: tag.clone(),
        steps: turnover::steps(filter),
    });
    let hours = asked.state.policies.get(Name::TurnoverHours);
    draft.fact(Body::Booked {
        on: On::Surface(tag.clone()),
        call: Call::Turnover,
        due: asked.now + TimeDelta::hours(hours),
    });
}

/// So many that wait for a ready surface are named where a turnover begins.
const WAITING_NAMED: usize = 3;

/// What is said where a turnover begins: by whom and when, how, where the surface goes, and who waits for a ready one.
pub(super) fn opened_words(asked: &Asked<'_>, tag: &Tag) -> String {
    let lang = asked.lang;
    let hours = asked.state.policies.get(Name::TurnoverHours);
    let mut text = say!(lang, "released-turnover", hours = hours);
    if let Some(storage) = &asked.state.storage {
        let place = super::check::escaped(&storage.dirty);
        let ready = super::check::escaped(&storage.clean);
        text.push('\n');
        text.push_str(&say!(lang, "released-place", place = place, ready = ready));
    }
    // Whoever lies on one that is out of service is who the next ready one is for.
    let waiting: Vec<String> = asked
        .state
        .surfaces
        .iter()
        .filter(|(of, surface)| {
            let still = matches!(surface.life, Life::OutOfService { under: Some(_), .. });
            still && *of != tag
        })
        .map(|(of, _)| asked.with_bed(of))
        .collect();
    if !waiting.is_empty() {
        let these = waiting.iter().take(WAITING_NAMED).cloned();
        text.push('\n');
        text.push_str(&say!(
            lang,
            "released-waiting",
            count = waiting.len() as i64,
            these = these.collect::<Vec<_>>().join(", ")
        ));
    }
    text
}

/// A turnover as it will stand once the draft is a fact.
pub(super) struct Going<'a> {
    pub tag: &'a Tag,
    pub surface: &'a Surface,
    turnover: Turnover,
}

impl<'a> Going<'a> {
    /// The turnover that a surface is in; a refusal that says where it is instead.
    pub fn of(asked: &Asked<'_>, tag: &'a Tag, surface: &'a Surface) -> Result<Self, Refusal> {
        match &surface.life {
            Life::Soiled(turnover) => Ok(Self {
                tag,
                surface,
                turnover: turnover.clone(),
            }),
            Life::Ready { .. } => Err(Refusal::new("fault-ready-already").text("tag", tag)),
            Life::OutOfService {
                since, under: None, ..
            } => Err(Refusal::new("fault-turn-out")
                .text("tag", tag)
                .text("since", day_time(*since))),
            Life::Placed { .. } | Life::OutOfService { .. } | Life::Retired { .. } => {
                Err(Refusal::new("fault-no-turnover").text("surface", asked.with_bed(tag)))
            }
        }
    }

    /// The same, where it does not matter if there is none.
    pub fn under_way(asked: &Asked<'_>, tag: &'a Tag, surface: &'a Surface) -> Option<Self> {
        Self::of(asked, tag, surface).ok()
    }

    /// Whether it was begun before turnovers had lists: three things finish it.
    fn listless(&self) -> bool {
        self.turnover.steps.is_empty()
    }

    /// Whether this has been shown.
    pub fn has(&self, step: TurnStep) -> bool {
        if !self.listless() {
            return self.turnover.shown.contains_key(&step);
        }
        match step {
            TurnStep::Filter => self.turnover.filter,
            TurnStep::Function => self.turnover.function,
            TurnStep::Cleaned | TurnStep::Dried | TurnStep::Inspected | TurnStep::Parts => {
                self.turnover.cleaned
            }
        }
    }

    /// Shows a step.
    pub fn show(&mut self, asked: &Asked<'_>, draft: &mut Draft, step: TurnStep) {
        let tag = self.tag.clone();
        if step == TurnStep::Function {
            draft.fact(Body::FunctionShown { tag });
        } else if !self.listless() {
            draft.fact(Body::TurnShown { tag, step });
        }
        // Where there is no list the cleaning and the look at the filter are facts enough.
        match step {
            TurnStep::Cleaned => self.turnover.cleaned = true,
            TurnStep::Filter => self.turnover.filter = true,
            TurnStep::Function => self.turnover.function = true,
            TurnStep::Dried | TurnStep::Inspected | TurnStep::Parts => {}
        }
        let mark = Mark {
            who: Some(asked.ask.who),
            at: asked.now,
        };
        self.turnover.shown.insert(step, mark);
    }

    /// What no longer holds.
    pub fn undo(&mut self, draft: &mut Draft, steps: &[TurnStep]) {
        let steps: Vec<TurnStep> = steps
            .iter()
            .copied()
            .filter(|step| !self.listless() && self.has(*step))
            .collect();
        if steps.is_empty() {
            return;
        }
        self.turnover.shown.retain(|step, _| !steps.contains(step));
        draft.fact(Body::TurnUndone {
            tag: self.tag.clone(),
            steps,
        });
    }

    /// A cleaning that does not finish the step, where there is no list.
    pub fn not_cleaned(&mut self) {
        self.turnover.cleaned = false;
    }

    /// The disinfectant works until then, and whoever put it on is called.
    pub fn wet(&mut self, draft: &mut Draft, until: DateTime<Utc>) {
        if self.listless() {
            return;
        }
        self.turnover.wet_until = Some(until);
        draft.fact(Body::ContactBegan {
            tag: self.tag.clone(),
            until,
        });
        draft.fact(Body::Booked {
            on: On::Surface(self.tag.clone()),
            call: Call::Contact,
            due: until,
        });
    }

    /// Nothing has to stay wet any more.
    pub fn wet_no_more(&mut self, asked: &Asked<'_>, draft: &mut Draft) {
        if self
            .turnover
            .wet_until
            .is_some_and(|until| until > asked.now)
        {
            self.turnover.wet_until = Some(asked.now);
            draft.fact(Body::ContactBegan {
                tag: self.tag.clone(),
                until: asked.now,
            });
        }
        unbook_contact(asked, draft, self.tag);
    }

    fn next(&self) -> Option<TurnStep> {
        self.turnover.left().next()
    }

    fn began(&self) -> Began {
        Began(self.turnover.said.timestamp() / 60)
    }

    /// The card: every step with who and when, what is next with its caution, and its buttons.
    pub fn card(&self, asked: &Asked<'_>, said: Option<String>, back: Option<Button>) -> Message {
        let lang = asked.lang;
        let mut lines: Vec<String> = said.into_iter().collect();
        if self.listless() {
            lines.push(what_is_left(lang, self.tag, &self.turnover));
        } else {
            lines.push(say!(lang, "turn-head", tag = self.tag.as_str()));
            if self.surface.clean_last {
                lines.push(say!(lang, "turn-marked"));
            }
            let next = self.next();
            for (place, step) in self.turnover.steps.iter().enumerate() {
                let what = say!(lang, step_key(*step));
                let number = place as i64 + 1;
                lines.push(match self.turnover.shown.get(step) {
                    Some(mark) => say!(
                        lang,
                        "turn-step-done",
                        number = number,
                        step = what,
                        at = clock_time(mark.at),
                        who = mark.who.map_or_else(|| "loftwatch".to_owned(), person)
                    ),
                    None if next == Some(*step) => {
                        say!(lang, "turn-step-now", number = number, step = what)
                    }
                    None => say!(lang, "turn-step-left", number = number, step = what),
                });
            }
            lines.extend(next.map(|step| self.caution(asked, step)));
        }
        let mut message = Message::text(lines.join("\n"));
        message.rows = self.rows(asked, back);
        message
    }

    /// What to mind at a step, in a line.
    fn caution(&self, asked: &Asked<'_>, step: TurnStep) -> String {
        let lang = asked.lang;
        if step == TurnStep::Dried
            && let Some(until) = self.turnover.wet_until.filter(|until| *until > asked.now)
        {
            return say!(lang, "turn-wet-until", at = clock_time(until));
        }
        let closed = asked.state.profile_of(self.surface).cover_opens == Some(false);
        let key = match step {
            TurnStep::Cleaned => "turn-now-cleaned",
            TurnStep::Dried => "turn-now-dried",
            TurnStep::Inspected if closed => "turn-now-inspected-closed",
            TurnStep::Inspected => "turn-now-inspected",
            TurnStep::Parts => "turn-now-parts",
            TurnStep::Filter => "turn-now-filter",
            TurnStep::Function => "turn-now-function",
        };
        let minutes = i64::from(asked.state.profile_of(self.surface).fill_minutes);
        say!(lang, key, tag = self.tag.as_str(), minutes = minutes)
    }

    /// Minutes from the last step without power to the test run, where the surface needs more than that to fill.
    fn too_quick(&self, asked: &Asked<'_>) -> Option<(i64, i64)> {
        let at = |step| self.turnover.shown.get(&step).map(|mark| mark.at);
        let run = at(TurnStep::Function).filter(|run| *run == asked.now)?;
        let unplugged = [TurnStep::Dried, TurnStep::Inspected, TurnStep::Parts];
        let since = unplugged.into_iter().filter_map(at).max()?;
        let needs = i64::from(asked.state.profile_of(self.surface).fill_minutes);
        let had = (run - since).num_minutes();
        (had < needs).then_some((had, needs))
    }

    /// The buttons of the step that is next; the filter can be seen to at any time.
    pub fn rows(&self, asked: &Asked<'_>, back: Option<Button>) -> Vec<Row> {
        let next = if self.listless() {
            (!self.turnover.function).then_some(TurnStep::Function)
        } else {
            self.next()
        };
        let menu = (next == Some(TurnStep::Cleaned))
            .then(|| super::items::cleaned_menu(asked, self.tag, self.surface, self.began()));
        let mut rows: Vec<Vec<Button>> = Vec::new();
        rows.extend(next.map(|step| self.buttons(asked, step)));
        let wants_filter = if self.listless() {
            !self.turnover.filter
        } else {
            next != Some(TurnStep::Filter)
                && self.turnover.left().any(|step| step == TurnStep::Filter)
        };
        if wants_filter {
            rows.push(self.buttons(asked, TurnStep::Filter));
        }
        rows.extend(back.map(|back| vec![back]));
        let buttons = rows.into_iter().filter(|row| !row.is_empty());
        menu.flatten()
            .map(Row::Menu)
            .into_iter()
            .chain(buttons.map(Row::Buttons))
            .collect()
    }

    fn buttons(&self, asked: &Asked<'_>, step: TurnStep) -> Vec<Button> {
        let lang = asked.lang;
        let of = self.began();
        let tag = || self.tag.clone();
        let turn = |key, look, tap: Turn| button(lang, key, look, &Tap::Turn(tap));
        let profile = asked.state.profile_of(self.surface);
        match step {
            TurnStep::Cleaned => Vec::new(),
            TurnStep::Dried => vec![turn(
                "button-dried",
                Look::Good,
                Turn::Dried { tag: tag(), of },
            )],
            TurnStep::Inspected => {
                let found = |found| Turn::Inspected {
                    tag: tag(),
                    of,
                    found,
                };
                let whole = if profile.cover_opens == Some(false) {
                    "button-whole-outside"
                } else {
                    "button-whole"
                };
                vec![
                    turn(whole, Look::Good, found(Inspection::Whole)),
                    turn("button-stained", Look::Plain, found(Inspection::Stained)),
                    turn(
                        "button-wet-inside",
                        Look::Caution,
                        found(Inspection::WetInside),
                    ),
                    turn("button-torn", Look::Caution, found(Inspection::Torn)),
                ]
            }
            TurnStep::Parts => vec![
                turn(
                    "button-parts",
                    Look::Good,
                    Turn::PartsWhole { tag: tag(), of },
                ),
                turn(
                    "button-part-damaged",
                    Look::Caution,
                    Turn::PartDamaged { tag: tag(), of },
                ),
            ],
            TurnStep::Filter => {
                let dirty = match profile.filter {
                    FilterKind::Rinsable => "button-filter-rinsed",
                    FilterKind::Replaceable | FilterKind::None => "button-filter-replaced",
                };
                let filter = |finding| Tap::TurnFilter {
                    tag: tag(),
                    of,
                    finding,
                };
                vec![
                    button(
                        lang,
                        "button-filter-clean",
                        Look::Good,
                        &filter(Finding::Clean),
                    ),
                    button(lang, dirty, Look::Plain, &filter(Finding::Dusty)),
                ]
            }
            TurnStep::Function => {
                let mut row = vec![button(
                    lang,
                    "button-function",
                    Look::Good,
                    &Tap::TurnFunction { tag: tag(), of },
                )];
                if !self.listless() {
                    row.push(turn(
                        "button-fails",
                        Look::Caution,
                        Turn::NotRunning { tag: tag(), of },
                    ));
                }
                row
            }
        }
    }

    /// What a step still waits for.
    fn ready_for(&self, step: TurnStep) -> Result<(), Refusal> {
        let missing: Vec<String> = turnover::before(step)
            .iter()
            .filter(|needed| !self.listless() && !self.has(**needed))
            .map(|needed| step_key(*needed).to_owned())
            .collect();
        if missing.is_empty() {
            return Ok(());
        }
        Err(Refusal::new("fault-turn-order")
            .text("tag", self.tag)
            .keys("missing", missing))
    }
}

/// What a turnover that has just gone on says: the card of what is left, or that the surface is ready. A slip at the last
/// step is taken back like any, but where a recall ended with it.
pub(super) fn go_on(
    asked: &Asked<'_>,
    draft: &mut Draft,
    going: Going<'_>,
    said: Option<String>,
) -> Message {
    let lang = asked.lang;
    if !going.turnover.complete() {
        let back = take_back(lang, draft, going.tag);
        return going.card(asked, said, Some(back));
    }
    let tag = going.tag;
    if !going.listless() {
        // It was finished with a product that kills spores: nothing else counts while the marker is there.
        if going.surface.clean_last {
            draft.fact(Body::Marked {
                tag: tag.clone(),
                clean_last: false,
            });
        }
        draft.fact(Body::Readied { tag: tag.clone() });
    }
    let mut lines: Vec<String> = said.into_iter().collect();
    let key = if going.surface.owned.is_of_others() {
        "turn-ready-owner"
    } else {
        "turn-ready"
    };
    lines.push(say!(lang, key, tag = tag.as_str()));
    if going.surface.clean_last {
        lines.push(say!(lang, "turn-mark-ended"));
    }
    if let Some(storage) = &asked.state.storage {
        let place = super::check::escaped(&storage.clean);
        lines.push(say!(lang, "turn-ready-place", place = place));
    }
    let recalled = asked.state.recall_of(tag).is_some();
    if let Some((had, needs)) = going.too_quick(asked).filter(|_| !recalled) {
        lines.push(say!(lang, "turn-quick", had = had, needs = needs));
    }
    let message = Message::text(lines.join("\n"));
    if recalled {
        return message;
    }
    message.buttons(vec![take_back(lang, draft, tag)])
}

/// Whoever was called for the contact time: the post says that it was answered.
fn settle_contact(asked: &Asked<'_>, draft: &mut Draft, tag: &Tag) -> bool {
    let on = On::Surface(tag.clone());
    let post = asked
        .state
        .booking(&on, Call::Contact)
        .and_then(|booking| calls::newest_post(Call::Contact, booking));
    let Some(post) = post else {
        return false;
    };
    let lang = asked.state.lang();
    let text = say!(
        lang,
        "post-contact-done",
        surface = in_post(asked.state, lang, tag),
        who = person(asked.ask.who)
    );
    let key = format!("{post}:done:{}", draft.first());
    let channel = asked.facility.care_channel;
    draft.edit(key, post, channel, Message::text(text));
    true
}

fn unbook_contact(asked: &Asked<'_>, draft: &mut Draft, tag: &Tag) {
    let on = On::Surface(tag.clone());
    let call = Call::Contact;
    if asked.state.booking(&on, call).is_some() {
        draft.fact(Body::Unbooked { on, call });
    }
}

/// The key of a step's name.
pub(super) fn step_key(step: TurnStep) -> &'static str {
    match step {
        TurnStep::Cleaned => "lack-cleaned",
        TurnStep::Dried => "lack-dried",
        TurnStep::Inspected => "lack-inspected",
        TurnStep::Parts => "lack-parts",
        TurnStep::Filter => "lack-filter",
        TurnStep::Function => "lack-function",
    }
}

/// The keys of what a turnover still lacks.
pub(super) fn missing(turnover: &Turnover) -> Vec<&'static str> {
    if !turnover.steps.is_empty() {
        return turnover.left().map(step_key).collect();
    }
    [
        (turnover.cleaned, "lack-cleaned"),
        (turnover.filter, "lack-filter"),
        (turnover.function, "lack-function"),
    ]
    .into_iter()
    .filter(|(done, _)| !done)
    .map(|(_, key)| key)
    .collect()
}

fn what_is_left(lang: Lang, tag: &Tag, turnover: &Turnover) -> String {
    let left: Vec<String> = missing(turnover)
        .into_iter()
        .map(|key| say!(lang, key))
        .collect();
    say!(
        lang,
        "turn-left",
        tag = tag.as_str(),
        left = left.join(", ")
    )
}

impl Going<'_> {
    /// What is left, in a line.
    pub fn left(&self, lang: Lang) -> String {
        what_is_left(lang, self.tag, &self.turnover)
    }
}

/// What is said of a surface, with the card of its turnover below where it is in one.
pub(super) fn shown_again(asked: &Asked<'_>, tag: &Tag, said: String) -> Message {
    let found = asked.surface(tag.as_str()).ok();
    let going = found.and_then(|(tag, surface)| {
        let going = Going::under_way(asked, tag, surface)?;
        (surface.hold.is_none() && !going.listless()).then_some(going)
    });
    match going {
        Some(going) => going.card(asked, Some(said), None),
        None => Message::text(said),
    }
}

/// Rows of buttons for the steps of a turnover, for a surface's card.
pub(super) fn rows(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Vec<Row> {
    Going::under_way(asked, tag, surface)
        .filter(|_| surface.hold.is_none())
        .map(|going| going.rows(asked, None))
        .unwrap_or_default()
}
