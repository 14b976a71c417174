"""Opens the drilling papers with other programs: ezdxf, poppler, an XML reader.

    papers.py KIT...

The DXF must hold a circle of the pilot's diameter at every hole of record.json, seen from below; every page of the PDFs
must have the size of its paper and no text may have lost its font; the SVG must be as many millimetres as its view box.
"""
import re
import subprocess
from collections import Counter

import ezdxf
from lxml import etree

from kit import Findings, kits, millimetres

# Sizes of the papers in points. A4: ISO 216, 210 x 297 mm; Letter: 8.5 x 11 in.
PAPERS = {"drilling_a4.pdf": (595.276, 841.890), "drilling_letter.pdf": (612.0, 792.0)}
# Points; a hair's breadth.
SAME_SIZE = 0.5
# Places in the DXF, mm: six decimals are written.
SAME_PLACE = 1e-4


def dxf(kit, findings):
    """Circles of the pilot's size against the holes."""
    path = kit.folder / "drilling.dxf"
    drawing = ezdxf.readfile(path)
    audit = drawing.audit()
    findings.expect(not audit.errors, f"{kit.name}: DXF errors {[e.message for e in audit.errors][:3]}")
    findings.expect(drawing.dxfversion == "AC1009", f"{kit.name}: DXF is {drawing.dxfversion}, not release 12")
    length, width = (kit.record["frame"]["top"][k] for k in ("length_mm", "width_mm"))
    circles = [(c.dxf.center.x, c.dxf.center.y, c.dxf.radius) for c in drawing.modelspace().query("CIRCLE")]
    holes = kit.record["holes"]
    used = set()
    for h in holes:
        # Seen from below, from the corner at +x -y: x is mirrored.
        x, y = length / 2 - h["x_mm"], width / 2 + h["y_mm"]
        near = [i for i, (a, b, r) in enumerate(circles)
                if abs(a - x) < SAME_PLACE and abs(b - y) < SAME_PLACE and abs(2 * r - h["pilot_mm"]) < 2 * SAME_PLACE]
        used.update(near)
        findings.expect(len(near) == 1, f"{kit.name}: {len(near)} pilot circles at {x:.3f}, {y:.3f}")
    pilots = {round(h["pilot_mm"], 4) for h in holes}
    rest = [c for i, c in enumerate(circles) if i not in used and round(2 * c[2], 4) in pilots]
    spare = sum(1 for h in kit.report["holes"] if h.get("spare"))
    findings.expect(len(rest) <= spare, f"{kit.name}: {len(rest)} pilot circles where no hole is")
    print(f"{kit.name}: {len(holes)} holes, {len(circles)} circles in the DXF")


def pdf(kit, findings):
    """Page boxes, fonts and text by poppler's programs."""
    for name, size in PAPERS.items():
        path = str(kit.folder / name)
        said = subprocess.run(["pdfinfo", "-box", "-f", "1", "-l", "999", path], capture_output=True, text=True, check=True)
        findings.expect(not said.stderr.strip(), f"{kit.name}: {name}: {said.stderr.strip()[:200]}")
        sizes = re.findall(r"Page +\d+ size: +([\d.]+) x ([\d.]+) pts", said.stdout)
        boxes = re.findall(r"Page +\d+ MediaBox: +([\d.]+) +([\d.]+) +([\d.]+) +([\d.]+)", said.stdout)
        findings.expect(sizes and len(sizes) == len(boxes), f"{kit.name}: {name} has {len(sizes)} pages")
        for page, (w, h) in enumerate(sizes, 1):
            got, want = sorted([float(w), float(h)]), sorted(size)
            good = all(abs(a - b) < SAME_SIZE for a, b in zip(got, want))
            findings.expect(good, f"{kit.name}: {name} page {page} is {got}, not {want} points")
        text = subprocess.run(["pdftotext", path, "-"], capture_output=True, text=True, check=True)
        findings.expect(not text.stderr.strip(), f"{kit.name}: {name}: {text.stderr.strip()[:200]}")
        legs = {h["leg"] for h in kit.record["holes"]}
        missing = [n for n in legs if f"LEG {n}" not in text.stdout.upper()]
        findings.expect(not missing, f"{kit.name}: {name} does not name legs {missing}")


def svg(kit, findings):
    """One user unit is one millimetre, and every hole is a circle of the pilot's size."""
    root = etree.parse(str(kit.folder / "drilling.svg")).getroot()
    size = [millimetres(root.get(k)) for k in ("width", "height")]
    box = [float(v) for v in root.get("viewBox").split()]
    good = all(abs(a - b) < 1e-6 * a for a, b in zip(size, box[2:]))
    findings.expect(good and min(size) > 0, f"{kit.name}: SVG is {size} mm, its view box {box}")
    sizes = Counter(round(2 * float(c.get("r")), 2) for c in root.iter("{http://www.w3.org/2000/svg}circle"))
    wanted = Counter(round(h["pilot_mm"], 2) for h in kit.record["holes"])
    short = {d: n for d, n in wanted.items() if sizes[d] < n}
    findings.expect(not short, f"{kit.name}: SVG has too few circles of {short}: {sizes}")


def report(kit, findings):
    """The page needs nothing from elsewhere."""
    text = (kit.folder / "report.html").read_text()
    outside = re.findall(r"(?:src|href)=\"(?:https?:)?//[^\"]*", text)
    findings.expect(not outside, f"{kit.name}: the report asks for {outside[:3]}")


if __name__ == "__main__":
    found = Findings()
    for each in kits():
        for judge in (dxf, pdf, svg, report):
            judge(each, found)
    found.finish()
