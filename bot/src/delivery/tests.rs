//! Outcome after outcome, told to the machine with a clock that the tests hold.

use super::alike::late_mark;
use super::*;
use crate::limiter::Said;
use crate::request::HISTORY_MESSAGES;
use crate::request::{Past, Route};
use commands::message::Message;
use commands::words;

fn at(s: i64) -> Moment {
    let time = DateTime::from_timestamp(1_790_000_000 + s, 0).unwrap();
    Moment {
        facility: time,
        wall: time,
        mono: Duration::from_secs((1_000 + s) as u64),
        stepped: chrono::TimeDelta::zero(),
    }
}

fn row(id: i64, lane: Lane) -> OutRow {
    OutRow {
        id,
        key: format!("alarm-{id}"),
        channel: Channel(4),
        kind: PostKind::New,
        lane,
        message: Message {
            text: format!("Low air {id}"),
            ..Message::default()
        },
        nonce: format!("n{id}"),
        entered: Some(at(0).facility),
        attempts: 0,
        edit_message: None,
        sending_at: None,
        overtaken: false,
        spoilt: false,
    }
}

fn edit(id: i64, of: i64) -> OutRow {
    let kind = PostKind::Edit {
        of: format!("alarm-{of}"),
    };
    OutRow {
        kind,
        edit_message: Some((Channel(4), 77)),
        ..row(id, Lane::Routine)
    }
}

fn routes(sent: &[(Tag, Request)]) -> Vec<&'static str> {
    sent.iter()
        .map(|(_, request)| request.route.name())
        .collect()
}

#[test]
fn a_row_is_sent_once_and_settled() {
    let mut delivery = Delivery::default();
    assert_eq!(delivery.pick(vec![row(1, Lane::Routine)], at(0)), [1]);
    assert_eq!(routes(&delivery.send(at(0))), ["post"]);
    assert!(delivery.pick(vec![row(1, Lane::Routine)], at(0)).is_empty());
    assert!(delivery.send(at(1)).is_empty());
    let settled = delivery.sent(1, &Outcome::Made(Some(9)), at(1));
    assert_eq!(
        settled,
        Some(Settled::Sent {
            id: 1,
            message: Some(9),
            call: false
        })
    );
    assert_eq!((delivery.next(), delivery.flying()), (None, 0));
}

#[test]
fn messages_of_a_channel_go_one_after_another_unless_one_fails() {
    let mut delivery = Delivery::default();
    let rows = || vec![row(1, Lane::Routine), row(2, Lane::Routine)];
    assert_eq!(delivery.pick(rows(), at(0)), [1]);
    delivery.send(at(0));
    assert!(delivery.pick(rows(), at(0)).is_empty());
    delivery.sent(1, &Outcome::Unsure, at(0));
    assert_eq!(delivery.pick(rows(), at(0)), [2]);
}

#[test]
fn edits_of_one_message_go_one_after_another() {
    let mut delivery = Delivery::default();
    assert_eq!(
        delivery.pick(vec![edit(2, 1), edit(3, 1), edit(4, 9)], at(0)),
        [2, 4]
    );
    delivery.send(at(0));
    delivery.sent(2, &Outcome::Made(Some(77)), at(0));
    assert_eq!(delivery.pick(vec![edit(3, 1)], at(0)), [3]);
}

/// The chat has forgotten the nonce, whatever the clock on the wall was set to meanwhile.
#[test]
fn a_nonce_does_not_grow_young_by_a_clock_that_is_set_back() {
    let mut delivery = Delivery::default();
    delivery.pick(vec![row(1, Lane::Escalation)], at(0));
    assert_eq!(routes(&delivery.send(at(0))), ["post"]);
    assert_eq!(delivery.sent(1, &Outcome::Unsure, at(10)), None);
    let back = Moment {
        mono: at(160).mono,
        ..at(60)
    };
    assert_eq!(routes(&delivery.send(back)), ["history"]);
}

#[test]
fn unsure_goes_again_under_its_nonce_and_later_is_looked_for() {
    let mut delivery = Delivery::default();
    delivery.set_us(5);
    delivery.pick(vec![row(1, Lane::Reminder)], at(0));
    let first = delivery.send(at(0));
    assert_eq!(delivery.sent(1, &Outcome::Unsure, at(10)), None);
    assert!(delivery.send(at(10)).is_empty());
    let again = delivery.send(at(12));
    assert_eq!(first[0].1, again[0].1);
    delivery.sent(1, &Outcome::Unsure, at(85));
    let look = delivery.send(at(100));
    assert_eq!(
        (routes(&look), &look[0].0),
        (vec!["history"], &Tag::Look(1))
    );
    let made_ms = at(3).wall.timestamp_millis() - 1_420_070_400_000;
    let found = Past {
        id: (made_ms as u64) << 22,
        author: 5,
        text: "Low air 1".into(),
        nonce: None,
    };
    // Yesterday's same words are another message, as its number tells; so are last month's, and another writer's.
    let old = Past {
        id: ((made_ms - 86_400_000) as u64) << 22,
        ..found.clone()
    };
    let older = Past {
        id: ((made_ms - 30 * 86_400_000) as u64) << 22,
        ..found.clone()
    };
    let known = BTreeSet::from([old.id]);
    let other = Past {
        author: 6,
        ..found.clone()
    };
    let not_there = Outcome::Listed(vec![old.clone(), older.clone(), other.clone()]);
    assert_eq!(delivery.looked(1, &not_there, &known, at(101)), None);
    assert_eq!(routes(&delivery.send(at(101))), ["post"]);
    delivery.sent(1, &Outcome::Unsure, at(111));
    delivery.send(at(200));
    let there = Outcome::Listed(vec![
        old,
        older,
        other,
        // The computer's clock is an hour ahead of the platform's.
        Past {
            id: found.id - (3_600_000 << 22),
            ..found
        },
    ]);
    assert!(matches!(
        delivery.looked(1, &there, &known, at(201)),
        Some(Settled::Sent {
            id: 1,
            message: Some(_),
            ..
        })
    ));
}

fn ours(id: u64, text: &str) -> Past {
    Past {
        id,
        author: 5,
        text: text.into(),
        nonce: None,
    }
}

/// The number of a message that was made then.
fn number(second: i64) -> u64 {
    let made_ms = at(second).wall.timestamp_millis() - 1_420_070_400_000;
    (made_ms as u64) << 22
}

/// So many messages of others, the newest made at `second`, each a second older than the one before.
fn page(second: i64, messages: usize) -> Vec<Past> {
    let of = |back: usize| Past {
        author: 6,
        ..ours(number(second - back as i64), "Who has the key?")
    };
    (0..messages).map(of).collect()
}

fn of_unknown_fate(lane: Lane) -> Delivery {
    let mut delivery = Delivery::default();
    delivery.set_us(5);
    delivery.pick(vec![row(1, lane)], at(0));
    delivery.send(at(0));
    delivery.sent(1, &Outcome::Unsure, at(10));
    delivery
}

/// People go on talking while the bot cannot be there.
#[test]
fn it_is_looked_for_behind_all_that_people_said_meanwhile() {
    let known = BTreeSet::new();
    let mut delivery = of_unknown_fate(Lane::Routine);
    let mut look = |outcome: &Outcome, second| {
        let sent = delivery.send(at(second));
        let route = sent.into_iter().next().map(|(_, request)| request.route);
        let said = delivery.looked(1, outcome, &known, at(second));
        (route, said)
    };
    let newest = page(5_000, HISTORY_MESSAGES);
    let second = page(4_900, HISTORY_MESSAGES);
    let oldest = |page: &[Past]| page.last().map(|one| one.id);
    let history = |before| Some(Route::History { channel: 4, before });
    let first = look(&Outcome::Listed(newest.clone()), 5_001);
    assert_eq!(first, (history(None), None));
    // Half of the way the chat asks to wait: it goes on from there.
    let limited = look(&Outcome::Limited(Duration::from_secs(2)), 5_001);
    assert_eq!(limited, (history(oldest(&newest)), None));
    let next = look(&Outcome::Listed(second.clone()), 5_003);
    assert_eq!(next, (history(oldest(&newest)), None));
    let mut last = page(4_800, HISTORY_MESSAGES - 1);
    last.push(ours(number(3), "Low air 1"));
    let (route, said) = look(&Outcome::Listed(last), 5_003);
    assert_eq!(route, history(oldest(&second)));
    let (id, message, call) = (1, Some(number(3)), false);
    assert_eq!(said, Some(Settled::Sent { id, message, call }));
}

#[test]
fn a_channel_that_was_read_back_far_enough_does_not_have_it() {
    let known = BTreeSet::new();
    let day = 86_400;
    for pages in [
        // The end of the channel.
        vec![page(5_000, HISTORY_MESSAGES), page(4_000, 3)],
        vec![page(5_000, HISTORY_MESSAGES), Vec::new()],
        // A day before it was first sent.
        vec![page(-day, HISTORY_MESSAGES)],
    ] {
        let mut delivery = of_unknown_fate(Lane::Routine);
        for page in pages {
            assert_eq!(routes(&delivery.send(at(5_001))), ["history"]);
            let listed = Outcome::Listed(page);
            let said = delivery.looked(1, &listed, &known, at(5_001));
            assert_eq!(said, None);
        }
        assert_eq!(routes(&delivery.send(at(5_001))), ["post"]);
    }
    // More than is read at all: nobody knows, and a call says that it may be one that was seen.
    let mut delivery = of_unknown_fate(Lane::Escalation);
    let mut looks = 0;
    let request = loop {
        let sent = delivery.send(at(5_001 + looks));
        match &sent[..] {
            [(Tag::Look(1), _)] => {}
            [(Tag::Row(1), request)] => break request.clone(),
            other => panic!("{other:?}"),
        }
        let listed = Outcome::Listed(page(9_000 - looks, HISTORY_MESSAGES));
        delivery.looked(1, &listed, &known, at(5_001 + looks));
        looks += 1;
        assert!(looks < 100);
    };
    assert_eq!(looks, i64::from(HISTORY_PAGES));
    let mark = words::say(Lang::default(), "bot-possible-repeat", &[]);
    let crate::request::Body::Json(json) = &request.body else {
        panic!("no JSON");
    };
    let json: serde_json::Value = serde_json::from_slice(json).unwrap();
    assert!(json["content"].as_str().unwrap().contains(&mark));
}

/// A computer without a battery for its clock begins with a time of before.
#[test]
fn what_another_run_left_is_looked_for_however_young_the_clock_makes_it() {
    let known = BTreeSet::new();
    let left = || OutRow {
        sending_at: Some(at(30).wall),
        ..row(1, Lane::Escalation)
    };
    for waits in [false, true] {
        let mut delivery = Delivery::default();
        if waits {
            delivery.pick(vec![left()], at(20));
        } else {
            delivery.found_sending(vec![left()], at(20));
        }
        assert_eq!(routes(&delivery.send(at(20))), ["history"], "{waits}");
        // Who may not look has only the nonce to go by.
        let refused = Outcome::Refused {
            status: 403,
            code: 50_001,
        };
        for second in [20, 21] {
            delivery.looked(1, &refused, &known, at(second));
            let next = routes(&delivery.send(at(second + 1)));
            assert_eq!(next, [["history", "post"][second as usize - 20]], "{waits}");
        }
    }
}

#[test]
fn what_this_run_sent_is_sent_again_under_its_nonce_and_a_clock_does_not_make_it_young() {
    let mut delivery = of_unknown_fate(Lane::Routine);
    assert_eq!(routes(&delivery.send(at(20))), ["post"]);
    let rests = delivery.sent(1, &Outcome::Limited(Duration::from_secs(5)), at(20));
    let (id, unsure) = (1, true);
    assert_eq!(rests, Some(Settled::Again { id, unsure }));
    let tried = || OutRow {
        sending_at: Some(at(0).wall),
        ..row(1, Lane::Routine)
    };
    assert!(delivery.pick(vec![tried()], at(24)).is_empty());
    assert_eq!(delivery.pick(vec![tried()], at(25)), [1]);
    assert_eq!(routes(&delivery.send(at(25))), ["post"]);
    delivery.sent(1, &Outcome::Limited(Duration::from_secs(75)), at(25));
    // By the clock it is 25 s old.
    let now = Moment {
        wall: at(25).wall,
        ..at(101)
    };
    assert_eq!(delivery.pick(vec![tried()], now), [1]);
    assert_eq!(routes(&delivery.send(now)), ["history"]);
}

#[test]
fn what_another_run_left_and_is_not_there_goes_before_what_is_newer() {
    let mut delivery = Delivery::default();
    let left = OutRow {
        sending_at: Some(at(-5).wall),
        ..row(1, Lane::Escalation)
    };
    delivery.found_sending(vec![left], at(0));
    let newer = || vec![row(2, Lane::Escalation)];
    for listed in [page(0, HISTORY_MESSAGES), page(-100, 3)] {
        assert_eq!(routes(&delivery.send(at(0))), ["history"]);
        delivery.looked(1, &Outcome::Listed(listed), &BTreeSet::new(), at(0));
        assert!(delivery.pick(newer(), at(0)).is_empty());
    }
    let sent = delivery.send(at(0));
    assert_eq!((routes(&sent), &sent[0].0), (vec!["post"], &Tag::Row(1)));
}

/// A call that went out once more to be sure is one and the same with what it was before, and says that it may be one that was seen
/// as often as it goes.
#[test]
fn what_may_be_a_repeat_says_so_each_time_and_is_found_as_it_was() {
    let known = BTreeSet::new();
    let mark = words::say(Lang::default(), "bot-possible-repeat", &[]);
    let marked = |sent: &[(Tag, Request)]| {
        let crate::request::Body::Json(json) = &sent[0].1.body else {
            panic!("no JSON");
        };
        String::from_utf8_lossy(json).contains(&mark)
    };
    let mut delivery = of_unknown_fate(Lane::Escalation);
    let mut now = 100;
    let again = loop {
        let sent = delivery.send(at(now));
        if sent.iter().any(|(tag, _)| *tag == Tag::Row(1)) {
            break sent;
        }
        delivery.looked(1, &Outcome::Unsure, &known, at(now));
        now += 30;
    };
    assert!(now >= 300 && marked(&again));
    let limited = Outcome::Limited(Duration::from_secs(5));
    let (id, unsure) = (1, true);
    let rests = delivery.sent(1, &limited, at(now));
    assert_eq!(rests, Some(Settled::Again { id, unsure }));
    let tried = OutRow {
        sending_at: Some(at(now).wall),
        ..row(1, Lane::Escalation)
    };
    delivery.pick(vec![tried], at(now + 5));
    let again = delivery.send(at(now + 5));
    assert!(marked(&again));
    delivery.sent(1, &Outcome::Unsure, at(now + 6));
    assert_eq!(routes(&delivery.send(at(now + 100))), ["history"]);
    let there = Outcome::Listed(vec![ours(number(3), "Low air 1")]);
    let (message, call) = (Some(number(3)), true);
    let found = delivery.looked(1, &there, &known, at(now + 100));
    assert_eq!(found, Some(Settled::Sent { id, message, call }));
}

#[test]
fn what_is_overtaken_while_it_rests_is_looked_for_where_it_may_have_been_made() {
    let limited = Outcome::Limited(Duration::from_secs(5));
    let mut delivery = of_unknown_fate(Lane::Escalation);
    delivery.send(at(12));
    assert!(delivery.overtaken(&[1]) && !delivery.overtaken(&[2]));
    assert_eq!(delivery.sent(1, &limited, at(13)), None);
    assert!(delivery.send(at(17)).is_empty());
    assert_eq!(routes(&delivery.send(at(18))), ["history"]);
    let mut delivery = Delivery::default();
    delivery.pick(vec![row(1, Lane::Escalation)], at(0));
    delivery.send(at(0));
    delivery.overtaken(&[1]);
    let never = delivery.sent(1, &limited, at(1));
    assert_eq!(never, Some(Settled::Overtaken { id: 1 }));
}

/// A reminder is said again in the same words while nobody knows what became of the one before.
#[test]
fn what_stood_there_before_it_was_first_tried_is_another() {
    for (made, is_it) in [(50, false), (101, true)] {
        let mut delivery = Delivery::default();
        delivery.set_us(5);
        delivery.heard(number(100), at(100));
        delivery.pick(vec![row(1, Lane::Routine)], at(100));
        delivery.send(at(100));
        delivery.sent(1, &Outcome::Unsure, at(110));
        assert_eq!(routes(&delivery.send(at(200))), ["history"]);
        let listed = Outcome::Listed(vec![ours(number(made), "Low air 1")]);
        let said = delivery.looked(1, &listed, &BTreeSet::new(), at(200));
        assert_eq!(said.is_some(), is_it, "{made}");
    }
}

/// The same, the other way about.
#[test]
fn what_was_made_after_a_newer_one_in_the_same_words_was_tried_is_that_ones() {
    for (made, is_it) in [(605, false), (10, true)] {
        let mut delivery = Delivery::default();
        delivery.set_us(5);
        delivery.heard(number(0), at(0));
        delivery.pick(vec![row(1, Lane::Routine)], at(0));
        delivery.send(at(0));
        delivery.sent(1, &Outcome::Unsure, at(10));
        let mut newer = row(2, Lane::Routine);
        newer.message.text = "Low air 1".into();
        delivery.send(at(100));
        delivery.looked(1, &Outcome::Unsure, &BTreeSet::new(), at(100));
        delivery.send(at(101));
        delivery.looked(1, &Outcome::Unsure, &BTreeSet::new(), at(101));
        assert_eq!(delivery.pick(vec![newer], at(600)), [2]);
        delivery.send(at(600));
        let listed = Outcome::Listed(vec![ours(number(made), "Low air 1")]);
        let said = delivery.looked(1, &listed, &BTreeSet::new(), at(610));
        assert_eq!(said.is_some(), is_it, "{made}");
    }
}

/// Each call of a ladder takes the place of the one before, which nobody sends again.
#[test]
fn what_either_may_have_made_is_that_of_the_newer_call() {
    let (limited, unsure) = (Outcome::Limited(Duration::from_secs(60)), Outcome::Unsure);
    for (overtaken, of_newer, is_it) in [
        (true, &unsure, false),
        (true, &limited, false),
        (false, &unsure, true),
    ] {
        let mut delivery = Delivery::default();
        delivery.set_us(5);
        delivery.heard(number(0), at(0));
        delivery.pick(vec![row(1, Lane::Escalation)], at(0));
        delivery.send(at(0));
        delivery.sent(1, &unsure, at(1));
        assert_eq!(routes(&delivery.send(at(80))), ["post"]);
        delivery.sent(1, &unsure, at(85));
        let mut newer = row(2, Lane::Escalation);
        newer.message.text = "Low air 1".into();
        assert_eq!(delivery.pick(vec![newer], at(87)), [2]);
        if overtaken {
            delivery.overtaken(&[1]);
        }
        delivery.send(at(87));
        delivery.sent(2, &unsure, at(88));
        delivery.sent(2, of_newer, at(89));
        delivery.send(at(95));
        let listed = Outcome::Listed(vec![ours(number(88), "Low air 1")]);
        let said = delivery.looked(1, &listed, &BTreeSet::new(), at(95));
        let sent = matches!(said, Some(Settled::Sent { .. }));
        assert_eq!(sent, is_it, "{overtaken} {of_newer:?}");
    }
}

/// What was sent to be sure stands before the page at which the look stopped.
#[test]
fn a_repeat_is_looked_for_from_the_newest_on() {
    let mut delivery = of_unknown_fate(Lane::Escalation);
    let known = BTreeSet::new();
    delivery.send(at(5_001));
    let newest = Outcome::Listed(page(5_000, HISTORY_MESSAGES));
    assert_eq!(delivery.looked(1, &newest, &known, at(5_001)), None);
    let mut now = 5_002;
    let repeat = loop {
        match &delivery.send(at(now))[..] {
            [(Tag::Row(1), request)] => break request.clone(),
            [] => now += 1,
            _ => drop(delivery.looked(1, &Outcome::Unsure, &known, at(now))),
        }
    };
    assert!(format!("{repeat:?}").contains("seen this call already"));
    delivery.sent(1, &Outcome::Unsure, at(now));
    let look = delivery.send(at(now + 100));
    let (channel, before) = (4, None);
    assert_eq!(look[0].1.route, Route::History { channel, before });
}

/// An earlier run left the call before, and the chat has not been heard since.
#[test]
fn what_was_overtaken_takes_what_the_newer_call_leaves() {
    let mut delivery = Delivery::default();
    delivery.set_us(5);
    let left = OutRow {
        sending_at: Some(at(-300).wall),
        overtaken: true,
        ..row(1, Lane::Escalation)
    };
    delivery.found_sending(vec![left], at(0));
    let mut newer = row(2, Lane::Escalation);
    newer.message.text = "Low air 1".into();
    delivery.pick(vec![newer], at(1));
    delivery.send(at(1));
    delivery.sent(2, &Outcome::Unsure, at(2));
    let there = [number(1), number(-300)].map(|number| ours(number, "Low air 1"));
    let there = Outcome::Listed(there.into());
    let made = |id, number| {
        let (message, call) = (Some(number), true);
        Some(Settled::Sent { id, message, call })
    };
    assert_eq!(delivery.looked(1, &there, &BTreeSet::new(), at(3)), None);
    delivery.send(at(100));
    let newest = delivery.looked(2, &there, &BTreeSet::new(), at(100));
    assert_eq!(newest, made(2, number(1)));
    let known = BTreeSet::from([number(1)]);
    assert_eq!(routes(&delivery.send(at(100))), Vec::<&str>::new());
    let left = delivery.looked(1, &there, &known, at(101));
    assert_eq!(left, made(1, number(-300)));
}

/// A row that an earlier run left makes nothing any more.
#[test]
fn what_this_run_made_is_none_of_an_earlier_runs() {
    let mut delivery = Delivery::default();
    delivery.set_us(5);
    let left = OutRow {
        sending_at: Some(at(-900).wall),
        overtaken: true,
        ..row(1, Lane::Routine)
    };
    delivery.found_sending(vec![left], at(0));
    delivery.heard(number(1), at(1));
    let mut newer = row(2, Lane::Routine);
    newer.message.text = "Low air 1".into();
    delivery.pick(vec![newer], at(60));
    delivery.send(at(60));
    let listed = Outcome::Listed(vec![ours(number(61), "Low air 1")]);
    let said = delivery.looked(1, &listed, &BTreeSet::new(), at(70));
    assert_eq!(said, Some(Settled::Overtaken { id: 1 }));
}

#[test]
fn a_message_with_another_nonce_is_another() {
    let mut there = ours(number(3), "Low air 1");
    let known = BTreeSet::new();
    let found = |there: &Past| {
        let row = row(1, Lane::Routine);
        find(
            &row,
            std::slice::from_ref(there),
            Some(5),
            &(at(0).wall.timestamp_millis()..i64::MAX),
            &known,
        )
    };
    assert_eq!(found(&there), Some(there.id));
    there.nonce = Some("n2".into());
    assert_eq!(found(&there), None);
    there.nonce = Some("n1".into());
    assert_eq!(found(&there), Some(there.id));
}

/// A call of unknown fate whose place a newer one took is looked for at once, once more when it can surely not be made any more,
/// and never sent again.
#[test]
fn what_was_overtaken_is_only_looked_for() {
    let unread = Outcome::Refused {
        status: 403,
        code: 50_013,
    };
    let known = BTreeSet::new();
    let on_its_way = || {
        let mut delivery = Delivery::default();
        delivery.pick(vec![row(1, Lane::Escalation)], at(0));
        delivery.send(at(0));
        delivery.overtaken(&[1, 2]);
        delivery
    };
    let mut delivery = on_its_way();
    delivery.sent(1, &Outcome::Unsure, at(10));
    assert_eq!(routes(&delivery.send(at(12))), ["history"]);
    let nothing = Outcome::Listed(Vec::new());
    assert_eq!(delivery.looked(1, &nothing, &known, at(12)), None);
    assert!(delivery.send(at(59)).is_empty());
    assert_eq!(routes(&delivery.send(at(60))), ["history"]);
    assert_eq!(
        delivery.looked(1, &nothing, &known, at(60)),
        Some(Settled::Overtaken { id: 1 })
    );
    assert_eq!(delivery.next(), None);
    // While nobody can look, nobody is called once more either.
    let mut delivery = on_its_way();
    delivery.sent(1, &Outcome::Unsure, at(10));
    let mut look = |outcome: &Outcome, second| {
        assert_eq!(routes(&delivery.send(at(second))), ["history"]);
        delivery.looked(1, outcome, &known, at(second))
    };
    assert_eq!(look(&Outcome::Unsure, 12), None);
    for minutes in 1..60 {
        assert_eq!(look(&Outcome::Unsure, minutes * 60), None);
    }
    // Who may not look never will know.
    assert_eq!(look(&unread, 3_600), Some(Settled::Overtaken { id: 1 }));
    assert_eq!(delivery.next(), None);
    // What the chat refuses is called elsewhere by the newer one.
    let refused = on_its_way().sent(1, &unread, at(1));
    assert_eq!(refused, Some(Settled::Overtaken { id: 1 }));
    // Made after all.
    let made = on_its_way().sent(1, &Outcome::Made(Some(7)), at(1));
    let (id, message, call) = (1, Some(7), true);
    assert_eq!(made, Some(Settled::Sent { id, message, call }));
}

#[test]
fn what_goes_out_late_says_so_and_is_still_known_by_its_words() {
    let text = |sent: &[(Tag, Request)]| {
        let crate::request::Body::Json(body) = &sent[0].1.body else {
            panic!("not JSON")
        };
        String::from_utf8_lossy(body).into_owned()
    };
    let mut delivery = Delivery::default();
    delivery.pick(vec![row(1, Lane::Escalation)], at(1_799));
    assert!(!text(&delivery.send(at(1_799))).contains("late"));
    delivery.sent(1, &Outcome::Unsure, at(1_800));
    let again = text(&delivery.send(at(1_801)));
    let wanted = format!("it was to be said on <t:{}:f>.", at(0).wall.timestamp());
    assert!(again.contains(&wanted), "{again}");
    assert!(again.contains("Low air 1"), "{again}");
    let mut delivery = Delivery::default();
    delivery.speak(Lang::Spanish);
    delivery.pick(vec![row(1, Lane::Escalation)], at(1_800));
    let spanish = text(&delivery.send(at(1_800)));
    let mark = late_mark(&row(1, Lane::Escalation), Lang::Spanish).unwrap();
    assert!(spanish.contains(&mark), "{spanish}");
    let made_ms = at(1_801).wall.timestamp_millis() - 1_420_070_400_000;
    let found = Past {
        id: (made_ms as u64) << 22,
        author: 5,
        text: format!(
            "This comes late: it was to be said on <t:{}:f>.\nLow air 1",
            at(0).wall.timestamp()
        ),
        nonce: None,
    };
    let since = at(0).wall.timestamp_millis()..i64::MAX;
    let known = BTreeSet::new();
    let sent = row(1, Lane::Escalation);
    assert!(find(&sent, std::slice::from_ref(&found), None, &since, &known).is_some());
    let repeat = words::say(Lang::Spanish, "bot-possible-repeat", &[]);
    for (text, ours) in [
        ("Low air 1".to_owned(), true),
        (format!("{repeat}\nLow air 1"), true),
        (format!("{mark}\n{repeat}\nLow air 1"), true),
        (format!("{repeat}Low air 1"), false),
        ("Not Low air 1".to_owned(), false),
        ("Is it so?\nLow air 1".to_owned(), false),
        (format!("{repeat}\nIs it so?\nLow air 1"), false),
    ] {
        let one = Past {
            text: text.clone(),
            ..found.clone()
        };
        let there = find(&sent, &[one], None, &since, &known);
        assert_eq!(there.is_some(), ours, "{text}");
    }
}

#[test]
fn only_a_change_that_came_too_late_is_given_up_in_silence() {
    for (row, code, loud) in [
        (edit(1, 2), CODE_UNKNOWN_MESSAGE, false),
        (edit(1, 2), CODE_EDITED_TOO_OFTEN, false),
        (edit(1, 2), 50_013, true),
        (row(1, Lane::Reminder), CODE_UNKNOWN_MESSAGE, true),
        (row(1, Lane::Reminder), 50_013, true),
    ] {
        let mut delivery = Delivery::default();
        let new = matches!(row.kind, PostKind::New);
        delivery.pick(vec![row], at(0));
        delivery.send(at(0));
        let status = 403;
        let refused = delivery.sent(1, &Outcome::Refused { status, code }, at(0));
        let Some(Settled::Dead {
            loud: said, call, ..
        }) = refused
        else {
            panic!("{refused:?}")
        };
        assert_eq!((said, call.is_some()), (loud, new), "{code}");
    }
}

#[test]
fn what_an_earlier_run_left_on_its_way_comes_before_newer_ones_until_it_failed_here() {
    let mut delivery = Delivery::default();
    let left = OutRow {
        sending_at: Some(at(-200).wall),
        ..row(1, Lane::Reminder)
    };
    delivery.found_sending(vec![left], at(0));
    let newer = || vec![row(2, Lane::Reminder)];
    assert!(delivery.pick(newer(), at(0)).is_empty());
    delivery.send(at(0));
    assert!(delivery.pick(newer(), at(0)).is_empty());
    delivery.looked(1, &Outcome::NotMade, &BTreeSet::new(), at(0));
    assert_eq!(delivery.pick(newer(), at(0)), [2]);
}

#[test]
fn how_long_until_it_is_looked_for_again() {
    let asked = Outcome::Limited(Duration::from_secs(20));
    for (lane, outcome, waits) in [
        (Lane::Reminder, asked, [20, 20, 20]),
        // Once, a failure says little.
        (Lane::Reminder, Outcome::NotMade, [1, 300, 300]),
        (Lane::Escalation, Outcome::NotMade, [1, 30, 30]),
    ] {
        let mut delivery = Delivery::default();
        let left = OutRow {
            sending_at: Some(at(-200).wall),
            ..row(1, lane)
        };
        delivery.found_sending(vec![left], at(0));
        let mut now = 0;
        for wait in waits {
            let sent = delivery.send(at(now));
            assert!(matches!(sent[..], [(Tag::Look(1), _)]), "{sent:?}");
            assert_eq!(delivery.flying(), 1);
            let known = BTreeSet::new();
            let settled = delivery.looked(1, &outcome, &known, at(now));
            assert_eq!((settled, delivery.flying()), (None, 0));
            now += wait;
            assert_eq!(delivery.next(), Some(at(now).mono), "{lane:?}, {outcome:?}");
        }
    }
}

#[test]
fn tries_of_earlier_runs_count_for_the_wait_and_for_giving_up() {
    for (attempts, lane, wait) in [
        (0, Lane::Routine, Some(1)),
        (3, Lane::Routine, Some(8)),
        (3, Lane::Escalation, Some(8)),
        (6, Lane::Escalation, Some(30)),
        (10, Lane::Reminder, Some(300)),
        (48, Lane::Reminder, Some(300)),
        (49, Lane::Reminder, None),
        (49, Lane::Escalation, Some(30)),
        (498, Lane::Escalation, Some(30)),
        (499, Lane::Escalation, None),
    ] {
        let mut delivery = Delivery::default();
        let row = OutRow {
            attempts,
            entered: Some(at(0).facility - TRIED_FOR),
            ..row(1, lane)
        };
        delivery.pick(vec![row], at(0));
        assert_eq!(delivery.send(at(0)).len(), 1);
        let settled = delivery.sent(1, &Outcome::NotMade, at(0));
        let given_up = matches!(settled, Some(Settled::Dead { .. }));
        assert_eq!(given_up, wait.is_none(), "{attempts}: {settled:?}");
        assert_eq!(
            delivery.next(),
            wait.map(|wait| at(wait).mono),
            "{attempts}"
        );
    }
}

#[test]
fn an_unreadable_channel_holds_reminders_and_repeats_escalations() {
    let mut delivery = Delivery::default();
    delivery.speak(Lang::Spanish);
    let mut left: Vec<OutRow> = vec![row(1, Lane::Reminder), row(2, Lane::Escalation)];
    for row in &mut left {
        row.sending_at = Some(at(-200).wall);
    }
    delivery.found_sending(left, at(0));
    let unread = Outcome::Refused {
        status: 403,
        code: 50_013,
    };
    // One failure says little: a second try follows.
    for tried in [at(0), at(1)] {
        assert_eq!(routes(&delivery.send(tried)), ["history", "history"]);
        assert_eq!(
            (
                delivery.looked(1, &unread, &BTreeSet::new(), tried),
                delivery.looked(2, &unread, &BTreeSet::new(), tried)
            ),
            (None, None)
        );
    }
    assert_eq!(routes(&delivery.send(at(120))), ["history"]);
    delivery.looked(2, &unread, &BTreeSet::new(), at(120));
    let sent = delivery.send(at(121));
    let (tag, request) = &sent[0];
    assert_eq!((tag, request.route.name()), (&Tag::Row(2), "post"));
    let crate::request::Body::Json(body) = &request.body else {
        panic!("not JSON")
    };
    let mark = words::say(Lang::Spanish, "bot-possible-repeat", &[]);
    assert!(String::from_utf8_lossy(body).contains(&mark));
}

#[test]
fn a_refusal_is_final_and_a_limit_is_not() {
    let mut delivery = Delivery::default();
    let mut other = row(2, Lane::Routine);
    other.channel = Channel(5);
    delivery.pick(vec![row(1, Lane::Routine), other, edit(3, 9)], at(0));
    delivery.send(at(0));
    let refused = delivery.sent(
        1,
        &Outcome::Refused {
            status: 403,
            code: 50_001,
        },
        at(0),
    );
    assert!(matches!(
        refused,
        Some(Settled::Dead {
            id: 1,
            loud: true,
            ..
        })
    ));
    let limited = delivery.sent(2, &Outcome::Limited(Duration::from_secs(7)), at(0));
    assert_eq!(
        limited,
        Some(Settled::Again {
            id: 2,
            unsure: false
        })
    );
    assert!(delivery.pick(vec![row(2, Lane::Routine)], at(6)).is_empty());
    assert_eq!(delivery.next(), Some(at(7).mono));
    assert_eq!(delivery.pick(vec![row(2, Lane::Routine)], at(7)), [2]);
    let late = delivery.sent(
        3,
        &Outcome::Refused {
            status: 429,
            code: 30_046,
        },
        at(0),
    );
    assert!(matches!(
        late,
        Some(Settled::Dead {
            id: 3,
            loud: false,
            ..
        })
    ));
}

#[test]
fn rows_of_another_file_are_no_longer_held() {
    let mut delivery = Delivery::default();
    delivery.pick(vec![row(1, Lane::Routine), edit(2, 9)], at(0));
    delivery.send(at(0));
    delivery.sent(2, &Outcome::Limited(Duration::from_secs(60)), at(0));
    delivery.forget();
    assert_eq!(delivery.sent(1, &Outcome::Made(Some(7)), at(1)), None);
    let rows = vec![row(1, Lane::Routine), edit(2, 9)];
    assert_eq!(delivery.pick(rows, at(1)), [1, 2]);
}

#[test]
fn it_gives_up_in_the_end_and_says_so() {
    let dead = |tries: u32, seconds: i64| {
        let mut delivery = Delivery::default();
        let mut tired = row(1, Lane::Reminder);
        tired.attempts = tries - 1;
        delivery.pick(vec![tired], at(seconds));
        delivery.send(at(seconds));
        let end = delivery.sent(1, &Outcome::NotMade, at(seconds));
        matches!(end, Some(Settled::Dead { loud: true, .. }))
    };
    let day = TRIED_FOR.num_seconds();
    assert!(dead(ATTEMPTS_MAX, day));
    // A chat that was gone for hours, and a clock that was set on by a month.
    assert!(!dead(ATTEMPTS_MAX * 4, day - 1));
    assert!(!dead(ATTEMPTS_MAX - 1, day * 30));
}

/// Messages of one channel that the chat answers with 500, and then an alarm: of another channel, and of the same one.
#[test]
fn an_alarm_waits_for_no_reminder_whose_fate_is_unknown() {
    for channel in [4, 9] {
        let mut delivery = Delivery::default();
        let bad: Vec<_> = (1..=200)
            .map(|id: i64| OutRow {
                channel: Channel(4 + id.unsigned_abs() % 3),
                ..row(id, Lane::Reminder)
            })
            .collect();
        for s in 0..600 {
            delivery.pick(bad.clone(), at(s));
            for (tag, _) in delivery.send(at(s)) {
                if let Tag::Row(id) = tag {
                    delivery.sent(id, &Outcome::Unsure, at(s));
                } else if let Tag::Look(id) = tag {
                    let none = Outcome::Listed(Vec::new());
                    delivery.looked(id, &none, &BTreeSet::new(), at(s));
                }
            }
        }
        assert!(delivery.held.len() <= HELD_MAX);
        let alarm = OutRow {
            channel: Channel(channel),
            ..row(1_000, Lane::Escalation)
        };
        let mut ready = vec![alarm];
        ready.extend(bad);
        assert!(delivery.pick(ready, at(600)).contains(&1_000), "{channel}");
        let sent = delivery.send(at(600));
        assert!(sent.iter().any(|(tag, _)| *tag == Tag::Row(1_000)));
    }
}

/// The chat takes messages again and does not let its channel be read back yet: the newest call goes, though the looks for the
/// others are on their way.
#[test]
fn calls_that_were_overtaken_do_not_hold_up_the_newest() {
    let mut delivery = Delivery::default();
    let known = BTreeSet::new();
    let mut now = 0;
    // The chat is away: each call of the ladder gets no answer, and the next takes its place.
    for id in 1..=8 {
        assert_eq!(
            delivery.pick(vec![row(id, Lane::Escalation)], at(now)),
            [id]
        );
        for (tag, _) in delivery.send(at(now)) {
            if let Tag::Row(id) = tag {
                delivery.sent(id, &Outcome::Unsure, at(now));
            }
        }
        delivery.overtaken(&[id]);
        now += 600;
        for (tag, _) in delivery.send(at(now)) {
            if let Tag::Look(id) = tag {
                delivery.looked(id, &Outcome::Unsure, &known, at(now));
            }
        }
    }
    // Now it takes messages. What was overtaken is not sent once more in any case.
    let newest = || vec![row(9, Lane::Escalation)];
    let mut gone = None;
    for minute in 0..6 * 60 {
        let t = at(now + minute * 60);
        if !delivery.pick(newest(), t).is_empty() {
            gone = Some(minute);
            break;
        }
        for (tag, _) in delivery.send(t) {
            if let Tag::Look(id) = tag {
                delivery.looked(id, &Outcome::Unsure, &known, t);
            }
        }
    }
    assert_eq!(gone, Some(0), "the minute in which the newest call goes");
}

#[test]
fn a_look_for_what_was_overtaken_holds_up_no_call() {
    let mut delivery = Delivery::default();
    delivery.pick(vec![row(1, Lane::Escalation)], at(0));
    delivery.send(at(0));
    delivery.overtaken(&[1]);
    let newest = || vec![row(2, Lane::Escalation)];
    assert!(
        delivery.pick(newest(), at(1)).is_empty(),
        "the first is on its way"
    );
    delivery.sent(1, &Outcome::Unsure, at(1));
    assert_eq!(routes(&delivery.send(at(2))), ["history"]);
    assert_eq!(delivery.pick(newest(), at(2)), [2]);
}

/// A commit that came to be though it was said to have failed.
#[test]
fn what_only_the_file_knows_to_be_overtaken_is_not_sent_again() {
    let mut delivery = Delivery::default();
    delivery.pick(vec![row(1, Lane::Escalation)], at(0));
    delivery.send(at(0));
    delivery.sent(1, &Outcome::Unsure, at(1));
    let overtaken = true;
    delivery.found_sending(
        vec![OutRow {
            overtaken,
            ..row(1, Lane::Escalation)
        }],
        at(1),
    );
    assert_eq!(routes(&delivery.send(at(3))), ["history"]);
}

#[test]
fn what_changes_messages_holds_up_no_call() {
    let mut delivery = Delivery::default();
    let edits: Vec<OutRow> = (1..=8)
        .map(|id| OutRow {
            channel: Channel(4),
            lane: Lane::Escalation,
            ..edit(id, 100 + id)
        })
        .collect();
    assert_eq!(delivery.pick(edits, at(0)).len(), HELD_OF_CHANNEL_MAX);
    delivery.send(at(0));
    let ready = vec![
        edit(9, 109),
        row(10, Lane::Escalation),
        row(11, Lane::Reminder),
    ];
    assert_eq!(delivery.pick(ready, at(0)), [10]);
}

#[test]
fn no_call_waits_for_a_channel_to_be_read_for_a_list() {
    let mut delivery = Delivery::default();
    let left = OutRow {
        sending_at: Some(at(-200).wall),
        ..row(1, Lane::Reminder)
    };
    delivery.found_sending(vec![left], at(0));
    let (call, list) = (|id| row(id, Lane::Escalation), || row(2, Lane::Reminder));
    let picked = delivery.pick(vec![call(3), call(4), list()], at(0));
    assert_eq!(picked, [3], "calls go one after another");
    assert_eq!(routes(&delivery.send(at(0))), ["history", "post"]);
    // The chat asks to wait, half of the way.
    let page = Outcome::Listed(page(0, HISTORY_MESSAGES));
    delivery.looked(1, &page, &BTreeSet::new(), at(1));
    delivery.send(at(1));
    let limited = Outcome::Limited(Duration::from_secs(600));
    delivery.looked(1, &limited, &BTreeSet::new(), at(1));
    delivery.sent(3, &Outcome::Made(Some(3)), at(1));
    assert_eq!(delivery.pick(vec![call(4), list()], at(2)), [4]);
    delivery.send(at(2));
    delivery.sent(4, &Outcome::Made(Some(4)), at(2));
    assert_eq!(delivery.pick(vec![list()], at(2)), [2]);
}

/// The file did not take that it rests.
#[test]
fn what_is_taken_over_while_it_rests_lets_others_pass() {
    let mut delivery = Delivery::default();
    let tried = || OutRow {
        attempts: 9,
        ..row(1, Lane::Reminder)
    };
    delivery.pick(vec![tried()], at(0));
    delivery.send(at(0));
    delivery.sent(1, &Outcome::NotMade, at(0));
    delivery.found_sending(vec![tried()], at(1));
    assert_eq!(delivery.pick(vec![row(2, Lane::Escalation)], at(1)), [2]);
}

#[test]
fn nothing_is_woken_for_over_and_over() {
    let mut delivery = Delivery::default();
    delivery.pick(vec![row(1, Lane::Routine)], at(0));
    delivery.send(at(0));
    delivery.sent(1, &Outcome::NotMade, at(0));
    let wakes = delivery.next();
    assert_eq!(wakes, Some(at(1).mono));
    // The file is gone, so that there is nothing to pick from.
    assert!(delivery.send(at(1)).is_empty());
    assert_eq!(delivery.next(), None);
}

/// The answer was cut short.
#[test]
fn a_message_whose_number_was_not_read_is_asked_for_once_more() {
    let mut delivery = Delivery::default();
    delivery.pick(vec![row(1, Lane::Routine)], at(0));
    let first = delivery.send(at(0));
    assert_eq!(delivery.sent(1, &Outcome::Made(None), at(1)), None);
    assert_eq!(delivery.send(at(3)), first, "under the same nonce");
    let (id, message, call) = (1, Some(9), false);
    let made = delivery.sent(1, &Outcome::Made(message), at(3));
    assert_eq!(made, Some(Settled::Sent { id, message, call }));
}

/// The channel was shut to us after an earlier try.
#[test]
fn what_is_refused_after_it_may_have_been_made_is_looked_for() {
    let (status, code) = (403, 50_013);
    let mut delivery = Delivery::default();
    delivery.pick(vec![row(1, Lane::Escalation)], at(0));
    delivery.send(at(0));
    delivery.sent(1, &Outcome::Unsure, at(1));
    delivery.send(at(3));
    delivery.overtaken(&[1]);
    assert_eq!(
        delivery.sent(1, &Outcome::Refused { status, code }, at(4)),
        None
    );
    assert_eq!(routes(&delivery.send(at(10))), ["history"]);
}

#[test]
fn a_clock_that_is_a_month_ahead_hides_no_message() {
    let ahead = |s| Moment {
        wall: at(s).wall + TimeDelta::days(31),
        ..at(s)
    };
    let mut delivery = Delivery::default();
    delivery.set_us(5);
    delivery.heard(number(0), ahead(0));
    delivery.pick(vec![row(1, Lane::Routine)], ahead(0));
    delivery.send(ahead(0));
    delivery.sent(1, &Outcome::Unsure, ahead(10));
    delivery.send(ahead(300));
    let known = BTreeSet::new();
    let newest = Outcome::Listed(page(300, HISTORY_MESSAGES));
    assert_eq!(delivery.looked(1, &newest, &known, ahead(300)), None);
    let sent = delivery.send(ahead(300));
    assert_eq!(routes(&sent), ["history"]);
    let there = Outcome::Listed(vec![ours(number(2), "Low air 1")]);
    let said = delivery.looked(1, &there, &known, ahead(300));
    assert!(matches!(said, Some(Settled::Sent { .. })), "{said:?}");
}

/// A channel that cannot be read for a day: what of its calls is looked for stays within bounds.
#[test]
fn only_the_newest_of_what_was_overtaken_are_looked_for() {
    let mut delivery = Delivery::default();
    let mut let_go = 0;
    for id in 1..=100 {
        let now = at(id * 600);
        assert_eq!(delivery.pick(vec![row(id, Lane::Escalation)], now), [id]);
        delivery.send(now);
        delivery.sent(id, &Outcome::Unsure, now);
        delivery.overtaken(&[id]);
        for s in 1..600 {
            let now = at(id * 600 + s);
            for (tag, _) in delivery.send(now) {
                let Tag::Look(id) = tag else {
                    panic!("{tag:?}")
                };
                let none = BTreeSet::new();
                let end = delivery.looked(id, &Outcome::Unsure, &none, now);
                let_go += i64::from(end == Some(Settled::Overtaken { id }));
            }
        }
    }
    assert_eq!(delivery.held.len(), HELD_OF_CHANNEL_MAX);
    assert_eq!(let_go, 100 - 8);
}

/// A header that makes no sense blocks no alarm.
#[test]
fn no_call_rests_longer_than_an_hour_because_of_a_header() {
    for seconds in [86_400.0 * 365.0, 1.8e19] {
        let said = Said {
            retry_after_s: Some(seconds),
            ..Said::default()
        };
        let mut delivery = Delivery::default();
        delivery.pick(vec![row(1, Lane::Escalation)], at(0));
        delivery.send(at(0));
        delivery.sent(1, &Outcome::Limited(said.wait()), at(0));
        let next = delivery.pick(vec![row(1, Lane::Escalation)], at(3_601));
        assert_eq!(next, [1], "{seconds}");
    }
}

#[test]
fn escalations_do_not_wait_long() {
    assert_eq!(backoff(1, Lane::Routine), Duration::from_secs(1));
    assert_eq!(backoff(40, Lane::Routine), BACKOFF_MAX);
    assert_eq!(backoff(40, Lane::Escalation), BACKOFF_ESCALATION_MAX);
}
