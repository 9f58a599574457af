//! The setting of a control unit: the maker's table as the home typed it, the setting in use, a change. Decides what
//! is kept as a setting and what follows from a new one; which one is right stays with the care plan or the order.

use super::check::air_rows;
use super::draft::{Asked, button, day_time, person, take_back};
use super::set_up::{already, found, go_on, in_turn, placed_list, reply, tick};
use super::set_up_card::View;
use crate::choice::Step;
use crate::decision::Decision;
use crate::ids::Tag;
use crate::message::{Answer, Button, ENTRIES_MAX, Field, Form, Look, Menu, MenuEntry, Message};
use crate::record::{Body, Profile};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::role::authorize;
use crate::rules::hand_check::Check;
use crate::rules::set_up::{self as rules, Stage};
use crate::rules::setting::{self as reading, CHARS_MAX, SettingFault};
use crate::say;
use crate::state::{Life, Mark, Setting, Surface};
use crate::tap::{Bedside, ListCard, Tap};
use crate::words::Lang;

/// How many lines of the maker's table one answer shows.
const TABLE_LINES: usize = 12;

/// `/setting`.
pub(super) fn setting(
    asked: &Asked<'_>,
    typed: &str,
    set: Option<String>,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    match set {
        Some(set) => change(asked, tag, surface, &set, false),
        None => Ok(show(asked, tag, surface)),
    }
}

/// The maker's table and the setting in use.
fn show(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Decision {
    let lang = asked.lang;
    let profile = asked.state.profile_of(surface);
    let mut lines = vec![say!(
        lang,
        "surface-head",
        surface = asked.with_bed(tag),
        profile = profile.name.as_str()
    )];
    if surface.bed().is_some() {
        lines.push(in_use_line(lang, surface));
    }
    lines.push(table_line(lang, profile));
    if let Some(list) = placed_list(surface)
        && list.left().any(|step| step == Step::Setting)
        && rules::in_turn(Stage::Setting, list.left())
    {
        let view = View::new(asked, tag, surface, list.clone());
        return Decision::private(setting_rows(Message::text(lines.join("\n")), lang, &view));
    }
    let mut message = Message::default();
    if surface.bed().is_some() {
        message = choose(asked, message, tag, surface);
        if message.rows.is_empty() {
            lines.push(say!(lang, "setting-how", tag = tag.as_str()));
        }
    }
    message.text = lines.join("\n");
    Decision::private(message)
}

/// The menu of the maker's table, and the way to type another, for one that is in place; for whoever may.
pub(super) fn choose(asked: &Asked<'_>, message: Message, tag: &Tag, surface: &Surface) -> Message {
    let Life::Placed { no, .. } = &surface.life else {
        return message;
    };
    if surface.cpr.is_some() || authorize(asked.state, asked.ask, Right::Setting).is_err() {
        return message;
    }
    let card = ListCard {
        tag: tag.clone(),
        list: *no,
        post: false,
    };
    let type_it = Tap::Bedside(Bedside::TypeSetting { card: card.clone() });
    let message = match table_menu(asked.lang, &card, asked.state.profile_of(surface)) {
        Some(menu) => message.menu(menu),
        None => message,
    };
    message.buttons(vec![button(
        asked.lang,
        "button-setting-type",
        Look::Plain,
        &type_it,
    )])
}

/// The setting in use, and what stands next to it in the maker's table: what whoever decides about it wants to see.
pub(super) fn decide_lines(asked: &Asked<'_>, surface: &Surface) -> Vec<String> {
    let lang = asked.lang;
    let mut lines = vec![in_use_line(lang, surface)];
    let mut table: Vec<&str> = Vec::new();
    for (_, setting) in &asked.state.profile_of(surface).settings {
        if !table.contains(&setting.as_str()) {
            table.push(setting);
        }
    }
    let place = surface
        .setting
        .as_ref()
        .and_then(|setting| table.iter().position(|listed| *listed == setting.text));
    if let Some(place) = place {
        let next = |place: Option<usize>| {
            place.and_then(|place| table.get(place)).map_or_else(
                || say!(lang, "setting-none-next"),
                |text| (*text).to_owned(),
            )
        };
        lines.push(say!(
            lang,
            "setting-next",
            below = next(place.checked_sub(1)),
            above = next(Some(place + 1))
        ));
    }
    lines
}

/// A card of a surface in place, outside of any checklist: whose setting is said for itself.
fn in_place<'a>(
    asked: &Asked<'a>,
    card: &ListCard,
) -> Result<Option<(&'a Tag, &'a Surface)>, Refusal> {
    let (tag, surface) = asked.surface(card.tag.as_str())?;
    let here = matches!(&surface.life, Life::Placed { no, .. } if *no == card.list);
    Ok(here.then_some((tag, surface)))
}

/// The maker's table does not have it: asked back, with what it has, and with the word that the panel shows it.
fn ask_back(lang: Lang, card: &ListCard, profile: &Profile, setting: &str) -> Message {
    let text = say!(lang, "setting-not-listed", setting = setting);
    let sure = Tap::Bedside(Bedside::Shown {
        card: card.clone(),
        setting: setting.to_owned(),
    });
    let sure = Button {
        id: sure.id(),
        label: say!(lang, "button-setting-shown", setting = setting),
        look: Look::Caution,
    };
    let message = Message::text(text);
    match table_menu(lang, card, profile) {
        Some(menu) => message.menu(menu),
        None => message,
    }
    .buttons(vec![sure])
}

/// A setting that was typed with the command.
fn change(
    asked: &Asked<'_>,
    tag: &Tag,
    surface: &Surface,
    typed: &str,
    sure: bool,
) -> Result<Decision, Refusal> {
    let Life::Placed { no: placed, .. } = &surface.life else {
        return Err(super::moves::not_placed(asked, tag, surface));
    };
    if surface.cpr.is_some() {
        return Err(super::cpr::open_fault(asked, tag));
    }
    let profile = asked.state.profile_of(surface);
    let setting = read(asked, profile, typed)?;
    let lang = asked.lang;
    if !sure && strange(profile, &setting) {
        let card = ListCard {
            tag: tag.clone(),
            list: *placed,
            post: false,
        };
        return Ok(Decision::private(ask_back(lang, &card, profile, &setting)));
    }
    let mut draft = asked.draft();
    draft.fact(Body::SettingSet {
        tag: tag.clone(),
        setting: setting.clone(),
    });
    let mut lines = vec![say!(
        lang,
        "setting-set",
        surface = asked.with_bed(tag),
        setting = setting.as_str()
    )];
    let before = surface.setting.as_ref();
    let changed = before.is_some_and(|before| before.text != setting);
    if let Some(before) = before.filter(|_| changed) {
        lines.push(say!(lang, "setting-before", setting = before.text.as_str()));
    }
    let back = take_back(lang, &draft, tag);
    let list = placed_list(surface).filter(|list| list.left().any(|step| step == Step::Setting));
    if let Some(list) = list {
        if rules::in_turn(Stage::Setting, list.left()) {
            let mut view = View::new(asked, tag, surface, list.clone());
            view.setting = Some(kept(asked, setting));
            tick(asked, &mut draft, &mut view, &[Step::Setting]);
            let card = view.card();
            let mut next = go_on(asked, draft, &card, &view, Some(lines.join("\n")));
            // A command's answer takes nobody's place.
            if let Some(Answer::Replace(message)) = next.answer {
                next.answer = Some(Answer::Private(message));
            }
            return Ok(next);
        }
        lines.push(say!(lang, "setting-early"));
    }
    lines.push(say!(lang, "setting-caution"));
    let mut message = Message::text(String::new());
    if list.is_none() && profile.check != Check::None && surface.away(asked.now).is_none() {
        lines.push(say!(lang, "setting-check"));
        message = air_rows(message, asked.state, lang, tag, asked.now);
    }
    message.text = lines.join("\n");
    Ok(draft.private(message.buttons(vec![back])))
}

/// A setting on a checklist's card, chosen or typed.
pub(super) fn set(asked: &Asked<'_>, card: &ListCard, typed: &str) -> Result<Decision, Refusal> {
    said(asked, card, typed, false)
}

/// The panel really shows it.
pub(super) fn shown(asked: &Asked<'_>, card: &ListCard, typed: &str) -> Result<Decision, Refusal> {
    said(asked, card, typed, true)
}

fn said(asked: &Asked<'_>, card: &ListCard, typed: &str, sure: bool) -> Result<Decision, Refusal> {
    if let Some((tag, surface)) = in_place(asked, card)? {
        return change(asked, tag, surface, typed, sure);
    }
    let view = match found(asked, card)? {
        Ok(view) => view,
        Err(instead) => return Ok(instead),
    };
    let setting = read(asked, view.profile, typed)?;
    if !sure && strange(view.profile, &setting) {
        return Ok(reply(
            card,
            ask_back(asked.lang, card, view.profile, &setting),
        ));
    }
    record(asked, card, view, setting)
}

/// The same setting as before, in one tap.
pub(super) fn same(asked: &Asked<'_>, card: &ListCard) -> Result<Decision, Refusal> {
    let view = match found(asked, card)? {
        Ok(view) => view,
        Err(instead) => return Ok(instead),
    };
    let Some(setting) = view.setting.clone() else {
        return Err(Refusal::new("fault-stale-tap"));
    };
    record(asked, card, view, setting.text)
}

fn record(
    asked: &Asked<'_>,
    card: &ListCard,
    mut view: View<'_>,
    setting: String,
) -> Result<Decision, Refusal> {
    if !view.list.left().any(|step| step == Step::Setting) {
        return Ok(already(asked, card, &view, Stage::Setting));
    }
    in_turn(asked, &view, Stage::Setting)?;
    let mut draft = asked.draft();
    draft.fact(Body::SettingSet {
        tag: view.tag.clone(),
        setting: setting.clone(),
    });
    view.setting = Some(kept(asked, setting));
    tick(asked, &mut draft, &mut view, &[Step::Setting]);
    Ok(go_on(asked, draft, card, &view, None))
}

/// The form for a setting.
pub(super) fn type_it(asked: &Asked<'_>, card: &ListCard) -> Result<Decision, Refusal> {
    if in_place(asked, card)?.is_none()
        && let Err(instead) = found(asked, card)?
    {
        return Ok(instead);
    }
    let tap = Tap::Bedside(Bedside::SettingTyped {
        card: card.clone(),
        setting: String::new(),
    });
    let lang = asked.lang;
    let form = Form {
        id: tap.id(),
        title: say!(lang, "form-setting-title", tag = card.tag.as_str()),
        fields: vec![Field {
            id: "setting".to_owned(),
            label: say!(lang, "form-setting"),
            hint: say!(lang, "form-setting-hint"),
            required: true,
            long: false,
        }],
    };
    Ok(Decision {
        answer: Some(Answer::Form(form)),
        ..Decision::default()
    })
}

/// What was typed, as it may be kept. The text is never repeated where it looks like a weight.
pub(super) fn read(asked: &Asked<'_>, profile: &Profile, typed: &str) -> Result<String, Refusal> {
    let read = reading::read(typed, &profile.settings);
    if matches!(read, Err(SettingFault::Signs | SettingFault::Long)) {
        // Whoever typed an address or a name is told that first.
        asked.guarded(Some(typed.to_owned()))?;
    }
    let read = read.map_err(|fault| match fault {
        SettingFault::Empty | SettingFault::Signs => Refusal::new("fault-setting"),
        SettingFault::Long => Refusal::new("fault-too-long")
            .text("option", "set")
            .number("most", CHARS_MAX as i64),
        SettingFault::Weight => Refusal::new("fault-setting-weight"),
    })?;
    if listed(profile, &read) {
        return Ok(read);
    }
    Ok(asked.guarded(Some(read))?.unwrap_or_default())
}

fn kept(asked: &Asked<'_>, text: String) -> Setting {
    Setting {
        text,
        mark: Mark {
            who: Some(asked.ask.who),
            at: asked.now,
        },
    }
}

fn listed(profile: &Profile, setting: &str) -> bool {
    profile.settings.iter().any(|(_, listed)| listed == setting)
}

/// Whether the maker's table, where there is one, does not have this setting.
fn strange(profile: &Profile, setting: &str) -> bool {
    !profile.settings.is_empty() && !listed(profile, setting)
}

/// The setting in use, and since when.
pub(super) fn in_use_line(lang: Lang, surface: &Surface) -> String {
    match &surface.setting {
        Some(setting) => say!(
            lang,
            "setting-in-use",
            setting = setting.text.as_str(),
            who = setting.mark.who.map_or_else(String::new, person),
            at = day_time(setting.mark.at)
        ),
        None => say!(lang, "setting-none"),
    }
}

/// The maker's table, as the home typed it, with the word that it decides nothing.
pub(super) fn table_line(lang: Lang, profile: &Profile) -> String {
    if profile.settings.is_empty() {
        return say!(lang, "setting-no-table");
    }
    let rows: Vec<String> = profile
        .settings
        .iter()
        .take(TABLE_LINES)
        .map(|(most, setting)| {
            say!(
                lang,
                "setting-row",
                most = i64::from(*most),
                setting = setting.as_str()
            )
        })
        .collect();
    say!(lang, "setting-table", rows = rows.join(" · "))
}

/// Buttons and a menu that say the setting.
pub(super) fn setting_rows(message: Message, lang: Lang, view: &View<'_>) -> Message {
    let card = view.card();
    let mut buttons = Vec::new();
    if let Some(setting) = &view.setting {
        let tap = Tap::Bedside(Bedside::Same { card: card.clone() });
        buttons.push(Button {
            id: tap.id(),
            label: say!(lang, "button-setting-same", setting = setting.text.as_str()),
            look: Look::Good,
        });
    }
    let tap = Tap::Bedside(Bedside::TypeSetting { card: card.clone() });
    buttons.push(button(lang, "button-setting-type", Look::Plain, &tap));
    let message = message.buttons(buttons);
    match table_menu(lang, &card, view.profile) {
        Some(menu) => message.menu(menu),
        None => message,
    }
}

/// The settings of the maker's table; none where it has no table.
fn table_menu(lang: Lang, card: &ListCard, profile: &Profile) -> Option<Menu> {
    let mut entries: Vec<MenuEntry> = Vec::new();
    for (most, setting) in &profile.settings {
        // One setting can stand in two lines of the table; a menu has it once.
        if entries.len() < ENTRIES_MAX && !entries.iter().any(|entry| entry.value == *setting) {
            entries.push(MenuEntry {
                value: setting.clone(),
                label: setting.clone(),
                about: Some(say!(lang, "setting-entry", most = i64::from(*most))),
            });
        }
    }
    let tap = Bedside::Set {
        card: card.clone(),
        setting: String::new(),
    };
    (!entries.is_empty()).then(|| Menu {
        id: Tap::Bedside(tap).id(),
        hint: say!(lang, "menu-setting"),
        entries,
    })
}
