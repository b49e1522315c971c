//! The screen in a real terminal: a whole session with a kill in the middle, and the terminal given back on every way out.
#![cfg(unix)]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test may stop at what it did not expect"
)]

#[path = "support/player.rs"]
mod player;

use std::io::{Read, Write};
use std::num::NonZeroU16;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use player::{Player, answer_in, script};
use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use serde_json::Value;
use setwright::checklist::{AskKind, GateState};
use setwright::session::review;

const PATIENCE: Duration = Duration::from_secs(20);

/// The program in a terminal of 80 by 24.
struct Shop {
    child: Box<dyn Child + Send + Sync>,
    master: Box<dyn MasterPty + Send>,
    keyboard: Box<dyn Write + Send>,
    bytes: Arc<Mutex<Vec<u8>>>,
}

impl Shop {
    fn open(home: &Path, arguments: &[&str], variables: &[(&str, &str)]) -> Self {
        let size = PtySize { rows: 24, cols: 80, pixel_width: 0, pixel_height: 0 };
        let pair = native_pty_system().openpty(size).unwrap();
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_setwright"));
        command.env_clear();
        command.env("SETWRIGHT_HOME", home);
        command.env("TERM", "xterm-256color");
        command.env("LANG", "C.UTF-8");
        for (name, value) in variables {
            command.env(name, value);
        }
        command.args(arguments);
        let child = pair.slave.spawn_command(command).unwrap();
        drop(pair.slave);
        let bytes = Arc::new(Mutex::new(Vec::new()));
        let (mut reader, kept) = (pair.master.try_clone_reader().unwrap(), Arc::clone(&bytes));
        std::thread::spawn(move || {
            let mut some = [0; 4096];
            while let Ok(count) = reader.read(&mut some) {
                if count == 0 {
                    return;
                }
                kept.lock().unwrap().extend_from_slice(&some[..count]);
            }
        });
        let keyboard = pair.master.take_writer().unwrap();
        Self { child, master: pair.master, keyboard, bytes }
    }

    fn screen(&self) -> String {
        let mut terminal = vt100::Parser::new(NonZeroU16::new(24).unwrap(), NonZeroU16::new(80).unwrap(), 0);
        terminal.process(&self.bytes.lock().unwrap());
        terminal.screen().contents()
    }

    fn raw(&self) -> Vec<u8> {
        self.bytes.lock().unwrap().clone()
    }

    fn press(&mut self, keys: &str) {
        self.keyboard.write_all(keys.as_bytes()).unwrap();
        self.keyboard.flush().unwrap();
    }

    #[track_caller]
    fn wait_for(&self, words: &str) {
        let began = Instant::now();
        while !self.screen().contains(words) {
            assert!(began.elapsed() < PATIENCE, "`{words}` never came; the screen shows\n{}", self.screen());
            std::thread::sleep(Duration::from_millis(5));
        }
    }

    fn ended(&mut self) -> u32 {
        let began = Instant::now();
        loop {
            if let Some(status) = self.child.try_wait().unwrap() {
                std::thread::sleep(Duration::from_millis(50));
                return status.exit_code();
            }
            assert!(began.elapsed() < PATIENCE, "it never ended; the screen shows\n{}", self.screen());
            std::thread::sleep(Duration::from_millis(5));
        }
    }

    /// Answers on the screen from the script until a step is closed, a point is reached, or every step is closed.
    fn follow(&mut self, path: &Path, script: &Value, stop: &dyn Fn(&str, u32) -> bool) {
        loop {
            let now = review(path).unwrap();
            let Some((slot, answer)) = now.progress.consult() else { return };
            let count = now.events.len();
            let Some(ask) = answer.next else {
                self.concede(answer.gates.iter().find(|gate| gate.state == GateState::Fail).unwrap().id);
                self.grown(path, count);
                continue;
            };
            if stop(ask.id, ask.round) {
                return;
            }
            let tick = ask.kind == AskKind::YesNo;
            let text = answer_in(script, (ask.id, ask.round, ask.repeat), tick, slot.piece)
                .unwrap_or_else(|| panic!("{ask:?}"));
            self.press(&format!("{text}\r"));
            self.grown(path, count);
        }
    }

    fn concede(&mut self, gate: &str) {
        self.wait_for("F7");
        let why = if gate == "check.bore" {
            "one reading does not prove it: gauged again with the pins, 8.006 goes"
        } else {
            "drift seen: wear corrected by 0.004 on diameter before the next piece"
        };
        // F7, the reason, F5.
        self.press("\x1b[18~");
        self.wait_for("Go on past");
        self.press(why);
        self.wait_for("because");
        self.press("\x1b[15~");
    }

    /// Waits until the log has grown and has come to rest: what follows from an entry is recorded with it.
    #[track_caller]
    fn grown(&self, path: &Path, before: usize) {
        let began = Instant::now();
        loop {
            let now = review(path).unwrap();
            if now.events.len() > before && now.progress.owed().is_empty() {
                return;
            }
            assert!(began.elapsed() < PATIENCE, "nothing was recorded; the screen shows\n{}", self.screen());
            std::thread::sleep(Duration::from_millis(2));
        }
    }
}

fn only_log(home: &Path) -> PathBuf {
    let began = Instant::now();
    loop {
        let found = std::fs::read_dir(home.join("sessions")).ok().and_then(|mut entries| {
            entries.find_map(|entry| {
                entry
                    .ok()
                    .map(|entry| entry.path())
                    .filter(|path| path.extension().is_some_and(|ending| ending == "jsonl"))
            })
        });
        if let Some(path) = found.filter(|path| review(path).is_ok()) {
            return path;
        }
        assert!(began.elapsed() < PATIENCE, "no log came");
        std::thread::sleep(Duration::from_millis(10));
    }
}

fn count(haystack: &[u8], needle: &[u8]) -> usize {
    haystack.windows(needle.len()).filter(|window| *window == needle).count()
}

/// The terminal is as it was: normal screen, cursor shown, paste mode off; each given back exactly once.
#[track_caller]
fn given_back(shop: &Shop) {
    let bytes = shop.raw();
    assert_eq!(count(&bytes, b"\x1b[?1049h"), 1, "taken once");
    assert_eq!(count(&bytes, b"\x1b[?1049l"), 1, "given back once");
    assert_eq!(count(&bytes, b"\x1b[?2004l"), 1, "paste mode off");
    assert_eq!(count(&bytes, b"\x1b[6n"), 0, "the cursor's place is never asked");
    let shown = bytes.windows(6).rposition(|window| window == b"\x1b[?25h").expect("the cursor shown");
    let hidden = bytes.windows(6).rposition(|window| window == b"\x1b[?25l").unwrap_or(0);
    assert!(shown > hidden, "the cursor stays hidden");
    let modes = shop.master.get_termios().unwrap();
    assert!(format!("{modes:?}").contains("ECHO"), "echo is off: {modes:?}");
}

#[test]
fn a_kill_in_the_middle_of_the_tram_loses_nothing() {
    let job = "flow-sensor-body";
    let home = tempfile::tempdir().unwrap();
    let answers = script(job);
    let mut shop = Shop::open(home.path(), &["follow", job, "--by", "KT"], &[]);
    let path = only_log(home.path());
    shop.wait_for("revision-current");
    shop.follow(&path, &answers, &|ask, round| ask == "tram.rear" && round == 1);
    // Half a reading is on the line when the program dies.
    shop.press("0.1");
    shop.child.kill().unwrap();
    shop.child.wait().unwrap();
    drop(shop);
    let mut again = Shop::open(home.path(), &["resume", "--by", "KT"], &[]);
    again.wait_for("what-happened");
    again.follow(&path, &answers, &|ask, _| ask == "tram.rear");
    again.wait_for("TRAM");
    again.wait_for("rear 1/2 mm");
    again.follow(&path, &answers, &|_, _| false);
    again.wait_for("Every step is closed");
    let interrupted = review(&path).unwrap().progress.digest();

    let elsewhere = tempfile::tempdir().unwrap();
    let mut straight = Player::start(elsewhere.path(), job);
    straight.finish();
    assert_eq!(interrupted, straight.session.progress().digest(), "the end is the same as without the kill");

    // F12, the word, F5: sealed, and the terminal is given back.
    again.press("\x1b[24~");
    again.wait_for("Type seal");
    again.press("seal");
    again.press("\x1b[15~");
    assert_eq!(again.ended(), 0);
    given_back(&again);
    assert!(again.screen().contains("Sealed"), "{}", again.screen());
    assert!(review(&path).unwrap().check.sealed);
}

#[test]
fn the_terminal_is_given_back_after_leaving() {
    let home = tempfile::tempdir().unwrap();
    let mut shop = Shop::open(home.path(), &["follow", "--by", "KT"], &[]);
    shop.wait_for("revision-current");
    shop.press("\x1b[21~");
    assert_eq!(shop.ended(), 0);
    given_back(&shop);
    assert!(shop.screen().contains("setwright resume"), "{}", shop.screen());
}

#[test]
fn the_terminal_is_given_back_after_control_c() {
    let home = tempfile::tempdir().unwrap();
    let mut shop = Shop::open(home.path(), &["follow", "--by", "KT"], &[]);
    shop.wait_for("revision-current");
    shop.press("yes\r");
    shop.wait_for("view >");
    shop.press("\x03");
    assert_eq!(shop.ended(), 130);
    given_back(&shop);
    assert!(shop.screen().contains("setwright resume"), "{}", shop.screen());
}

#[test]
fn the_terminal_is_given_back_after_a_panic() {
    let home = tempfile::tempdir().unwrap();
    let mut shop = Shop::open(home.path(), &["follow", "--by", "KT"], &[("SETWRIGHT_TEST_PANIC", "1")]);
    shop.wait_for("revision-current");
    shop.press("\x1b[23~");
    assert_ne!(shop.ended(), 0);
    given_back(&shop);
    assert!(shop.screen().contains("a panic on purpose"), "{}", shop.screen());
}

#[test]
fn the_terminal_is_given_back_when_asked_to_end() {
    let home = tempfile::tempdir().unwrap();
    let mut shop = Shop::open(home.path(), &["follow", "--by", "KT"], &[]);
    shop.wait_for("revision-current");
    let id = shop.child.process_id().unwrap();
    assert!(std::process::Command::new("kill").args(["-TERM", &id.to_string()]).status().unwrap().success());
    assert_eq!(shop.ended(), 143);
    given_back(&shop);
}

/// Even where SIGHUP is ignored, as under `nohup`: the worst case for a program that waits for keys.
#[test]
fn a_closed_window_ends_the_program_and_frees_the_session() {
    let home = tempfile::tempdir().unwrap();
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/support/close_window.py");
    let run = std::process::Command::new("python3")
        .arg(script)
        .args([env!("CARGO_BIN_EXE_setwright"), "follow", "--by", "KT"])
        .env("SETWRIGHT_HOME", home.path())
        .env("TERM", "xterm-256color")
        .output();
    let Ok(run) = run else {
        println!(
            "skipped: python3 is not here, and nothing else closes a terminal under a program that ignores SIGHUP"
        );
        return;
    };
    let said = String::from_utf8_lossy(&run.stdout).into_owned();
    assert_eq!(said.trim(), "ended 129", "{run:?}");
    let mut again = Shop::open(home.path(), &["resume", "--by", "KT"], &[]);
    again.wait_for("what-happened");
    again.press("\x1b[21~");
    assert_eq!(again.ended(), 0);
}

#[test]
fn a_gauge_can_never_answer_a_question() {
    let home = tempfile::tempdir().unwrap();
    let job = "flow-sensor-body";
    let answers = script(job);
    let mut shop = Shop::open(home.path(), &["follow", job, "--by", "KT"], &[]);
    let path = only_log(home.path());
    shop.follow(&path, &answers, &|ask, _| ask == "fit.slot-1");
    // A good reading, one with a decimal slip, and two more in one burst, as a keyboard gauge sends them.
    let before = review(&path).unwrap().events.len();
    shop.press("15.990\r\n1.5991\r15.990\r15.991\r");
    shop.wait_for("SURE?");
    let now = review(&path).unwrap();
    let entered = now.progress.entries().iter().filter(|entry| entry.spec.id == "fit.slot-1").count();
    assert_eq!(entered, 1, "only the good reading before the doubt was taken");
    assert!(now.events.len() > before);
    // Type it again: the doubted one is let go.
    shop.press("\x1b[15~");
    shop.wait_for("Type the reading again");
    shop.press("15.991\r");
    shop.wait_for("slot-1 3/3");
}

#[test]
fn without_colour_what_is_chosen_still_stands_out() {
    let home = tempfile::tempdir().unwrap();
    let mut shop = Shop::open(home.path(), &["follow", "--by", "KT"], &[("NO_COLOR", "1")]);
    shop.wait_for("revision-current");
    shop.press("\x1b[B");
    shop.wait_for("> yes");
    let mut terminal = vt100::Parser::new(NonZeroU16::new(24).unwrap(), NonZeroU16::new(80).unwrap(), 0);
    terminal.process(&shop.raw());
    let screen = terminal.screen();
    let (row, column) = (0..24_u16)
        .find_map(|row| {
            screen
                .rows(0, 80)
                .nth(row.into())
                .and_then(|text| text.find("> yes").map(|at| (row, u16::try_from(at).unwrap())))
        })
        .unwrap();
    assert!(screen.cell(row, column).unwrap().inverse(), "the choice is not reversed");
    let coloured = (0..24_u16).any(|row| {
        (0..80_u16).any(|column| screen.cell(row, column).is_some_and(|cell| cell.fgcolor() != vt100::Color::Default))
    });
    assert!(!coloured, "a colour with NO_COLOR set");
}
