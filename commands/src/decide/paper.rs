//! Pages to print: the head and the foot that they share, and how text becomes part of one. Decides that nothing in a page runs
//! or is fetched, and that it is as wide as the paper it meets, A4 and Letter both; leaves what stands on it to each sheet.

use crate::state::Facility;
use crate::words::Lang;

/// Margins only: the paper is the printer's.
const STYLE: &str = "@page{margin:12mm}\
body{font:10pt/1.35 sans-serif;color:#000;background:#fff;margin:0 auto;padding:0 3mm;max-width:195mm}\
h1{font-size:16pt;margin:3mm 0 1mm}\
p{margin:1mm 0}\
table{border-collapse:collapse;width:100%}\
thead{display:table-header-group}\
tr{break-inside:avoid}\
th,td{border:1px solid #777;padding:1mm 1.5mm;text-align:left;vertical-align:top;overflow-wrap:anywhere}\
td.no,td.at{white-space:nowrap}\
small{display:block}\
s{color:#555}";

/// Where the page ends.
pub(super) const END: &str = "</body>\n</html>\n";

/// What stands over a title: the home's name, where it has given one.
pub(super) fn home(facility: &Facility) -> String {
    let name = facility.home.as_deref();
    name.map_or_else(String::new, |name| element("p", name))
}

/// Up to and with its title. The policy forbids whatever a page could run or fetch, so that no mistake of ours lets it.
pub(super) fn begin(lang: Lang, title: &str, style: &str) -> String {
    format!(
        "<!DOCTYPE html>\n<html lang=\"{}\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n\
         <meta name=\"viewport\" content=\"width=device-width\">\n<title>{title}</title>\n\
         <style>{STYLE}{style}</style>\n</head>\n<body>\n<h1>{title}</h1>\n",
        lang.code(),
        title = html(title),
    )
}

/// An element of text.
pub(super) fn element(name: &str, text: &str) -> String {
    format!("<{name}>{}</{name}>\n", html(text))
}

/// Text with what HTML would take for its own taken apart.
pub(super) fn html(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for c in text.chars() {
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
    html(text).replace('\u{1}', "<s>").replace('\u{2}', "</s>")
}

/// What somebody typed, without what could pass for our own marks; it is taken apart with the sentence it stands in.
pub(super) fn plain(typed: &str) -> String {
    typed.chars().filter(|c| !c.is_control()).collect()
}
