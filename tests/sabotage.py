#!/usr/bin/env python3
"""Breaks the session log on purpose, one way after the other, and demands that its tests notice.

usage: tests/sabotage.py [PART-OF-A-NAME]      about half a minute for each sabotage

Works on a copy under target/, so the source is never touched. Exits 0 when the unbroken copy passes and every
sabotage turns at least one test red.
"""
import pathlib
import shutil
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent
COPY = ROOT / "target" / "sabotage" / "tree"
LOG = "src/session_log/"
TESTS = ["crash", "strict", "disk", "damage"]

SYNC = "        self.file.sync_data().map_err(refused)?;\n        let length"
WRITE = "        match self.file.write(line) {"
PLACED = "!there.regular || there.identity != self.identity || open.identity != self.identity"
PLACED_AFTER = "Ok(there) if there.identity == self.identity && there.length == end => Ok(()),"
WITHOUT_KIND = '''
fn without_kind(body: &[u8]) -> Vec<u8> {
    let text = String::from_utf8_lossy(body).into_owned();
    let Some((before, rest)) = text.split_once("\\"k\\":\\"") else { return body.to_vec() };
    [before, rest.split_once('"').map_or(rest, |(_, after)| after)].concat().into_bytes()
}
'''

# name: [(file, old text, new text), ...]
SABOTAGES = {
    "no sync": [(LOG + "appender.rs", SYNC, "        let length")],
    "shown as saved before the sync": [
        (LOG + "appender.rs", SYNC, "        let length"),
        (LOG + "appender.rs", WRITE, "        let _ = self.file.sync_data();\n" + WRITE),
    ],
    "no undo": [
        (LOG + "appender.rs", "self.file.set_len(self.length).and_then(|()| self.file.sync_data())", "Ok::<(), io::Error>(())"),
    ],
    "the sync is tried again": [
        (LOG + "appender.rs", SYNC,
         "        self.file.sync_data().or_else(|_| self.file.sync_data()).map_err(refused)?;\n        let length"),
    ],
    "no look at device and inode": [
        (LOG + "appender.rs", PLACED, "!there.regular"),
        (LOG + "appender.rs", PLACED_AFTER, "Ok(there) if there.length == end => Ok(()),"),
    ],
    "no look at the length": [
        (LOG + "appender.rs", "open.length != self.length || there.length != self.length", "false"),
        (LOG + "appender.rs", "length.length != end", "false && length.length != end"),
        (LOG + "appender.rs", PLACED_AFTER, "Ok(there) if there.identity == self.identity => Ok(()),"),
    ],
    "no sync of the folder": [
        (LOG + "founding.rs", "appender.sync_all().and_then(|()| store.sync_folder(folder_of(&path)))", "appender.sync_all()"),
    ],
    "cut before the tail is copied": [
        (LOG + "opening.rs", "            set_aside(store, path, &tail).map_err(failed)?;\n            appender.cut(check.valid_len).map_err(failed)",
         "            appender.cut(check.valid_len).map_err(failed)?;\n            set_aside(store, path, &tail).map_err(failed)"),
    ],
    "the copied tail is not synced": [
        (LOG + "opening.rs", "    file.sync_all()?;\n    store.sync_folder(folder_of(path))", "    let _ = folder_of(path);\n    Ok(())"),
    ],
    "the hash does not cover the kind": [
        (LOG + "head.rs", "chain_update(body).finalize()", "chain_update(without_kind(body)).finalize()"),
        (LOG + "head.rs", "#[cfg(test)]", WITHOUT_KIND + "\n#[cfg(test)]"),
    ],
    "capital letters in the hash pass": [
        (LOG + "chain.rs", "head.digits() != hash", "!head.digits().eq_ignore_ascii_case(hash)"),
    ],
    "a bad line is passed over": [
        (LOG + "reader.rs", "            Err(what) => {\n",
         "            Err(_) if matches!(ending, Ending::LineFeed) => Ok(Some(None)),\n            Err(what) => {\n"),
    ],
    "no lock": [
        (LOG + "opening.rs", "    let lock_path = lock_path(path);\n",
         "    if path.exists() || !path.exists() {\n        return Ok((None, Vec::new()));\n    }\n    let lock_path = lock_path(path);\n"),
    ],
    "two writes an event": [
        (LOG + "appender.rs", "self.file.write(line) {",
         "self.file.write(&line[..9]).and_then(|one| Ok(one + self.file.write(&line[9..])?)) {"),
    ],
    "the last saved event counts as sure after a disk error": [
        (LOG + "writer.rs", "Distrust::Disk(..) => last_saved.checked_sub(1),", "Distrust::Disk(..) => Some(last_saved),"),
    ],
    "repeated keys pass": [(LOG + "strict.rs", "if repeated { Err", "if repeated && first > 999 { Err")],
}


def fresh_copy():
    if COPY.exists():
        shutil.rmtree(COPY)
    COPY.mkdir(parents=True)
    for name in ["src", "tests", "assets", "Cargo.toml", "Cargo.lock", "clippy.toml"]:
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(source, COPY / name)
        elif source.exists():
            shutil.copy(source, COPY / name)
    # A file that is mended keeps its old time; without this the broken build would count as fresh.
    (COPY / "src" / "lib.rs").touch()


def red_tests():
    """Names of the tests that fail, or None when the copy does not build."""
    command = ["cargo", "test", "--offline", "--no-fail-fast", "--target-dir", str(COPY.parent / "build")]
    for test in TESTS:
        command += ["--test", "session_log_" + test]
    built = subprocess.run(command + ["--no-run"], cwd=COPY, capture_output=True, text=True)
    if built.returncode != 0:
        print(built.stderr[-3000:])
        return None
    run = subprocess.run(command, cwd=COPY, capture_output=True, text=True)
    return [line.split()[1] for line in run.stdout.splitlines() if line.startswith("test ") and line.endswith("FAILED")]


def main():
    wanted = sys.argv[1] if len(sys.argv) > 1 else ""
    fresh_copy()
    red = red_tests()
    print("unbroken:", "all green" if red == [] else red)
    missed = [] if red == [] else ["unbroken"]
    for name, edits in SABOTAGES.items():
        if wanted not in name:
            continue
        fresh_copy()
        for file, old, new in edits:
            text = (COPY / file).read_text()
            if text.count(old) != 1:
                sys.exit(f"{name}: the text to break stands {text.count(old)} times in {file}: {old}")
            (COPY / file).write_text(text.replace(old, new))
        red = red_tests()
        print(f"{name}: {', '.join(red) if red else 'NOT NOTICED' if red == [] else 'DOES NOT BUILD'}", flush=True)
        if not red:
            missed.append(name)
    if missed:
        sys.exit("not noticed: " + ", ".join(missed))


main()
