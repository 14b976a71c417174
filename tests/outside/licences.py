#!/usr/bin/env python3
"""Licences of everything that the program is built with.

usage: licences.py    fails where a dependency can be had neither under MIT nor under Apache 2.0 and THIRD-PARTY.md does not
                      name it with its version and licence, or names one that is gone; `--self-test` shows that it can.
"""
import json
import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
# Either covers the whole program; what is dedicated to the public asks for nothing.
OURS = {"MIT", "Apache-2.0"}


def covered(licence):
    """Whether an SPDX expression can be met with our own licences alone."""
    tokens = re.findall(r"\(|\)|AND|OR|[\w.+-]+(?: WITH [\w.-]+)?", licence.replace("/", " OR "))

    def either():
        met = both()
        while tokens and tokens[0] == "OR":
            tokens.pop(0)
            met = both() or met
        return met

    def both():
        met = one()
        while tokens and tokens[0] == "AND":
            tokens.pop(0)
            met = one() and met
        return met

    def one():
        token = tokens.pop(0)
        if token == "(":
            met = either()
            tokens.pop(0)
            return met
        return token in OURS

    return either()


def built_with():
    """Name, version and licence of each crate that the program or its build uses; those of tests are left out."""
    told = subprocess.run(["cargo", "metadata", "--format-version", "1", "--locked"], cwd=ROOT, check=True,
                          capture_output=True, text=True)
    data = json.loads(told.stdout)
    nodes = {n["id"]: n for n in data["resolve"]["nodes"]}
    packages = {p["id"]: p for p in data["packages"]}
    seen, todo = set(), [data["resolve"]["root"]]
    while todo:
        crate = todo.pop()
        if crate not in seen:
            seen.add(crate)
            todo += [d["pkg"] for d in nodes[crate]["deps"] if any(k["kind"] != "dev" for k in d["dep_kinds"])]
    return sorted((packages[i]["name"], packages[i]["version"], packages[i]["license"] or "none told") for i in seen)


def faults(crates, text):
    wanted = {c for c in crates if not covered(c[2])}
    named = {tuple(cell.strip() for cell in row.split("|")[1:4]) for row in text.splitlines()
             if re.match(r"\| (?!crate )\w", row)}
    out = [f"{' '.join(c)}: not in THIRD-PARTY.md" for c in sorted(wanted - named)]
    return out + [f"{' '.join(c)}: in THIRD-PARTY.md, but not used" for c in sorted(named - wanted)]


def self_test():
    assert covered("MIT/Apache-2.0") and covered("Apache-2.0 WITH LLVM-exception OR MIT") and covered("(MIT OR Zlib)")
    assert not covered("(MIT OR Apache-2.0) AND Unicode-3.0") and not covered("MPL-2.0") and not covered("none told")
    row = "| crate | version |\n|---|---|\n| a | 1.0.0 | MPL-2.0 | x |\n"
    assert faults([("a", "1.0.0", "MPL-2.0"), ("b", "2.0.0", "MIT")], row) == []
    assert len(faults([("a", "1.1.0", "MPL-2.0"), ("c", "1.0.0", "GPL-3.0")], row)) == 3
    print("licences: the judge refuses what it must")


if __name__ == "__main__":
    if "--self-test" in sys.argv:
        self_test()
        sys.exit()
    crates = built_with()
    found = faults(crates, (ROOT / "THIRD-PARTY.md").read_text())
    print("\n".join(found) or f"licences of {len(crates)} crates are in order")
    sys.exit(bool(found))
