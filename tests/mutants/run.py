#!/usr/bin/env python3
"""Asks of every mutant that cargo-mutants lists for some files whether a test notices it.

    python3 tests/mutants/run.py FILE...             all mutants of these files, as paths from the workspace's top
    python3 tests/mutants/run.py sample COUNT PART [SEED]
                                                     so many mutants, drawn by the seed, of all code of PART: commands, store or bot
    python3 tests/mutants/run.py again LOG           those that an earlier run, which printed LOG, calls UNNOTICED

cargo-mutants builds once for each mutant. Here the mutants that it lists are all written into one copy of the code, under
target/mutants, each as another body of its function that an environment variable chooses; so the copy is built once, and a
mutant costs only its tests. What does not compile is no mutant; what does not in that shape only is named, and left to
`cargo mutants -F NAME`.

The tests are those of the mutant's own part first, then those of the whole (conversations, access, stories), until one
fails; before them, the conversations that noticed others of the same file. A mutant that none of them notices is printed as UNNOTICED, unless `explained.txt` beside this script says why no test
could; the script fails where one is left.
"""

import collections
import concurrent.futures
import json
import os
import random
import re
import resource
import shutil
import subprocess
import sys
import threading
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent
HOUSE = HERE.parent.parent
COPY = HOUSE / "target" / "mutants" / "code"
BUILD = HOUSE / "target" / "mutants" / "build"
PARTS = ["commands", "store", "bot", "demo-guild", "tests"]
PACKAGES = {"commands": "loftwatch-commands", "store": "loftwatch-store", "bot": "loftwatch"}
# Of the whole, the quick first. What starts the real program as a child is built without the mutants' choice in mind, and takes
# long: it is left out.
WHOLE = [("conversations", "conversations_read_as_written"), ("access", ""), ("stories", "")]
# Of a part's own, those that are about its sentences and printed pages, and long: they come last.
LAST = ["report_files", "words", "dice"]
# So many of the conversations that noticed other mutants of a file are tried before all.
LIKELY = 6
# A test that takes so many times as long as without a mutant hangs, and one that takes so much memory collects without an end.
HANGS = 8
MEMORY = 4 << 30
# Why a mutant may compile alone and not as one of several bodies.
SHAPE = {"in no function", "not inside a body", "a const fn", "`match` arms have incompatible types"}
CHOICE = "LOFTWATCH_MUTANT"
SWITCH = f"""
/// Which of the bodies of a function is run.
pub fn mutant() -> u32 {{
    static MUTANT: std::sync::LazyLock<u32> =
        std::sync::LazyLock::new(|| std::env::var("{CHOICE}").map_or(0, |no| no.parse().unwrap_or(0)));
    *MUTANT
}}
"""


def cargo(*words, **more):
    return subprocess.run(["cargo", *words], cwd=COPY, text=True, capture_output=True, **more)


def copied():
    """The code, copied to where bodies may be added."""
    shutil.rmtree(COPY, ignore_errors=True)
    COPY.mkdir(parents=True)
    for part in PARTS:
        shutil.copytree(HOUSE / part, COPY / part)
    for name in ["Cargo.toml", "Cargo.lock", "clippy.toml", "README.md", "DEVELOPERS.md", "docs", "deny.toml", "LICENSE"]:
        if (HOUSE / name).is_dir():
            shutil.copytree(HOUSE / name, COPY / name)
        elif (HOUSE / name).exists():
            shutil.copy(HOUSE / name, COPY / name)


def listed(words):
    found = cargo("mutants", "--list", "--json", "--workspace", *words)
    if found.returncode:
        sys.exit(f"cargo-mutants could not list: {found.stderr}\nIs it there? `cargo install cargo-mutants`")
    return json.loads(found.stdout)


def offset(starts, at):
    return starts[at["line"] - 1] + at["column"] - 1


def body_of(text):
    """Where a function's body begins and ends in its text, inside its braces."""
    depth, at = 0, 0
    while at < len(text):
        rest = text[at:]
        skip = re.match(r"//[^\n]*|/\*.*?\*/|\"(?:\\.|[^\"\\])*\"|'(?:\\.|[^'\\])'", rest, re.S)
        if skip:
            at += skip.end()
            continue
        c = text[at]
        if c in "([":
            depth += 1
        elif c in ")]":
            depth -= 1
        elif c == "{" and depth == 0:
            return at + 1, text.rindex("}")
        at += 1
    return None


def planted(mutants, left_out):
    """Writes all of them into the copy. Returns by file the lines at which each body stands."""
    by_file = {}
    for no, mutant in mutants.items():
        by_file.setdefault(mutant["file"], {})[no] = mutant
    where = {}
    for file, own in by_file.items():
        text = (HOUSE / file).read_text()
        starts = [0]
        for line in text.splitlines(keepends=True):
            starts.append(starts[-1] + len(line))
        functions = {}
        for no, mutant in own.items():
            if mutant["function"] is None:
                left_out[no] = "in no function"
                continue
            span = mutant["function"]["span"]
            functions.setdefault((offset(starts, span["start"]), offset(starts, span["end"])), []).append(no)
        # Of functions inside functions the outer has the bodies.
        outer = {}
        for (a, b), nos in functions.items():
            around = min(((c, d) for c, d in functions if c <= a and b <= d), default=(a, b))
            outer.setdefault(around, []).extend(nos)
        # Columns count characters, as Python does.
        out, done, marks = [], 0, []
        for (a, b), nos in sorted(outer.items()):
            whole = text[a:b]
            inside = body_of(whole)
            bodies = []
            for no in sorted(nos):
                mutant = own[no]
                c, d = (offset(starts, mutant["span"][edge]) - a for edge in ("start", "end"))
                if inside is None or not inside[0] <= c <= d <= inside[1]:
                    left_out[no] = "not inside a body"
                    continue
                if re.match(r"(pub(\([^)]*\))? )?const fn ", whole):
                    left_out[no] = "a const fn"
                    continue
                changed = whole[inside[0] : c] + mutant["replacement"] + " " + whole[d : inside[1]]
                bodies.append((no, changed))
            if not bodies:
                continue
            out.append(text[done : a + inside[0]])
            out.append(" match crate::mutant() {\n")
            for no, changed in bodies:
                marks.append((no, "".join(out).count("\n") + 1, changed.count("\n") + 2))
                out.append(f"{no} => {{{changed}}}\n")
            out.append(f"_ => {{{whole[inside[0] : inside[1]]}}}\n}}\n")
            done = a + inside[1]
        out.append(text[done:])
        (COPY / file).write_text("".join(out))
        where[file] = marks
    return where


def built(words):
    """Checks or builds. Returns the tests that were built, and the errors with their file and line."""
    own = {
        "CARGO_TARGET_DIR": str(BUILD), "CARGO_INCREMENTAL": "1",
        # Built once, run a thousand times.
        "CARGO_PROFILE_DEV_DEBUG": "0", "CARGO_PROFILE_DEV_OPT_LEVEL": "1",
    }
    said = cargo(*words, "--message-format=json", env={**os.environ, **own})
    tests, errors = [], []
    for line in said.stdout.splitlines():
        message = json.loads(line)
        if message["reason"] == "compiler-artifact" and message["executable"] and message["profile"]["test"]:
            tests.append((message["manifest_path"], message["target"]["name"], message["executable"]))
        elif message["reason"] == "compiler-message" and message["message"]["level"] == "error":
            spans = message["message"]["spans"]
            errors.append((message["message"]["message"], [(s["file_name"], s["line_start"], s["line_end"]) for s in spans]))
    if said.returncode and not errors:
        sys.exit(said.stderr)
    return tests, errors


def started(no, test, skipped, talk=""):
    """A test program under way, with this mutant; of the conversations only those whose name holds `talk`."""
    manifest, name, program = test
    only = [only for whole, only in WHOLE if whole == name and only]
    return subprocess.Popen(
        [program, "--test-threads=1", *only, *(word for name in skipped for word in ("--skip", name))],
        cwd=Path(manifest).parent, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, errors="replace",
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY)),
        env={
            **os.environ, CHOICE: str(no), "CARGO_MANIFEST_DIR": str(Path(manifest).parent),
            # Of conversations the first that goes wrong is enough.
            "FIRST": "1", **({"TALK": talk} if talk else {}),
        },
    )


def fails(no, test, skipped, took, talk=""):
    """Whether a test of this program fails, as soon as one does, what it said until then, and whether it was ended because it hung."""
    program = started(no, test, skipped, talk)
    began, most = time.monotonic(), 20 + HANGS * took
    late = threading.Timer(most, program.kill)
    late.start()
    said = []
    try:
        for line in program.stdout:
            said.append(line)
            if line.startswith("test ") and line.endswith("FAILED\n") and name_of(test) != "conversations":
                program.kill()
        failed = program.wait() != 0
        return failed, "".join(said), time.monotonic() - began >= most
    finally:
        late.cancel()


def calm(tests):
    """The tests that pass where no mutant is chosen, each with what to skip (some read the source itself) and how long it took."""
    out = []
    for test in tests:
        said = started(0, test, []).communicate()[0]
        skipped = sorted(set(re.findall(r"^    ([a-z_:0-9]+)$", said, re.M)))
        began = time.monotonic()
        # A program that fails all the same would notice everything.
        if fails(0, test, skipped, 60)[0]:
            print(f"{name_of(test)} fails with no mutant at all, and is left out")
            continue
        out.append((test, skipped, time.monotonic() - began))
    return out


def notices(no, tests, likely):
    """The first test program that notices a mutant; nothing where none does. `likely` counts the conversations that do."""
    talks = next((one for one in tests if name_of(one[0]) == "conversations"), None)
    for talk, _ in likely.most_common(LIKELY) if talks else []:
        if fails(no, *talks, talk)[0]:
            likely[talk] += 1
            return "conversations"
    for test, skipped, took in tests:
        failed, said, hung = fails(no, test, skipped, took)
        if failed:
            for talk in re.findall(r"^== ([a-z_0-9]+)$", said, re.M):
                likely[talk] += 1
            return f"{name_of(test)} (too long)" if hung else name_of(test)
    return None


def lineless(name):
    """A mutant's name without line and column, which move."""
    return re.sub(r":\d+:\d+:", ":", name)


def name_of(test):
    return test[1]


def main():
    words = sys.argv[1:]
    if not words:
        sys.exit(__doc__)
    copied()
    if words[0] == "sample":
        count, part = int(words[1]), words[2]
        found = [one for one in listed([]) if one["file"].startswith(f"{part}/src/")]
        seed = int(words[3]) if len(words) > 3 else 1
        found = random.Random(seed).sample(found, min(count, len(found)))
    elif words[0] == "again":
        said = re.findall(r"^UNNOTICED (.*)$", Path(words[1]).read_text(), re.M)
        found = [one for one in listed([]) if lineless(one["name"]) in {lineless(name) for name in said}]
        part = found[0]["file"].split("/")[0] if found else ""
    else:
        part = words[0].split("/")[0]
        found = listed([word for file in words for word in ("-f", file)])
    if not found:
        sys.exit("no mutant is listed for that")
    mutants = dict(enumerate(found, 1))
    names = {no: one["name"] for no, one in mutants.items()}
    root = COPY / part / "src" / "lib.rs"
    left_out = {}
    while True:
        for file in {one["file"] for one in found}:
            shutil.copy(HOUSE / file, COPY / file)
        here = {no: one for no, one in mutants.items() if no not in left_out}
        shutil.copy(HOUSE / part / "src" / "lib.rs", root)
        where = planted(here, left_out)
        # What a mutant makes always overflow does so in its test.
        root.write_text("#![allow(arithmetic_overflow, unconditional_panic)]\n" + root.read_text() + SWITCH)
        errors = built(["check", "-p", PACKAGES[part], "--lib"])[1]
        if not errors:
            break
        before = len(left_out)
        for error, spans in errors:
            for file, first, last in spans:
                for no, line, lines in where.get(file, []):
                    if line <= last and first < line + lines:
                        left_out.setdefault(no, error)
        if len(left_out) == before:
            sys.exit("it does not build: " + json.dumps(errors[:3], indent=1))
    tests, errors = built(["test", "--no-run", "-p", PACKAGES[part], "-p", "loftwatch-tests", "--lib", "--tests"])
    if errors:
        sys.exit("it does not build: " + json.dumps(errors[:3], indent=1))
    alive = [no for no in mutants if no not in left_out]
    own = [test for test in tests if PACKAGES[part] == package(test[0])]
    whole = [test for name, _ in WHOLE for test in tests if test[1] == name]
    shape = {no: why for no, why in left_out.items() if why in SHAPE}
    print(f"{len(mutants)} listed: {len(left_out) - len(shape)} do not compile", flush=True)
    for no, why in shape.items():
        print(f"left to cargo-mutants: {names[no]}: {why}", flush=True)
    own, whole = sorted(calm(own), key=lambda test: test[2]), calm(whole)
    first = [test for test in own if test[0][1] not in LAST]
    tests = first + whole[:1] + [test for test in own if test not in first] + whole[1:]
    print("tests:", ", ".join(f"{test[1]} {took:.1f} s{f' without {skipped}' if skipped else ''}" for test, skipped, took in tests), flush=True)
    explained = dict(
        line.split(" :: ", 1) for line in (HERE / "explained.txt").read_text().splitlines() if " :: " in line
    )
    unnoticed, by, likely = [], {}, collections.defaultdict(collections.Counter)
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        for no, noticed in zip(alive, pool.map(lambda no: notices(no, tests, likely[mutants[no]["file"]]), alive)):
            by[noticed] = by.get(noticed, 0) + 1
            if noticed is None:
                why = explained.get(lineless(names[no]))
                print(f"{'explained' if why else 'UNNOTICED'} {names[no]}{f': {why}' if why else ''}", flush=True)
                unnoticed += [] if why else [no]
            if sum(by.values()) % 50 == 0:
                print(f"{sum(by.values())} tried", flush=True)
    print(f"{len(alive)} mutants, {len(unnoticed)} unnoticed and unexplained; noticed by {by}")
    sys.exit(1 if unnoticed else 0)


def package(manifest):
    return re.search(r'^name = "([^"]+)"', Path(manifest).read_text(), re.M)[1]


if __name__ == "__main__":
    main()
