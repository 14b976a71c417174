"""Builds the first bracket of a kit again with another kernel, from the numbers of record.json, and compares volumes.

    rebuild.py KIT...

Twice with manifold3d. With circles of SIDES sides it is the part as meant. With as few sides as the program takes for its
chord error (corners on the circle for what is added, sides touching it for what is cut) it must agree five times closer. Plate, bosses with skirts,
webs, gussets, bores with mouths, grooves and ribs, screw holes with sinks, reliefs and slots, cross bolts with nut and
head seats. Left out: the engraved mark.
"""
import math

import numpy as np
import trimesh
from manifold3d import CrossSection, JoinType, Manifold, OpType

from judge_meshes import stl_mesh
from kit import Findings, kits

# Difference from the part as meant, relative: a chord error of 0.05 mm takes 0.5 % off a boss' area and adds 0.4 % to a
# bore's, and bosses and bores are up to three quarters of a bracket.
TOLERANCE = 0.005
# The same with the program's chord error: what is left is the mark and where facets begin.
TOLERANCE_CHORD = 0.001
SIDES = 128
# The program's chord error, mm.
CHORD = 0.05
# Whether the chord error is imitated.
coarse = False
# Where a bracket's own constants are not in the record: depth of a boss' root in the plate, of a rib's root in the wall,
# of a glue groove with flanks at 45 degrees and its width, height of a gusset's toe, and how much wider the way to a nut or a
# head is than its seat, mm.
EMBED, RIB_ROOT, GROOVE, TOE, ENTRY = 1.0, 0.4, (0.4, 1.2), 1.0, 0.1


def unit(v):
    v = np.asarray(v, float)
    return v / np.linalg.norm(v)


def frame(point, axis, up=None):
    """4 x 3 matrix: z along the axis, y towards `up`, origin at the point."""
    z = unit(axis)
    guess = np.eye(3)[np.argmin(abs(z))] if up is None else np.asarray(up, float)
    x = unit(np.cross(guess, z))
    return np.column_stack([x, np.cross(z, x), z, np.asarray(point, float)])


def sides(radius):
    """Sides of a circle."""
    return max(12, 4 * math.ceil(math.pi / math.acos(1 - CHORD / radius) / 4)) if coarse else SIDES


def sides_outside(radius):
    """Sides of a circle that touch it from outside, corners a chord error off."""
    return max(12, 4 * math.ceil(math.pi / math.acos(radius / (radius + CHORD)) / 4)) if coarse else SIDES


def revolve(profile):
    """(height, radius) pairs turned about z, for cutting: sides touch the circle."""
    count = sides_outside(max(r for _, r in profile))
    grow = 1 / math.cos(math.pi / count) if coarse else 1.0
    points = [(0.0, profile[0][0])] + [(r * grow, z) for z, r in profile] + [(0.0, profile[-1][0])]
    return Manifold.revolve(CrossSection([np.array(points, float)]), count)


def ring(point, axis, radius, level=None, count=None):
    """Points of a circle about an axis; slid along it to a level where one is given."""
    m = frame(point, axis)
    count = count or sides(radius)
    angles = np.arange(count) * 2 * math.pi / count
    points = m[:, 3] + radius * (np.outer(np.cos(angles), m[:, 0]) + np.outer(np.sin(angles), m[:, 1]))
    if level is not None:
        points = points + np.outer((level - points[:, 2]) / m[2, 2], m[:, 2])
    return points


def hull(*rings):
    return Manifold.hull_points(np.vstack(rings))


def boss(s, plate):
    """Leaning cylinder on the plate, with a cone round its root that ends where the highest side has left it."""
    base, axis = np.array([*s["base"], plate]), unit(s["axis"])
    radius, top = s["outer"] / 2, s["floor"] + s["depth"]
    shaft = hull(ring(base, axis, radius, plate - EMBED), ring(base + axis * top, axis, radius))
    if not s["skirt"]:
        return shaft
    lean = math.hypot(axis[0], axis[1]) / axis[2]
    end = s["skirt"] + (radius + s["skirt"]) * lean
    wide = radius + s["skirt"]
    return shaft + hull(ring(base, axis, wide, plate), ring(base + axis * end, axis, radius))


def bore(s, plate):
    """Bore, mouth and grooves."""
    at = frame([*s["base"], plate], s["axis"])
    radius, top, chamfer = s["bore"] / 2, s["floor"] + s["depth"], s["chamfer"]
    mouth = [(s["floor"], radius), (top - chamfer, radius), (top, radius + chamfer), (top + 0.5, radius + chamfer + 0.5)]
    cut = revolve(mouth)
    for z in s["grooves"]:
        low = s["floor"] + z
        deep, wide = GROOVE
        flanks = [(low, radius), (low + deep, radius + deep), (low + wide - deep, radius + deep), (low + wide, radius)]
        cut += revolve(flanks)
    return cut.transform(at)


def ribs(s, plate):
    """Ridges in the bore: as high as the touching circle says."""
    r = s["ribs"]
    height = (s["bore"] - r["inscribed"]) / 2
    one = Manifold.cube((height + RIB_ROOT, r["width"], r["length"] + RIB_ROOT))
    one = one.translate((r["inscribed"] / 2, -r["width"] / 2, s["floor"] - RIB_ROOT))
    turned = [one.rotate((0, 0, 360.0 * k / r["count"])) for k in range(r["count"])]
    return Manifold.batch_boolean(turned, OpType.Add).transform(frame([*s["base"], plate], s["axis"]))


def cross_bolt(s, plate):
    """Hole with a pointed roof, hexagonal trap of the nut, seat of the head; steep roofs over both."""
    b, axis = s["bolt"], unit(s["axis"])
    middle = np.array([*s["base"], plate]) + axis * b["at"]
    direction = unit(b["direction"])
    up = np.array([0, 0, 1.0]) - direction * direction[2]
    m = frame(middle, direction, up)
    radius, reach = b["hole"] / 2, s["outer"] / 2 + 1.0
    tip = radius * np.array([(-math.sqrt(0.5), math.sqrt(0.5)), (math.sqrt(0.5), math.sqrt(0.5)), (0, math.sqrt(2))])
    outline = CrossSection.circle(radius, SIDES) + CrossSection([tip])
    hole = outline.extrude(2 * reach).translate((0, 0, -reach))
    nut = CrossSection.circle(b["nut_flats"] / math.sqrt(3), 6).extrude(s["outer"] / 2 + 3 - b["nut_seat"])
    nut = nut.translate((0, 0, b["nut_seat"]))
    face, far = (b["head_face"] + ENTRY) / 2, s["outer"] / 2 + 3.5
    head = (CrossSection.circle(face, SIDES) + roof(face / math.sqrt(2), face / math.sqrt(2))).extrude(far - b["head_seat"] - ENTRY)
    seat = Manifold.cylinder(ENTRY, b["head_face"] / 2, b["head_face"] / 2, SIDES)
    head = head.translate((0, 0, -far)) + seat.translate((0, 0, -b["head_seat"] - ENTRY))
    flats = b["nut_flats"] + ENTRY
    entry = CrossSection.circle(flats / math.sqrt(3), 6) + roof(flats / math.sqrt(12), flats / 2)
    entry = entry.extrude(far - b["nut_seat"] - ENTRY).translate((0, 0, b["nut_seat"] + ENTRY))
    return (hole + nut + head + entry).transform(m)


def roof(half, level):
    """A gable of 45 degrees over a flat at a level."""
    return CrossSection([np.array([(-half, level), (half, level), (0.0, level + half)])])


def web(d, w):
    """Upright wall from the middle of one boss to that of the other, leaning with them."""
    a, b = d["sockets"][w["from"]], d["sockets"][w["to"]]
    start, end = np.array(a["base"]), np.array(b["base"])
    along = unit(end - start)
    side = np.array([-along[1], along[0]]) * w["thickness"] / 2
    lean = np.array(a["axis"][:2]) / a["axis"][2] @ along * w["height"]
    points = []
    for z, shift in ((d["plate"] - EMBED, 0.0), (d["plate"] + w["height"], lean)):
        for p in (start, end):
            points += [[*(p + along * shift + k * side), z] for k in (-1, 1)]
    return Manifold.hull_points(np.array(points))


def gusset(d, g):
    """Triangle from the boss to the plate: `run` beyond the boss, `rise` on it, a blunt toe."""
    s = d["sockets"][g["boss"]]
    base, axis = np.array([*s["base"], d["plate"]]), unit(s["axis"])
    flat = np.array([math.cos(g["angle"]), math.sin(g["angle"]), 0.0])
    out = unit(flat - axis * (flat @ axis))
    level = lambda p: p + axis * ((d["plate"] - p[2]) / axis[2])
    radius, inner = s["outer"] / 2, (s["outer"] + s["bore"]) / 4
    foot = level(base + out * (radius + g["run"])) + axis * TOE
    # Where the boss leans to its side it is never lower than its toe.
    rise = max(g["rise"], 2 * TOE - radius * out[2] / axis[2])
    shoulder = base + out * radius + axis * rise
    back = shoulder + (shoulder - foot) / g["run"] * (radius - inner)
    sink = axis * (EMBED / axis[2])
    section = [level(base + out * inner) - sink, level(base + out * (radius + g["run"])) - sink, foot, back]
    across = np.cross(axis, out)
    slide = across - axis * (across[2] / axis[2])
    return Manifold.hull_points(np.array([p + slide * k * g["thickness"] / 2 for p in section for k in (-1, 1)]))


def screw_hole(d, hole):
    """Relief on the wood side, clear hole, sink of the head; a slot is the sweep of the round one."""
    f, plate = d["hole"], d["plate"]
    clear, head = f["clear"] / 2, f["head"] / 2
    profile = [(-0.5, clear)]
    if f["relief"] > 0:
        wider = f["relief_diameter"] / 2 - clear
        profile = [(-0.5, clear + wider * (1 + 0.5 / f["relief"])), (f["relief"], clear)]
    if f["cone"]:
        profile += [(plate - f["sink"], clear), (plate, head), (plate + 1.0, head + 1.0)]
    else:
        profile += [(plate - f["sink"], clear), (plate - f["sink"], head), (plate + 1.0, head)]
    half = np.array([hole["slot"] / 2, 0.0] if hole["along_x"] else [0.0, hole["slot"] / 2])
    if not hole["slot"]:
        return revolve(profile).translate((*hole["at"], 0.0))
    count = sides_outside(max(r for _, r in profile))
    grow = 1 / math.cos(math.pi / count) if coarse else 1.0
    middles = [np.array(hole["at"]) + half * k for k in (-1, 1)]
    at = lambda z, r: [ring([*m, z], [0, 0, 1], r * grow, count=count) for m in middles]
    steps = [(a, b) for a, b in zip(profile, profile[1:]) if b[0] > a[0]]
    return Manifold.batch_boolean([hull(*at(*a), *at(*b)) for a, b in steps], OpType.Add)


def bracket(d):
    """The whole part."""
    r = d["corner_radius"]
    plate = CrossSection.square((d["length"] - 2 * r, d["width"] - 2 * r), True)
    plate = plate.offset(r, JoinType.Round, 2, SIDES).extrude(d["plate"])
    adds = [plate] + [boss(s, d["plate"]) for s in d["sockets"]]
    adds += [web(d, w) for w in d["webs"]] + [gusset(d, g) for g in d["gussets"]]
    cuts = [bore(s, d["plate"]) for s in d["sockets"]]
    cuts += [screw_hole(d, h) for h in d["screws"] + d["spare"]]
    cuts += [cross_bolt(s, d["plate"]) for s in d["sockets"] if s["bolt"]]
    solid = Manifold.batch_boolean(adds, OpType.Add) - Manifold.batch_boolean(cuts, OpType.Add)
    ridges = [ribs(s, d["plate"]) for s in d["sockets"] if s["ribs"]]
    return Manifold.batch_boolean([solid, *ridges], OpType.Add) if ridges else solid


def judge(kit, findings):
    global coarse
    part = next(p for p in kit.record["parts"] if p["sort"] == "bracket")
    written = trimesh.Trimesh(*stl_mesh(kit.folder / part["file"])[0], process=False).volume
    for coarse, allowed in ((False, TOLERANCE), (True, TOLERANCE_CHORD)):
        own = bracket(part["design"]).volume()
        off = written / own - 1
        how = "with its chord error" if coarse else "as meant"
        print(f"{kit.name}: {part['name']}, {how}: written {written:.1f} mm3, rebuilt {own:.1f} mm3, {100 * off:+.3f} %")
        findings.expect(abs(off) <= allowed, f"{kit.name}: {part['name']}, {how}: {100 * off:+.3f} %")


if __name__ == "__main__":
    found = Findings()
    for each in kits():
        judge(each, found)
    found.finish()
