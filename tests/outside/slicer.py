"""Slices a kit's beds with PrusaSlicer as the printing sheet says, without supports, and reads what it would print.

    slicer.py KIT...
    slicer.py --self-test   a body in the air, a ceiling too wide and a wrong figure of grams must be refused

Refused: any message of the slicer; extrusions beyond the bed; an extrusion that begins over nothing; a line that hangs
free for longer than a bridge may be; grams of a part that differ from report.json. All else is as the slicer has it
unless told, with lines added on slopes and infill that runs into the walls. Every part is sliced; further beds of the
same parts are not.
"""
import math
import re
import subprocess
import sys
import tempfile
import zipfile
from collections import defaultdict
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
import trimesh
from scipy import ndimage

from kit import Findings, kits

# Longest bridge between two held ends, mm. Judgement: lines of any filament sag little over 10 mm and much over 20; 12
# takes the flat of the largest nut in its trap. A ceiling held at one end only is laid to and fro without a hold, so
# its lines count together.
SPAN = 12.0
# Difference between the slicer's grams of a part and ours, share of the slicer's: what output/plastic.rs tells of
# itself at the infill of the examples.
GRAMS = 0.05
# And this many grams for a part so small that its few short lines and the report's tenths count: coupons of 3 g.
SMALL = 0.3
# Side of a pixel in which layers are compared, mm: half a line.
PIXEL = 0.2
# An extrusion stands on something when this share of it lies over the layer below. Judgement: a ceiling that clings to
# its walls has far more, one that touches a wall at a pixel's rounding less.
OVER = 0.05
# Lines that the slicer itself takes for hanging.
HANGING = {"Bridge infill", "Overhang perimeter"}
# What the slicer says of its progress; all else it says is a finding.
PROGRESS = re.compile(r"^\s*\d+ => |\[(trace|debug|info)\]|^Slicing result exported to |^\s*$")
# Longest time for one bed, s.
LIMIT = 300


@dataclass
class Sliced:
    """What the slicer would print: its words, the lines of every layer, and filament by object, mm."""
    said: list
    layers: dict = field(default_factory=lambda: defaultdict(list))
    filament: dict = field(default_factory=lambda: defaultdict(float))


def options(printing):
    """The printing sheet's settings as options of the slicer."""
    width, layer = printing["line_width_mm"], printing["layer_mm"]
    x, y, z = printing["bed_mm"]
    # A grid cannot be laid in full; straight lines can.
    pattern = "rectilinear" if printing["infill"] >= 0.999 else "grid"
    given = {
        "nozzle-diameter": printing["nozzle_mm"], "layer-height": layer, "first-layer-height": layer,
        "perimeters": printing["walls"], "top-solid-layers": printing["solid_layers"],
        "bottom-solid-layers": printing["solid_layers"], "fill-density": f"{100 * printing['infill']:g}%",
        "fill-pattern": pattern, "bed-shape": f"0x0,{x:g}x0,{x:g}x{y:g},0x{y:g}", "max-print-height": z,
        "filament-diameter": printing["filament_mm"], "skirts": 0, "brim-width": 0,
    }
    lines = ("", "first-layer-", "perimeter-", "external-perimeter-", "infill-", "solid-infill-", "top-infill-")
    given |= {f"{line}extrusion-width": width for line in lines}
    return [word for key, value in given.items() for word in (f"--{key}", str(value))]


def run(model, printing):
    """Slices a file as it lies; supports are off unless asked for."""
    with tempfile.TemporaryDirectory() as folder:
        gcode = Path(folder) / "bed.gcode"
        command = ["prusa-slicer", "--export-gcode", str(model), "--output", str(gcode), "--dont-arrange",
                   "--gcode-label-objects", *options(printing)]
        done = subprocess.run(command, capture_output=True, text=True, errors="replace", timeout=LIMIT)
        said = [line for line in (done.stdout + done.stderr).splitlines() if not PROGRESS.search(line)]
        if not gcode.exists():
            return Sliced(said + [f"nothing was sliced, exit status {done.returncode}"])
        return read(gcode, Sliced(said))


def read(gcode, sliced):
    """Reads the lines that extrude, absolute or not, with their kind and object."""
    kind, owner, z, relative = "Custom", None, 0.0, False
    at = {"X": 0.0, "Y": 0.0, "E": 0.0}
    with open(gcode, errors="replace") as text:
        for line in text:
            if line.startswith("G1 "):
                new = {word[0]: float(word[1:]) for word in line.partition(";")[0].split()[1:] if word[0] in at}
                fed = new.get("E", 0.0 if relative else at["E"]) - (0.0 if relative else at["E"])
                if fed > 0 and owner and ("X" in new or "Y" in new):
                    end = (new.get("X", at["X"]), new.get("Y", at["Y"]))
                    sliced.layers[z].append((at["X"], at["Y"], *end, kind in HANGING))
                    sliced.filament[owner] += fed
                at.update(new)
            elif line.startswith(";TYPE:"):
                kind = line[6:].strip()
            elif line.startswith(";Z:"):
                z = float(line[3:])
            elif line.startswith("; printing object "):
                owner = line[18:].strip()
            elif line.startswith("; stop printing object"):
                owner = None
            elif line.startswith("G92 E"):
                at["E"] = float(line[5:].split()[0])
            elif line.startswith(("M82", "M83")):
                relative = line.startswith("M83")
    return sliced


def sampled(lines):
    """Points along lines, at most half a pixel apart: (points, number of the line, distance between its points)."""
    length = np.hypot(lines[:, 2] - lines[:, 0], lines[:, 3] - lines[:, 1])
    count = np.maximum(2, np.ceil(2 * length / PIXEL).astype(int) + 1)
    number = np.repeat(np.arange(len(lines)), count)
    place = np.arange(len(number)) - np.repeat(np.cumsum(count) - count, count)
    share = (place / (count - 1)[number])[:, None]
    return lines[number, :2] * (1 - share) + lines[number, 2:4] * share, number, (length / (count - 1))[number]


def longest_free(free, number, step):
    """Longest stretch without a break, mm, and the index of its last point; it runs on over the ends of lines."""
    best, where, so_far = 0.0, 0, 0.0
    for i in np.flatnonzero(free):
        joins = i > 0 and free[i - 1]
        so_far = so_far + (step[i] if number[i] == number[i - 1] else 0.0) if joins else 0.0
        if so_far > best:
            best, where = so_far, i
    return best, where


class Ground:
    """What a layer covers, in pixels."""

    def __init__(self, layers, width):
        every = np.array([line[:4] for lines in layers for line in lines])
        corners = every.reshape(-1, 2)
        self.origin = corners.min(axis=0) - 2 * width
        self.shape = tuple(np.ceil((corners.max(axis=0) + 2 * width - self.origin) / PIXEL).astype(int) + 1)
        reach = int(round(width / 2 / PIXEL))
        x, y = np.mgrid[-reach:reach + 1, -reach:reach + 1]
        self.disc = x * x + y * y <= (reach + 0.3) ** 2

    def pixels(self, points):
        return tuple(np.round((points - self.origin) / PIXEL).astype(int).T)

    def covered(self, points):
        """The pixels that lines through these points cover."""
        mask = np.zeros(self.shape, bool)
        mask[self.pixels(points)] = True
        return ndimage.binary_dilation(mask, self.disc)


def islands(mask, below):
    """Pieces of a layer that lie over nothing: (pixels, middle)."""
    labels, count = ndimage.label(mask, np.ones((3, 3)))
    size = np.bincount(labels.ravel(), minlength=count + 1)
    held = np.bincount(labels[below], minlength=count + 1)
    loose = [i for i in range(1, count + 1) if held[i] < OVER * size[i]]
    return [(size[i], np.argwhere(labels == i).mean(axis=0)) for i in loose]


def spot(point, z):
    return f"{point[0]:.1f}, {point[1]:.1f}, z {z:g} mm"


def judge_layers(sliced, printing, what, findings):
    """Every layer against the one below it; returns the longest line that hangs free, mm."""
    heights = sorted(sliced.layers)
    ground = Ground([sliced.layers[z] for z in heights], printing["line_width_mm"])
    below, longest = None, 0.0
    for z in heights:
        lines = np.array(sliced.layers[z])
        points, number, step = sampled(lines)
        mask = ground.covered(points)
        if below is not None:
            loose = islands(mask, below)
            for size, middle in loose:
                place = spot(ground.origin + middle * PIXEL, z)
                findings.expect(False, f"{what}: {size * PIXEL ** 2:.1f} mm2 over nothing at {place}")
            free = ~below[ground.pixels(points)] & (lines[number, 4] > 0)
            run_mm, where = longest_free(free, number, step)
            if run_mm > SPAN:
                findings.expect(False, f"{what}: a line hangs free for {run_mm:.1f} mm, to {spot(points[where], z)}")
            longest = max(longest, run_mm)
            findings.passed += not loose and run_mm <= SPAN
        below = mask
    return longest


def extent(sliced):
    """Least and greatest x, y and z of what is extruded, mm."""
    ends = np.array([line[:4] for lines in sliced.layers.values() for line in lines]).reshape(-1, 2)
    heights = min(sliced.layers), max(sliced.layers)
    return np.array([*ends.min(axis=0), heights[0]]), np.array([*ends.max(axis=0), heights[1]])


def names(model):
    """Names of the objects of a 3MF file."""
    if not zipfile.is_zipfile(model):
        return [Path(model).name]
    text = zipfile.ZipFile(model).read("3D/3dmodel.model").decode()
    return re.findall(r'<object [^>]*name="([^"]*)"', text)


def weights(sliced, printing, named):
    """Grams of every object by its mark: the last word of its name. The slicer calls an only object after the file."""
    per_mm = math.pi / 4 * printing["filament_mm"] ** 2 * printing["density_kg_per_m3"] * 1e-6
    found = defaultdict(list)
    for owner, length in sliced.filament.items():
        name = named[0] if len(named) == 1 else re.sub(r" id:\d+ copy \d+$", "", owner)
        found[name.split()[-1]].append(length * per_mm)
    return found


def judge_bed(model, printing, grams, what):
    """One bed; returns its findings and grams for the summary."""
    findings = Quiet()
    sliced = run(model, printing)
    findings.expect(not sliced.said, f"{what}: the slicer says: {' / '.join(sliced.said)[:300]}")
    if not findings.expect(sliced.layers, f"{what}: nothing is extruded"):
        return findings, {}, 0.0
    (low, high), bed = extent(sliced), np.array(printing["bed_mm"], float)
    inside = (low >= 0).all() and (high <= bed).all()
    findings.expect(inside, f"{what}: extrusions reach beyond the bed, {low} to {high} mm")
    longest = judge_layers(sliced, printing, what, findings)
    seen = weights(sliced, printing, names(model))
    for mark, found in seen.items():
        if findings.expect(mark in grams, f"{what}: {mark} is not a part of the report"):
            for g in found:
                findings.expect(abs(grams[mark] - g) <= max(GRAMS * g, SMALL),
                                f"{what}: {mark} is {grams[mark]:.1f} g in the report, {g:.1f} g here")
    return findings, seen, longest


class Quiet(Findings):
    """Keeps without printing."""

    def expect(self, good, what):
        self.passed += bool(good)
        self.wrong += [] if good else [what]
        return bool(good)


def covering(kit):
    """Beds that hold every part at least once, the most mixed first; more beds of the same parts say the same."""
    held = {file: set(names(file)) for file in (kit.folder / "beds").glob("bed_*.3mf")}
    chosen, seen = [], set()
    for file in sorted(held, key=lambda f: (-len(held[f]), int(re.search(r"\d+", f.stem)[0]))):
        if held[file] - seen:
            chosen.append(file)
            seen |= held[file]
    return chosen


def judge_one(task):
    return judge_bed(*task)


def judge(folders, findings):
    """Two beds at a time; grams of every part told beside ours."""
    tasks = []
    for kit in folders:
        grams = {part["mark"]: part["mass_g"] for part in kit.report["parts"]}
        files = covering(kit)
        marks = {name.split()[-1] for file in files for name in names(file)}
        odd = sorted(marks ^ set(grams))
        findings.expect(grams and not odd, f"{kit.name}: parts on no bed or in no report: {odd}")
        tasks += [(file, kit.record["printing"], grams, f"{kit.name}/{file.stem}") for file in files]
    with ProcessPoolExecutor(2) as pool:
        for (_, _, grams, what), (seen, found, longest) in zip(tasks, pool.map(judge_one, tasks)):
            told = ", ".join(f"{mark} {np.mean(g):.1f} g ({100 * (grams.get(mark, 0) / np.mean(g) - 1):+.1f} %)"
                             for mark, g in sorted(found.items()))
            print(f"{what}: longest free line {longest:.1f} mm; {told}", flush=True)
            findings.passed += seen.passed
            for wrong in seen.wrong:
                findings.expect(False, wrong)


def block(x, y, z, at):
    """A block of this size with its lower middle at a place."""
    mesh = trimesh.creation.box((x, y, z))
    mesh.apply_translation((at[0] + 100, at[1] + 100, at[2] + z / 2))
    return mesh


def gate(gap):
    """Two posts and a lintel over a gap, in one body as far as a slicer sees."""
    posts = [block(10, 20, 10, (side * (gap / 2 + 5), 0, 0)) for side in (-1, 1)]
    return posts + [block(gap + 20, 20, 4, (0, 0, 10))]


def self_test(findings):
    """Bodies that print and bodies that do not; a cube of 8 cm3 at 1000 kg/m3 is 8 g."""
    printing = {"nozzle_mm": 0.4, "layer_mm": 0.2, "line_width_mm": 0.44, "walls": 3, "solid_layers": 4, "infill": 1.0,
                "bed_mm": [200, 200, 200], "filament_mm": 1.75, "density_kg_per_m3": 1000.0}
    cube = [block(20, 20, 20, (0, 0, 0))]
    bodies = {
        "a cube": (cube, 8.0, None),
        "a cube said to be a tenth heavier": (cube, 8.8, "in the report"),
        "a body in the air beside another": (cube + [block(20, 20, 5, (40, 0, 10))], 10.0, "over nothing"),
        "a body above another": (cube + [block(20, 20, 5, (0, 0, 25))], 10.0, "the slicer says"),
        "a gate of 8 mm": (gate(8), 6.24, None),
        "a gate of 14 mm": (gate(14), 6.72, "hangs free"),
        "a body that juts out over the bed's edge": ([block(20, 20, 20, (95, 0, 0))], 8.0, "beyond the bed"),
    }
    with tempfile.TemporaryDirectory() as folder:
        for name, (meshes, grams, fault) in bodies.items():
            file = Path(folder) / "T.stl"
            trimesh.util.concatenate(meshes).export(file)
            seen, _, _ = judge_bed(file, printing, {"T.stl": grams}, name)
            good = any(fault in wrong for wrong in seen.wrong) if fault else not seen.wrong
            findings.expect(good, f"{name}: {seen.wrong[:3] or 'passed'}")


if __name__ == "__main__":
    found = Findings()
    if "--self-test" in sys.argv:
        self_test(found)
    else:
        judge(kits(), found)
    found.finish()
