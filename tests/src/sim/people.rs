//! What people do in a story. Decides who does what how often, in the words and taps of the conversations, so that a
//! story can be read; some of it is wrong, forbidden or senseless. Leaves what becomes of it to the home.

use commands::Said;
use commands::ids::{Channel, Person};
use fastrand::Rng;

use super::ears::CANARY;
use crate::talk::cast::{Cast, Member};
use crate::talk::chat::{Chat, Posted, Row};
use crate::talk::stage::Thing;

/// Something that is typed, how often among the others, and by whom for the most part, by the letters of their roles.
const TYPED: &[(u32, &str, &str)] = &[
    (40, "ans", "/handcheck surface:{placed} air:{air}"),
    (4, "ans", "/handcheck surface:{any} air:{air} note:{note}"),
    (
        3,
        "ans",
        "/handcheck surface:{placed} air:{air} when:20 min ago",
    ),
    (4, "ansu", "/alarm surface:{placed} kind:{kind}"),
    (1, "ansu", "/alarm surface:{any} note:{note}"),
    (6, "ans", "/round"),
    (6, "ansu", "/due"),
    (4, "ansu", "/surface surface:{any}"),
    (
        5,
        "su",
        "/filter surface:{any} finding:{finding} action:{action}",
    ),
    (
        4,
        "ansu",
        "/clean surface:{any} reason:{reason} method:soap-and-water cover:intact",
    ),
    (
        4,
        "ansu",
        "/clean surface:{any} reason:between-residents method:quaternary cover:intact",
    ),
    (1, "ansu", "/pull surface:{any} fault:leak"),
    (4, "su", "/return surface:{any}"),
    (1, "ns", "/release surface:{placed} reason:discharge"),
    (6, "ns", "/place surface:{any} bed:{bed}"),
    (2, "ns", "/setting surface:{placed} set:{set}"),
    (2, "ans", "/static surface:{placed} until:20 min"),
    (1, "ns", "/cpr surface:{placed}"),
    (3, "ans", "/duty unit:Elm until:15:00"),
    (1, "ansu", "/outage unit:Elm"),
    (1, "ns", "/leave bed:{bed} until:1 h"),
    (2, "ansu", "/handover"),
    (2, "ns", "/match"),
    (1, "s", "/timeline what:{any}"),
    (2, "ansu", "/amend entry:{number} reason:{note}"),
    (
        1,
        "ansu",
        "/amend entry:{number} air:{air} reason:typed wrong",
    ),
    (1, "s", "/hold surface:{any}"),
    (1, "su", "/stock item:filters count:{count}"),
    (1, "ns", "/zones bed:{bed} zone1:90"),
    (1, "s", "/facility policy name:recheck value:20"),
    (1, "s", "/facility show"),
    (1, "su", "/mix stock:5.25 target:1000 volume:1 l"),
    (4, "ans", "@loftwatch {placed} beeping"),
    (6, "ans", "@loftwatch {placed} one and a quarter"),
    (1, "ansu", "@loftwatch {note}"),
];
/// What brings something back that went out of use.
const MENDING: [&str; 6] = [
    "Power is back",
    "Rinsed and dry",
    "Whole and dry, inside too",
    "All clean and whole",
    "Filter clean",
    "Runs, fills, no alarm",
];
/// Of five who do something four may, as far as they know.
const MAY: u8 = 4;

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
    if dice.u8(0..4) == 0
        && let Some(act) = mends(dice, cast, chat)
    {
        return Some(act);
    }
    if dice.u8(0..100) < 45 {
        let who = whoever(dice, cast, "ansu");
        return tap(dice, who, chat);
    }
    let (by, line) = typed(dice)?;
    let who = whoever(dice, cast, by);
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
    Some(Act::Line(format!("{}: {}", who.name, fill(dice, line))))
}

fn typed(dice: &mut Rng) -> Option<(&'static str, &'static str)> {
    let all: u32 = TYPED.iter().map(|(often, ..)| often).sum();
    let mut at = dice.u32(..all);
    let (_, by, line) = TYPED.iter().find(|(often, ..)| {
        let here = at < *often;
        at = at.saturating_sub(*often);
        here
    })?;
    Some((by, line))
}

/// Somebody, for the most part one with a role of these letters.
pub fn whoever<'a>(dice: &mut Rng, cast: &'a Cast, letters: &str) -> &'a Member {
    let people = cast.people();
    let holds = |who: &&Member| {
        Cast::roles().any(|(name, role)| {
            name.starts_with(|c| letters.contains(c)) && who.roles.contains(&role)
        })
    };
    let fit: Vec<&Member> = people.iter().filter(holds).collect();
    if dice.u8(0..5) < MAY && !fit.is_empty() {
        fit[dice.usize(..fit.len())]
    } else {
        &people[dice.usize(..people.len())]
    }
}

/// What went out of use comes back: power, without which nothing else goes on, and surfaces through their turnovers.
fn mends(dice: &mut Rng, cast: &Cast, chat: &Chat) -> Option<Act> {
    let wanted = |one: &Posted| {
        let buttons = one.look.rows.iter().filter_map(|row| match row {
            Row::Buttons(all) => Some(all),
            Row::Menu { .. } => None,
        });
        let mut buttons = buttons.flatten();
        buttons
            .find(|(_, label)| MENDING.contains(&label.as_str()))
            .cloned()
    };
    let mut newest = chat.messages.iter().rev().take(60);
    let (on, (id, label)) = newest.find_map(|one| Some((one, wanted(one)?)))?;
    let who = match on.only {
        Some(only) => cast.person_of(Person(only))?,
        None => whoever(dice, cast, "ansu"),
    };
    let line = format!("{} taps [{label}]", who.name);
    Some(Act::Tap(on_it(who, on, &id, Vec::new()), line))
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
        .filter(|_| dice.u8(0..30) == 0)
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
