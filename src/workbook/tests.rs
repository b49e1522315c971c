//! The screen without a terminal: what every page shows, at every size, whatever is pressed.

use std::path::{Path, PathBuf};

use crossterm::event::{Event, KeyCode, KeyEvent, KeyModifiers};
use proptest::prelude::*;
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;
use ratatui::style::{Color, Modifier};

use super::*;
use crate::job;
use crate::session::review;
use crate::session_log::FixedClock;
use model::{Page, Panel};

/// The screen without a terminal.
struct Bench {
    home: tempfile::TempDir,
    desk: Desk,
    model: Model,
}

impl Bench {
    fn at(start: impl FnOnce(&Path) -> Start) -> Self {
        let home = tempfile::tempdir().unwrap();
        let mut house = House::under(home.path());
        house.test_clock = Some(FixedClock::parse("2026-08-26T09:30:00+02:00").unwrap());
        house.test_ids = Some("screens".to_owned());
        let start = start(home.path());
        let mut desk = Desk::new(house, Some("KT".to_owned()));
        let mut model = Model::new();
        desk.begin(start, &mut model).unwrap();
        let mut bench = Self { home, desk, model };
        bench.read_all();
        bench
    }

    /// A new session from the first practice card.
    fn open() -> Self {
        let (_, text) = job::practice_cards()[0];
        Self::at(|_| Start::Card(Box::new(job::read(text).unwrap())))
    }

    /// A session with its first jaw measured once.
    fn at_the_jaws() -> Self {
        let mut bench = Self::open();
        bench.keys("yes\nat-the-top\nplus-x\nyes\nyes\nslides\n15.999\n");
        bench
    }

    /// A sealed session of the samples, played back to before the nth answer to an ask.
    fn in_the_past(ask: &str, nth: usize) -> Self {
        let mut bench = Self::at(|_| Start::Review(Box::new(review(&sample()).unwrap())));
        let wanted = format!(": {ask}");
        let mut found = bench
            .desk
            .snapshot()
            .unwrap()
            .trail
            .iter()
            .filter(|line| line.kind == "entry.add" && line.text.contains(&wanted));
        let seq = found.nth(nth).unwrap().seq;
        bench.carry_out(effects::Effect::GoTo(usize::try_from(seq).unwrap()));
        bench
    }

    fn carry_out(&mut self, effect: effects::Effect) {
        self.desk.carry_out(effect, &mut self.model).unwrap();
        self.read_all();
    }

    fn read_all(&mut self) {
        while self.desk.read_some(&mut self.model) {}
    }

    fn press(&mut self, code: KeyCode) {
        let event = Event::Key(KeyEvent::new(code, KeyModifiers::NONE));
        if let Some(effect) = update::update(&mut self.model, self.desk.snapshot(), &event) {
            self.carry_out(effect);
        }
    }

    fn keys(&mut self, text: &str) {
        for letter in text.chars() {
            self.press(if letter == '\n' { KeyCode::Enter } else { KeyCode::Char(letter) });
        }
    }

    fn buffer(&self, width: u16, height: u16, theme: Theme) -> Buffer {
        let mut terminal = Terminal::new(TestBackend::new(width, height)).unwrap();
        terminal.draw(|frame| view::draw(frame, &self.model, self.desk.snapshot(), theme)).unwrap();
        terminal.backend().buffer().clone()
    }

    fn shown(&self, width: u16, height: u16, ascii: bool) -> String {
        text_of(&self.buffer(width, height, Theme::new(false, ascii)))
    }
}

/// The practice job of the samples.
fn sample() -> PathBuf {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sessions/v1");
    let logs = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    logs.into_iter().find(|path| path.to_string_lossy().contains("flow-sensor-body")).unwrap()
}

fn text_of(buffer: &Buffer) -> String {
    let row = |y: u16| (0..buffer.area.width).map(|x| buffer[(x, y)].symbol()).collect::<String>();
    (0..buffer.area.height).map(|y| format!("{}\n", row(y).trim_end())).collect()
}

/// One letter a cell: bold, reversed, dim, or the colour; a dot is plain.
fn style_of(buffer: &Buffer) -> String {
    let letter = |x: u16, y: u16| {
        let cell = &buffer[(x, y)];
        match (cell.fg, cell.modifier) {
            (_, modifier) if modifier.contains(Modifier::REVERSED) => 'V',
            (_, modifier) if modifier.contains(Modifier::DIM) => 'D',
            (Color::Cyan, _) => 'C',
            (Color::Blue, _) => 'G',
            (Color::Yellow, _) => 'Y',
            (Color::Red, _) => 'R',
            (_, modifier) if modifier.contains(Modifier::BOLD) => 'B',
            _ => '.',
        }
    };
    let row = |y: u16| (0..buffer.area.width).map(|x| letter(x, y)).collect::<String>();
    (0..buffer.area.height).map(|y| format!("{}\n", row(y).trim_end_matches('.'))).collect()
}

/// A page at three sizes, with its styles in colour and without.
fn drawn(name: &str, bench: &Bench) -> String {
    use std::fmt::Write as _;
    let mut page = String::new();
    for (width, height) in [(80, 24), (40, 10), (120, 40)] {
        let (plain, coloured) = (Theme::new(false, false), Theme::new(true, false));
        let buffer = bench.buffer(width, height, plain);
        let in_colour = bench.buffer(width, height, coloured);
        assert_eq!(text_of(&buffer), text_of(&in_colour), "{name}: colour changes no word");
        write!(page, "== {width}x{height}\n{}", text_of(&buffer)).unwrap();
        write!(page, "-- styles\n{}", style_of(&in_colour)).unwrap();
        write!(page, "-- styles without colour\n{}", style_of(&buffer)).unwrap();
    }
    page
}

/// The file in which a page is kept.
fn kept(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/screens").join(format!("{name}.txt"))
}

/// A folder with some sessions, the newest one void in part.
fn full_house(home: &Path) -> Start {
    let sessions = home.join("sessions");
    std::fs::create_dir_all(&sessions).unwrap();
    let text = std::fs::read_to_string(sample()).unwrap();
    let cut: String = text.lines().take(300).map(|line| format!("{line}\n")).collect();
    std::fs::write(sessions.join("20260822T051200Z_flow-sensor-body_00000001.jsonl"), cut).unwrap();
    std::fs::write(sessions.join("20260821T051200Z_flow-sensor-body_00000002.jsonl"), &text).unwrap();
    std::fs::write(sessions.join("20260820T051200Z_flow-sensor-body_00000003.jsonl"), "no log").unwrap();
    Start::Front
}

/// Every page with something on it, by name.
fn pages() -> Vec<(&'static str, Bench)> {
    let mut pages = vec![("front-empty", Bench::at(|_| Start::Front)), ("front-full", Bench::at(full_house))];
    let mut narrowed = Bench::at(full_house);
    narrowed.keys("sums");
    pages.push(("front-narrowed", narrowed));
    pages.push(("step", Bench::at_the_jaws()));
    let mut choice = Bench::open();
    choice.keys("yes\n");
    choice.press(KeyCode::Down);
    pages.push(("step-choice", choice));
    let mut refused = Bench::at_the_jaws();
    refused.keys("0.0001 tenths");
    pages.push(("step-error", refused));
    let mut doubted = Bench::at_the_jaws();
    doubted.keys("159.99\n");
    pages.push(("doubt", doubted));
    let mut struck = Bench::at_the_jaws();
    struck.press(KeyCode::F(4));
    struck.keys("chip");
    pages.push(("strike", struck));
    pages.push(("plot", levelled()));
    pages.push(("then", Bench::in_the_past("tram.rear", 3)));
    let mut big = Bench::in_the_past("tram.machine-a", 1);
    big.model.page = Page::Big;
    pages.push(("big", big));
    let mut trail = Bench::at_the_jaws();
    trail.press(KeyCode::F(3));
    trail.press(KeyCode::Enter);
    pages.push(("trail", trail));
    pages.push(("past", Bench::at(|_| Start::Review(Box::new(review(&sample()).unwrap())))));
    let mut help = Bench::at_the_jaws();
    help.press(KeyCode::F(1));
    pages.push(("help", help));
    let mut happened = Bench::at_the_jaws();
    happened.press(KeyCode::F(8));
    happened.press(KeyCode::Down);
    pages.push(("happened", happened));
    let mut sums = Bench::at(|_| Start::Front);
    sums.model.page = Page::Sums;
    sums.keys("spindle");
    pages.push(("sums", sums));
    pages.push(("sum-asked", asked_sum("spindle-speed", "120\n")));
    pages.push(("sum-answered", asked_sum("thermal-length", "100\n8\n11.5\n\n\n")));
    let mut cards = Bench::at(|_| Start::Front);
    cards.carry_out(effects::Effect::Open(model::Opens::Cards));
    pages.push(("cards", cards));
    pages.push(("card", on_the_table("")));
    pages.push(("card-fault", on_the_table("fixture.width\n\u{8}\u{8}\u{8}\u{8}\u{8}\u{8}x")));
    let mut more = on_the_table("");
    more.press(KeyCode::F(7));
    pages.push(("card-put-on", more));
    let mut who = Bench::at(|_| Start::Front);
    who.model.page = Page::Who;
    pages.push(("who", who));
    pages
}

/// A part levelled without a card, in its third try.
fn levelled() -> Bench {
    let mut bench = Bench::at(|_| Start::Front);
    bench.keys("\n56\n37.5\n0.111\n0.290\n0.012\n0.002\nfine\nneedle\n");
    for (rear, front) in [("0.150", "0.190"), ("0.160", "0.175")] {
        let to = bench.desk.snapshot().unwrap().consultation.as_ref().unwrap().machine_move.as_ref().unwrap().to.value;
        bench.keys(&format!("{to:.3}\n{rear}\n{front}\n"));
    }
    bench
}

fn asked_sum(id: &str, keys: &str) -> Bench {
    let mut bench = Bench::at(|_| Start::Front);
    bench.model.page = Page::Sums;
    bench.keys(id);
    bench.keys("\n");
    bench.keys(keys);
    bench
}

/// The first practice card on the table; a backspace in the keys takes a letter away.
fn on_the_table(keys: &str) -> Bench {
    let mut bench = Bench::at(|_| Start::Front);
    bench.carry_out(effects::Effect::Open(model::Opens::Cards));
    bench.press(KeyCode::Enter);
    for letter in keys.chars() {
        bench.press(match letter {
            '\n' => KeyCode::Enter,
            '\u{8}' => KeyCode::Backspace,
            other => KeyCode::Char(other),
        });
    }
    bench
}

#[test]
fn every_page_is_as_kept_at_three_sizes_in_colour_and_without() {
    for (name, bench) in pages() {
        let page = drawn(name, &bench);
        let before = std::fs::read_to_string(kept(name)).unwrap_or_default();
        assert!(before == page, "{name} is not as kept. Now:\n{page}");
    }
}

#[test]
#[ignore = "writes tests/screens anew: cargo test --lib screens_are_written_anew -- --ignored"]
fn screens_are_written_anew() {
    for (name, bench) in pages() {
        std::fs::write(kept(name), drawn(name, &bench)).unwrap();
    }
}

#[test]
fn every_page_survives_every_size_and_stays_within_it() {
    for (name, bench) in pages() {
        // The whole grid once in a while would take minutes: every width meets every third height in turn.
        for width in 0..=110_u16 {
            for height in ((width % 3)..=40).step_by(3) {
                let page = bench.shown(width.max(1), height.max(1), height % 2 == 0);
                assert!(page.lines().count() <= usize::from(height.max(1)), "{name} at {width} by {height}");
            }
        }
    }
}

/// Every width from 0 to 110 with every height from 0 to 40, over every page: 4,551 sizes a page.
#[test]
#[ignore = "a minute or more; cargo test --lib every_size_there_is -- --ignored"]
fn every_size_there_is() {
    for (_, bench) in pages() {
        for width in 0..=110 {
            for height in 0..=40 {
                bench.buffer(width, height, Theme::new(true, false));
            }
        }
    }
}

#[test]
fn every_page_says_its_keys_and_a_small_window_says_what_it_needs() {
    for (name, bench) in pages() {
        for (width, height) in [(80, 24), (40, 10), (120, 40), (250, 80)] {
            let page = bench.shown(width, height, false);
            let last = page.lines().last().unwrap();
            let way_out = ["F10", "Esc", "F2 back", "F5", "Enter"].iter().any(|key| last.contains(key));
            assert!(way_out, "{name} at {width} by {height}:\n{page}");
        }
        assert!(bench.shown(39, 10, false).contains("40x10 needed"), "{name}");
    }
}

#[test]
fn every_page_has_the_real_cursor_somewhere_and_only_ascii_when_asked() {
    for (name, bench) in pages() {
        let mut terminal = Terminal::new(TestBackend::new(80, 24)).unwrap();
        let frame =
            terminal.draw(|frame| view::draw(frame, &bench.model, bench.desk.snapshot(), Theme::new(true, true)));
        frame.unwrap();
        assert!(terminal.backend().cursor_visible(), "{name}");
        assert!(bench.shown(80, 24, true).is_ascii(), "{name}:\n{}", bench.shown(80, 24, true));
    }
}

#[test]
fn the_step_page_shows_what_matters_at_three_sizes() {
    let bench = Bench::at_the_jaws();
    for (width, height) in [(80, 24), (40, 10), (132, 43)] {
        let page = bench.shown(width, height, false);
        for words in ["Width of jaw 1", "jaw-1 2/3 mm >", "Enter take", "F10 leave", "FIT", " ! "] {
            assert!(page.contains(words), "`{words}` is missing at {width} by {height}:\n{page}");
        }
    }
}

#[test]
fn the_big_page_is_read_at_two_metres_and_typed_into() {
    let mut bench = Bench::at_the_jaws();
    bench.press(KeyCode::F(2));
    bench.keys("15.998");
    let page = bench.shown(80, 24, false);
    let ink = page.lines().filter(|row| row.contains('\u{2588}')).count();
    assert!(ink >= 5, "{ink} rows:\n{page}");
    assert!(page.contains("STEP 2 OF 7") && page.contains("Width of jaw 1"), "{page}");
    let before = bench.desk.snapshot().unwrap().saved;
    bench.press(KeyCode::Enter);
    assert!(bench.desk.snapshot().unwrap().saved > before, "a reading is taken on the big page too");
}

#[test]
fn a_doubt_is_answered_by_arrow_and_function_key_only() {
    let mut bench = Bench::at_the_jaws();
    bench.keys("159.99\n");
    assert_eq!(bench.model.panel, Some(Panel::Doubt(0)));
    bench.keys("15.998\n\n");
    assert_eq!(bench.model.panel, Some(Panel::Doubt(0)), "a gauge answered the question");
    assert!(bench.shown(80, 24, false).contains("SURE?"));
    bench.press(KeyCode::Down);
    bench.press(KeyCode::F(5));
    bench.keys("so it reads\n");
    assert!(matches!(bench.model.panel, Some(Panel::Reason(_))), "Enter confirmed a reason");
    bench.press(KeyCode::F(5));
    assert_eq!(bench.model.panel, None);
    assert!(bench.shown(80, 24, false).contains("159.99 mm"));
}

#[test]
fn a_paste_is_typed_and_never_submitted_and_never_answers_a_doubt() {
    let mut bench = Bench::at_the_jaws();
    let before = bench.desk.snapshot().unwrap().saved;
    let paste = |bench: &mut Bench, text: &str| {
        let effect = update::update(&mut bench.model, bench.desk.snapshot(), &Event::Paste(text.to_owned()));
        assert_eq!(effect, None);
    };
    paste(&mut bench, "15.998\r\n");
    assert_eq!(bench.model.input.value(), "15.998");
    paste(&mut bench, "1\n2");
    assert_eq!(bench.model.input.value(), "15.998", "more than one line is refused");
    assert!(bench.model.take_bell());
    assert_eq!(bench.desk.snapshot().unwrap().saved, before);
    bench.press(KeyCode::Esc);
    assert_eq!(bench.model.input.value(), "15.998", "Esc keeps what was typed");
    bench.keys("\n159.99\n");
    paste(&mut bench, "15.9");
    assert_eq!(bench.model.panel, Some(Panel::Doubt(0)));
    assert_eq!(bench.model.input.value(), "");
}

#[test]
fn the_trail_is_narrowed_and_an_entry_crossed_out_from_there_after_saying_what_that_changes() {
    let mut bench = Bench::at_the_jaws();
    bench.press(KeyCode::F(3));
    bench.keys("brief.top-faces");
    let page = bench.shown(80, 24, false);
    assert!(page.contains("found 1 with"), "{page}");
    bench.press(KeyCode::F(4));
    let page = bench.shown(80, 24, false);
    assert!(page.contains("Cross out entry") && page.contains("Without it: brief is open"), "{page}");
    bench.keys("seen from the other side");
    bench.press(KeyCode::F(5));
    assert_eq!(bench.desk.snapshot().unwrap().step, "brief");
    assert_eq!(bench.model.page, Page::Step);
    bench.press(KeyCode::F(3));
    bench.press(KeyCode::End);
    bench.press(KeyCode::Enter);
    let page = bench.shown(80, 24, false);
    assert!(page.contains("Since entry") && page.contains("brief is open, not closed"), "{page}");
}

#[test]
fn a_review_goes_through_time_and_shows_what_was_reckoned_beside_what_comes_out_now() {
    let mut bench = Bench::in_the_past("tram.rear", 3);
    let before = bench.shown(80, 24, false);
    assert!(before.contains("PAST: after entry"), "{before}");
    let mut remade = false;
    for _ in 0..6 {
        bench.press(KeyCode::Right);
        remade |= bench.shown(80, 24, false).contains("logged, and reckoned again now");
    }
    assert!(remade, "a calculation stands within six entries of a reading");
    for _ in 0..6 {
        bench.press(KeyCode::Left);
    }
    assert_eq!(bench.shown(80, 24, false), before, "there and back again");
    bench.keys("1\n");
    assert!(bench.shown(80, 24, false).contains("nothing can be entered"));
}

#[test]
fn a_calculation_that_comes_out_otherwise_is_marked_in_the_review() {
    let mut read = review(&sample()).unwrap();
    let event = read.events.iter_mut().find(|event| event.kind.name() == "reckoning.add").unwrap();
    let seq = event.n;
    let outputs = event.data.get_mut("outputs").and_then(serde_json::Value::as_object_mut).unwrap();
    let first = outputs.keys().next().unwrap().clone();
    outputs.insert(first, serde_json::json!("something else"));
    let mut bench = Bench::at(|_| Start::Review(Box::new(read)));
    assert!(bench.shown(80, 24, false).contains("1 CALCULATIONS DIFFER"));
    bench.press(KeyCode::Home);
    bench.keys("reckon");
    bench.carry_out(effects::Effect::GoTo(usize::try_from(seq).unwrap() + 1));
    let page = bench.shown(80, 24, false);
    assert!(page.contains("DIFFERS") && page.contains("something else logged"), "{page}");
}

#[test]
fn a_sum_is_asked_one_input_at_a_time_and_goes_back_without_losing_a_word() {
    let mut bench = asked_sum("spindle-speed", "");
    let first = bench.shown(80, 24, false);
    bench.keys("what\n");
    assert_eq!(bench.model.input.value(), "what", "what is refused stays on the line");
    bench.press(KeyCode::Esc);
    assert_eq!(bench.model.page, Page::Sums);
    assert!(first.contains("spindle-speed"), "{first}");
    let bench = asked_sum("thermal-length", "100\n8\n11.5\n\n\n");
    let page = bench.shown(80, 24, false);
    assert!(page.contains(" = ") && page.contains("source:"), "{page}");
}

#[test]
fn a_card_is_made_from_a_practice_card_checked_while_typed_and_kept() {
    let mut bench = on_the_table("fixture.width\n");
    for _ in 0..12 {
        bench.press(KeyCode::Backspace);
    }
    bench.keys("wide");
    assert!(bench.shown(80, 24, false).contains("fixture.width: \"wide\""), "{}", bench.shown(80, 24, false));
    bench.press(KeyCode::Enter);
    bench.press(KeyCode::F(5));
    let page = bench.shown(80, 24, false);
    assert!(page.contains("Not kept: fixture.width"), "{page}");
    bench.press(KeyCode::Enter);
    for _ in 0..12 {
        bench.press(KeyCode::Backspace);
    }
    let width = job::read(job::practice_cards()[0].1).unwrap().fixture.width;
    bench.keys(&format!("{} mm\n", width.mm()));
    bench.press(KeyCode::Esc);
    bench.keys("id");
    let fields = bench.model.found_fields();
    bench.model.arrow = fields.iter().position(|row| row.path == "id");
    bench.press(KeyCode::Enter);
    for _ in 0..40 {
        bench.press(KeyCode::Backspace);
    }
    bench.keys("bracket-9\n");
    bench.press(KeyCode::F(5));
    let kept = bench.home.path().join("cards/bracket-9.json");
    assert_eq!(crate::session::read_card(&kept).unwrap().id, "bracket-9", "{}", bench.shown(80, 24, false));
}

/// The keys of a whole answer on the number pad: its digits and one Enter.
#[test]
fn a_part_is_levelled_from_the_front_page_within_four_values() {
    let mut bench = Bench::at(|_| Start::Front);
    bench.press(KeyCode::Enter);
    let mut values = 0;
    while bench.desk.snapshot().unwrap().consultation.as_ref().unwrap().machine_move.is_none() {
        assert!(values < 4, "no move after {values} values:\n{}", bench.shown(80, 24, false));
        let ask = bench.desk.snapshot().unwrap().ask().unwrap().id;
        bench.keys(match ask {
            "level.pad-span" | "level.span" => "56\n",
            "level.machine-a" => "37.5\n",
            "level.rear" => "0.111\n",
            "level.front" => "0.290\n",
            other => panic!("{other}"),
        });
        values += 1;
    }
    assert!(bench.shown(80, 24, false).contains("Set A to"), "{}", bench.shown(80, 24, false));
}

fn keys() -> impl Strategy<Value = Vec<KeyCode>> {
    let key = prop_oneof![
        6 => prop::char::range(' ', '~').prop_map(KeyCode::Char),
        4 => Just(KeyCode::Enter),
        // F10 and F12 leave; everything else stays on the pages.
        4 => (1_u8..=9).prop_map(KeyCode::F),
        4 => prop_oneof![
            Just(KeyCode::Up),
            Just(KeyCode::Down),
            Just(KeyCode::Left),
            Just(KeyCode::Right),
            Just(KeyCode::Esc),
            Just(KeyCode::Backspace),
            Just(KeyCode::Tab),
            Just(KeyCode::PageUp)
        ],
    ];
    prop::collection::vec(key, 1..80)
}

/// The pages on which random keys begin, made anew for each script.
fn beginnings() -> [fn() -> Bench; 5] {
    [
        Bench::at_the_jaws,
        || Bench::at(full_house),
        || Bench::in_the_past("tram.rear", 3),
        || asked_sum("spindle-speed", ""),
        || on_the_table(""),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 32, ..ProptestConfig::default() })]

    #[test]
    fn any_keys_in_any_order_never_panic((codes, beginning) in (keys(), 0_usize..5)) {
        let mut bench = beginnings()[beginning]();
        for code in codes {
            bench.press(code);
            bench.shown(80, 24, false);
        }
    }
}
