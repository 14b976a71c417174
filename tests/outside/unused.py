#!/usr/bin/env python3
"""Nothing dead: whatever the library offers is used by the program itself, not by tests alone.

usage: unused.py    prints what nothing but tests uses and fails; `--self-test` shows that it can.

A compiler keeps quiet about what a library makes public: a caller might be elsewhere. Here library and command line are put
together into one program, where nothing is public, and the compiler is asked what is left over: functions, methods, constants,
types, variants, fields. Tests are not compiled. Written below target/unused only.
"""
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

# File and name of what only tests use and what stays all the same, with the reason.
ALLOWED = {
    ("src/geometry/layers.rs", "middle"): "at what height a layer of a print hangs in the air, tests/prints.rs",
    ("src/geometry/layers.rs", "pieces"): "every island of a layer must rest on the one below, tests/prints.rs",
    ("src/mechanics/joint.rs", "new"): "the whole model of a bracket, without saying how fine",
    ("src/mechanics/joint.rs", "state"): "the balance of what screws, wood and bosses bear, tests/joint.rs",
    ("src/parts/mod.rs", "labels"): "what is engraved beside which bore, tests/assembly.rs",
}


def together(root, where):
    """Writes library and command line as one program to the folder `where`."""
    shutil.rmtree(where, ignore_errors=True)
    where.mkdir(parents=True)
    for entry in root.iterdir():
        if entry.name not in ("src", "target", "tests", "Cargo.toml") and not entry.name.startswith("."):
            (where / entry.name).symlink_to(entry)
    shutil.copytree(root / "src", where / "src")
    manifest = (root / "Cargo.toml").read_text()
    (where / "Cargo.toml").write_text(re.sub(r"^\[\[bench\]\].*?(?=^\[|\Z)", "", manifest, flags=re.M | re.S))
    name = re.search(r'^name = "(.+)"', manifest, re.M)[1].replace("-", "_")
    library, main = where / "src/lib.rs", where / "src/main.rs"
    program = [line for line in main.read_text().splitlines() if not line.startswith("//!")]
    main.write_text(re.sub(r"^pub mod", "mod", library.read_text(), flags=re.M) + "\n".join(program) + "\n")
    library.unlink()
    for path in [main, *(where / "src/cli").rglob("*.rs")]:
        path.write_text(re.sub(rf"\b{name}::", "crate::", path.read_text()))


def left_over(where, target):
    """File and name of everything that the compiler finds unused."""
    command = ["cargo", "check", "--release", "--bins", "--quiet", "--message-format=json"]
    run = subprocess.run(command, cwd=where, env={**os.environ, "CARGO_TARGET_DIR": str(target)}, text=True,
                         stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    messages = [json.loads(line) for line in run.stdout.splitlines()]
    messages = [m["message"] for m in messages if m["reason"] == "compiler-message"]
    if run.returncode:
        errors = [m["rendered"] for m in messages if m["level"] == "error"]
        sys.exit("\n".join(["library and program do not go together", *errors, run.stderr]))
    found = set()
    for message in messages:
        if (message["code"] or {}).get("code") != "dead_code":
            continue
        for span in (s for s in message["spans"] if s["is_primary"]):
            line = span["text"][0]
            name = line["text"][line["highlight_start"] - 1:line["highlight_end"] - 1]
            found.add((span["file_name"], name, span["line_start"]))
    return found


def judge(root, target, allowed):
    """What only tests use, and exceptions that are none."""
    where = target / "unused"
    together(root, where)
    found = left_over(where, target)
    faults = [f"{file}:{line}: {name} is used by tests only" for file, name, line in sorted(found)
              if (file, name) not in allowed]
    excess = set(allowed) - {(file, name) for file, name, _ in found}
    return faults + [f"{file}: {name} is an exception and need not be" for file, name in sorted(excess)]


def self_test():
    """A function called by a test alone is found, one that only such a function calls too, and a needless exception."""
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        (root / "src/cli").mkdir(parents=True)
        (root / "Cargo.toml").write_text('[package]\nname = "small"\nversion = "0.1.0"\nedition = "2024"\n')
        (root / "src/lib.rs").write_text("//! Small.\npub mod sums;\n")
        (root / "src/sums.rs").write_text(
            "pub fn used() -> u8 { 1 }\npub fn dead() -> u8 { deeper() }\nfn deeper() -> u8 { 2 }\npub fn kept() {}\n"
            "#[cfg(test)]\nmod tests { #[test] fn two() { assert_eq!(super::dead(), 2) } }\n")
        (root / "src/main.rs").write_text("//! Small.\nmod cli;\nfn main() { cli::run() }\n")
        (root / "src/cli/mod.rs").write_text("use small::sums::used;\npub fn run() { std::process::exit(used().into()) }\n")
        faults = judge(root, root / "target", {("src/sums.rs", "kept"): "reason", ("src/sums.rs", "used"): "reason"})
        expected = [
            "src/sums.rs:2: dead is used by tests only",
            "src/sums.rs:3: deeper is used by tests only",
            "src/sums.rs: used is an exception and need not be",
        ]
        assert faults == expected, faults


def main():
    if sys.argv[1:] == ["--self-test"]:
        return self_test()
    faults = judge(ROOT, ROOT / "target", ALLOWED)
    print("\n".join(faults) or f"nothing is used by tests only, but for {len(ALLOWED)} exceptions with a reason")
    sys.exit(bool(faults))


main()
