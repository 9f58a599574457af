//! A decision in the making, and what every rule needs to look up: the surface that was meant, the unit
//! that was meant, where a post belongs, how a moment is written.

use chrono::{DateTime, Datelike, NaiveDate, Utc};

use crate::decision::{Decision, Entry, Lane, Post, PostKind};
use crate::ids::{Bed, Channel, Person, ProfileName, RecordNo, Tag, Unit};
use crate::message::{Answer, BUTTONS_MAX, Button, Look, Menu, Message, ROWS_MAX, Row};
use crate::parse::NOTE_CHARS_MAX;
use crate::past::{Past, Wanted};
use crate::record::{Body, Record};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::role::{Role, held, shift_over};
use crate::rules::day_past::{self, DayFault};
use crate::rules::guard::{self, Field, Found};
use crate::rules::nearest::{self, Match};
use crate::rules::policy::Name;
use crate::rules::rent;
use crate::said::Ask;
use crate::say;
use crate::state::{Facility, State, Surface};
use crate::tap::{Tap, Then};
use crate::words::Lang;

/// Somebody who may, asking in a facility that is set up.
pub(crate) struct Asked<'a> {
    pub state: &'a State,
    pub facility: &'a Facility,
    pub ask: &'a Ask,
    /// The role they act in.
    pub role: Role,
    pub lang: Lang,
    pub now: DateTime<Utc>,
    /// Since when they are let in no more, where they may still raise an alarm.
    pub shift_over: Option<DateTime<Utc>>,
    /// A message of somebody of whom it shows no role: they are heard, and told nothing of what is open.
    pub unknown: bool,
    /// What was read of the log for this question.
    pub past: &'a Past,
}

impl<'a> Asked<'a> {
    pub fn new(
        state: &'a State,
        ask: &'a Ask,
        role: Role,
        past: &'a Past,
    ) -> Result<Self, Refusal> {
        let facility = state
            .facility
            .as_ref()
            .ok_or_else(|| Refusal::new("fault-not-set-up"))?;
        Ok(Self {
            state,
            facility,
            ask,
            role,
            lang: ask.lang,
            now: ask.at,
            shift_over: shift_over(state, ask).map(|let_in| let_in.until),
            unknown: false,
            past,
        })
    }

    pub fn draft(&self) -> Draft {
        Draft::new(self.state, self.role, self.now)
    }

    /// The surface that was typed, by tag or by bed.
    pub fn surface(&self, typed: &str) -> Result<(&'a Tag, &'a Surface), Refusal> {
        find_surface(self.state, typed)
    }

    /// The unit that was typed; else the one whose channel this is; else the one in which the person last
    /// did something.
    pub fn unit(&self, typed: Option<&str>) -> Result<Option<&'a Unit>, Refusal> {
        match typed {
            Some(typed) => find_unit(self.state, typed).map(Some),
            None => Ok(unit_of_asker(self.state, self.ask)),
        }
    }

    /// An amount with the home's sign of currency.
    pub fn money(&self, cents: i64) -> String {
        rent::signed(self.lang, self.facility.currency.as_deref(), cents)
    }

    /// Free text, once the guard has read it.
    pub fn guarded(&self, note: Option<String>) -> Result<Option<String>, Refusal> {
        if let Some(text) = &note {
            if text.chars().count() > NOTE_CHARS_MAX {
                return Err(Refusal::new("fault-too-long")
                    .text("option", "note")
                    .number("most", NOTE_CHARS_MAX as i64));
            }
            let names = self.state.units.keys().map(Unit::as_str);
            let known: Vec<&str> = names
                .chain(self.state.profiles.keys().map(ProfileName::as_str))
                .collect();
            guard::check_knowing(text, Field::Note, &known).map_err(private_fault)?;
        }
        Ok(note)
    }

    /// A day that is not ahead, as `2026-03-08`.
    pub fn day_past(&self, typed: &str) -> Result<NaiveDate, Refusal> {
        let day = self.day_lately(typed)?;
        if day > self.facility.zone.local(self.now).date() {
            return Err(Refusal::new("fault-day-ahead").text("typed", day));
        }
        Ok(day)
    }

    /// As [`Self::day_past`]; a day to come is left to the caller.
    pub fn day_lately(&self, typed: &str) -> Result<NaiveDate, Refusal> {
        let today = self.facility.zone.local(self.now).date();
        day_past::parse(typed, today).map_err(|fault| match fault {
            DayFault::Shape => Refusal::new("fault-day-past")
                .text("typed", super::check::escaped(typed))
                .text("example", today),
            DayFault::WhichOfTwo { first, second } => Refusal::new("fault-day-which")
                .text("typed", super::check::escaped(typed))
                .text("first", first)
                .text("second", second),
        })
    }

    /// A day, as `2026-03-08`.
    pub fn day(&self, typed: &str) -> Result<NaiveDate, Refusal> {
        NaiveDate::parse_from_str(typed.trim(), "%Y-%m-%d")
            .ok()
            .filter(|day| (2000..2100).contains(&day.year()))
            .ok_or_else(|| {
                Refusal::new("fault-day")
                    .text("typed", super::check::escaped(typed))
                    .text("example", self.facility.zone.local(self.now).date())
            })
    }

    /// A surface as its own people read it: the tag, and the bed it is under.
    pub fn with_bed(&self, tag: &Tag) -> String {
        with_bed(self.state, self.lang, tag)
    }
}

/// Facts, posts and an answer as they come together.
pub(crate) struct Draft {
    first: RecordNo,
    pub role: Role,
    pub at: DateTime<Utc>,
    pub decision: Decision,
}

impl Draft {
    pub fn new(state: &State, role: Role, at: DateTime<Utc>) -> Self {
        Self {
            first: state.next_no(),
            role,
            at,
            decision: Decision::default(),
        }
    }

    pub fn for_clock(state: &State, at: DateTime<Utc>) -> Self {
        Self::new(state, Role::Clock, at)
    }

    /// Adds a fact that happens now, and says which number it gets.
    pub fn fact(&mut self, body: Body) -> RecordNo {
        self.fact_at(self.at, body, None)
    }

    /// Adds a fact that happened then.
    pub fn fact_at(&mut self, at: DateTime<Utc>, body: Body, note: Option<String>) -> RecordNo {
        let no = RecordNo(self.first.0 + self.decision.entries.len() as u64);
        self.decision.entries.push(Entry {
            at,
            role: self.role,
            body,
            note,
        });
        no
    }

    /// The number of the first fact: what one tap did is taken back by it.
    pub fn first(&self) -> RecordNo {
        self.first
    }

    pub fn post(&mut self, key: String, channel: Channel, lane: Lane, message: Message) {
        self.decision.posts.push(Post {
            key,
            channel,
            kind: PostKind::New,
            lane,
            message,
            in_place_of: Vec::new(),
        });
    }

    /// The newest post takes the place of these where they still wait to be sent.
    pub fn in_place_of(&mut self, keys: impl Iterator<Item = String>) {
        if let Some(post) = self.decision.posts.last_mut() {
            post.in_place_of.extend(keys);
        }
    }

    pub fn edit(&mut self, key: String, of: String, channel: Channel, message: Message) {
        let kind = PostKind::Edit { of };
        self.decision.posts.push(Post {
            key,
            channel,
            kind,
            lane: Lane::Escalation,
            message,
            in_place_of: Vec::new(),
        });
    }

    pub fn answer(mut self, answer: Answer) -> Decision {
        self.decision.answer = Some(answer);
        self.decision
    }

    pub fn private(self, message: Message) -> Decision {
        self.answer(Answer::Private(message))
    }
}

/// The state once this decision has become fact: for what is to be shown of it at once.
pub(crate) fn state_after(
    state: &State,
    who: Option<Person>,
    entered: DateTime<Utc>,
    decision: &Decision,
) -> State {
    let mut after = state.clone();
    let first = state.next_no();
    for entry in &decision.entries {
        let record = Record {
            no: after.next_no(),
            at: entry.at,
            entered,
            who,
            role: entry.role,
            first,
            body: entry.body.clone(),
            note: entry.note.clone(),
        };
        // What cannot follow is refused where it is committed; here it only is not shown.
        if after.apply(&record).is_err() {
            break;
        }
    }
    after
}

impl Decision {
    /// Nothing but an answer to the asker alone.
    pub(crate) fn private(message: Message) -> Self {
        Self {
            answer: Some(Answer::Private(message)),
            ..Self::default()
        }
    }

    /// Nothing yet: this must be read of the log first.
    pub(crate) fn wanting(wanted: Wanted) -> Self {
        Self {
            wants: Some(wanted),
            ..Self::default()
        }
    }
}

impl Message {
    /// A message of this text.
    pub fn text(text: impl Into<String>) -> Self {
        Self {
            text: text.into(),
            ..Self::default()
        }
    }

    /// With one more row of buttons; none if there are none.
    #[must_use]
    pub fn buttons(mut self, buttons: Vec<Button>) -> Self {
        if !buttons.is_empty() {
            self.rows.push(Row::Buttons(buttons));
        }
        self
    }

    /// With one more button, in its last row of buttons where that has room; without it where there is none at all.
    #[must_use]
    pub fn and_button(mut self, one: Button) -> Self {
        let full = self.rows.len() >= ROWS_MAX;
        match self.rows.last_mut() {
            Some(Row::Buttons(last)) if last.len() < BUTTONS_MAX => last.push(one),
            Some(_) if full => {}
            Some(_) | None => self.rows.push(Row::Buttons(vec![one])),
        }
        self
    }

    /// With one more menu.
    #[must_use]
    pub fn menu(mut self, menu: Menu) -> Self {
        self.rows.push(Row::Menu(menu));
        self
    }
}

/// A button that brings a tap back.
pub(crate) fn button(lang: Lang, key: &str, look: Look, tap: &Tap) -> Button {
    Button {
        id: tap.id(),
        label: crate::say!(lang, key),
        look,
    }
}

/// The button that takes back what this draft records, beside whatever else can be tapped on its card.
pub(crate) fn take_back(lang: Lang, draft: &Draft, tag: &Tag) -> Button {
    take_back_then(lang, draft, tag, Then::Beside)
}

/// As [`take_back`], and what is shown then.
pub(crate) fn take_back_then(lang: Lang, draft: &Draft, tag: &Tag, then: Then) -> Button {
    let tap = Tap::TakeBack {
        first: draft.first(),
        tag: tag.clone(),
        then,
    };
    button(lang, "button-take-back", Look::Plain, &tap)
}

/// A moment as each phone shows it in its own time: hours and minutes.
pub(crate) fn clock_time(at: DateTime<Utc>) -> String {
    format!("<t:{}:t>", at.timestamp())
}

/// A moment with its day.
pub(crate) fn day_time(at: DateTime<Utc>) -> String {
    format!("<t:{}:f>", at.timestamp())
}

/// A moment as "5 minutes ago".
pub(crate) fn ago(at: DateTime<Utc>) -> String {
    format!("<t:{}:R>", at.timestamp())
}

/// From so many minutes on a span is said in hours and days; below, minutes are what people count.
const MINUTES_SAID: i64 = 180;

/// How long something has lasted: `95 min`, `4 h 10 min`, `1 day 58 min`, at most two parts.
pub(crate) fn span(lang: Lang, minutes: i64) -> String {
    if minutes < MINUTES_SAID {
        return say!(lang, "report-minutes", count = minutes);
    }
    let parts = [
        (minutes / 1_440, "report-days"),
        (minutes / 60 % 24, "report-hours"),
        (minutes % 60, "report-minutes"),
    ];
    let said: Vec<String> = parts
        .iter()
        .filter(|(count, _)| *count > 0)
        .take(2)
        .map(|(count, key)| say!(lang, key, count = *count))
        .collect();
    said.join(" ")
}

/// Somebody, as the chat shows them. Notifies nobody by itself.
pub(crate) fn person(who: Person) -> String {
    format!("<@{who}>")
}

/// The channel where a unit's people read.
pub(crate) fn unit_channel(state: &State, facility: &Facility, unit: Option<&Unit>) -> Channel {
    unit.and_then(|unit| state.units.get(unit))
        .and_then(|unit| unit.channel)
        .unwrap_or(facility.care_channel)
}

/// The tag, with the bed where the reader is one person of the home.
pub(crate) fn with_bed(state: &State, lang: Lang, tag: &Tag) -> String {
    match state.surfaces.get(tag).and_then(Surface::bed) {
        Some(bed) => tag_and_bed(lang, tag, bed),
        None => tag.to_string(),
    }
}

fn tag_and_bed(lang: Lang, tag: &Tag, bed: &Bed) -> String {
    crate::say!(
        lang,
        "surface-with-bed",
        tag = tag.as_str(),
        bed = bed.as_str()
    )
}

/// A message meant for one person as a whole channel may read it: without beds, until the home has approved them.
pub fn in_public(state: &State, message: &Message) -> Message {
    let mut message = message.clone();
    if state.policies.get(Name::BedsInPosts) == 1 {
        return message;
    }
    let hide = |text: &mut String| {
        let there: Vec<&Tag> = state
            .surfaces
            .keys()
            .filter(|tag| text.contains(&format!("{tag} (")))
            .collect();
        for tag in there {
            // It is in the language of the one it was meant for, and of the bed that was its then: what is told a second time
            // reads as it did the first, wherever the surface went meanwhile.
            for (lang, bed) in Lang::ALL
                .into_iter()
                .flat_map(|lang| state.bed_units.keys().map(move |bed| (lang, bed)))
            {
                *text = text.replace(&tag_and_bed(lang, tag, bed), tag.as_str());
            }
        }
    };
    hide(&mut message.text);
    for row in &mut message.rows {
        if let Row::Buttons(buttons) = row {
            buttons
                .iter_mut()
                .for_each(|button| hide(&mut button.label));
        }
    }
    if names_a_bed(state, &message.text) {
        return Message::text(crate::say!(state.lang(), "answer-hidden"));
    }
    for row in &mut message.rows {
        if let Row::Menu(menu) = row {
            menu.entries
                .iter_mut()
                .for_each(|entry| hide(&mut entry.label));
        }
    }
    message
}

/// Whether a text names a bed of the home, in whatever words: then it is for nobody but the one who asked. A number of
/// one or two digits is a length, a count or a line's number more often than a bed, and is one only behind that word.
fn names_a_bed(state: &State, text: &str) -> bool {
    let mut plain = text.to_owned();
    for tag in state
        .surfaces
        .keys()
        .filter(|tag| text.contains(tag.as_str()))
    {
        plain = plain.replace(tag.as_str(), " ");
    }
    let is_bed = |word: &str| {
        matches!(
            word.to_lowercase().as_str(),
            "bed" | "beds" | "cama" | "camas"
        )
    };
    let mut before = "";
    for piece in plain.split_whitespace() {
        // A moment, and an entry's number, are no beds.
        if piece.starts_with("<t:") || piece.starts_with('#') {
            before = "";
            continue;
        }
        for word in piece.split(|c: char| !c.is_alphanumeric()) {
            let short = word.len() < 3 && word.bytes().all(|byte| byte.is_ascii_digit());
            let numbered = word.chars().any(|c| c.is_ascii_digit());
            if numbered && state.bed_units.contains_key(word) && (!short || is_bed(before)) {
                return true;
            }
            if !word.is_empty() {
                before = word;
            }
        }
    }
    false
}

/// The tag as posts show it: with the bed only once the home has approved beds in the chat.
pub(crate) fn in_post(state: &State, lang: Lang, tag: &Tag) -> String {
    if state.policies.get(Name::BedsInPosts) == 1 {
        with_bed(state, lang, tag)
    } else {
        tag.to_string()
    }
}

/// The unit that somebody is taken to be in. Who works at no bedside has none: where they last did something says nothing.
pub(crate) fn unit_of_asker<'a>(state: &'a State, ask: &Ask) -> Option<&'a Unit> {
    let at_beds = || {
        held(state, ask)
            .iter()
            .any(|role| Right::Check.roles().contains(role))
    };
    unit_of_channel(state, ask).or_else(|| state.last_unit.get(&ask.who).filter(|_| at_beds()))
}

/// The unit whose channel this is.
pub(crate) fn unit_of_channel<'a>(state: &'a State, ask: &Ask) -> Option<&'a Unit> {
    state
        .units
        .iter()
        .find(|(_, unit)| unit.channel == Some(ask.channel))
        .map(|(name, _)| name)
}

fn find_surface<'a>(state: &'a State, typed: &str) -> Result<(&'a Tag, &'a Surface), Refusal> {
    // The usual case, from a suggestion: the tag as it is written.
    if let Some(found) = state.surfaces.get_key_value(typed) {
        return Ok(found);
    }
    let names = state
        .surfaces
        .keys()
        .map(Tag::as_str)
        .chain(state.under.keys().map(Bed::as_str));
    let found = |name: &str| {
        let tag = state.under.get(name).map_or(name, Tag::as_str);
        state.surfaces.get_key_value(tag)
    };
    let found_as = nearest::find_place(typed, names);
    // A bed of the home that has nothing under it is no slip of the finger.
    if let Match::Nearest(_) = found_as
        && let Match::One(bed) = nearest::find_place(typed, state.bed_units.keys().map(Bed::as_str))
    {
        return Err(Refusal::new("fault-bed-empty").text("bed", bed));
    }
    match found_as {
        Match::One(name) => found(name).ok_or_else(|| {
            Refusal::new("fault-no-surface").text("typed", super::check::escaped(typed))
        }),
        Match::Several(names) => Err(Refusal::new("fault-which-surface")
            .text("typed", super::check::escaped(typed))
            .text("these", names.join(", "))),
        Match::Nearest(names) if names.is_empty() => {
            Err(Refusal::new("fault-no-surface").text("typed", super::check::escaped(typed)))
        }
        Match::Nearest(names) => Err(Refusal::new("fault-no-surface-near")
            .text("typed", super::check::escaped(typed))
            .text("these", names.join(", "))),
    }
}

/// The unit that was typed.
pub(crate) fn find_unit<'a>(state: &'a State, typed: &str) -> Result<&'a Unit, Refusal> {
    let all = || {
        state
            .units
            .keys()
            .map(Unit::as_str)
            .collect::<Vec<_>>()
            .join(", ")
    };
    match nearest::find(typed, state.units.keys().map(Unit::as_str)) {
        Match::One(name) => state
            .units
            .get_key_value(name)
            .map(|(unit, _)| unit)
            .ok_or_else(|| {
                Refusal::new("fault-no-unit")
                    .text("typed", super::check::escaped(typed))
                    .text("these", all())
            }),
        Match::Several(_) | Match::Nearest(_) if state.units.is_empty() => {
            Err(Refusal::new("fault-no-units"))
        }
        Match::Several(_) | Match::Nearest(_) => Err(Refusal::new("fault-no-unit")
            .text("typed", super::check::escaped(typed))
            .text("these", all())),
    }
}

/// Free text that could identify a person: said to the writer alone, without the text.
pub(super) fn private_fault(found: Found) -> Refusal {
    Refusal::new("fault-private").keys("what", [format!("private-{}", found.as_str())])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_span_is_said_as_people_count_it() {
        let said = |minutes| span(Lang::English, minutes);
        assert_eq!(said(0), "0 min");
        assert_eq!(said(95), "95 min");
        assert_eq!(said(179), "179 min");
        assert_eq!(said(180), "3 h");
        assert_eq!(said(250), "4 h 10 min");
        assert_eq!(said(1_440), "1 day");
        assert_eq!(said(1_498), "1 day 58 min");
        assert_eq!(said(3 * 1_440 + 305), "3 days 5 h");
    }

    /// What a whole channel may read names no bed; a moment, an entry's number, a length and a count are none.
    #[test]
    fn a_bed_in_words_is_known_and_numbers_of_other_things_are_none() {
        let mut state = State::default();
        for bed in ["103", "12", "7", "1772458260", "A2"] {
            state.bed_units.insert(Bed::from(bed), Unit::from("Elm"));
        }
        for (text, names) in [
            ("look at 103", true),
            ("look at (103), now", true),
            ("bed 12 has none", true),
            ("cama 7", true),
            ("A2 is loud", true),
            ("12 checks", false),
            ("air 7 mm", false),
            ("1310", false),
            ("recorded (#103)", true),
            ("recorded #103", false),
            ("since <t:1772458260:t>", false),
            ("bed <t:1772458260:t> 12", false),
            ("nothing", false),
        ] {
            assert_eq!(names_a_bed(&state, text), names, "{text}");
        }
    }
}
