//! From what the chat brought to a typed question. Decides what each option's text says; looks nothing
//! up, so that a reader of text needs no facility to be tested.

macro_rules! chosen {
    ($given:expr, $name:literal, $kind:path) => {{
        use $kind as Kind;
        $given.choice($name, Kind::from_text, Kind::WORDS)
    }};
}
macro_rules! must_choose {
    ($given:expr, $name:literal, $kind:path) => {{
        use $kind as Kind;
        $given.must_choose($name, Kind::from_text, Kind::WORDS)
    }};
}

pub(crate) mod entry;
pub(crate) mod life;
pub(crate) mod staff;
pub(crate) mod sums;

use std::collections::BTreeMap;

use crate::choice::{Export, Import, Owned, Start, YesNo};
use crate::ids::{Channel, ChatRole, Person};
use crate::refusal::Refusal;
use crate::request::{Clean, Currency, FacilitySetup, FleetAdd, HandCheck, Request};
use crate::rules::air::{self, AirFault, Units};
use crate::rules::hand_check::{Air, Why};
use crate::rules::import;
use crate::rules::priority::AlarmKind;
use crate::rules::rent;
use crate::rules::schedule::{Pattern, PatternFault};
use crate::said::{Options, Picked, Said, Value};
use crate::state::Ladder;
use crate::table::{self, Command, Takes};
use crate::tap::{SEPARATOR, Staff, Tap};
use crate::words::Lang;

/// The longest free text, in characters.
pub const NOTE_CHARS_MAX: usize = 300;
/// The longest name, number or setting, in characters.
pub const WORD_CHARS_MAX: usize = 60;

/// Turns what was said into a question.
///
/// # Errors
/// A [`Refusal`] that says what to type instead.
pub fn request(said: &Said) -> Result<Request, Refusal> {
    match said {
        Said::Command { path, options } => (known(path)?.parse)(&Given(options)),
        Said::Fetched {
            path,
            options,
            file,
        } => {
            let request = (known(path)?.parse)(&Given(options))?;
            if let Request::FleetImport { what, .. } = request {
                return Ok(Request::FleetImported {
                    what,
                    file: file.clone(),
                });
            }
            Err(Refusal::new("fault-stale-tap"))
        }
        Said::Tap { id, chosen } => tap(id, chosen.first().map(String::as_str), |_| None),
        Said::Form { id, fields } => tap(id, None, |name| fields.get(name).map(String::as_str)),
        Said::Mention { text, files } => Ok(Request::Mention {
            text: text.clone(),
            files: *files,
        }),
        // Suggestions are read where they are made: half a word is no question.
        Said::Completing { .. } => Err(Refusal::new("fault-unknown-command")),
    }
}

fn known(path: &str) -> Result<&'static Command, Refusal> {
    table::find(path).ok_or_else(|| Refusal::new("fault-unknown-command"))
}

fn tap<'a>(
    id: &str,
    chosen: Option<&str>,
    field: impl Fn(&str) -> Option<&'a str>,
) -> Result<Request, Refusal> {
    Tap::read(id, chosen, field)
        .map(Request::Tap)
        .map_err(|_| Refusal::new("fault-stale-tap"))
}

/// The options that were given.
pub struct Given<'a>(pub &'a Options);

impl Given<'_> {
    /// A text, trimmed; one that is empty counts as not given.
    fn text(&self, name: &str) -> Option<String> {
        match self.0.get(name)? {
            Value::Text(text) => Some(text.trim().to_owned()).filter(|text| !text.is_empty()),
            Value::Whole(number) => Some(number.to_string()),
            Value::Flag(_)
            | Value::Role(_)
            | Value::Everybody
            | Value::Channel(_)
            | Value::Person(_)
            | Value::File(_) => None,
        }
    }

    fn must(&self, name: &'static str) -> Result<String, Refusal> {
        self.word(name)?
            .ok_or_else(|| Refusal::new("fault-missing").text("option", name))
    }

    fn word(&self, name: &'static str) -> Result<Option<String>, Refusal> {
        self.short(name, WORD_CHARS_MAX)
    }

    fn note(&self) -> Result<Option<String>, Refusal> {
        self.short("note", NOTE_CHARS_MAX)
    }

    fn short(&self, name: &'static str, most: usize) -> Result<Option<String>, Refusal> {
        let text = self.text(name);
        match &text {
            Some(long) if long.chars().count() > most => Err(Refusal::new("fault-too-long")
                .text("option", name)
                .number("most", most as i64)),
            _ => Ok(text),
        }
    }

    fn choice<T>(
        &self,
        name: &'static str,
        read: impl Fn(&str) -> Option<T>,
        all: &[&str],
    ) -> Result<Option<T>, Refusal> {
        let Some(text) = self.text(name) else {
            return Ok(None);
        };
        read(&text).map(Some).ok_or_else(|| {
            Refusal::new("fault-not-a-choice")
                .text("option", name)
                .text("choices", all.join(", "))
        })
    }

    fn must_choose<T>(
        &self,
        name: &'static str,
        read: impl Fn(&str) -> Option<T>,
        all: &[&str],
    ) -> Result<T, Refusal> {
        self.choice(name, read, all)?
            .ok_or_else(|| Refusal::new("fault-missing").text("option", name))
    }

    fn whole(&self, name: &'static str) -> Result<Option<i64>, Refusal> {
        let Some(text) = self.text(name) else {
            return Ok(None);
        };
        text.parse()
            .map(Some)
            .map_err(|_| Refusal::new("fault-not-whole").text("option", name))
    }

    fn must_whole(&self, name: &'static str, least: i64, most: i64) -> Result<i64, Refusal> {
        let number = self
            .whole(name)?
            .ok_or_else(|| Refusal::new("fault-missing").text("option", name))?;
        if (least..=most).contains(&number) {
            return Ok(number);
        }
        Err(Refusal::new("fault-out-of-range")
            .text("option", name)
            .number("least", least)
            .number("most", most))
    }

    fn may_whole(&self, name: &'static str, least: i64, most: i64) -> Result<Option<i64>, Refusal> {
        match self.whole(name)? {
            None => Ok(None),
            Some(_) => self.must_whole(name, least, most).map(Some),
        }
    }

    fn role(&self, name: &'static str) -> Result<Option<ChatRole>, Refusal> {
        match self.0.get(name) {
            Some(Value::Role(role)) => Ok(Some(*role)),
            Some(Value::Everybody) => {
                Err(Refusal::new("fault-role-everybody").text("option", name))
            }
            Some(
                Value::Text(_)
                | Value::Whole(_)
                | Value::Flag(_)
                | Value::Channel(_)
                | Value::Person(_)
                | Value::File(_),
            )
            | None => Ok(None),
        }
    }

    fn channel(&self, name: &'static str) -> Option<Channel> {
        match self.0.get(name)? {
            Value::Channel(channel) => Some(*channel),
            Value::Text(_)
            | Value::Whole(_)
            | Value::Flag(_)
            | Value::Role(_)
            | Value::Everybody
            | Value::Person(_)
            | Value::File(_) => None,
        }
    }

    /// A member of the guild.
    fn person(&self, name: &'static str) -> Result<Option<Person>, Refusal> {
        match self.0.get(name) {
            None => Ok(None),
            Some(Value::Person(Picked::Member { who, .. })) => Ok(Some(*who)),
            Some(Value::Person(Picked::Program(_))) => Err(Refusal::new("fault-person-program")),
            Some(Value::Person(Picked::Outside(_))) => Err(Refusal::new("fault-person-outside")),
            Some(
                Value::Text(_)
                | Value::Whole(_)
                | Value::Flag(_)
                | Value::Role(_)
                | Value::Everybody
                | Value::Channel(_)
                | Value::File(_),
            ) => Err(Refusal::new("fault-person-pick").text("option", name)),
        }
    }

    /// The chat roles of a member who was picked.
    fn chat_roles(&self, name: &str) -> Vec<ChatRole> {
        match self.0.get(name) {
            Some(Value::Person(Picked::Member { chat_roles, .. })) => chat_roles.clone(),
            Some(
                Value::Person(Picked::Program(_) | Picked::Outside(_))
                | Value::Text(_)
                | Value::Whole(_)
                | Value::Flag(_)
                | Value::Role(_)
                | Value::Everybody
                | Value::Channel(_)
                | Value::File(_),
            )
            | None => Vec::new(),
        }
    }

    fn must_person(&self, name: &'static str) -> Result<Person, Refusal> {
        self.person(name)?
            .ok_or_else(|| Refusal::new("fault-missing").text("option", name))
    }
}

pub(crate) fn hand_check(given: &Given<'_>) -> Result<Request, Refusal> {
    let layers = given.whole("layers")?;
    let layers = match layers.map(u8::try_from) {
        None => None,
        Some(Ok(layers)) if layers <= 20 => Some(layers),
        Some(_) => {
            return Err(Refusal::new("fault-out-of-range")
                .text("option", "layers")
                .number("least", 0)
                .number("most", 20));
        }
    };
    Ok(Request::HandCheck(HandCheck {
        surface: given.must("surface")?,
        air: as_air(air_text(&given.text("air").unwrap_or_default())?),
        site: chosen!(given, "site", crate::choice::Site)?,
        position: chosen!(given, "position", crate::choice::Position)?,
        mode: chosen!(given, "mode", crate::choice::Mode)?,
        layers,
        setting: given.word("setting")?,
        when: given.word("when")?,
        note: given.note()?,
    }))
}

/// Typed text has no reason why not; the menu has.
pub(crate) fn as_air(said: air::Said) -> Air {
    match said {
        air::Said::Measured(tenths) => Air::Measured(tenths),
        air::Said::CouldNot => Air::CouldNot(Why::Other),
    }
}

/// Reads the air under a person as people type it.
///
/// # Errors
/// A [`Refusal`] for each way in which it can be no reading.
pub fn air_text(text: &str) -> Result<air::Said, Refusal> {
    air::parse(text).map_err(air_fault)
}

/// A number without a unit, in a home that wants to be asked which one it is.
///
/// # Errors
/// A [`Refusal`] that names both.
pub(crate) fn air_unit_said(asks: bool, text: &str) -> Result<(), Refusal> {
    match air::bare(text).filter(|_| asks) {
        Some(number) => Err(air_fault(AirFault::WhichUnit { number })),
        None => Ok(()),
    }
}

/// What is wrong with a text that should be a reading.
pub(crate) fn air_fault(fault: AirFault) -> Refusal {
    match fault {
        AirFault::Empty => Refusal::new("fault-air-empty"),
        AirFault::WhichUnit { number } => match air::in_each_unit(&number).as_slice() {
            [one, other] => Refusal::new("fault-air-unit")
                .text("number", &number)
                .text("one", one)
                .text("other", other),
            one => Refusal::new("fault-air-unit-one")
                .text("number", &number)
                .text("one", one.join(", ")),
        },
        AirFault::Negative => Refusal::new("fault-air-negative"),
        AirFault::TooDeep { max } => {
            Refusal::new("fault-air-deep").text("most", air::show(max, Units::Inches))
        }
        AirFault::TwoNumbers => Refusal::new("fault-air-two"),
        AirFault::OddFraction => Refusal::new("fault-air-fraction"),
        AirFault::UnknownUnit => Refusal::new("fault-air-unknown-unit"),
        AirFault::NoNumber => Refusal::new("fault-air-none"),
    }
}

pub(crate) fn look_first(given: &Given<'_>) -> Result<Request, Refusal> {
    Ok(Request::LookFirst {
        surface: given.word("surface")?,
        sign: chosen!(given, "sign", crate::rules::look_first::Sign)?,
    })
}

pub(crate) fn round(given: &Given<'_>) -> Result<Request, Refusal> {
    Ok(Request::Round {
        unit: given.word("unit")?,
    })
}

pub(crate) fn alarm(given: &Given<'_>) -> Result<Request, Refusal> {
    let kind = given.choice("kind", AlarmKind::from_text, AlarmKind::WORDS)?;
    Ok(Request::Alarm {
        surface: given.must("surface")?,
        kind,
        note: given.note()?,
    })
}

pub(crate) fn filter(given: &Given<'_>) -> Result<Request, Refusal> {
    Ok(Request::Filter {
        surface: given.must("surface")?,
        finding: must_choose!(given, "finding", crate::choice::Finding)?,
        action: must_choose!(given, "action", crate::choice::Action)?,
    })
}

pub(crate) fn clean(given: &Given<'_>) -> Result<Request, Refusal> {
    Ok(Request::Clean(Clean {
        surface: given.must("surface")?,
        reason: must_choose!(given, "reason", crate::choice::Cleaning)?,
        method: must_choose!(given, "method", crate::choice::Method)?,
        product: given.word("product")?,
        cover: must_choose!(given, "cover", crate::choice::Cover)?,
        note: given.note()?,
    }))
}

pub(crate) fn due(given: &Given<'_>) -> Result<Request, Refusal> {
    Ok(Request::Due {
        unit: given.word("unit")?,
    })
}

pub(crate) fn surface(given: &Given<'_>) -> Result<Request, Refusal> {
    Ok(Request::Surface {
        surface: given.must("surface")?,
    })
}

pub(crate) fn place(given: &Given<'_>) -> Result<Request, Refusal> {
    Ok(Request::Place {
        surface: given.must("surface")?,
        bed: given.must("bed")?,
    })
}

pub(crate) fn release(given: &Given<'_>) -> Result<Request, Refusal> {
    Ok(Request::Release {
        surface: given.must("surface")?,
        reason: must_choose!(given, "reason", crate::choice::ReleaseReason)?,
        clean_last: chosen!(given, "clean-last", crate::choice::Switch)?,
    })
}

pub(crate) fn fleet_list(_: &Given<'_>) -> Result<Request, Refusal> {
    Ok(Request::FleetList)
}

pub(crate) fn fleet_export(given: &Given<'_>) -> Result<Request, Refusal> {
    Ok(Request::FleetExport {
        what: chosen!(given, "what", crate::choice::Export)?.unwrap_or(Export::Register),
    })
}

pub(crate) fn fleet_add(given: &Given<'_>) -> Result<Request, Refusal> {
    Ok(Request::FleetAdd(FleetAdd {
        tag: given.must("tag")?,
        profile: given.must("profile")?,
        serial: register_number(given, "serial")?,
        lot: register_number(given, "lot")?,
        owned: chosen!(given, "owned", crate::choice::Owned)?.unwrap_or(Owned::Owned),
        start: chosen!(given, "state", crate::choice::Start)?.unwrap_or(Start::Ready),
        tested: given.word("tested")?,
    }))
}

/// A serial or lot number as a file of surfaces may have it too, so that what is exported can be read back: one line, and no longer.
fn register_number(given: &Given<'_>, name: &'static str) -> Result<Option<String>, Refusal> {
    let text = given.short(name, import::NUMBER_CHARS_MAX)?;
    Ok(text.map(|text| text.replace(char::is_control, " ")))
}

pub(crate) fn fleet_import(given: &Given<'_>) -> Result<Request, Refusal> {
    let what = given.must_choose("what", Import::from_text, Import::WORDS)?;
    match given.0.get("file") {
        Some(Value::File(file)) => Ok(Request::FleetImport {
            what,
            file: file.clone(),
        }),
        _ => Err(Refusal::new("fault-missing").text("option", "file")),
    }
}

pub(crate) fn fleet_retire(given: &Given<'_>) -> Result<Request, Refusal> {
    Ok(Request::FleetRetire {
        surface: given.must("surface")?,
    })
}

/// The longest name of a home: one line at the head of a printed page.
const HOME_CHARS_MAX: usize = 60;

/// The longest sign or code of a currency, in characters.
const CURRENCY_CHARS_MAX: usize = 20;

/// The sign or the ISO 4217 code of a currency, as it is written; or the word for none.
fn currency(typed: &str) -> Result<Currency, Refusal> {
    if NO_CURRENCY.contains(&typed.trim().to_lowercase().as_str()) {
        return Ok(Currency::None);
    }
    rent::currency(typed)
        .map(Currency::Sign)
        .ok_or_else(|| Refusal::new("fault-currency").text("typed", crate::decide::escaped(typed)))
}

/// What is typed for amounts without a sign.
const NO_CURRENCY: [&str; 3] = ["none", "ninguna", "ninguno"];

pub(crate) fn facility_setup(given: &Given<'_>) -> Result<Request, Refusal> {
    Ok(Request::FacilitySetup(FacilitySetup {
        timezone: given.word("timezone")?,
        care_channel: given.channel("care-channel"),
        supervisor_channel: given.channel("supervisor-channel"),
        aide: given.role("aide")?,
        nurse: given.role("nurse")?,
        supervisor: given.role("supervisor")?,
        upkeep: given.role("upkeep")?,
        upkeep_channel: given.channel("upkeep-channel"),
        lang: given.choice("language", Lang::from_text, Lang::WORDS)?,
        beds_in_posts: given.choice("beds-in-posts", YesNo::from_text, YesNo::WORDS)?,
        home: given.short("home", HOME_CHARS_MAX)?,
        currency: given
            .short("currency", CURRENCY_CHARS_MAX)?
            .map(|typed| currency(&typed))
            .transpose()?,
    }))
}

/// What is typed for the beds of a unit that there is no more.
const NO_BEDS: [&str; 3] = ["none", "ninguna", "ningunas"];

pub(crate) fn facility_unit(given: &Given<'_>) -> Result<Request, Refusal> {
    Ok(Request::FacilityUnit {
        name: given.must("name")?,
        beds: given
            .short("beds", 1_000)?
            .map(Some)
            .ok_or_else(|| Refusal::new("fault-missing").text("option", "beds"))?
            .filter(|beds| !NO_BEDS.contains(&beds.trim().to_lowercase().as_str())),
        channel: given.channel("channel"),
        take: given.choice("take", YesNo::from_text, YesNo::WORDS)?,
    })
}

/// What is typed for a list that is posted no more.
const NEVER: [&str; 2] = ["never", "nunca"];

pub(crate) fn facility_schedule(given: &Given<'_>) -> Result<Request, Refusal> {
    Ok(Request::FacilitySchedule {
        what: must_choose!(given, "what", crate::choice::What)?,
        when: Some(given.must("when")?)
            .filter(|when| !NEVER.contains(&when.trim().to_lowercase().as_str()))
            .map(|when| pattern(&when))
            .transpose()?,
        unit: given.word("unit")?,
    })
}

fn pattern(text: &str) -> Result<Pattern, Refusal> {
    Pattern::parse(text).map_err(|fault| match fault {
        PatternFault::Empty | PatternFault::Shape => Refusal::new("fault-schedule-shape"),
        PatternFault::NotATime => Refusal::new("fault-schedule-time"),
        PatternFault::TimeTwice => Refusal::new("fault-schedule-twice"),
        PatternFault::HoursDoNotDivideDay { hours } => {
            Refusal::new("fault-schedule-hours").number("hours", i64::from(hours))
        }
        PatternFault::FromMissing => Refusal::new("fault-schedule-from"),
        PatternFault::CronFields { found } => {
            Refusal::new("fault-schedule-fields").number("found", found as i64)
        }
        PatternFault::CronField => Refusal::new("fault-schedule-field"),
        PatternFault::WeekdayNumber => Refusal::new("fault-schedule-weekday"),
        PatternFault::DayAndWeekday => Refusal::new("fault-schedule-day-and-weekday"),
        PatternFault::TooOften { least_minutes } => {
            Refusal::new("fault-schedule-often").number("least", i64::from(least_minutes))
        }
        PatternFault::Never => Refusal::new("fault-schedule-never"),
    })
}

pub(crate) fn facility_ladder(given: &Given<'_>) -> Result<Request, Refusal> {
    let minutes = |name| {
        let number = given.must_whole(name, 1, table::RUNG_MINUTES_MOST)?;
        Ok(u16::try_from(number).unwrap_or(u16::MAX))
    };
    let ladder = Ladder {
        first: minutes("first")?,
        second: minutes("second")?,
        third: minutes("third")?,
        repeat: minutes("repeat")?,
    };
    if !(ladder.first < ladder.second && ladder.second < ladder.third) {
        return Err(Refusal::new("fault-ladder-order"));
    }
    Ok(Request::FacilityLadder(ladder))
}

pub(crate) fn facility_policy(given: &Given<'_>) -> Result<Request, Refusal> {
    Ok(Request::FacilityPolicy {
        name: given.must("name")?,
        value: given.word("value")?,
    })
}

pub(crate) fn facility_show(_: &Given<'_>) -> Result<Request, Refusal> {
    Ok(Request::FacilityShow)
}

pub(crate) fn help(given: &Given<'_>) -> Result<Request, Refusal> {
    Ok(Request::Help {
        topic: given.word("topic")?,
    })
}

/// Options whose free words stay out of what a button carries.
const FREE_WORDS: [&str; 3] = ["note", "reason", "words"];

/// A command as a line that [`typed`] reads back the same; nothing of what is no command, or what a line cannot say.
pub(crate) fn retyped(said: &Said) -> Option<String> {
    let Said::Command { path, options } = said else {
        return None;
    };
    let command = table::find(path)?;
    let mut line = format!("/{path}");
    for option in command.options {
        let value = match options.get(option.name) {
            None => continue,
            Some(_) if FREE_WORDS.contains(&option.name) => return None,
            Some(Value::Text(text)) => text.clone(),
            Some(Value::Whole(number)) => number.to_string(),
            Some(
                Value::Flag(_)
                | Value::Role(_)
                | Value::Everybody
                | Value::Channel(_)
                | Value::Person(_)
                | Value::File(_),
            ) => return None,
        };
        line.push_str(&format!(" {}:{value}", option.name));
    }
    let same = typed(command, &line).is_some_and(|read| read == *options);
    (same && !line.contains([SEPARATOR, '`'])).then_some(line)
}

/// The command that a line begins with.
pub(crate) fn command_of(line: &str) -> Option<&'static Command> {
    let line = line.strip_prefix('/')?;
    let begins = |command: &&Command| {
        let rest = line.strip_prefix(command.path);
        rest.is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
    };
    let found = table::COMMANDS.iter().filter(begins);
    found.max_by_key(|command| command.path.len())
}

/// The command that a tap carries as a line.
pub(crate) fn carried(said: &Said) -> Option<Said> {
    let Said::Tap { id, chosen } = said else {
        return None;
    };
    let Ok(Tap::Staff(Staff::Go { line })) =
        Tap::read(id, chosen.first().map(String::as_str), |_| None)
    else {
        return None;
    };
    let command = command_of(&line)?;
    Some(Said::Command {
        path: command.path.to_owned(),
        options: typed(command, &line)?,
    })
}

/// Reads a line as people see it in help and in conversations, `/handcheck surface:LW-07 air:1 1/4`,
/// into the options of `command`; `None` when it is not that command or names an option it lacks.
/// Channels, roles, people and files are taken by number or name elsewhere, so they come out as text.
pub fn typed(command: &Command, line: &str) -> Option<Options> {
    let rest = line.strip_prefix('/')?.strip_prefix(command.path)?;
    let mut options: BTreeMap<String, Value> = BTreeMap::new();
    let mut current: Option<&str> = None;
    for word in rest.split_whitespace() {
        let named = word.split_once(':').and_then(|(name, value)| {
            let option = command.options.iter().find(|option| option.name == name)?;
            Some((option, value))
        });
        match (named, current) {
            (Some((option, value)), _) => {
                let value = match option.takes {
                    Takes::Whole(..) => Value::Whole(value.parse().ok()?),
                    Takes::Text
                    | Takes::Suggested
                    | Takes::Choice(_)
                    | Takes::Role
                    | Takes::Channel
                    | Takes::Person
                    | Takes::File => Value::Text(value.to_owned()),
                };
                options.insert(option.name.to_owned(), value);
                current = Some(option.name);
            }
            (None, Some(name)) => {
                if let Some(Value::Text(text)) = options.get_mut(name) {
                    text.push(' ');
                    text.push_str(word);
                }
            }
            (None, None) => return None,
        }
    }
    Some(options)
}
