//! What was wrong with a surface, where the message says it: a hose off, a plug out, a valve open, and whether it is put right.
//!
//! Decides which cause of the list that closes an alarm was named, from a part and what is said of it close by, and whether
//! it is said to be mended; what may be several causes is asked. Leaves what the panel says, and readings, to `checks`.
//! The words are *common practice*, from memory, as those of `words.txt` are.

use super::checks;
use super::sentence::Sentence;
use super::tokens::Kind;
use super::words::{self, Hit, Meaning};
use crate::choice::Cause;
use crate::rules::{guard, nearest};

/// How far what is said of a part may stand from it, in words.
const NEAR: usize = 6;
/// Words shorter than this have no slips.
const SLIP_LETTERS_MIN: usize = 4;

/// What can be wrong with a surface, as a word names it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Part {
    Hose,
    Plug,
    Valve,
    Setting,
    Cell,
    Pump,
    Bed,
    /// Something that none of these words is said of.
    Else,
}

const PARTS: &[(Part, &[&str])] = &[
    (
        Part::Hose,
        &[
            "hose",
            "hoses",
            "tubing",
            "tube",
            "tubes",
            "connector",
            "connectors",
            "coupling",
            "fitting",
            "manguera",
            "mangueras",
            "conector",
            "conectores",
            "acople",
        ],
    ),
    (Part::Plug, &["plug", "cord", "enchufe", "cable", "clavija"]),
    (Part::Valve, &["valve", "valves", "valvula", "valvulas"]),
    (
        Part::Setting,
        &[
            "setting", "settings", "mode", "dial", "knob", "ajuste", "ajustes", "modo", "perilla",
        ],
    ),
    (Part::Cell, &["cell", "cells", "celda", "celdas"]),
    (
        Part::Pump,
        &["pump", "compressor", "motor", "bomba", "compresor"],
    ),
    (Part::Bed, &["bed", "cama"]),
    (
        Part::Else,
        &[
            "cover", "sheet", "sheets", "pad", "pads", "rail", "rails", "brake", "brakes", "light",
            "lights", "filter", "filtro", "funda", "sabana", "barandal", "luz", "luces", "wheel",
            "alarm", "alarma",
        ],
    ),
];

/// A joint that came apart, or through which nothing goes.
const APART: &[&str] = &[
    "off",
    "loose",
    "undone",
    "kinked",
    "kink",
    "kinks",
    "pinched",
    "crimped",
    "bent",
    "twisted",
    "disconnected",
    "unhooked",
    "unclipped",
    "unsnapped",
    "unplugged",
    "popped",
    "detached",
    "apart",
    "crushed",
    "squished",
    "squeezed",
    "slipped",
    "unattached",
    "fell",
    "out",
    "dislodged",
    "stepped",
    "backwards",
    "zafo",
    "zafaron",
    "zafada",
    "zafadas",
    "zafado",
    "suelta",
    "sueltas",
    "suelto",
    "solto",
    "soltaron",
    "floja",
    "flojas",
    "flojo",
    "aflojo",
    "doblada",
    "dobladas",
    "doblado",
    "doblo",
    "torcida",
    "torcido",
    "salio",
    "salieron",
    "salida",
    "salido",
    "cayo",
    "caida",
    "desconectada",
    "desconectado",
    "desconecto",
    "desconectadas",
    "desprendio",
    "desprendida",
    "aplastada",
    "aplastado",
    "pisada",
    "prensada",
    "desenganchada",
    "desengancho",
];

/// A plug that is not where it belongs.
const PULLED: &[&str] = &[
    "out",
    "loose",
    "pulled",
    "kicked",
    "fell",
    "yanked",
    "unplugged",
    "disconnected",
    "knocked",
    "off",
    "salio",
    "fuera",
    "suelto",
    "zafo",
    "zafado",
    "flojo",
    "desconectado",
    "desconecto",
    "jalaron",
    "cayo",
    "solto",
];

/// A valve through which air goes.
const OPEN: &[&str] = &[
    "open", "opened", "loose", "popped", "out", "off", "pulled", "undone", "ajar", "cracked",
    "abierta", "abierto", "abrio", "suelta", "zafada", "zafo", "salio", "floja", "jalada",
];

const WRONG: &[&str] = &[
    "wrong",
    "incorrect",
    "bumped",
    "mal",
    "equivocado",
    "equivocada",
    "incorrecto",
    "incorrecta",
];

/// Air goes out where it should not.
const LEAKS: &[&str] = &[
    "leak",
    "leaks",
    "leaking",
    "leaky",
    "hole",
    "puncture",
    "punctured",
    "fuga",
    "fugas",
    "agujero",
    "hoyo",
    "ponchada",
    "ponchado",
    "pinchada",
    "pinchado",
];

const BURST: &[&str] = &[
    "burst",
    "blown",
    "torn",
    "busted",
    "popped",
    "rota",
    "reventada",
    "revento",
    "rompio",
];

/// Another one went in.
const EXCHANGED: &[&str] = &[
    "swapped",
    "replaced",
    "changed",
    "exchanged",
    "new",
    "cambie",
    "cambio",
    "cambiada",
    "cambiamos",
    "reemplace",
    "nueva",
    "nuevo",
];

const SHOVED: &[&str] = &[
    "moved",
    "bumped",
    "hit",
    "pushed",
    "shoved",
    "movieron",
    "movio",
    "movimos",
    "golpeo",
    "empujaron",
];

/// A word that says by itself that a part was put right.
const MENDED: &[&str] = &[
    "reconnected",
    "reattached",
    "rehooked",
    "tightened",
    "retightened",
    "unkinked",
    "straightened",
    "patched",
    "sealed",
    "taped",
    "reseated",
    "refastened",
    "resnapped",
    "reconecte",
    "reconectada",
    "reconectado",
    "apriete",
    "aprete",
    "enderece",
    "desdoble",
    "acomode",
    "parche",
    "selle",
    "reconectamos",
    "conectamos",
    "arreglamos",
];

/// Of a hose that is put right, such words say that it was off.
const JOINED: &[&str] = &[
    "connected",
    "attached",
    "hooked",
    "pushed",
    "put",
    "snapped",
    "conecte",
    "meti",
    "puse",
    "volvi",
    "conectar",
];

/// The same of a valve.
const CLOSED: &[&str] = &["closed", "shut", "cerre", "cerramos", "cerrada", "cerrado"];

/// Such words in a row say it too.
const MENDS: &[&[&str]] = &[
    &["back", "on"],
    &["back", "in"],
    &["back", "up"],
    &["back", "together"],
    &["on", "again"],
    &["in", "again"],
    &["pushed", "it"],
    &["pushed", "back"],
    &["put", "it", "back"],
    &["put", "them", "back"],
    &["hooked", "it"],
    &["hooked", "back"],
    &["hooked", "up"],
    &["plugged", "it"],
    &["plugged", "back"],
    &["plugged", "in"],
    &["snapped", "back"],
    &["clicked", "back"],
    &["set", "it", "back"],
    &["set", "back"],
    &["back", "to", "alternating"],
    &["put", "back"],
    &["fixed", "it"],
    &["fixd", "it"],
    &["la", "puse"],
    &["lo", "puse"],
    &["las", "puse"],
    &["la", "volvi"],
    &["lo", "volvi"],
    &["volvi", "a"],
    &["ya", "la"],
    &["ya", "lo"],
    &["la", "conecte"],
    &["lo", "conecte"],
    &["la", "meti"],
    &["lo", "meti"],
    &["ya", "esta", "puesta"],
    &["ya", "esta", "conectada"],
    &["de", "vuelta"],
    &["en", "su", "lugar"],
    &["conecte", "la"],
    &["conecte", "el"],
];

/// Said to be over in these words, only the noise is over, or nothing was wrong.
const ONLY_QUIET: &[&str] = &[
    "false",
    "falsa",
    "silenced",
    "muted",
    "silenciado",
    "silenciada",
    "alarm",
    "quiet",
    "longer",
    "anymore",
    "more",
    "went",
    "shut",
    "paro",
    "no",
    "cleared",
    "clear",
    "got",
];

/// In such words a loss of power names the plug.
const PLUG_WORDS: &[&str] = &[
    "unplugged",
    "plugged",
    "plug",
    "cord",
    "enchufada",
    "enchufado",
    "enchufe",
    "cable",
    "desenchufado",
    "desenchufada",
    "desenchufo",
    "desconectado",
    "desconectada",
    "desconecto",
    "conectada",
    "conectado",
];

/// What a message says of the cause.
#[derive(Debug)]
pub(super) struct Said {
    /// The causes that it may be, in the order of the list.
    pub among: Vec<Cause>,
    /// Whether it is said to be put right.
    pub mended: bool,
    /// The pieces that say what was wrong, and what was done about it.
    pub read: Vec<usize>,
}

impl Said {
    /// The last piece that says it: what stands behind it is of afterwards.
    pub fn last(&self) -> usize {
        self.read.iter().copied().max().unwrap_or(0)
    }
}

/// What the message says of the cause of something that is wrong; none where it says nothing of it.
pub(super) fn of(of: &Sentence<'_>) -> Option<Said> {
    if of.has_any(&[
        Meaning::Hot,
        Meaning::Wet,
        Meaning::LookFirst,
        Meaning::Other,
    ]) {
        return None;
    }
    let mut among = Vec::new();
    let mut read = mends(of);
    let mended = !read.is_empty();
    let mut take = |found: Option<Found>, causes: &[Cause]| {
        if let Some(found) = found {
            read.extend(found.part);
            read.push(found.state);
            among.extend_from_slice(causes);
        }
    };
    let joints = states(of, APART);
    take(
        said(of, Part::Plug, &states(of, PULLED))
            .or_else(|| without_power(of))
            .or_else(|| unplugged(of)),
        &[Cause::Unplugged],
    );
    take(switched_off(of), &[Cause::SwitchedOff]);
    // What was mended with a word for a joint was apart before: "reconnected the hose".
    let joined = || {
        states(of, JOINED)
            .into_iter()
            .chain(states(of, MENDED))
            .collect::<Vec<_>>()
    };
    take(
        said(of, Part::Hose, &joints)
            .or_else(|| said(of, Part::Hose, &joined()).filter(|_| mended))
            .or_else(|| said(of, Part::Hose, &slips_off(of))),
        &[Cause::Hose],
    );
    let shut = said(of, Part::Valve, &states(of, CLOSED));
    let open = said(of, Part::Valve, &states(of, OPEN))
        .or(shut)
        .or_else(|| not_shut(of))
        // "CPR valve opened": that is what is done to it, in an emergency.
        .filter(|found| {
            let done = mended || shut.is_some();
            !in_emergency(of) && (done || of.word(found.state) != Some("opened"))
        });
    take(open, &[Cause::CprValve]);
    let shut = of_valve_shut(of, open);
    take(shut, &[]);
    take(
        said(of, Part::Setting, &states(of, WRONG)).or_else(|| left_static(of, mended)),
        &[Cause::WrongSetting],
    );
    let sounds = of.has_any(&[Meaning::Beeping, Meaning::Beeped, Meaning::Alarm])
        || !checks::kinds(of, true).is_empty();
    if mended || sounds {
        let burst: Vec<usize> = states(of, BURST)
            .into_iter()
            .filter(|at| !of.word(at + 1).is_some_and(|word| APART.contains(&word)))
            .collect();
        let leak = states(of, LEAKS).first().map(|at| Found {
            part: None,
            state: *at,
        });
        let burst = said(of, Part::Cell, &burst);
        take(leak.or(burst), &[Cause::Leak]);
        // A cell that came off: nothing of the list says just that.
        if burst.is_none() {
            let came_off = said(of, Part::Cell, &joints);
            take(came_off, &[Cause::Hose, Cause::Leak, Cause::Other]);
        }
    }
    take(blocked(of, sounds), &[Cause::Filter]);
    if let Some((found, cause)) = named(of) {
        take(Some(found), &[cause]);
    }
    let exchanged = said(of, Part::Pump, &states(of, EXCHANGED));
    take(exchanged, &[Cause::Other]);
    // A bed that was moved pulled something: where that is named, it is that.
    if among.is_empty() && sounds {
        let found = said(of, Part::Bed, &states(of, SHOVED));
        if let Some(found) = found {
            read.push(found.state);
            among.extend([Cause::Unplugged, Cause::Hose, Cause::Other]);
        }
    }
    among.sort_unstable();
    among.dedup();
    if among.is_empty() {
        return None;
    }
    let done = mended || exchanged.is_some() || shut.is_some() || changed_filter(of, &among);
    Some(Said {
        mended: done && !undone(of),
        among,
        read,
    })
}

/// A part and what is said of it.
#[derive(Clone, Copy)]
struct Found {
    part: Option<usize>,
    state: usize,
}

/// Whether this piece is one of these words, or a slip of just one of them.
fn is(of: &Sentence<'_>, at: usize, list: &[&str]) -> bool {
    let Some(token) = of.tokens.get(at).filter(|token| token.kind == Kind::Word) else {
        return false;
    };
    let typed = token.text.as_str();
    if list.contains(&typed) || of.word(at).is_some_and(|word| list.contains(&word)) {
        return true;
    }
    let known = words::vocabulary().has(typed)
        || of.word(at) != Some(typed)
        || guard::is_word(typed)
        || typed.chars().count() < SLIP_LETTERS_MIN;
    !known && !nearest::slips(typed, list.iter().copied()).is_empty()
}

/// Where such words stand that are not denied.
fn states(of: &Sentence<'_>, list: &[&str]) -> Vec<usize> {
    (0..of.tokens.len())
        .filter(|at| is(of, *at, list) && !denied(of, *at))
        .collect()
}

fn denied(of: &Sentence<'_>, at: usize) -> bool {
    of.denied(&Hit {
        meaning: Meaning::NotWorking,
        start: at,
        end: at + 1,
    })
}

/// What part this piece names. A cap is the valve's, and so is what is said to be of it.
fn part(of: &Sentence<'_>, at: usize) -> Option<Part> {
    let beside = |words: &[&str]| {
        [
            at.checked_sub(1),
            at.checked_sub(2),
            Some(at + 1),
            Some(at + 2),
        ]
        .into_iter()
        .flatten()
        .any(|at| of.word(at).is_some_and(|word| words.contains(&word)))
    };
    const OF_VALVE: &[&str] = &[
        "plug", "cap", "tag", "strap", "handle", "release", "tapon", "tapa", "enchufe",
    ];
    if is(of, at, OF_VALVE) && beside(&["cpr", "rcp"]) {
        return Some(Part::Valve);
    }
    // "Bed 103" is where it is, not what was moved.
    let named = of
        .names
        .iter()
        .any(|name| name.start == at + 1 || (name.start..name.end).contains(&at));
    PARTS
        .iter()
        .find(|(part, list)| is(of, at, list) && !(*part == Part::Bed && named))
        .map(|(part, _)| *part)
}

/// How many words stand between two pieces; none where a thought ends between them.
fn apart(of: &Sentence<'_>, a: usize, b: usize) -> Option<usize> {
    let (from, to) = (a.min(b) + 1, a.max(b));
    let mut words = 0;
    for at in from..to {
        let token = of.tokens.get(at)?;
        if token.is_break() {
            return None;
        }
        let named = of
            .names
            .iter()
            .any(|name| (name.start..name.end).contains(&at));
        if !named && !matches!(token.kind, Kind::Mark(_)) {
            words += 1;
        }
    }
    Some(words)
}

/// The first of these words that is said of this part, and of no other that stands nearer.
fn said(of: &Sentence<'_>, wanted: Part, states: &[usize]) -> Option<Found> {
    states.iter().find_map(|state| {
        let (at, nearest, _) = (0..of.tokens.len())
            .filter(|at| at != state)
            .filter_map(|at| {
                let part = part(of, at)?;
                let words = apart(of, at, *state).filter(|words| *words < NEAR)?;
                // Of two that are as near, the one in front is meant.
                Some((at, part, (words, at > *state)))
            })
            .min_by_key(|(_, _, near)| *near)?;
        (nearest == wanted).then_some(Found {
            part: Some(at),
            state: *state,
        })
    })
}

/// "Unplugged", "not plugged in": a loss of power that names the plug.
fn without_power(of: &Sentence<'_>) -> Option<Found> {
    of.hits
        .iter()
        .filter(|hit| hit.meaning == Meaning::NoPower && !of.denied(hit))
        .find_map(|hit| {
            let at = (hit.start..hit.end)
                .find(|at| of.word(*at).is_some_and(|word| PLUG_WORDS.contains(&word)))?;
            // "The hose was disconnected."
            let of_hose = said(of, Part::Hose, &[at]).is_some();
            (!of_hose).then_some(Found {
                part: None,
                state: at,
            })
        })
}

/// "The valve was not closed."
fn not_shut(of: &Sentence<'_>) -> Option<Found> {
    let shut: Vec<usize> = (0..of.tokens.len())
        .filter(|at| is(of, *at, CLOSED) && denied(of, *at))
        .collect();
    said(of, Part::Valve, &shut)
}

/// "Was left on static, put it back to alternating."
fn left_static(of: &Sentence<'_>, mended: bool) -> Option<Found> {
    let at = of.first(Meaning::Static)?.start;
    let left = (0..of.tokens.len()).any(|at| {
        matches!(
            of.word(at),
            Some("left" | "stuck" | "was" | "found" | "dejaron" | "estaba" | "quedo")
        )
    });
    (left && mended).then_some(Found {
        part: None,
        state: at,
    })
}

/// A filter through which no air came: a cause only where something else was wrong.
fn blocked(of: &Sentence<'_>, sounds: bool) -> Option<Found> {
    let noun = (0..of.tokens.len()).find(|at| is(of, *at, &["filter", "filtro"]))?;
    let wrong = sounds || of.has_any(&[Meaning::Low, Meaning::Stopped]);
    let dirty = of
        .hits
        .iter()
        .find(|hit| matches!(hit.meaning, Meaning::Clogged | Meaning::Dirty) && !of.denied(hit))?;
    (wrong && apart(of, noun, dirty.start).is_some()).then_some(Found {
        part: Some(noun),
        state: dirty.start,
    })
}

/// A filter that was changed or rinsed is put right.
fn changed_filter(of: &Sentence<'_>, among: &[Cause]) -> bool {
    among == [Cause::Filter]
        && of.has_any(&[
            Meaning::Replaced,
            Meaning::Rinsed,
            Meaning::Washed,
            Meaning::Cleaned,
        ])
}

/// The pieces that say that it is put right.
fn mends(of: &Sentence<'_>) -> Vec<usize> {
    let mut found = Vec::new();
    let mut mark = |start: usize, end: usize| {
        let off = of.hits.iter().any(|hit| {
            let covers = (start..end).any(|at| (hit.start..hit.end).contains(&at));
            covers && matches!(hit.meaning, Meaning::NoPower | Meaning::CannotCheck)
        });
        if !off && !(start..end).any(|at| denied(of, at)) {
            found.extend(start..end);
        }
    };
    for hit in &of.hits {
        let quiet = (hit.start..hit.end)
            .any(|at| of.word(at).is_some_and(|word| ONLY_QUIET.contains(&word)));
        if hit.meaning == Meaning::Over && !quiet {
            mark(hit.start, hit.end);
        }
    }
    for at in 0..of.tokens.len() {
        if is(of, at, MENDED) {
            mark(at, at + 1);
        }
        for phrase in MENDS {
            let said = phrase
                .iter()
                .enumerate()
                .all(|(place, word)| of.word(at + place) == Some(*word));
            if said {
                mark(at, at + phrase.len());
            }
        }
    }
    found
}

/// "The hose will not stay on."
fn slips_off(of: &Sentence<'_>) -> Vec<usize> {
    const STAYS: &[&str] = &["stay", "stays", "staying", "queda", "quedan"];
    (0..of.tokens.len())
        .filter(|at| is(of, *at, STAYS) && denied(of, *at))
        .collect()
}

/// "It was the hose."
fn named(of: &Sentence<'_>) -> Option<(Found, Cause)> {
    const WORDS_BETWEEN_MAX: usize = 2;
    let was = |at: &usize| {
        matches!(
            of.word(*at),
            Some("was" | "era" | "fue" | "cause" | "causa")
        )
    };
    (0..of.tokens.len()).filter(was).find_map(|was| {
        (was + 1..=was + 1 + WORDS_BETWEEN_MAX).find_map(|at| {
            let article = matches!(
                of.word(at.checked_sub(1)?),
                Some("the" | "la" | "el" | "just")
            );
            let cause = match part(of, at) {
                Some(Part::Hose) => Cause::Hose,
                Some(Part::Plug) => Cause::Unplugged,
                Some(Part::Valve) => Cause::CprValve,
                Some(Part::Setting) => Cause::WrongSetting,
                _ if is(of, at, &["filter", "filtro"]) => Cause::Filter,
                _another => return None,
            };
            let found = Found {
                part: Some(at),
                state: was,
            };
            (article && apart(of, was, at).is_some() && !denied(of, at)).then_some((found, cause))
        })
    })
}

/// "Code blue": its valve was opened on purpose. "The CPR cap came off" only names the valve.
fn in_emergency(of: &Sentence<'_>) -> bool {
    let only_named = (0..of.tokens.len()).any(|at| part(of, at) == Some(Part::Valve));
    of.hits.iter().any(|hit| {
        let name = matches!(of.word(hit.start), Some("cpr" | "rcp"));
        hit.meaning == Meaning::Cpr && !(name && only_named)
    })
}

/// "Closed it", behind a valve that was open.
fn of_valve_shut(of: &Sentence<'_>, open: Option<Found>) -> Option<Found> {
    open?;
    let shut = states(of, CLOSED);
    shut.first().map(|at| Found {
        part: None,
        state: *at,
    })
}

/// Whoever it was, somebody did it: "the family turned it off". What turned itself off is no cause.
fn switched_off(of: &Sentence<'_>) -> Option<Found> {
    const DOES: &[&str] = &["turned", "switched", "shut"];
    const SOMEBODY: &[&str] = &[
        "someone",
        "somebody",
        "they",
        "family",
        "housekeeping",
        "visitor",
        "daughter",
        "son",
        "wife",
        "husband",
        "resident",
        "who",
        "alguien",
        "familia",
        "limpieza",
    ];
    let words = 0..of.tokens.len();
    let says = |list: &[&str], at: usize| of.word(at).is_some_and(|word| list.contains(&word));
    let somebody = words.clone().any(|at| says(SOMEBODY, at));
    let itself = words
        .clone()
        .any(|at| says(&["itself", "alarm", "alarma", "sola", "solo"], at));
    let passive = of.hits.iter().find_map(|hit| {
        let switched = (hit.start..hit.end).any(|at| says(&["switched"], at));
        (hit.meaning == Meaning::NoPower && switched && !of.denied(hit)).then_some(hit.start)
    });
    let active = words.clone().find(|at| {
        let off = (*at + 1..=*at + NEAR).any(|at| says(&["off"], at));
        let english = says(DOES, *at) && off && somebody;
        let spanish = says(&["apagaron"], *at) || says(&["apago"], *at) && somebody;
        (english || spanish) && !denied(of, *at)
    });
    let state = passive.or(active).filter(|_| !itself)?;
    Some(Found { part: None, state })
}

/// The word alone, with its slips.
fn unplugged(of: &Sentence<'_>) -> Option<Found> {
    const UNPLUGGED: &[&str] = &[
        "unplugged",
        "desenchufada",
        "desenchufado",
        "desenchufo",
        "desenchufaron",
    ];
    let found = states(of, UNPLUGGED);
    let state = *found
        .iter()
        .find(|at| said(of, Part::Hose, &[**at]).is_none())?;
    Some(Found { part: None, state })
}

/// "Will not stay on", "keeps coming off", "somebody put it back on": it is not right, or not yet.
fn undone(of: &Sentence<'_>) -> bool {
    let keeps = (0..of.tokens.len()).any(|at| {
        matches!(
            of.word(at),
            Some("keeps" | "still" | "sigue" | "todavia" | "aun")
        )
    });
    keeps || of.has_any(&[Meaning::NotYet, Meaning::CannotCheck])
}
