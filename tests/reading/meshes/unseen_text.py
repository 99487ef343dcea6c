"""OBJ, PLY and STL as exporters write them: the truth of each by formula."""

import struct

import numpy as np

from tests.reading.meshes import files
from tests.reading.meshes.unseen import BOX, BOXED, EITHER, NO_SURFACE, REFUSED, Case, Truth, joined, soup

V = [f"v {x:g} {y:g} {z:g}" for x, y, z in BOX[0]]
F = ["f " + " ".join(str(i + 1) for i in face) for face in files.QUADS]
BACK = ["f " + " ".join(str(i - 8) for i in face) for face in files.QUADS]


def lines(*rows, end="\n", encoding="latin-1"):
    return lambda: (end.join(rows) + end).encode(encoding)


def obj(*rows, truth=BOXED, **how):
    return Case(suffix=".obj", content=lines(*rows, **how), truth=truth)


UNUSED = [f"v {k} 500 -700" for k in range(40)]
L_RING = [(0, 0), (40, 0), (40, 10), (10, 10), (10, 30), (0, 30)]  # area 40 x 10 + 10 x 20
L_SHAPE = [
    *(f"v {x} {y} {z}" for z in (0, 5) for x, y in L_RING),
    "f 6 5 4 3 2 1", "f 7 8 9 10 11 12", *(f"f {i + 1} {(i + 1) % 6 + 1} {(i + 1) % 6 + 7} {i + 7}" for i in range(6)),
]  # fmt: skip
VN = [re.replace("f ", "f ").replace(" ", "//1 ").replace("f//1 ", "f ") + "//1" for re in F]
VT = ["f " + " ".join(f"{i}/{k + 1}/1" for k, i in enumerate(row.split()[1:])) for row in F]
OBJ = {
    "plain quads": obj(*V, *F),
    "unused corners first": obj(*UNUSED, *V, *BACK),
    "unused corners in the middle": obj(*V[:5], "v 900 0 0", "v 0 900 0", *V[5:], *("f " + " ".join(str(i + 1 + 2 * (i >= 5)) for i in q) for q in files.QUADS)),
    "two unused corners at the end": obj(*V, "v 900 0 0", "v 901 0 0", *F),
    "two unused corners before the faces of the last": obj(*V, "v 900 0 0", *F, "v 0 900 0"),
    "a long unused run at the end": obj(*V, *UNUSED * 20, *F, truth=REFUSED),
    "corners of faces that never came": obj(*V, *F, *(f"v {k} {k % 7} 3" for k in range(3000)), truth=REFUSED),
    "negative indices": obj(*V, *BACK),
    "negative indices after each body": obj(
        *V, *BACK, *(f"v {x + 50:g} {y:g} {z:g}" for x, y, z in BOX[0]), *BACK, truth=Truth(size=(60, 20, 30), volume=12000, area=4400, bodies=2)
    ),
    "faces before their corners": obj(*F, *V, truth=EITHER),
    "a face over three lines": obj(*V, "f 1 \\", " 2 \\", "4 3", *F[1:]),
    "a corner over two lines": obj("v 0 \\", "0 0", *V[1:], *F),
    "v//vn": obj(*V, "vn 0 0 1", *VN),
    "v/vt/vn": obj(*V, *(f"vt {k} 0.5" for k in range(4)), "vn 0 0 1", *VT),
    "v/vt": obj(*V, "vt 0 0", *("f " + " ".join(f"{i}/1" for i in row.split()[1:]) for row in F)),
    "negative v//vn": obj(*V, "vn 0 0 1", *("f " + " ".join(f"{i - 8}//-1" for i in q) for q in files.QUADS)),
    "groups, objects, materials, smoothing": obj(
        "mtllib haken.mtl", "o Gehäuse 3 (Kopie)", "g Ebene 1 default", *V, "usemtl Stahl/grau", "s 1", *F[:3], "g", "s off", *F[3:]
    ),
    "comments in latin-1": obj("# Gerät für Tür – größer als 5 mm ß".replace("–", "-"), *V, "# ø 8 µm", *F),
    "comments in a page of code": Case(suffix=".obj", content=lambda: b"# \x80\x9f\x00\xff\n" + "\n".join([*V, *F, ""]).encode(), truth=EITHER),
    "UTF-8 with its mark": obj(*V, *F, encoding="utf-8-sig"),
    "UTF-16": obj(*V, *F, encoding="utf-16", truth=Truth(may_refuse=True, words=("utf-16", "utf-8"))),
    "UTF-16 without its mark": obj(*V, *F, encoding="utf-16-le", truth=EITHER),
    "colours behind the corners": obj(*(f"{row} 0.5 0.25 1" for row in V), *F),
    "weights behind the corners": obj(*(f"{row} 1.0" for row in V), *F, truth=EITHER),
    "Windows line ends": obj(*V, *F, end="\r\n"),
    "old Macintosh line ends": obj(*V, *F, end="\r"),
    "tabs and many spaces": obj(*(row.replace(" ", " \t  ") + "  " for row in [*V, *F])),
    "lines and points beside": obj(*V, *F, "l 1 2", "p 3"),
    "a curve beside": obj(*V, *F, "vp 0.1 0.2", truth=EITHER),
    "a comment behind a face": obj(*V, F[0] + " # unten", *F[1:]),
    "numbers written in every way": obj("v 0. -0 .0", "v 0e0 0 +3.0E+01", "v 0 20. 0.0", "v 0 2e1 30", "v 1E1 0 0", "v +10 0 30", "v 10 20 0", "v 10 20 30.", *F),
    "a concave face": obj(*L_SHAPE, truth=Truth(size=(40, 30, 5), volume=3000, area=2 * 600 + 140 * 5)),
    "an index of none": obj(*V, "f 0 1 2", *F, truth=REFUSED),
    "an index too large": obj(*V, *F, "f 1 2 9", truth=REFUSED),
    "an index too far back": obj(*V, *F, "f -1 -2 -9", truth=REFUSED),
    "half a face": obj(*V, *F[:-1], "f 2 6", truth=REFUSED),
    "decimal commas": obj(*(row.replace("10", "10,5") for row in V), *F, truth=REFUSED),
    "not a number": obj("v nan 0 0", *V[1:], *F, truth=REFUSED),
    "each face with corners of its own": obj(*(V[i] for q in files.QUADS for i in q), *(f"f {4 * k + 1} {4 * k + 2} {4 * k + 3} {4 * k + 4}" for k in range(6))),
    "only faces without area": obj(*V, "f 1 1 2", "f 3 3 3", "f 5 6 5", truth=NO_SURFACE),
    "only corners": obj(*V, truth=REFUSED),
}  # fmt: skip


def header(form, end, *, vertex, face, magic="ply", more=()):
    rows = [magic, f"format {form} 1.0", "comment gespeichert für die Werkstatt", *more, f"element vertex {len(BOX[0])}", *vertex, *face, "end_header"]
    return (end.join(rows) + end).encode("latin-1")


XYZ = tuple(f"property float {axis}" for axis in "xyz")
QUAD = ("element face 6", "property list uchar int vertex_indices")
ROWS = [" ".join(f"{value:g}" for value in corner) for corner in BOX[0]]
FACE_ROWS = [" ".join(map(str, (4, *quad))) for quad in files.QUADS]


def ascii_ply(*, end="\n", rows=(*ROWS, *FACE_ROWS), vertex=XYZ, face=QUAD, truth=BOXED, last=None, **how):
    tail = end if last is None else last
    return Case(suffix=".ply", content=lambda: header("ascii", end, vertex=vertex, face=face, **how) + end.join(rows).encode("latin-1") + tail.encode(), truth=truth)


def binary_ply(*, end="\n", order="<", tail=b"", corners=BOX[0], vertex=XYZ, form="3f", extra=(), face=QUAD, count="B", index="i", before=b"", after=b"", truth=BOXED, **how):
    def content():
        name = "binary_little_endian" if order == "<" else "binary_big_endian"
        body = b"".join(struct.pack(order + form, *corner, *extra) for corner in corners)
        body += b"".join(after + struct.pack(f"{order}{count}4{index}", 4, *quad) for quad in files.QUADS)
        return header(name, end, vertex=vertex, face=face, **how) + before + body + tail

    return Case(suffix=".ply", content=content, truth=truth)


NEWLINE_FIRST = BOX[0].copy()
NEWLINE_FIRST[:, 0] = np.where(BOX[0][:, 0] == 0, struct.unpack("<f", b"\x0a\x0a\x20\x41")[0], 20.0)
WIDE = 20.0 - struct.unpack("<f", b"\x0a\x0a\x20\x41")[0]
PLY = {
    **{f"ASCII, line ends {end!r}": ascii_ply(end=end) for end in ("\n", "\r", "\r\n")},
    **{f"binary {order} line ends {end!r}": binary_ply(end=end, order=order, truth=EITHER if end == "\r" else BOXED) for order in "<>" for end in ("\n", "\r", "\r\n")},
    "capitals": ascii_ply(magic="PLY", truth=EITHER),
    "binary in capitals": binary_ply(magic="PLY", truth=EITHER),
    **{f"binary with {tail!r} behind": binary_ply(tail=tail, truth=EITHER) for tail in (b"\n", b"\r\n", b"\r", b"\0")},
    "binary with a hundred bytes behind": binary_ply(tail=b"x" * 100, truth=EITHER),
    "binary one byte short": binary_ply(tail=b"", truth=REFUSED),
    "CR alone before data that begins like LF": binary_ply(
        end="\r", corners=NEWLINE_FIRST, truth=Truth(size=(WIDE, 20, 30), volume=WIDE * 600, may_refuse=True)
    ),
    "LF before data that begins like LF": binary_ply(corners=NEWLINE_FIRST, truth=Truth(size=(WIDE, 20, 30), volume=WIDE * 600)),
    "CRLF before data that begins like LF": binary_ply(end="\r\n", corners=NEWLINE_FIRST, truth=Truth(size=(WIDE, 20, 30), volume=WIDE * 600)),
    "ASCII without a last line end": ascii_ply(last=""),
    "ASCII with empty lines behind": ascii_ply(last="\n\n \n", truth=EITHER),
    "an element before the corners": ascii_ply(more=("element material 2", "property uchar red"), rows=("7", "8", *ROWS, *FACE_ROWS)),
    "an element before the corners, binary": binary_ply(more=("element material 2", "property uchar red"), before=b"\x07\x08"),
    "an element of lists before the corners": binary_ply(
        more=("element strip 1", "property list uchar short points"), before=struct.pack("<B3h", 3, 5, 6, 7), truth=EITHER
    ),
    "edges behind the faces": ascii_ply(face=(*QUAD, "element edge 1", "property int vertex1", "property int vertex2"), rows=(*ROWS, *FACE_ROWS, "0 1")),
    "a list at each corner": ascii_ply(vertex=(*XYZ, "property list uchar float w"), rows=(*(f"{row} 2 0.5 0.5" for row in ROWS), *FACE_ROWS), truth=EITHER),
    "normals and colours": binary_ply(
        vertex=(*XYZ, *(f"property float n{a}" for a in "xyz"), *(f"property uchar {c}" for c in ("red", "green", "blue"))), form="6f3B", extra=(0, 0, 1, 9, 9, 9)
    ),
    "double precision": binary_ply(vertex=tuple(f"property double {a}" for a in "xyz"), form="3d"),
    "types by their bits": binary_ply(vertex=tuple(f"property float32 {a}" for a in "xyz"), face=("element face 6", "property list uint8 uint32 vertex_index"), index="I"),
    "short indices with a short count": binary_ply(face=("element face 6", "property list ushort short vertex_indices"), count="H", index="h"),
    "coordinates in another order": ascii_ply(vertex=(XYZ[2], XYZ[0], XYZ[1]), rows=(*(f"{z:g} {x:g} {y:g}" for x, y, z in BOX[0]), *FACE_ROWS)),
    "a colour before the face's corners": binary_ply(face=("element face 6", "property uchar red", QUAD[1]), after=b"\x09"),
    "texture lists before the face's corners": ascii_ply(
        face=("element face 6", "property list uchar float texcoord", QUAD[1]), rows=(*ROWS, *(f"2 0.5 0.5 {row}" for row in FACE_ROWS)), truth=EITHER
    ),
    "whole millimetres": binary_ply(vertex=tuple(f"property short {a}" for a in "xyz"), form="3h", corners=BOX[0].astype(int), truth=EITHER),
    "a negative index": ascii_ply(rows=(*ROWS, "3 0 1 -1", *FACE_ROWS[1:]), truth=REFUSED),
    "one face short": ascii_ply(rows=(*ROWS, *FACE_ROWS[1:]), truth=REFUSED),
    "one face more than promised": ascii_ply(rows=(*ROWS, *FACE_ROWS, FACE_ROWS[0]), truth=EITHER),
    "only points of a scan": ascii_ply(face=(), rows=ROWS, truth=REFUSED),
    "only faces without area": ascii_ply(rows=(*ROWS, *["4 0 0 1 1"] * 6), truth=NO_SURFACE),
}  # fmt: skip
PLY["binary one byte short"] = Case(suffix=".ply", content=lambda: binary_ply().content()[:-1], truth=REFUSED)

TWO = soup((10, 20, 30, (0, 0, 0)), (10, 20, 30, (50, 0, 0)))
TWO_TRUE = Truth(size=(60, 20, 30), volume=12000, area=4400, bodies=2)
TEXT, BINARY = files.ascii_stl(*BOX), files.binary_stl(*BOX)


def stl(content, truth=BOXED):
    return Case(suffix=".stl", content=lambda: content, truth=truth)


def coloured(content, bits=0x801F):
    """Each face's two bytes behind it carry a colour, as some programs write."""
    out = bytearray(content)
    for at in range(84 + 48, len(out), 50):
        out[at : at + 2] = struct.pack("<H", bits)
    return bytes(out)


def with_zero_faces(corners, faces):
    return joined((corners, faces), (corners, [(0, 0, 1), (2, 2, 2)]))


STL = {
    "several solids in text": stl(files.ascii_stl(TWO[0], TWO[1][:12], "left") + files.ascii_stl(TWO[0], TWO[1][12:], "right"), TWO_TRUE),
    "several solids with empty lines and indents": stl(
        b"\n\n" + files.ascii_stl(TWO[0], TWO[1][:12]) + b"\n \n\t" + files.ascii_stl(TWO[0], TWO[1][12:]), TWO_TRUE
    ),
    "a name of several words": stl(files.ascii_stl(*BOX, name="Deckel links (Kopie 2), 12 mm")),
    "a name that is a keyword": stl(files.ascii_stl(*BOX, name="facet normal outer loop vertex")),
    "a name in latin-1": stl(TEXT.replace(b"part", "Gehäuse ø8".encode("latin-1"))),
    "no name": stl(TEXT.replace(b" part", b"")),
    "capitals": stl(TEXT.upper()),
    "mixed letters": stl(TEXT.replace(b"facet", b"Facet").replace(b"vertex", b"Vertex")),
    "old Macintosh line ends": stl(TEXT.replace(b"\n", b"\r")),
    "tabs": stl(TEXT.replace(b"  vertex ", b"\t\tvertex\t")),
    "the mark of UTF-8 before it": stl(b"\xef\xbb\xbf" + TEXT, EITHER),
    "UTF-16": stl(TEXT.decode().encode("utf-16"), EITHER),
    "exponents": stl(TEXT.replace(b" 10", b" 1.000000E+001").replace(b" 20", b" 2.0e1").replace(b" 30", b" +30.")),
    "decimal commas": stl(TEXT.replace(b" 10", b" 10,5").replace(b" 20", b" 20,0"), Truth(must_refuse=True, words=("comma", ","))),
    "words behind the end": stl(TEXT + b"\nwritten on Tuesday\n", EITHER),
    "no end of the solid": stl(TEXT[: TEXT.rindex(b"endsolid")], EITHER),
    "cut in a face": stl(TEXT[: len(TEXT) * 2 // 3], REFUSED),
    "normals that point inwards": stl(TEXT.replace(b"normal 0 0 0", b"normal 0 0 -1")),
    "normals that are no numbers": stl(TEXT.replace(b"normal 0 0 0", b"normal nan nan nan"), EITHER),
    "a corner that is no number": stl(TEXT.replace(b"vertex 10 20 30", b"vertex 10 nan 30"), REFUSED),
    "an empty solid": stl(b"solid nothing\nendsolid nothing\n", REFUSED),
    "binary that begins with solid": stl(files.binary_stl(*BOX, header=b"solid Deckel")),
    "binary that begins with solid and facet": stl(files.binary_stl(*BOX, header=b"solid x\nfacet normal 0 0 1\n outer loop\n")),
    "colours in binary": stl(coloured(BINARY)),
    "colours in binary that begins with solid": stl(coloured(files.binary_stl(*BOX, header=b"solid COLOR=\xff\x00\x80\xff"), 0xFFFF)),
    "binary with a byte behind": stl(BINARY + b"\0", EITHER),
    "binary with a line end behind": stl(BINARY + b"\r\n", EITHER),
    "binary with a letter behind": stl(BINARY + b"made on a Tuesday by somebody", EITHER),
    "binary with faces that its count forgets": stl(files.binary_stl(*BOX, promised=10), REFUSED),
    "binary with a count of none": stl(files.binary_stl(*BOX, promised=0), REFUSED),
    "binary with fewer faces than its count": stl(files.binary_stl(*BOX, promised=13), REFUSED),
    "binary of nothing": stl(files.binary_stl(BOX[0], BOX[1][:0]), REFUSED),
    "binary with a corner that is no number": stl(BINARY[:96] + struct.pack("<f", np.nan) + BINARY[100:], REFUSED),
    "binary with noise for normals": stl(bytearray(BINARY[:84]) + b"".join(b"\xff" * 12 + BINARY[84 + 50 * k + 12 : 134 + 50 * k] for k in range(12)), EITHER),
    "faces without area beside the others": stl(files.binary_stl(*with_zero_faces(*BOX))),
    "only faces without area": stl(files.binary_stl(BOX[0], np.array([[0, 0, 1], [2, 2, 2], [0, 1, 0]])), NO_SURFACE),
    "only faces without area in text": stl(files.ascii_stl(BOX[0] * 0, BOX[1]), NO_SURFACE),
    "only lines": stl(files.binary_stl(np.outer(np.arange(12.0), [1, 2, 3]), np.arange(12).reshape(-1, 3)), NO_SURFACE),
}  # fmt: skip
