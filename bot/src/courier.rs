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
use crate::request::{Outcome, Request};

/// Parcels taken at once.
const TAKEN_MAX: usize = 64;
/// Requests on their way at once, besides those that never queue.
const FLYING_MAX: usize = 64;
/// After the last desk has gone, what is on its way is waited for this long.
const DRAIN: Duration = Duration::from_secs(5);

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
}

/// What a flight brings back.
enum Landed {
    Sent(Errand, Answered),
    Fetched(Option<Arc<Inbox>>, Input),
}

struct Courier {
    http: Arc<Http>,
    counters: Arc<Counters>,
    limiter: Limiter,
    queue: BTreeMap<(Lane, u64), Errand>,
    number: u64,
    flying: FuturesUnordered<BoxFuture<'static, Landed>>,
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
                    };
                    if errand.request.route.bucket().is_none() {
                        self.fly(errand);
                    } else {
                        self.number += 1;
                        self.queue
                            .insert((errand.request.lane, self.number), errand);
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

    /// Lets everything go that may; returns how long until more may.
    fn pump(&mut self) -> Option<Duration> {
        let now = clock::mono();
        let mut until: Option<Duration> = None;
        let mut shut: Vec<Bucket> = Vec::new();
        let mut go = Vec::new();
        for (key, errand) in &self.queue {
            if self.flying.len() + go.len() >= FLYING_MAX {
                break;
            }
            let Some(bucket) = errand.request.route.bucket() else {
                continue;
            };
            if shut.contains(&bucket) {
                continue;
            }
            match self.limiter.ask(bucket, now) {
                Ok(()) => go.push(*key),
                Err(at) => {
                    until = Some(until.map_or(at, |until| until.min(at)));
                    shut.push(bucket);
                }
            }
        }
        for key in go {
            if let Some(errand) = self.queue.remove(&key) {
                self.fly(errand);
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
                self.learn(&errand.request, &answered);
                let route = errand.request.route.name();
                self.counters.asked(route, &answered.outcome);
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

fn report(errand: Errand, outcome: Outcome) {
    let Errand {
        inbox,
        tag,
        request,
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
