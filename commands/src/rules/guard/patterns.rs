//! The patterns of the privacy guard: forms that numbers, dates, addresses and conditions have.
//!
//! Patterns are in lower case and know ASCII letters only (the text is lowered and loses its accents first, and
//! `compile` narrows the classes): with the whole of Unicode the set takes tens of milliseconds and megabytes to
//! build. Spanish ones stand behind the English of their kind.

use std::borrow::Cow;
use std::sync::LazyLock;

use regex::{Regex, RegexSet, RegexSetBuilder};

use super::{Field, Found};
use crate::rules::spanish::without_accents;

/// Patterns by kind, in the order in which kinds are told.
const PATTERNS: &[(Found, &str)] = &[
    (
        Found::Email,
        r"[a-z0-9._%+-]+ ?@ ?[a-z0-9-]+\.[a-z]{2,}|[a-z0-9._%+-]+@[a-z][a-z0-9-]+",
    ),
    // Written out so that no machine reads it. `Blue dot on the hose` names no domain.
    (
        Found::Email,
        r"[a-z0-9._-]+ ?[\[(]?\bat\b[\])]? ?[a-z0-9-]+ ?[\[(]?\bdot\b[\])]? ?(?:com|org|net|edu|gov|info|io|co|us|mx|es|example)\b|\barroba\b",
    ),
    (
        Found::Link,
        r"\bh(?:tt|xx)ps?\b|\bwww\.|\b[a-z0-9-]+\.(?:com|org|net|edu|gov|info|io|co|gg|ly|app|health|care|example)\b",
    ),
    (
        Found::Link,
        r"\b[a-z0-9-]+\.[a-z]{2,}/[a-z0-9]|[a-z]\[\.\][a-z]|\b(?:dot|punto) (?:com|org|net|example)\b",
    ),
    // With spaces it may be a bed, a figure and a time, unless no clock shows that.
    (
        Found::Social,
        r"\b\d{3}-\d{2}[ -]\d{4}\b|\b\d{3} \d{2} (?:2[4-9]\d\d|[3-9]\d{3}|\d\d[6-9]\d)\b",
    ),
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
    (
        Found::BirthDate,
        r"\bb\. ?(?:\d{2,4}\b|\d[/.-]\d|\d ?(?:st|nd|rd|th)?,? (?:of |de )?(?:jan|ene|feb|mar|a[pb]r|may|jun|jul|aug|ago|sep|oct|nov|dec|dic))",
    ),
    (
        Found::BirthDate,
        r"\b\d{1,2}[/.-]\d{1,2}[/.-](?:19\d\d|200\d)\b|\b(?:19\d\d|200\d)[/.-]\d{1,2}[/.-]\d{1,2}\b",
    ),
    (
        Found::BirthDate,
        r"\b\d{1,2}/\d{1,2}/[3-9]\d\b|\b(?:0?[1-9]|1[0-2])-(?:0?[1-9]|[12]\d|3[01])-(?:3[1-9]|[4-9]\d)\b",
    ),
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
        r"\b\d{3}[-.]\d{4}\b|\(\d{3}\) ?\d{3}[-. ]?\d{4}\b|\b\d{3}[-. ]\d{3}[-.]\d{4}\b|\+\d[\d ().-]{6,}\d|\b0\d{4} \d{6}\b",
    ),
    (
        Found::Phone,
        r"\b(?:phone|cell|mobile|tel|telephone|ring|text|call)(?: [a-z]+){0,2}\W{0,3}\d(?:[ .-]?\d){6,}",
    ),
    (
        Found::Phone,
        r"\b(?:telefono|celular|cel|movil|llam[ae]r?|marc?que|marcar)(?: [a-z]+){0,2}\W{0,3}\d(?:[ .-]?\d){6,}",
    ),
    // Without a mark between, three figures twice are two beds and the last four a time, unless no clock shows it.
    (
        Found::Phone,
        r"\b[2-9]\d\d [2-9]\d\d (?:2[4-9]\d\d|[3-9]\d{3}|\d\d[6-9]\d)\b",
    ),
    // Letters in the place of figures.
    (
        Found::Phone,
        r"\b[2-9](?:\d[lio]|[lio][\dlio])[-. ]?[\dlio]{3}[-. ]?[\dlio]{4}\b|\b[2-9]\d\d[-. ]?[2-9](?:\d[lio]|[lio][\dlio])[-. ]?[\dlio]{4}\b|\b[2-9]\d\d[-. ]?[2-9]\d\d[-. ]?(?:[lio][\dlio]{3}|\d[lio][\dlio]{2}|\d\d[lio][\dlio]|\d{3}[lio])\b",
    ),
    // Figures as words; a pump beeps fewer.
    (Found::Phone, r"\b(?:<figure>[ ,.-]{1,2}){6,}<figure>\b"),
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
        r"\b(?:(?:he|she|they)(?:'?s| is| was|'re| are)|(?:resident|patient|pt|client|person)(?:'s| is| was)) (?:about |almost |nearly |over |only |just )?(?:[5-9]\d|1[01]\d|<old>)(?: ?$| ?[.,;!)]| and\b| now\b| today\b| years?\b)|\b<old>[ -]years?[ -]old\b",
    ),
    (
        Found::Age,
        r"\b(?:turns|turning|turned) <old>(?: ?$| ?[.,!;]| today| tomorrow| yesterday| on| in| this| next| last| soon| years)|\b(?:septua|octo|nona|cente)genarian",
    ),
    (
        Found::Age,
        r"\bin (?:his|her|their) (?:\d0s|(?:twen|thir|for|fif|six|seven|eigh|nine)ties)\b|\b(?:turns|turning|turned) (?:[5-9]\d|1[01]\d)\b(?: ?(?:$|[.,!;]|today|tomorrow|yesterday|on|in|this|next|last|soon))",
    ),
    (
        Found::Age,
        r"\b(?:lady|gentleman|man|woman|male|female),? (?:is |of )?(?:[2-9]\d|1[01]\d)\b",
    ),
    (
        Found::Age,
        r"\b(?:1[89]|[2-9]\d|1[01]\d) anos(?: de edad\b| ?[.,;:)]| [a-ce-z]|$)|\bedad\b\W{0,3}(?:(?:de|es)\W{0,2})?\d{2,3}|\b(?:octo|nona|cente)genari[oa]\b|\b<viejo> anos\b",
    ),
    (
        Found::Age,
        r"\b(?:tiene|cumple|cumplio|cumplira) (?:ya |casi |como |los )?<viejo>(?: ?$| ?[.,;!)]| manana\b| ayer\b| hoy\b)|\b(?:residente|paciente) (?:tiene|cumple|cumplio) (?:ya |casi |como )?(?:[5-9]\d|1[01]\d)(?: ?$| ?[.,;!)]| y\b| anos\b)|\bseptuagenari[oa]\b",
    ),
    (
        Found::Weight,
        r"\b\d{2,3}(?:[.,]\d)? ?-? ?(?:lbs?|pounds?|kgs?|kilos?|kilograms?|kilogramos|libras?)\b|\b\d{1,2} ?stone\b|\b\d{3} ?#(?: |$)",
    ),
    (
        Found::Weight,
        r"\b(?:<number>|<cifra>)[ -](?:lbs?|pounds?|kgs?|kilos?|kilograms?|kilogramos|libras?)\b",
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
        r"\b(?:ulcers?|ulcerat\w+|pressure injur\w+|bed ?sores?|sores?|skin (?:tears?|breakdown|problem)|sacral|wounds|wound (?:care|vac|dressing|bed|on|at|to his|to her)|(?:open|infected|heel|hip|foot|his|her) wound|necro\w+|slough|redness|blanch\w*|stage ?(?:[1-4]|i{1,3}v?|iv)\b|stage (?:two|three|four) (?:on|at|to)\b|(?:estadio|grado) (?:dos|tres|cuatro) en\b|unstageable|eschar|decub\w*|\w*ostomy|\w*ostomia)\b",
    ),
    (
        Found::Diagnosis,
        r"\bred (?:heels?|hips?|skin|spots?|areas?|sacrum|coccyx|bottom|buttocks?)\b|\b(?:heels?|coccyx|sacrum|skin|buttocks?|tailbone) (?:is |are |looks? |very |still )*(?:red|open|broken|sore|purple|black|bleeding)\b",
    ),
    (
        Found::Diagnosis,
        r"\b(?:dementia|alzheimer\w*|parkinson\w*|diabet\w+|cancer|tumou?r|chemo\w*|copd|chf|cva|tia|hiv|aids|hepatitis|mrsa|m\.r\.s\.a|v\.r\.e|c\.o\.p\.d|vre|esbl|c\.? ?-?diff\w*|covid\w*|flu|norovirus|scabies|shingles|sepsis|septic|pneumonia|influenza|uti|stroke (?:patient|resident|last|in)|had a stroke|post.?stroke)\b",
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
        r"\b(?:fractur\w+|broken hip|hip replacement|amput\w+|parapleg\w+|quadripleg\w+|hemipleg\w+|tetrapleg\w+|hospice|palliative|end[ -]of[ -]life|terminally|dying|incontinen\w+|catheter|colostomy|peg tube|dialysis|schizo\w+|bipolar|depression|seizures?|epilep\w+|obes\w+|bariatric (?:resident|patient)|cellulitis|gangrene|o?edema|anemi\w+|diagnos\w+|dx|dnr)\b",
    ),
    (
        Found::Diagnosis,
        r"\b(?:deep tissue (?:injur\w+|damage)|dti|blisters?|rash(?:es)?|bruis(?:e|es|ed|ing)|braden|norton scale|(?:after|since|from|her|his|their|a|the|of) stroke|paraly[sz]\w+|multiple sclerosis|heart (?:failure|attack|disease)|(?:kidney|renal|liver) (?:failure|disease)|arthritis|osteo\w+|asthma\w*|neuropath\w+|contracture\w*|hypertens\w+|(?:knee|shoulder) replacement|surgery|pacemaker|feeding tube|foley|tracheo\w+|ventilator patient|hx|medical history|history of (?:falls|stroke|seizures?))\b",
    ),
    // A part of somebody's body, where the word is no part of a bed or whose it is stands before it.
    (
        Found::Diagnosis,
        r"\b(?:br(?:oke|eaks?|oken)|fractured|hurts?|injured|sprained|twisted|dislocated|cracked|cut|scraped|sore|painful|aching|numb|swollen|infected|bleeding|bloody) (?:his|her|their) (?:left |right )?<body>\b",
    ),
    (
        Found::Diagnosis,
        r"\b(?:bleeding|bloody|swollen|infected|itchy|numb|fractured|sprained)(?: (?:in|on|at|from|of|out|through|the|his|her|their|a|left|right|both|both of))* (?:heels?|ankles?|elbows?|toes?|legs|feet|arms?|hands?|fingers?|nose|gums?|lips?|mouth|scalp|skin|ears?|hips|knees|face|tongue)\b",
    ),
    (
        Found::Diagnosis,
        r"\b(?:heels?|ankles?|elbows?|toes?|legs?|feet|arms?|hands?|fingers?|nose|gums?|lips?|mouth|face|he|she|they|resident|patient|pt) (?:is |are |was |were |looks? |very |still )*(?:bleeding|swollen|infected|itchy|numb)\b|\bswelling (?:in|of|on) (?:the |his |her |their |both )?<body>\b|\bnose ?bleeds?\b|\bblood in (?:his|her|their|the) (?:urine|stool)\b|\bh(?:a)?emorrh\w+",
    ),
    (
        Found::Diagnosis,
        r"\b(?:rompio|quebro|fracturo|lastimo|torcio|luxo|lesiono|disloco|les? duelen?) (?:la|el|los|las|una|un|su|sus) (?:caderas?|muneca|brazos?|piernas?|tobillos?|rodillas?|hombros?|talon(?:es)?|femur|costillas?|mano|nariz|clavicula|espalda|dedos?)\b|\bles? sangran?\b|\bsangr(?:ado|ando|a|an)(?: (?:por|de|en|el|la|del|los|las|su))* (?:talon(?:es)?|nariz|encias?|rodillas?|tobillos?|brazos?|piernas?|boca|piel|oido)\b|\b(?:tobillos?|piernas?|pies|manos?|rodillas?|cara|brazos?) (?:muy |esta |estan |sigue |siguen )*hinchad[oa]s?\b",
    ),
    // Of a battery or a connector the word is a part.
    (
        Found::Diagnosis,
        r"^terminal ?(?:$|[,;.!])|\b(?:is|was|now|he's|she's|resident|patient|pt|lady|man|woman|es|esta|declared) terminal ?(?:$|[,;.!])|\bterminal (?:ill\w*|phase|condition|care|patient|resident|agitation|disease|prognosis)\b",
    ),
    // How somebody's mind is. A control unit confuses and a valve is confused with another.
    (
        Found::Diagnosis,
        r"^confus(?:ed|ion|o|a) ?(?:$|[,;.!])|\b(?:is|was|gets|got|very|so|more|still|seems|he's|she's|resident|patient|pt|lady|man) (?:very |more |a bit )?confused ?(?:$|[,;.!]|at\b|and\b|today\b|tonight\b|since\b|again\b)|\b(?:confused|anxious|restless|aggressive) and (?:[a-z]+ed|[a-z]+ive|[a-z]+ous|restless)\b|\b(?:confundid|desorientad|agresiv|ansios|inquiet)[oa] y [a-z]+[oa]\b|\b(?:combative|disoriented|agitat(?:ed|ion)|deliri\w+|delusion\w*|hallucinat\w+|paranoi\w+|psychos[ei]s|psychotic|psychiatr\w+|suicid\w+|self.?harm|desorientad[oa]s?|agitad[oa]|alucina\w*|psicosis|psicotic[oa]|psiquiatr\w+)\b",
    ),
    (
        Found::Diagnosis,
        r"\b(?:allerg(?:ic|y|ies)|alergi[ac]\w*|bed ?bugs?|chinches?|heart (?:condition|problems?|trouble|murmur)|(?:low|high) blood (?:pressure|sugar)|blood (?:sugar|glucose|clots?)|vomit(?:ed|ing|s)|throwing up|vomitando|nause\w+|diarr\w+|constipat\w+|estrenid[oa]|legally blind|(?:is|he's|she's|nearly|almost|going) blind|blind in (?:one|his|her|both)|(?:es|esta|casi|quedo) cieg[oa]|deaf|hard of hearing|(?:es|esta|casi|muy) sord[oa]|had a (?:bad )?fall|fall risk|riesgo de caidas?|unwitnessed fall)\b|^(?:cieg|sord)[oa] ?[,;.]",
    ),
    // The endings that names of diseases have, each behind the beginnings that no other word has.
    (
        Found::Diagnosis,
        r"\b\w{3,}itis\b|\blymph\w+|\blinf\w+|\b(?:leuk|leuc|isch|septic|bacter|ur|hypoglyc|hyperglyc|hipogluc|hipergluc)\w*emia\b|\b(?:carcin|melan|myel|miel|sarc|gli|glauc|ha?emat)oma\w?\b|\b(?:thromb|tromb|necr|cirrh|cirr|scoli|escoli|fibr|scler|escler|ps|arthr|artr|kerat|cyan|acid)\w*osis\b|\b(?:neuro|cardio|myo|mio|retino|encephalo|nephro)\w*pat(?:hy|ia)\b|\b(?:neur|my|mi)algia\b|\b\w+(?:ectom(?:y|ia)|ostom(?:y|ia)|otom(?:y|ia)|plegi[ac]|plej\w+|paresis|phagia|phasia|fagia|fasia)\b|\b(?:dystroph|distrofi)\w+|\b(?:hypo|hyper|hipo|hiper)tens\w+",
    ),
    // The endings that the common names of medicines have by agreement (the stems of the WHO's list, from memory).
    (
        Found::Diagnosis,
        r"\b\w{3,}(?:pril|olol|statina?|prazole?|conazole?|nidazole?|cill?ina?|m[yi]cina?|floxacin[ao]?|xaban|sartan|gliptina?|gliflozina?|zepam|zolam|dipin[eo]|parina?|oxetin[ea]|setron|formina?|semid[ea]|thiazide|tiazida|codon[ea]|morphone|tidine|triptylin[ea]|triptilina|peridone?|apine|dronate|profeno?|caina?e?|triptan|lukast)\b",
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
    // A bed stands for who lies in it.
    (
        Found::Diagnosis,
        r"(?:^|[.,;] ?|: )<bed> (?:has |had |just |se |fell and )*(?:died|murio)\b|\b(?:bed|room|rm|cama|cuarto|habitacion|la) <bed> (?:has |had |just |se |fell and )*(?:died|murio)\b",
    ),
    (
        Found::Diagnosis,
        r"\b<bed> (?:has|had|got) (?:an? |the )?(?:very )?(?:bad|weak|broken|painful|new) (?:left |right )?(?:hips?|knees?|shoulders?|wrists?|ankles?|heart|lungs?|eyes?)\b|\btiene (?:muy )?mal[oa]? (?:la|el) (?:cadera|rodilla|hombro|tobillo|pierna|corazon)\b|\btiene (?:la|el|una|un) (?:cadera|rodilla|hombro|tobillo|pierna|corazon) (?:muy )?mal[oa]?\b",
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
    r"\b(?:capacity|rated|rating|limit|max(?:imum)?|up to|holds|supports|safe load|test weight|sandbags?|label|plate)\b\W{0,3}(?:(?:is|of|for|at|to|on|the|this|its|load|limit|weight|frame|bed|deck|mattress|surface|pump|lift|plate|label|says|reads)\W{0,2})*(?:\d{2,4}|<number>)[ -]{0,3}(?:lbs?|pounds?|kgs?|kilos?)\b",
    r"\b(?:\d{2,4}|<number>)[ -]{0,3}(?:lbs?|pounds?|kgs?) (?:capacity|limit|rated|rating|max|model|frame|bed|version|sandbags?)\b",
    r"\b(?:lot|batch|part|po|invoice|item|model|work order|wo|ticket)\b\W{0,2}(?:(?:no\.?|number|num)\W{0,2})?[a-z]{0,4}-?\d[a-z0-9-]*",
    r"\b\d{4,9} ?(?:h|hrs?|hours|cycles|pa|rpm|ppm|ml)\b",
    r"\b(?:capacidad|soporta|aguanta|limite|max(?:imo|\.)?|carga|hasta|pesas? de prueba|saco|etiqueta|placa)\b\W{0,3}(?:(?:de|del|la|el|en|es|un|hasta|para|segura?|maxim[ao]|carga|peso|armazon|cama|colchon|superficie|base|grua|bomba|placa|etiqueta|dice)\W{0,2})*(?:\d{2,4}|<cifra>)[ -]{0,3}(?:lbs?|libras|kgs?|kilos?|kilogramos)\b",
    r"\bpeso (?:maximo|limite|de prueba)\b\W{0,3}(?:(?:de|es)\W{0,2})*\d{2,4}(?: ?(?:lbs?|libras|kgs?|kilos?|kilogramos))?\b",
    r"\b(?:\d{2,4}|<cifra>) ?(?:lbs?|libras|kgs?|kilos?|kilogramos) (?:de capacidad|de carga|de limite|como maximo|maximo|max)\b",
    r"\b(?:lote|pieza|modelo|orden(?: de trabajo)?|pedido|articulo|factura|repuesto)\b\W{0,2}(?:(?:no\.?|num\.?|numero|n\.?)\W{0,2})?[a-z]{0,4}-?\d[a-z0-9-]*",
    r"\b\d{4,9} ?(?:horas|ciclos)\b",
];

/// Stages that work and parts have, which a wound has too.
const STEPS: &str = r"\bstage ((?:\d|two|three|four) (?:of (?:the |a |an |our |this |each )?(?:[a-z]+ )?(?:check|checklist|list|test|inspection|cleaning|cycle|procedure|process|setup|plan|drill|fill)|filter|regulator|cleaning|alarm|(?:on|at|to) (?:the )?(?:filter|regulator|compressor|valve|pump|panel|dial|\d+))\b)";

/// What is said of things in the words of a diagnosis. Only with the thing beside it: alone, they are somebody's.
const THINGS: &str = r"\b(?:(?:batter(?:y|ies)|motor) (?:is |was )?dying|pump (?:is|was) dying|dying (?:batter(?:y|ies)|pump|motor)|fractured <hard>|fracture in (?:the )?<hard>|depress?ion (?:in|en) (?:the |el |la )?(?:middle of the )?<soft>|incontinence (?:pads?|briefs?|sheets?)|(?:positioning|turning) aids|hospice (?:owns|will (?:fetch|collect)) (?:(?:its|their|the|this) )?(?:pump|mattress|surface|frame))\b|\b<hard> (?:is |was )?fractured ?(?:$|[,;.])";

/// How old a thing is, what died in a room, and what is no road. A thing as old as people are is refused with them.
const OF_DEVICES: &str = r"(?:^|[.,;] ?)(?:(?:the|this|that|our|old|spare|bed|air) )*<device> (?:is|was) (?:about |almost |nearly |over |only |just |now )?[1-4]?\d years? old ?(?:$|[.,;])|(?:^|[.,;] ?)(?:(?:el|la|este|esta|ese|esa) )?<aparato>(?: de (?:la )?cama)? (?:ya )?tiene (?:ya |casi |como |unos )?[1-4]?\d anos(?: de uso)? ?(?:$|[.,;])|\b(?:<device> age\W{0,3}(?:is |of )?\d{1,3} (?:hours|days|weeks|months)|<aparato>,? edad\W{0,3}\d{1,3} (?:horas|dias|semanas|meses)|<powered> (?:in|at|for|of|en|de) (?:the |la )?(?:(?:bed|room|rm|cama|cuarto|habitacion) )?<bed> (?:has |had |just |se )*(?:died|murio)|(?:pump|motor|unit|blower|compressor|fan|lift|frame|bed) \d{1,3}[a-z]? (?:has|had|needs|got) (?:a|the|its|no) (?:[a-z]+ )?drive|knee (?:motor|section|crank|actuator))\b";

/// Numbers in the form of a telephone or a date of birth: of a part, from one time to another, a bed and a time
/// behind a point, pressures.
const NUMBERS: &str = r"\b(?:(?:part|pieza|repuesto) (?:(?:no\.?|num\.?|number|numero) )?\d{3}-\d{4}|(?:static|alternating|firm|soft|estatico|alterno|alternante|firme|suave) [1-9](?:00|15|30|45)-(?:[01]\d|2[0-3])(?:00|15|30|45)|(?:bed|room|rm|cama|cuarto|habitacion) \d{3}\.(?:[01]\d|2[0-3])[0-5]\d|(?:pressures|zones|settings|presiones|zonas|ajustes)(?: (?:at|of|are|de|en|son))? \d{1,2}-\d{1,2}-\d{1,2}|\d{1,2}-\d{1,2}-\d{1,2} (?:mmhg|psi|kpa|mbar))\b";

/// Beside a telephone, a wristband or somebody's family, a number is not excused.
const NUMBER_OF_SOMEBODY: &str = r"\b(?:phone|cell|mobile|tel|telephone|ring|rang|call|calls|called|calling|text|fax|dial|reach|contact|telefono|celular|cel|movil|llam[a-z]+|marc[a-z]+|contact[oa]r?|sons?|daughter|wife|husband|mother|father|mom|dad|mum|brother|sister|niece|nephew|family|guardian|nurse|doctor|hij[oa]s?|espos[oa]|marido|madre|padre|mama|papa|herman[oa]|niet[oa]|sobrin[oa]|familia(?:r|res)?|enfermer[oa]|medic[oa]|wristband|bracelet|pulsera|brazalete)\b";

/// Whoever is spoken of beside such a thing has what it says.
const SPOKEN_OF: &str = r"\b(?:resident|patient|pt|client|lady|gentleman|man|woman|he|she|they|his|her|their|residente|paciente|senora?|ella)\b|\b(?:needs|wears|uses|has|on|usa|lleva|necesita) incontinence\b";

/// Shorter runs of digits are times, beds and measures.
const LONG_RUN: &str = r"\d{6,}";

/// With the 2 MB that the matcher takes by itself, notes of many kinds push one another's states out, and a note
/// takes twenty times as long.
const KINDS_CACHE_BYTES: usize = 8 << 20;

struct Compiled {
    kinds: RegexSet,
    equipment: Regex,
    steps: Regex,
    things: Regex,
    devices: Regex,
    numbers: Regex,
    number_of_somebody: Regex,
    spoken_of: Regex,
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
    let lower = compiled.steps.replace_all(&lower, "step $1");
    let lower = if compiled.spoken_of.is_match(&lower) {
        lower
    } else {
        let lower = compiled.things.replace_all(&lower, "thing");
        let lower = compiled.devices.replace_all(&lower, ", thing ,");
        if compiled.number_of_somebody.is_match(&lower) {
            Cow::Owned(lower.into_owned())
        } else {
            Cow::Owned(compiled.numbers.replace_all(&lower, "thing").into_owned())
        }
    };
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
        kinds: RegexSetBuilder::new(PATTERNS.iter().map(|(_, pattern)| ascii(pattern)))
            .dfa_size_limit(KINDS_CACHE_BYTES)
            .build()
            .ok()?,
        equipment: Regex::new(&ascii(&EQUIPMENT.join("|"))).ok()?,
        steps: Regex::new(&ascii(STEPS)).ok()?,
        things: Regex::new(&ascii(THINGS)).ok()?,
        devices: Regex::new(&ascii(OF_DEVICES)).ok()?,
        numbers: Regex::new(&ascii(NUMBERS)).ok()?,
        number_of_somebody: Regex::new(&ascii(NUMBER_OF_SOMEBODY)).ok()?,
        spoken_of: Regex::new(&ascii(SPOKEN_OF)).ok()?,
        long_run: Regex::new(&ascii(LONG_RUN)).ok()?,
    })
}

/// What patterns share: numbers as words, and parts of the body.
const SHARED: &[(&str, &str)] = &[
    ("<hard>", "(?:welds?|frames?|brackets?|casing)"),
    ("<bed>", r"\d{1,3}[a-d]?"),
    (
        "<device>",
        "(?:pump|filter|hose|mattress|surface|frame|motor|battery|compressor|fan|valve|cover|lift|panel|blower)",
    ),
    (
        "<aparato>",
        "(?:bomba|filtro|manguera|colchon|superficie|armazon|motor|bateria|compresor|ventilador|valvula|funda|panel|grua)",
    ),
    (
        "<powered>",
        "(?:pump|motor|compressor|battery|fan|blower|panel|psu|light|lamp|outlet|tv|alarm|lift|bomba|compresor|bateria|ventilador|luz|foco|alarma|grua)",
    ),
    ("<soft>", "(?:foam|mattress|surface|cover|espuma|colchon)"),
    (
        "<figure>",
        "(?:zero|oh|o|one|two|three|four|five|six|seven|eight|nine|cero|uno|dos|tres|cuatro|cinco|seis|siete|ocho|nueve)",
    ),
    (
        "<old>",
        "(?:(?:fifty|sixty|seventy|eighty|ninety)(?:[ -](?:one|two|three|four|five|six|seven|eight|nine))?|(?:a|one) hundred)",
    ),
    (
        "<viejo>",
        "(?:(?:sesenta|setenta|ochenta|noventa)(?: y [a-z]+)?|cien)",
    ),
    (
        "<number>",
        "(?:(?:(?:a|one|two|three|four|five|six) hundred(?: and)?(?: (?:ten|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety))?|forty|fifty|sixty|seventy|eighty|ninety)(?:[ -](?:one|two|three|four|five|six|seven|eight|nine))?)",
    ),
    (
        "<cifra>",
        "(?:(?:(?:cien|ciento|doscient[ao]s)(?: (?:diez|veinte|treinta|cuarenta|cincuenta|sesenta|setenta|ochenta|noventa))?|cuarenta|cincuenta|sesenta|setenta|ochenta|noventa)(?: y [a-z]+)?)",
    ),
    (
        "<body>",
        "(?:hips?|wrists?|arms?|legs?|ankles?|elbows?|shoulders?|knees?|heels?|toes?|fingers?|ribs?|foot|feet|hands?|nose|neck|back|head|collarbone|pelvis|tailbone|face|mouth|chest|stomach)",
    ),
];

/// What is shared put in, and the classes narrowed to ASCII.
fn ascii(pattern: &str) -> String {
    SHARED
        .iter()
        .fold(pattern.to_owned(), |pattern, (name, shared)| {
            pattern.replace(name, shared)
        })
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
