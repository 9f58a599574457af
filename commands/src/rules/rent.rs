//! What a rental has cost so far, and amounts of money as people write them.
//!
//! Decides days charged and amounts in cents. Leaves to the caller which rental is meant, what its vendor really
//! charges, and every sentence. Whatever sign is typed with an amount is the home's own: nothing is ever exchanged.

use chrono::NaiveDate;

use crate::words::Lang;

/// The dearest a rental is for one day, in cents: 100,000 in whole money. More is a slip of the finger.
pub const MAX_DAILY_CENTS: i64 = 10_000_000;

/// The dearest a thing is to buy or to keep for a year, in cents: 1,000,000 in whole money. More is a slip of the finger.
pub const MAX_PRICE_CENTS: i64 = 100_000_000;

/// Longer texts are not amounts.
const MAX_CHARS: usize = 40;

/// What people write behind what a day costs.
const A_DAY: [&str; 11] = [
    "a day", "per day", "/ day", "/day", "daily", "por día", "por dia", "al día", "al dia",
    "/ día", "/día",
];

/// What people write behind what a year costs.
const A_YEAR: [&str; 9] = [
    "a year", "per year", "/ year", "/year", "yearly", "por año", "al año", "/ año", "/año",
];

/// Why a text is no amount of money.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MoneyFault {
    /// Nothing was typed.
    Empty,
    /// Less than nothing.
    Negative,
    /// Parts of a cent.
    PartCents,
    /// A comma that does not set off thousands, such as `38,50`: thirty-eight and a half, or a slip?
    Comma,
    /// More than it costs anywhere.
    TooMuch {
        /// The most that is taken, in cents.
        max: i64,
    },
    /// Not an amount: a sentence should show the forms that are.
    Shape,
}

/// Calendar days from the first to the last, both counted; 0 where the last is before the first.
///
/// That a day begun is a day charged is common practice; the vendor's contract decides.
#[must_use]
pub fn days(from: NaiveDate, to: NaiveDate) -> i64 {
    ((to - from).num_days() + 1).max(0)
}

/// What so many days cost, in cents; `None` where either is negative or the sum is too large to be written.
#[must_use]
pub fn cost(daily_cents: i64, days: i64) -> Option<i64> {
    if daily_cents < 0 || days < 0 {
        return None;
    }
    daily_cents.checked_mul(days)
}

/// Shows cents to the whole of money, as `1,235`: for what was reckoned and never paid.
#[must_use]
pub fn whole_money(cents: f64) -> String {
    super::figure::show(cents / 100.0, 0)
}

/// The sign or code of a currency as it is kept: three letters are an ISO 4217 code, in capitals; else up to four signs and
/// letters without a digit, such as `$`, `US$`, `kr`. `None` for what is neither.
#[must_use]
pub fn currency(typed: &str) -> Option<String> {
    let typed = typed.trim();
    let fits = |c: char| !c.is_control() && !c.is_whitespace() && !c.is_numeric();
    let marks = [
        '-', '+', '.', ',', '*', '_', '`', '<', '>', '@', '#', '|', '~', '\\', '/',
    ];
    if !(1..=4).contains(&typed.chars().count())
        || !typed.chars().all(|c| fits(c) && !marks.contains(&c))
    {
        return None;
    }
    Some(if is_code(&typed.to_uppercase()) {
        typed.to_uppercase()
    } else {
        typed.to_owned()
    })
}

/// Whether it has the shape of an ISO 4217 code: three capitals.
fn is_code(sign: &str) -> bool {
    sign.len() == 3 && sign.bytes().all(|b| b.is_ascii_uppercase())
}

/// Shows cents with the home's sign of currency, where it has one.
///
/// English puts it in front, a code with a space. Spanish puts a code and all but a dollar's sign behind, with a space, and
/// writes what is not dollars with a comma and points: `1.234,50 €` (the EU's style guide for Spanish; CLDR for es-ES, and
/// es-MX and es-US for the dollar, from memory). Without a sign both write `1,234.50`.
#[must_use]
pub fn signed(lang: Lang, sign: Option<&str>, cents: i64) -> String {
    placed(lang, sign, &money(cents))
}

/// As [`signed`], to the whole of money.
#[must_use]
pub fn signed_whole(lang: Lang, sign: Option<&str>, cents: f64) -> String {
    placed(lang, sign, &whole_money(cents))
}

fn placed(lang: Lang, sign: Option<&str>, amount: &str) -> String {
    let Some(sign) = sign else {
        return amount.to_owned();
    };
    let (minus, amount) = match amount.strip_prefix('-') {
        Some(size) => ("-", size),
        None => ("", amount),
    };
    match lang {
        Lang::English if is_code(sign) => format!("{sign}\u{a0}{minus}{amount}"),
        Lang::Spanish if sign == "USD" => format!("{minus}{amount}\u{a0}{sign}"),
        Lang::English => format!("{minus}{sign}{amount}"),
        Lang::Spanish if sign.contains('$') => format!("{minus}{sign}{amount}"),
        Lang::Spanish => {
            let other = |c: char| match c {
                ',' => '.',
                '.' => ',',
                c => c,
            };
            let amount: String = amount.chars().map(other).collect();
            format!("{minus}{amount}\u{a0}{sign}")
        }
    }
}

/// Shows cents as `1,234.50`, without a sign of currency.
#[must_use]
pub fn money(cents: i64) -> String {
    let sign = if cents < 0 { "-" } else { "" };
    let size = cents.unsigned_abs();
    let whole = (size / 100).to_string();
    let mut grouped = String::with_capacity(whole.len() + whole.len() / 3);
    for (place, digit) in whole.chars().enumerate() {
        if place > 0 && (whole.len() - place).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    format!("{sign}{grouped}.{:02}", size % 100)
}

/// Reads what a day costs, in cents: `38`, `38.50`, `$38.50`, `1,200`, `38.50 a day`; 0 to 100,000.
///
/// A comma sets off thousands only; `38,50` is asked about.
///
/// # Errors
/// [`MoneyFault`] says what is wrong; nothing is rounded.
pub fn parse_money(text: &str) -> Result<i64, MoneyFault> {
    amount(text, &A_DAY, MAX_DAILY_CENTS)
}

/// Reads a price, or what something brings or costs in a year, in cents: `$4,200`, `3 500`, `300 a year`; 0 to 1,000,000.
///
/// # Errors
/// As [`parse_money`].
pub fn parse_price(text: &str) -> Result<i64, MoneyFault> {
    amount(text, &A_YEAR, MAX_PRICE_CENTS)
}

fn amount(text: &str, tails: &[&str], most: i64) -> Result<i64, MoneyFault> {
    if text.chars().count() > MAX_CHARS {
        return Err(MoneyFault::Shape);
    }
    let lower = text.to_lowercase();
    let plain = lower.split_whitespace().collect::<Vec<_>>().join(" ");
    if plain.is_empty() {
        return Err(MoneyFault::Empty);
    }
    let plain = tails
        .iter()
        .find_map(|tail| plain.strip_suffix(tail))
        .unwrap_or(&plain);
    let (negative, amount) = unsigned(plain);
    let amount = &super::figure::without_spaces(amount);
    let (whole, part) = amount.split_once('.').unwrap_or((amount, ""));
    let cents = cents(part)?;
    let whole = without_commas(whole)?;
    let too_much = MoneyFault::TooMuch { max: most };
    // Digits only: what does not fit is too much.
    let whole: i64 = whole.parse().map_err(|_| too_much)?;
    let total = whole
        .checked_mul(100)
        .and_then(|sum| sum.checked_add(cents))
        .ok_or(too_much)?;
    if negative && total > 0 {
        Err(MoneyFault::Negative)
    } else if total > most {
        Err(too_much)
    } else {
        Ok(total)
    }
}

/// What stands beside an amount, in lower case; longer ones first.
const SIGNS: [&str; 14] = [
    "us$", "mx$", "ca$", "usd", "mxn", "cad", "eur", "gbp", "chf", "c$", "$", "€", "£", "¥",
];

/// Takes a minus and a sign of currency off, the minus in front and the sign on either side.
fn unsigned(plain: &str) -> (bool, &str) {
    let plain = unmarked(plain);
    let Some(rest) = plain.strip_prefix(['-', '−', '–']) else {
        return (false, plain);
    };
    (true, unmarked(rest))
}

fn unmarked(plain: &str) -> &str {
    let plain = plain.trim();
    let front = SIGNS.iter().find_map(|sign| plain.strip_prefix(sign));
    let plain = front.unwrap_or(plain).trim();
    let back = SIGNS.iter().find_map(|sign| plain.strip_suffix(sign));
    back.filter(|_| front.is_none()).unwrap_or(plain).trim()
}

/// The cents of what stands behind the point: nothing, one digit (tenths) or two.
fn cents(part: &str) -> Result<i64, MoneyFault> {
    if !part.bytes().all(|b| b.is_ascii_digit()) {
        return Err(MoneyFault::Shape);
    }
    let digits = part.parse::<i64>().unwrap_or(0);
    match part.len() {
        0 => Ok(0),
        1 => Ok(digits * 10),
        2 => Ok(digits),
        _more => Err(MoneyFault::PartCents),
    }
}

/// The digits before the point, where each comma stands before three of them.
fn without_commas(whole: &str) -> Result<String, MoneyFault> {
    let mut groups = whole.split(',');
    let first = groups.next().unwrap_or_default();
    let digits = |group: &str| !group.is_empty() && group.bytes().all(|b| b.is_ascii_digit());
    if !whole.split(',').all(digits) {
        return Err(MoneyFault::Shape);
    }
    let grouped = whole.contains(',');
    if grouped && (first.len() > 3 || groups.any(|group| group.len() != 3)) {
        return Err(MoneyFault::Comma);
    }
    Ok(whole.replace(',', ""))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    /// A day begun is a day charged (common practice). Day counts: Python 3.11.7 `(to - from).days + 1`.
    #[test]
    fn both_days_are_charged() {
        for (from, to, count) in [
            ("2026-03-02", "2026-03-02", 1),
            ("2026-03-02", "2026-03-03", 2),
            ("2026-02-27", "2026-03-02", 4),
            ("2028-02-27", "2028-03-02", 5),
            ("2026-03-07", "2026-03-09", 3),
            ("2026-01-01", "2026-12-31", 365),
            ("2026-03-03", "2026-03-02", 0),
            ("2026-03-09", "2026-03-02", 0),
        ] {
            assert_eq!(days(day(from), day(to)), count, "{from} to {to}");
        }
        assert!(days(NaiveDate::MIN, NaiveDate::MAX) > 0);
    }

    #[test]
    fn what_it_cost() {
        assert_eq!(cost(3850, 45), Some(173_250));
        assert_eq!(cost(3850, 0), Some(0));
        assert_eq!(cost(0, 45), Some(0));
        assert_eq!(cost(MAX_DAILY_CENTS, 36_500), Some(365_000_000_000));
        assert_eq!(cost(-1, 45), None);
        assert_eq!(cost(3850, -1), None);
        assert_eq!(cost(i64::MAX, 2), None);
    }

    /// Python 3.11.7 `f"{Decimal(cents) / 100:,.2f}"`.
    #[test]
    fn shown_with_commas() {
        for (cents, shown) in [
            (0, "0.00"),
            (5, "0.05"),
            (3850, "38.50"),
            (99_999, "999.99"),
            (100_000, "1,000.00"),
            (123_450, "1,234.50"),
            (10_000_000, "100,000.00"),
            (123_456_789, "1,234,567.89"),
            (-5, "-0.05"),
            (-123_450, "-1,234.50"),
            (i64::MIN, "-92,233,720,368,547,758.08"),
        ] {
            assert_eq!(money(cents), shown);
        }
    }

    #[test]
    fn signed_as_each_language_does() {
        for (sign, english, spanish) in [
            (None, "1,234.50", "1,234.50"),
            (Some("$"), "$1,234.50", "$1,234.50"),
            (Some("US$"), "US$1,234.50", "US$1,234.50"),
            (Some("USD"), "USD\u{a0}1,234.50", "1,234.50\u{a0}USD"),
            (Some("EUR"), "EUR\u{a0}1,234.50", "1.234,50\u{a0}EUR"),
            (Some("€"), "€1,234.50", "1.234,50\u{a0}€"),
        ] {
            assert_eq!(signed(Lang::English, sign, 123_450), english);
            assert_eq!(signed(Lang::Spanish, sign, 123_450), spanish);
        }
        assert_eq!(signed(Lang::English, Some("$"), -5), "-$0.05");
        assert_eq!(
            signed_whole(Lang::Spanish, Some("€"), 123_460.0),
            "1.235\u{a0}€"
        );
    }

    #[test]
    fn a_currency_is_a_code_or_a_sign() {
        for (typed, kept) in [
            ("eur", Some("EUR")),
            (" $ ", Some("$")),
            ("US$", Some("US$")),
            ("kr", Some("kr")),
            ("dollars", None),
            ("1$", None),
            ("", None),
            ("**", None),
            ("a b", None),
        ] {
            assert_eq!(currency(typed).as_deref(), kept, "{typed:?}");
        }
    }

    #[test]
    fn as_people_write_them() {
        for (text, cents) in [
            ("38", 3800),
            ("38.50", 3850),
            ("38.5", 3850),
            ("38.", 3800),
            ("$38.50", 3850),
            ("$ 38.50", 3850),
            (" 38.50 ", 3850),
            ("38.50 a day", 3850),
            ("38.50 por día", 3850),
            ("$38/day", 3800),
            ("38 / day", 3800),
            ("38 per day", 3800),
            ("38 daily", 3800),
            ("1,200", 120_000),
            ("1,200.05", 120_005),
            ("1200", 120_000),
            ("0", 0),
            ("-0", 0),
            ("100000", MAX_DAILY_CENTS),
            ("100,000.00", MAX_DAILY_CENTS),
            ("1 200", 120_000),
            ("1 200.50", 120_050),
        ] {
            assert_eq!(parse_money(text), Ok(cents), "{text:?}");
        }
        for (text, cents) in [
            ("4200", 420_000),
            ("$4,200", 420_000),
            ("$ 4,200.50", 420_050),
            ("3 500", 350_000),
            ("3\u{a0}500", 350_000),
            ("300 a year", 30_000),
            ("300 al año", 30_000),
            ("1,000,000", MAX_PRICE_CENTS),
        ] {
            assert_eq!(parse_price(text), Ok(cents), "{text:?}");
        }
        for (text, fault) in [
            ("4,20", MoneyFault::Comma),
            ("4.200", MoneyFault::PartCents),
            ("4.200,50", MoneyFault::Shape),
            ("-4200", MoneyFault::Negative),
            ("300 a day", MoneyFault::Shape),
            ("4 20", MoneyFault::Shape),
            (
                "1,000,001",
                MoneyFault::TooMuch {
                    max: MAX_PRICE_CENTS,
                },
            ),
        ] {
            assert_eq!(parse_price(text), Err(fault), "{text:?}");
        }
    }

    #[test]
    fn faults_are_told_apart() {
        let too_much = MoneyFault::TooMuch {
            max: MAX_DAILY_CENTS,
        };
        for (text, fault) in [
            ("", MoneyFault::Empty),
            ("  ", MoneyFault::Empty),
            ("-38", MoneyFault::Negative),
            ("−38.50", MoneyFault::Negative),
            ("-$38", MoneyFault::Negative),
            ("$-38", MoneyFault::Negative),
            ("38.505", MoneyFault::PartCents),
            ("1.200", MoneyFault::PartCents),
            ("38,50", MoneyFault::Comma),
            ("1,20", MoneyFault::Comma),
            ("1200,000", MoneyFault::Comma),
            ("12,00.50", MoneyFault::Comma),
            ("100000.01", too_much),
            ("100,001", too_much),
            ("99999999999999999999", too_much),
            ("92233720368547758", too_much),
            ("$", MoneyFault::Shape),
            (".50", MoneyFault::Shape),
            (",500", MoneyFault::Shape),
            ("1,,000", MoneyFault::Shape),
            ("38.5.0", MoneyFault::Shape),
            ("38 40", MoneyFault::Shape),
            ("38-40", MoneyFault::Shape),
            ("38 a week", MoneyFault::Shape),
            ("a day", MoneyFault::Shape),
            ("free", MoneyFault::Shape),
            ("1e3", MoneyFault::Shape),
            ("３８", MoneyFault::Shape),
            ("--38", MoneyFault::Shape),
        ] {
            assert_eq!(parse_money(text), Err(fault), "{text:?}");
        }
    }

    proptest! {
        #[test]
        fn every_amount_is_read_back_as_it_is_shown(cents in 0..=MAX_DAILY_CENTS) {
            prop_assert_eq!(parse_money(&money(cents)), Ok(cents));
        }

        #[test]
        fn no_text_stops_the_reader(text in "\\PC{0,45}") {
            if let Ok(cents) = parse_money(&text) {
                prop_assert!((0..=MAX_DAILY_CENTS).contains(&cents));
            }
        }

        #[test]
        fn nothing_like_an_amount_stops_the_reader(text in "[-0-9.,$ /day]{0,14}") {
            if let Ok(cents) = parse_money(&text) {
                prop_assert!((0..=MAX_DAILY_CENTS).contains(&cents));
            }
        }

        #[test]
        fn no_numbers_stop_it(daily: i64, count: i64, cents: i64) {
            if let Some(sum) = cost(daily, count) {
                prop_assert!(sum >= 0);
            }
            prop_assert!(money(cents).is_ascii());
        }
    }
}
