//! Setup sheet, evidence, blank checklist and exports.

use std::path::PathBuf;

use crate::cli::arguments::{Form, Sheet as Options};
use crate::cli::environment::Surroundings;
use crate::cli::failure::Failure;
use crate::cli::{cards, complain, print, sessions};
use crate::session::{House, Review, review as read_session, session_name, write_whole};
use crate::session_log::slug;
use crate::sheet::{self, Document, Rows};

/// Carries out `setwright sheet …`.
pub(super) fn sheet(options: &Options, here: &Surroundings) -> Result<u8, Failure> {
    let house = here.house()?;
    let (name, text) = match (&options.card, &options.session) {
        (Some(card), _) => {
            let card = cards::find(card)?;
            let document = sheet::blank(&card, &paper_number(&house));
            (format!("{}-checklist", card.id), written(&document, options.form)?)
        }
        (None, Some(session)) => of_session(&house, session, options)?,
        (None, None) => {
            return Err(Failure::usage(
                "Of which session? setwright sheet SESSION, or for a blank checklist: setwright sheet --blank --card CARD",
            ));
        }
    };
    deliver(options, &name, &text)
}

fn of_session(house: &House, session: &str, options: &Options) -> Result<(String, String), Failure> {
    let path = sessions::find(house, session)?;
    let review = read_session(&path)?;
    let name = session_name(&path);
    if options.blank {
        let document = sheet::blank(review.progress.card(), &paper_number(house));
        return Ok((format!("{name}-checklist"), written(&document, options.form)?));
    }
    match options.form {
        Form::Csv | Form::Json if options.serial.is_some() => {
            Err(Failure::usage("The page of a piece is written as html or markdown."))
        }
        Form::Csv => {
            let rows = options.rows.map_or(Rows::Readings, Into::into);
            Ok((
                format!("{name}-{}", rows.word()),
                sheet::to_csv(&review, rows).map_err(|error| Failure::failed(error.to_string()))?,
            ))
        }
        Form::Json => Ok((format!("{name}-record"), format!("{}\n", sheet::to_json(&review)))),
        Form::Html | Form::Markdown => page(&review, &name, options),
    }
}

fn page(review: &Review, name: &str, options: &Options) -> Result<(String, String), Failure> {
    if let Some(serial) = &options.serial {
        let document = sheet::piece_page(review, serial).ok_or_else(|| unknown_serial(review, serial))?;
        return Ok((format!("{name}-piece-{}", slug(serial)), written(&document, options.form)?));
    }
    let (kind, document) =
        if options.evidence { ("evidence", sheet::evidence(review)) } else { ("setup", sheet::setup_sheet(review)) };
    Ok((format!("{name}-{kind}"), written(&document, options.form)?))
}

fn unknown_serial(review: &Review, serial: &str) -> Failure {
    let run = review.progress.run();
    let known: Vec<&str> = (1..=run.piece).filter_map(|piece| run.serial(piece)).collect();
    let known = if known.is_empty() { "none yet".to_owned() } else { known.join(", ") };
    Failure::no_input(format!("No piece `{serial}` in this session. Serials read: {known}."))
}

fn written(document: &Document, form: Form) -> Result<String, Failure> {
    match form {
        Form::Html => Ok(sheet::to_html(document)),
        Form::Markdown => Ok(sheet::to_markdown(document)),
        Form::Csv | Form::Json => Err(Failure::usage("A blank checklist is written as html or markdown.")),
    }
}

/// A number that no other paper has: entries typed in later name it.
fn paper_number(house: &House) -> String {
    let bits = house.surroundings().ids.next_bits();
    format!("P{:08X}", bits >> 96)
}

/// Writes to standard output for `-`, else to a file whole or not at all.
fn deliver(options: &Options, name: &str, text: &str) -> Result<u8, Failure> {
    let target = options.out.clone().unwrap_or_else(|| PathBuf::from(format!("{name}.{}", options.form.ending())));
    if target.as_os_str() == "-" {
        return print(text).map(|()| 0);
    }
    write_whole(&target, text).map_err(|error| {
        Failure::failed(format!(
            "{} cannot be written ({error}). Nothing was changed there; name another place with --out.",
            target.display()
        ))
    })?;
    complain(&format!("Written: {}", target.display()));
    Ok(0)
}
