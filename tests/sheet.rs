//! What leaves the laptop: every number on paper is the log's, every page is sound, bad input gives no half file.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a test may stop at what it did not expect"
)]

#[path = "support/player.rs"]
mod player;
#[path = "support/rig.rs"]
mod rig;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::time::Instant;

use rig::{Rig, program};
use scraper::{Html, Selector};
use serde_json::{Value, json};
use setwright::checklist::Command::{Enter, Strike};
use setwright::session::{House, Outcome, Session, review};
use setwright::sheet::{self, Rows};

fn samples() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sessions/v1");
    let all = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut logs: Vec<PathBuf> = all.filter(|path| path.extension().is_some_and(|ending| ending == "jsonl")).collect();
    logs.sort();
    assert!(logs.len() >= 2);
    logs
}

fn run(home: &Path, arguments: &[&str]) -> Output {
    program(home).current_dir(home).arg("sheet").args(arguments).output().unwrap()
}

fn words(page: &Html, selector: &str) -> Vec<String> {
    let selector = Selector::parse(selector).unwrap();
    page.select(&selector).map(|node| node.text().collect::<String>()).collect()
}

fn every_page(log: &Path) -> Vec<(&'static str, String)> {
    let read = review(log).unwrap();
    vec![
        ("setup", sheet::to_html(&sheet::setup_sheet(&read))),
        ("evidence", sheet::to_html(&sheet::evidence(&read))),
        ("blank", sheet::to_html(&sheet::blank(read.progress.card(), "P0000ABCD"))),
    ]
}

/// Digits with their point and sign, as they stand in a text.
fn numbers(value: &Value, found: &mut Vec<String>) {
    match value {
        Value::Number(number) => found.push(number.to_string()),
        Value::Array(items) => items.iter().for_each(|item| numbers(item, found)),
        Value::Object(object) => object.values().for_each(|item| numbers(item, found)),
        Value::Null | Value::Bool(_) | Value::String(_) => {}
    }
}

#[test]
fn every_number_on_the_evidence_is_the_logs() {
    for log in samples() {
        let read = review(&log).unwrap();
        let page = Html::parse_document(&sheet::to_html(&sheet::evidence(&read)));
        let row = Selector::parse("tbody tr").unwrap();
        let rows: Vec<String> = page.select(&row).map(|row| row.text().collect::<Vec<_>>().join("\t")).collect();
        let mut compared = 0;
        for event in read.events.iter().filter(|event| event.kind.name() == "reckoning.add") {
            let (line, role) = (event.n.to_string(), event.data["role"].as_str().unwrap());
            let shown = rows.iter().find(|row| row.starts_with(&format!("{line}\t{role}\t")));
            let shown = shown.unwrap_or_else(|| panic!("line {line} ({role}) is not on the page"));
            let mut expected = Vec::new();
            numbers(&event.data["inputs"], &mut expected);
            numbers(&event.data["outputs"], &mut expected);
            for number in expected {
                assert!(shown.contains(&number), "line {line}: {number} is not in {shown}");
                compared += 1;
            }
        }
        assert!(compared > 1000, "{compared}");
        for entry in read.progress.entries() {
            let shown = rows.iter().find(|row| row.starts_with(&format!("{}\t", entry.seq)));
            assert!(shown.unwrap().contains(&entry.value.to_string()), "{}", entry.seq);
        }
        println!("{}: {compared} numbers", log.display());
    }
}

#[test]
fn every_page_is_sound_html_that_fetches_and_runs_nothing() {
    for log in samples() {
        for (name, text) in every_page(&log) {
            let page = Html::parse_document(&text);
            assert_eq!(page.errors, Vec::<std::borrow::Cow<'_, str>>::new(), "{name}");
            assert_eq!(words(&page, "h1").len(), 1, "{name}");
            assert_eq!(words(&page, "script, link, iframe, object, img").len(), 0, "{name}");
            assert!(!text.contains("http://") && !text.contains("https://"), "{name}");
            let tables = Selector::parse("table").unwrap();
            for table in page.select(&tables) {
                let heads = table.select(&Selector::parse("thead th[scope=col]").unwrap()).count();
                assert!(heads > 1 && table.select(&Selector::parse("caption").unwrap()).count() == 1, "{name}");
                for row in table.select(&Selector::parse("tbody tr").unwrap()) {
                    assert_eq!(row.select(&Selector::parse("th, td").unwrap()).count(), heads, "{name}");
                }
            }
            let pictures = page.select(&Selector::parse("svg[role=img]").unwrap()).count();
            assert_eq!(pictures, words(&page, "svg > title").len(), "{name}");
            assert!(pictures > 0 || name == "blank");
        }
    }
}

#[test]
fn the_setup_sheet_holds_what_hangs_at_the_machine() {
    for log in samples() {
        let read = review(&log).unwrap();
        let text = sheet::to_html(&sheet::setup_sheet(&read));
        let page = Html::parse_document(&text);
        let headings = words(&page, "h2").join("; ");
        for heading in [
            "Job and setup",
            "Cautions",
            "Pictures",
            "Registers",
            "Tools",
            "Index table",
            "Level",
            "First run",
            "Gates",
            "crossed out",
            "carries over",
            "log behind",
        ] {
            assert!(headings.contains(heading), "{heading} is not in {headings}");
        }
        let cells = words(&page, "td, th");
        let register = read
            .progress
            .entries()
            .iter()
            .rev()
            .find(|entry| entry.stands() && entry.piece == Some(1) && entry.spec.id == "capture.registers-after");
        for (_, value) in &register.unwrap().registers().first().unwrap().axes {
            assert!(cells.contains(&value.echo()), "{} was read back", value.echo());
        }
        for feature in &read.progress.card().features {
            assert!(cells.contains(&feature.id), "{}", feature.id);
        }
        let head = setwright::session_log::witness(&read.check.head);
        assert!(text.contains(&head) && text.contains("--expect"), "the head stands in groups of eight");
        assert!(words(&page, ".cautions li").join(" ").contains("does not control the machine"));
    }
}

#[test]
fn a_note_drives_neither_page_nor_spreadsheet() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), "flow-sensor-body");
    let note = "</td><script>alert(1)</script> | `x` \u{202e} =1+1, \"q\" \u{1b}[31m";
    rig.send(&json!({"note": note}));
    rig.until("brief.top-faces", 0, 1);
    let path = rig.path();
    rig.leave();
    let read = review(&path).unwrap();
    let text = sheet::to_html(&sheet::evidence(&read));
    let page = Html::parse_document(&text);
    assert!(page.errors.is_empty(), "{:?}", page.errors);
    assert_eq!(words(&page, "script").len(), 0);
    assert!(words(&page, "td").iter().any(|cell| cell.contains("<script>alert(1)</script>")), "it stays readable");
    assert!(!text.contains('\u{1b}'));
    let markdown = sheet::to_markdown(&sheet::evidence(&read));
    assert!(!markdown.contains("<script>") && markdown.contains("\\<script\\>"));
    assert!(words(&page, ".alarm").join(" ").contains("NOT SEALED"), "an unfinished session says so");
    assert!(words(&page, "h2 .mark").iter().all(|mark| mark.contains("NOT SEALED")), "in every section");
}

/// Story 12 on paper: the evidence says which entries came late, from which paper and from which of its fields; the
/// field is the one that the blank checklist prints beside the same question.
#[test]
fn an_entry_typed_later_names_its_paper_and_field() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), "flow-sensor-body");
    rig.until("pickup.x", 0, 1);
    rig.send(&json!({"late": {"enter": "-315.406", "paper": "P17"}}));
    let path = rig.path();
    rig.leave();
    let read = review(&path).unwrap();
    let blank = Html::parse_document(&sheet::to_html(&sheet::blank(read.progress.card(), "P17")));
    let cells = words(&blank, "td, th");
    let printed = cells.iter().find(|cell| cell.ends_with(" pickup.x")).unwrap();
    let field = printed.split_once(' ').unwrap().0;
    let evidence = Html::parse_document(&sheet::to_html(&sheet::evidence(&read)));
    let marked: Vec<String> = words(&evidence, "td").into_iter().filter(|cell| cell.contains("entered late")).collect();
    assert_eq!(marked, [format!("entered late from paper P17, field {field}")]);
    let rows = sheet::to_csv(&read, Rows::Readings).unwrap();
    assert_eq!(rows.lines().filter(|row| row.ends_with(",P17")).count(), 1, "{rows}");
}

/// JCGM 106: the guard bands of the first article on the page are those of the log's own calculations.
#[test]
fn the_first_article_shows_its_guard_bands() {
    for log in samples() {
        let read = review(&log).unwrap();
        let page = Html::parse_document(&sheet::to_html(&sheet::evidence(&read)));
        let rows: Vec<String> = page
            .select(&Selector::parse("tbody tr").unwrap())
            .map(|row| row.text().collect::<Vec<_>>().join("\t"))
            .collect();
        let mut judged = read.events.iter().filter(|event| {
            event.kind.name() == "reckoning.add"
                && event.data["id"] == "conformity"
                && event.data["step"] == "piece-check"
                && event.data["piece"] == 1
        });
        let event = judged.next_back().expect("a bore of the first piece was judged");
        let row = rows.iter().find(|row| row.ends_with(&format!("\t{}", event.n))).expect("it is on the page");
        let metric = read.progress.card().unit == setwright::job::CardUnit::Millimetre;
        for key in ["accept_low", "accept_high"] {
            let mm = event.data["outputs"][key]["value"].as_f64().unwrap();
            let shown = if metric { format!("{mm:.4} mm") } else { format!("{:.5} in", mm / 25.4) };
            assert!(row.contains(&shown), "{key} {shown}: {row}");
        }
    }
}

#[test]
fn a_damaged_log_says_so_in_red_at_the_top() {
    let home = tempfile::tempdir().unwrap();
    let sample = samples().remove(0);
    let text = fs::read_to_string(&sample).unwrap();
    let at = text.match_indices("\"raw\":\"yes\"").nth(3).unwrap().0;
    let damaged = home.path().join(sample.file_name().unwrap());
    fs::write(&damaged, format!("{}\"raw\":\"yeS\"{}", &text[..at], &text[at + 11..])).unwrap();
    let output = run(home.path(), &[damaged.to_str().unwrap(), "--out", "-"]);
    assert!(output.status.success(), "{output:?}");
    let page = Html::parse_document(&String::from_utf8(output.stdout).unwrap());
    let line = text[..at].lines().count();
    let alarm = words(&page, ".alarm").join(" ");
    assert!(alarm.contains("DAMAGED LOG") && alarm.contains(&format!("line {line}")), "{alarm}");
}

#[test]
fn a_sheet_is_written_whole_or_not_at_all() {
    let home = tempfile::tempdir().unwrap();
    let log = samples().remove(0);
    let log = log.to_str().unwrap();
    let output = run(home.path(), &[log, "--out", "no-such-folder/sheet.html"]);
    assert_eq!(output.status.code(), Some(1));
    let complaint = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(complaint.contains("no-such-folder/sheet.html") && complaint.contains("--out"), "{complaint}");
    fs::create_dir(home.path().join("taken")).unwrap();
    let output = run(home.path(), &[log, "--out", "taken"]);
    assert_eq!(output.status.code(), Some(1));
    let left: Vec<_> = fs::read_dir(home.path()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    assert_eq!(left, ["taken"], "nothing else lies about");
    let output = run(home.path(), &[log, "--evidence"]);
    assert!(output.status.success(), "{output:?}");
    let made = fs::read_dir(home.path()).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    assert!(made.into_iter().any(|name| name.ends_with("-evidence.html")));
    assert_eq!(run(home.path(), &["nothing-like-it"]).status.code(), Some(66));
    assert_eq!(run(home.path(), &[]).status.code(), Some(2));
    assert_eq!(run(home.path(), &["--blank", "--card", "flow-sensor-body", "--as", "csv"]).status.code(), Some(2));
}

#[test]
fn rows_agree_with_the_log_in_csv_and_json() {
    for log in samples() {
        let read = review(&log).unwrap();
        let record = sheet::to_json(&read);
        assert_eq!(record["head"], read.check.head.as_str());
        for rows in Rows::ALL {
            let text = sheet::to_csv(&read, rows).unwrap();
            let mut reader = csv::Reader::from_reader(text.as_bytes());
            let names: Vec<String> = reader.headers().unwrap().iter().map(str::to_owned).collect();
            let lines: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
            let objects = record[rows.word()].as_array().unwrap();
            assert_eq!(lines.len(), objects.len(), "{}", rows.word());
            for (line, object) in lines.iter().zip(objects) {
                for (name, cell) in names.iter().zip(line) {
                    let value = &object[name.as_str()];
                    let same = match value {
                        Value::Null => cell.is_empty(),
                        Value::Number(number) => cell.parse::<f64>().ok() == number.as_f64(),
                        Value::Bool(flag) => cell == flag.to_string(),
                        other => cell.trim_start_matches('\'') == other.as_str().unwrap(),
                    };
                    assert!(same, "{name}: {cell} against {value}");
                }
            }
        }
        let entries = read.progress.entries();
        assert_eq!(record["readings"].as_array().unwrap().len(), entries.len());
    }
}

/// Column names are permanent: DEVELOPERS.md lists them, and this test holds the list equal to the program's.
#[test]
fn the_columns_are_the_documented_ones() {
    let developers = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("DEVELOPERS.md")).unwrap();
    let read = review(&samples().remove(0)).unwrap();
    for rows in Rows::ALL {
        let text = sheet::to_csv(&read, rows).unwrap();
        let names = text.lines().next().unwrap().replace(',', ", ");
        assert!(developers.contains(&names), "{}: {names}", rows.word());
    }
}

#[test]
fn the_blank_checklist_has_every_question_with_its_field() {
    let home = tempfile::tempdir().unwrap();
    let output = run(home.path(), &["--blank", "--card", "metering-valve-body", "--as", "markdown", "--out", "-"]);
    let text = String::from_utf8(output.stdout).unwrap();
    let checklist = setwright::steps::checklist();
    for (number, step) in (1..).zip(checklist.steps) {
        for (place, ask) in (1..).zip(step.asks()) {
            let field = format!("{number}.{place:02} {}", ask.id.replace('_', "\\_"));
            assert!(text.contains(&field), "{field}");
        }
    }
    assert!(text.contains("Paper number P"), "{}", &text[..300]);
}

/// `SETWRIGHT_WRITE_SHEETS=1 cargo test --test sheet golden` writes them anew.
#[test]
fn the_golden_sheets_of_both_practice_jobs_are_what_the_program_writes() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/sheets");
    for log in samples() {
        let read = review(&log).unwrap();
        let name = format!("{}.md", read.progress.card().id);
        let now = sheet::to_markdown(&sheet::setup_sheet(&read));
        let golden = folder.join(&name);
        if std::env::var_os("SETWRIGHT_WRITE_SHEETS").is_some() {
            fs::write(&golden, &now).unwrap();
        }
        let then = fs::read_to_string(&golden).unwrap_or_default();
        let first = now.lines().zip(then.lines()).find(|(now, then)| now != then);
        assert!(now == then, "{name} differs first at {first:?}");
    }
}

fn python(script: &str, arguments: &[&str]) -> Option<Output> {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests").join(script);
    let interpreter = std::env::var("SETWRIGHT_TEST_PYTHON").unwrap_or_else(|_| "python3".to_owned());
    Command::new(interpreter).arg(script).args(arguments).output().ok()
}

/// Opens a page in the browser; false where there is none here.
fn browse(most: u32, page: &Path) -> bool {
    let Some(output) = python("browser.py", &[&most.to_string(), page.to_str().unwrap()]) else {
        println!("skipped: no python3 here");
        return false;
    };
    if output.status.code() == Some(77) {
        println!("skipped: no chromium with chromedriver here");
        return false;
    }
    let said = String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success() && said.is_empty(), "{said}");
    true
}

#[test]
fn a_real_browser_finds_nothing_wrong() {
    let home = tempfile::tempdir().unwrap();
    let mut pages = Vec::new();
    for (kind, most) in [("setup", 12), ("blank", 16), ("evidence", 260)] {
        for (number, log) in samples().iter().enumerate() {
            let page = every_page(log).into_iter().find(|(name, _)| *name == kind).unwrap().1;
            let path = home.path().join(format!("{kind}-{number}.html"));
            fs::write(&path, page).unwrap();
            pages.push((most, path));
        }
    }
    assert!(pages.len() >= 6);
    let _ = pages.iter().all(|(most, path)| browse(*most, path));
}

/// `cargo test --test sheet -- --ignored ten_thousand --nocapture`
#[test]
#[ignore = "ten thousand readings take a minute to save and to print"]
fn ten_thousand_readings_print_cleanly() {
    const READINGS: usize = 10_000;
    let home = tempfile::tempdir().unwrap();
    let house = House::under(home.path());
    let [(_, card), _] = setwright::job::practice_cards();
    let card = setwright::job::read(card).unwrap();
    let mut session = Session::start(house.surroundings(), &house.sessions, card, "KT").unwrap();
    for _ in 0..READINGS {
        let read = session.take(&Enter { text: "yes".to_owned(), sure: None }).unwrap();
        let Outcome::Recorded(lines) = read else { panic!("the first question wants a yes") };
        session.take(&Strike { seq: lines[0], why: "taken again".to_owned() }).unwrap();
    }
    let read = review(session.log().path()).unwrap();
    assert_eq!(read.progress.entries().len(), READINGS);
    let page = home.path().join("evidence.html");
    let began = Instant::now();
    fs::write(&page, sheet::to_html(&sheet::evidence(&read))).unwrap();
    println!("written in {} ms, {} bytes", began.elapsed().as_millis(), fs::metadata(&page).unwrap().len());
    // A file of this size is too much for WebDriver's own print: the browser prints it by itself.
    if browse(0, &page) {
        let paper = home.path().join("evidence.pdf");
        let began = Instant::now();
        let print = format!("--print-to-pdf={}", paper.display());
        let arguments = ["--headless", "--no-sandbox", "--disable-gpu", &print, page.to_str().unwrap()];
        assert!(Command::new("chromium").args(arguments).output().unwrap().status.success());
        let printed = fs::read(&paper).unwrap();
        let pages = printed.windows(12).filter(|bytes| bytes.starts_with(b"/Type /Page") && bytes[11] != b's').count();
        println!("opened at 360, 794 and 1280 px; printed, {pages} pages in {} s", began.elapsed().as_secs());
        assert!((300..1000).contains(&pages), "{pages}");
    }
}

#[test]
fn a_folder_of_logs_can_be_asked_with_a_query() {
    let log = samples().remove(0);
    let folder = log.parent().unwrap();
    let Some(output) = python("ask_a_folder.py", &[folder.to_str().unwrap()]) else {
        println!("skipped: no python3 here");
        return;
    };
    if output.status.code() == Some(77) {
        println!("skipped: DuckDB is not installed here");
        return;
    }
    let rows = String::from_utf8(output.stdout).unwrap();
    let read = review(&log).unwrap();
    let probe = &read.progress.card().instruments.edge_finder.name;
    let expected = read.progress.entries().iter().filter(|entry| entry.instrument.as_deref() == Some(probe)).count();
    let name = log.file_name().unwrap().to_str().unwrap();
    let found = rows.lines().find(|row| row.contains(name) && row.contains(probe.as_str()));
    assert!(found.is_some_and(|row| row.ends_with(&format!("\t{expected}"))), "{rows}");
}
