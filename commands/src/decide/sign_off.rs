//! Sign-offs: who may do which task on which surfaces without being looked after, since when and until when; and the team
//! as a supervisor sees it. Decides when one is over and who is reminded; that an entry without one is looked at again is
//! `second_check`'s. Nothing here judges how well anybody works.

use chrono::{DateTime, Days, NaiveDate, Utc};

use super::agency;
use super::check::escaped;
use super::draft::{Asked, button, day_time, person};
use super::duty;
use super::recall::find_profile;
use crate::choice::{FilterKind, Task};
use crate::decision::Decision;
use crate::ids::{Person, ProfileName, RecordNo};
use crate::message::{BUTTONS_MAX, Button, ENTRIES_MAX, Look, Menu, MenuEntry, Message};
use crate::record::Body;
use crate::refusal::Refusal;
use crate::rules::day_ahead;
use crate::rules::hand_check::Check;
use crate::rules::papers::months_after;
use crate::rules::policy::{self, Name};
use crate::say;
use crate::state::{LetIn, SignOff, State};
use crate::tap::{END_SIGN_OFF_MENU, Staff, Tap};
use crate::words::Lang;

/// Supervisors are reminded so many days before a sign-off is over.
const REMIND_DAYS: u64 = 30;
/// So many sign-offs stand on one page of all of them.
const PAGE_LINES: usize = 20;
/// So many people or sign-offs are named on a phone before the rest is counted.
const NAMED_MOST: usize = 8;
/// So many sign-offs are named on a due list.
const DUE_NAMED_MOST: usize = 3;

/// `/signoff`.
pub(super) fn sign_off(
    asked: &Asked<'_>,
    who: Person,
    task: Task,
    profile: &str,
    renew: Option<&str>,
) -> Result<Decision, Refusal> {
    if who == asked.ask.who {
        return Err(Refusal::new("fault-sign-off-self"));
    }
    let profile = find_profile(asked.state, profile)?;
    let has = tasks_of(asked.state, profile);
    if !has.contains(&task) {
        let has: Vec<String> = has
            .iter()
            .map(|task| format!("task-{}", task.as_str()))
            .collect();
        return Err(Refusal::new("fault-sign-off-task")
            .text("profile", profile.as_str())
            .keys("task", [format!("task-{}", task.as_str())])
            .keys("these", has));
    }
    let today = today(asked.state, asked.now);
    let renew = match renew {
        Some(typed) => {
            let day = day_ahead::parse(typed, today).ok_or_else(|| {
                Refusal::new("fault-day-span")
                    .text("typed", escaped(typed))
                    .text("example", today)
            })?;
            let most = policy::row(Name::SignOffMonths).most;
            let latest = months_after(today, most).unwrap_or(NaiveDate::MAX);
            if day <= today || day > latest {
                return Err(Refusal::new("fault-renew")
                    .text("typed", day)
                    .text("latest", latest));
            }
            day
        }
        None => months_after(today, asked.state.policies.get(Name::SignOffMonths))
            .unwrap_or(NaiveDate::MAX),
    };
    let before = asked.state.staff.sign_off(who, task, profile);
    let mut draft = asked.draft();
    let no = draft.fact(Body::SignedOff {
        person: who,
        task,
        profile: profile.clone(),
        renew,
    });
    let lang = asked.lang;
    let mut lines = vec![say!(
        lang,
        "signed-off",
        who = person(who),
        task = task_words(lang, task),
        profile = profile.as_str(),
        renew = renew.to_string()
    )];
    if let Some(before) = before {
        lines.push(say!(
            lang,
            "signed-off-before",
            renew = before.renew.to_string()
        ));
    }
    let end = button(
        lang,
        "button-end-sign-off",
        Look::Plain,
        &Tap::Staff(Staff::EndSignOff { no }),
    );
    Ok(draft.private(Message::text(lines.join("\n")).buttons(vec![end])))
}

/// The tasks that surfaces of a profile have: no hand goes under one whose maker wants no check, and not every one has a filter.
fn tasks_of(state: &State, profile: &ProfileName) -> Vec<Task> {
    let profile = state.profiles.get(profile);
    let has = |task: &Task| match task {
        Task::HandCheck => profile.is_none_or(|profile| profile.check != Check::None),
        Task::Filter => profile.is_none_or(|profile| profile.filter != FilterKind::None),
        Task::SetUp | Task::Cleaning | Task::Turnover => true,
    };
    Task::ALL.iter().copied().filter(has).collect()
}

/// A task, in words.
pub(super) fn task_words(lang: Lang, task: Task) -> String {
    say!(lang, &format!("task-{}", task.as_str()))
}

fn today(state: &State, now: DateTime<Utc>) -> NaiveDate {
    state
        .facility
        .as_ref()
        .map_or(now.date_naive(), |facility| facility.zone.local(now).date())
}

/// Whether somebody is signed off now for a task on surfaces of a profile.
pub(super) fn holds(asked: &Asked<'_>, task: Task, profile: &ProfileName) -> bool {
    asked
        .state
        .staff
        .signed_off(asked.ask.who, task, profile, today(asked.state, asked.now))
}

/// A sign-off ends.
pub(super) fn end(asked: &Asked<'_>, no: RecordNo) -> Result<Decision, Refusal> {
    let found = asked
        .state
        .staff
        .all_sign_offs()
        .find(|(.., sign_off)| sign_off.no == no);
    let Some((who, task, profile, _)) = found else {
        return Err(Refusal::new("fault-sign-off-gone"));
    };
    let mut draft = asked.draft();
    draft.fact(Body::SignOffEnded {
        person: who,
        task,
        profile: profile.clone(),
    });
    let lang = asked.lang;
    let text = say!(
        lang,
        "sign-off-ended",
        who = person(who),
        task = task_words(lang, task),
        profile = profile.as_str()
    );
    Ok(draft.private(Message::text(text)))
}

/// The last day that is soon.
fn soon(today: NaiveDate) -> NaiveDate {
    today
        .checked_add_days(Days::new(REMIND_DAYS))
        .unwrap_or(NaiveDate::MAX)
}

/// Sign-offs that end soon or are over, the oldest first.
fn to_renew(state: &State, today: NaiveDate) -> Vec<(Person, Task, &ProfileName, &SignOff)> {
    let soon = soon(today);
    let mut all: Vec<_> = state
        .staff
        .all_sign_offs()
        .filter(|(.., sign_off)| sign_off.renew <= soon)
        .collect();
    all.sort_by_key(|(who, task, _, sign_off)| (sign_off.renew, *who, *task));
    all
}

/// What supervisors read of sign-offs at the head of their due list; nothing where none ends soon.
pub(crate) fn due_line(state: &State, lang: Lang, now: DateTime<Utc>) -> Option<String> {
    let today = today(state, now);
    let all = to_renew(state, today);
    if all.is_empty() {
        return None;
    }
    let named: Vec<String> = all
        .iter()
        .take(DUE_NAMED_MOST)
        .map(|(who, task, _, _)| format!("{} ({})", person(*who), task_words(lang, *task)))
        .collect();
    let mut names = named.join(", ");
    let more = all.len().saturating_sub(DUE_NAMED_MOST) as i64;
    if more > 0 {
        names.push_str(&say!(lang, "due-more", count = more));
    }
    Some(say!(
        lang,
        "renew-due",
        count = all.len() as i64,
        names = names
    ))
}

/// `/team`.
pub(super) fn team(asked: &Asked<'_>, who: Option<Person>) -> Decision {
    Decision::private(match who {
        Some(who) => one(asked, who),
        None => everybody(asked),
    })
}

fn everybody(asked: &Asked<'_>) -> Message {
    let (state, lang) = (asked.state, asked.lang);
    let mut here: Vec<(Person, &LetIn)> = state
        .staff
        .let_in
        .iter()
        .filter(|(_, let_in)| asked.now < let_in.until)
        .map(|(who, let_in)| (*who, let_in))
        .collect();
    here.sort_by_key(|(who, let_in)| (let_in.until, *who));
    let mut lines = Vec::new();
    if here.is_empty() {
        lines.push(say!(lang, "team-nobody"));
    } else {
        lines.push(say!(lang, "team-head", count = here.len() as i64));
        let named = here.iter().take(NAMED_MOST).enumerate();
        lines.extend(named.map(|(place, (who, let_in))| {
            format!("{}. {}", place + 1, agency::line(lang, *who, let_in))
        }));
        more(lang, &mut lines, here.len());
    }
    let on_duty = duty::on_duty(asked);
    let relieve = on_duty.map(|(said, menu)| {
        lines.push(String::new());
        lines.extend(said);
        menu
    });
    let today = today(state, asked.now);
    let soon = to_renew(state, today);
    let all = state.staff.all_sign_offs().count();
    lines.push(String::new());
    if soon.is_empty() {
        lines.push(say!(lang, "team-none-soon"));
    } else {
        lines.push(say!(lang, "team-soon", count = soon.len() as i64));
        let named = soon.iter().take(NAMED_MOST);
        lines.extend(named.map(|(who, task, profile, sign_off)| {
            let line = say!(
                lang,
                "team-sign-off",
                task = task_words(lang, *task),
                profile = profile.as_str()
            );
            format!(
                "- {}: {line}: {}",
                person(*who),
                until_words(lang, sign_off, today)
            )
        }));
        more(lang, &mut lines, soon.len());
    }
    lines.push(say!(lang, "team-foot", count = (all - soon.len()) as i64));
    let single = here.len() == 1;
    let outs: Vec<Button> = here
        .iter()
        .take(NAMED_MOST)
        .enumerate()
        .map(|(place, (_, let_in))| {
            let tap = Tap::Staff(Staff::Out { no: let_in.no });
            let label = if single {
                say!(lang, "button-out")
            } else {
                say!(lang, "button-out-of", number = (place + 1) as i64)
            };
            Button {
                id: tap.id(),
                label,
                look: Look::Caution,
            }
        })
        .collect();
    let message = outs
        .chunks(BUTTONS_MAX)
        .fold(Message::text(lines.join("\n")), |message, row| {
            message.buttons(row.to_vec())
        });
    match relieve {
        Some(menu) => message.menu(menu),
        None => message,
    }
}

/// `/signoff` alone, or another page of it: every sign-off, those that are over first, then by when they end.
pub(super) fn all(asked: &Asked<'_>, skip: u32) -> Decision {
    let (state, lang) = (asked.state, asked.lang);
    let today = today(state, asked.now);
    let soon = soon(today);
    let mut all: Vec<_> = state.staff.all_sign_offs().collect();
    all.sort_by_key(|(who, task, profile, sign_off)| (sign_off.renew, *who, *task, *profile));
    if all.is_empty() {
        return Decision::private(Message::text(say!(lang, "sign-offs-none")));
    }
    let part = |sign_off: &SignOff| part_key(sign_off.renew, today, soon);
    let mut lines = Vec::new();
    let mut under = "";
    let skip = skip as usize;
    for (who, task, profile, sign_off) in all.iter().skip(skip).take(PAGE_LINES) {
        let key = part(sign_off);
        if key != under {
            let count = all.iter().filter(|(.., of)| part(of) == key).count() as i64;
            lines.push(say!(lang, key, count = count));
            under = key;
        }
        lines.push(format!(
            "- {}: {}: {}",
            person(*who),
            say!(
                lang,
                "team-sign-off",
                task = task_words(lang, *task),
                profile = profile.as_str()
            ),
            until_words(lang, sign_off, today)
        ));
    }
    let shown = skip + PAGE_LINES;
    let left = all.len().saturating_sub(shown) as i64;
    lines.push(if left > 0 {
        say!(lang, "team-more", count = left)
    } else {
        say!(lang, "sign-offs-foot")
    });
    let message = Message::text(lines.join("\n"));
    if left == 0 {
        return Decision::private(message);
    }
    let skip = u32::try_from(shown).unwrap_or(u32::MAX);
    let tap = Tap::Staff(Staff::SignOffs { skip });
    let more = button(lang, "button-sign-offs-more", Look::Plain, &tap);
    Decision::private(message.buttons(vec![more]))
}

/// Under which heading a sign-off stands.
fn part_key(renew: NaiveDate, today: NaiveDate, soon: NaiveDate) -> &'static str {
    match renew {
        renew if renew < today => "sign-offs-over",
        renew if renew <= soon => "sign-offs-soon",
        _ => "sign-offs-hold",
    }
}

fn more(lang: Lang, lines: &mut Vec<String>, all: usize) {
    let left = all.saturating_sub(NAMED_MOST) as i64;
    if left > 0 {
        lines.push(say!(lang, "team-more", count = left));
    }
}

fn until_words(lang: Lang, sign_off: &SignOff, today: NaiveDate) -> String {
    let renew = sign_off.renew.to_string();
    if today > sign_off.renew {
        say!(lang, "sign-off-over", renew = renew)
    } else {
        say!(lang, "sign-off-until", renew = renew)
    }
}

/// One person: let in or not, each sign-off, and a menu to end one.
fn one(asked: &Asked<'_>, who: Person) -> Message {
    let (state, lang) = (asked.state, asked.lang);
    let today = today(state, asked.now);
    let let_in = state.staff.let_in_at(who, asked.now);
    let mut lines: Vec<String> = Vec::new();
    lines.push(match let_in {
        Some(let_in) => agency::line(lang, who, let_in),
        None => say!(lang, "team-one", who = person(who)),
    });
    // Who was here last week is asked about after the shift.
    if let (None, Some(was)) = (let_in, state.staff.let_in.get(&who)) {
        lines.push(say!(
            lang,
            "team-was-in",
            role = agency::role_words(lang, was.stand),
            from = day_time(was.mark.at),
            until = day_time(was.until),
            by = was.mark.who.map_or_else(String::new, person)
        ));
    }
    let mut all: Vec<(Task, &ProfileName, &SignOff)> = state
        .staff
        .all_sign_offs()
        .filter(|(of, ..)| *of == who)
        .map(|(_, task, profile, sign_off)| (task, profile, sign_off))
        .collect();
    all.sort_by_key(|(.., sign_off)| sign_off.renew);
    if all.is_empty() {
        lines.push(say!(lang, "team-no-sign-off"));
    }
    let words = |task: Task, profile: &ProfileName| {
        say!(
            lang,
            "team-sign-off",
            task = task_words(lang, task),
            profile = profile.as_str()
        )
    };
    lines.extend(
        all.iter()
            .take(ENTRIES_MAX)
            .map(|(task, profile, sign_off)| {
                format!(
                    "- {}: {}",
                    words(*task, profile),
                    until_words(lang, sign_off, today)
                )
            }),
    );
    let mut message = Message::text(lines.join("\n"));
    if let Some(let_in) = let_in {
        let tap = Tap::Staff(Staff::Out { no: let_in.no });
        message = message.buttons(vec![button(lang, "button-out", Look::Caution, &tap)]);
    }
    if all.is_empty() {
        return message;
    }
    let entries = all
        .iter()
        .take(ENTRIES_MAX)
        .map(|(task, profile, sign_off)| MenuEntry {
            value: sign_off.no.to_string(),
            label: words(*task, profile),
            about: Some(until_words(lang, sign_off, today)),
        })
        .collect();
    message.menu(Menu {
        id: END_SIGN_OFF_MENU.to_owned(),
        hint: say!(lang, "menu-end-sign-off"),
        entries,
    })
}
