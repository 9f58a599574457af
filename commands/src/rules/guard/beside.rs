//! Who is meant by what stands beside a word: `Rose refused`, `Grace in 214`, `Long, Grace`, `R.T. slept`.
//!
//! Decides by verbs that only a person is the subject of, by beds, and by how a name is written. A word that means
//! something else as often needs more of it than a strange one, and what a thing does too counts for neither.

use super::words::{
    is_bodily, is_everyday, is_given_alike, is_given_name, is_personal, is_surname,
};
use super::{PERSON_BEFORE, Word, is_article};

/// What somebody is, behind "is" or "was".
const STATES: &[&str] = &[
    "asleep",
    "awake",
    "back",
    "upset",
    "sick",
    "ill",
    "tired",
    "crying",
    "sleeping",
    "sad",
    "scared",
    "hungry",
    "uncomfortable",
    "comfortable",
    "calm",
    "restless",
    "confused",
    "agitated",
    "gone",
    "dormida",
    "dormido",
    "despierta",
    "despierto",
    "enferma",
    "enfermo",
    "cansada",
    "cansado",
    "acostada",
    "acostado",
    "sentada",
    "sentado",
    "triste",
    "tranquila",
    "inquieta",
    "inquieto",
];

/// What may stand between a name and its verb.
const BETWEEN: &[&str] = &[
    "no", "se", "le", "lo", "la", "me", "ya", "just", "also", "again", "always", "never", "has",
    "had", "keeps", "kept",
];

/// `Will hit` and `May wet` are forms of other verbs as well.
const SAME_WITHOUT_ENDING: &[&str] = &["hit", "wet", "hurt"];

/// Letters that stand for a trade, an office or a part, and are nobody's initials.
const ABBREVIATIONS: &[&str] = &[
    "it", "hr", "ems", "evs", "don", "adon", "md", "np", "pa", "pt", "ot", "slp", "dme", "cms",
    "fda", "cdc", "lvn", "cma", "qa", "po", "pm", "am", "ac", "dc", "gm", "vp", "ups", "tv", "ok",
    "rcp", "uv", "cpu", "usb", "id", "dr",
];

/// Parts in three letters, which die as pumps do. What else is said of such letters is said of somebody.
const PARTS: &[&str] = &["psu", "pcb", "lcd", "rcd", "gfi"];

/// What has a colour: behind one of them, `blanca` is no name.
const COLOURED: &[&str] = &[
    "luz",
    "luces",
    "foco",
    "bombilla",
    "lampara",
    "led",
    "funda",
    "forro",
    "sabana",
    "sabanilla",
    "manta",
    "cobija",
    "toalla",
    "toallita",
    "manguera",
    "tubo",
    "cable",
    "correa",
    "cinta",
    "tela",
    "espuma",
    "etiqueta",
    "placa",
    "pantalla",
    "panel",
    "boton",
    "tapa",
    "agua",
    "crema",
    "pintura",
];

/// Whether the word at `index` is a person.
pub(super) fn is_person(words: &[Word<'_>], index: usize) -> bool {
    let Some(word) = words.get(index) else {
        return false;
    };
    // Most words of a note are neither capitalised nor like a name, and are told apart from one at once.
    let capital = word.text.starts_with(char::is_uppercase);
    if !(capital
        || is_single(word)
        || word.is_given_alike()
        || has_surname(word)
        || word.is_surname_alike())
    {
        return false;
    }
    acts(words, index)
        || has_surname(word)
            && (word.possessive || bed_at(words, index + 1) || is_bed_behind(words, index))
        || has_initials(words, index)
        || lies_in(words, index)
        || is_spoken_of(words, index)
        || is_called(words, index)
        || is_last_before_first(words, index)
        || is_spaced_out(words, index)
        || is_run_together(word)
}

/// `@janedoe`; not `@bedside`, `@rm12`, `@02:10`.
pub(super) fn has_handle(plain: &str, known: &[String]) -> bool {
    plain
        .split_whitespace()
        .filter_map(|piece| piece.trim_start_matches('(').strip_prefix('@'))
        .map(|handle| handle.trim_end_matches(|c: char| !c.is_alphabetic()))
        .any(|handle| {
            let lower = handle.to_lowercase();
            handle.chars().count() >= 4
                && handle
                    .chars()
                    .all(|c| c.is_alphanumeric() || matches!(c, '.' | '_'))
                && !is_everyday(&lower)
                && !known.contains(&lower)
        })
}

/// `Rose refused`, `smith wet the bed`, `Lupita movió`.
fn acts(words: &[Word<'_>], index: usize) -> bool {
    let Some(word) = words.get(index).filter(|word| !word.ends_phrase) else {
        return false;
    };
    let Some((verb, behind, reflexive)) = verb_after(words, index) else {
        return false;
    };
    let personal = is_personal(&verb.lower);
    let bodily = is_bodily(&verb.lower);
    if has_surname(word) {
        return personal || bodily;
    }
    let capital = word.is_title_case() || word.is_shouted();
    // A thing moves and comes off by itself, which Spanish says of it with "se".
    if word.is_title_case() && word.is_strange() && personal {
        return !(reflexive && matches!(verb.lower.as_str(), "movio" | "quito" | "tiro"));
    }
    let begins = previous(words, index).is_none_or(|before| before.ends_phrase);
    if word.is_surname_alike() && personal {
        return capital || begins;
    }
    if !word.is_given_alike()
        || word.lower == "luz" && is_of_a_light(&verb.lower, reflexive, capital)
    {
        return false;
    }
    // A cloth is wet, and wets nothing.
    let wets = word.is_strange()
        && matches!(
            verb.lower.as_str(),
            "wet" | "soiled" | "soaked" | "mojo" | "ensucio"
        )
        && behind
            .first()
            .is_some_and(|word| is_article(&word.lower) || is_owner(&word.lower))
        && previous(words, index).is_none_or(|before| !is_article(&before.lower));
    let auxiliary = matches!(word.lower.as_str(), "may" | "will")
        && SAME_WITHOUT_ENDING.contains(&verb.lower.as_str())
        && !is_done_by_people(&verb.lower, behind);
    // `Mark left on the cover`: what is also a thing leaves and needs.
    let of_things = is_everyday(&word.lower)
        && matches!(
            verb.lower.as_str(),
            "left" | "needs" | "moved" | "turned" | "removed"
        );
    personal && (capital || begins)
        || wets
        || bodily && capital && !auxiliary && !of_things
        || capital && is_in_state(words, index)
}

/// `Luz se apagó`, `luz dice error`; not `Luz se cayó`, although a light falls as well.
fn is_of_a_light(verb: &str, reflexive: bool, capital: bool) -> bool {
    match verb {
        "apago" | "solto" | "rompio" | "desconecto" | "movio" | "quito" | "tiro" => reflexive,
        "necesita" => true,
        "dice" => !capital,
        _of_somebody => false,
    }
}

/// `hit the call bell`, `wet her bed`, `hurt himself`; not `hit the wall`, which a pump may.
fn is_done_by_people(verb: &str, behind: &[Word<'_>]) -> bool {
    const BETWEEN_MAX: usize = 2;
    const PEOPLE: &[&str] = &[
        "me", "him", "her", "them", "himself", "herself", "someone", "somebody", "staff",
    ];
    const HIT: &[&str] = &["bell", "button", "buzzer", "nurse", "aide"];
    const WET: &[&str] = &[
        "bed", "sheet", "sheets", "linen", "linens", "pad", "gown", "pants",
    ];
    let done_to = match verb {
        "hit" => HIT,
        "wet" => WET,
        _to_people => &[],
    };
    let led = behind
        .iter()
        .take(BETWEEN_MAX)
        .take_while(|word| is_article(&word.lower) || is_owner(&word.lower) || word.lower == "call")
        .count();
    behind
        .first()
        .is_some_and(|word| PEOPLE.contains(&word.lower.as_str()))
        || behind
            .get(led)
            .is_some_and(|word| done_to.contains(&word.lower.as_str()))
}

/// Whose something is.
fn is_owner(lower: &str) -> bool {
    matches!(lower, "his" | "her" | "their" | "my" | "su" | "sus")
}

/// `luz blanca`, `agua clara`: a colour in small letters behind what has one, where nobody does anything.
pub(super) fn is_colour(words: &[Word<'_>], index: usize) -> bool {
    let (Some(word), Some(before)) = (words.get(index), previous(words, index)) else {
        return false;
    };
    let of_a_thing = matches!(word.text, "blanca" | "clara" | "rosa" | "celeste")
        && !word.possessive
        && COLOURED.contains(&before.lower.as_str())
        && !before.ends_phrase
        && !before.before_mark;
    if !of_a_thing {
        return false;
    }
    let does = verb_after(words, index)
        .is_some_and(|(verb, _, _)| is_personal(&verb.lower) || is_bodily(&verb.lower));
    let has_second_name = words.get(index + 1).is_some_and(|next| {
        !word.ends_phrase
            && (has_surname(next)
                || next.is_surname_alike()
                || next.is_title_case() && next.is_strange())
    });
    !does && !has_second_name && !is_in_state(words, index)
}

/// `Reed switch stuck`, which is a part; not `Reed switch to static`, where somebody is to be switched.
pub(super) fn is_reed_part(words: &[Word<'_>], index: usize) -> bool {
    let (Some(word), Some(part)) = (words.get(index), words.get(index + 1)) else {
        return false;
    };
    let is_part = word.lower == "reed"
        && !word.possessive
        && !word.ends_phrase
        && !word.before_mark
        && matches!(
            part.lower.as_str(),
            "switch" | "switches" | "sensor" | "sensors" | "relay" | "relays"
        );
    let before = previous(words, index);
    let of_somebody = before.is_some_and(|before| PERSON_BEFORE.contains(&before.lower.as_str()));
    let has_article = before.is_some_and(|before| is_article(&before.lower));
    let is_told = !part.ends_phrase
        && words.get(index + 2).is_some_and(|next| {
            matches!(
                next.lower.as_str(),
                "to" | "from"
                    | "over"
                    | "out"
                    | "on"
                    | "off"
                    | "with"
                    | "him"
                    | "her"
                    | "them"
                    | "bed"
                    | "beds"
                    | "room"
                    | "rooms"
            )
        });
    is_part && !of_somebody && (has_article || !is_told)
}

/// `Pearl is back`, `June is asleep`; not `June is back to normal`.
fn is_in_state(words: &[Word<'_>], index: usize) -> bool {
    let (Some(word), Some(is), Some(state)) =
        (words.get(index), words.get(index + 1), words.get(index + 2))
    else {
        return false;
    };
    let of_things = matches!(state.lower.as_str(), "back" | "gone" | "calm");
    (word.is_strange() || !of_things)
        && matches!(
            is.lower.as_str(),
            "is" | "was" | "esta" | "estaba" | "sigue"
        )
        && STATES.contains(&state.lower.as_str())
}

/// The verb of the word, past what may stand between, what stands behind it, and whether "se" does between.
fn verb_after<'a, 'b>(
    words: &'b [Word<'a>],
    index: usize,
) -> Option<(&'b Word<'a>, &'b [Word<'a>], bool)> {
    const BETWEEN_MAX: usize = 2;
    let mut reflexive = false;
    for at in index + 1..=index + 1 + BETWEEN_MAX {
        let word = words.get(at)?;
        if !BETWEEN.contains(&word.lower.as_str()) || word.ends_phrase {
            return Some((word, words.get(at + 1..).unwrap_or_default(), reflexive));
        }
        reflexive |= word.lower == "se";
    }
    None
}

/// `RT refused`, `J.R. no quiso`, `R.T. in 214`; not `CNA said`, `IT wants the tag`.
fn has_initials(words: &[Word<'_>], index: usize) -> bool {
    let Some(word) = words.get(index) else {
        return false;
    };
    let letters: String = word.lower.chars().filter(|c| *c != '.').collect();
    let dotted = letters.len() < word.lower.len();
    if !(2..=3).contains(&letters.len())
        || !word.text.chars().all(|c| c.is_uppercase() || c == '.')
        || word.known
        || is_everyday(&letters)
        || ABBREVIATIONS.contains(&letters.as_str())
    {
        return false;
    }
    let dies = |verb: &str| {
        !dotted && PARTS.contains(&letters.as_str()) && matches!(verb, "died" | "murio")
    };
    let speaks = verb_after(words, index).is_some_and(|(verb, _, _)| {
        is_personal(&verb.lower) && !dies(&verb.lower) && (dotted || !word.ends_phrase)
    });
    speaks || dotted && is_bed_behind(words, index)
}

/// `Grace in 214`, `Jesús en la 12`, `Pilar, cama 14`, `Tremblay 214B`; not `Rose Wing, bed 3`, `Luz en la 12`.
fn lies_in(words: &[Word<'_>], index: usize) -> bool {
    let Some(word) = words
        .get(index)
        .filter(|word| word.is_title_case() && !word.ends_phrase && word.lower != "luz")
    else {
        return false;
    };
    if word.is_strange()
        && !is_formed(&word.lower)
        && !is_quality(&word.lower)
        && is_lettered_bed(words, index + 1)
    {
        return true;
    }
    if word.is_given_alike() && word.is_strange() && bed_at(words, index + 1) {
        return true;
    }
    (word.is_given_alike() || word.is_strange() && !is_formed(&word.lower))
        && is_bed_behind(words, index)
}

/// `214B`, `room 7a`: a bed that nothing else is written like. `Firmware 214` and `Fuse 12V` are no beds.
fn is_lettered_bed(words: &[Word<'_>], index: usize) -> bool {
    let led = words.get(index).is_some_and(|word| {
        matches!(
            word.lower.as_str(),
            "bed" | "room" | "rm" | "cama" | "cuarto" | "habitacion" | "hab"
        )
    });
    let is_lettered = words.get(index + usize::from(led)).is_some_and(|word| {
        word.lower
            .strip_suffix(['a', 'b', 'c', 'd'])
            .is_some_and(|number| number.chars().all(|c| c.is_ascii_digit()))
    });
    is_lettered && bed_at(words, index)
}

/// `leaky`, `squeaky`, `wobbly`: an everyday word with "y" behind it.
fn is_quality(lower: &str) -> bool {
    lower
        .strip_suffix('y')
        .is_some_and(|stem| is_everyday(stem) || is_everyday(&format!("{stem}e")))
}

/// `in 214`, `en la 12`, `in room 7`.
fn is_bed_behind(words: &[Word<'_>], index: usize) -> bool {
    words
        .get(index + 1)
        .is_some_and(|word| matches!(word.lower.as_str(), "in" | "en"))
        && bed_at(words, index + 2)
}

/// Whether a bed is named from `index` on: up to three figures with up to one letter, and no measure.
fn bed_at(words: &[Word<'_>], index: usize) -> bool {
    const LEADING: &[&str] = &[
        "bed",
        "room",
        "rm",
        "cama",
        "cuarto",
        "habitacion",
        "hab",
        "la",
        "el",
        "the",
    ];
    const LEADING_MAX: usize = 2;
    const MEASURES: &[&str] = &[
        "s", "sec", "secs", "seconds", "segundos", "min", "mins", "minutes", "minutos", "h", "hr",
        "hrs", "hour", "hours", "horas", "day", "days", "dias", "week", "weeks", "semanas",
        "months", "meses", "mm", "cm", "in", "inches", "ft", "lb", "lbs", "kg", "psi", "steps",
        "pasos", "cycles", "ciclos", "degrees", "grados", "am", "pm", "of", "de", "ml", "v",
    ];
    let led = words
        .iter()
        .skip(index)
        .take(LEADING_MAX)
        .take_while(|word| LEADING.contains(&word.lower.as_str()))
        .count();
    let is_number = words.get(index + led).is_some_and(|word| {
        let letters = word.text.trim_start_matches(|c: char| c.is_ascii_digit());
        (1..=3).contains(&(word.text.len() - letters.len()))
            && letters.len() <= 1
            && letters.chars().all(|c| c.is_ascii_alphabetic())
    });
    is_number
        && !words
            .get(index + led + 1)
            .is_some_and(|word| MEASURES.contains(&word.lower.as_str()))
}

/// Formed as things and states are named: `Humidifier`, `Reseated`, `Reinflada`.
fn is_formed(lower: &str) -> bool {
    [
        "er", "ers", "or", "ors", "ed", "ing", "ion", "ment", "ness", "ado", "ada", "ido", "ida",
        "dor", "dora", "ero", "era", "ura",
    ]
    .iter()
    .any(|ending| lower.ends_with(ending))
}

/// `moved Grant to the chair`: a capital inside of a sentence, and no place before it.
fn is_spoken_of(words: &[Word<'_>], index: usize) -> bool {
    const PLACES: &[&str] = &[
        "to", "in", "from", "on", "at", "near", "of", "unit", "wing", "en", "de", "del", "desde",
        "unidad", "ala", "al",
    ];
    let (Some(word), Some(before)) = (words.get(index), previous(words, index)) else {
        return false;
    };
    word.is_given_alike()
        && word.is_strange()
        && word.is_title_case()
        && before.is_word()
        && before.text.chars().all(|c| !c.is_uppercase())
        && !before.ends_phrase
        && !before.before_mark
        && !PLACES.contains(&before.lower.as_str())
        && !is_article(&before.lower)
        && !is_of_a_tool(words, index)
}

/// `Allen key`, which is a tool.
fn is_of_a_tool(words: &[Word<'_>], index: usize) -> bool {
    words.get(index + 1).is_some_and(|next| {
        matches!(
            next.lower.as_str(),
            "key"
                | "keys"
                | "wrench"
                | "wrenches"
                | "bolt"
                | "bolts"
                | "screw"
                | "screws"
                | "socket"
        )
    })
}

/// `se llama Pilar`, `told Rose`; not `told Rose unit`, nor `for May`.
fn is_called(words: &[Word<'_>], index: usize) -> bool {
    const CALLED: &[&str] = &[
        "named",
        "llamada",
        "llamado",
        "told",
        "asked",
        "notified",
        "informed",
        "resident",
        "patient",
        "residente",
        "paciente",
        "daughter",
        "son",
        "hija",
        "hijo",
        "nurse",
        "aide",
    ];
    let (Some(word), Some(before)) = (words.get(index), previous(words, index)) else {
        return false;
    };
    if !word.is_title_case() || before.ends_phrase {
        return false;
    }
    let earlier = index.checked_sub(2).and_then(|at| words.get(at));
    let llama = matches!(before.lower.as_str(), "llama" | "llamaba")
        && earlier.is_some_and(|se| se.lower == "se");
    if llama {
        return word.is_strange() || word.is_given_alike();
    }
    let of_a_place = words.get(index + 1).is_some_and(|next| {
        matches!(
            next.lower.as_str(),
            "unit" | "wing" | "hall" | "floor" | "side"
        )
    });
    word.is_given_alike() && CALLED.contains(&before.lower.as_str()) && !of_a_place
}

/// `Long, Grace`: the first name last, and nothing behind it but a bed.
fn is_last_before_first(words: &[Word<'_>], index: usize) -> bool {
    let (Some(last), Some(first)) = (words.get(index), words.get(index + 1)) else {
        return false;
    };
    let closes = first.ends_phrase
        || first.before_mark
        || words
            .get(index + 2)
            .is_none_or(|next| next.text.starts_with(|c: char| c.is_ascii_digit()));
    last.before_mark
        && last.is_title_case()
        && first.is_title_case()
        && first.is_given_alike()
        && first.is_strange()
        && closes
}

/// `M a r y`.
fn is_spaced_out(words: &[Word<'_>], index: usize) -> bool {
    const LETTERS_MIN: usize = 3;
    if previous(words, index).is_some_and(is_single) {
        return false;
    }
    let letters: String = words
        .iter()
        .skip(index)
        .take_while(|word| is_single(word))
        .map(|word| word.lower.as_str())
        .collect();
    letters.len() >= LETTERS_MIN
        && (is_given_name(&letters) || is_surname(&letters) || is_given_alike(&letters))
}

/// `MarySmith`; not `LowAir`.
fn is_run_together(word: &Word<'_>) -> bool {
    if word.known || !word.is_title_case() {
        return false;
    }
    let inner_capital = word
        .text
        .char_indices()
        .skip(1)
        .find(|(_, c)| c.is_uppercase());
    let Some((first, second)) = inner_capital.map(|(at, _)| word.text.split_at(at)) else {
        return false;
    };
    [first, second].iter().any(|part| {
        let part = part.to_lowercase();
        is_given_name(&part) || is_surname(&part)
    })
}

fn is_single(word: &Word<'_>) -> bool {
    let mut letters = word.text.chars();
    letters.next().is_some_and(char::is_alphabetic) && letters.next().is_none()
}

/// A surname in small letters too: beside a verb of a person it is one.
fn has_surname(word: &Word<'_>) -> bool {
    !word.known && is_surname(&word.lower)
}

fn previous<'a, 'b>(words: &'b [Word<'a>], index: usize) -> Option<&'b Word<'a>> {
    index.checked_sub(1).and_then(|before| words.get(before))
}
