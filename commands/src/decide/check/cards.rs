//! Cards with air buttons. Decides which buttons a check has, how each is named, and when a card is out of date; leaves what a
//! tap records to `check`.

use chrono::{DateTime, Utc};

use super::{band_of, minutes, show, show_air};
use crate::decide::draft::{Asked, ago, button, clock_time, person};
use crate::decide::round;
use crate::decide::which_bed::which_button;
use crate::decision::Decision;
use crate::ids::{RecordNo, Tag};
use crate::message::{Answer, Button, Field, Form, Look, Menu, MenuEntry, Message, Row};
use crate::refusal::Refusal;
use crate::rules::air::Tenths;
use crate::rules::hand_check::{Air, Band, Check, Judgement, Why};
use crate::say;
use crate::state::{Life, State, Surface};
use crate::tap::{Card, Tap, air_word};
use crate::words::Lang;

/// A card with air buttons that is older than this belongs to another shift: its taps are not taken.
const CARD_HOURS_MAX: i64 = 12;

/// Characters of a button that a phone shows beside two others.
const LABEL_CHARS: usize = 25;

/// Characters of a tag below which nobody knows it again.
const NAME_CHARS: usize = 5;

/// The form with a field for the air and one for a note.
pub(in crate::decide) fn air_form(lang: Lang, tag: &Tag, id: String) -> Form {
    let field = |id: &str, required, long| Field {
        id: id.to_owned(),
        label: say!(lang, &format!("form-{id}")),
        hint: say!(lang, &format!("form-{id}-hint")),
        required,
        long,
    };
    Form {
        id,
        title: say!(lang, "form-air-title", tag = tag.as_str()),
        fields: vec![field("air", true, false), field("note", false, true)],
    }
}

/// The card that asks for the air under one surface, outside of a round.
pub(in crate::decide) fn air_for(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Message {
    let card = Card {
        round: None,
        tag: tag.clone(),
        seen: seen(surface),
        shown: minutes(asked.now),
    };
    ask_for(asked, &card, String::new())
}

/// The card that asks for the air under one surface.
pub(in crate::decide) fn ask_for(asked: &Asked<'_>, card: &Card, before: String) -> Message {
    let lang = asked.lang;
    let Some(surface) = asked.state.surfaces.get(&card.tag) else {
        return Message::text(before);
    };
    let band = band_of(asked.state, surface);
    let mut text = before;
    text.push_str(&say!(lang, "ask-air", surface = asked.with_bed(&card.tag)));
    if matches!(surface.life, Life::OutOfService { .. }) {
        text.push('\n');
        text.push_str(&say!(lang, "ask-air-out"));
    }
    if let Some(last) = surface.check_here() {
        let air = show_air(lang, last.air, band);
        let key = match last.judged {
            Judgement::Low | Judgement::BottomedOut => "ask-air-last-low",
            Judgement::Adequate | Judgement::High | Judgement::CouldNot => "ask-air-last",
        };
        text.push('\n');
        text.push_str(&say!(lang, key, air = air, ago = ago(last.at)));
    }
    if asked.state.profile_of(surface).check == Check::LookAndFeel {
        text.push('\n');
        text.push_str(&say!(lang, "check-maker-look"));
    }
    with_air_rows(
        Message::text(text),
        asked.state,
        lang,
        card,
        card.round.is_some(),
        None,
    )
}

/// A card for everybody that asks for the air under one surface.
pub(crate) fn air_card(
    state: &State,
    lang: Lang,
    tag: &Tag,
    now: DateTime<Utc>,
    text: String,
) -> Message {
    let card = card_of(state, tag, now);
    call_rows(Message::text(text), state, lang, &card)
}

/// Rows of a post that everybody sees: it comes up where somebody's own card stood a moment ago, so that its buttons
/// say whose reading they take.
pub(super) fn call_rows(message: Message, state: &State, lang: Lang, card: &Card) -> Message {
    let message = with_air_rows(message, state, lang, card, false, Some(card.tag.as_str()));
    match which_button(state, lang, &card.tag) {
        Some(which) => message.and_button(which),
        None => message,
    }
}

/// A card about one surface as it stands at `now`.
fn card_of(state: &State, tag: &Tag, now: DateTime<Utc>) -> Card {
    Card {
        round: None,
        tag: tag.clone(),
        seen: state.surfaces.get(tag).map_or(RecordNo(0), seen),
        shown: minutes(now),
    }
}

/// The buttons and the menu for a reading of one surface, as it stands at `now`.
pub(in crate::decide) fn air_rows(
    message: Message,
    state: &State,
    lang: Lang,
    tag: &Tag,
    now: DateTime<Utc>,
) -> Message {
    let card = card_of(state, tag, now);
    with_air_rows(message, state, lang, &card, false, None)
}

/// The buttons and the menu for a reading; its buttons begin with what is `named`.
fn with_air_rows(
    message: Message,
    state: &State,
    lang: Lang,
    card: &Card,
    skip: bool,
    named: Option<&str>,
) -> Message {
    let Some(surface) = state.surfaces.get(&card.tag) else {
        return message;
    };
    let (check, band) = (state.profile_of(surface).check, band_of(state, surface));
    let tap = |air| {
        Tap::Air {
            card: card.clone(),
            air,
        }
        .id()
    };
    let mut last = vec![button(
        lang,
        "button-type",
        Look::Plain,
        &Tap::TypeAir { card: card.clone() },
    )];
    if skip {
        last.push(button(
            lang,
            "button-skip",
            Look::Plain,
            &Tap::Skip { card: card.clone() },
        ));
    }
    let mut message = buttons(message, lang, check, band, tap, card.menu_id()).buttons(last);
    if let Some(name) = named {
        name_buttons(&mut message, lang, name);
    }
    message
}

/// Every button says what it is about, as far as it then still fits on a phone.
pub(in crate::decide) fn name_buttons(message: &mut Message, lang: Lang, name: &str) {
    for row in &mut message.rows {
        if let Row::Buttons(buttons) = row {
            for button in buttons {
                button.label = named_label(lang, name, &button.label);
            }
        }
    }
}

/// A button's words behind a name. One that is too long for both gives up its bed, then its beginning: tags differ at
/// their end. Words so long that no name fits have a row of their own, where there is room.
pub(in crate::decide) fn named_label(lang: Lang, name: &str, label: &str) -> String {
    let of = |name: &str| say!(lang, "button-of", name = name, label = label);
    let tag = name.split(" (").next().unwrap_or(name);
    let short = [name, tag]
        .into_iter()
        .map(of)
        .find(|words| words.chars().count() <= LABEL_CHARS);
    if let Some(words) = short {
        return words;
    }
    let over = of(tag).chars().count().saturating_sub(LABEL_CHARS);
    let end: String = tag.chars().skip(over + 1).collect();
    if end.chars().count() < NAME_CHARS {
        return of(tag);
    }
    of(&format!("…{end}"))
}

/// Rows for a reading by the check that the maker wants: in inches for a hand, in words for a look; then why
/// there was none.
pub(crate) fn buttons(
    message: Message,
    lang: Lang,
    check: Check,
    band: Band,
    tap: impl Fn(Air) -> String,
    menu_id: String,
) -> Message {
    let reading = |tenths: Tenths| Button {
        id: tap(Air::Measured(tenths)),
        label: show(tenths),
        look: Look::Good,
    };
    let other = |key: &str, air, look| Button {
        id: tap(air),
        label: say!(lang, key, low = show(band.low), high = show(band.high)),
        look,
    };
    let (adequate, under, over) = match check {
        Check::LookAndFeel => (
            vec![other("button-within", Air::Within, Look::Good)],
            "button-feels-low",
            "button-feels-high",
        ),
        Check::Hand | Check::None => {
            // Rounded as a typed reading is: half way from 1 to 1½ in is 1¼ in.
            (
                vec![
                    reading(band.low),
                    reading(band.middle()),
                    reading(band.high),
                ],
                "button-under",
                "button-over",
            )
        }
    };
    message
        .buttons(adequate)
        .buttons(vec![
            other("button-touching", Air::Touching, Look::Caution),
            other(under, Air::Under1, Look::Caution),
            other(over, Air::Over, Look::Plain),
        ])
        .menu(could_not_menu(lang, menu_id))
}

fn could_not_menu(lang: Lang, id: String) -> Menu {
    let entries = Why::ALL
        .iter()
        .map(|why| MenuEntry {
            value: air_word(Air::CouldNot(*why)),
            label: say!(lang, &format!("why-{}", why.as_str())),
            about: None,
        })
        .collect();
    Menu {
        id,
        hint: say!(lang, "menu-could-not"),
        entries,
    }
}

/// A card whose surface has been checked or moved since it was shown, or that is from another shift: what
/// to answer instead of taking the tap.
pub(in crate::decide) fn stale(
    asked: &Asked<'_>,
    card: &Card,
) -> Option<Result<Decision, Refusal>> {
    let surface = match asked.surface(card.tag.as_str()) {
        Ok((_, surface)) => surface,
        Err(no) => return Some(Err(no)),
    };
    if minutes(asked.now) - card.shown > CARD_HOURS_MAX * 60 {
        return Some(Err(Refusal::new("fault-card-old")));
    }
    if seen(surface) <= card.seen {
        return None;
    }
    let band = band_of(asked.state, surface);
    let said = match surface.check_here() {
        Some(check) if check.who == Some(asked.ask.who) => say!(
            asked.lang,
            "check-already-yours",
            surface = asked.with_bed(&card.tag),
            air = show_air(asked.lang, check.air, band),
            at = clock_time(check.at)
        ),
        Some(check) => say!(
            asked.lang,
            "check-already",
            surface = asked.with_bed(&card.tag),
            air = show_air(asked.lang, check.air, band),
            at = clock_time(check.at),
            who = check.who.map_or_else(String::new, person)
        ),
        None => say!(asked.lang, "check-moved", tag = card.tag.as_str()),
    };
    let answer = match &card.round {
        Some(unit) => Answer::Replace(round::next_card(
            asked,
            asked.state,
            unit,
            round::From::After(&card.tag),
            said,
        )),
        None => Answer::Private(Message::text(said)),
    };
    Some(Ok(Decision {
        answer: Some(answer),
        ..Decision::default()
    }))
}

/// The newest record after which a card about this surface is out of date: a check or a placement.
pub(in crate::decide) fn seen(surface: &Surface) -> RecordNo {
    let placed = match &surface.life {
        Life::Placed { no, .. } => *no,
        Life::Soiled(_) | Life::Ready { .. } | Life::OutOfService { .. } | Life::Retired { .. } => {
            RecordNo(0)
        }
    };
    surface
        .checks
        .iter()
        .map(|check| check.no)
        .max()
        .unwrap_or(RecordNo(0))
        .max(placed)
}
