//! What people do in a story. Decides who does what how often, in the words and taps of the conversations, so that a
//! story can be read; some of it is wrong, forbidden or senseless. Leaves what becomes of it to the home.

use commands::Said;
use commands::ids::{Channel, Person};
use fastrand::Rng;

use super::ears::CANARY;
use crate::talk::cast::{Cast, Member};
use crate::talk::chat::{Chat, Posted, Row};
use crate::talk::stage::Thing;

/// Something that is typed, and how often among the others.
const TYPED: &[(u32, &str)] = &[
    (30, "/handcheck surface:{placed} air:{air}"),
    (4, "/handcheck surface:{any} air:{air} note:{note}"),
    (3, "/handcheck surface:{placed} air:{air} when:20 min ago"),
    (4, "/alarm surface:{placed} kind:{kind}"),
    (1, "/alarm surface:{any} note:{note}"),
    (6, "/round"),
    (6, "/due"),
    (4, "/surface surface:{any}"),
    (5, "/filter surface:{any} finding:{finding} action:{action}"),
    (
        4,
        "/clean surface:{any} reason:{reason} method:soap-and-water cover:intact",
    ),
    (
        2,
        "/clean surface:LW-21 reason:between-residents method:quaternary cover:intact",
    ),
    (2, "/pull surface:{any} fault:leak"),
    (2, "/return surface:{any}"),
    (2, "/release surface:{placed} reason:discharge"),
    (2, "/place surface:{any} bed:{bed}"),
    (2, "/setting surface:{placed} set:{set}"),
    (2, "/static surface:{placed} until:20 min"),
    (1, "/cpr surface:{placed}"),
    (3, "/duty unit:Elm until:15:00"),
    (1, "/outage unit:Elm"),
    (1, "/leave bed:{bed} until:1 h"),
    (2, "/handover"),
    (2, "/match"),
    (1, "/timeline what:{any}"),
    (2, "/amend entry:{number} reason:{note}"),
    (1, "/amend entry:{number} air:{air} reason:typed wrong"),
    (1, "/hold surface:{any}"),
    (1, "/stock item:filters count:{count}"),
    (1, "/zones bed:{bed} zone1:90"),
    (1, "/facility policy name:recheck value:20"),
    (1, "/facility show"),
    (1, "/mix stock:5.25 target:1000 volume:1 l"),
    (4, "@loftwatch {placed} beeping"),
    (3, "@loftwatch {placed} one and a quarter"),
    (1, "@loftwatch {note}"),
];

/// One of a few, for each gap in what is typed.
const GAPS: &[(&str, &[&str])] = &[
    (
        "{placed}",
        &["LW-07", "LW-08", "LW-11", "LW-12", "lw7", "103"],
    ),
    (
        "{any}",
        &[
            "LW-07", "LW-08", "LW-11", "LW-12", "LW-20", "LW-21", "LW-99", "102",
        ],
    ),
    (
        "{air}",
        &[
            "1.25 in", "1 1/4", "1.5 in", "1 in", "3/4 in", "0.5 in", "3 cm", "2 in", "0", "none",
            "much",
        ],
    ),
    (
        "{kind}",
        &["low-pressure", "power", "fault", "unknown", "high-pressure"],
    ),
    ("{finding}", &["clean", "dusty", "clogged", "damaged"]),
    ("{action}", &["left", "replaced", "rinsed"]),
    ("{reason}", &["routine", "soiled"]),
    ("{bed}", &["101", "102", "103", "104", "201", "202", "999"]),
    ("{set}", &["1", "2", "5"]),
    ("{count}", &["0", "3", "12"]),
];

/// What somebody does next.
pub enum Act {
    /// A line of a conversation.
    Line(String),
    /// A tap on what they see, as a line that tells it.
    Tap(Thing, String),
}

/// The next thing that anybody does.
pub fn act(dice: &mut Rng, cast: &Cast, chat: &Chat) -> Option<Act> {
    let people = cast.people();
    let who = &people[dice.usize(..people.len())];
    if dice.u8(0..100) < 45 {
        return tap(dice, who, chat);
    }
    if let Some((form, on)) = chat.forms.get(&who.id.0) {
        let fields = form.fields.iter().map(|(id, ..)| {
            let gap = ["{air}", "{note}", "{any}", "{count}"][dice.usize(..4)];
            let text = fill(dice, gap);
            (id.clone(), text)
        });
        let said = Said::Form {
            id: form.id.clone(),
            fields: fields.collect(),
        };
        let channel = on.and_then(|on| chat.messages.iter().find(|one| one.id == on));
        let thing = Thing {
            who: who.id,
            channel: channel.map_or(who.channel, |one| Channel(one.channel)),
            on: *on,
            said,
        };
        return Some(Act::Tap(
            thing,
            format!("{} sends the form {:?}", who.name, form.title),
        ));
    }
    let all: u32 = TYPED.iter().map(|(often, _)| often).sum();
    let mut at = dice.u32(..all);
    let (_, line) = TYPED.iter().find(|(often, _)| {
        let here = at < *often;
        at = at.saturating_sub(*often);
        here
    })?;
    Some(Act::Line(format!("{}: {}", who.name, fill(dice, line))))
}

fn fill(dice: &mut Rng, line: &str) -> String {
    let mut line = line.to_owned();
    for (gap, few) in GAPS {
        if line.contains(gap) {
            line = line.replace(gap, few[dice.usize(..few.len())]);
        }
    }
    line.replace("{note}", &format!("the {CANARY} hums"))
        .replace("{number}", &dice.u32(1..400).to_string())
}

/// A tap on one of the newest messages that they see.
fn tap(dice: &mut Rng, who: &Member, chat: &Chat) -> Option<Act> {
    let seen: Vec<_> = chat
        .messages
        .iter()
        .rev()
        .filter(|one| one.only.is_none_or(|only| only == who.id.0) && !one.look.rows.is_empty())
        .take(12)
        .collect();
    // Mostly the newest; at times a card that is long past.
    let near = dice
        .usize(..seen.len().max(1))
        .min(dice.usize(..seen.len().max(1)));
    let on = seen.get(near)?;
    let (thing, line) = any_of(dice, who, on)?;
    Some(Act::Tap(thing, line))
}

/// What somebody who was called taps next: what they alone were asked last, or the newest card of an alarm.
pub fn responds(dice: &mut Rng, cast: &Cast, chat: &Chat, who: Person) -> Option<Act> {
    let who = cast.person_of(who)?;
    let own = |one: &&Posted| one.only == Some(who.id.0) && !one.look.rows.is_empty();
    let card = |one: &&Posted| {
        let ids = one.look.ids();
        one.only.is_none()
            && ids
                .iter()
                .any(|id| id.starts_with("fixed|") || id.starts_with("take|"))
    };
    let mut newest = chat.messages.iter().rev().take(40);
    let on = newest.find(|one| own(one) || card(one))?;
    // What cannot be mended is taken from the bed.
    let tag = on.look.text.strip_prefix("**LW-");
    if let Some(tag) = tag
        .and_then(|text| text.get(..2))
        .filter(|_| dice.u8(0..6) == 0)
    {
        let line = format!("{}: /release surface:LW-{tag} reason:discharge", who.name);
        return Some(Act::Line(line));
    }
    // Whoever has a card of an alarm before them goes on with it.
    let ids = on.look.ids();
    let verbs = ["fixair|", "fixed|", "safe|", "take|"];
    let wanted = verbs.iter().find_map(|verb| {
        let of: Vec<_> = ids.iter().filter(|id| id.starts_with(verb)).collect();
        let id = of.get(dice.usize(..of.len().max(1)))?;
        (dice.u8(0..10) < 8).then(|| (*id).clone())
    });
    match wanted {
        Some(id) => {
            let line = format!("{} taps {id:?}", who.name);
            Some(Act::Tap(on_it(who, on, &id, Vec::new()), line))
        }
        None => any_of(dice, who, on).map(|(thing, line)| Act::Tap(thing, line)),
    }
}

/// One of the buttons or menus of a message.
fn any_of(dice: &mut Rng, who: &Member, on: &Posted) -> Option<(Thing, String)> {
    let row = &on.look.rows.get(dice.usize(..on.look.rows.len().max(1)))?;
    let (id, chosen, words) = match row {
        Row::Buttons(all) => {
            let (id, label) = &all[dice.usize(..all.len())];
            (id, Vec::new(), format!("taps [{label}]"))
        }
        Row::Menu { id, hint, entries } => {
            let (value, label, _) = &entries[dice.usize(..entries.len())];
            (
                id,
                vec![value.clone()],
                format!("chooses {label:?} in {hint:?}"),
            )
        }
    };
    Some((on_it(who, on, id, chosen), format!("{} {words}", who.name)))
}

fn on_it(who: &Member, on: &Posted, id: &str, chosen: Vec<String>) -> Thing {
    Thing {
        who: who.id,
        channel: Channel(on.channel),
        on: Some(on.id),
        said: Said::Tap {
            id: id.to_owned(),
            chosen,
        },
    }
}
