#![allow(
    dead_code,
    unreachable_pub,
    clippy::missing_panics_doc,
    reason = "shared by several test files, each of which uses a part"
)]
//! Plays a session over the wire face of the real program, from a script of answers.

use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

use serde_json::{Value, json};
use tempfile::TempDir;

use crate::player::{answer_in, script};

pub struct Rig {
    child: Child,
    input: ChildStdin,
    output: BufReader<ChildStdout>,
    pub script: Value,
    pub hello: Value,
    pub state: Value,
    pub seen: Vec<Value>,
}

/// A command of the program with nothing of the tester's own environment but what is named.
pub fn program(home: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_setwright"));
    command.env_clear().env("SETWRIGHT_HOME", home).env("PATH", "/usr/bin:/bin");
    command
}

/// Expects that a line was recorded.
#[track_caller]
pub fn taken(reply: &Value) {
    assert!(reply.get("recorded").is_some(), "{reply}");
}

/// Starts a practice job in a folder of its own, answered from its script until this ask is next.
pub fn at(job: &str, (id, round, repeat): (&str, u64, u64)) -> (TempDir, Rig) {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), job);
    rig.until(id, round, repeat);
    (home, rig)
}

impl Rig {
    /// Starts a setup with a card of its own, answered from the script of a practice job where nothing else is said.
    pub fn on_card(home: &Path, card: &Value, job: &str) -> Self {
        let path = home.join("own-card.json");
        std::fs::write(&path, card.to_string()).unwrap();
        let mut command = program(home);
        command.arg("follow").arg(&path).arg("--wire");
        Self::launch(command, job, true)
    }

    pub fn start(home: &Path, job: &str) -> Self {
        let mut command = program(home);
        command.args(["follow", job, "--wire"]);
        Self::launch(command, job, true)
    }

    pub fn resume(home: &Path, session: &str, job: &str) -> Self {
        let mut command = program(home);
        command.args(["resume", session, "--wire"]);
        Self::launch(command, job, true)
    }

    pub fn launch(mut command: Command, job: &str, greet: bool) -> Self {
        let mut child = command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        let input = child.stdin.take().unwrap();
        let output = BufReader::new(child.stdout.take().unwrap());
        let mut rig = Self {
            child,
            input,
            output,
            script: script(job),
            hello: Value::Null,
            state: Value::Null,
            seen: Vec::new(),
        };
        if greet {
            rig.write(&json!({"by": "KT"}));
            rig.hello = rig.read().expect("the first line");
            rig.state = rig.read().expect("the state");
        }
        rig
    }

    fn write(&mut self, line: &Value) {
        self.write_bytes(format!("{line}\n").as_bytes());
    }

    fn write_bytes(&mut self, bytes: &[u8]) {
        self.input.write_all(bytes).unwrap();
        self.input.flush().unwrap();
    }

    fn read(&mut self) -> Option<Value> {
        let mut line = String::new();
        (self.output.read_line(&mut line).unwrap() > 0).then(|| serde_json::from_str(&line).unwrap())
    }

    /// Sends a line and returns what was answered to it; the state after it is kept.
    pub fn send(&mut self, line: &Value) -> Value {
        self.send_bytes(format!("{line}\n").as_bytes())
    }

    /// Sends bytes as they are, with the line feed, and returns what was answered to them.
    pub fn send_bytes(&mut self, bytes: &[u8]) -> Value {
        self.write_bytes(bytes);
        let reply = self.read().expect("an answer");
        let state = self.read();
        if let Some(state) = state {
            for closed in state["closed"].as_array().into_iter().flatten() {
                self.seen.push(closed.clone());
            }
            self.state = state;
        }
        reply
    }

    pub fn enter(&mut self, text: &str) -> Value {
        self.send(&json!({"enter": text}))
    }

    pub fn ask_id(&self) -> String {
        self.state["ask"]["id"].as_str().unwrap_or_default().to_owned()
    }

    /// What the script answers to the current ask.
    pub fn scripted(&self) -> Option<String> {
        let ask = &self.state["ask"];
        let number = |key: &str| u32::try_from(ask[key].as_u64().unwrap()).unwrap();
        let piece = self.state["piece"].as_u64().map(|piece| u32::try_from(piece).unwrap());
        answer_in(
            &self.script,
            (ask["id"].as_str()?, number("round"), number("repeat")),
            ask["kind"] == "yes-no",
            piece,
        )
    }

    /// Answers the current ask from the script; goes on past the gates that the story of the batch meets.
    pub fn step(&mut self) {
        if self.state["ask"].is_null() {
            let gate = self.failed().expect("a failed gate");
            let why = match gate["id"].as_str().unwrap() {
                "check.bore" => "one reading does not prove it: gauged again with the pins, 8.006 goes",
                "check.predicted-bore" => "drift seen: wear corrected by 0.004 on diameter before the next piece",
                _ => panic!("stuck at {gate}"),
            };
            let reply = self.send(&json!({"concede": {"gate": gate["id"], "why": why, "by": "KT"}}));
            assert!(reply.get("recorded").is_some(), "{reply}");
            return;
        }
        let text = self.scripted().unwrap_or_else(|| panic!("no answer in the script for {}", self.state["ask"]));
        let reply = self.enter(&text);
        assert!(reply.get("recorded").is_some(), "{} <- {text}: {reply}", self.state["ask"]["id"]);
    }

    pub fn failed(&self) -> Option<Value> {
        self.state["gates"].as_array()?.iter().find(|gate| gate["state"] == "fail").cloned()
    }

    /// Expects that a gate stands in the way, of this kind and saying this, and that nothing is asked behind it.
    #[track_caller]
    pub fn is_stopped_by(&self, gate: &str, kind: &str, words: &str) {
        let failed = self.failed().unwrap_or_else(|| panic!("no gate failed: {}", self.state));
        assert_eq!((failed["id"].as_str(), failed["kind"].as_str()), (Some(gate), Some(kind)), "{failed}");
        assert!(failed["says"].as_str().unwrap().contains(words), "{failed}");
        assert!(self.state["ask"].is_null(), "something is asked behind the gate: {}", self.state["ask"]);
        assert_ne!(self.state["verdict"], "within");
    }

    /// Tries to go past a gate with a reason, which a stop gate does not allow.
    #[track_caller]
    pub fn cannot_concede(&mut self, gate: &str) {
        let reply = self.send(&json!({"concede": {"gate": gate, "why": "it will do", "by": "KT"}}));
        assert!(reply.get("refused").is_some(), "{reply}");
    }

    /// Answers although the workbook doubts the value.
    #[track_caller]
    pub fn insists(&mut self, text: &str) {
        let reply = self.enter(text);
        assert!(reply.get("doubt").is_some(), "{reply}");
        taken(&self.send(&json!({"sure": "that is what it shows"})));
    }

    /// What a step of the setup stands at: open, closed, void, ...
    pub fn state_of(&self, step: &str) -> Value {
        let states = self.state["state"].as_array().unwrap();
        states.iter().find(|status| status["step"] == step).unwrap()["state"].clone()
    }

    /// Types an answer that must be taken.
    #[track_caller]
    pub fn takes(&mut self, text: &str) {
        let asked = self.state["ask"]["id"].clone();
        let reply = self.enter(text);
        assert!(reply.get("recorded").is_some(), "{asked} <- {text}: {reply}");
    }

    /// Answers from the script until this ask (in this round and repeat) is next.
    pub fn until(&mut self, id: &str, round: u64, repeat: u64) {
        for _ in 0..2000 {
            let ask = &self.state["ask"];
            if ask["id"] == id && ask["round"] == round && ask["repeat"] == repeat {
                return;
            }
            self.step();
        }
        panic!("{id} never came");
    }

    /// Answers from the script until every step is closed.
    pub fn finish(&mut self) {
        for _ in 0..2000 {
            if self.state["step"].is_null() {
                return;
            }
            self.step();
        }
        panic!("the session never came to its end");
    }

    pub fn seal(&mut self) -> Value {
        self.write(&json!({"seal": true}));
        let reply = self.read().expect("an answer");
        assert!(reply.get("recorded").is_some(), "{reply}");
        let sealed = self.read().expect("the seal");
        assert_eq!(self.child.wait().unwrap().code(), Some(0));
        sealed
    }

    /// Ends the program at once, as a power cut does.
    pub fn kill(mut self) -> PathBuf {
        let path = self.path();
        self.child.kill().unwrap();
        self.child.wait().unwrap();
        path
    }

    pub fn leave(mut self) -> (PathBuf, Option<i32>) {
        let path = self.path();
        self.write(&json!({"leave": true}));
        (path, self.child.wait().unwrap().code())
    }

    pub fn path(&self) -> PathBuf {
        PathBuf::from(self.hello["path"].as_str().unwrap())
    }

    pub fn name(&self) -> String {
        self.hello["session"].as_str().unwrap().to_owned()
    }

    pub fn finding(&self, id: &str, about: &str) -> f64 {
        let mut all = self.state["findings"].as_array().into_iter().flatten();
        let found = all.rfind(|finding| finding["id"] == id && finding["about"] == about);
        found.unwrap_or_else(|| panic!("no finding {id} {about}"))["value"].as_f64().unwrap()
    }
}

impl Drop for Rig {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
