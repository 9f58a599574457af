//! Messages for others, from row to the platform's number.

use commands::decision::{Lane, PostKind};
use commands::ids::Channel;
use store::{EDIT_KEPT_DAYS, POST_KEPT_DAYS, Store, StoreError};

use crate::samples::{at, edit, enqueue, open, post};

const DAY: i64 = 86_400;

fn keys(store: &Store, seconds: i64) -> Vec<String> {
    let rows = store.ready(at(seconds), 100).unwrap();
    rows.into_iter().map(|row| row.key).collect()
}

#[test]
fn rows_come_by_lane_and_then_in_order() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let posts = [
        post("routine", Lane::Routine),
        post("rung 1", Lane::Escalation),
        post("due", Lane::Reminder),
        post("rung 2", Lane::Escalation),
    ];
    let made = enqueue(&mut store, "a", &posts).unwrap();
    assert_eq!(made.outbox.len(), 4);
    assert_eq!(keys(&store, 0), ["rung 1", "rung 2", "due", "routine"]);
    let lanes = store.ready(at(0), 100).unwrap();
    let lanes: Vec<_> = lanes.into_iter().map(|row| row.lane).collect();
    use Lane::{Escalation, Reminder, Routine};
    assert_eq!(lanes, [Escalation, Escalation, Reminder, Routine]);
    assert_eq!(store.ready(at(0), 1).unwrap().len(), 1);
    assert_eq!(keys(&store, -1), [""; 0]);
    assert_eq!(store.next_ready_at().unwrap(), Some(at(0)));
    let row = &store.ready(at(0), 1).unwrap()[0];
    assert_eq!(
        (row.channel, row.kind.clone(), row.lane),
        (Channel(5), PostKind::New, Lane::Escalation)
    );
    assert_eq!((row.message.text.as_str(), row.attempts), ("rung 1", 0));
}

#[test]
fn the_first_post_under_a_key_wins() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    enqueue(&mut store, "a", &[post("k", Lane::Routine)]).unwrap();
    let mut other = post("k", Lane::Escalation);
    other.message.text = "another".into();
    let made = enqueue(&mut store, "b", &[other.clone(), post("l", Lane::Routine)]).unwrap();
    assert_eq!(
        (made.outbox.len(), made.duplicates),
        (1, vec!["k".to_owned()])
    );
    let row = &store.ready(at(0), 1).unwrap()[0];
    assert_eq!(row.message.text, "k");
    // Sent, too.
    store.sent(row.id, Some(1)).unwrap();
    assert_eq!(
        enqueue(&mut store, "c", &[other]).unwrap().duplicates,
        ["k"]
    );
    assert_eq!(keys(&store, 0), ["l"]);
}

/// Calls that a chat which was gone did not take: the newest says what they say. One that is on its way is not called back, and
/// what was to change one that never was is forgotten.
#[test]
fn a_newer_call_takes_the_place_of_those_that_wait() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let rung = |n: u32| post(&format!("rung {n}"), Lane::Escalation);
    let made = enqueue(&mut store, "a", &[rung(1), post("due", Lane::Reminder)]).unwrap();
    store.sending(&made.outbox[..1], at(0)).unwrap();
    let two = [rung(2), edit("said", "rung 2"), edit("then", "rung 1")];
    enqueue(&mut store, "b", &two).unwrap();
    let mut newest = rung(3);
    newest.in_place_of = ["rung 1", "rung 2", "due elsewhere"]
        .map(str::to_owned)
        .to_vec();
    let made = enqueue(&mut store, "c", std::slice::from_ref(&newest)).unwrap();
    assert_eq!((made.outbox.len(), made.duplicates.len()), (1, 0));
    assert_eq!(keys(&store, 0), ["rung 3", "due"]);
    // Nothing waits for ever for a message that will not come; what changes one that may be there stays.
    let edits = [edit("said", "nowhere"), edit("then", "nowhere")];
    let known = enqueue(&mut store, "edits", &edits).unwrap().duplicates;
    assert_eq!(known, ["then"]);
    // On its way: it stays there until it is known what became of it, also for the next run, and never goes again.
    let on_its_way = made.overtaken[0];
    drop(store);
    let mut store = open(&folder);
    let unsettled = store.unsettled().unwrap();
    assert_eq!(unsettled.len(), 1);
    assert!(unsettled[0].overtaken && unsettled[0].id == on_its_way);
    enqueue(&mut store, "late", &[edit("said once more", "rung 1")]).unwrap();
    store.again(on_its_way, at(0), false).unwrap();
    assert_eq!(keys(&store, 0), ["rung 3", "due"]);
    assert_eq!(store.unsettled().unwrap().len(), 0);
    // In one commit, as after a pause.
    let mut last = rung(5);
    last.in_place_of = vec!["rung 3".into(), "rung 4".into()];
    let made = enqueue(&mut store, "d", &[rung(4), last]).unwrap();
    assert_eq!(made.outbox.len(), 1);
    assert_eq!(keys(&store, 0), ["rung 5", "due"]);
    // The same once more is no other one, and takes nobody's place.
    newest.in_place_of = vec!["rung 5".into()];
    newest.key = "due".into();
    let again = enqueue(&mut store, "e", &[newest]).unwrap();
    assert_eq!(again.duplicates, ["due"]);
    assert_eq!(keys(&store, 0), ["rung 5", "due"]);
}

/// A call that may have been made waits for its next try when a newer one comes: it is looked for, and what changes it stays.
#[test]
fn what_may_have_been_made_is_looked_for_when_a_newer_one_comes() {
    let rung = |n: u32| post(&format!("rung {n}"), Lane::Escalation);
    for (unsure, marked) in [(true, true), (true, false), (false, true)] {
        let folder = tempfile::tempdir().unwrap();
        let mut store = open(&folder);
        let first = enqueue(&mut store, "a", &[rung(1)]).unwrap().outbox[0];
        if marked {
            store.sending(&[first], at(3)).unwrap();
        }
        assert!(!store.again(first, at(60), unsure).unwrap());
        let row = store.ready(at(60), 1).unwrap().remove(0);
        // Where the disk had no room for the mark, the note that it failed makes up for it.
        let since = if marked { at(3) } else { at(60) };
        assert_eq!(row.sending_at, unsure.then_some(since));
        enqueue(&mut store, "b", &[edit("taken", "rung 1")]).unwrap();
        let mut newest = rung(2);
        newest.in_place_of = vec!["rung 1".into()];
        let made = enqueue(&mut store, "c", &[newest]).unwrap();
        assert_eq!(made.overtaken, Vec::from_iter(unsure.then_some(first)));
        assert_eq!(keys(&store, 90), ["rung 2"]);
        let left = store.unsettled().unwrap();
        assert_eq!(left.len(), usize::from(unsure));
        let known = enqueue(&mut store, "d", &[edit("taken", "rung 1")]).unwrap();
        assert_eq!(known.duplicates.is_empty(), !unsure);
        if unsure {
            assert!(left[0].overtaken);
            // Not this time, and it stays to be looked for; it was there after all.
            assert!(store.again(first, at(70), true).unwrap());
            assert_eq!(store.unsettled().unwrap().len(), 1);
            store.sent(first, Some(900)).unwrap();
            assert_eq!(keys(&store, 90), ["rung 2", "taken"]);
        }
    }
}

#[test]
fn it_is_known_where_we_have_posted() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let made = enqueue(&mut store, "a", &[post("k", Lane::Routine)]).unwrap();
    assert!(!store.posted_in(Channel(5)).unwrap());
    store.sent(made.outbox[0], Some(900)).unwrap();
    assert!(store.posted_in(Channel(5)).unwrap());
    assert!(!store.posted_in(Channel(6)).unwrap());
}

#[test]
fn a_nonce_belongs_to_key_and_facility() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let mut other = Store::open(folder.path(), commands::ids::Guild(4_201)).unwrap();
    for store in [&mut store, &mut other] {
        enqueue(
            store,
            "a",
            &[post("k", Lane::Routine), post("l", Lane::Routine)],
        )
        .unwrap();
    }
    let nonce = |store: &Store, n: usize| store.ready(at(0), 9).unwrap()[n].nonce.clone();
    assert!(nonce(&store, 0).len() <= 25);
    assert_ne!(nonce(&store, 0), nonce(&store, 1));
    assert_ne!(nonce(&store, 0), nonce(&other, 0));
    let before = nonce(&store, 0);
    drop(store);
    assert_eq!(nonce(&open(&folder), 0), before);
}

#[test]
fn a_row_goes_from_waiting_to_sending_to_sent() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let id = enqueue(&mut store, "a", &[post("k", Lane::Routine)])
        .unwrap()
        .outbox[0];
    store.sending(&[id], at(3)).unwrap();
    assert_eq!(
        (keys(&store, 9).len(), store.next_ready_at().unwrap()),
        (0, None)
    );
    drop(store);
    let mut store = open(&folder);
    let found = store.unsettled().unwrap();
    assert_eq!(
        (found.len(), found[0].id, found[0].sending_at),
        (1, id, Some(at(3)))
    );
    store.again(id, at(60), true).unwrap();
    assert_eq!(store.next_ready_at().unwrap(), Some(at(60)));
    assert_eq!(keys(&store, 59).len(), 0);
    let row = store.ready(at(60), 1).unwrap().remove(0);
    assert_eq!((row.attempts, row.sending_at), (1, Some(at(3))));
    store.sending(&[id], at(60)).unwrap();
    assert_eq!(store.message_of("k").unwrap(), None);
    store.sent(id, Some(900)).unwrap();
    assert_eq!(store.message_of("k").unwrap(), Some((Channel(5), 900)));
    assert_eq!(store.unsettled().unwrap(), []);
    for wrong in [
        store.sent(id, None),
        store.again(id, at(0), true).map(drop),
        store.dead(id, ""),
        store.sending(&[id], at(0)),
    ] {
        assert!(matches!(wrong, Err(StoreError::Misuse(_))));
    }
    assert_eq!(store.message_of("k").unwrap(), Some((Channel(5), 900)));
}

/// By these a message that another row made is not taken for one whose fate is unknown.
#[test]
fn the_messages_that_rows_are_known_to_have_made() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let posts = ["a", "b", "c", "d"].map(|key| post(key, Lane::Routine));
    let ids = enqueue(&mut store, "a", &posts).unwrap().outbox;
    assert!(store.sent_since(0).unwrap().is_empty());
    for (id, made) in [(ids[0], Some(899)), (ids[1], Some(900)), (ids[2], None)] {
        store.sending(&[id], at(1)).unwrap();
        store.sent(id, made).unwrap();
    }
    assert_eq!(store.sent_since(900).unwrap(), [900].into());
    assert_eq!(store.sent_since(0).unwrap(), [899, 900].into());
    // An edit leaves its message one.
    let edit = enqueue(&mut store, "b", &[edit("e", "b")]).unwrap().outbox[0];
    store.sent(edit, Some(900)).unwrap();
    assert_eq!(store.sent_since(900).unwrap(), [900].into());
    drop(store);
    assert_eq!(open(&folder).sent_since(901).unwrap(), [].into());
}

#[test]
fn an_edit_waits_for_its_message() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let id = enqueue(&mut store, "a", &[post("card", Lane::Escalation)])
        .unwrap()
        .outbox[0];
    enqueue(&mut store, "b", &[edit("card/1", "card")]).unwrap();
    assert_eq!(keys(&store, 0), ["card"]);
    store.sending(&[id], at(0)).unwrap();
    assert_eq!(store.next_ready_at().unwrap(), None, "nothing to wake for");
    store.sent(id, Some(900)).unwrap();
    let row = store.ready(at(0), 9).unwrap().remove(0);
    assert_eq!(row.edit_message, Some((Channel(5), 900)));
    assert_eq!(row.kind, PostKind::Edit { of: "card".into() });
}

#[test]
fn the_newest_edit_replaces_the_unsent_ones_and_they_go_one_at_a_time() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let id = enqueue(&mut store, "a", &[post("card", Lane::Escalation)])
        .unwrap()
        .outbox[0];
    store.sent(id, Some(900)).unwrap();
    enqueue(
        &mut store,
        "b",
        &[edit("e1", "card"), edit("other", "elsewhere")],
    )
    .unwrap();
    let made = enqueue(&mut store, "c", &[edit("e2", "card"), edit("e3", "card")]).unwrap();
    assert_eq!(keys(&store, 0), ["e3"]);
    let e3 = made.outbox[0];
    assert_eq!(
        made.outbox,
        [store.ready(at(0), 1).unwrap()[0].id],
        "only what is there to be sent"
    );
    store.sending(&[e3], at(0)).unwrap();
    enqueue(&mut store, "d", &[edit("e4", "card")]).unwrap();
    assert_eq!(keys(&store, 9), [""; 0], "e3 is under way");
    assert_eq!(store.next_ready_at().unwrap(), None);
    // The older one failed, but a newer one waits: the older would put the card back.
    store.again(e3, at(60), false).unwrap();
    assert_eq!(keys(&store, 99), ["e4"]);
}

#[test]
fn a_repeated_edit_key_does_not_remove_the_first() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let id = enqueue(&mut store, "a", &[post("card", Lane::Escalation)])
        .unwrap()
        .outbox[0];
    store.sent(id, Some(900)).unwrap();
    enqueue(&mut store, "b", &[edit("e1", "card")]).unwrap();
    assert_eq!(
        enqueue(&mut store, "c", &[edit("e1", "card")])
            .unwrap()
            .duplicates,
        ["e1"]
    );
    assert_eq!(keys(&store, 0), ["e1"]);
}

#[test]
fn edits_of_a_message_that_will_never_be_known_are_forgotten() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let posts = [
        post("gone", Lane::Routine),
        edit("gone/1", "gone"),
        post("unknown", Lane::Routine),
        edit("unknown/1", "unknown"),
    ];
    let ids = enqueue(&mut store, "a", &posts).unwrap().outbox;
    store.dead(ids[0], "channel deleted").unwrap();
    store.sent(ids[2], None).unwrap();
    assert!(store.sent(ids[1], None).is_err());
    assert!(store.sent(ids[3], None).is_err());
    assert_eq!(store.next_ready_at().unwrap(), None);
    assert_eq!(store.message_of("unknown").unwrap(), None);
    // Of what was sent or given up no text stays.
    let file = rusqlite::Connection::open(folder.path().join("4200.loft")).unwrap();
    let texts = "SELECT count(*) FROM outbox WHERE message <> ''";
    let texts: i64 = file.query_row(texts, [], |row| row.get(0)).unwrap();
    assert_eq!(texts, 0);
}

#[test]
fn sent_rows_are_kept_as_long_as_their_message_may_be_edited() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let ids = enqueue(
        &mut store,
        "a",
        &[post("card", Lane::Routine), post("never", Lane::Routine)],
    )
    .unwrap()
    .outbox;
    store.sent(ids[0], Some(900)).unwrap();
    let edit_id = enqueue(&mut store, "b", &[edit("e1", "card")])
        .unwrap()
        .outbox[0];
    store.sent(edit_id, Some(900)).unwrap();
    enqueue(&mut store, "c", &[edit("orphan", "nowhere")]).unwrap();
    let known = |store: &mut Store, source: &str, key: &str| {
        !enqueue(store, source, &[edit(key, "nowhere at all")])
            .unwrap()
            .duplicates
            .is_empty()
    };
    store.alive(at(EDIT_KEPT_DAYS * DAY)).unwrap();
    assert!(known(&mut store, "d", "e1"));
    // Once an hour is enough.
    store.alive(at(EDIT_KEPT_DAYS * DAY + 3_599)).unwrap();
    assert!(known(&mut store, "d2", "e1"));
    store.alive(at(EDIT_KEPT_DAYS * DAY + 3_600)).unwrap();
    assert!(!known(&mut store, "e", "e1"));
    let half_days = 2 * EDIT_KEPT_DAYS + 1..=2 * POST_KEPT_DAYS;
    half_days.for_each(|half| store.alive(at(half * DAY / 2)).unwrap());
    assert!(store.message_of("card").unwrap().is_some());
    assert!(known(&mut store, "f", "orphan"));
    store.alive(at(POST_KEPT_DAYS * DAY + 3_600)).unwrap();
    assert!(store.message_of("card").unwrap().is_none());
    assert!(!known(&mut store, "g", "orphan"));
    // What was never sent is never pruned.
    assert_eq!(keys(&store, 0), ["never"]);
    assert_eq!(
        store.last_alive().unwrap(),
        Some(at(POST_KEPT_DAYS * DAY + 3_600))
    );
}

/// As long as an hour, and over a start.
#[test]
fn a_clock_that_was_a_month_ahead_makes_no_row_old() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    store.alive(at(0)).unwrap();
    let ids = enqueue(&mut store, "a", &[post("card", Lane::Routine)]);
    store.sent(ids.unwrap().outbox[0], Some(900)).unwrap();
    let ahead = (POST_KEPT_DAYS + 1) * DAY;
    for minute in (0..=120).step_by(5) {
        store.alive(at(ahead + minute * 60)).unwrap();
        if minute == 60 {
            drop(store);
            store = open(&folder);
        }
    }
    store.alive(at(3 * 3_600)).unwrap();
    assert!(store.message_of("card").unwrap().is_some());
    assert_eq!(store.sent_since(0).unwrap(), [900].into());
    // The days that really go by are the ones that count.
    let half_days = 1..=2 * POST_KEPT_DAYS + 1;
    half_days.for_each(|half| store.alive(at(half * DAY / 2)).unwrap());
    assert!(store.message_of("card").unwrap().is_none());
}

/// Two months without the program: the time that rows are old by is caught up with in two more.
#[test]
fn after_a_long_absence_rows_grow_old_again() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    store.alive(at(0)).unwrap();
    let ids = enqueue(&mut store, "a", &[post("card", Lane::Routine)]);
    store.sent(ids.unwrap().outbox[0], Some(900)).unwrap();
    let back = 2 * POST_KEPT_DAYS;
    let kept = |store: &mut Store, from: i64, to: i64| {
        (4 * from..=4 * to).for_each(|part| store.alive(at(part * DAY / 4)).unwrap());
        store.message_of("card").unwrap().is_some()
    };
    assert!(kept(&mut store, back, back + 1));
    assert!(!kept(&mut store, back + 1, back + POST_KEPT_DAYS / 2 + 1));
}

#[test]
fn settings_are_kept() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    assert_eq!(store.setting("registered").unwrap(), None);
    store.set_setting("registered", "1").unwrap();
    store.set_setting("registered", "2").unwrap();
    drop(store);
    let store = open(&folder);
    assert_eq!(store.setting("registered").unwrap().as_deref(), Some("2"));
    assert_eq!(store.last_alive().unwrap(), None);
}
