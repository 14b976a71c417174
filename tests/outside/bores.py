"""Measures every tube's bore in the written STL by rays and compares it with record.json.

    bores.py KIT...
    bores.py --self-test   bores that are too narrow, too wide and too coarse must be refused

A plane is laid across the bore's axis at several stations clear of ribs, grooves, cross bolts and chamfers; rays from
the axis in that plane meet the nearest cut of the mesh. The narrowest place must be the recorded diameter, +OVER/-UNDER:
a facet must never make a bore smaller, and the corners of the facets may not lie further out than the chord error.
"""
import math
import sys

import numpy as np
import trimesh
from shapely.geometry import Polygon

from judge_meshes import stl_mesh
from kit import Findings, kits

# Largest excess of the narrowest diameter, mm: the program's own promise.
OVER = 0.02
# Smallest shortfall, mm: none but the rounding of 32-bit coordinates of about 200 mm.
UNDER = 5e-5
# Farthest corner beyond the narrowest place, mm on the radius: the chord error of curves and rounding.
CHORD = 0.052
RAYS = 720
STATIONS = 5


def unit(v):
    v = np.asarray(v, float)
    return v / np.linalg.norm(v)


def across(axis):
    """Two unit vectors across an axis."""
    helper = np.eye(3)[np.argmin(np.abs(axis))]
    u = unit(np.cross(axis, helper))
    return u, np.cross(axis, u)


def section(mesh, point, axis):
    """Cut of the mesh by the plane through a point across an axis, as 2-D segments about that point."""
    lines = trimesh.intersections.mesh_plane(mesh, axis, point)
    u, v = across(axis)
    local = lines - point
    return np.stack([local @ u, local @ v], axis=-1)


def first_hits(segments):
    """Distance from the origin to the first segment met by each ray; infinite where none is met."""
    angles = np.arange(RAYS) * 2 * np.pi / RAYS + 1e-4
    d = np.stack([np.cos(angles), np.sin(angles)], axis=-1)
    a, e = segments[:, 0], segments[:, 1] - segments[:, 0]
    cross = lambda p, q: p[..., 0] * q[..., 1] - p[..., 1] * q[..., 0]
    den = cross(d[:, None], e[None])
    with np.errstate(divide="ignore", invalid="ignore"):
        t = cross(a[None], e[None]) / den
        s = cross(a[None], d[:, None]) / den
    t[~((t > 0) & (s >= -1e-9) & (s <= 1 + 1e-9))] = np.inf
    return t.min(axis=1)


def narrowest(segments):
    """Distance from the origin to the nearest point of any segment."""
    a, e = segments[:, 0], segments[:, 1] - segments[:, 0]
    size = np.maximum((e * e).sum(axis=1), 1e-30)
    s = np.clip(-(a * e).sum(axis=1) / size, 0, 1)
    return np.linalg.norm(a + e * s[:, None], axis=1).min()


def free(low, high, blocked):
    """The longest stretch between two places that no blocked stretch covers."""
    cuts, at = [], low
    for a, b in sorted(blocked):
        if a > at:
            cuts.append((at, min(a, high)))
        at = max(at, b)
    cuts.append((at, high))
    return max(cuts, key=lambda c: c[1] - c[0])


def bolt_room(bolt, at):
    reach = max(bolt["head_face"], 1.2 * bolt["nut_flats"]) / 2 + 0.6
    return (at - reach, at + reach)


def socket_bores(design):
    """Sockets of brackets and feet: (point, axis, stretch, diameter)."""
    for s in design["sockets"]:
        blocked = []
        if s["ribs"]:
            blocked.append((-1e9, s["floor"] + s["ribs"]["length"] + 0.2))
        for z in s["grooves"]:
            blocked.append((s["floor"] + z - 0.6, s["floor"] + z + 1.9))
        if s["bolt"]:
            blocked.append(bolt_room(s["bolt"], s["bolt"]["at"]))
        top = s["floor"] + s["depth"] - s["chamfer"] - 0.1
        stretch = free(s["floor"] + 0.3, top, blocked)
        yield [*s["base"], design["plate"]], s["axis"], stretch, s["bore"]


def tie_bores(design):
    """Collars for tubes and sockets for rails."""
    for (x, y), bolt in zip(design["bores"], design["bolts"] or [None] * len(design["bores"])):
        blocked = [bolt_room(bolt, bolt["at"])] if bolt else []
        edge = design["chamfer"] + 0.2
        yield [x, y, 0.0], [0.0, 0.0, 1.0], free(edge, design["height"] - edge, blocked), design["bore"]
    for r in design["rails"]:
        mouth = design["chamfer"] / math.tan(math.pi / 4 - math.asin(abs(r["direction"][2])))
        stretch = (r["floor"] + 0.5, r["floor"] + r["depth"] - mouth - 0.5)
        yield [0.0, 0.0, r["height"]], r["direction"], stretch, r["bore"]


def bores(part):
    """All bores of a part that take a tube."""
    design = part["design"]
    if part["sort"] in ("bracket", "foot"):
        return list(socket_bores(design))
    return list(tie_bores(design)) if part["sort"] == "tie" else []


def measure(mesh, bore, what, findings):
    """One bore at its stations; the worst deviation of the narrowest place."""
    point, axis, (low, high), diameter = bore
    axis = unit(axis)
    if not findings.expect(high - low > 0.3, f"{what}: no stretch of the bore is free to be measured"):
        return 0.0
    worst = 0.0
    for at in np.linspace(low, high, STATIONS):
        segments = section(mesh, np.asarray(point, float) + axis * at, axis)
        hits, near = first_hits(segments), 2 * narrowest(segments)
        off = near - diameter
        # A socket for a rail is a teardrop: open above, so only its narrowest place counts.
        round_bore = abs(axis[2]) > 0.5
        good = -UNDER <= off <= OVER and np.isfinite(hits).all() and (not round_bore or hits.max() - near / 2 <= CHORD)
        findings.expect(good, f"{what} at {at:.1f} mm: {near:.4f} mm narrowest, {2 * hits.max():.4f} mm widest, "
                              f"not {diameter:.4f} mm")
        worst = max(worst, off, key=abs)
    return worst


def gauge_bores(mesh, part, what, findings):
    """The gauge's rings: their middles are found in the mesh as round holes half way to the mouth, then measured there."""
    design = part["design"]
    level = np.array([0.0, 0.0, (design["slice"] - design["chamfer"]) / 2])
    base = section(mesh, level, np.array([0.0, 0.0, 1.0]))
    loops = trimesh.load_path(base).discrete
    axis = unit(design["axis"])
    u, v = across(np.array([0.0, 0.0, 1.0]))
    middles = [Polygon(loop).centroid.coords[0] for loop in loops]
    middles = [u * m[0] + v * m[1] + level for m in middles]
    found = []
    for middle in middles:
        near = 2 * narrowest(section(mesh, middle, axis))
        if near > min(design["bores"]) - 1.0:
            found.append(near)
    for want in design["bores"]:
        best = min(found, key=lambda d: abs(d - want), default=0.0)
        findings.expect(-UNDER - 1e-3 <= best - want <= OVER, f"{what}: no slice of {want:.2f} mm; found {found}")


def judge(kit, findings):
    worst, number = 0.0, 0
    for part in kit.record["parts"]:
        mesh = trimesh.Trimesh(*stl_mesh(kit.folder / part["file"])[0], process=False)
        if part["sort"] == "fit gauge":
            gauge_bores(mesh, part, f"{kit.name}: {part['name']}", findings)
        for i, bore in enumerate(bores(part)):
            off = measure(mesh, bore, f"{kit.name}: {part['name']}, bore {i + 1}", findings)
            worst, number = max(worst, off, key=abs), number + 1
    print(f"{kit.name}: {number} bores, worst narrowest diameter {worst:+.4f} mm from the record")


class Quiet(Findings):
    """Counts without printing."""

    def expect(self, good, what):
        self.passed += bool(good)
        self.wrong += [] if good else [what]
        return bool(good)


def self_test(findings):
    """A ring of 20 mm bore, true and wrong in every way."""
    bore = ([0.0, 0.0, 0.0], [0.0, 0.0, 1.0], (-4.0, 4.0), 20.0)
    rings = {"true": (20.0, 64, True), "narrow": (19.998, 64, True), "wide": (20.05, 64, True),
             "corners on the circle": (20.0, 64, False), "coarse": (20.0, 24, True)}
    for name, (diameter, sides, outside) in rings.items():
        radius = diameter / 2 / (np.cos(np.pi / sides) if outside else 1.0)
        ring = trimesh.creation.annulus(radius, 15.0, 10.0, sections=sides)
        seen = Quiet()
        measure(ring, bore, name, seen)
        findings.expect((name == "true") == (not seen.wrong), f"{name}: {seen.wrong[:1] or 'passed'}")


if __name__ == "__main__":
    found = Findings()
    if "--self-test" in sys.argv:
        self_test(found)
    else:
        for each in kits():
            judge(each, found)
    found.finish()
