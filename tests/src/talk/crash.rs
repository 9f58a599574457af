//! The power fails once, at each single place where it can. Decides what must be the same afterwards:
//! what the channels read, who was called, what each person was told. An answer may come late, as a
//! message to its person in the channel.

use std::collections::BTreeMap;
use std::time::Duration;

use anyhow::{Context, Result, ensure};
use commands::words::{self, Lang};

use super::chat::{Called, Look, Posted};
use super::show::Show;
use super::talker::Talk;
use super::world::{Trouble, World};

/// The conversations whose every commit and every request is tried, by file.
pub const NAMED: &[&str] = &[];

/// The program is up again before an answer is too late, or only after that.
const DOWN: [Duration; 2] = [Duration::from_millis(200), Duration::from_secs(5)];

/// Tries every place. Returns how many there are.
///
/// # Errors
/// The first place after which something is missing, doubled or different.
pub fn everywhere(talk: &mut Talk) -> Result<usize> {
    let (_, plain) = talk.run(Trouble::None)?;
    let wanted = End::of(&plain);
    let mut places: Vec<Trouble> = (1..=plain.commits).map(Trouble::CutCommit).collect();
    places.extend((1..=plain.chat.accepted).map(Trouble::CutRequest));
    for place in &places {
        for down in DOWN {
            talk.down(down);
            let (_, mut world) = talk.run(*place).with_context(|| format!("{place:?}"))?;
            ensure!(world.trouble == Trouble::None, "{place:?} never came");
            let end = End::of(&world);
            world
                .verify()
                .with_context(|| format!("{place:?}, down for {down:?}"))?;
            wanted
                .same(&end)
                .with_context(|| format!("{place:?}, down for {down:?}"))?;
        }
    }
    talk.down(DOWN[0]);
    Ok(places.len())
}

/// What can be read in the end.
#[derive(Debug, Default)]
struct End {
    /// In each channel, or by each person alone: what can be read, and who was called.
    shown: BTreeMap<(String, Called, String), usize>,
    /// Answers that came late, in a channel.
    late: BTreeMap<String, usize>,
}

impl End {
    fn of(world: &World) -> Self {
        let zone = world.zone();
        let show = Show {
            cast: &world.cast,
            zone: &zone,
        };
        let late = words::say(Lang::default(), "bot-answer-late", &[]);
        let mut end = Self::default();
        for one in &world.chat.messages {
            let look = |look: &Look| show.look(look, world.now()).join("\n");
            if let Some(answer) = late_answer(one, &late) {
                *end.late.entry(look(&answer)).or_default() += 1;
                continue;
            }
            let place = match one.only {
                Some(who) => world.cast.name(who).to_owned(),
                None => world.cast.channel_name(one.channel),
            };
            *end.shown
                .entry((place, one.called.clone(), look(&one.look)))
                .or_default() += 1;
        }
        end
    }

    /// Whether `other` shows all that this shows, each once: what is missing came late, and what is more than
    /// that is a card that a late answer could not take the place of.
    fn same(&self, other: &Self) -> Result<()> {
        let mut late = other.late.clone();
        let mut stale = late.values().sum::<usize>();
        for (shown, count) in &self.shown {
            for _ in other.shown.get(shown).copied().unwrap_or(0)..*count {
                let came = late.get_mut(&shown.2).filter(|left| **left > 0);
                *came.with_context(|| {
                    format!("missing in {} ({:?}):\n{}", shown.0, shown.1, shown.2)
                })? -= 1;
            }
        }
        for (shown, count) in &other.shown {
            let more = count.saturating_sub(self.shown.get(shown).copied().unwrap_or(0));
            ensure!(
                more <= stale && (more == 0 || shown.1 == Called::default()),
                "too much in {} ({:?}):\n{}",
                shown.0,
                shown.1,
                shown.2
            );
            stale -= more;
        }
        let left: Vec<&String> = late
            .iter()
            .filter(|(_, left)| **left > 0)
            .map(|(look, _)| look)
            .collect();
        // An answer whose place a later one took is in no end of the plain run.
        ensure!(
            left.len() <= stale + other.late.len(),
            "answers that nobody asked for: {left:?}"
        );
        Ok(())
    }
}

fn late_answer(one: &Posted, late: &str) -> Option<Look> {
    let rest = one.look.text.strip_prefix("<@")?;
    let (_, rest) = rest.split_once("> ")?;
    let text = rest.strip_prefix(late)?.strip_prefix('\n')?;
    Some(Look {
        text: text.to_owned(),
        ..one.look.clone()
    })
}
