"""Rebuilds the frame of a kit in OpenSees and compares movements, reactions, buckling and vibration.

    frame.py KIT...

Built from record.json alone: tubes and places as recorded, sockets from the parts' dimensions, stiffnesses and moduli
under "frame"; volumes of printed parts from report.json. Elements, assembly and solver are not the program's: orthotropic
triangular shells (ShellDKGT) in the top's middle plane, Euler beams, stiff beams for arms, zero-length springs.

Compared, for every estimate of the joints:
  sway      mean movement of the leg heads under the two sway cases, first order          3 %
  sag       of the top under everything that stays, below the plane through the heads     3 %
  reactions under loads without a push, second order: each, of the largest in that case   2 %
  critical  factor on what stays, linear: strings along the tubes with their axial forces   3 %
  frequency the three lowest                                                              2 %
Cases with a push or a dragged foot, apart from the sway cases, are not rebuilt.
"""
import math
import sys

import numpy as np
import openseespy.opensees as ops

from kit import Findings, kits

TOLERANCE = {"sway": 0.03, "sag": 0.03, "reaction": 0.02, "critical": 0.03, "frequency": 0.02}
GRAVITY = 9806.65
# A component that is rigid, N/mm and N mm/rad: far above any tube, far below where digits are lost.
RIGID = (1e8, 1e11)
# Arms of printed parts: area mm2 and second moment mm4, of steel; thousandfold the tubes.
ARM = (1e4, 1e7)
STEEL = (2.1e5, 8.1e4)
# Bars that hold a node's turn about z: bending in the top's plane, mm4, of steel, and next to nothing otherwise.
IN_PLANE = (1e-6, 1e4)
# Cells of the top along its longer side. The turn of a node that carries a moment depends on the mesh, so this is the
# program's own.
CELLS = 20
# Elements of a tube between two holds, and of one that nothing holds between its ends.
BETWEEN, ALONE = 4, 8
# Steps towards the critical factor, each by this share of what the straight line says is left: so near to it, in the end,
# that the shape which buckles first is also the slowest.
SECANTS, NEARER = 3, 0.7
# Second-order solutions: steps of the load, and change of displacement (mm, rad) at which one has settled.
STEPS, SETTLED = 4, 1e-7
# Points along each side over which a spread load is laid.
SPREAD = 30
# Factors above this are reported as none.
NEVER = 1000.0
# Counts as no difference: mm, N.
NOTHING_MM, NOTHING_N = 1e-3, 0.05


def vector(v):
    return np.asarray(v, float)


class Table:
    """One kit with one estimate of the joints, as an OpenSees model."""

    def __init__(self, kit, joints, cells=CELLS):
        self.kit, self.facts, self.joints = kit, kit.record["frame"], joints
        self.cells = cells
        self.tag, self.element, self.material = 0, 0, 0
        self.places, self.mass, self.beams = {}, {}, []
        ops.wipe()
        ops.model("basic", "-ndm", 3, "-ndf", 6)
        self.transforms()
        self.top()
        self.feet, self.tie_nodes, self.heads = [], [], []
        for i in range(len(self.facts["legs"])):
            self.leg(i)
        for rail, sockets in zip(self.facts["rails"], self.joints["rail"]):
            self.rail(rail, sockets)
        for node, mass in self.mass.items():
            ops.mass(node, mass, mass, mass, 1e-9, 1e-9, 1e-9)

    def transforms(self):
        """One for lines that are not along x, one for those that are."""
        ops.geomTransf("PDelta", 1, 1.0, 0.0, 0.0)
        ops.geomTransf("PDelta", 2, 0.0, 1.0, 0.0)

    def node(self, place):
        self.tag += 1
        ops.node(self.tag, *map(float, place))
        self.places[self.tag] = vector(place)
        return self.tag

    def add_mass(self, node, mass):
        self.mass[node] = self.mass.get(node, 0.0) + mass

    def beam(self, a, b, section, moduli):
        area, inertia, torsion = section
        along = self.places[b] - self.places[a]
        self.element += 1
        transform = 1 if abs(along[0]) < 0.9 * np.linalg.norm(along) else 2
        ops.element("elasticBeamColumn", self.element, a, b, area, *moduli, torsion, inertia, inertia, transform)
        self.beams.append((self.element, a, b))

    def arm(self, body, place):
        """A node that moves rigidly with a body. Arms run level, then upright, so that the axial forces along them hold the
        whole second-order effect of a weight."""
        start, place = self.places[body], vector(place)
        corner = vector([place[0], place[1], start[2]])
        for end in (corner, place):
            if np.linalg.norm(end - self.places[body]) > 1e-6:
                node = self.node(end)
                self.beam(body, node, (ARM[0], ARM[1], 2 * ARM[1]), STEEL)
                body = node
        if np.allclose(start, place, atol=1e-6):
            node = self.node(place)
            ops.equalDOF(body, node, 1, 2, 3, 4, 5, 6)
            body = node
        return body

    def spring(self, a, b, x, y, stiffness):
        """Six springs between two nodes at one place; None is rigid."""
        tags = []
        for i, k in enumerate(stiffness):
            self.material += 1
            ops.uniaxialMaterial("Elastic", self.material, RIGID[i // 3] if k is None else float(k))
            tags.append(self.material)
        self.element += 1
        ops.element("zeroLength", self.element, a, b, "-mat", *tags, "-dir", *range(1, 7), "-orient", *x, *y)

    def lines(self, size, through):
        """Mesh lines through both ends, the middle and the legs, cells no longer than asked."""
        t = self.facts["top"]
        long, short = max(t["length_mm"], t["width_mm"]), min(t["length_mm"], t["width_mm"])
        cell = max(long / self.cells, 1.5 * short / self.cells)
        fixed = sorted({round(v, 6) for v in [-size / 2, 0.0, size / 2, *through]})
        out = [fixed[0]]
        for a, b in zip(fixed, fixed[1:]):
            parts = max(1, math.ceil((b - a) / cell - 1e-9))
            out += [a + (b - a) * k / parts for k in range(1, parts + 1)]
        return np.array(out)

    def at_underside(self, leg):
        head, down = vector(leg["head"]), vector(leg["down"])
        return head + down * ((self.facts["top"]["underside_mm"] - head[2]) / down[2])

    def top(self):
        """The wood: nodes in its middle plane."""
        t = self.facts["top"]
        heads = [self.at_underside(leg) for leg in self.facts["legs"]]
        self.xs = self.lines(t["length_mm"], [h[0] for h in heads])
        self.ys = self.lines(t["width_mm"], [h[1] for h in heads])
        z = t["underside_mm"] + t["thickness_mm"] / 2
        self.grid = [[self.node((x, y, z)) for y in self.ys] for x in self.xs]
        self.wood(t)
        for i in range(len(self.xs) - 1):
            for j in range(len(self.ys) - 1):
                self.cell(i, j)
        self.own = {}
        per_area = t["mass_t"] / (t["length_mm"] * t["width_mm"])
        carried = t["carried_t"] / (t["length_mm"] * t["width_mm"])
        shares = [np.gradient(np.concatenate([[2 * v[0] - v[1]], v, [2 * v[-1] - v[-2]]]))[1:-1] for v in (self.xs, self.ys)]
        for s in shares:
            s[0], s[-1] = s[0] / 2, s[-1] / 2
        for i, dx in enumerate(shares[0]):
            for j, dy in enumerate(shares[1]):
                self.own[self.grid[i][j]] = per_area * dx * dy
                self.add_mass(self.grid[i][j], (per_area + carried) * dx * dy)

    def cell(self, i, j):
        """Two triangles, diagonals alternating outward from the middle; the first side runs along x, as the grain is told by it."""
        a, b, c, d = self.grid[i][j], self.grid[i + 1][j], self.grid[i + 1][j + 1], self.grid[i][j + 1]
        rising = [outward(k, v) % 2 == 0 for k, v in ((i, self.xs), (j, self.ys))]
        first, second = ((a, b, c), (c, d, a)) if rising[0] == rising[1] else ((a, b, d), (c, d, b))
        for corners in (first, second):
            self.element += 1
            ops.element("ShellDKGT", self.element, *corners, 1)

    def hold_turning(self, i, j):
        """Ties a node's turn about z to the movement of its neighbours: the shells' own hold on it is only a penalty."""
        for k, m in ((i - 1, j), (i + 1, j), (i, j - 1), (i, j + 1)):
            if 0 <= k < len(self.xs) and 0 <= m < len(self.ys):
                self.element += 1
                transform = 2 if m == j else 1
                ops.element("elasticBeamColumn", self.element, self.grid[i][j], self.grid[k][m], IN_PLANE[0], *STEEL,
                            IN_PLANE[0], IN_PLANE[1], IN_PLANE[0], transform)

    def wood(self, t):
        along, across, nu = t["along_mpa"], t["across_mpa"], t["poisson"]
        ex, ey, nu_xy = (along, across, nu) if t["grain_along_length"] else (across, along, nu * across / along)
        ops.nDMaterial("ElasticOrthotropic", 1, ex, ey, across, nu_xy, 0.0, 0.0, *[t["shear_mpa"]] * 3)
        ops.nDMaterial("PlateFiber", 2, 1)
        ops.section("PlateFiber", 1, 2, t["thickness_mm"])
        self.material = 2

    def part(self, sort, number):
        """The part of a sort that stands at a leg; for ties, all, from the floor up."""
        own = [(p, q) for p in self.kit.record["parts"] if p["sort"] == sort for q in p["places"] if q["leg"] == number]
        own.sort(key=lambda pq: pq[1]["pose"][2][3])
        return [p for p, _ in own]

    def printed_mass(self, part):
        """As if solid, as the program has it: its weight is small, so the heavier guess is taken."""
        volume = next(p["volume_mm3"] for p in self.kit.report["parts"] if p["mark"] == part["mark"])
        return volume * self.facts["plastic_t_per_mm3"]

    def lump(self, node, part):
        mass = self.printed_mass(part)
        self.add_mass(node, mass)
        self.own[node] = self.own.get(node, 0.0) + mass

    def leg(self, i):
        leg, number = self.facts["legs"][i], self.facts["legs"][i]["number"]
        bracket, = self.part("bracket", number)
        foot_part, = self.part("foot", number)
        ties = self.part("tie", number)
        at = self.at_underside(leg)
        column, row = int(np.argmin(abs(self.xs - at[0]))), int(np.argmin(abs(self.ys - at[1])))
        grid = self.grid[column][row]
        self.hold_turning(column, row)
        self.heads.append((grid, vector(leg["head"])))
        self.lump(grid, bracket)
        above = self.arm(grid, leg["pivot"])
        below = self.node(leg["pivot"])
        x = vector(leg["along"])
        y = np.cross([0.0, 0.0, -1.0], x)
        self.spring(above, below, x, y, [self.joints["lateral"][i]] * 2 + [self.joints["axial"][i], *self.joints["rotational"][i]])
        head, down = vector(leg["head"]), vector(leg["down"])
        on_axis = lambda z: head + down * ((z - head[2]) / down[2])
        foot = self.node(on_axis(0.0))
        held = 0 if self.joints["feet_turn"] else 1
        ops.fix(foot, 1, 1, 1, held, held, 1)
        self.feet.append(foot)
        self.lump(foot, foot_part)
        bodies = [self.node(on_axis(z)) for z in leg["tie_heights_mm"]]
        for body, part in zip(bodies, ties):
            self.lump(body, part)
        self.tie_nodes.append(bodies)
        tube = next(t for t in self.kit.record["tubes"] if t["name"] == "leg tube" and t["legs"] == [number])
        depths = (bracket["design"]["sockets"][0]["depth"], foot_part["design"]["sockets"][0]["depth"])
        for ends in tube["ends"]:
            self.leg_tube(i, vector(ends), down, depths, below, bodies, foot)

    def leg_tube(self, i, ends, down, depths, bracket, ties, foot):
        """From the bracket's mouth through the ties' middles to the foot's mouth."""
        mouth = ends[0] + down * (depths[0] - self.facts["end_play_mm"])
        side = np.cross(down, [1.0, 0.0, 0.0])
        last = self.arm(bracket, mouth)
        if self.joints["bore"][i] is not None:
            end = self.node(mouth)
            self.spring(last, end, down, side, [self.joints["bore"][i]] + [None] * 5)
            last = end
        holds = []
        for body, collar in zip(reversed(ties), reversed(self.joints["collar"][i])):
            middle = self.places[body]
            place = ends[0] + down * ((middle - ends[0]) @ down)
            holds.append((body, place, [collar[0], None, None, collar[1], collar[1], collar[1]]))
        holds.append((foot, ends[1] - down * depths[1], [None, None, None] + [self.joints["foot"][i]] * 3))
        for body, place, stiffness in holds:
            end = self.node(place)
            self.spring(self.arm(body, place), end, down, side, stiffness)
            self.tube(last, end, self.facts["tube"], BETWEEN if len(holds) > 1 else ALONE)
            last = end

    def rail(self, rail, sockets):
        ends = vector(rail["ends"])
        along = (ends[1] - ends[0]) / np.linalg.norm(ends[1] - ends[0])
        depth = self.facts["rail_depth_mm"]
        mouths = [ends[0] + along * depth, ends[1] - along * depth]
        side = np.cross([0.0, 0.0, 1.0], along)
        nodes = []
        for mouth, leg, tie, turning in zip(mouths, rail["legs"], rail["ties"], sockets):
            node = self.node(mouth)
            self.spring(self.arm(self.tie_nodes[leg][tie], mouth), node, along, side, [None] * 3 + [turning] * 3)
            nodes.append(node)
        self.tube(*nodes, rail["tube"], ALONE)

    def tube(self, a, b, tube, parts):
        outer, wall = tube["outside_mm"], tube["wall_mm"]
        inner = outer - 2 * wall
        area, inertia = math.pi / 4 * (outer**2 - inner**2), math.pi / 64 * (outer**4 - inner**4)
        start, span = self.places[a], self.places[b] - self.places[a]
        nodes = [a] + [self.node(start + span * k / parts) for k in range(1, parts)] + [b]
        lump = area * np.linalg.norm(span) / parts * tube["density_t_per_mm3"] / 2
        for p, q in zip(nodes, nodes[1:]):
            self.beam(p, q, (area, inertia, 2 * inertia), (tube["young_mpa"], tube["shear_mpa"]))
            for n in (p, q):
                self.add_mass(n, lump)
                self.own[n] = self.own.get(n, 0.0) + lump

    def nodal(self, actions):
        """Forces and moments at nodes from the actions of a case."""
        loads = {}
        for action in actions:
            if action.get("own_weight"):
                for node, mass in self.own.items():
                    self.add_load(loads, node, vector([0, 0, -mass * GRAVITY]))
            elif "at" in action:
                self.on_top(loads, vector(action["at"]), vector(action["force"]))
            else:
                self.spread(loads, action)
        return loads

    def add_load(self, loads, node, force, moment=(0.0, 0.0, 0.0)):
        loads[node] = loads.get(node, np.zeros(6)) + np.concatenate([force, moment])

    def spread(self, loads, action):
        low, high, force = vector(action["from"]), vector(action["to"]), vector(action["force"])
        z = self.facts["top"]["underside_mm"]
        counts = [SPREAD if high[k] != low[k] else 1 for k in (0, 1)]
        steps = [low[k] + (high[k] - low[k]) * (np.arange(counts[k]) + 0.5) / counts[k] for k in (0, 1)]
        for x in steps[0]:
            for y in steps[1]:
                self.on_top(loads, vector([x, y, z]), force / (counts[0] * counts[1]))

    def on_top(self, loads, place, force):
        """A force at a place, shared by the corners of its cell, with the moment of its height."""
        i = min(max(int(np.searchsorted(self.xs, place[0], "right")) - 1, 0), len(self.xs) - 2)
        j = min(max(int(np.searchsorted(self.ys, place[1], "right")) - 1, 0), len(self.ys) - 2)
        s = (place[0] - self.xs[i]) / (self.xs[i + 1] - self.xs[i])
        t = (place[1] - self.ys[j]) / (self.ys[j + 1] - self.ys[j])
        arm = vector([0.0, 0.0, place[2] - self.places[self.grid[0][0]][2]])
        for di, dj, share in ((0, 0, (1 - s) * (1 - t)), (1, 0, s * (1 - t)), (1, 1, s * t), (0, 1, (1 - s) * t)):
            self.add_load(loads, self.grid[i + di][j + dj], force * share, np.cross(arm, force * share))

    def solve(self, actions, share=1.0, newton=False):
        """Static analysis from rest; linear unless asked otherwise."""
        ops.reset()
        ops.wipeAnalysis()
        ops.remove("loadPattern", 1)
        ops.remove("timeSeries", 1)
        ops.timeSeries("Linear", 1)
        ops.pattern("Plain", 1, 1)
        for node, load in self.nodal(actions).items():
            ops.load(node, *(float(v) * share for v in load))
        ops.constraints("Transformation")
        ops.numberer("RCM")
        ops.system("UmfPack")
        ops.test("NormDispIncr", SETTLED, 60)
        ops.algorithm("KrylovNewton" if newton else "Linear")
        steps = STEPS if newton else 1
        ops.integrator("LoadControl", 1.0 / steps)
        ops.analysis("Static")
        if ops.analyze(steps) != 0:
            sys.exit(f"{self.kit.name}: OpenSees did not converge under {share:.3g} of the loads")
        ops.reactions()

    def first_order(self, actions):
        """A linear answer from a second-order model: a thousandth of the load, a thousandfold."""
        self.solve(actions, share=1e-3)

    def head_movement(self, scale=1.0):
        """Movement of each leg head, mm."""
        moved = []
        for node, head in self.heads:
            u = vector(ops.nodeDisp(node)) * scale
            moved.append(u[:3] + np.cross(u[3:], head - self.places[node]))
        return vector(moved)

    def sag(self):
        heads = self.head_movement()
        plane = np.linalg.lstsq(np.array([[1.0, h[0], h[1]] for _, h in self.heads]), heads[:, 2], rcond=None)[0]
        places = [n for row in self.grid for n in row]
        return max(plane @ [1.0, *self.places[n][:2]] - ops.nodeDisp(n, 3) for n in places)

    def reactions(self):
        return vector([ops.nodeReaction(n)[:3] for n in self.feet])

    def tensions(self, actions):
        """Axial force of every beam and arm, first order, N."""
        self.first_order(actions)
        return [ops.basicForce(element)[0] * 1e3 for element, _, _ in self.beams]

    def tighten(self, tensions):
        """Strings along all beams, without stiffness of their own, that pull with these forces: linear P-Delta terms."""
        self.material += 1
        slack = self.material
        ops.uniaxialMaterial("Elastic", slack, 1e-6)
        for (_, a, b), tension in zip(self.beams, tensions):
            self.material, self.element = self.material + 1, self.element + 1
            ops.uniaxialMaterial("InitStressMaterial", self.material, slack, tension)
            ops.element("corotTruss", self.element, a, b, 1.0, self.material)

    def eigenvalues(self, count):
        ops.wipeAnalysis()
        ops.constraints("Transformation")
        ops.numberer("RCM")
        ops.system("UmfPack")
        return ops.eigen(count)

    def frequencies(self, count=3):
        ops.reset()
        return [math.sqrt(v) / 2 / math.pi for v in self.eigenvalues(count)]


def critical(kit, joints, actions, guess):
    """Linear critical factor: where the lowest squared frequency of the tightened frame vanishes, by secants."""
    tensions = np.array(Table(kit, joints).tensions(actions))

    def softness(share):
        table = Table(kit, joints)
        table.tighten(tensions * share)
        return table.eigenvalues(1)[0]

    points = [(share, softness(share)) for share in (0.4 * guess, 0.7 * guess)]
    for _ in range(SECANTS):
        nearer = points[-1][0] + NEARER * (root(points) - points[-1][0])
        points.append((nearer, softness(nearer)))
    return root(points)


def root(points):
    """Where the line through the last two points meets zero."""
    (a, fa), (b, fb) = points[-2:]
    return b - fb * (b - a) / (fb - fa)


def outward(cell, lines):
    """Number of a cell counted from the middle line, so that both sides mirror each other."""
    middle = int(np.argmin(abs(lines)))
    return cell - middle if cell >= middle else middle - cell


def relative(got, want, nothing):
    return 0.0 if abs(got - want) < nothing else abs(got - want) / max(abs(want), 1e-12)


def judge(kit, solved, joints, findings):
    """One estimate of one kit against the report's solution."""
    cases = {c["name"]: c["actions"] for c in kit.record["frame"]["cases"]}
    standing = cases.get("everything that stays", cases["own weight"])
    worst = dict.fromkeys(TOLERANCE, 0.0)

    def compare(kind, what, difference, got, want):
        worst[kind] = max(worst[kind], difference)
        findings.expect(difference <= TOLERANCE[kind],
                        f"{kit.name}, {joints['name']}: {what}: {want} reported, {got:.5g} in OpenSees")

    table = Table(kit, joints)
    for name, actions in cases.items():
        row = solved["cases"][name]
        pushes = any("drag" in a or ("at" in a and abs(a["force"][2]) < 1e-9) for a in actions)
        if name.startswith("sway"):
            table.first_order(actions)
            got, axis = table.head_movement(1e3).mean(axis=0), 0 if name.endswith("along x") else 1
            want = row["sway_first_order_mm"][axis]
            compare("sway", name, relative(got[axis], want, NOTHING_MM), got[axis], want)
        elif not pushes:
            table.solve(actions, newton=True)
            got, want = table.reactions(), vector(row["reactions_n"])
            largest = abs(want).max()
            off = abs(got - want)
            i, k = np.unravel_index(off.argmax(), off.shape)
            compare("reaction", f"{name}: reaction of foot {i + 1}", off.max() / largest, got[i, k], want[i, k])
            if actions == standing:
                compare("sag", f"{name}: sag", relative(table.sag(), row["sag_mm"], NOTHING_MM), table.sag(), row["sag_mm"])
    for got, want in zip(table.frequencies(), solved["frequencies_hz"]):
        compare("frequency", "frequency", relative(got, want, 0.0), got, want)
    want = solved["critical_load_factor"]
    got = critical(kit, joints, standing, want or NEVER)
    compare("critical", "critical factor", relative(got, want, 0.0) if want else float(got < NEVER), got, want)
    print(f"{kit.name}, {joints['name']}: worst " + ", ".join(f"{k} {100 * v:.2f} %" for k, v in worst.items()), flush=True)


if __name__ == "__main__":
    found = Findings()
    for each in kits():
        solutions = [each.report["frame"], each.report.get("frame_stiff")]
        for solution, estimate in zip(solutions, each.record["frame"]["estimates"]):
            judge(each, solution, estimate, found)
    found.finish()
