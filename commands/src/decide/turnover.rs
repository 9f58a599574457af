//! A turnover: from released to ready, step by step. Decides which step is next, what each asks and warns of, and when
//! a surface is ready; leaves what a cleaning is worth to [`crate::rules::turnover`] and filters to `filter`.

use chrono::{DateTime, TimeDelta, Utc};

use super::Notice;
use super::draft::{Asked, Draft, button, clock_time, day_time, in_post, person, take_back};
use super::out;
use crate::choice::{Call, FilterKind, Finding, TurnStep};
use crate::decision::Decision;
use crate::due::calls;
use crate::ids::Tag;
use crate::message::{Answer, Button, Look, Menu, MenuEntry, Message, Row};
use crate::record::{Body, Fault, On};
use crate::refusal::Refusal;
use crate::rules::policy::Name;
use crate::rules::turnover::{self, Inspection};
use crate::say;
use crate::state::{Booking, Facility, Life, Mark, State, Surface, Turnover};
use crate::tap::{Began, PART_FAULTS, Tap, Turn};
use crate::words::Lang;

/// Late turnovers that one post names; the rest are counted.
const LATE_SHOWN: usize = 15;
/// Minutes within which one post about late turnovers speaks for all.
const TOGETHER_MINUTES: i64 = 60;

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

/// What is said where a turnover begins: by when, how, and where the surface goes.
pub(super) fn opened_words(asked: &Asked<'_>) -> String {
    let lang = asked.lang;
    let hours = asked.state.policies.get(Name::TurnoverHours);
    let mut text = say!(lang, "released-turnover", hours = hours);
    if let Some(storage) = &asked.state.storage {
        let place = super::check::escaped(&storage.dirty);
        text.push('\n');
        text.push_str(&say!(lang, "released-place", place = place));
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
        Began(self.turnover.since.timestamp() / 60)
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
        say!(lang, key, tag = self.tag.as_str())
    }

    /// The buttons of the step that is next; the filter can be seen to at any time.
    pub fn rows(&self, asked: &Asked<'_>, back: Option<Button>) -> Vec<Row> {
        let next = if self.listless() {
            (!self.turnover.function).then_some(TurnStep::Function)
        } else {
            self.next()
        };
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
        rows.into_iter()
            .filter(|row| !row.is_empty())
            .map(Row::Buttons)
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

/// What a turnover that has just gone on says: the card of what is left, or that the surface is ready. The last step
/// changes where the surface is and is not taken back.
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
    Message::text(lines.join("\n"))
}

/// A step of a turnover was tapped.
pub(super) fn tapped(asked: &Asked<'_>, tap: Turn) -> Result<Decision, Refusal> {
    match tap {
        Turn::Dried { tag, of } => dried(asked, &tag, of),
        Turn::Inspected { tag, of, found } => inspected(asked, &tag, of, found),
        Turn::PartsWhole { tag, of } => parts(asked, &tag, of),
        Turn::PartDamaged { tag, of } => which_part(asked, &tag, of),
        Turn::PartFault { tag, of, fault } => failed(asked, &tag, of, fault),
        Turn::NotRunning { tag, of } => failed(asked, &tag, of, Fault::Alarm),
        Turn::Repaired { .. }
        | Turn::RepairNote { .. }
        | Turn::RepairNoted { .. }
        | Turn::Tested { .. }
        | Turn::Reported { .. }
        | Turn::LetGo { .. }
        | Turn::LetGoSure { .. }
        | Turn::RecallAll { .. } => Err(Refusal::new("fault-stale-tap")),
    }
}

/// The turnover that a card was about.
pub(super) fn same<'a>(asked: &Asked<'a>, tag: &Tag, of: Began) -> Result<Going<'a>, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    let going = Going::of(asked, tag, surface)?;
    if going.began() != of {
        return Err(Refusal::new("fault-turn-other").text("tag", tag));
    }
    Ok(going)
}

fn dried(asked: &Asked<'_>, tag: &Tag, of: Began) -> Result<Decision, Refusal> {
    let mut going = same(asked, tag, of)?;
    if going.has(TurnStep::Dried) {
        return Ok(already(asked, &going, TurnStep::Dried));
    }
    going.ready_for(TurnStep::Dried)?;
    if let Some(until) = going.turnover.wet_until.filter(|until| *until > asked.now) {
        // The minutes are rounded up: a product is not wiped off early.
        let minutes = ((until - asked.now).num_seconds() + 59) / 60;
        return Err(Refusal::new("fault-still-wet")
            .text("tag", tag)
            .number("minutes", minutes)
            .text("at", clock_time(until)));
    }
    let mut draft = asked.draft();
    going.show(asked, &mut draft, TurnStep::Dried);
    let called = settle_contact(asked, &mut draft, tag);
    unbook_contact(asked, &mut draft, tag);
    let message = go_on(asked, &mut draft, going, None);
    // The post that called is edited, and may be the very message that was tapped.
    Ok(draft.answer(if called {
        Answer::Private(message)
    } else {
        Answer::Replace(message)
    }))
}

fn inspected(
    asked: &Asked<'_>,
    tag: &Tag,
    of: Began,
    found: Inspection,
) -> Result<Decision, Refusal> {
    let mut going = same(asked, tag, of)?;
    if let Some(fault) = turnover::fault_of(found) {
        return failed(asked, tag, of, fault);
    }
    let mut draft = asked.draft();
    match found {
        Inspection::Stained => {
            let all = turnover::undoes(
                crate::choice::Cleaning::BetweenResidents,
                crate::choice::Method::Other,
                crate::choice::Cover::Stained,
            );
            if !all.iter().any(|step| going.has(*step)) {
                return Ok(already(asked, &going, TurnStep::Cleaned));
            }
            going.undo(&mut draft, all);
            going.wet_no_more(asked, &mut draft);
            let said = say!(asked.lang, "turn-stained", tag = tag.as_str());
            let message = go_on(asked, &mut draft, going, Some(said));
            Ok(draft.answer(Answer::Replace(message)))
        }
        Inspection::Whole | Inspection::WetInside | Inspection::Torn => {
            step(asked, going, TurnStep::Inspected)
        }
    }
}

fn parts(asked: &Asked<'_>, tag: &Tag, of: Began) -> Result<Decision, Refusal> {
    step(asked, same(asked, tag, of)?, TurnStep::Parts)
}

/// The test run from its button.
pub(super) fn function(asked: &Asked<'_>, tag: &Tag, of: Began) -> Result<Decision, Refusal> {
    step(asked, same(asked, tag, of)?, TurnStep::Function)
}

/// A step was shown by a tap.
fn step(asked: &Asked<'_>, mut going: Going<'_>, step: TurnStep) -> Result<Decision, Refusal> {
    if going.has(step) {
        return Ok(already(asked, &going, step));
    }
    going.ready_for(step)?;
    let mut draft = asked.draft();
    going.show(asked, &mut draft, step);
    let message = go_on(asked, &mut draft, going, None);
    Ok(draft.answer(Answer::Replace(message)))
}

fn already(asked: &Asked<'_>, going: &Going<'_>, step: TurnStep) -> Decision {
    let said = match going.turnover.shown.get(&step) {
        Some(mark) => say!(
            asked.lang,
            "turn-already",
            step = say!(asked.lang, step_key(step)),
            who = mark.who.map_or_else(|| "loftwatch".to_owned(), person),
            at = clock_time(mark.at)
        ),
        None => say!(asked.lang, "turn-nothing-new"),
    };
    Decision {
        answer: Some(Answer::Replace(going.card(asked, Some(said), None))),
        ..Decision::default()
    }
}

/// One part is damaged: which?
fn which_part(asked: &Asked<'_>, tag: &Tag, of: Began) -> Result<Decision, Refusal> {
    let going = same(asked, tag, of)?;
    let lang = asked.lang;
    let entries = PART_FAULTS
        .iter()
        .map(|fault| MenuEntry {
            value: fault.as_str().to_owned(),
            label: say!(lang, super::look::fault_key(*fault)),
            about: None,
        })
        .collect();
    let id = Tap::Turn(Turn::PartFault {
        tag: going.tag.clone(),
        of,
        fault: Fault::Other,
    })
    .id();
    let menu = Menu {
        id,
        hint: say!(lang, "menu-part"),
        entries,
    };
    let text = say!(lang, "turn-which-part", tag = going.tag.as_str());
    Ok(Decision {
        answer: Some(Answer::Replace(Message::text(text).menu(menu))),
        ..Decision::default()
    })
}

/// What was found takes it out of service.
fn failed(asked: &Asked<'_>, tag: &Tag, of: Began, fault: Fault) -> Result<Decision, Refusal> {
    let going = same(asked, tag, of)?;
    let mut draft = asked.draft();
    out::take_out(asked, &mut draft, going.tag, going.surface, fault, None);
    let text = out::stored_words(asked, going.tag, fault);
    Ok(draft.answer(Answer::Replace(Message::text(text))))
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
    let lang = Lang::default();
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

/// Rows of buttons for the steps of a turnover, for a surface's card.
pub(super) fn rows(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Vec<Row> {
    Going::under_way(asked, tag, surface)
        .filter(|_| surface.hold.is_none())
        .map(|going| going.rows(asked, None))
        .unwrap_or_default()
}

/// What a promised call says.
pub(super) fn notice(
    state: &State,
    facility: &Facility,
    call: Call,
    tag: &Tag,
    now: DateTime<Utc>,
) -> Option<Notice> {
    match call {
        Call::Contact => contact_over(state, facility, tag),
        Call::Turnover => late(state, facility, tag, now),
        Call::Full
        | Call::Plug
        | Call::Steps
        | Call::Static
        | Call::Leave
        | Call::Cpr
        | Call::Hold
        | Call::Idle
        | Call::Pickup
        | Call::Recall
        | Call::Roll => None,
    }
}

fn contact_over(state: &State, facility: &Facility, tag: &Tag) -> Option<Notice> {
    let Life::Soiled(turnover) = &state.surfaces.get(tag)?.life else {
        return None;
    };
    let lang = Lang::default();
    let text = say!(lang, "post-contact", surface = in_post(state, lang, tag));
    let of = Began(turnover.since.timestamp() / 60);
    let tap = Tap::Turn(Turn::Dried {
        tag: tag.clone(),
        of,
    });
    let message = Message::text(text).buttons(vec![button(lang, "button-dried", Look::Good, &tap)]);
    Some(Notice {
        channel: facility.care_channel,
        message,
    })
}

/// Turnovers that take longer than their target: one post names them all, and speaks for those that are called for
/// within the same hour.
fn late(state: &State, facility: &Facility, tag: &Tag, now: DateTime<Utc>) -> Option<Notice> {
    let of = state.calls.get(&Call::Turnover)?;
    let own = of.get(&On::Surface(tag.clone()))?;
    let spoken_for = |other: &Booking| {
        // A day lies between two calls about one surface.
        let rang = other.next.map(|next| next - TimeDelta::days(1));
        other.no != own.no
            && other.step > own.step
            && rang.is_some_and(|rang| {
                own.due <= rang && now - rang < TimeDelta::minutes(TOGETHER_MINUTES)
            })
    };
    if of.values().any(spoken_for) {
        return None;
    }
    let lang = Lang::default();
    let mut late: Vec<(bool, DateTime<Utc>, &Tag, &Turnover)> = of
        .iter()
        .filter(|(_, booking)| booking.due <= now)
        .filter_map(|(on, _)| match on {
            On::Surface(tag) => {
                let (tag, surface) = state.surfaces.get_key_value(tag)?;
                match &surface.life {
                    Life::Soiled(turnover) => {
                        Some((surface.clean_last, turnover.since, tag, turnover))
                    }
                    Life::Placed { .. }
                    | Life::Ready { .. }
                    | Life::OutOfService { .. }
                    | Life::Retired { .. } => None,
                }
            }
            On::Recall(_) | On::Outage(_) => None,
        })
        .collect();
    late.sort_by_key(|(marked, since, tag, _)| (*marked, *since, *tag));
    let hours = state.policies.get(Name::TurnoverHours);
    let mut lines = vec![say!(
        lang,
        "post-turnover-late",
        count = late.len() as i64,
        hours = hours
    )];
    for (marked, since, tag, turnover) in late.iter().take(LATE_SHOWN) {
        let left: Vec<String> = missing(turnover)
            .into_iter()
            .map(|key| say!(lang, key))
            .collect();
        let key = if *marked {
            "post-turnover-line-marked"
        } else {
            "post-turnover-line"
        };
        lines.push(say!(
            lang,
            key,
            surface = in_post(state, lang, tag),
            since = day_time(*since),
            left = left.join(", ")
        ));
    }
    if late.len() > LATE_SHOWN {
        let more = (late.len() - LATE_SHOWN) as i64;
        lines.push(say!(lang, "post-turnover-more", count = more));
    }
    let mut text = lines.join("\n");
    crate::due::truncate(&mut text);
    let entries = late
        .iter()
        .take(LATE_SHOWN)
        .map(|(_, _, tag, _)| MenuEntry {
            value: tag.to_string(),
            label: in_post(state, lang, tag),
            about: None,
        })
        .collect();
    let menu = Menu {
        id: "pick".to_owned(),
        hint: say!(lang, "menu-pick"),
        entries,
    };
    Some(Notice {
        channel: facility.care_channel,
        message: Message::text(text).menu(menu),
    })
}
