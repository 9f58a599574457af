//! Whoever was let in for a shift that is over. Decides what of raising an alarm is still open to them, that they are not
//! offered anything else, and what they are told; for how long is `role`'s, how the call says it is the cards'.

use chrono::{DateTime, Utc};

use super::draft::{Asked, clock_time};
use super::{primer, staff};
use crate::decision::Decision;
use crate::message::{Message, Row};
use crate::request::Request;
use crate::role::ALARM_AFTER_SHIFT;
use crate::say;
use crate::state::LetIn;
use crate::tap::{Plain, Spoken, Tap};
use crate::words::Lang;

/// Whether this raises an alarm or a power failure, or says of which kind it is. What was put right already, and by whom an
/// alarm is answered, is for whoever is in the house.
pub(super) fn may(request: &Request) -> bool {
    matches!(request, Request::Alarm { .. } | Request::Outage { .. })
        || matches!(request, Request::Tap(tap) if tap_may(tap))
}

fn tap_may(tap: &Tap) -> bool {
    matches!(
        tap,
        Tap::NameAlarm { .. }
            | Tap::Plain(
                Plain::Start { .. }
                    | Plain::Outage { .. }
                    | Plain::Confirm {
                        entry: Spoken::Alarm { .. },
                        ..
                    }
                    | Plain::Pick {
                        entry: Spoken::Alarm { .. },
                        ..
                    }
            )
    )
}

/// They read that the call says it, and are not offered what would be refused.
pub(super) fn answered(asked: &Asked<'_>, let_in: &LetIn, decision: &mut Decision) {
    let raised = primer::raises(decision);
    let Some(message) = staff::own_message(decision) else {
        return;
    };
    keep_what_raises(message);
    let line = words(asked.lang, let_in, raised);
    staff::add_line(message, &line);
}

/// That the shift is over, what may still be done and until when, and who lets them in again.
pub(super) fn words(lang: Lang, let_in: &LetIn, raised: bool) -> String {
    let key = if raised {
        "shift-over-called"
    } else {
        "shift-over"
    };
    let last: DateTime<Utc> = let_in.until + ALARM_AFTER_SHIFT;
    say!(
        lang,
        key,
        until = clock_time(let_in.until),
        last = clock_time(last)
    )
}

fn keep_what_raises(message: &mut Message) {
    let keeps = |id: &str, chosen: Option<&str>| {
        Tap::read(id, chosen, |_| None).is_ok_and(|tap| tap_may(&tap))
    };
    for row in &mut message.rows {
        if let Row::Buttons(buttons) = row {
            buttons.retain(|button| keeps(&button.id, None));
        }
    }
    message.rows.retain(|row| match row {
        Row::Buttons(buttons) => !buttons.is_empty(),
        Row::Menu(menu) => {
            let first = menu.entries.first().map(|entry| entry.value.as_str());
            keeps(&menu.id, first)
        }
    });
}
