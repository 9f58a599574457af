//! What is on the shelf. Decides which items are counted, what a use takes off, and when somebody is asked to order more;
//! leaves the forecast to `rules::order_point`.

use chrono::{DateTime, Days, NaiveDate, Utc};

use super::draft::{Asked, Draft, button, private_fault};
use super::papers::day_of;
use crate::choice::{Action, FilterKind};
use crate::decision::{Decision, Lane};
use crate::due::asking;
use crate::ids::{Item, ProfileName, RecordNo};
use crate::message::{Look, Message};
use crate::record::Body;
use crate::refusal::Refusal;
use crate::role::Role;
use crate::rules::guard::{self, Field};
use crate::rules::nearest::{self, Match};
use crate::rules::order_point;
use crate::rules::policy::Name;
use crate::say;
use crate::state::{State, Stock, Surface};
use crate::tap::{House, Tap};
use crate::words::Lang;

/// The longest name of an item, in characters.
const ITEM_MAX: usize = 40;
/// The most items on the shelf.
const ITEMS_MAX: usize = 100;
/// The most items that a line of a due list names.
const ORDERS_SHOWN: usize = 6;
/// The most items that one list shows.
const LINES_SHOWN: usize = 12;
/// With fewer days or uses than these a forecast would be a guess (common practice).
const DAYS_ENOUGH: i64 = 28;
const USES_ENOUGH: usize = 4;

/// What can be said of an item ahead.
struct Forecast {
    /// Pieces a day.
    rate: f64,
    /// Until when it lasts, where any is used.
    lasts: Option<NaiveDate>,
    /// Order when no more than so many are left.
    point: u32,
}

/// `/stock`.
pub(super) fn stock(
    asked: &Asked<'_>,
    item: Option<&str>,
    count: Option<i64>,
) -> Result<Decision, Refusal> {
    match (item, count) {
        (None, None) => Ok(list(asked)),
        (None, Some(_)) => Err(Refusal::new("fault-missing").text("option", "item")),
        (Some(typed), None) => {
            let item = find(asked, typed)?;
            Ok(about(asked, &item))
        }
        (Some(typed), Some(count)) => {
            let count = u32::try_from(count).map_err(|_| Refusal::new("fault-stale-tap"))?;
            match find(asked, typed) {
                Ok(item) => Ok(counted(asked, &item, count)),
                Err(like) => unknown(asked, typed, count, like),
            }
        }
    }
}

/// "New item": it is like none that is there.
pub(super) fn new_item(asked: &Asked<'_>, item: &Item, count: u32) -> Result<Decision, Refusal> {
    let item = name_of_new(asked, item.as_str())?;
    Ok(counted(asked, &item, count))
}

/// A new filter went in: the shelf has one less, where its filters are counted. Whoever orders is asked once, where upkeep
/// reads if it has a channel, and whoever took it reads how many are left.
pub(super) fn filter_used(
    asked: &Asked<'_>,
    draft: &mut Draft,
    surface: &Surface,
    action: Action,
) -> Option<String> {
    if action != Action::Replaced {
        return None;
    }
    let item = filter_of(&surface.profile);
    let stock = asked.state.stock.get(&item)?;
    let today = day_of(asked.state, asked.now);
    let mut after = stock.clone();
    after.on_hand -= 1;
    after.uses.push_back(today);
    let point = forecast(asked.state, &after, today).map(|ahead| i64::from(ahead.point));
    let order = !stock.asked && after.on_hand <= point.unwrap_or(0);
    draft.fact(Body::StockUsed {
        item: item.clone(),
        count: 1,
        order,
    });
    if order {
        let lang = asked.state.lang();
        let text = say!(
            lang,
            "post-stock-order",
            item = item.as_str(),
            count = after.on_hand.max(0)
        );
        let asks = asking::routine(asked.state, None, &[Role::Upkeep], asked.now);
        let message = asks.on(asked.facility, Message::text(text));
        let facility = asked.facility;
        draft.post(
            format!("stock:{item}:{}", stock.no),
            facility
                .upkeep_channel
                .unwrap_or(facility.supervisor_channel),
            Lane::Routine,
            message,
        );
    }
    let short = after.on_hand <= point.unwrap_or(0);
    short.then(|| {
        say!(
            asked.lang,
            "stock-left",
            item = item.as_str(),
            count = after.on_hand.max(0)
        )
    })
}

/// What is to be ordered, in a line of a due list; nothing where nothing is.
pub(crate) fn order_line(state: &State, lang: Lang, now: DateTime<Utc>) -> Option<String> {
    let today = day_of(state, now);
    let short = |stock: &Stock| {
        let point = forecast(state, stock, today).map_or(0, |ahead| i64::from(ahead.point));
        stock.on_hand <= point
    };
    let items: Vec<String> = state
        .stock
        .iter()
        .filter(|(_, stock)| short(stock))
        .map(|(item, stock)| {
            say!(
                lang,
                "due-order-item",
                item = item.as_str(),
                count = stock.on_hand.max(0)
            )
        })
        .collect();
    let shown = items.iter().take(ORDERS_SHOWN).cloned().collect::<Vec<_>>();
    let mut these = shown.join(", ");
    if items.len() > ORDERS_SHOWN {
        these.push_str(&say!(
            lang,
            "due-more",
            count = (items.len() - ORDERS_SHOWN) as i64
        ));
    }
    (!items.is_empty()).then(|| say!(lang, "due-order", count = items.len() as i64, these = these))
}

/// The entry that began with this record is taken back: if it put a filter in, that one is on the shelf again. One that
/// was counted since is counted as it is.
pub(super) fn filter_back(
    state: &State,
    draft: &mut Draft,
    surface: &Surface,
    before: &Surface,
    first: RecordNo,
) {
    let changed = surface.filter != before.filter
        && surface
            .filter
            .as_ref()
            .is_some_and(|look| look.action == Action::Replaced);
    if changed {
        filter_on_shelf(state, draft, surface, first);
    }
}

/// The new filter of that entry never went in: it is on the shelf.
pub(super) fn filter_on_shelf(
    state: &State,
    draft: &mut Draft,
    surface: &Surface,
    first: RecordNo,
) {
    if was_on_shelf(state, surface, first) {
        draft.fact(Body::StockUsed {
            item: filter_of(&surface.profile),
            count: -1,
            order: false,
        });
    }
}

/// Whether the shelf was counted before that entry: who counted it since saw what it had done.
pub(super) fn was_on_shelf(state: &State, surface: &Surface, first: RecordNo) -> bool {
    let stock = state.stock.get(&filter_of(&surface.profile));
    stock.is_some_and(|stock| stock.no < first)
}

/// The items that there are or could be: the filters of each profile that has any to replace, and what was counted.
pub(super) fn items(state: &State) -> Vec<Item> {
    let mut items: Vec<Item> = state
        .profiles
        .values()
        .filter(|profile| profile.filter == FilterKind::Replaceable)
        .map(|profile| filter_of(&profile.name))
        .collect();
    for item in state.stock.keys() {
        if !items.contains(item) {
            items.push(item.clone());
        }
    }
    items
}

fn filter_of(profile: &ProfileName) -> Item {
    Item::from(format!("filter {profile}"))
}

fn find(asked: &Asked<'_>, typed: &str) -> Result<Item, Refusal> {
    let items = items(asked.state);
    let names = |names: Vec<&str>| names.join(", ");
    let escaped = super::check::escaped(typed);
    match nearest::find(typed, items.iter().map(Item::as_str)) {
        Match::One(name) => Ok(Item::from(name)),
        Match::Several(near) => Err(Refusal::new("fault-which-item")
            .text("typed", escaped)
            .text("these", names(near))),
        Match::Nearest(near) if near.is_empty() => {
            Err(Refusal::new("fault-no-item").text("typed", escaped))
        }
        Match::Nearest(near) => Err(Refusal::new("fault-no-item-near")
            .text("typed", escaped)
            .text("these", names(near))),
    }
}

/// An item that is not there is new only once somebody says so: a slip would be a second shelf.
fn unknown(asked: &Asked<'_>, typed: &str, count: u32, like: Refusal) -> Result<Decision, Refusal> {
    if like.key == "fault-which-item" {
        return Err(like);
    }
    let item = name_of_new(asked, typed)?;
    let lang = asked.lang;
    let text = format!("{}\n{}", like.say(lang), say!(lang, "stock-new"));
    let tap = House::NewItem { item, count };
    let message = Message::text(text).buttons(vec![button(
        lang,
        "button-new-item",
        Look::Plain,
        &Tap::House(tap),
    )]);
    Ok(Decision::private(message))
}

fn name_of_new(asked: &Asked<'_>, typed: &str) -> Result<Item, Refusal> {
    let name = typed.split_whitespace().collect::<Vec<_>>().join(" ");
    let fits = |c: char| c.is_alphanumeric() || matches!(c, ' ' | '-' | '.' | '/');
    if name.is_empty() || name.len() > ITEM_MAX || !name.chars().all(fits) {
        return Err(Refusal::new("fault-item-name").number("most", ITEM_MAX as i64));
    }
    guard::check(&name, Field::Note).map_err(private_fault)?;
    if asked.state.stock.len() >= ITEMS_MAX && !asked.state.stock.contains_key(name.as_str()) {
        return Err(Refusal::new("fault-items-many").number("most", ITEMS_MAX as i64));
    }
    Ok(Item::from(name))
}

fn counted(asked: &Asked<'_>, item: &Item, count: u32) -> Decision {
    let (state, lang) = (asked.state, asked.lang);
    let mut draft = asked.draft();
    draft.fact(Body::StockCounted {
        item: item.clone(),
        count,
    });
    let mut lines = vec![say!(
        lang,
        "stock-counted",
        item = item.as_str(),
        count = i64::from(count)
    )];
    if let Some(before) = state.stock.get(item) {
        let off = i64::from(count) - before.on_hand;
        if off != 0 && before.on_hand >= 0 {
            lines.push(say!(lang, "stock-books", books = before.on_hand));
        }
        let today = day_of(state, asked.now);
        if let Some(ahead) = forecast(state, before, today)
            && count <= ahead.point
        {
            lines.push(say!(
                lang,
                "stock-count-order",
                point = i64::from(ahead.point)
            ));
        }
    } else {
        lines.push(say!(lang, "stock-first"));
    }
    draft.private(Message::text(lines.join("\n")))
}

fn list(asked: &Asked<'_>) -> Decision {
    let (state, lang) = (asked.state, asked.lang);
    let today = day_of(state, asked.now);
    let items = items(state);
    if items.is_empty() {
        return Decision::private(Message::text(say!(lang, "stock-nothing")));
    }
    let mut lines = vec![say!(lang, "stock-head")];
    for item in items.iter().take(LINES_SHOWN) {
        lines.push(match state.stock.get(item) {
            None => say!(lang, "stock-line-not-counted", item = item.as_str()),
            Some(stock) => format!(
                "{} · {}",
                say!(
                    lang,
                    "stock-line",
                    item = item.as_str(),
                    count = stock.on_hand.max(0)
                ),
                ahead_words(lang, state, stock, today)
            ),
        });
    }
    if items.len() > LINES_SHOWN {
        lines.push(say!(
            lang,
            "stock-more",
            count = (items.len() - LINES_SHOWN) as i64
        ));
    }
    lines.push(say!(lang, "stock-foot"));
    Decision::private(Message::text(lines.join("\n")))
}

/// One item, and why it is to be ordered when it is.
fn about(asked: &Asked<'_>, item: &Item) -> Decision {
    let (state, lang) = (asked.state, asked.lang);
    let Some(stock) = state.stock.get(item) else {
        let text = say!(lang, "stock-not-counted", item = item.as_str());
        return Decision::private(Message::text(text));
    };
    let today = day_of(state, asked.now);
    let mut lines = vec![say!(
        lang,
        "stock-about",
        item = item.as_str(),
        count = stock.on_hand.max(0),
        counted = day_of(state, stock.counted).to_string()
    )];
    if stock.on_hand < 0 {
        lines.push(say!(lang, "stock-below", count = -stock.on_hand));
    }
    lines.push(ahead_words(lang, state, stock, today));
    if let Some(ahead) = forecast(state, stock, today) {
        lines.push(say!(
            lang,
            "stock-why",
            point = i64::from(ahead.point),
            days = state.policies.get(Name::OrderDays),
            mean = tenths(ahead.rate * lead(state)),
            window = state.policies.get(Name::OrderWindow),
            service = state.policies.get(Name::OrderService)
        ));
    }
    Decision::private(Message::text(lines.join("\n")))
}

fn ahead_words(lang: Lang, state: &State, stock: &Stock, today: NaiveDate) -> String {
    let Some(ahead) = forecast(state, stock, today) else {
        return say!(lang, "stock-too-little");
    };
    let lasts = match ahead.lasts {
        Some(day) => say!(
            lang,
            "stock-lasts",
            week = tenths(ahead.rate * 7.0),
            day = day.to_string()
        ),
        None => say!(lang, "stock-unused"),
    };
    let now = stock.on_hand <= i64::from(ahead.point);
    let key = if now {
        "stock-order-now"
    } else {
        "stock-order-at"
    };
    let order = say!(lang, key, point = i64::from(ahead.point));
    format!("{lasts} · {order}")
}

/// The forecast of an item; nothing while too little is known.
fn forecast(state: &State, stock: &Stock, today: NaiveDate) -> Option<Forecast> {
    if (today - stock.since).num_days() + 1 < DAYS_ENOUGH || stock.uses.len() < USES_ENOUGH {
        return None;
    }
    let uses: Vec<NaiveDate> = stock.uses.iter().copied().collect();
    let window = state.policies.get(Name::OrderWindow);
    let rate = order_point::rate(&uses, stock.known_since(), today, window)?;
    let service = state.policies.get(Name::OrderService) as f64 / 100.0;
    let point = order_point::order_point(rate * lead(state), service).ok()?;
    let on_hand = u32::try_from(stock.on_hand.max(0)).unwrap_or(u32::MAX);
    let lasts = order_point::days_left(on_hand, rate).and_then(|days| {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a number of days from 0 on; what is beyond any calendar is checked"
        )]
        today.checked_add_days(Days::new(days.min(1e6) as u64))
    });
    Some(Forecast { rate, lasts, point })
}

/// Days from an order to its delivery.
fn lead(state: &State) -> f64 {
    state.policies.get(Name::OrderDays) as f64
}

fn tenths(value: f64) -> String {
    format!("{value:.1}")
}
