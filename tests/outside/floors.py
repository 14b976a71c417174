#!/usr/bin/env python3
"""Floors of the library: no file imports from a floor below its own, no files import each other in a circle, none is long.

usage: floors.py [src]    prints what is wrong and fails; `--self-test` shows that it can.

Imports are `use` lines and paths that begin with crate:: or super::, tests at the end of a file left out.
"""
import re
import sys
import tempfile
from pathlib import Path

# A floor may use what stands before it in this list, and itself.
FLOORS = [
    "units", "source", "problem", "parallel", "tables", "geometry", "fem", "clauses", "formats", "params", "model",
    "parts", "mechanics", "checks", "evaluate", "search", "output", "compare", "lib",
]

# Most lines of a file; longer ones are split at their nouns.
MOST_LINES = 500

# Files that are longer, with the reason.
LONG = {}


def modules(root):
    """Module path of each file: ("fem", "solve") for src/fem/solve.rs."""
    out = {}
    for path in sorted(root.rglob("*.rs")):
        parts = list(path.relative_to(root).with_suffix("").parts)
        if parts[-1] == "mod":
            parts.pop()
        if parts and parts[0] not in ("cli", "main"):
            out[tuple(parts)] = path
    return out


def code(path):
    text = path.read_text().split("#[cfg(test)]")[0]
    return "\n".join(line.split("//")[0] for line in text.splitlines())


def names(body):
    """Paths of a use tree, each as a tuple."""
    body = body.strip()
    brace = body.find("{")
    if brace < 0:
        return [tuple(p.strip() for p in body.split(" as ")[0].split("::") if p.strip())]
    head = tuple(p for p in body[:brace].strip().strip(":").split("::") if p)
    inner, depth, start, out = body[brace + 1:body.rfind("}")], 0, 0, []
    for i, c in enumerate(inner + ","):
        depth += (c == "{") - (c == "}")
        if c == "," and depth == 0:
            if inner[start:i].strip():
                out += [head + n for n in names(inner[start:i])]
            start = i + 1
    return out


def imports(own, path, known):
    """Modules that a file takes names from."""
    text = code(path)
    trees = re.findall(r"^\s*(?:pub(?:\([a-z]+\))?\s+)?use\s+((?:crate|super|self)\b[^;]*);", text, re.M)
    paths = [n for t in trees for n in names(re.sub(r"\s+", " ", t))]
    paths += [tuple(p.split("::")) for p in re.findall(r"\b((?:crate|super)(?:::[A-Za-z_]\w*)+)", text)]
    found = set()
    for p in paths:
        at = list(own)
        # Whatever `super` means in a file that is a module's own, its parent is one up.
        if p[0] == "crate":
            at, p = [], p[1:]
        else:
            while p and p[0] == "super":
                at, p = at[:-1], p[1:]
            if p and p[0] == "self":
                p = p[1:]
        for name in p:
            if tuple(at + [name]) in known:
                at.append(name)
            else:
                break
        target = tuple(at)
        if target != own and target in known:
            found.add(target)
    return found


def floor(module):
    name = module[0] if module[0] in FLOORS else "lib"
    return FLOORS.index(name)


def circles(graph):
    """Strongly connected groups of more than one file (Tarjan)."""
    index, low, stack, on, out = {}, {}, [], set(), []

    def visit(v):
        index[v] = low[v] = len(index)
        stack.append(v)
        on.add(v)
        for w in sorted(graph[v]):
            if w not in index:
                visit(w)
                low[v] = min(low[v], low[w])
            elif w in on:
                low[v] = min(low[v], index[w])
        if low[v] == index[v]:
            group = []
            while True:
                w = stack.pop()
                on.discard(w)
                group.append(w)
                if w == v:
                    break
            if len(group) > 1:
                out.append(sorted(group))

    for v in sorted(graph):
        if v not in index:
            visit(v)
    return out


def judge(root):
    known = modules(root)
    graph = {m: imports(m, p, known) for m, p in known.items()}
    faults = []
    for m, targets in sorted(graph.items()):
        for t in sorted(targets):
            if floor(t) > floor(m):
                faults.append(f"{'::'.join(m)} imports upward from {'::'.join(t)}")
    # A folder's own file lists its children; a child may use what the folder itself defines, which is no circle of files.
    lean = {m: {t for t in targets if t != m[:len(t)] and m != t[:len(m)]} for m, targets in graph.items()}
    faults += ["circle: " + ", ".join("::".join(m) for m in group) for group in circles(lean)]
    return faults


def long_files(root, excused):
    """Files of too many lines, and exceptions that are none."""
    lines = {str(p.relative_to(root)): len(p.read_text().splitlines()) for p in sorted(root.rglob("*.rs"))}
    faults = [f"{name} has {n} lines, more than {MOST_LINES}" for name, n in lines.items()
              if n > MOST_LINES and name not in excused]
    return faults + [f"{name} is an exception and need not be" for name in excused if lines.get(name, 0) <= MOST_LINES]


def self_test():
    """A folder with one import upward and one circle is found guilty of both, and of nothing else."""
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        (root / "fem").mkdir()
        (root / "fem" / "mod.rs").write_text("mod beam;\nmod plate;\nmod spring;\n")
        (root / "fem" / "beam.rs").write_text("use super::{plate::Plate};\n")
        (root / "fem" / "plate.rs").write_text("fn f() { super::beam::f() }\n#[cfg(test)]\nmod t { use crate::model::M; }\n")
        (root / "fem" / "spring.rs").write_text("use crate::model::Leg; // use super::beam::B;\n")
        (root / "model.rs").write_text("use crate::fem::spring::Spring;\n")
        faults = judge(root)
        expected = [
            "fem::spring imports upward from model",
            "circle: fem::beam, fem::plate",
            "circle: fem::spring, model",
        ]
        assert faults == expected, faults
        (root / "model.rs").write_text("// A line.\n" * (MOST_LINES + 1))
        faults = long_files(root, {"fem/beam.rs": "a reason"})
        expected = [f"model.rs has {MOST_LINES + 1} lines, more than {MOST_LINES}", "fem/beam.rs is an exception and need not be"]
        assert faults == expected, faults
        assert long_files(root, {"model.rs": "a reason"}) == []


def main():
    if sys.argv[1:] == ["--self-test"]:
        return self_test()
    root = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).resolve().parents[2] / "src"
    faults = judge(root) + long_files(root, LONG)
    print("\n".join(faults) or f"{len(modules(root))} files, no import upward, no circle, {len(LONG) or 'none'} longer than {MOST_LINES} lines")
    sys.exit(bool(faults))


main()
