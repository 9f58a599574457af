//! Who stands on a timeline's sheet. Decides the number each gets there, in the order in which they appear, and that the key
//! leaves room for a name: no name is kept here, so whoever prints the sheet writes it in, and the chat tells them alone
//! who is who.

use std::collections::BTreeMap;

use super::super::draft::person;
use super::super::duty::role_word;
use super::super::paper::{self, html};
use super::Told;
use crate::ids::Person;
use crate::record::Record;
use crate::role::Role;
use crate::say;
use crate::words::Lang;

/// So many are named under the answer: the rest stand in the key by the chat's number.
const NAMED_MOST: usize = 12;

/// So many of them stand in one line.
const LINE_NAMES: usize = 3;

/// Everybody on one sheet.
pub(super) struct People {
    /// Each with the number they have there, and in which roles they entered something.
    all: Vec<(Person, Vec<Role>)>,
    numbers: BTreeMap<Person, usize>,
}

impl People {
    /// In the order in which they are read, the newest entry first.
    pub fn of(told: &Told<'_>) -> Self {
        let mut people = Self {
            all: Vec::new(),
            numbers: BTreeMap::new(),
        };
        for row in told.rows.iter().rev() {
            people.meet(row.entry.record);
            super::page::trail(row)
                .into_iter()
                .for_each(|record| people.meet(record));
        }
        people
    }

    fn meet(&mut self, record: &Record) {
        let Some(who) = record.who else { return };
        let next = self.all.len();
        let place = *self.numbers.entry(who).or_insert(next);
        if place == next {
            self.all.push((who, Vec::new()));
        }
        let Some((_, roles)) = self.all.get_mut(place) else {
            return;
        };
        if !roles.contains(&record.role) {
            roles.push(record.role);
        }
    }

    /// Who a record is from: `nurse (2)`.
    pub fn who(&self, lang: Lang, record: &Record) -> String {
        let place = record.who.and_then(|who| self.numbers.get(&who));
        match place {
            Some(place) => format!("{} ({})", role_word(lang, record.role), place + 1),
            None => "loftwatch".to_owned(),
        }
    }

    /// Under the answer, for its reader alone.
    pub fn on_phone(&self, lang: Lang) -> String {
        if self.all.is_empty() {
            return String::new();
        }
        let named = self.all.iter().take(NAMED_MOST).enumerate();
        let these: Vec<String> = named
            .map(|(place, (who, _))| format!("{} = {}", place + 1, person(*who)))
            .collect();
        // A phone cuts a long line of names, or breaks it within one.
        let lines: Vec<String> = these
            .chunks(LINE_NAMES)
            .map(|some| some.join(", "))
            .collect();
        format!(
            "\n{}",
            say!(lang, "timeline-who", these = lines.join(",\n"))
        )
    }

    /// The key on the sheet, with room for the names.
    pub fn key(&self, lang: Lang) -> String {
        let heads = [
            "timeline-col-number",
            "timeline-col-role",
            "timeline-col-chat",
            "timeline-col-name",
        ];
        let heads = paper::heads(lang, heads.iter().map(|key| say!(lang, key)));
        let rows = self
            .all
            .iter()
            .enumerate()
            .map(|(place, (Person(chat), roles))| {
                let roles: Vec<String> = roles.iter().map(|role| role_word(lang, *role)).collect();
                let roles = html(&roles.join(", "));
                let number = place + 1;
                format!("<tr><td>{number}</td><td>{roles}</td><td>{chat}</td><td></td></tr>\n")
            });
        let rows: String = rows.collect();
        format!("{heads}{rows}{}", paper::TABLE_END)
    }
}
