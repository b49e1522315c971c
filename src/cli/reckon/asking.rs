//! A calculation at a terminal: the inputs asked one by one, with their meaning, in the shop's own way of typing.

use std::io::{self, BufRead};

use unicode_width::UnicodeWidthStr;

use crate::calc::{self, Asked, Calculation, Input, InputKind, Questionnaire};
use crate::cli::failure::Failure;
use crate::cli::print;

/// Asks for every input, then answers. An input that is refused is asked again.
pub(super) fn ask(calculation: &'static Calculation) -> Result<u8, Failure> {
    say(&format!("{}\n", calculation.question))?;
    if calc::tables_for(calculation).next().is_some() {
        let id = calculation.id;
        say(&format!("setwright reckon {id} --about shows constants of materials, their spread and their source.\n"))?;
    }
    let mut form = Questionnaire::of(calculation);
    while let Some(asked) = form.next() {
        say(&question(&asked))?;
        let mut line = String::new();
        if io::stdin().lock().read_line(&mut line).map_err(Failure::stream)? == 0 {
            return Err(Failure::usage("The input ended before everything was answered."));
        }
        if let Err(why) = form.answer(&line) {
            say(&format!("{why}\n"))?;
        }
    }
    match calc::reckon(calculation.id, &form.inputs().unwrap_or_default()) {
        Ok(outputs) => {
            for (key, value) in &outputs {
                print(&format!("{key:<30} {}\n", calc::shown(value)))?;
            }
            say(&format!("Holds for: {}\n", calculation.validity))?;
            say(&format!("Source: {}\n", calculation.source))?;
            Ok(0)
        }
        Err(refused) => {
            print(&format!("{}: {}\n", refused.input, refused.reason))?;
            Ok(65)
        }
    }
}

fn question(asked: &Asked) -> String {
    let unit = if matches!(asked.unit, "" | "1") { String::new() } else { format!(" in {}", asked.unit) };
    let choices = if asked.choices.is_empty() { String::new() } else { format!(" ({})", asked.choices.join(" / ")) };
    let empty = asked.if_empty.as_ref().map(|words| format!(" [empty: {words}]")).unwrap_or_default();
    format!("{}{unit}: {}{choices}{empty} > ", asked.name, asked.meaning)
}

/// Names the unit or the sort of an input.
pub(super) fn unit_of(input: &Input) -> &'static str {
    match input.kind {
        InputKind::Word(_) => "word",
        InputKind::Text => "text",
        InputKind::Count | InputKind::Counts => "count",
        InputKind::Records(_) => "records",
        _ => input.unit,
    }
}

/// Breaks a text between words, so that no line of it is wider than the terminal.
fn folded(text: &str, width: usize) -> String {
    let mut lines = String::new();
    let mut column = 0;
    for (place, word) in text.split(' ').enumerate() {
        let goes_on = column + 1 + word.width() <= width;
        if place > 0 {
            lines.push(if goes_on { ' ' } else { '\n' });
            column = if goes_on { column + 1 } else { 0 };
        }
        lines.push_str(word);
        column += word.width();
    }
    lines
}

/// Prints a text folded to the terminal.
fn say(text: &str) -> Result<(), Failure> {
    const USUAL: u16 = 80;
    let width = crossterm::terminal::size().map_or(USUAL, |(columns, _)| columns.max(20));
    print(&folded(text, usize::from(width)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_question_is_broken_between_words_only() {
        assert_eq!(folded("middle of front and back > ", 15), "middle of front\nand back > ");
        assert_eq!(folded("fit_diameter in mm", 4), "fit_diameter\nin\nmm");
        assert_eq!(folded("Maß in µm > ", 80), "Maß in µm > ");
    }
}
