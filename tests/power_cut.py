#!/usr/bin/env python3
"""Cuts the power of a real file system, and fills a real disk, under the session log. Needs root on Linux.

usage: tests/power_cut.py cut [CUTS [MODE]]    MODE: ordered (default), writeback, no-journal
       tests/power_cut.py full

A cut: ext4 in a loop file in memory, the writer of session_log_process.rs appends to a log on it; at a random moment
the file system is shut down without flushing its journal (EXT4_IOC_SHUTDOWN, flag 2), then unmounted and mounted
again. Events whose "saved" was read before the cut must be there. Full: a small tmpfs is filled up; the event that
does not fit is refused, the log stays whole, and the session is sealed with the room that was kept.
"""
import fcntl
import json
import os
import pathlib
import random
import struct
import subprocess
import sys
import tempfile
import time

ROOT = pathlib.Path(__file__).resolve().parent.parent
SHUTDOWN, NO_LOG_FLUSH = 0x8004587D, 2
MODES = {
    "ordered": (["-b", "4096"], "data=ordered"),
    "writeback": (["-b", "1024"], "data=writeback,nodelalloc"),
    "no-journal": (["-b", "4096", "-O", "^has_journal"], "defaults"),
}
sys.dont_write_bytecode = True
sys.path.insert(0, str(ROOT / "tests"))
sys.argv, arguments = sys.argv[:1], sys.argv[1:]
from check_chain import check  # noqa: E402  (reads sys.argv)


def run(*command):
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def writer_program():
    """Builds the writer and gives its path."""
    command = ["cargo", "test", "--offline", "--no-run", "--message-format=json", "--test", "session_log_process"]
    built = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True)
    messages = [json.loads(line) for line in built.stdout.splitlines()]
    name = "session_log_process"
    return next(m["executable"] for m in messages if m.get("executable") and m["target"]["name"] == name)


def start(program, folder, order):
    """Starts the writer in a folder."""
    folder.mkdir(exist_ok=True)
    (folder / "writer").write_text(order)
    command = [program, "--exact", "writes_until_it_is_stopped", "--ignored", "--nocapture"]
    return subprocess.Popen(command, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)


def saved(text):
    """The numbers of the events that were shown as saved."""
    return [int(line.split()[1]) for line in text.split(b"\n")[:-1] if line.startswith(b"saved ")]


def logs(folder):
    return sorted((folder / "sessions").glob("*.jsonl")) if (folder / "sessions").exists() else []


def one_cut(program, image, place, options, folder, dice):
    """Gives the events shown before the cut, and class and count found after it."""
    run("mount", "-o", "loop," + options, image, place)
    writer = start(program, folder, "until killed")
    os.set_blocking(writer.stdout.fileno(), False)
    text = b""
    # The clock of the cut starts with the first event, except now and then, to cut while the log is being opened.
    while dice.random() > 0.001 and b"saved" not in text and writer.poll() is None:
        text += writer.stdout.read() or b""
    end = time.monotonic() + dice.random() * 0.05
    while time.monotonic() < end:
        text += writer.stdout.read() or b""
    top = os.open(place, os.O_RDONLY)
    text += writer.stdout.read() or b""
    fcntl.ioctl(top, SHUTDOWN, struct.pack("I", NO_LOG_FLUSH))
    os.close(top)
    writer.kill()
    writer.wait()
    run("umount", place)
    run("mount", "-o", "loop," + options, image, place)
    found = [check(log.read_bytes()) for log in logs(folder)]
    run("umount", place)
    return saved(text), found


def cut(cuts, mode):
    program, dice = writer_program(), random.Random(7)
    make, options = MODES[mode]
    shown = lost = mended = damaged = 0
    with tempfile.TemporaryDirectory(dir="/dev/shm") as work:
        image, place = work + "/image", work + "/place"
        os.mkdir(place)
        for turn in range(cuts):
            if turn % 25 == 0:
                run("truncate", "-s", "0", image)
                run("truncate", "-s", "32M", image)
                run("mkfs.ext4", "-q", *make, image)
            folder = pathlib.Path(place) / f"session{turn // 5}"
            events, found = one_cut(program, image, place, options, folder, dice)
            count = max([count for _, count, _ in found], default=0)
            shown += len(events)
            lost += sum(number >= count for number in events)
            mended += any(kind == "torn" for kind, _, _ in found)
            damaged += any(kind in ("damaged", "damaged-tail") for kind, _, _ in found)
    print(f"{mode}: {cuts} cuts, {shown} events shown as saved, {lost} lost, {mended} torn tails, {damaged} damaged")
    return lost == 0 or mode == "no-journal"


def full():
    program, whole = writer_program(), True
    for size in range(330, 930, 30):
        with tempfile.TemporaryDirectory() as place:
            run("mount", "-t", "tmpfs", "-o", f"size={size}k", "tmpfs", place)
            try:
                folder = pathlib.Path(place) / "session"
                said = start(program, folder, "seal when full").communicate()[0]
                kind, count, _ = check(logs(folder)[0].read_bytes())
                good = (kind, count) == ("clean", len(saved(said)) + 2) and b"\nsealed\n" in said
                whole &= good
                print(f"{size} KiB: {len(saved(said))} saved, then {kind}, {count} events {'and sealed' if good else 'WRONG'}")
            finally:
                run("umount", place)
    return whole


if not arguments or arguments[0] not in ("cut", "full"):
    sys.exit(__doc__)
if arguments[0] == "full":
    good = full()
else:
    good = cut(int(arguments[1]) if len(arguments) > 1 else 100, arguments[2] if len(arguments) > 2 else "ordered")
sys.exit(0 if good else 1)
