"""3MF and GLB as exporters pack them: the truth of each by formula."""

import json
import struct
import zipfile

import numpy as np

from tests.reading.meshes import files
from tests.reading.meshes.unseen import BOX, BOXED, EITHER, REFUSED, Case, Truth, soup

ONE = files.threemf_object(*BOX)
SMALL = files.threemf_object(*files.box(1, 2, 3), number=2)  # volume 6, area 22
ITEM = '<item objectid="1"/>'
DRAFT = "http://schemas.microsoft.com/3dmanufacturing/2013/01"
BEAMS = "http://schemas.microsoft.com/3dmanufacturing/beamlattice/2017/02"


def tmf(objects=ONE, build=ITEM, truth=BOXED, *, more=(), change=lambda text: text, method=zipfile.ZIP_DEFLATED, **options):
    return Case(
        suffix=".3mf", content=lambda: files.threemf(change(files.threemf_model(objects, build, **options)), more=more, method=method), truth=truth
    )


def parts(number, *components, kind="model"):
    placed = "".join(f'<component objectid="{at}"' + (f' transform="{how}"' if how else "") + "/>" for at, how in components)
    return f'<object id="{number}" type="{kind}"><components>{placed}</components></object>'


def moved(x, y, z, a="1 0 0 0 1 0 0 0 1"):
    return f"{a} {x} {y} {z}"


MIRROR = moved(0, 0, 0, "-1 0 0 0 1 0 0 0 1")
APART = Truth(size=(60, 20, 30), volume=12000, area=4400, bodies=2)
SUPPORT = files.threemf_object(*files.box(4, 4, 90), number=7, kind="support")
INCHES = Truth(size=(254, 508, 762), volume=6000 * 25.4**3, area=2200 * 25.4**2)
THREEMF = {
    "two items": tmf(build=f'{ITEM}<item objectid="1" transform="{moved(50, 0, 0)}"/>', truth=APART),
    "two objects": tmf(ONE + files.threemf_object(*BOX, number=2), f'{ITEM}<item objectid="2" transform="{moved(50, 0, 0)}"/>', APART),
    "a mirror in the build": tmf(build=f'<item objectid="1" transform="{MIRROR}"/>'),
    "a mirror of a mirror": tmf(ONE + parts(2, (1, MIRROR)), f'<item objectid="2" transform="{MIRROR}"/>'),
    "a part and its mirror image": tmf(ONE + parts(2, (1, moved(20, 0, 0)), (1, MIRROR)), '<item objectid="2"/>', Truth(size=(40, 20, 30), volume=12000, area=4400, bodies=2)),
    "components in components": tmf(
        ONE + parts(2, (1, moved(20, 0, 0))) + parts(3, (2, moved(0, 0, 0, "0 1 0 -1 0 0 0 0 1")), (1, moved(10, 0, 0))), '<item objectid="3"/>',
        # turned by a quarter: x 20..30 becomes y 20..30, y 0..20 becomes x -20..0; beside it the box at 10..20
        Truth(size=(40, 30, 30), volume=12000, area=4400, bodies=2),
    ),
    "components that share one mesh five times": tmf(
        ONE + parts(2, *((1, moved(20 * k, 0, 0)) for k in range(5))), '<item objectid="2"/>', Truth(size=(90, 20, 30), volume=30000, area=11000, bodies=5)
    ),
    "a stretched item": tmf(build=f'<item objectid="1" transform="{moved(1, 2, 3, "2 0 0 0 1 0 0 0 0.5")}"/>', truth=Truth(size=(20, 20, 15), volume=6000, area=2 * (400 + 300 + 300))),
    "a sheared item": tmf(build=f'<item objectid="1" transform="{moved(0, 0, 0, "1 0 0 0.5 1 0 0 0 1")}"/>', truth=Truth(size=(20, 20, 30), volume=6000)),
    "a flattened item": tmf(build=f'<item objectid="1" transform="{moved(0, 0, 0, "1 0 0 0 1 0 0 0 0")}"/>', truth=Truth(size=None, volume=None, may_refuse=True)),
    "inches": tmf(unit="inch", truth=INCHES),
    "inches with a transform in inches": tmf(build=f'{ITEM}<item objectid="1" transform="{moved(50, 0, 0)}"/>', unit="inch", truth=Truth(
        size=(60 * 25.4, 508, 762), volume=12000 * 25.4**3, area=4400 * 25.4**2)),
    "a unit that there is not": tmf(unit="furlong", truth=REFUSED),
    "metadata, language, comments": tmf(attributes='xml:lang="de-DE"', change=lambda text: text.replace(
        "<resources>", '<metadata name="Title">Türgriff &amp; Knopf</metadata><metadata name="Description">&lt;b&gt;x&lt;/b&gt;</metadata><!-- <build/> --><resources>')),
    "materials beside": tmf('<basematerials id="5"><base name="PA" displaycolor="#FF8800FF"/></basematerials>' + ONE.replace('type="model"', 'type="model" pid="5" pindex="0"')),
    "materials on each face": tmf('<basematerials id="5"><base name="PA" displaycolor="#FF8800"/></basematerials>' + ONE.replace("<triangle ", '<triangle pid="5" p1="0" ')),
    "an extension that may be left": tmf(attributes='xmlns:v="http://example.org/vendor/1"', change=lambda text: text.replace("<build>", '<v:extra deep="1"><v:more/></v:extra><build>')),
    "an extension that must be read": tmf(attributes=f'xmlns:b="{BEAMS}" requiredextensions="b"', truth=Truth(must_refuse=True, words=("beamlattice", "beam lattice"))),
    "the namespace by a letter": tmf(change=lambda text: text.replace("<", "<c:").replace("<c:/", "</c:").replace("<c:?", "<?").replace("xmlns=", "xmlns:c=")),
    "the draft's namespace": tmf(change=lambda text: text.replace(files.CORE, DRAFT), truth=Truth(may_refuse=True, words=("draft", "older", "2013", "early", "earlier"))),
    "another namespace": tmf(change=lambda text: text.replace(files.CORE, "http://example.org/other"), truth=REFUSED),
    "a support in the build": tmf(ONE + SUPPORT, f'{ITEM}<item objectid="7"/>'),
    "a support among the components": tmf(ONE + SUPPORT + parts(2, (1, ""), (7, moved(30, 0, 0))), '<item objectid="2"/>'),
    "an assembly that is a support": tmf(ONE + SMALL + parts(3, (2, ""), kind="support"), f'{ITEM}<item objectid="3"/>'),
    "only a support": tmf(SUPPORT, '<item objectid="7"/>', REFUSED),
    "a solid support": tmf(ONE + SMALL.replace('type="model"', 'type="solidsupport"'), f'{ITEM}<item objectid="2"/>'),
    "no kind stated": tmf(ONE.replace(' type="model"', "")),
    "an object in no item": tmf(ONE + SMALL),
    "no item": tmf(build="", truth=REFUSED),
    "an item of no object": tmf(build='<item objectid="9"/>', truth=REFUSED),
    "a component of itself": tmf(ONE + parts(2, (1, ""), (2, "")), '<item objectid="2"/>', REFUSED),
    "two objects that are components of each other": tmf(ONE + parts(2, (3, "")) + parts(3, (2, "")), '<item objectid="2"/>', REFUSED),
    "an object without faces beside": tmf(ONE + files.threemf_object(BOX[0], BOX[1][:0], number=2), f'{ITEM}<item objectid="2"/>', EITHER),
    "only faces without area": tmf(files.threemf_object(BOX[0] * 0, BOX[1]), truth=Truth(size=None, volume=None, may_refuse=True)),
    "an index too large": tmf(ONE.replace('"7"', '"8"', 1), truth=REFUSED),
    "exponents and many digits": tmf(ONE.replace('x="10"', 'x="1.000000e+01"').replace('y="20"', 'y="20.0000000000"')),
    "decimal commas": tmf(ONE.replace('x="10"', 'x="10,5"'), truth=REFUSED),
    "UTF-8 with its mark": tmf(head="\ufeff<?xml version='1.0' encoding='UTF-8'?>"),
    "UTF-16, which the specification allows": tmf(head='<?xml version="1.0" encoding="UTF-16"?>', change=lambda text: text.encode("utf-16"), truth=EITHER),
    "not deflated": tmf(method=zipfile.ZIP_STORED),
    "another file of the same ending in the package": tmf(more=[("3D/old.model", files.threemf_model(SMALL, '<item objectid="2"/>')), ("Metadata/thumbnail.png", b"\x89PNG")]),
    "bytes before the package": Case(suffix=".3mf", content=lambda: b"#!/bin/sh\n" + files.threemf_box(10, 20, 30), truth=EITHER),
    "bytes behind the package": Case(suffix=".3mf", content=lambda: files.threemf_box(10, 20, 30) + b"\0" * 30, truth=EITHER),
    "a package of something else": Case(suffix=".3mf", content=lambda: files.threemf("<html/>"), truth=REFUSED),
}  # fmt: skip


class Packed:
    """A GLB that is put together view by view; all lengths in metres, y up."""

    def __init__(self):
        self.binary, self.views, self.accessors = b"", [], []

    def view(self, content, **more):
        self.binary += b"\0" * (-len(self.binary) % 4)
        self.views.append({"buffer": 0, "byteOffset": len(self.binary), "byteLength": len(content), **more})
        self.binary += content
        return len(self.views) - 1

    def accessor(self, count, form, kind, view=None, **more):
        self.accessors.append({"componentType": form, "count": count, "type": kind, **({} if view is None else {"bufferView": view}), **more})
        return len(self.accessors) - 1

    def corners(self, points):
        return self.accessor(len(points), 5126, "VEC3", self.view(np.asarray(points, "<f4").tobytes()), min=np.min(points, 0).tolist(), max=np.max(points, 0).tolist())

    def indices(self, faces, form=5123):
        kind = {5121: "u1", 5123: "<u2", 5125: "<u4"}[form]
        return self.accessor(np.size(faces), form, "SCALAR", self.view(np.asarray(faces).astype(kind).tobytes()))

    def primitive(self, points=None, faces=None, **more):
        points = METRES if points is None else points
        return {"attributes": {"POSITION": self.corners(points)}, "indices": self.indices(BOX[1] if faces is None else faces), **more}

    def file(self, meshes, nodes, **more):
        tree = {"asset": {"version": "2.0"}, "scene": 0, "scenes": [{"nodes": [0]}], "nodes": nodes, "meshes": [{"primitives": each} for each in meshes],
                "accessors": self.accessors, "bufferViews": self.views, "buffers": [{"byteLength": len(self.binary)}], **more}  # fmt: skip
        return files.packed_glb(tree, self.binary)


METRES = files.box(0.01, 0.03, 0.02)[0]  # y up in the file: 10 x 20 x 30 on the plate
HALF_TURN = [0, 1, 0, 0]  # about y


def glb(make, truth=BOXED):
    return Case(suffix=".glb", content=lambda: make(Packed()), truth=truth)


def placed(*nodes, **more):
    return lambda to: to.file([[to.primitive()]], list(nodes), **more)


def interleaved(to):
    rows = np.zeros(8, dtype=[("n", "<f4", 3), ("p", "<f4", 3), ("c", "u1", 4)])
    rows["p"], rows["n"] = METRES, 7.0
    at = to.accessor(8, 5126, "VEC3", to.view(rows.tobytes(), byteStride=28), byteOffset=12)
    return to.file([[{"attributes": {"POSITION": at}, "indices": to.indices(BOX[1], 5121)}]], [{"mesh": 0}])


def sparse(to, *, whole):
    """Half the corners stand in the list and the others are put in; or all of them are, over nothing but zeros."""
    changed = np.arange(8) if whole else np.arange(4, 8)
    dense = METRES.copy()
    dense[changed] = 99.0
    told = {"sparse": {"count": len(changed), "indices": {"bufferView": to.view(changed.astype("<u2").tobytes()), "componentType": 5123},
                       "values": {"bufferView": to.view(METRES[changed].astype("<f4").tobytes())}}}  # fmt: skip
    at = to.accessor(8, 5126, "VEC3", None if whole else to.view(dense.astype("<f4").tobytes()), **told)
    return to.file([[{"attributes": {"POSITION": at}, "indices": to.indices(BOX[1])}]], [{"mesh": 0}])


def one_list(to):
    """Two primitives that look into one list of corners, the second from its own place on."""
    points, faces = soup((0.01, 0.03, 0.02, (0, 0, 0)), (0.01, 0.03, 0.02, (0.05, 0, 0)))
    view = to.view(points.astype("<f4").tobytes())
    whole = to.accessor(16, 5126, "VEC3", view)
    second = to.accessor(8, 5126, "VEC3", view, byteOffset=96)
    both = [{"attributes": {"POSITION": whole}, "indices": to.indices(faces[:12])}, {"attributes": {"POSITION": second}, "indices": to.indices(faces[:12])}]
    return to.file([both], [{"mesh": 0}])


def split_by_colour(to):
    """One solid whose faces belong to six primitives with corners of their own, one a colour."""
    return to.file([[to.primitive(METRES[quad], [[0, 1, 2], [0, 2, 3]], material=0) for quad in files.QUADS]], [{"mesh": 0}], materials=[{}])


def without_indices(to):
    return to.file([[{"attributes": {"POSITION": to.corners(METRES[BOX[1]].reshape(-1, 3))}}]], [{"mesh": 0}])


def outside(to):
    return to.file([[to.primitive()]], [{"mesh": 0}], buffers=[{"byteLength": len(to.binary), "uri": "box.bin"}])


def compressed(to):
    return to.file([[to.primitive(extensions={"KHR_draco_mesh_compression": {"bufferView": 0, "attributes": {"POSITION": 0}}})]], [{"mesh": 0}],
                   extensionsRequired=["KHR_draco_mesh_compression"], extensionsUsed=["KHR_draco_mesh_compression"])  # fmt: skip


GLTF = json.dumps({"asset": {"version": "2.0"}, "meshes": [], "buffers": [{"uri": "box.bin", "byteLength": 9}]}).encode()
TWICE = Truth(size=(60, 20, 30), volume=12000, area=4400, bodies=2)
GLB = {
    "one mesh": glb(placed({"mesh": 0})),
    "two meshes": glb(lambda to: to.file([[to.primitive()], [to.primitive()]], [{"children": [1, 2]}, {"mesh": 0}, {"mesh": 1, "translation": [0.05, 0, 0]}]), TWICE),
    "a negative scale": glb(placed({"mesh": 0, "scale": [-1, 1, 1]})),
    "three negative scales": glb(placed({"mesh": 0, "scale": [-1, -1, -1]})),
    "two negative scales in two nodes": glb(placed({"children": [1], "scale": [1, -1, 1]}, {"mesh": 0, "scale": [1, 1, -1]})),
    "millimetres by a scale": glb(lambda to: to.file([[to.primitive(METRES * 1000)]], [{"mesh": 0, "scale": [0.001] * 3}])),
    "a scale in one axis": glb(placed({"mesh": 0, "scale": [2, 1, 1]}), Truth(size=(20, 20, 30), volume=12000, area=2 * (400 + 600 + 600))),
    "turned and moved in nodes within nodes": glb(placed({"children": [1], "translation": [1, 2, 3]}, {"children": [2], "rotation": HALF_TURN}, {"mesh": 0, "translation": [4, 5, 6]})),
    "a matrix that mirrors": glb(placed({"mesh": 0, "matrix": [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, -1, 0, 0, 0, 0, 1]})),
    "interleaved": glb(interleaved),
    "sparse": glb(lambda to: sparse(to, whole=False), EITHER),
    "sparse over nothing": glb(lambda to: sparse(to, whole=True), EITHER),
    "two primitives in one list": glb(one_list, TWICE),
    "split by colour": glb(split_by_colour),
    "without indices": glb(without_indices),
    "whole numbers of four bytes": glb(lambda to: to.file([[{"attributes": {"POSITION": to.corners(METRES)}, "indices": to.indices(BOX[1], 5125)}]], [{"mesh": 0}])),
    "lines and points beside": glb(lambda to: to.file([[to.primitive(), to.primitive(faces=[0, 7], mode=1), to.primitive(faces=[3], mode=0)]], [{"mesh": 0}])),
    "a node of another scene": glb(placed({"mesh": 0}, {"mesh": 0, "scale": [9, 9, 9]}, scenes=[{"nodes": [0]}, {"nodes": [1]}])),
    "a camera, a light and names": glb(placed({"mesh": 0, "name": "Türgriff"}, {"camera": 0}, scenes=[{"nodes": [0, 1]}],
        cameras=[{"type": "perspective", "perspective": {"yfov": 1, "znear": 0.1}}], extensionsUsed=["KHR_lights_punctual"], extras={"by": "us"})),
    "a flattened node": glb(placed({"mesh": 0, "scale": [1, 0, 1]}), Truth(size=None, volume=None, may_refuse=True)),
    "a node that is its own child": glb(placed({"mesh": 0, "children": [0]}), REFUSED),
    "a child of two": glb(placed({"children": [1, 2]}, {"children": [3]}, {"children": [3]}, {"mesh": 0}), Truth(size=None, volume=None, may_refuse=True, may_withhold=True)),
    "an index too large": glb(lambda to: to.file([[to.primitive(faces=[[0, 1, 8]])]], [{"mesh": 0}]), REFUSED),
    "a buffer in another file": glb(outside, REFUSED),
    "compressed": glb(compressed, REFUSED),
    "nothing in the scene": glb(lambda to: to.file([[to.primitive()]], [{"name": "empty"}]), REFUSED),
    "version 1": Case(suffix=".glb", content=lambda: struct.pack("<4sIIII", b"glTF", 1, 24, 4, 0) + b"{}  ", truth=REFUSED),
    "bytes behind it": Case(suffix=".glb", content=lambda: placed({"mesh": 0})(Packed()) + b"\0\0\0", truth=EITHER),
    "only faces without area": glb(lambda to: to.file([[to.primitive(faces=[[0, 0, 1], [2, 2, 2]])]], [{"mesh": 0}]), Truth(size=None, volume=None, may_refuse=True)),
    "the text form": Case(suffix=".gltf", content=lambda: GLTF, truth=Truth(must_refuse=True, words=("glb",))),
    "the text form named as the other": Case(suffix=".glb", content=lambda: GLTF, truth=Truth(must_refuse=True, words=("glb",))),
}  # fmt: skip
