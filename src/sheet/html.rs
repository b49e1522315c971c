//! A document as one HTML file: style and pictures inside, no script, nothing fetched, fit for paper.

use maud::{DOCTYPE, PreEscaped};
pub(super) use maud::{Markup, html};

use crate::sheet::document::{Block, Document, Row, Section, Table};
use crate::sheet::{chart, code, vector};

/// The style of every sheet.
const STYLE: &str = include_str!("../../assets/sheet.css");
/// Nothing may be fetched or run, whatever stands in a note.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; img-src data:";

/// Writes a document as HTML.
pub(super) fn page(document: &Document) -> String {
    let mut pictures = 0;
    let marks = document.alarms.iter().map(|alarm| alarm.mark).collect::<Vec<_>>().join(", ");
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(POLICY);
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light";
                title { (clean(&document.title)) }
                style { (PreEscaped(STYLE)) (PreEscaped(margins(&marks))) }
            }
            body {
                a.skip href="#content" { "Skip to the content" }
                header {
                    h1 { (clean(&document.title)) }
                    p.subtitle { (clean(&document.subtitle)) }
                    @for alarm in &document.alarms { p.alarm role="alert" { (alarm.mark) ": " (clean(&alarm.says)) } }
                }
                main id="content" {
                    @for section in &document.sections { (section_markup(section, &marks, &mut pictures)) }
                }
            }
        }
    };
    page.into_string()
}

/// Puts the marks and the page's number at the foot of every printed page. The marks are words of ours.
fn margins(marks: &str) -> String {
    format!(
        "@page {{ @bottom-left {{ content: \"{marks}\"; color: #a00000; font: bold 9pt sans-serif; }} \
         @bottom-right {{ content: \"page \" counter(page) \" of \" counter(pages); font: 9pt sans-serif; }} }}"
    )
}

fn section_markup(section: &Section, marks: &str, pictures: &mut usize) -> Markup {
    html! {
        section {
            h2 { (clean(&section.heading)) @if !marks.is_empty() { " " span.mark { (marks) } } }
            @for block in &section.blocks { (block_markup(block, pictures)) }
        }
    }
}

fn block_markup(block: &Block, pictures: &mut usize) -> Markup {
    match block {
        Block::Words(words) => html! { p { (clean(words)) } },
        Block::Points(points) => html! { ul { @for point in points { li { (clean(point)) } } } },
        Block::Cautions(cautions) => html! {
            ul.cautions { @for caution in cautions { li { b { "Caution: " } (clean(caution)) } } }
        },
        Block::Facts(facts) => html! {
            dl { @for (name, value) in facts { div { dt { (clean(name)) } dd { (clean(value)) } } } }
        },
        Block::Table(table) => table_markup(table),
        Block::Picture { scene, caption } => {
            *pictures += 1;
            html! { figure { (vector::svg(scene, *pictures, &clean(caption))) figcaption { (clean(caption)) } } }
        }
        Block::Plot { plot, caption } => {
            *pictures += 1;
            html! { figure { (chart::svg(plot, *pictures, &clean(caption))) figcaption { (clean(caption)) } } }
        }
        Block::Code { text, caption } => {
            *pictures += 1;
            html! {
                figure.code {
                    (code::svg(text, *pictures, &clean(caption)))
                    figcaption { (clean(caption)) ": " code { (clean(text)) } }
                }
            }
        }
        Block::Verbatim(words) => html! { pre { (clean_lines(words)) } },
    }
}

fn table_markup(table: &Table) -> Markup {
    html! {
        div.wide role="region" aria-label=(clean(&table.caption)) tabindex="0" {
            table {
                caption { (clean(&table.caption)) }
                thead { tr {
                    @for column in &table.columns {
                        th scope="col" class=[column.numbers.then_some("number")] { (clean(&column.title)) }
                    }
                } }
                tbody { @for row in &table.rows { (row_markup(table, row)) } }
            }
        }
    }
}

fn row_markup(table: &Table, row: &Row) -> Markup {
    html! {
        tr class=[row.struck.then_some("struck")] {
            @for (index, (cell, column)) in row.cells.iter().zip(&table.columns).enumerate() {
                @let class = column.numbers.then_some("number");
                @let words = clean(cell);
                @if index == 0 {
                    th scope="row" class=[class] { (struck(&words, row.struck)) }
                } @else {
                    td class=[class] { (struck(&words, row.struck)) }
                }
            }
        }
    }
}

fn struck(words: &str, is_struck: bool) -> Markup {
    html! { @if is_struck { s { (words) } } @else { (words) } }
}

/// Shows what a page must not hold (control characters) as a blank.
fn clean(text: &str) -> String {
    text.chars().map(|letter| if letter.is_control() { ' ' } else { letter }).collect()
}

fn clean_lines(text: &str) -> String {
    text.lines().map(clean).collect::<Vec<_>>().join("\n")
}
