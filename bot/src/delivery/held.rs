//! A row on its way. Decides which request it makes next, how old its first try is, what stands above a message that is late
//! or may be a repeat, and which rows it lets pass; leaves what an outcome means to `delivery`.

use std::time::Duration;

use chrono::{DateTime, TimeDelta, Utc};
use commands::decision::PostKind;
use commands::message::Message;
use commands::words::{self, Lang};
use store::OutRow;

use super::alike::late_mark;
use crate::clock::Moment;
use crate::desk::Tag;
use crate::request::{Body, Request, Route};
use crate::wire::write;

/// For this long after the first try the platform knows a nonce: it says "the past few minutes".
pub(crate) const NONCE_LASTS: Duration = Duration::from_secs(90);
/// A message that goes out this long after it was written says so: the chat was gone, or the program, or the file came from
/// elsewhere. Nobody is called for something old as if it were new.
const LATE_AFTER: TimeDelta = TimeDelta::minutes(30);

/// A row of which the chat has not said yet what became of it.
#[derive(Debug)]
pub(super) struct Held {
    pub(super) row: OutRow,
    pub(super) stage: Stage,
    pub(super) first_try: DateTime<Utc>,
    /// The same as this run saw it, or when it took it over.
    pub(super) tried: Tried,
    pub(super) tries: u32,
    /// When this run last sent it, or took it over, by the chat's clock as `tried` has it: 0 is before anything was heard.
    pub(super) sent_ms: i64,
    /// That by the steady clock.
    pub(super) sent: Duration,
    /// It may have been made.
    pub(super) unsure: bool,
    /// It is looked for before it is sent, whatever a clock says.
    pub(super) looks: bool,
    /// Where the next page of its channel begins, and how many were read.
    pub(super) page: (Option<u64>, u32),
    /// How often in a row its channel could not be read back.
    pub(super) unread: u32,
}

/// When a row was first tried, whatever a clock shows.
#[derive(Clone, Copy, Debug)]
pub(super) struct Tried {
    /// The steady moment.
    pub(super) since: Duration,
    /// When it was first sent by the chat's own clock, in its milliseconds, or a little earlier; 0 where that is not known.
    pub(super) chat_ms: i64,
    /// Its channel could not be read back since, and it went out once more to be sure.
    pub(super) repeat: bool,
}

#[derive(Debug, PartialEq)]
pub(super) enum Stage {
    /// A request for it is on its way.
    Flying,
    /// Its channel is being read for it.
    Looking,
    /// Sent or looked for at this moment.
    Waits(Duration),
}

impl Held {
    /// Whose turn it is while this is on its way. A new message that failed lets the next ones pass, and so does one that is only
    /// looked for because a newer one took its place.
    pub(super) fn turn(&self) -> Option<Turn> {
        let passes = match self.stage {
            Stage::Waits(_) => self.tries > 0 || self.row.overtaken,
            Stage::Looking => self.row.overtaken,
            Stage::Flying => false,
        };
        let new = matches!(self.row.kind, PostKind::New);
        (!(passes && new)).then(|| Turn::of(&self.row))
    }

    /// Whether its channel is being read for it, or comes next.
    pub(super) fn is_looked_for(&self, now: Moment) -> bool {
        let new = matches!(self.row.kind, PostKind::New);
        match self.stage {
            Stage::Looking => true,
            Stage::Waits(_) => new && self.looks_first(now),
            Stage::Flying => false,
        }
    }

    fn looks_first(&self, now: Moment) -> bool {
        self.row.overtaken || self.looks || self.age(now) >= NONCE_LASTS
    }

    /// It goes on at once, and before what is newer.
    pub(super) fn takes_its_turn(&mut self, now: Moment) {
        self.row.attempts += std::mem::take(&mut self.tries);
        self.stage = Stage::Waits(now.mono);
    }

    /// How old its first try is. A step of the wall clock backwards must not make a nonce look young: the steady one knows better, as
    /// far as this run goes.
    pub(super) fn age(&self, now: Moment) -> Duration {
        let age = (now.wall - self.first_try).abs();
        let age = age.to_std().unwrap_or_default();
        age.max(now.mono.saturating_sub(self.tried.since))
    }

    pub(super) fn request(&self, id: i64, lang: Lang, now: Moment) -> (Tag, Request) {
        let row = &self.row;
        let lane = row.lane;
        if let (PostKind::Edit { .. }, Some((channel, message))) = (&row.kind, row.edit_message) {
            let route = Route::Edit {
                channel: channel.0,
                message,
            };
            return (
                Tag::Row(id),
                Request {
                    route,
                    body: write::edit(&row.message),
                    lane,
                },
            );
        }
        let channel = row.channel.0;
        if self.looks_first(now) {
            let before = self.page.0;
            let route = Route::History { channel, before };
            return (
                Tag::Look(id),
                Request {
                    route,
                    body: Body::Empty,
                    lane,
                },
            );
        }
        let body = match self.above(lang, now) {
            Some(message) => write::post(&message, &row.nonce, None),
            None => write::post(&row.message, &row.nonce, None),
        };
        (
            Tag::Row(id),
            Request {
                route: Route::Post { channel },
                body,
                lane,
            },
        )
    }

    /// The message with what stands above it, where something does: that it is late, and that it may be a repeat.
    fn above(&self, lang: Lang, now: Moment) -> Option<Message> {
        let repeat = self.tried.repeat;
        let repeat = repeat.then(|| words::say(lang, "bot-possible-repeat", &[]));
        let is_late = |at: DateTime<Utc>| now.facility - at >= LATE_AFTER;
        let late = self.row.entered.filter(|at| is_late(*at));
        let late = late.and_then(|_| late_mark(&self.row, lang));
        let marks: Vec<String> = late.into_iter().chain(repeat).collect();
        let mut message = (!marks.is_empty()).then(|| self.row.message.clone())?;
        message
            .text
            .insert_str(0, &format!("{}\n", marks.join("\n")));
        Some(message)
    }
}

/// What goes one after another: new messages of a channel, so that they are read in the order in which
/// they were written, and changes of a message.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Turn {
    Channel(u64),
    Message(String),
}

impl Turn {
    pub(super) fn of(row: &OutRow) -> Self {
        match &row.kind {
            PostKind::New => Self::Channel(row.channel.0),
            PostKind::Edit { of } => Self::Message(of.clone()),
        }
    }
}
