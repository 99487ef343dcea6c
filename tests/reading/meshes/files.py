"""Mesh files written by hand, so that each byte of a test's file is known."""

import io
import json
import struct
import zipfile
from pathlib import Path

import numpy as np

CORNERS = np.array([[x, y, z] for x in (0.0, 1.0) for y in (0.0, 1.0) for z in (0.0, 1.0)])
# Anticlockwise seen from outside; corner 4x+2y+z.
QUADS = np.array([[0, 1, 3, 2], [4, 6, 7, 5], [0, 4, 5, 1], [2, 3, 7, 6], [0, 2, 6, 4], [1, 5, 7, 3]])
FACES = np.array([(a, b, c) for q in QUADS for a, b, c in (q[[0, 1, 2]], q[[0, 2, 3]])])

CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
START = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
PRODUCTION = "http://schemas.microsoft.com/3dmanufacturing/production/2015/06"


def box(x, y, z):
    return CORNERS * (x, y, z), FACES


def volume(mesh):
    """Sum of signed tetrahedra (divergence theorem), independent of the code under test."""
    a, b, c = (mesh.vertices_mm[mesh.faces[:, i]] for i in range(3))
    return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6)


def binary_stl(vertices, faces, header=b"made by hand", promised=None):
    out = header.ljust(80, b" ")[:80] + struct.pack("<I", len(faces) if promised is None else promised)
    for face in faces:
        out += struct.pack("<12fH", 0, 0, 0, *vertices[face].astype(np.float32).ravel(), 0)
    return out


def ascii_stl(vertices, faces, name="part"):
    lines = [f"solid {name}"]
    for face in faces:
        lines += ["facet normal 0 0 0", " outer loop"]
        lines += [f"  vertex {x:.9g} {y:.9g} {z:.9g}" for x, y, z in vertices[face]]
        lines += [" endloop", "endfacet"]
    return "\n".join([*lines, f"endsolid {name}", ""]).encode()


def obj(vertices, faces, head=""):
    lines = [f"v {x:.9g} {y:.9g} {z:.9g}" for x, y, z in vertices]
    lines += ["f " + " ".join(str(i + 1) for i in face) for face in faces]
    return (head + "\n".join(lines) + "\n").encode()


def ply(vertices, faces, encoding="ascii"):
    head = (
        f"ply\nformat {encoding} 1.0\nelement vertex {len(vertices)}\nproperty float x\nproperty float y\n"
        f"property float z\nproperty uchar red\nelement face {len(faces)}\n"
        "property list uchar int vertex_indices\nend_header\n"
    ).encode()
    if encoding == "ascii":
        rows = [f"{x:.9g} {y:.9g} {z:.9g} 200" for x, y, z in vertices]
        rows += [f"{len(face)} " + " ".join(map(str, face)) for face in faces]
        return head + ("\n".join(rows) + "\n").encode()
    order = "<" if "little" in encoding else ">"
    body = b"".join(struct.pack(order + "3fB", *v, 200) for v in vertices)
    body += b"".join(struct.pack(f"{order}B{len(f)}i", len(f), *f) for f in faces)
    return head + body


def glb(vertices, faces, **changes):
    """A GLB of one mesh; changes replace or add keys of the description, a callable changes it whole."""
    points = vertices.astype("<f4").tobytes()
    order = faces.astype("<u2").tobytes()
    tree = {
        "asset": {"version": "2.0"},
        "scene": 0,
        "scenes": [{"nodes": [0]}],
        "nodes": [{"mesh": 0}],
        "meshes": [{"primitives": [{"attributes": {"POSITION": 0}, "indices": 1}]}],
        "accessors": [
            {"bufferView": 0, "componentType": 5126, "count": len(vertices), "type": "VEC3"},
            {"bufferView": 1, "componentType": 5123, "count": faces.size, "type": "SCALAR"},
        ],
        "bufferViews": [
            {"buffer": 0, "byteLength": len(points)},
            {"buffer": 0, "byteOffset": len(points), "byteLength": len(order)},
        ],
        "buffers": [{"byteLength": len(points) + len(order)}],
        **changes,
    }
    return packed_glb(tree, points + order)


def packed_glb(tree, binary):
    text = tree if isinstance(tree, bytes) else json.dumps(tree).encode()
    text += b" " * (-len(text) % 4)
    binary += b"\0" * (-len(binary) % 4)
    length = 12 + 8 + len(text) + 8 + len(binary)
    return (
        struct.pack("<4sII", b"glTF", 2, length)
        + struct.pack("<I4s", len(text), b"JSON") + text
        + struct.pack("<I4s", len(binary), b"BIN\0") + binary
    )  # fmt: skip


def threemf_object(vertices, faces, number=1, kind="model"):
    points = "".join(f'<vertex x="{x:.9g}" y="{y:.9g}" z="{z:.9g}"/>' for x, y, z in vertices)
    triangles = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in faces)
    return (
        f'<object id="{number}" type="{kind}"><mesh>\n<vertices>{points}</vertices>\n'
        f"<triangles>{triangles}</triangles></mesh></object>"
    )


def threemf_model(objects, build, unit="millimeter", attributes="", head='<?xml version="1.0"?>'):
    stated = "" if unit is None else f'unit="{unit}"'
    return (
        f'{head}<model {stated} xmlns="{CORE}" {attributes}>\n'
        f"<resources>{objects}</resources>\n<build>{build}</build></model>"
    )


def threemf(model, target="/3D/3dmodel.model", more=(), method=zipfile.ZIP_DEFLATED):
    """A package with its start part; more: further (name, content)."""
    relations = (
        '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
        f'<Relationship Target="{target}" Id="rel0" Type="{START}"/></Relationships>'
    )
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", method) as package:
        package.writestr("[Content_Types].xml", "<Types/>")
        package.writestr("_rels/.rels", relations)
        package.writestr("3D/3dmodel.model", model)
        for name, content in more:
            package.writestr(name, content)
    return out.getvalue()


def threemf_box(x, y, z, **options):
    return threemf(threemf_model(threemf_object(*box(x, y, z)), '<item objectid="1"/>', **options))


STEP_BOX = Path(__file__).with_name("box.step").read_bytes()
"""step_box(10, 20, 30) as it was written once (test_step.py): loading the kernel takes each process two seconds."""


def step_box(x, y, z):
    """A box by the exact kernel that the demo parts are made with."""
    import tempfile

    from build123d import Box, export_step

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "box.step"
        export_step(Box(x, y, z), str(path))
        return path.read_bytes()
