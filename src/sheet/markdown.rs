//! A document as Markdown: plain tables, numbers to the right, no HTML.

use crate::sheet::document::{Block, Document, Section, Table};

/// Writes a document as Markdown.
pub(super) fn markdown(document: &Document) -> String {
    let mut text = format!("# {}\n\n{}\n", line(&document.title), line(&document.subtitle));
    for alarm in &document.alarms {
        text.push_str(&format!("\n**{}: {}**\n", alarm.mark, line(&alarm.says)));
    }
    for section in &document.sections {
        text.push_str(&section_text(section));
    }
    text
}

fn section_text(section: &Section) -> String {
    let mut text = format!("\n## {}\n", line(&section.heading));
    for block in &section.blocks {
        text.push('\n');
        text.push_str(&block_text(block));
    }
    text
}

fn block_text(block: &Block) -> String {
    match block {
        Block::Words(words) => format!("{}\n", line(words)),
        Block::Points(points) => points.iter().map(|point| format!("- {}\n", line(point))).collect(),
        Block::Cautions(cautions) => cautions.iter().map(|words| format!("> **Caution:** {}\n", line(words))).collect(),
        Block::Facts(facts) => {
            facts.iter().map(|(name, value)| format!("- {}: {}\n", line(name), line(value))).collect()
        }
        Block::Table(table) => table_text(table),
        Block::Picture { caption, .. } | Block::Plot { caption, .. } => {
            format!("*{} (drawn on the HTML sheet)*\n", line(caption))
        }
        Block::Code { text, caption } => format!("{}: `{}`\n", line(caption), text.replace('`', " ")),
        Block::Verbatim(words) => words.lines().map(|words| format!("    {words}\n")).collect(),
    }
}

fn table_text(table: &Table) -> String {
    let titles: Vec<String> = table.columns.iter().map(|column| line(&column.title)).collect();
    let rule: Vec<&str> = table.columns.iter().map(|column| if column.numbers { "---:" } else { "---" }).collect();
    let mut text = format!("{}\n\n| {} |\n| {} |\n", line(&table.caption), titles.join(" | "), rule.join(" | "));
    for row in &table.rows {
        let cells: Vec<String> = row.cells.iter().map(|cell| cell_text(cell, row.struck)).collect();
        text.push_str(&format!("| {} |\n", cells.join(" | ")));
    }
    text
}

fn cell_text(cell: &str, struck: bool) -> String {
    let words = line(cell);
    if struck && !words.is_empty() { format!("~~{words}~~") } else { words }
}

/// Puts a text on one line in which no letter means anything to Markdown.
fn line(text: &str) -> String {
    let mut line = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\\' | '|' | '`' | '*' | '_' | '<' | '>' | '[' | ']' | '~' | '#' => {
                line.push('\\');
                line.push(letter);
            }
            letter if letter.is_control() => line.push(' '),
            letter => line.push(letter),
        }
    }
    line
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_letter_of_a_note_means_anything_to_markdown() {
        let note = "a | b <script>alert(1)</script> `x` *y* \u{1b}[31m\nnext";
        let text = line(note);
        assert!(!text.contains('\n') && !text.contains('\u{1b}'));
        assert!(text.contains("\\| b \\<script\\>alert"), "{text}");
    }

    #[test]
    fn a_table_keeps_its_columns_and_strikes_its_rows() {
        let mut table = Table::new("Readings", &["what", "#value"]);
        table.row(vec!["rear".to_owned(), "0.111".to_owned()]);
        table.rows.push(crate::sheet::document::Row { cells: vec!["a|b".to_owned(), String::new()], struck: true });
        let text = table_text(&table);
        assert_eq!(text, "Readings\n\n| what | value |\n| --- | ---: |\n| rear | 0.111 |\n| ~~a\\|b~~ |  |\n");
    }
}
