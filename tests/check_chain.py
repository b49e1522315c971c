#!/usr/bin/env python3
"""Checks session logs without the program: the bytes, the chain, and what stands after the last good line.

usage: check_chain.py LOG...     prints one line for each: class, good events, head, file
"""
import hashlib
import re
import sys

LONGEST = 65536
TAIL = re.compile(rb',"h":"([0-9a-f]{64})"}\Z')


def good(line, n, head):
    """The line's hash if it is event n after head, else None. The line has no line feed."""
    body, tail = line[:-72], TAIL.match(line[-72:])
    if len(line) >= LONGEST or tail is None or not body.startswith(b'{"n":%d,' % n):
        return None
    found = hashlib.sha256(head.encode() + b"\n" + body).hexdigest()
    return found if found.encode() == tail.group(1) else None


def check(text):
    """Class, number of good events and head of a log's bytes."""
    n, head, at = 0, "0" * 64, 0
    while at < len(text):
        end = text.find(b"\n", at)
        line = text[at:] if end < 0 else text[at:end]
        found = good(line, n, head)
        if found is None:
            if end < 0:
                return "torn" if len(line) <= LONGEST else "damaged", n, head
            if end + 1 < len(text) or len(line) >= LONGEST:
                return "damaged", n, head
            return "torn" if b"\0" in line else "damaged-tail", n, head
        n, head = n + 1, found
        if end < 0:
            return "unterminated", n, head
        at = end + 1
    return "clean", n, head


for path in sys.argv[1:]:
    with open(path, "rb") as log:
        print(*check(log.read()), path)
