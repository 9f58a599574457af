//! The part of the state that entries which were corrected leave. Decides that what such a record says stands is what
//! stands; leaves to `decide` what that is, and why.

use super::{Impossible, Recheck, State, impossible};
use crate::ids::RecordNo;
use crate::record::{New, Rebook, Record, Standing, Stands};
use crate::rules::turnover::{disinfects, filter_fit};

impl State {
    pub(super) fn amended(
        &mut self,
        record: &Record,
        entry: RecordNo,
        stands: &[Stands],
    ) -> Result<(), Impossible> {
        Self::is_earlier(record, entry)?;
        if let Some(one) = stands
            .iter()
            .find(|one| !self.surfaces.contains_key(&one.tag))
        {
            let tag = &one.tag;
            return Err(impossible(
                record,
                format!("what stands of {tag}, which is not in the register"),
            ));
        }
        for one in stands {
            self.stands(record, entry, one)?;
        }
        Ok(())
    }

    /// An entry that is named is in the log already.
    pub(super) fn is_earlier(record: &Record, entry: RecordNo) -> Result<(), Impossible> {
        if entry >= record.no || entry.0 == 0 {
            return Err(impossible(
                record,
                format!("entry {entry}, which is no earlier one"),
            ));
        }
        Ok(())
    }

    fn stands(&mut self, record: &Record, entry: RecordNo, one: &Stands) -> Result<(), Impossible> {
        let surface = self.surface_mut(record, &one.tag)?;
        surface.newest = record.no;
        // How it stood before an entry says nothing of what was corrected since.
        surface.before = None;
        let mut after = None;
        match &one.what {
            Standing::Checks { newest, line } => {
                surface.checks = newest.iter().cloned().collect();
                surface.line.stand(line.clone());
                after = newest.last().map(|check| check.judged);
            }
            Standing::Filter {
                last,
                changed,
                new,
                looks,
            } => {
                surface.filter.clone_from(last);
                surface.filter_renewed = *changed;
                match new {
                    New::On(day) => surface.filter_changed = Some(*day),
                    New::Unknown => surface.filter_changed = None,
                    // From before both were told apart: what was known of it, or what such entries meant.
                    New::Unsaid => {
                        surface.filter_changed = surface.filter_changed.min(*changed).or(*changed);
                    }
                }
                match looks {
                    Some(looks) => surface.filter_looks = looks.clone(),
                    // From before looks were kept: what was corrected says nothing any more.
                    None => surface.filter_looks.forget(entry),
                }
                let look = last.clone();
                surface.turn(record.at, |turnover| {
                    // One with a list goes by its steps.
                    if turnover.steps.is_empty() {
                        turnover.filter = look.is_some_and(|look| {
                            look.at >= turnover.since && filter_fit(look.finding, look.action)
                        });
                    }
                });
            }
            Standing::Cleaned { last } => {
                surface.cleaned.clone_from(last);
                let clean = last.clone();
                surface.turn(record.at, |turnover| {
                    if turnover.steps.is_empty() {
                        turnover.cleaned = clean.is_some_and(|clean| {
                            clean.at >= turnover.since && disinfects(clean.method, clean.cover)
                        });
                    }
                });
            }
        }
        match (one.recheck, after) {
            (Rebook::Stays, _) => {}
            (Rebook::At(due), Some(after)) => {
                let recheck = Recheck {
                    no: record.no,
                    due,
                    after,
                    asked: 0,
                    asked_at: None,
                };
                self.rechecks.insert(one.tag.clone(), recheck);
            }
            (Rebook::Drops | Rebook::At(_), _) => {
                self.rechecks.remove(&one.tag);
            }
        }
        Ok(())
    }
}
