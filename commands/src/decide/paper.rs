//! Pages to print: the head and the foot that they share, and how text becomes part of one. Decides that nothing in a page runs
//! or is fetched (a picture stands in the page itself), that it is as wide as the paper it meets, A4 and Letter both, and that on a
//! phone's screen no page is wider than the screen; leaves what stands on it to each sheet.

use crate::say;
use crate::state::Facility;
use crate::words::Lang;

/// Margins, and which sheet of how many: the paper is the printer's.
const STYLE: &str = "@page{margin:12mm 12mm 14mm;@bottom-right{content:counter(page) \" / \" counter(pages);font:8pt sans-serif}}\
body{font:10pt/1.35 sans-serif;color:#000;background:#fff;margin:0 auto;padding:0 3mm;max-width:195mm}\
h1{font-size:16pt;margin:3mm 0 1mm}\
p{margin:1mm 0}\
table{border-collapse:collapse;width:100%}\
thead{display:table-header-group}\
tr,li{break-inside:avoid}\
th,td{border:1px solid #777;padding:1mm 1.5mm;text-align:left;vertical-align:top;overflow-wrap:anywhere}\
thead th{background:#eee}\
tbody th{font-weight:normal}\
th.no,td.at{white-space:nowrap}\
small{display:block}\
s{color:#555}\
p,li,h1,h2,h3{overflow-wrap:break-word}";

/// On a screen: letters as large as a phone needs them, and a table that is wider than it is moved sideways in a box of its own,
/// with the head of each line staying in sight. Behind a page's own style, and no part of what is printed.
const SCREEN: &str = "@media screen{\
body{font-size:12pt;padding:0 4mm 8mm}\
.wide{overflow-x:auto;margin:2mm 0}\
.wide:focus{outline:2px solid #0072b2}\
table{font-size:10.5pt;width:max-content;min-width:100%}\
th,td{padding:1mm 1.5mm;max-width:15em}\
.few table{width:100%}\
.few td{max-width:none}\
tbody th{position:sticky;left:0;background:#fff}\
}";

/// A table of so few columns is as wide as a phone, and its words go on in the next line.
const FEW_COLUMNS: usize = 3;

/// Where a table ends.
pub(super) const TABLE_END: &str = "</tbody></table>\n</div>\n";
/// Where the page ends.
pub(super) const END: &str = "</body>\n</html>\n";

/// What stands over a title: the home's name, where it has given one.
pub(super) fn home(facility: &Facility) -> String {
    let name = facility.home.as_deref();
    name.map_or_else(String::new, |name| element("p", name))
}

/// Up to and with its title.
pub(super) fn begin(lang: Lang, title: &str, style: &str) -> String {
    format!("{}<h1>{}</h1>\n", untitled(lang, title, style), html(title))
}

/// As [`begin`], for a page of several sheets with a title each. The policy forbids whatever a page could run or fetch, so
/// that no mistake of ours lets it.
pub(super) fn untitled(lang: Lang, title: &str, style: &str) -> String {
    format!(
        "<!DOCTYPE html>\n<html lang=\"{}\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; style-src 'unsafe-inline'\">\n\
         <meta name=\"viewport\" content=\"width=device-width\">\n<title>{title}</title>\n\
         <style>{STYLE}{style}{SCREEN}</style>\n</head>\n<body>\n",
        lang.code(),
        title = html(title),
    )
}

/// An element of text.
pub(super) fn element(name: &str, text: &str) -> String {
    format!("<{name}>{}</{name}>\n", html(text))
}

/// A table up to its first row, with a head over each column, in the box that it is moved in where it is wider than a screen:
/// by keys as well, and by its name for whoever hears it.
pub(super) fn heads(lang: Lang, heads: impl Iterator<Item = String>) -> String {
    let heads: Vec<String> = heads
        .map(|head| format!("<th scope=\"col\">{}</th>", html(&head)))
        .collect();
    let few = if heads.len() <= FEW_COLUMNS {
        " few"
    } else {
        ""
    };
    let heads = heads.concat();
    let name = html(&say!(lang, "page-table"));
    format!(
        "<div class=\"wide{few}\" role=\"group\" tabindex=\"0\" aria-label=\"{name}\">\n\
         <table>\n<thead><tr>{heads}</tr></thead>\n<tbody>\n"
    )
}

/// Text with what HTML would take for its own taken apart, and without what no page may hold.
pub(super) fn html(text: &str) -> String {
    let kept = |c: &char| !hidden(*c);
    apart(text.chars().filter(kept))
}

fn apart(text: impl Iterator<Item = char>) -> String {
    let mut plain = String::new();
    for c in text {
        match c {
            '&' => plain.push_str("&amp;"),
            '<' => plain.push_str("&lt;"),
            '>' => plain.push_str("&gt;"),
            '"' => plain.push_str("&quot;"),
            '\'' => plain.push_str("&#39;"),
            _ => plain.push(c),
        }
    }
    plain
}

/// Marks a text that counts no more, for [`struck`]: with signs that no sentence has.
pub(super) fn strike(old: &str) -> String {
    format!("\u{1}{old}\u{2}")
}

/// As [`html`], with what was marked struck through.
pub(super) fn struck(text: &str) -> String {
    let kept = |c: &char| matches!(c, '\u{1}' | '\u{2}') || !hidden(*c);
    apart(text.chars().filter(kept))
        .replace('\u{1}', "<s>")
        .replace('\u{2}', "</s>")
}

/// What somebody typed, in one line, without what could pass for our own marks; it is taken apart with the sentence it
/// stands in.
pub(super) fn plain(typed: &str) -> String {
    let spaced = |c: char| if c.is_whitespace() { ' ' } else { c };
    typed.chars().map(spaced).filter(|c| !hidden(*c)).collect()
}

/// What is not seen and does harm: controls and what is no character, which no page may hold (HTML Living Standard, 13.2.3.5,
/// from memory), and the marks that turn the direction of all that stands behind them (Unicode Standard Annex 9).
fn hidden(c: char) -> bool {
    let control = c.is_control() && c != '\n' && c != '\t';
    let turns = matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    let none = matches!(c, '\u{fdd0}'..='\u{fdef}') || (u32::from(c) & 0xfffe) == 0xfffe;
    control || turns || none
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_typed_stays_text() {
        assert_eq!(
            html("<b>&\"'\u{0}\u{1}\u{85}\u{202e}\u{fffe}\u{1ffff}é\n"),
            "&lt;b&gt;&amp;&quot;&#39;é\n"
        );
        assert_eq!(plain("two\r\npads\u{2}\u{2067}"), "two  pads");
        let line = format!("{} <now>", strike("<old>"));
        assert_eq!(struck(&line), "<s>&lt;old&gt;</s> &lt;now&gt;");
    }
}
