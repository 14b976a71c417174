"""Reads STEP files with Open CASCADE: valid, closed, one solid, and of the volume of the mesh beside it.

    step_check.py KIT...

Run by hand, in an environment with cadquery-ocp, numpy and trimesh; the wheel is too large for every change.
"""

import trimesh
from OCP.BRep import BRep_Tool
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepGProp import BRepGProp
from OCP.GProp import GProp_GProps
from OCP.IFSelect import IFSelect_RetDone
from OCP.STEPControl import STEPControl_Reader
from OCP.TopAbs import TopAbs_SHELL, TopAbs_SOLID
from OCP.TopExp import TopExp_Explorer

from kit import Findings, kits

# An exact solid against a mesh with a chord error of 0.05 mm, relative; and a faceted one against its own mesh.
EXACT, FACETED = 0.006, 1e-5


def all_of(shape, kind):
    walk = TopExp_Explorer(shape, kind)
    while walk.More():
        yield walk.Current()
        walk.Next()


def judge(kit, part, findings):
    path = (kit.folder / part["file"]).with_suffix(".step")
    what = f"{kit.name}: {path.name} ({part['step']})"
    reader = STEPControl_Reader()
    if not findings.expect(reader.ReadFile(str(path)) == IFSelect_RetDone, f"{what}: cannot be read"):
        return
    reader.TransferRoots()
    shape = reader.OneShape()
    findings.expect(BRepCheck_Analyzer(shape).IsValid(), f"{what}: not valid")
    findings.expect(len(list(all_of(shape, TopAbs_SOLID))) == 1, f"{what}: not one solid")
    findings.expect(all(BRep_Tool.IsClosed_s(s) for s in all_of(shape, TopAbs_SHELL)), f"{what}: a shell is open")
    measured = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, measured)
    mesh = trimesh.load(kit.folder / part["file"]).volume
    off = measured.Mass() / mesh - 1
    findings.expect(abs(off) <= (EXACT if part["step"] == "exact" else FACETED), f"{what}: volume {100 * off:+.3f} %")
    print(f"{what}: volume {100 * off:+.4f} % of the mesh")


if __name__ == "__main__":
    found = Findings()
    for each in kits():
        for part in each.record["parts"]:
            judge(each, part, found)
    found.finish()
