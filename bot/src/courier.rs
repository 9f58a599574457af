//! Carries requests to the platform and their outcomes back to the desks. Decides the order: interaction
//! answers at once, then escalations, reminders and the rest as the limits allow. One task, no lock.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::time::Duration;

use commands::decision::Lane;
use futures_util::StreamExt;
use futures_util::future::BoxFuture;
use futures_util::stream::FuturesUnordered;
use tokio::sync::Notify;
use tokio::sync::mpsc::UnboundedReceiver;

use crate::clock;
use crate::counters::Counters;
use crate::desk::{Input, Output, Tag};
use crate::http::{Answered, Http};
use crate::inbox::Inbox;
use crate::limiter::{Bucket, Limiter};
use crate::request::{Outcome, Request, Route};

/// Parcels taken at once.
const TAKEN_MAX: usize = 64;
/// Requests on their way at once, besides those that never queue.
const FLYING_MAX: usize = 64;
/// After the last desk has gone, what is on its way is waited for this long.
const DRAIN: Duration = Duration::from_secs(5);
/// A new message waits here no longer: it may be a second try, and the chat forgets its nonce. Where it goes back to, newer words may
/// take its place.
const QUEUED_MOST: Duration = Duration::from_secs(30);

/// One that goes back because too many requests hang comes again after this: they end after ten seconds at the latest.
const FULL_AGAIN: Duration = Duration::from_secs(5);

/// A guild that could not be left is left after this, at the earliest: no desk is there to try again.
const LEAVE_AGAIN: Duration = Duration::from_secs(60);

/// What a desk, or the gateway in nobody's name, asks for.
pub struct Parcel {
    /// Where outcomes go.
    pub inbox: Option<Arc<Inbox>>,
    /// What is asked for.
    pub outputs: Vec<Output>,
}

/// Carries until told to stop, then drains.
pub async fn carry(
    http: Arc<Http>,
    counters: Arc<Counters>,
    mut parcels: UnboundedReceiver<Parcel>,
    stop: Arc<Notify>,
) {
    let mut courier = Courier::new(http, counters);
    let mut taken = Vec::with_capacity(TAKEN_MAX);
    let mut open = true;
    while open {
        let wait = courier.pump();
        tokio::select! {
            biased;
            count = parcels.recv_many(&mut taken, TAKEN_MAX) => {
                open = count > 0;
                taken.drain(..).for_each(|parcel| courier.take(parcel));
            }
            Some(landed) = courier.flying.next(), if !courier.flying.is_empty() => {
                courier.landed(landed);
            }
            () = sleep(wait) => {}
            () = stop.notified() => open = false,
        }
    }
    while let Ok(parcel) = parcels.try_recv() {
        courier.take(parcel);
    }
    let drain = async {
        courier.pump();
        while let Some(landed) = courier.flying.next().await {
            courier.landed(landed);
            courier.pump();
        }
    };
    if tokio::time::timeout(DRAIN, drain).await.is_err() {
        tracing::warn!("requests were still on their way when the program stopped");
    }
}

async fn sleep(wait: Option<Duration>) {
    match wait {
        Some(wait) => tokio::time::sleep(wait).await,
        None => std::future::pending().await,
    }
}

struct Errand {
    inbox: Option<Arc<Inbox>>,
    tag: Tag,
    request: Request,
    /// Since when it waits here, or, where that is to come, from when on it may go.
    since: Duration,
}

/// What a queue comes to at a moment.
#[derive(Default)]
struct Sorted {
    /// What may go.
    go: Vec<Key>,
    /// New messages that go back to where they are from, with how long nothing more may go to their channel.
    back: Vec<(Key, Duration)>,
    /// When there may be more.
    until: Option<Duration>,
}

/// What goes first is what is most urgent, then what is oldest.
type Key = (Lane, u64);

/// What a flight brings back.
enum Landed {
    Sent(Errand, Answered),
    Fetched(Option<Arc<Inbox>>, Input),
}

struct Courier {
    http: Arc<Http>,
    counters: Arc<Counters>,
    limiter: Limiter,
    queue: BTreeMap<Key, Errand>,
    number: u64,
    flying: FuturesUnordered<BoxFuture<'static, Landed>>,
    /// How many of those that fly had to queue.
    queued: usize,
}

impl Courier {
    fn new(http: Arc<Http>, counters: Arc<Counters>) -> Self {
        Self {
            http,
            counters,
            limiter: Limiter::default(),
            queue: BTreeMap::new(),
            number: 0,
            flying: FuturesUnordered::new(),
            queued: 0,
        }
    }

    fn take(&mut self, parcel: Parcel) {
        for output in parcel.outputs {
            match output {
                Output::Send { tag, request } => {
                    let errand = Errand {
                        inbox: parcel.inbox.clone(),
                        tag,
                        request,
                        since: clock::mono(),
                    };
                    if errand.request.route.bucket().is_none() {
                        self.fly(errand);
                    } else {
                        self.queue_up(errand);
                    }
                }
                Output::Fetch { heard, file, first } => {
                    let (http, inbox) = (self.http.clone(), parcel.inbox.clone());
                    self.flying.push(Box::pin(async move {
                        http.send(&first).await;
                        let file = http.fetch(&file).await;
                        Landed::Fetched(inbox, Input::Fetched { heard, file })
                    }));
                }
                Output::Registered => {}
            }
        }
    }

    fn queue_up(&mut self, errand: Errand) {
        self.number += 1;
        let key = (errand.request.lane, self.number);
        self.queue.insert(key, errand);
    }

    /// Lets everything go that may; returns how long until more may.
    fn pump(&mut self) -> Option<Duration> {
        let now = clock::mono();
        let Sorted { go, back, until } = sort(&self.queue, &mut self.limiter, self.queued, now);
        for key in go {
            if let Some(errand) = self.queue.remove(&key) {
                self.queued += 1;
                self.fly(errand);
            }
        }
        for (key, wait) in back {
            if let Some(errand) = self.queue.remove(&key) {
                report(errand, Outcome::Limited(wait));
            }
        }
        until.map(|at| at.saturating_sub(now))
    }

    fn fly(&mut self, errand: Errand) {
        let http = self.http.clone();
        self.flying.push(Box::pin(async move {
            let answered = http.send(&errand.request).await;
            Landed::Sent(errand, answered)
        }));
    }

    fn landed(&mut self, landed: Landed) {
        match landed {
            Landed::Fetched(inbox, input) => {
                if let Some(inbox) = inbox {
                    inbox.tell(input);
                }
            }
            Landed::Sent(errand, answered) => {
                if errand.request.route.bucket().is_some() {
                    self.queued -= 1;
                }
                self.learn(&errand.request, &answered);
                let route = errand.request.route.name();
                self.counters.asked(route, &answered.outcome);
                if let Some(again) = again(&errand, &answered.outcome) {
                    self.queue_up(again);
                }
                report(errand, answered.outcome);
            }
        }
    }

    fn learn(&mut self, request: &Request, answered: &Answered) {
        let now = clock::mono();
        let bucket = request.route.bucket();
        match answered.status {
            429 => {
                self.limiter.refused(bucket, &answered.said, now);
            }
            401 | 403 => self.limiter.invalid(now),
            _ => {}
        }
        if let Some(bucket) = bucket {
            self.limiter.told(bucket, &answered.said, now);
        }
    }
}

/// What may go of a queue beside so many of it that are on their way. Where these are too many, nothing goes before one of them has
/// come back, and what has waited its time goes back all the same.
fn sort(
    queue: &BTreeMap<Key, Errand>,
    limiter: &mut Limiter,
    flying: usize,
    now: Duration,
) -> Sorted {
    let mut sorted = Sorted::default();
    let mut shut: BTreeMap<Bucket, Duration> = BTreeMap::new();
    for (key, errand) in queue {
        let Some(bucket) = errand.request.route.bucket() else {
            continue;
        };
        if errand.since > now {
            let at = errand.since;
            sorted.until = Some(sorted.until.map_or(at, |until| until.min(at)));
            continue;
        }
        let full = flying + sorted.go.len() >= FLYING_MAX;
        let opens = match shut.get(&bucket) {
            Some(at) => Some(*at),
            None if full => None,
            None => match limiter.ask(bucket, now) {
                Ok(()) => {
                    sorted.go.push(*key);
                    continue;
                }
                Err(at) => {
                    shut.insert(bucket, at);
                    Some(at)
                }
            },
        };
        let mut at = opens.filter(|_| !full);
        // A change that waits holds up nothing else.
        let route = &errand.request.route;
        let of_outbox = match errand.tag {
            Tag::Row(_) => matches!(route, Route::Post { .. }),
            Tag::Look(_) => true,
            Tag::Nothing | Tag::Answer(_) | Tag::Register => false,
        };
        if of_outbox {
            let most = errand.since + QUEUED_MOST;
            if most <= now {
                let wait = opens.map_or(FULL_AGAIN, |at| at.saturating_sub(now));
                sorted.back.push((*key, wait));
                continue;
            }
            at = Some(at.map_or(most, |at| at.min(most)));
        }
        sorted.until = [sorted.until, at].into_iter().flatten().min();
    }
    sorted
}

/// The errand that is tried once more here.
fn again(errand: &Errand, outcome: &Outcome) -> Option<Errand> {
    if !matches!(errand.request.route, Route::Leave { .. }) {
        return None;
    }
    let wait = match outcome {
        Outcome::Limited(wait) => *wait,
        Outcome::NotMade | Outcome::Unsure => LEAVE_AGAIN,
        Outcome::Made(_) | Outcome::Listed(_) | Outcome::Named(_) | Outcome::Refused { .. } => {
            return None;
        }
    };
    Some(Errand {
        inbox: errand.inbox.clone(),
        tag: errand.tag.clone(),
        request: errand.request.clone(),
        since: clock::mono() + wait,
    })
}

fn report(errand: Errand, outcome: Outcome) {
    let Errand {
        inbox,
        tag,
        request,
        since: _,
    } = errand;
    if !matches!(
        outcome,
        Outcome::Made(_) | Outcome::Listed(_) | Outcome::Named(_)
    ) {
        tracing::warn!(
            route = request.route.name(),
            ?outcome,
            "a request did not come through"
        );
    }
    let Some(inbox) = inbox else { return };
    match (&tag, &outcome) {
        (Tag::Nothing, _) => {}
        (Tag::Answer(_), Outcome::Made(_)) => inbox.tell_quietly(Input::Came { tag, outcome }),
        _ => inbox.tell(Input::Came { tag, outcome }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::config::Settings;
    use crate::delivery::NONCE_LASTS;
    use crate::limiter::Said;
    use crate::request::{Body, Token};

    fn errand(route: Route) -> Errand {
        Errand {
            inbox: None,
            tag: Tag::Row(1),
            request: Request {
                route,
                body: Body::Empty,
                lane: Lane::Escalation,
            },
            since: Duration::ZERO,
        }
    }

    #[test]
    fn a_guild_that_could_not_be_left_is_left_later() {
        let leaving = errand(Route::Leave { guild: 3 });
        let asked = Duration::from_secs(5);
        for (outcome, wait) in [
            (Outcome::NotMade, LEAVE_AGAIN),
            (Outcome::Unsure, LEAVE_AGAIN),
            (Outcome::Limited(asked), asked),
        ] {
            let before = clock::mono();
            let again = again(&leaving, &outcome).unwrap();
            let at = again.since;
            assert!(at >= before + wait && at <= clock::mono() + wait);
            let queue = BTreeMap::from([((Lane::Routine, 1), again)]);
            let early = sort(&queue, &mut Limiter::default(), 0, before);
            assert!(early.go.is_empty() && early.until == Some(at));
            let then = sort(&queue, &mut Limiter::default(), 0, at);
            assert_eq!(then.go, [(Lane::Routine, 1)]);
        }
        let gone = Outcome::Refused {
            status: 404,
            code: 10_004,
        };
        assert!(
            again(&leaving, &gone).is_none() && again(&leaving, &Outcome::Made(None)).is_none()
        );
        let post = errand(Route::Post { channel: 4 });
        assert!(
            again(&post, &Outcome::NotMade).is_none(),
            "its desk tries again"
        );
    }

    #[test]
    fn no_new_message_waits_until_its_nonce_is_forgotten() {
        assert!(QUEUED_MOST * 2 < NONCE_LASTS);
        let post = Route::Post { channel: 4 };
        let edit = Route::Edit {
            channel: 4,
            message: 7,
        };
        let elsewhere = Route::Post { channel: 5 };
        let routes = [post.clone(), edit, post.clone(), elsewhere];
        let queue: BTreeMap<Key, Errand> = routes
            .into_iter()
            .zip(0..)
            .map(|(route, no)| ((Lane::Escalation, no), errand(route)))
            .collect();
        let mut limiter = Limiter::default();
        let said = Said {
            retry_after_s: Some(600.0),
            ..Said::default()
        };
        limiter.refused(post.bucket(), &said, Duration::ZERO);
        let mut at = |second| {
            let sorted = sort(&queue, &mut limiter, 0, Duration::from_secs(second));
            let of = |keys: Vec<Key>| keys.into_iter().map(|(_, no)| no).collect::<Vec<_>>();
            let back = of(sorted.back.iter().map(|(key, _)| *key).collect());
            (of(sorted.go), back, sorted.until.map(|at| at.as_secs()))
        };
        assert_eq!(at(1), (vec![1, 3], Vec::new(), Some(30)));
        assert_eq!(at(30), (vec![1, 3], vec![0, 2], None));
        // The channel is open again: what is old goes, too.
        assert!(at(600).1.is_empty());
    }

    /// Its desk would wait for it, and with it what is to be said there.
    #[test]
    fn no_look_waits_longer_than_a_new_message() {
        let look = |route| Errand {
            tag: Tag::Look(1),
            ..errand(route)
        };
        let (channel, before) = (4, None);
        let history = Route::History { channel, before };
        let mut limiter = Limiter::default();
        let said = Said {
            retry_after_s: Some(600.0),
            ..Said::default()
        };
        limiter.refused(history.bucket(), &said, Duration::ZERO);
        let queue = BTreeMap::from([((Lane::Escalation, 0), look(history))]);
        let early = sort(&queue, &mut limiter, 0, Duration::from_secs(1));
        assert_eq!(early.until, Some(QUEUED_MOST));
        let back = sort(&queue, &mut limiter, 0, QUEUED_MOST).back;
        assert_eq!(back.len(), 1);
    }

    #[test]
    fn a_new_message_goes_back_in_time_though_too_many_requests_hang() {
        let post = Route::Post { channel: 4 };
        let edit = Route::Edit {
            channel: 4,
            message: 7,
        };
        let routes = [post.clone(), edit, post];
        let queue: BTreeMap<Key, Errand> = routes
            .into_iter()
            .zip(0..)
            .map(|(route, no)| ((Lane::Escalation, no), errand(route)))
            .collect();
        let mut limiter = Limiter::default();
        let mut at = |second, flying| {
            let sorted = sort(&queue, &mut limiter, flying, Duration::from_secs(second));
            let of = |keys: Vec<Key>| keys.into_iter().map(|(_, no)| no).collect::<Vec<_>>();
            let back = of(sorted.back.iter().map(|(key, _)| *key).collect());
            let waits = sorted.back.iter().all(|(_, wait)| !wait.is_zero());
            assert!(waits, "it would come again at once");
            (of(sorted.go), back, sorted.until.map(|at| at.as_secs()))
        };
        assert_eq!(at(1, FLYING_MAX), (vec![], vec![], Some(30)));
        assert_eq!(at(30, FLYING_MAX), (vec![], vec![0, 2], None));
        // There is room for one.
        assert_eq!(at(2, FLYING_MAX - 1), (vec![0], vec![], Some(30)));
        assert_eq!(at(31, FLYING_MAX - 1), (vec![0], vec![2], None));
    }

    /// Answers and files never queue, so that no number of them holds up a call.
    #[tokio::test]
    async fn what_never_queues_keeps_nothing_in_the_queue() {
        let folder = std::path::PathBuf::new();
        let settings = Settings::new("t", "http://127.0.0.1:1", folder, None).unwrap();
        let http = Http::new(&settings.service, &settings.token).unwrap();
        let mut courier = Courier::new(Arc::new(http), Arc::default());
        let parcel = |route| Parcel {
            inbox: None,
            outputs: vec![Output::Send {
                tag: Tag::Row(1),
                request: errand(route).request,
            }],
        };
        for interaction in 0..FLYING_MAX as u64 {
            let token = Token("t".into());
            courier.take(parcel(Route::Callback { interaction, token }));
        }
        courier.take(parcel(Route::Post { channel: 4 }));
        courier.pump();
        assert!(courier.queue.is_empty(), "it waits");
        assert_eq!((courier.queued, courier.flying.len()), (1, FLYING_MAX + 1));
    }
}
