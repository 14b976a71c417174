"""Times our bracket and our frame beside other programs doing the same, on this machine, and prints a Markdown table.

    peers.py KIT PARAMETERS [REPEATS]

KIT is a written kit, PARAMETERS the file it was made from. Needs tests/outside/requirements.txt and requirements.txt beside
this file. Turns are taken: one of ours, one of each peer, and again, so that a busy moment meets all of them. What each
does is said in the table; none of this passes or fails anything.
"""
import json
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "outside"))
import frame
import rebuild
from kit import Kit


def ours(parameters):
    """One turn of our own: seconds for bracket and frame."""
    command = ["cargo", "bench", "--quiet", "--bench", "peers", "--", parameters, "1"]
    return json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)


def manifold_bracket(design):
    """manifold3d: build, booleans, triangles out, binary STL."""
    rebuild.coarse = True
    mesh = rebuild.bracket(design).to_mesh()
    points, faces = mesh.vert_properties[:, :3], mesh.tri_verts
    rows = np.zeros(len(faces), dtype=[("n", "<3f4"), ("p", "<9f4"), ("a", "<u2")])
    rows["p"] = points[faces].reshape(-1, 9)
    Path(tempfile.gettempdir(), "peer_manifold.stl").write_bytes(bytes(80) + len(faces).to_bytes(4, "little") + rows.tobytes())


def ocp_bracket(d):
    """Open CASCADE: the same features as exact solids, booleans, mesh of 0.05 mm, binary STL. Without ribs and slots."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut, BRepAlgoAPI_Fuse
    from OCP.BRepMesh import BRepMesh_IncrementalMesh
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakeCone, BRepPrimAPI_MakeCylinder
    from OCP.collections import List_TopoDS_Shape
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
    from OCP.StlAPI import StlAPI_Writer

    plate = d["plate"]

    def at(base, axis, along=0.0, z=plate):
        place = np.array([*base, z]) + rebuild.unit(axis) * along
        return gp_Ax2(gp_Pnt(*map(float, place)), gp_Dir(*map(float, axis)))

    def cylinder(base, axis, low, high, radius, z=plate):
        return BRepPrimAPI_MakeCylinder(at(base, axis, low, z), radius, high - low).Shape()

    def together(operation, first, others):
        arguments, tools = List_TopoDS_Shape(), List_TopoDS_Shape()
        arguments.Append(first)
        for o in others:
            tools.Append(o)
        job = operation()
        job.SetArguments(arguments)
        job.SetTools(tools)
        job.Build()
        return job.Shape()

    up = (0.0, 0.0, 1.0)
    body = BRepPrimAPI_MakeBox(gp_Pnt(-d["length"] / 2, -d["width"] / 2, 0.0), d["length"], d["width"], plate).Shape()
    adds, cuts = [], []
    for s in d["sockets"]:
        top, r = s["floor"] + s["depth"], s["outer"] / 2
        adds.append(cylinder(s["base"], s["axis"], -2.0, top, r))
        adds.append(BRepPrimAPI_MakeCone(at(s["base"], s["axis"]), r + s["skirt"] + 1e-3, r, s["skirt"] + 2.0).Shape())
        cuts.append(cylinder(s["base"], s["axis"], s["floor"], top + 1.0, s["bore"] / 2))
        c = s["chamfer"]
        cuts.append(BRepPrimAPI_MakeCone(at(s["base"], s["axis"], top - c), s["bore"] / 2, s["bore"] / 2 + 2 * c, 2 * c).Shape())
        if s["bolt"]:
            b = s["bolt"]
            middle = np.array([*s["base"], plate]) + rebuild.unit(s["axis"]) * b["at"]
            cuts.append(cylinder(middle[:2], b["direction"], -r - 1, r + 1, b["hole"] / 2, middle[2]))
            cuts.append(cylinder(middle[:2], b["direction"], b["nut_seat"], r + 3, b["nut_flats"] / 2, middle[2]))
            cuts.append(cylinder(middle[:2], b["direction"], -r - 3, -b["head_seat"], b["head_face"] / 2, middle[2]))
    for w in d["webs"]:
        a, b = (np.array(d["sockets"][w[k]]["base"]) for k in ("from", "to"))
        x = [*rebuild.unit(b - a), 0.0]
        side = np.array([-x[1], x[0]]) * w["thickness"] / 2
        corner = gp_Ax2(gp_Pnt(*map(float, [*(a - side), plate - 1.0])), gp_Dir(*up), gp_Dir(*map(float, x)))
        adds.append(BRepPrimAPI_MakeBox(corner, float(np.linalg.norm(b - a)), w["thickness"], w["height"] + 1.0).Shape())
    f = d["hole"]
    for h in d["screws"]:
        cuts.append(cylinder(h["at"], up, -1.0, plate + 1.0, f["clear"] / 2, 0.0))
        cuts.append(cylinder(h["at"], up, plate - f["sink"], plate + 1.0, f["head"] / 2, 0.0))
    body = together(BRepAlgoAPI_Cut, together(BRepAlgoAPI_Fuse, body, adds), cuts)
    BRepMesh_IncrementalMesh(body, 0.05, False, 0.2, False)
    writer = StlAPI_Writer()
    writer.ASCIIMode = False
    writer.Write(body, str(Path(tempfile.gettempdir(), "peer_ocp.stl")))


def opensees_frame(kit):
    """OpenSees: for both estimates two sway cases, three frequencies, the critical factor."""
    cases = {c["name"]: c["actions"] for c in kit.record["frame"]["cases"]}
    for solved, joints in zip(("frame", "frame_stiff"), kit.record["frame"]["estimates"]):
        table = frame.Table(kit, joints)
        for name in (n for n in cases if n.startswith("sway")):
            table.first_order(cases[name])
        table.frequencies()
        frame.critical(kit, joints, cases["everything that stays"], kit.report[solved]["critical_load_factor"])


def pynite_frame(kit):
    """PyNite: the same nodes and tubes with rigid joints, the top as rectangles, two sway cases; nothing else."""
    from Pynite import FEModel3D

    facts, model = kit.record["frame"], FEModel3D()
    top, tube = facts["top"], facts["tube"]
    model.add_material("wood", top["along_mpa"], top["shear_mpa"], 0.3, 0.0)
    model.add_material("tube", tube["young_mpa"], tube["shear_mpa"], 0.3, 0.0)
    outer, inner = tube["outside_mm"], tube["outside_mm"] - 2 * tube["wall_mm"]
    inertia = np.pi / 64 * (outer**4 - inner**4)
    model.add_section("tube", np.pi / 4 * (outer**2 - inner**2), inertia, inertia, 2 * inertia)
    model.add_section("arm", *frame.ARM, frame.ARM[1], 2 * frame.ARM[1])
    shell = frame.Table(kit, facts["estimates"][0])
    z = top["underside_mm"]
    for i, x in enumerate(shell.xs):
        for j, y in enumerate(shell.ys):
            model.add_node(f"P{i}_{j}", float(x), float(y), z)
    for i in range(len(shell.xs) - 1):
        for j in range(len(shell.ys) - 1):
            corners = [f"P{i}_{j}", f"P{i + 1}_{j}", f"P{i + 1}_{j + 1}", f"P{i}_{j + 1}"]
            model.add_quad(f"Q{i}_{j}", *corners, top["thickness_mm"], "wood", kx_mod=1.0, ky_mod=top["across_mpa"] / top["along_mpa"])
    heads = []
    for leg in facts["legs"]:
        at = shell.at_underside(leg)
        head = f"P{int(np.argmin(abs(shell.xs - at[0])))}_{int(np.argmin(abs(shell.ys - at[1])))}"
        heads.append(head)
        tubes = next(t for t in kit.record["tubes"] if t["name"] == "leg tube" and t["legs"] == [leg["number"]])
        foot = f"F{leg['number']}"
        below = np.array(leg["head"]) + np.array(leg["down"]) * (leg["head"][2] / -leg["down"][2])
        model.add_node(foot, *map(float, below))
        model.def_support(foot, True, True, True, False, False, True)
        for t, (upper, lower) in enumerate(np.array(tubes["ends"])):
            names = [f"T{leg['number']}_{t}_{k}" for k in range(13)]
            for k, name in enumerate(names):
                model.add_node(name, *map(float, upper + (lower - upper) * k / 12))
            for k, (a, b) in enumerate(zip(names, names[1:])):
                model.add_member(f"M{name}_{k}", a, b, "tube", "tube")
            model.add_member(f"A{names[0]}", head, names[0], "tube", "arm")
            model.add_member(f"B{names[0]}", names[-1], foot, "tube", "arm")
    for axis in "XY":
        for head in heads:
            model.add_node_load(head, f"F{axis}", 50.0 / len(heads), f"push {axis}")
        model.add_load_combo(f"push {axis}", {f"push {axis}": 1.0})
    model.analyze_linear(check_stability=False)


def timed(work, *arguments):
    began = time.perf_counter()
    work(*arguments)
    return time.perf_counter() - began


if __name__ == "__main__":
    kit, parameters = Kit(sys.argv[1]), sys.argv[2]
    repeats = int(sys.argv[3]) if len(sys.argv) > 3 else 9
    design = next(p for p in kit.record["parts"] if p["sort"] == "bracket")["design"]
    peers = {
        "bracket": {"manifold3d": (manifold_bracket, design), "Open CASCADE": (ocp_bracket, design)},
        "frame": {"OpenSees": (opensees_frame, kit), "PyNite": (pynite_frame, kit)},
    }
    took = {}
    for turn in range(repeats):
        for kind, seconds in ours(parameters).items():
            took.setdefault((kind, "underframe"), []).extend(seconds)
        for kind, programs in peers.items():
            for name, (work, subject) in programs.items():
                took.setdefault((kind, name), []).append(timed(work, subject))
    middle = {key: statistics.median(values) for key, values in took.items()}
    print(f"| what | program | median of {repeats}, s | times ours |\n|---|---|---|---|")
    for (kind, name), seconds in sorted(middle.items(), key=lambda item: (item[0][0], item[1])):
        print(f"| {kind} | {name} | {seconds:.3f} | {seconds / middle[kind, 'underframe']:.1f} |")
