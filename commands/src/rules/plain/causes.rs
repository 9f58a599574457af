//! What was wrong with a surface, where the message says it: a hose off, a plug out, a valve open, and whether it is put right.
//!
//! Decides which cause of the list that closes an alarm was named, from a part and what is said of it close by, and whether
//! it is said to be mended; what may be several causes is asked. Leaves what the panel says, and readings, to `checks`.
//! The words are *common practice*, from memory, as those of `words.txt` are.

use super::checks;
use super::names;
use super::sentence::Sentence;
use super::tokens::Kind;
use super::words::{self, Hit, Meaning};
use crate::choice::Cause;
use crate::rules::{guard, nearest};

/// How far what is said of a part may stand from it, in words.
const NEAR: usize = 4;
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
pub(super) struct Said {
    /// The causes that it may be, in the order of the list.
    pub among: Vec<Cause>,
    /// Whether it is said to be put right.
    pub mended: bool,
    /// The last piece that says what was wrong, and what was done about it.
    pub last: usize,
    /// Words that mean nothing here, once these have been read.
    pub unread: usize,
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
    let mut read = vec![false; of.tokens.len()];
    let mut among = Vec::new();
    let (joints, plug) = (states(of, APART), states(of, PULLED));
    let mended = mends(of, &mut read);
    let sounds = of.has_any(&[Meaning::Beeping, Meaning::Beeped, Meaning::Alarm])
        || !checks::kinds(of, true).is_empty();
    let mut take = |found: Option<Found>, causes: &[Cause]| {
        let Some(found) = found else { return };
        for at in found.part.into_iter().chain([found.state]) {
            if let Some(read) = read.get_mut(at) {
                *read = true;
            }
        }
        among.extend_from_slice(causes);
    };
    // What was mended with its own word was apart before: "reconnected the hose".
    let joined = states(of, MENDED);
    take(said(of, Part::Plug, &plug), &[Cause::Unplugged]);
    take(without_power(of), &[Cause::Unplugged]);
    take(
        said(of, Part::Hose, &joints).or_else(|| said(of, Part::Hose, &joined)),
        &[Cause::Hose],
    );
    let gone = of.has(Meaning::Cpr);
    let open = states(of, OPEN);
    let shut: Vec<usize> = states(of, CLOSED);
    take(
        said(of, Part::Valve, &open)
            .or_else(|| said(of, Part::Valve, &shut))
            .or_else(|| not_shut(of))
            // "CPR valve opened": that is what is done to it, in an emergency.
            .filter(|found| !gone && (mended || of.word(found.state) != Some("opened"))),
        &[Cause::CprValve],
    );
    take(
        said(of, Part::Setting, &states(of, WRONG)).or_else(|| left_static(of, mended)),
        &[Cause::WrongSetting],
    );
    let leaks = states(of, LEAKS);
    let burst = said(of, Part::Cell, &states(of, BURST));
    if mended || sounds {
        let leak = leaks.first().map(|at| Found {
            part: None,
            state: *at,
        });
        take(leak.or(burst), &[Cause::Leak]);
        // A cell that came off: nothing of the list says just that.
        take(
            said(of, Part::Cell, &joints).filter(|found| {
                !of.word(found.state)
                    .is_some_and(|word| BURST.contains(&word))
            }),
            &[Cause::Hose, Cause::Leak, Cause::Other],
        );
        take(blocked(of, sounds), &[Cause::Filter]);
    }
    let exchanged = said(of, Part::Pump, &states(of, EXCHANGED));
    let done = mended || exchanged.is_some();
    take(exchanged, &[Cause::Other]);
    // A bed that was moved pulled something: where that is named, it is that.
    if among.is_empty() && sounds {
        let moved = said(of, Part::Bed, &states(of, SHOVED));
        let mut take = |found: Option<Found>| {
            let Some(found) = found else { return };
            if let Some(read) = read.get_mut(found.state) {
                *read = true;
            }
            among.extend([Cause::Unplugged, Cause::Hose, Cause::Other]);
        };
        take(moved);
    }
    among.sort_unstable();
    among.dedup();
    if among.is_empty() {
        return None;
    }
    let last = (0..read.len()).rev().find(|at| read[*at]).unwrap_or(0);
    let valve_shut = among == [Cause::CprValve] && !shut.is_empty();
    let unread = unread(of, &read);
    Some(Said {
        mended: (done || valve_shut || changed_filter(of, &among)) && !undone(of),
        among,
        last,
        unread,
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

/// Whether it is said to be put right, in words that are marked as read.
fn mends(of: &Sentence<'_>, read: &mut [bool]) -> bool {
    let mut found = false;
    let mut mark = |start: usize, end: usize| {
        if (start..end).any(|at| denied(of, at)) {
            return;
        }
        found = true;
        for read in read.iter_mut().take(end).skip(start) {
            *read = true;
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

/// Words that mean nothing here, once the ones that name a cause are read.
fn unread(of: &Sentence<'_>, read: &[bool]) -> usize {
    let in_hit = |at: usize| {
        of.hits
            .iter()
            .any(|hit| (hit.start..hit.end).contains(&at) && hit.meaning != Meaning::Amount)
    };
    let in_name = |at: usize| {
        of.names
            .iter()
            .any(|name| (name.start..name.end).contains(&at))
    };
    let small = |at: usize| matches!(of.word(at), Some("one" | "two" | "uno" | "dos" | "came"));
    of.tokens
        .iter()
        .enumerate()
        .filter(|(at, token)| {
            let counts = !matches!(token.kind, Kind::Mark(_)) && !in_name(*at) && !small(*at);
            let known = read.get(*at).copied().unwrap_or(false) || part(of, *at).is_some();
            counts && !known && of.free(*at) && !in_hit(*at) && !names::is_marker(token)
        })
        .count()
}
