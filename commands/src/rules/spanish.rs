//! What a Spanish speaker types for a time, in the words that the readers of times know: `hace 20 min` is
//! `20 min ago`, `mañana a las 10:00` is `tomorrow at 10:00`, `cada 8 h desde las 07:00` is `every 8 h from 07:00`.
//!
//! Decides which words are Spanish; leaves what they mean to the readers. A reader comes here only with what it
//! cannot read itself, so no English text ever means something else because of this file. Accents may be left out.
//! Spanish time words: Real Academia Española, *Diccionario panhispánico de dudas*, "hora" (from memory).

/// Spanish words without accents, longest phrases first where one begins another, and ours for them.
const PHRASES: &[(&str, &str)] = &[
    ("a. m.", "am"),
    ("p. m.", "pm"),
    ("ahora mismo", "now"),
    ("ahorita", "now"),
    ("ahora", "now"),
    ("una hora y media", "1 h 30 min"),
    ("hora y media", "1 h 30 min"),
    ("media hora", "30 min"),
    ("una hora", "1 h"),
    ("un minuto", "1 min"),
    ("un dia", "1 day"),
    ("todos los dias", "daily"),
    ("cada dia", "daily"),
    ("a diario", "daily"),
    ("diario", "daily"),
    ("dias laborables", "weekdays"),
    ("laborables", "weekdays"),
    ("entre semana", "weekdays"),
    ("fines de semana", "weekends"),
    ("fin de semana", "weekends"),
    ("a las", "at"),
    ("a la", "at"),
    ("al mediodia", "noon"),
    ("a mediodia", "noon"),
    ("mediodia", "noon"),
    ("a medianoche", "midnight"),
    ("medianoche", "midnight"),
    ("dentro de", "in"),
    ("hasta las", "until"),
    ("hasta la", "until"),
    ("hasta el", "until"),
    ("hasta", "until"),
    ("durante", "for"),
    ("desde las", "from"),
    ("desde la", "from"),
    ("desde", "from"),
    ("cada", "every"),
    ("por", "for"),
    ("en", "in"),
    ("unos", ""),
    ("unas", ""),
    ("las", "at"),
    ("los", ""),
    ("el", ""),
    ("y", "and"),
    ("hoy", "today"),
    ("ayer", "yesterday"),
    ("manana", "tomorrow"),
    ("minuto", "min"),
    ("minutos", "min"),
    ("hora", "h"),
    ("horas", "h"),
    ("dia", "day"),
    ("dias", "days"),
    ("lunes", "monday"),
    ("lun", "monday"),
    ("martes", "tuesday"),
    ("miercoles", "wednesday"),
    ("mie", "wednesday"),
    ("jueves", "thursday"),
    ("jue", "thursday"),
    ("viernes", "friday"),
    ("vie", "friday"),
    ("sabado", "saturday"),
    ("sabados", "saturday"),
    ("sab", "saturday"),
    ("domingo", "sunday"),
    ("domingos", "sunday"),
    ("dom", "sunday"),
];

/// The text in our words, in lower case; `None` where no word of it is Spanish.
#[must_use]
pub(super) fn time(text: &str) -> Option<String> {
    let lower = text.to_lowercase();
    let words: Vec<String> = lower.split_whitespace().map(without_accents).collect();
    let mut rest: &[String] = &words;
    let mut said: Vec<String> = Vec::with_capacity(words.len());
    let mut spanish = false;
    // "Hace 20 min": ours stands behind.
    let ago = rest.first().is_some_and(|word| word == "hace");
    if ago {
        spanish = true;
        rest = rest.get(1..).unwrap_or_default();
    }
    while let Some(word) = rest.first() {
        if let Some((half, taken)) = half_of_day(rest, said.last().map(String::as_str)) {
            said.push(half?.to_owned());
            spanish = true;
            rest = rest.get(taken..).unwrap_or_default();
            continue;
        }
        if let Some((ours, taken)) = phrase(rest) {
            spanish = true;
            if !ours.is_empty() {
                said.push(ours.to_owned());
            }
            rest = rest.get(taken..).unwrap_or_default();
            continue;
        }
        // "13:40 h" is how Spanish writes a clock time; a span has no colon.
        let clock_behind = said.last().is_some_and(|before| before.contains(':'));
        if clock_behind && matches!(word.as_str(), "h" | "hs" | "hrs" | "h.") {
            spanish = true;
        } else {
            said.push(word.clone());
        }
        rest = rest.get(1..).unwrap_or_default();
    }
    if ago {
        said.push("ago".to_owned());
    }
    spanish.then(|| said.join(" "))
}

/// The first phrase of the list that these words begin with, and how many it takes.
fn phrase(words: &[String]) -> Option<(&'static str, usize)> {
    PHRASES.iter().find_map(|(theirs, ours)| {
        let mut count = 0;
        theirs
            .split(' ')
            .enumerate()
            .all(|(place, word)| {
                count = place + 1;
                words.get(place).is_some_and(|typed| {
                    typed == word || typed.trim_end_matches([',', '.']) == word
                })
            })
            .then_some((*ours, count))
    })
}

/// `de la mañana` and its like behind a clock time: which half of the day, and how many words it takes. The inner
/// `None` is an hour that nobody says so, or that could be either.
fn half_of_day(words: &[String], before: Option<&str>) -> Option<(Option<&'static str>, usize)> {
    let [de, la, part, ..] = words else {
        return None;
    };
    if (de.as_str(), la.as_str()) != ("de", "la") {
        return None;
    }
    let hour: Option<u32> = before
        .and_then(|clock| clock.split([':', '.']).next())
        .and_then(|hour| hour.parse().ok());
    let half = match (part.as_str(), hour) {
        ("madrugada", Some(12 | 1..=6)) | ("manana", Some(1..=11)) | ("noche", Some(12)) => {
            Some("am")
        }
        ("tarde", Some(12 | 1..=8)) | ("noche", Some(7..=11)) => Some("pm"),
        ("madrugada" | "manana" | "tarde" | "noche", _) => None,
        _another_word => return None,
    };
    Some((half, 3))
}

/// Text in small letters without its accents, as it is typed where a keyboard has none.
pub(crate) fn without_accents(lower: &str) -> String {
    lower
        .chars()
        .map(|c| match c {
            'á' | 'à' | 'â' | 'ä' | 'ã' => 'a',
            'é' | 'è' | 'ê' | 'ë' => 'e',
            'í' | 'ì' | 'î' | 'ï' => 'i',
            'ó' | 'ò' | 'ô' | 'ö' | 'õ' => 'o',
            'ú' | 'ù' | 'û' | 'ü' => 'u',
            'ñ' => 'n',
            'ç' => 'c',
            other => other,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn in_our_words() {
        for (theirs, ours) in [
            ("hace 20 min", "20 min ago"),
            ("Hace 20 minutos", "20 min ago"),
            ("hace unos 20 minutos", "20 min ago"),
            ("hace media hora", "30 min ago"),
            ("hace una hora y media", "1 h 30 min ago"),
            ("hace 1 hora y 30 minutos", "1 h and 30 min ago"),
            ("hace 2 días", "2 days ago"),
            ("hace 20", "20 ago"),
            ("ahora mismo", "now"),
            ("ayer 22:15", "yesterday 22:15"),
            ("ayer a las 22:15 h", "yesterday at 22:15"),
            ("hoy 07:10", "today 07:10"),
            ("mañana 10:00", "tomorrow 10:00"),
            ("manana a las 10:00", "tomorrow at 10:00"),
            ("mañana a las 10:00 de la mañana", "tomorrow at 10:00 am"),
            ("a la 1:40 de la tarde", "at 1:40 pm"),
            ("11:30 de la noche", "11:30 pm"),
            ("12:30 de la noche", "12:30 am"),
            ("1:40 p. m.", "1:40 pm"),
            ("hasta el lunes a las 10:00", "until monday at 10:00"),
            ("el miércoles", "wednesday"),
            ("dentro de 2 h", "in 2 h"),
            ("3 días", "3 days"),
            ("mañana al mediodía", "tomorrow noon"),
            ("cada 8 h desde las 07:00", "every 8 h from 07:00"),
            ("cada día 07:00", "daily 07:00"),
            ("días laborables 06:45", "weekdays 06:45"),
            ("lunes, jueves 09:00", "monday thursday 09:00"),
        ] {
            assert_eq!(time(theirs).as_deref(), Some(ours), "{theirs:?}");
        }
    }

    #[test]
    fn an_hour_that_could_be_either_is_not_taken() {
        for text in [
            "12:00 de la mañana",
            "3:00 de la noche",
            "9:00 de la tarde",
            "13:40 de la tarde",
            "mañana de la tarde",
        ] {
            assert_eq!(time(text), None, "{text:?}");
        }
    }

    proptest! {
        /// No word that the readers of times know is Spanish to us.
        #[test]
        fn english_is_left_as_it_is(
            text in "((now|just now|today|yesterday|tomorrow|noon|midnight|mon|tuesday|weds|sun|daily|weekdays|\
                weekend|every|from|at|on|in|for|about|until|til|ago|and|a|an|one|half|hour|minute|days|d|min|m|am|pm|\
                p\\.m\\.|[0-9]{1,2}:[0-9]{2}|[0-9]{1,4}|[0-9]{1,2}h|2026-03-09) ){0,8}"
        ) {
            prop_assert_eq!(time(&text), None);
        }

        #[test]
        fn no_text_stops_it(text in "\\PC{0,50}") {
            let _ = time(&text);
        }
    }
}
