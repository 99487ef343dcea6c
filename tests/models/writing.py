"""How do triangles and solids become mesh files, the same bytes on every run?"""

from __future__ import annotations

import io
import json
import re
import struct
import zipfile
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from build123d import Part

Vertices = NDArray[np.float64]
Faces = NDArray[np.int64]
FIXED_DAY = (2026, 1, 5, 0, 0, 0)
STL_HEADER = b"binary STL, millimetres, demo part of the Tarnvale Light Railway".ljust(80)


def triangles(part: Part, tolerance_mm: float, angle_rad: float) -> tuple[Vertices, Faces]:
    """The welded facets of a solid: vertices (n, 3) in mm as 32-bit values, faces (m, 3), none of them empty."""
    # The kernel takes longer to load than many a test, and some want `stl` alone.
    from OCP.BRepMesh import BRepMesh_IncrementalMesh

    # build123d's own call asks for a tolerance relative to each edge; what is stated in the table is millimetres.
    BRepMesh_IncrementalMesh(part.wrapped, tolerance_mm, False, angle_rad, False)
    corners, facets = part.tessellate(tolerance_mm, angle_rad)
    points = np.round(np.array([tuple(c) for c in corners]), 4).astype(np.float32).astype(np.float64) + 0.0
    vertices, place = np.unique(points, axis=0, return_inverse=True)
    faces = place.reshape(-1)[np.array(facets, dtype=np.int64)]
    distinct = (faces[:, 0] != faces[:, 1]) & (faces[:, 1] != faces[:, 2]) & (faces[:, 2] != faces[:, 0])
    return vertices, faces[distinct]


def stl(vertices: Vertices, faces: Faces) -> bytes:
    """Binary STL: 80 bytes of header, a count, 50 bytes a facet."""
    corners = vertices[faces]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    lengths = np.linalg.norm(normals, axis=1, keepdims=True)
    normals = normals / np.where(lengths > 0, lengths, 1) + 0.0
    record = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])
    rows = np.zeros(len(faces), dtype=record)
    rows["normal"], rows["corners"] = normals, corners
    return STL_HEADER + struct.pack("<I", len(faces)) + rows.tobytes()


def obj(vertices: Vertices, faces: Faces) -> bytes:
    """Wavefront OBJ in millimetres, indices from one."""
    lines = ["# millimetres", "o part"]
    lines += [f"v {x:.4f} {y:.4f} {z:.4f}" for x, y, z in vertices.tolist()]
    lines += [f"f {a} {b} {c}" for a, b, c in (faces + 1).tolist()]
    return ("\n".join(lines) + "\n").encode()


def ply(vertices: Vertices, faces: Faces) -> bytes:
    """Binary little-endian PLY in millimetres."""
    head = (
        "ply\nformat binary_little_endian 1.0\ncomment millimetres\n"
        f"element vertex {len(vertices)}\nproperty float x\nproperty float y\nproperty float z\n"
        f"element face {len(faces)}\nproperty list uchar int vertex_indices\nend_header\n"
    )
    rows = np.zeros(len(faces), dtype=np.dtype([("count", "u1"), ("corner", "<i4", 3)]))
    rows["count"], rows["corner"] = 3, faces
    return head.encode() + vertices.astype("<f4").tobytes() + rows.tobytes()


def glb(vertices: Vertices, faces: Faces) -> bytes:
    """Binary glTF 2.0: metres and y upwards, as its section 3.4 demands; front of the part towards +z."""
    upright = np.column_stack([vertices[:, 0], vertices[:, 2], -vertices[:, 1]]) / 1000
    points = (upright + 0.0).astype("<f4")
    indices = faces.astype("<u4").tobytes()
    body = points.tobytes() + indices
    views = [
        {"buffer": 0, "byteOffset": 0, "byteLength": points.nbytes, "target": 34962},
        {"buffer": 0, "byteOffset": points.nbytes, "byteLength": len(indices), "target": 34963},
    ]
    low, high = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    accessors = [
        {
            "bufferView": 0,
            "componentType": 5126,
            "count": len(points),
            "type": "VEC3",
            "min": low,
            "max": high,
        },
        {"bufferView": 1, "componentType": 5125, "count": faces.size, "type": "SCALAR"},
    ]
    scene = {
        "asset": {"version": "2.0"},
        "scene": 0,
        "scenes": [{"nodes": [0]}],
        "nodes": [{"mesh": 0, "name": "part"}],
        "meshes": [{"primitives": [{"attributes": {"POSITION": 0}, "indices": 1, "mode": 4}]}],
        "buffers": [{"byteLength": len(body)}],
        "bufferViews": views,
        "accessors": accessors,
    }
    text = json.dumps(scene, separators=(",", ":")).encode()
    text += b" " * (-len(text) % 4)
    chunks = (
        struct.pack("<II", len(text), 0x4E4F534A) + text + struct.pack("<II", len(body), 0x004E4942) + body
    )
    return struct.pack("<4sII", b"glTF", 2, 12 + len(chunks)) + chunks


MODEL_3MF = """<?xml version="1.0" encoding="UTF-8"?>
<model unit="millimeter" xml:lang="en-GB" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">
 <resources>
  <object id="1" type="model"><mesh>
   <vertices>{vertices}</vertices>
   <triangles>{triangles}</triangles>
  </mesh></object>
 </resources>
 <build><item objectid="1"/></build>
</model>
"""
CONTENT_TYPES = """<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
 <Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>
 <Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>
</Types>
"""
RELATIONSHIPS = """<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
 <Relationship Target="/3D/3dmodel.model" Id="rel0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/>
</Relationships>
"""


def three_mf(vertices: Vertices, faces: Faces) -> bytes:
    """3MF core specification 1.x: one object, unit millimetre, zip entries with one fixed date."""
    points = "".join(f'<vertex x="{x:.4f}" y="{y:.4f}" z="{z:.4f}"/>' for x, y, z in vertices.tolist())
    facets = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in faces.tolist())
    files = {
        "[Content_Types].xml": CONTENT_TYPES,
        "_rels/.rels": RELATIONSHIPS,
        "3D/3dmodel.model": MODEL_3MF.format(vertices=points, triangles=facets),
    }
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        for name, text in files.items():
            entry = zipfile.ZipInfo(name, FIXED_DAY)
            entry.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(entry, text.encode(), compresslevel=9)
    return packed.getvalue()


def step(part: Part, name: str) -> bytes:
    """ISO 10303-21 in millimetres with a fixed date; without curves in parameter space, which treble the size."""
    from build123d import export_step  # as above

    solid = part.solid()
    solid.label = name
    written = io.BytesIO()
    export_step(solid, written, write_pcurves=False, timestamp="2026-01-05T00:00:00")
    # the kernel numbers such entries on from earlier files of the same run
    return re.sub(rb"(NEXT_ASSEMBLY_USAGE_OCCURRENCE\(')\d+'", rb"\g<1>1'", written.getvalue())


MESH_WRITERS = {"stl": stl, "obj": obj, "ply": ply, "glb": glb, "3mf": three_mf}
