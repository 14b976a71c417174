"""Judges every STL and 3MF of written kits with programs that no one here wrote.

    judge_meshes.py KIT...        the kits' meshes
    judge_meshes.py --self-test   bad meshes that must all be refused, a good one that must not

trimesh: watertight, winding, positive volume, one body. manifold3d: status, volume unchanged by union with itself.
pymeshlab: no self-crossing, no edge or vertex that is not two-manifold, no hole. lib3mf: strict reading without a
warning, manifold and oriented. The 3MF model part is also held against the schema beside this file; what stands on a
plate lies inside the bed, at least GAP apart, and over all beds as often as record.json says.
"""
import sys
import tempfile
import zipfile
from pathlib import Path

import lib3mf
import manifold3d
import numpy as np
import pymeshlab
import trimesh
from lxml import etree

import exact
from kit import Findings, kits

# Objects on a plate are apart by at least this, mm (the program's own promise).
GAP = 5.0
# Rounding of coordinates written as 32-bit floats, mm.
ROUNDING = 1e-3
# Volumes of one mesh computed by two programs, or of one part in two files, relative: 32-bit coordinates.
SAME_VOLUME = 1e-5
CORE = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"
SCHEMA = etree.XMLSchema(etree.parse(str(Path(__file__).parent / "3mf_core.xsd")))
PACKAGE = {"[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"}


def mesh_faults(points, faces):
    """What is wrong with an indexed mesh, in words; empty for a sound one."""
    faults = []
    mesh = trimesh.Trimesh(points, faces, process=False)
    if not mesh.is_watertight:
        faults.append("not watertight (trimesh)")
    if not mesh.is_winding_consistent:
        faults.append("winding not consistent (trimesh)")
    if not mesh.volume > 0:
        faults.append(f"volume {mesh.volume:.3f} (trimesh)")
    if mesh.body_count != 1:
        faults.append(f"{mesh.body_count} bodies (trimesh)")
    return faults + manifold_faults(points, faces, mesh.volume) + crossing_faults(points, faces)


def manifold_faults(points, faces, volume):
    """manifold3d: a valid solid that union with itself does not change. In double precision: the file says where a mesh is put
    beside its own corners, and corners moved there would be rounded once more."""
    given = manifold3d.Mesh64(np.asarray(points, np.float64), np.asarray(faces, np.uint64))
    solid = manifold3d.Manifold(given)
    if solid.status() != manifold3d.Error.NoError:
        return [f"status {solid.status()} (manifold3d)"]
    joined = (solid + solid).volume()
    if abs(joined - volume) > SAME_VOLUME * abs(volume):
        return [f"volume {volume:.4f} becomes {joined:.4f} by union with itself (manifold3d)"]
    return []


def crossing_faults(points, faces):
    """pymeshlab: crossings, edges and vertices that are not two-manifold, holes. It reckons crossings in floating point, so
    each face that it suspects is tried again in exact arithmetic."""
    meshes = pymeshlab.MeshSet()
    meshes.add_mesh(pymeshlab.Mesh(np.asarray(points, float), np.asarray(faces, np.int32)))
    meshes.apply_filter("compute_selection_by_self_intersections_per_face")
    suspects = meshes.current_mesh().face_selection_array().nonzero()[0]
    crossing = len(exact.confirmed(np.asarray(points, float), np.asarray(faces, int), suspects))
    found = meshes.get_topological_measures()
    counts = {
        "self-crossing faces": crossing,
        "edges not two-manifold": found["non_two_manifold_edges"],
        "vertices not two-manifold": found["non_two_manifold_vertices"],
        "boundary edges": found["boundary_edges"],
        "holes": max(found["number_holes"], 0),
    }
    return [f"{n} {what} (pymeshlab)" for what, n in counts.items() if n]


def stl_mesh(path):
    """Points and faces of a binary STL, equal points joined exactly; the file's form is judged too."""
    data = Path(path).read_bytes()
    count = int.from_bytes(data[80:84], "little")
    faults = []
    if data[:5] == b"solid":
        faults.append("header begins with 'solid'")
    if len(data) != 84 + 50 * count:
        return None, [f"{len(data)} bytes for {count} triangles"]
    rows = np.frombuffer(data[84:], dtype=[("n", "<f4", 3), ("p", "<f4", (3, 3)), ("a", "<u2")])
    points, faces = np.unique(rows["p"].reshape(-1, 3) + np.float32(0), axis=0, return_inverse=True)
    return (points.astype(float), faces.reshape(-1, 3)), faults


def judge_stl(path):
    """All faults of an STL file, and its mesh."""
    mesh, faults = stl_mesh(path)
    return mesh, faults + (mesh_faults(*mesh) if mesh else [])


def schema_faults(path):
    """The package's parts, and the model part against the schema."""
    with zipfile.ZipFile(path) as package:
        faults = [f"part {n} missing" for n in sorted(PACKAGE - set(package.namelist()))]
        if faults:
            return faults
        document = etree.fromstring(package.read("3D/3dmodel.model"))
    if not SCHEMA.validate(document):
        faults += [f"schema: line {e.line}: {e.message}" for e in list(SCHEMA.error_log)[:3]]
    sizes = {o.get("id"): len(o.findall(f"{CORE}mesh/{CORE}vertices/{CORE}vertex")) for o in document.iter(f"{CORE}object")}
    for thing in document.iter(f"{CORE}object"):
        for t in thing.iter(f"{CORE}triangle"):
            corners = [int(t.get(k)) for k in ("v1", "v2", "v3")]
            if len(set(corners)) < 3 or max(corners) >= sizes[thing.get("id")]:
                return faults + [f"triangle {corners} of object {thing.get('id')}"]
    return faults


def strict_objects(path):
    """lib3mf, strict: faults, and per build item (name, points placed, faces)."""
    wrapper = lib3mf.get_wrapper() if hasattr(lib3mf, "get_wrapper") else lib3mf.Wrapper()
    model = wrapper.CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    try:
        reader.ReadFromFile(str(path))
    except Exception as error:  # the library raises its own class per binding version
        return [f"lib3mf: {error}"], []
    faults = [f"lib3mf warns: {reader.GetWarning(i)}" for i in range(reader.GetWarningCount())]
    if int(model.GetUnit()) != int(lib3mf.ModelUnit.MilliMeter):
        faults.append(f"unit number {int(model.GetUnit())} of lib3mf, not millimetres")
    meshes = {}
    found = model.GetMeshObjects()
    while found.MoveNext():
        thing = found.GetCurrentMeshObject()
        if not thing.IsManifoldAndOriented():
            faults.append(f"{thing.GetName()}: not manifold and oriented (lib3mf)")
        points = np.array([list(v.Coordinates) for v in thing.GetVertices()])
        faces = np.array([list(t.Indices) for t in thing.GetTriangleIndices()])
        meshes[thing.GetResourceID()] = (thing.GetName(), points, faces)
    items, placed = model.GetBuildItems(), []
    while items.MoveNext():
        item = items.GetCurrent()
        name, points, faces = meshes[item.GetObjectResourceID()]
        fields = np.array([list(row) for row in item.GetObjectTransform().Fields])
        placed.append((name, points @ fields[:3] + fields[3], faces))
    return faults, placed


def judge_3mf(path):
    """All faults of a 3MF file, and what it places."""
    faults = schema_faults(path)
    more, placed = strict_objects(path)
    faults += more
    if not placed:
        return faults + ["nothing on the plate"], placed
    distinct = {name: (points, faces) for name, points, faces in placed}
    for name, (points, faces) in distinct.items():
        faults += [f"{name}: {f}" for f in mesh_faults(points, faces)]
    return faults, placed


def plate_faults(placed, bed):
    """Objects inside the bed, on it, and apart."""
    boxes = [(name, p.min(axis=0), p.max(axis=0)) for name, p, _ in placed]
    faults = []
    for name, low, high in boxes:
        if (low < -ROUNDING).any() or (high > np.array(bed) + ROUNDING).any():
            faults.append(f"{name} from {low} to {high} leaves the bed {bed}")
        if abs(low[2]) > ROUNDING:
            faults.append(f"{name} lies {low[2]:.4f} mm above the bed")
    for i, (a, low_a, high_a) in enumerate(boxes):
        for b, low_b, high_b in boxes[:i]:
            apart = np.maximum(low_a - high_b, low_b - high_a)[:2].max()
            if apart < GAP - ROUNDING:
                faults.append(f"{a} and {b} are {apart:.3f} mm apart")
    return faults


def judge_kit(kit, findings):
    """All meshes of a kit."""
    volumes, count = {}, {}
    for part in kit.record["parts"]:
        mesh, faults = judge_stl(kit.folder / part["file"])
        findings.expect(not faults, f"{kit.name}/{part['file']}: {'; '.join(faults)}")
        name = f"{part['name']} {part['mark']}"
        volumes[name] = trimesh.Trimesh(*mesh, process=False).volume if mesh else 0.0
        count[name] = part["count"]
    written = {str(p.relative_to(kit.folder)) for p in kit.folder.rglob("*.stl")}
    named = {p["file"] for p in kit.record["parts"]}
    findings.expect(written == named, f"{kit.name}: meshes {sorted(written ^ named)} in the folder or the record only")
    stand = {}
    for path in sorted(kit.folder.glob("beds/*.3mf")):
        faults, placed = judge_3mf(path)
        faults += plate_faults(placed, kit.bed())
        for name, points, faces in placed:
            stand[name] = stand.get(name, 0) + 1
            volume = trimesh.Trimesh(points, faces, process=False).volume
            if abs(volume - volumes.get(name, 0.0)) > SAME_VOLUME * volume:
                faults.append(f"{name}: volume {volume:.3f}, in the STL {volumes.get(name, 0.0):.3f}")
        findings.expect(not faults, f"{kit.name}/beds/{path.name}: {'; '.join(faults)}")
    findings.expect(stand == count, f"{kit.name}: on the beds {stand}, on record {count}")
    print(f"{kit.name}: {len(volumes)} meshes, {sum(stand.values())} objects on beds")


# Pairs of triangles and whether they cross: through each other, apart, touching, in one plane over and beside each other,
# with a common edge folded over and open, with a common corner through and apart.
BASE = [(0, 0, 0), (4, 0, 0), (0, 4, 0)]
PAIRS = [
    ([(1, 1, -1), (1, 1, 1), (2, 2, 3)], True),
    ([(1, 1, 1), (2, 1, 1), (1, 2, 2)], False),
    ([(1, 1, 0), (1, 1, 1), (2, 2, 3)], True),
    ([(1, 1, 0), (2, 1, 0), (1, 2, 0)], True),
    ([(5, 5, 0), (6, 5, 0), (5, 6, 0)], False),
    ([(0, 0, 0), (4, 0, 0), (1, 1, 0)], True),
    ([(0, 0, 0), (4, 0, 0), (1, -1, 0)], False),
    ([(0, 0, 0), (4, 0, 0), (1, 1, 1)], False),
    ([(0, 0, 0), (2, 2, 1), (1, 1, -1)], True),
    ([(0, 0, 0), (-2, -2, 1), (-1, -2, -1)], False),
]


def self_test(findings):
    """Every bad mesh must be refused, the good ones must not; and the exact test of crossing knows its pairs."""
    first = [exact.exactly(p) for p in BASE]
    for other, crosses in PAIRS:
        second = [exact.exactly(p) for p in other]
        both = exact.cross(first, second), exact.cross(second, first)
        findings.expect(both == (crosses, crosses), f"{other} crosses {BASE}: {both}, not {crosses}")
    from make_bad_meshes import make

    with tempfile.TemporaryDirectory() as folder:
        for path, good in make(Path(folder)):
            if path.suffix == ".stl":
                _, faults = judge_stl(path)
            else:
                faults, placed = judge_3mf(path)
                faults += plate_faults(placed, [220.0, 220.0, 250.0])
            says = "; ".join(faults) or "sound"
            print(f"  {path.name}: {says[:110]}")
            findings.expect(good == (not faults), f"{path.name} is {'good' if good else 'bad'}, judged: {says}")


if __name__ == "__main__":
    found = Findings()
    if "--self-test" in sys.argv:
        self_test(found)
    else:
        for each in kits():
            judge_kit(each, found)
    found.finish()
