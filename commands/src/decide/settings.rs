//! `/facility show`: everything that differs from home to home, so that it reads on a phone: what is missing and what
//! waits first, then what is not as usual, the rest by pages and whole in a file. Decides nothing of the settings.

use std::sync::LazyLock;

use chrono::DateTime;
use regex::{Captures, Regex};

use super::draft::{Asked, day_time, person};
use super::duty::phone_line;
use super::facility::{channel, ladder_figures, ladder_words, meaning};
use super::fleet::profiles;
use super::frame;
use super::shelf;
use super::wish::{self, schedule_words, value_words};
use crate::choice::What;
use crate::decision::Decision;
use crate::ids::{Bed, Channel, ChatRole, Person};
use crate::message::{BUTTONS_MAX, Button, File, Menu, MenuEntry, Message};
use crate::request::Right;
use crate::role::{Role, authorize};
use crate::rules::policy::{Group, Name, POLICIES, Policy};
use crate::rules::{beds, rent, zone};
use crate::say;
use crate::state::{BedsApproval, Facility, Ladder, Life, State, Surface, Waiting};
use crate::table::RUNG_MINUTES_MOST;
use crate::tap::{Page, Setting, Tap};
use crate::words::Lang;

/// Policies that are not as usual, and changes that wait, that the first screen names.
const SHOWN: usize = 8;
/// Behind the name of a policy that waits for a supervisor.
const MARK: &str = " ◆";
/// The name of the file with everything.
const FILE: &str = "settings.txt";

/// `/facility show`.
pub(super) fn show(asked: &Asked<'_>) -> Decision {
    let (state, facility, lang) = (asked.state, asked.facility, asked.lang);
    let mut lines = missing(state, facility, lang);
    if !state.wishes.is_empty() {
        let count = state.wishes.len() as i64;
        lines.push(say!(lang, "show-wishes", count = count));
        let waiting = state.wishes.values().take(SHOWN);
        lines.extend(waiting.map(|waiting| wish::line(state, lang, waiting)));
        if state.wishes.len() > SHOWN {
            let more = (state.wishes.len() - SHOWN) as i64;
            lines.push(say!(lang, "show-wishes-more", count = more));
        }
    }
    let own: Vec<&Policy> = POLICIES.iter().filter(|row| is_own(state, row)).collect();
    if own.is_empty() {
        lines.push(say!(lang, "show-all-usual", count = POLICIES.len() as i64));
    } else {
        lines.push(say!(lang, "show-own", count = own.len() as i64));
        lines.extend(own.iter().take(SHOWN).map(|row| own_line(state, lang, row)));
        if own.len() > SHOWN {
            let more = (own.len() - SHOWN) as i64;
            lines.push(say!(lang, "show-own-more", count = more));
        }
        let usual = (POLICIES.len() - own.len()) as i64;
        lines.push(say!(lang, "show-policies-usual", count = usual));
    }
    lines.push(say!(
        lang,
        "show-ladder",
        ladder = ladder_words(lang, state.ladder)
    ));
    lines.push(beds_now(state, lang));
    lines.push(say!(
        lang,
        "show-count",
        units = state.units.len() as i64,
        beds = state.bed_units.len() as i64,
        surfaces = in_register(state) as i64
    ));
    lines.push(say!(lang, "show-foot"));
    let mut text = lines.join("\n");
    crate::due::truncate(&mut text);
    let mut message = Message::text(text);
    if authorize(state, asked.ask, Right::ConfirmPolicy).is_ok() {
        // Two changes in a row; those that the lines name, and one row is for the pages.
        let named: Vec<Vec<Button>> = state
            .wishes
            .iter()
            .take(SHOWN)
            .map(|(no, waiting)| wish::named_buttons(lang, *no, &waiting.wish))
            .collect();
        for row in named.chunks(2) {
            message = message.buttons(row.concat());
        }
    } else {
        let own = |waiting: &&Waiting| waiting.who == Some(asked.ask.who);
        let mine = state.wishes.iter().filter(|(_, waiting)| own(waiting));
        for (no, waiting) in mine.take(BUTTONS_MAX) {
            message = message.and_button(wish::named_withdraw(lang, *no, &waiting.wish));
        }
    }
    message = message.menu(pages(lang));
    message.files.push(File::new(FILE, whole(asked)));
    Decision::private(message)
}

/// One page.
pub(super) fn page(asked: &Asked<'_>, page: Page) -> Decision {
    let (state, lang) = (asked.state, asked.lang);
    let mut lines = vec![say!(lang, "show-page", page = page_words(lang, page))];
    lines.extend(match page.group() {
        Some(group) => on_page(state, lang, group),
        None => lines_of(asked, page),
    });
    let mut text = lines.join("\n");
    crate::due::truncate(&mut text);
    Decision::private(Message::text(text).menu(pages(lang)))
}

fn lines_of(asked: &Asked<'_>, page: Page) -> Vec<String> {
    let (state, lang) = (asked.state, asked.lang);
    match page {
        Page::Home => home(asked),
        Page::Units => units(asked),
        Page::Ladder => ladder_and_schedules(state, lang),
        Page::Lists => lists(state, lang),
        Page::Checks
        | Page::Loft
        | Page::Calls
        | Page::Bedside
        | Page::Upkeep
        | Page::Filters
        | Page::Supply
        | Page::Staff
        | Page::House => page
            .group()
            .into_iter()
            .flat_map(Group::policies)
            .map(|row| card(state, lang, row, false))
            .collect(),
    }
}

/// The policies of a page, each as short as it can be, so that all of them fit a message.
pub(super) fn on_page(state: &State, lang: Lang, group: Group) -> Vec<String> {
    let mark = |row: &Policy| if row.clinical { MARK } else { "" };
    let cards = group.policies().map(|row| {
        say!(
            lang,
            "policy-on-page",
            name = row.word,
            mark = mark(row),
            value = value_words(state, lang, row, state.policies.get(row.name)),
            meaning = meaning(lang, row),
            default = value_words(state, lang, row, row.default),
            least = value_words(state, lang, row, row.least),
            most = value_words(state, lang, row, row.most)
        )
    });
    let mut lines: Vec<String> = cards.collect();
    if group.policies().any(|row| row.clinical) {
        lines.push(say!(lang, "policy-marked", mark = MARK.trim()));
    }
    lines
}

/// One policy: its value, what it decides, its usual value, its bounds and where they come from.
pub(super) fn policy_card(state: &State, lang: Lang, row: &Policy) -> String {
    card(state, lang, row, true)
}

/// As [`policy_card`]; among others it has a mark in place of a sentence.
fn card(state: &State, lang: Lang, row: &Policy, alone: bool) -> String {
    let value = state.policies.get(row.name);
    let mut lines = vec![say!(
        lang,
        "policy-card",
        name = row.word,
        mark = if row.clinical && !alone { MARK } else { "" },
        value = value_words(state, lang, row, value),
        meaning = meaning(lang, row),
        default = value_words(state, lang, row, row.default),
        least = value_words(state, lang, row, row.least),
        most = value_words(state, lang, row, row.most),
        source = say!(lang, row.source)
    )];
    if alone && row.clinical {
        lines.push(say!(lang, "policy-clinical"));
    }
    if row.name == Name::BedsInPosts {
        lines.push(beds_now(state, lang));
    }
    let asked = state.wishes.values().filter(|waiting| {
        matches!(&waiting.wish, crate::record::Wish::Policy { name, .. } if name == row.word)
    });
    lines.extend(asked.map(|waiting| wish::line(state, lang, waiting)));
    lines.join("\n")
}

/// What a home still lacks before it can work.
fn missing(state: &State, facility: &Facility, lang: Lang) -> Vec<String> {
    let no_list = !state
        .schedules
        .values()
        .any(|schedule| schedule.what == What::DueList);
    let lacks = [
        (state.units.is_empty(), "missing-units"),
        (in_register(state) == 0, "missing-surfaces"),
        (
            in_register(state) > 0 && state.under.is_empty(),
            "missing-placed",
        ),
        (no_list, "missing-due-list"),
        (
            !facility.roles.contains_key(&Role::Upkeep),
            "missing-upkeep",
        ),
        (state.products.is_empty(), "missing-products"),
        (state.storage.is_none(), "missing-storage"),
    ];
    let lines: Vec<String> = lacks
        .iter()
        .filter(|(lacks, _)| *lacks)
        .map(|(_, key)| say!(lang, *key))
        .collect();
    if lines.is_empty() {
        return lines;
    }
    let head = say!(lang, "missing-head", count = lines.len() as i64);
    std::iter::once(head).chain(lines).collect()
}

/// Surfaces of the register; those that left it are not counted, here as in `/fleet list`.
fn in_register(state: &State) -> usize {
    let here = |surface: &&Surface| !matches!(surface.life, Life::Retired { .. });
    state.surfaces.values().filter(here).count()
}

fn is_own(state: &State, row: &Policy) -> bool {
    state.policies.is_set(row.name) && state.policies.get(row.name) != row.default
}

fn own_line(state: &State, lang: Lang, row: &Policy) -> String {
    say!(
        lang,
        "show-policy-set",
        name = row.word,
        value = value_words(state, lang, row, state.policies.get(row.name)),
        default = value_words(state, lang, row, row.default)
    )
}

fn beds_now(state: &State, lang: Lang) -> String {
    let shown = state.policies.get(Name::BedsInPosts) == 1;
    beds_line(lang, shown, state.beds_approval)
}

/// Whether posts show beds, and who said so when.
pub(super) fn beds_line(lang: Lang, shown: bool, approval: Option<BedsApproval>) -> String {
    let key = match (shown, approval) {
        (true, Some(_)) => "beds-approved",
        (true, None) => "beds-shown",
        (false, Some(_)) => "beds-withdrawn",
        (false, None) => "beds-hidden",
    };
    let who = approval.and_then(|approval| approval.who);
    say!(
        lang,
        key,
        who = who.map_or_else(String::new, person),
        at = approval.map_or_else(String::new, |approval| day_time(approval.at))
    )
}

/// What the home is called on what is printed.
pub(super) fn home_line(lang: Lang, home: Option<&str>) -> String {
    match home {
        Some(home) => say!(lang, "home-called", home = super::check::escaped(home)),
        None => say!(lang, "home-unnamed"),
    }
}

/// How amounts of money are written.
pub(super) fn currency_line(lang: Lang, sign: Option<&str>) -> String {
    let example = super::check::escaped(&rent::signed(lang, sign, 123_450));
    say!(lang, "currency-shown", example = example)
}

fn home(asked: &Asked<'_>) -> Vec<String> {
    let (facility, lang) = (asked.facility, asked.lang);
    let mut lines = vec![say!(
        lang,
        "show-head",
        zone = facility.zone.name(),
        data = zone::database_version(),
        care = channel(facility.care_channel),
        supervisor = channel(facility.supervisor_channel),
        language = language(lang, facility.lang)
    )];
    for role in Role::MAPPED {
        lines.push(say!(
            lang,
            "show-role",
            role = say!(lang, &format!("role-{}", role.as_str())),
            chat = match facility.roles.get(&role) {
                Some(chat) => format!("<@&{chat}>"),
                None => say!(lang, "not-on-the-list"),
            }
        ));
    }
    if let Some(at) = facility.upkeep_channel {
        lines.push(say!(lang, "show-upkeep-channel", channel = channel(at)));
    }
    lines.extend(home_below(asked));
    lines
}

/// As the file has it: a chat knows its channels and roles by name, and a file only whether they are set.
fn home_in_file(asked: &Asked<'_>) -> Vec<String> {
    let (facility, lang) = (asked.facility, asked.lang);
    let set = |is: bool| {
        if is {
            say!(lang, "file-set")
        } else {
            say!(lang, "not-on-the-list")
        }
    };
    let mut lines = vec![say!(
        lang,
        "show-head",
        zone = facility.zone.name(),
        data = zone::database_version(),
        care = set(true),
        supervisor = set(true),
        language = language(lang, facility.lang)
    )];
    for role in Role::MAPPED {
        lines.push(say!(
            lang,
            "show-role",
            role = say!(lang, &format!("role-{}", role.as_str())),
            chat = set(facility.roles.contains_key(&role))
        ));
    }
    if facility.upkeep_channel.is_some() {
        lines.push(say!(lang, "show-upkeep-channel", channel = set(true)));
    }
    lines.push(say!(lang, "file-names"));
    lines.extend(home_below(asked));
    lines
}

/// What is said of a home below its channels and roles.
fn home_below(asked: &Asked<'_>) -> Vec<String> {
    let (facility, lang) = (asked.facility, asked.lang);
    vec![
        say!(lang, "show-admins"),
        home_line(lang, facility.home.as_deref()),
        currency_line(lang, facility.currency.as_deref()),
        beds_now(asked.state, lang),
    ]
}

/// A language by its name.
pub(super) fn language(lang: Lang, of: Lang) -> String {
    let key = match of {
        Lang::English => "language-english",
        Lang::Spanish => "language-spanish",
    };
    say!(lang, key)
}

fn units(asked: &Asked<'_>) -> Vec<String> {
    let lang = asked.lang;
    if asked.state.units.is_empty() {
        return vec![say!(lang, "missing-units")];
    }
    let units = asked.state.units.iter().map(|(name, unit)| {
        let names: Vec<String> = unit.beds.iter().map(Bed::to_string).collect();
        say!(
            lang,
            "show-unit",
            unit = name.as_str(),
            count = names.len() as i64,
            beds = beds::show(&names),
            channel = channel(unit.channel.unwrap_or(asked.facility.care_channel))
        )
    });
    units.collect()
}

fn ladder_and_schedules(state: &State, lang: Lang) -> Vec<String> {
    let mut lines = vec![say!(
        lang,
        "show-ladder",
        ladder = ladder_words(lang, state.ladder)
    )];
    lines.push(say!(
        lang,
        "show-ladder-bounds",
        usual = ladder_figures(lang, Ladder::default()),
        most = RUNG_MINUTES_MOST,
        source = say!(lang, "source-inside-the-hour")
    ));
    lines.push(phone_line(state, lang));
    lines.extend(state.schedules.values().map(|schedule| {
        say!(
            lang,
            "show-schedule",
            what = schedule_words(lang, schedule.what, schedule.unit.as_ref()),
            when = super::facility::pattern_words(lang, &schedule.pattern.to_string())
        )
    }));
    lines
}

fn lists(state: &State, lang: Lang) -> Vec<String> {
    let mut lines: Vec<String> = state
        .products
        .iter()
        .map(|(name, product)| shelf::product_words(lang, name, product))
        .collect();
    if lines.is_empty() {
        lines.push(say!(lang, "missing-products"));
    }
    lines.push(match &state.storage {
        Some(storage) => say!(
            lang,
            "show-storage",
            dirty = super::check::escaped(&storage.dirty),
            clean = super::check::escaped(&storage.clean)
        ),
        None => say!(lang, "missing-storage"),
    });
    lines
}

/// Everything, as a file.
fn whole(asked: &Asked<'_>) -> String {
    let (state, lang) = (asked.state, asked.lang);
    let mut lines = Vec::new();
    for page in Page::ALL {
        lines.push(say!(lang, "show-page", page = page_words(lang, *page)));
        lines.extend(match page {
            Page::Home => home_in_file(asked),
            Page::Units
            | Page::Ladder
            | Page::Lists
            | Page::Checks
            | Page::Loft
            | Page::Calls
            | Page::Bedside
            | Page::Upkeep
            | Page::Filters
            | Page::Supply
            | Page::Staff
            | Page::House => lines_of(asked, *page),
        });
        lines.push(String::new());
    }
    lines.push(say!(lang, "policy-marked", mark = MARK.trim()));
    lines.push(String::new());
    lines.push(say!(lang, "file-profiles"));
    lines.extend(state.profiles.values().map(profiles::line));
    lines.push(String::new());
    lines.push(say!(lang, "file-frames"));
    lines.extend(frame::all(asked));
    let waiting: Vec<String> = state
        .wishes
        .values()
        .map(|waiting| wish::line(state, lang, waiting))
        .collect();
    if !waiting.is_empty() {
        lines.push(String::new());
        lines.push(say!(lang, "show-wishes", count = waiting.len() as i64));
        lines.extend(waiting);
    }
    without_markup(asked, &lines.join("\n"))
}

/// As a file has it, which shows no markup: times of day in the home's zone, roles and channels by what the home has them for.
/// The chat has their names, which are not read; a number would say nothing to whoever reads it.
fn without_markup(asked: &Asked<'_>, text: &str) -> String {
    let (lang, zone) = (asked.lang, &asked.facility.zone);
    let text = TIME.replace_all(text, |found: &Captures<'_>| {
        let at = found[1].parse().ok();
        let at = at.and_then(|seconds| DateTime::from_timestamp(seconds, 0));
        at.map_or_else(String::new, |at| {
            zone.local(at).format("%Y-%m-%d %H:%M").to_string()
        })
    });
    let text = MENTION.replace_all(&text, |found: &Captures<'_>| {
        let number = &found["number"];
        let known = number.parse().ok();
        match &found["sign"] {
            "@&" => known
                .and_then(|no| role_in_file(asked, ChatRole(no)))
                .unwrap_or_else(|| say!(lang, "file-role")),
            "@" => match known.and_then(|no| role_of(asked.state, Person(no))) {
                Some(role) => say!(lang, "file-person-as", role = role_words(lang, role)),
                None => say!(lang, "file-person"),
            },
            _channel => known
                .and_then(|no| channel_in_file(asked, Channel(no)))
                .unwrap_or_else(|| say!(lang, "file-channel")),
        }
    });
    text.replace("**", "").replace('`', "")
}

/// In which role somebody did what the file names them for: approved beds, or asked for a change, which waits for a supervisor
/// where an admin asks.
fn role_of(state: &State, who: Person) -> Option<Role> {
    let approved = state.beds_approval.filter(|of| of.who == Some(who));
    let wished = || state.wishes.values().any(|of| of.who == Some(who));
    approved
        .and_then(|of| of.role)
        .or_else(|| wished().then_some(Role::Admin))
}

/// A role of the chat by what the home has it for.
fn role_in_file(asked: &Asked<'_>, chat: ChatRole) -> Option<String> {
    let mut roles = asked.facility.roles.iter();
    let (role, _) = roles.find(|(_, of)| **of == chat)?;
    Some(role_words(asked.lang, *role))
}

fn role_words(lang: Lang, role: Role) -> String {
    say!(lang, &format!("role-{}", role.as_str()))
}

/// A channel by who reads in it.
fn channel_in_file(asked: &Asked<'_>, channel: Channel) -> Option<String> {
    let (facility, lang) = (asked.facility, asked.lang);
    if channel == facility.care_channel {
        return Some(say!(lang, "file-channel-care"));
    }
    if channel == facility.supervisor_channel {
        return Some(say!(lang, "file-channel-supervisor"));
    }
    if Some(channel) == facility.upkeep_channel {
        return Some(say!(lang, "file-channel-upkeep"));
    }
    let mut units = asked.state.units.iter();
    let (name, _) = units.find(|(_, unit)| unit.channel == Some(channel))?;
    Some(say!(lang, "file-channel-unit", unit = name.as_str()))
}

/// A moment, as the chat shows it in each phone's own time.
static TIME: LazyLock<Regex> =
    LazyLock::new(|| Regex::new("<t:(-?[0-9]+):[a-zA-Z]>").expect("a pattern"));
/// A person, role or channel, as the chat shows it by its name.
static MENTION: LazyLock<Regex> =
    LazyLock::new(|| Regex::new("<(?<sign>@&|@|#)(?<number>[0-9]+)>").expect("a pattern"));

fn pages(lang: Lang) -> Menu {
    let tap = Tap::Setting(Setting::Page { page: Page::Home });
    Menu {
        id: tap.id(),
        hint: say!(lang, "menu-pages"),
        entries: Page::ALL
            .iter()
            .map(|page| MenuEntry {
                value: page.as_str().to_owned(),
                label: page_words(lang, *page),
                about: None,
            })
            .collect(),
    }
}

fn page_words(lang: Lang, page: Page) -> String {
    say!(lang, &format!("page-{}", page.as_str()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::message::TEXT_CHARS_MAX;
    use crate::rules::policy::{Measure, PolicyFault};

    /// What a number is of stands beside it, as a word or a sign, and can be typed so.
    #[test]
    fn every_setting_is_shown_with_its_unit_and_can_be_typed_so_in_every_language() {
        let state = State::default();
        for lang in Lang::ALL {
            for row in POLICIES {
                for value in [row.least, row.default, row.most] {
                    let shown = wish::value_words(&state, lang, row, value);
                    let unit = shown.contains(|c: char| c.is_alphabetic() || "%:".contains(c));
                    assert!(unit, "{lang:?} {}: {shown}", row.word);
                    // A length is shown to a sixteenth of an inch; nothing said is shown in words.
                    let read = state.policies.read(row.word, &shown);
                    if let Ok((_, read)) = read {
                        assert!((read - value).abs() < 10, "{lang:?} {}: {shown}", row.word);
                    }
                    let unreadable = matches!(read, Err(PolicyFault::NotAValue(_)));
                    assert!(
                        !unreadable || row.measure == Measure::Strength,
                        "{lang:?} {}: {shown}",
                        row.word
                    );
                }
            }
        }
    }

    #[test]
    fn every_page_of_policies_is_shown_whole_in_every_language() {
        let state = State::default();
        for lang in Lang::ALL {
            for page in Page::ALL.iter().filter(|page| page.group().is_some()) {
                let group = page.group().expect("one with policies");
                let mut lines = vec![say!(lang, "show-page", page = page_words(lang, *page))];
                lines.extend(on_page(&state, lang, group));
                let length = lines.join("\n").chars().count();
                assert!(length <= TEXT_CHARS_MAX, "{lang:?} {page:?}: {length}");
            }
        }
    }
}
