"""Meshes that a judge must refuse, and two that it must not: for the judge's own test."""
import zipfile

import numpy as np
import trimesh

HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
TYPES = HEAD + ('<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
                '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
                '<Override PartName="/3D/3dmodel.model" '
                'ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>')
START = HEAD + ('<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
                '<Relationship Target="/3D/3dmodel.model" Id="rel0" '
                'Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>')
CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"


def block():
    """A cube of 10 mm with a finer surface, standing on z = 0."""
    cube = trimesh.creation.box((10, 10, 10)).subdivide()
    cube.apply_translation((20, 20, 5))
    return cube


def apart():
    """Two separate cubes in one mesh."""
    other = block()
    other.apply_translation((30, 0, 0))
    return trimesh.util.concatenate([block(), other])


def crossing():
    """Two cubes in one mesh that run into each other."""
    other = block()
    other.apply_translation((5, 3, 2))
    return trimesh.util.concatenate([block(), other])


def folded():
    """One closed surface that crosses itself: a corner pulled through the far side."""
    cube = block()
    corner = np.argmax(cube.vertices.sum(axis=1))
    cube.vertices[corner] = (10, 12, -4)
    return cube


def pinched():
    """Two cubes that share one edge: four faces meet there."""
    other = block()
    other.apply_translation((10, 10, 0))
    both = trimesh.util.concatenate([block(), other])
    both.merge_vertices()
    return both


def without_a_face():
    cube = block()
    cube.update_faces(np.arange(len(cube.faces)) != 5)
    return cube


def with_turned_faces():
    cube = block()
    faces = cube.faces.copy()
    faces[:6] = faces[:6, ::-1]
    return trimesh.Trimesh(cube.vertices, faces, process=False)


def inside_out():
    cube = block()
    cube.invert()
    return cube


def inner_void():
    """A cube with a closed hollow: two shells."""
    hollow = trimesh.creation.box((4, 4, 4))
    hollow.apply_translation((20, 20, 5))
    hollow.invert()
    return trimesh.util.concatenate([block(), hollow])


def package(path, model, types=TYPES):
    """A 3MF package round a model part."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as out:
        out.writestr("[Content_Types].xml", types)
        out.writestr("_rels/.rels", START)
        out.writestr("3D/3dmodel.model", model)


def model(mesh, more="", places=("1 0 0 0 1 0 0 0 1 0 0 0",), unit="millimeter", corner=None):
    """A model part with one object; `more` goes into the object's tag, `corner` replaces the first triangle's third."""
    vertices = "".join(f'<vertex x="{x}" y="{y}" z="{z}"/>' for x, y, z in mesh.vertices)
    faces = [list(map(int, f)) for f in mesh.faces]
    if corner is not None:
        faces[0][2] = corner
    triangles = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in faces)
    items = "".join(f'<item objectid="1" transform="{p}"/>' for p in places)
    return (f'{HEAD}<model unit="{unit}" xml:lang="en-US" xmlns="{CORE}"><resources>'
            f'<object id="1" type="model" name="block" {more}><mesh><vertices>{vertices}</vertices>'
            f"<triangles>{triangles}</triangles></mesh></object></resources><build>{items}</build></model>")


def make(folder):
    """Writes all of them; gives (path, whether it is good)."""
    bad = [crossing, folded, pinched, apart, inner_void, without_a_face, with_turned_faces, inside_out]
    made = []
    for shape in bad:
        path = folder / f"{shape.__name__}.stl"
        shape().export(path)
        made.append((path, False))
    good = folder / "block.stl"
    block().export(good)
    short = folder / "short_file.stl"
    short.write_bytes(good.read_bytes()[:-50])
    word = folder / "begins_with_solid.stl"
    word.write_bytes(b"solid" + good.read_bytes()[5:])
    made += [(good, True), (short, False), (word, False)]
    far = "1 0 0 0 1 0 0 0 1 15 0 0"
    same = "1 0 0 0 1 0 0 0 1 0 0 0"
    models = {
        "good": (model(block(), places=(same, far)), True),
        "unknown_attribute": (model(block(), more='bogus="1"'), False),
        "unknown_unit": (model(block(), unit="furlong"), False),
        "inches": (model(block(), unit="inch"), False),
        "corner_out_of_range": (model(block(), corner=999999), False),
        "corner_twice": (model(block(), corner=int(block().faces[0][1])), False),
        "hole": (model(without_a_face()), False),
        "too_near": (model(block(), places=(same, "1 0 0 0 1 0 0 0 1 14 0 0")), False),
        "off_the_bed": (model(block(), places=("1 0 0 0 1 0 0 0 1 -16 0 0",)), False),
        "floating": (model(block(), places=("1 0 0 0 1 0 0 0 1 0 0 2",)), False),
        "nothing_built": (model(block(), places=()), False),
        "short_transform": (model(block(), places=("1 0 0 0 1 0 0 0 1 0 0",)), False),
    }
    for name, (text, is_good) in models.items():
        path = folder / f"{name}.3mf"
        package(path, text)
        made.append((path, is_good))
    no_types = folder / "no_start_part.3mf"
    with zipfile.ZipFile(no_types, "w") as out:
        out.writestr("[Content_Types].xml", TYPES)
        out.writestr("3D/3dmodel.model", model(block()))
    return made + [(no_types, False)]
