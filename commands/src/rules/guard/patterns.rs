//! The patterns of the privacy guard: forms that numbers, dates, addresses and conditions have.
//!
//! Patterns are in lower case and know ASCII letters only (the text is lowered and loses its accents first, and
//! `compile` narrows the classes): with the whole of Unicode the set takes tens of milliseconds and megabytes to
//! build. Spanish ones stand behind the English of their kind.

use std::sync::LazyLock;

use regex::{Regex, RegexSet};

use super::{Field, Found};
use crate::rules::spanish::without_accents;

/// Patterns by kind, in the order in which kinds are told.
const PATTERNS: &[(Found, &str)] = &[
    (
        Found::Email,
        r"[a-z0-9._%+-]+ ?@ ?[a-z0-9-]+\.[a-z]{2,}|[a-z0-9._%+-]+@[a-z][a-z0-9-]+",
    ),
    (
        Found::Link,
        r"\bhttps?:/|\bwww\.|\b[a-z0-9-]+\.(?:com|org|net|edu|gov|info|io|co|health|care)\b",
    ),
    (Found::Social, r"\b\d{3}-\d{2}-\d{4}\b"),
    (
        Found::Social,
        r"\bssn\b|\b(?:ss ?#|social(?: security)?(?: (?:no\.?|number))?)\W{0,3}\d",
    ),
    (
        Found::Social,
        r"\bseguro social\b|\b(?:dni|curp)\b|\b(?:cedula|nss|nif)\b\W{0,3}(?:(?:de|identidad|es|no\.?|num\.?|numero)\W{0,2})*[a-z]?-?\d",
    ),
    (
        Found::BirthDate,
        r"\b(?:dob|d\.o\.b|date of birth|birth ?da(?:te|y)|(?:year|month|day) of birth|birth year|born|fecha de nacimiento|nacid[oa]|naci[oó]|cumplea(?:ñ|n)os)\b",
    ),
    (
        Found::BirthDate,
        r"\bf(?:echa|\.|ec\.)? ?(?:de )?nac(?:\.|imiento)?\b|\bnacid[oa]s?\b|\bnacio\b|\bcumpleanos\b|\bcumple (?:anos|\d)",
    ),
    (
        Found::BirthDate,
        r"\b\d{1,2}(?: de)? (?:ene|feb|mar|abr|may|jun|jul|ago|sep|oct|nov|dic)[a-z]*\.?(?: del?)? (?:19\d\d|200\d)\b",
    ),
    (Found::BirthDate, r"\bb\. ?\d{1,4}\b"),
    (
        Found::BirthDate,
        r"\b\d{1,2}[/.-]\d{1,2}[/.-](?:19\d\d|200\d)\b|\b(?:19\d\d|200\d)-\d{1,2}-\d{1,2}\b",
    ),
    (Found::BirthDate, r"\b\d{1,2}/\d{1,2}/[3-9]\d\b"),
    (
        Found::BirthDate,
        r"\b(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.? \d{1,2}(?:st|nd|rd|th)?,? (?:19\d\d|200\d)\b",
    ),
    (
        Found::BirthDate,
        r"\b\d{1,2}(?:st|nd|rd|th)? (?:of )?(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?,? (?:19\d\d|200\d)\b",
    ),
    (
        Found::Phone,
        r"\b\d{3}-\d{4}\b|\(\d{3}\) ?\d{3}[-. ]?\d{4}\b|\b\d{3}[-. ]\d{3}[-.]\d{4}\b|\+\d[\d ().-]{6,}\d|\b0\d{4} \d{6}\b",
    ),
    (
        Found::Phone,
        r"\b(?:phone|cell|mobile|tel|telephone|ring|text|call)(?: [a-z]+){0,2}\W{0,3}\d(?:[ .-]?\d){6,}",
    ),
    (
        Found::Phone,
        r"\b(?:telefono|celular|cel|movil|llam[ae]r?|marc?que|marcar)(?: [a-z]+){0,2}\W{0,3}\d(?:[ .-]?\d){6,}",
    ),
    (
        Found::Address,
        r"\b\d{1,5}[a-z]? (?:[nsew]\.? )?(?:[a-z]+ ){1,3}(?:street|st|avenue|ave|road|rd|boulevard|blvd|lane|drive)\b|\b(?:lives? (?:at|on) \d|home address|calle [a-z]+ \d)",
    ),
    (
        Found::RecordNumber,
        r"\b(?:expediente|historia clinica|historial medico|poliza|aseguradora|seguro medico|(?:no\.?|num\.?|numero) (?:de|del) (?:paciente|residente|historia|afiliad[oa]|seguro))\b",
    ),
    (
        Found::RecordNumber,
        r"\b(?:mrn|mr ?#|mr no\b|medical record|med rec|chart ?(?:#|no\b|num)|chart \d{3,}|patient id|resident id|nhs no|nhs number|medicare|medicaid|insurance|(?:member|subscriber|plan|beneficiary) ?(?:id|#|no\b|number)|policy ?(?:#|no\b|number)|acct|account ?(?:#|no\b|number|\d))",
    ),
    (
        Found::Age,
        r"\bage[ds]? ?(?:of |is |: ?)?\d{2,3}\b|\b\d{2,3} ?-? ?(?:yo|y/o|y\.o\.?|yof|yom)\b|\b(?:1[89]|[2-9]\d|1[01]\d) ?-? ?(?:years?|yrs?) ?-? ?(?:old|of age|lady|man|woman)\b",
    ),
    (
        Found::Age,
        r"\bin (?:his|her|their) (?:\d0s|(?:twen|thir|for|fif|six|seven|eigh|nine)ties)\b|\b(?:turns|turning|turned) (?:[5-9]\d|1[01]\d)\b(?: ?(?:$|[.,!;]|today|tomorrow|on|in|this|next|soon))",
    ),
    (
        Found::Age,
        r"\b(?:lady|gentleman|man|woman|male|female),? (?:is |of )?(?:[2-9]\d|1[01]\d)\b",
    ),
    (
        Found::Age,
        r"\b(?:1[89]|[2-9]\d|1[01]\d) anos(?: de edad\b| ?[.,;:)]| [a-ce-z]|$)|\bedad\b\W{0,3}(?:(?:de|es)\W{0,2})?\d{2,3}|\b(?:octo|nona|cente)genari[oa]\b|\b(?:sesenta|setenta|ochenta|noventa)(?: y [a-z]+)? anos\b",
    ),
    (
        Found::Weight,
        r"\b\d{2,3}(?:[.,]\d)? ?-? ?(?:lbs?|pounds?|kgs?|kilos?|kilograms?|kilogramos|libras?)\b|\b\d{1,2} ?stone\b|\b\d{3} ?#(?: |$)",
    ),
    (
        Found::Weight,
        r"\bweighs\b|\bbmi\b|\b(?:weigh|weighed|weighing|weight|wt)\b[ :=.]*(?:is |was |of |about |now )*\d",
    ),
    (
        Found::Weight,
        r"\bpes[ao]\b[ :=.]*(?:(?:es|de|era|como|unos|unas|casi|mas|ahora)\W{0,2})*\d{2,3}\b|\bpesa (?:como |casi )?(?:ochenta|noventa|cien|ciento)\b|\bimc\b",
    ),
    (
        Found::Weight,
        r"\b(?:gain\w*|los\w+|lost|put on|body|her|his|their|resident'?s?|patient'?s?|pt'?s?) (?:some |too much |much |more )?weight\b|\b(?:over|under)weight\b|\bpes[ao] (?:de |corporal )?\d",
    ),
    // How tall somebody is; what is measured of beds and hoses is said to be long, wide or high.
    (
        Found::Weight,
        r"\bheight\W{0,3}(?:is |was |of |about )*(?:1[3-9]\d|20\d) ?cm\b|\b[4-6]' ?(?:1[01]|\d)(?:''|\x22)? ?(?:tall|and|,|$)|\b(?:1[3-9]\d|20\d) ?cm tall\b",
    ),
    (
        Found::Diagnosis,
        r"\b(?:ulcers?|ulcerat\w+|pressure injur\w+|bed ?sores?|sores?|skin (?:tears?|breakdown|problem)|sacral|wounds|wound (?:care|vac|dressing|bed|on|at|to his|to her)|(?:open|infected|heel|hip|foot|his|her) wound|necro\w+|slough|redness|blanch\w*|stage ?(?:[1-4]|i{1,3}v?|iv)\b|unstageable|eschar)\b",
    ),
    (
        Found::Diagnosis,
        r"\bred (?:heels?|hips?|skin|spots?|areas?|sacrum|coccyx|bottom|buttocks?)\b|\b(?:heels?|coccyx|sacrum|skin|buttocks?|tailbone) (?:is |are |looks? |very |still )*(?:red|open|broken|sore|purple|black|bleeding)\b",
    ),
    (
        Found::Diagnosis,
        r"\b(?:dementia|alzheimer\w*|parkinson\w*|diabet\w+|cancer|tumou?r|chemo\w*|copd|chf|cva|tia|hiv|aids|hepatitis|mrsa|vre|esbl|c\.? ?-?diff\w*|covid\w*|flu|norovirus|scabies|shingles|sepsis|septic|pneumonia|influenza|uti|stroke (?:patient|resident|last|in)|had a stroke|post.?stroke)\b",
    ),
    (
        Found::Diagnosis,
        r"\b(?:ulceras?|escaras?|llagas?|lesion(?:es)? (?:por|de) presion|lesion(?:es)? en|heridas?|enrojec\w+|necro\w+|estadio (?:[1-4]|i{1,3}v?|iv)\b|(?:piel|talon|talones|sacro|coxis|nalgas?|gluteos?) (?:esta |estan |muy |sigue )*(?:roj[oa]s?|abiert[oa]s?|rot[oa]s?|morad[oa]s?|negr[oa]s?|irritad[oa]s?))\b",
    ),
    (
        Found::Diagnosis,
        r"\b(?:demencia|epoc|ictus|derrame cerebral|embolia|insuficiencia (?:cardiaca|renal)|vih|sida|sarm|(?:con|tiene|la|de|por) gripe|gripe [ab]\b|sarna|herpes|neumonia|infeccion (?:urinaria|de orina)|piojos|cadera (?:rota|fracturada|operada)|protesis de cadera|(?:para|hemi|cuadri|tetra)plej\w+|hospicio|paliativ[oa]s?|(?:enfermo|enferma|fase) terminal|moribund[oa]|agoniza\w*|sonda (?:urinaria|vesical|gastrica|nasogastrica)|cateter|colostomia|dialisis|esquizo\w+|depresion|convuls\w+|celulitis|gangrena|anemia)\b",
    ),
    // An organism beside a bed is somebody's diagnosis; a surface is marked without one.
    (
        Found::Diagnosis,
        r"\b(?:clostridi\w+|candida\b|c\.? ?auris|acinetobacter|klebsiella|pseudomonas|staph\w*|strep\w*|e\.? ?coli|enterococc\w+|carbapenem\w*|crpa|crab infection|rsv|rotavirus|tuberculosis|tb (?:case|room|resident|positive)|legionell\w*|salmonell\w*|lice|vrsa|mdro|superbug)\b",
    ),
    (
        Found::Diagnosis,
        r"\b(?:fractur\w+|broken hip|hip replacement|amput\w+|parapleg\w+|quadripleg\w+|hemipleg\w+|tetrapleg\w+|hospice|palliative|end of life|terminally|dying|incontinen\w+|catheter|colostomy|peg tube|dialysis|schizo\w+|bipolar|depression|seizures?|epilep\w+|obes\w+|bariatric (?:resident|patient)|cellulitis|gangrene|o?edema|anemi\w+|diagnos\w+|dx|dnr)\b",
    ),
    (
        Found::Diagnosis,
        r"\b(?:deep tissue (?:injur\w+|damage)|dti|blisters?|rash(?:es)?|bruis(?:e|es|ed|ing)|braden|norton scale|(?:after|since|from|her|his|their|a|the|of) stroke|paraly[sz]\w+|multiple sclerosis|heart (?:failure|attack|disease)|(?:kidney|renal|liver) (?:failure|disease)|arthritis|osteo\w+|asthma\w*|neuropath\w+|contracture\w*|hypertens\w+|(?:knee|shoulder) replacement|surgery|pacemaker|feeding tube|foley|tracheo\w+|ventilator patient|hx|medical history|history of (?:falls|stroke|seizures?))\b",
    ),
    (
        Found::Diagnosis,
        r"\b(?:morphine|insulin|warfarin|heparin|fentanyl|oxycodone|hydrocodone|antibiotics?|prednisone|lorazepam|haloperidol|blood thinners?|steroids?|on oxygen|oxygen therapy|has a fever|fever of)\b",
    ),
    // Pumps and batteries die too; what died without being named was a person.
    (
        Found::Diagnosis,
        r"\b(?:passed (?:away|on)|deceased|funeral|mortuary|undertaker|(?:he|she|they|resident|patient|pt|lady|man|woman|roommate|husband|wife) (?:has |had |have |just )*died)\b|^(?:just )?died\b",
    ),
    // The same in Spanish. Before an accented letter there is no boundary of ASCII words.
    (
        Found::Diagnosis,
        r"(?:^|[^a-z])[uú]lceras?\b|\b(?:llagas?|escaras?|heridas?|demencia|c[aá]ncer|diab[eé]tic[oa]s?|derrame cerebral|embolia|neumon[ií]a|fracturas?|amputad[oa]s?|paralizad[oa]s?|convulsiones|hospicio|murieron|falleci\w+|difunt[oa]s?|muri[oó] (?:hoy|ayer|anoche|esta)|infecci[oó]n (?:de|en))(?:[^a-z]|$)",
    ),
    (
        Found::Serial,
        r"\b(?:(?:numero|num\.?|no\.?|n\.?) de serie|serie)\b\W{0,3}(?:(?:es|no\.?|num\.?|numero)\W{0,2})*[a-z0-9-]*\d",
    ),
    (
        Found::Serial,
        r"\b(?:s/n|sn|serial)\b\W{0,3}(?:(?:no\.?|number|num|is)\W{0,2})*[a-z0-9-]*\d",
    ),
];

/// Equipment talk that would look like one of the kinds: rated loads, lot and part numbers, hour meters.
const EQUIPMENT: &[&str] = &[
    r"\b(?:capacity|rated|rating|limit|max(?:imum)?|up to|holds|supports|safe load|test weight|sandbags?)\b\W{0,3}(?:(?:is|of|for|at|to|load|limit|weight)\W{0,2})*\d{2,4} ?-? ?(?:lbs?|pounds?|kgs?|kilos?)\b",
    r"\b\d{2,4} ?-? ?(?:lbs?|pounds?|kgs?) (?:capacity|limit|rated|rating|max|model|frame|bed|version|sandbags?)\b",
    r"\b(?:lot|batch|part|po|item|model|work order|wo|ticket)\b\W{0,2}(?:(?:no\.?|number|num)\W{0,2})?[a-z]{0,4}-?\d[a-z0-9-]*",
    r"\b\d{4,9} ?(?:h|hrs?|hours|cycles|pa|rpm|ppm|ml)\b",
    r"\b(?:capacidad|soporta|aguanta|limite|max(?:imo|\.)?|carga|hasta|pesas? de prueba|saco)\b\W{0,3}(?:(?:de|es|un|hasta|para|segura?|maxim[ao]|carga|peso)\W{0,2})*\d{2,4} ?-? ?(?:lbs?|libras|kgs?|kilos?|kilogramos)\b",
    r"\bpeso (?:maximo|limite|de prueba)\b\W{0,3}(?:(?:de|es)\W{0,2})*\d{2,4}(?: ?(?:lbs?|libras|kgs?|kilos?|kilogramos))?\b",
    r"\b\d{2,4} ?(?:lbs?|libras|kgs?|kilos?|kilogramos) (?:de capacidad|de carga|de limite|como maximo|maximo|max)\b",
    r"\b(?:lote|pieza|modelo|orden(?: de trabajo)?|pedido|articulo|factura|repuesto)\b\W{0,2}(?:(?:no\.?|num\.?|numero|n\.?)\W{0,2})?[a-z]{0,4}-?\d[a-z0-9-]*",
    r"\b\d{4,9} ?(?:horas|ciclos)\b",
];

/// Shorter runs of digits are times, beds and measures.
const LONG_RUN: &str = r"\d{6,}";

struct Compiled {
    kinds: RegexSet,
    equipment: Regex,
    long_run: Regex,
}

static COMPILED: LazyLock<Option<Compiled>> = LazyLock::new(compile);

/// The kind of the first pattern that a text has.
pub(super) fn find(plain: &str, field: Field) -> Option<Found> {
    // Patterns that did not compile would let everything pass, so everything is refused: a test holds that
    // they do compile.
    let Some(compiled) = &*COMPILED else {
        return Some(Found::RecordNumber);
    };
    let lower = without_accents(&plain.to_lowercase())
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    // Equipment talk excuses weights and numbers, and nothing that is a form of its own.
    let excused = compiled.equipment.replace_all(&lower, " , ");
    let counts = |found: Found, in_excused: bool| match (field, found) {
        (Field::Note, Found::Weight | Found::RecordNumber | Found::Serial) => in_excused,
        (Field::Register, Found::RecordNumber) => in_excused,
        (Field::Note, _) | (Field::Register, Found::Email | Found::Link | Found::BirthDate) => {
            !in_excused
        }
        (Field::Register, _) => false,
    };
    let first = |text: &str, in_excused: bool| {
        let hits = compiled.kinds.matches(text).into_iter();
        hits.filter_map(|index| PATTERNS.get(index))
            .map(|(found, _)| *found)
            .find(|found| counts(*found, in_excused))
    };
    match first(&lower, false).or_else(|| first(&excused, true)) {
        None if field == Field::Note && compiled.long_run.is_match(&excused) => {
            Some(Found::RecordNumber)
        }
        found => found,
    }
}

fn compile() -> Option<Compiled> {
    Some(Compiled {
        kinds: RegexSet::new(PATTERNS.iter().map(|(_, pattern)| ascii(pattern))).ok()?,
        equipment: Regex::new(&ascii(&EQUIPMENT.join("|"))).ok()?,
        long_run: Regex::new(&ascii(LONG_RUN)).ok()?,
    })
}

/// The classes narrowed to ASCII.
fn ascii(pattern: &str) -> String {
    pattern
        .replace(r"\b", r"(?-u:\b)")
        .replace(r"[\d", "[0-9")
        .replace(r"\d", "[0-9]")
        .replace(r"\w", "[a-z]")
        .replace(r"\W", "[^a-z0-9]")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_patterns_compile() {
        assert!(COMPILED.is_some());
    }

    #[test]
    fn kinds_stand_in_the_order_in_which_they_are_told() {
        let kinds: Vec<Found> = PATTERNS.iter().map(|(found, _)| *found).collect();
        assert!(kinds.is_sorted(), "{kinds:?}");
        // A name has no pattern, and every other kind has one.
        for found in Found::ALL.iter().filter(|found| **found != Found::Name) {
            assert!(kinds.contains(found), "{found:?}");
        }
    }
}
