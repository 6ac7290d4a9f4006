//! The HTML of a paper. Its style stands in the file, so that it looks the same for ever; it prints on Letter and A4, and no row is
//! split between pages.

use super::{DRAWN_HEIGHT, DRAWN_WIDTH, Paper, Photo, Row, Section, Signature, Weight, strokes};

const STYLE: &str = "\
@page{margin:16mm 15mm 18mm}\
:root{color-scheme:light}\
*{box-sizing:border-box}\
body{margin:0;background:#fff;color:#111;font:11pt/1.4 system-ui,-apple-system,\"Segoe UI\",\"Liberation Sans\",sans-serif;font-variant-numeric:tabular-nums}\
main{max-width:48rem;margin:0 auto;padding:1.5rem 1rem 3rem;overflow-wrap:anywhere}\
h1{font-size:1.5rem;line-height:1.2;margin:0}\
.of{font-size:1.125rem;margin:.25rem 0 1rem}\
h2{font-size:1.0625rem;margin:1.75rem 0 .375rem;break-after:avoid}\
p{margin:.375rem 0;max-width:70ch}\
dl{display:grid;grid-template-columns:minmax(7rem,11rem) 1fr;gap:.125rem 1rem;margin:0}\
dt{color:#444}dd{margin:0;overflow-wrap:anywhere}\
table{width:100%;border-collapse:collapse;table-layout:fixed}\
thead{display:table-header-group}\
th,td{text-align:left;vertical-align:top;font-weight:400;padding:.25rem .5rem .25rem 0;border-bottom:1px solid #bbb;overflow-wrap:anywhere}\
thead th{font-size:.8125rem;color:#444;border-bottom:2px solid #111}\
thead th:nth-child(1){width:38%}thead th:nth-child(2){width:36%}\
small{display:block;font-size:.8125rem;color:#444}\
.grave td b{text-decoration:underline}\
tr,dt,dd,.signed,p,li{break-inside:avoid}\
.signed{margin-top:2.5rem;max-width:26rem}\
.signed b{display:block;min-height:2rem;font-size:1.25rem;border-bottom:1px solid #111;padding-bottom:.25rem}\
.signed svg{display:block;width:15rem;height:auto}\
.photos{list-style:none;margin:0;padding:0}.photos li{padding:.25rem 0;border-bottom:1px solid #bbb;overflow-wrap:anywhere}\
.foot{margin-top:2rem;border-top:1px solid #bbb;padding-top:.5rem;font-size:.8125rem;color:#444}\
@media screen and (max-width:36rem){dl{grid-template-columns:5.5rem 1fr}table,tbody,tr,tbody th,td{display:block}thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}tr{border-bottom:1px solid #bbb;padding:.375rem 0}tbody th,td{border:0;padding:0;width:auto}tbody th{font-weight:700}}\
@media print{body{font-size:9.5pt}main{max-width:none;padding:0}}";

/// The bytes of a paper.
#[must_use]
pub fn html(paper: &Paper) -> Vec<u8> {
    let mut out = String::with_capacity(16 * 1024);
    out.push_str("<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
    out.push_str("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>");
    out.push_str(&escaped(&paper.title));
    out.push_str("</title>\n");
    if !paper.mark.is_empty() {
        out.push_str(&format!(
            "<meta name=\"keywords\" content=\"{}\">\n",
            escaped(&paper.mark)
        ));
    }
    out.push_str("<style>");
    out.push_str(STYLE);
    out.push_str("</style>\n</head>\n<body>\n<main>\n");
    element(&mut out, "h1", &paper.title);
    if !paper.subject.is_empty() {
        out.push_str(&format!("<p class=\"of\">{}</p>\n", escaped(&paper.subject)));
    }
    facts(&mut out, &paper.facts);
    for part in &paper.sections {
        section(&mut out, part);
    }
    for signature in &paper.signatures {
        signed(&mut out, signature);
    }
    if !paper.foot.is_empty() {
        out.push_str("<div class=\"foot\">\n");
        for line in &paper.foot {
            element(&mut out, "p", line);
        }
        out.push_str("</div>\n");
    }
    out.push_str("</main>\n</body>\n</html>\n");
    out.into_bytes()
}

/// The style that stands in a kept paper, for the policy under which it is shown; nothing when there is none.
#[must_use]
pub fn style_of(bytes: &[u8]) -> Option<&[u8]> {
    let begin = find(bytes, b"<style>")? + "<style>".len();
    let rest = bytes.get(begin..)?;
    rest.get(..find(rest, b"</style>")?)
}

fn find(bytes: &[u8], wanted: &[u8]) -> Option<usize> {
    bytes.windows(wanted.len()).position(|window| window == wanted)
}

fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            other => out.push(other),
        }
    }
    out
}

fn element(out: &mut String, name: &str, text: &str) {
    out.push_str(&format!("<{name}>{}</{name}>\n", escaped(text)));
}

fn facts(out: &mut String, facts: &[(String, String)]) {
    if facts.is_empty() {
        return;
    }
    out.push_str("<dl>\n");
    for (label, value) in facts {
        out.push_str(&format!(
            "<dt>{}</dt><dd>{}</dd>\n",
            escaped(label),
            escaped(value)
        ));
    }
    out.push_str("</dl>\n");
}

fn section(out: &mut String, section: &Section) {
    element(out, "h2", &section.heading);
    for line in &section.lead {
        element(out, "p", line);
    }
    table(out, section);
    photos(out, &section.photos);
}

fn table(out: &mut String, section: &Section) {
    if section.rows.is_empty() {
        return;
    }
    out.push_str("<table>\n<thead><tr>");
    for column in section.columns {
        out.push_str(&format!("<th scope=\"col\">{}</th>", escaped(column)));
    }
    out.push_str("</tr></thead>\n<tbody>\n");
    for line in &section.rows {
        row(out, line);
    }
    out.push_str("</tbody>\n</table>\n");
}

fn row(out: &mut String, row: &Row) {
    let is_grave = row.weight == Weight::Grave;
    out.push_str(if is_grave { "<tr class=\"grave\">" } else { "<tr>" });
    out.push_str(&format!("<th scope=\"row\">{}", escaped(&row.head)));
    if !row.under.is_empty() {
        out.push_str(&format!("<small>{}</small>", escaped(&row.under)));
    }
    out.push_str("</th><td>");
    for (index, line) in row.middle.iter().enumerate() {
        let tag = match (index, is_grave) {
            (0, true) => "b",
            (0, false) => "span",
            _ => "small",
        };
        out.push_str(&format!("<{tag}>{}</{tag}>", escaped(line)));
    }
    out.push_str("</td><td>");
    for (index, line) in row.last.iter().enumerate() {
        let tag = if index == 0 { "span" } else { "small" };
        out.push_str(&format!("<{tag}>{}</{tag}>", escaped(line)));
    }
    out.push_str("</td></tr>\n");
}

fn photos(out: &mut String, photos: &[Photo]) {
    if photos.is_empty() {
        return;
    }
    out.push_str("<ul class=\"photos\">\n");
    for photo in photos {
        let caption = escaped(&photo.caption);
        match photo.link.as_str() {
            "" => out.push_str(&format!("<li>{caption}")),
            link => out.push_str(&format!("<li><a href=\"{}\">{caption}</a>", escaped(link))),
        }
        let instead = Some(&photo.instead).filter(|words| photo.jpeg.is_none() && !words.is_empty());
        for line in instead.into_iter().chain(&photo.under) {
            out.push_str(&format!("<small>{}</small>", escaped(line)));
        }
        out.push_str("</li>\n");
    }
    out.push_str("</ul>\n");
}

fn signed(out: &mut String, signature: &Signature) {
    out.push_str("<div class=\"signed\">");
    let lines = strokes(&signature.drawn);
    if !lines.is_empty() {
        out.push_str(&format!(
            "<svg viewBox=\"0 0 {DRAWN_WIDTH} {DRAWN_HEIGHT}\" role=\"img\" aria-label=\"Signature\"><path fill=\"none\" stroke=\"#111\" \
             stroke-width=\"6\" stroke-linecap=\"round\" stroke-linejoin=\"round\" d=\"{}\"/></svg>",
            lines.iter().map(|line| path(line)).collect::<String>()
        ));
    }
    out.push_str(&format!(
        "<b>{}</b><small>{}</small></div>\n",
        escaped(&signature.name),
        escaped(&signature.beneath)
    ));
}

/// A point alone is a dot of the pen, which a path of no length draws with round ends.
fn path(line: &[(f32, f32)]) -> String {
    let mut path = String::new();
    for (index, (x, y)) in line.iter().enumerate() {
        path.push_str(&format!("{}{x} {y}", if index == 0 { 'M' } else { 'L' }));
    }
    if let [(x, y)] = line {
        path.push_str(&format!("L{x} {y}"));
    }
    path
}
