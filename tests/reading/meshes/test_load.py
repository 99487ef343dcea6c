"""Every format gives the same shape in millimetres, with its unit from the right source."""

import io
import json

import lib3mf
import numpy as np
import pytest
import trimesh

from generator.geometry.facts import DefectKind
from generator.measuring.facts_of import facts_of
from generator.measuring.opened import Opened
from generator.measuring.products import FACTS_FILE
from generator.reading.meshes.limits import MAX_FACES, MAX_FILE_BYTES
from generator.reading.meshes.load import load_mesh, mesh_from_bytes
from generator.reading.meshes.sniff import MeshFormat
from generator.reading.meshes.units import UnitSource
from generator.records.mesh_units import MeshUnits
from tests.fixtures.told import fix, refused
from tests.reading.meshes import files

BOX = files.box(10, 20, 30)
IN_METRES = files.box(0.01, 0.03, 0.02)  # y up, as glTF asks
MIXED = [*files.QUADS[:5], *files.FACES[10:]]  # five quads and two triangles
LITTLE = files.ply(*BOX, "binary_little_endian")
HEAD = LITTLE.index(b"end_header\n") + len(b"end_header\n")


def with_line_ends(content, end, head=None):
    return content[:head].replace(b"\n", end) + (content[head:] if head else b"")


ZERO = LITTLE[HEAD:].replace(b"\0\0\0\0", b"\x0a\0\0\0", 1)
"""Its first byte is that of a line end: a coordinate of 1e-44."""
UNITLESS = [
    pytest.param(".ply", with_line_ends(files.ply(*BOX), b"\r"), MeshFormat.PLY, id="ASCII PLY, old line ends"),
    pytest.param(".ply", with_line_ends(files.ply(*BOX), b"\r\n"), MeshFormat.PLY, id="ASCII PLY, Windows line ends"),
    pytest.param(".ply", with_line_ends(LITTLE, b"\r", HEAD), MeshFormat.PLY, id="PLY, old line ends"),
    pytest.param(".ply", with_line_ends(LITTLE, b"\r\n", HEAD), MeshFormat.PLY, id="PLY, Windows line ends"),
    pytest.param(".ply", with_line_ends(LITTLE[:HEAD], b"\r") + ZERO, MeshFormat.PLY, id="PLY, old line ends, then the byte of a new one"),
    pytest.param(".ply", LITTLE[:HEAD] + ZERO, MeshFormat.PLY, id="PLY that begins with the byte of a line end"),
    pytest.param(".ply", b"PLY" + LITTLE[3:], MeshFormat.PLY, id="PLY in capitals"),
    pytest.param(".ply", LITTLE + b"\n", MeshFormat.PLY, id="PLY with a line end after its values"),
    pytest.param(".ply", LITTLE + b"\r\n", MeshFormat.PLY, id="PLY with a Windows line end after its values"),
    pytest.param(".stl", files.binary_stl(*BOX), MeshFormat.STL_BINARY, id="binary STL"),
    pytest.param(".stl", files.binary_stl(*BOX, header=b"solid by some programs"), MeshFormat.STL_BINARY,
                 id="binary STL that begins like text"),
    pytest.param(".STL", files.ascii_stl(*BOX), MeshFormat.STL_ASCII, id="ASCII STL"),
    pytest.param(".stl", files.ascii_stl(*BOX).upper().replace(b"\n", b"\r\n"), MeshFormat.STL_ASCII,
                 id="ASCII STL in capitals with Windows line ends"),
    pytest.param(".obj", files.obj(*BOX), MeshFormat.OBJ, id="OBJ"),
    pytest.param(".obj", files.obj(BOX[0], files.QUADS), MeshFormat.OBJ, id="OBJ of quads"),
    pytest.param(".ply", files.ply(*BOX), MeshFormat.PLY, id="ASCII PLY"),
    pytest.param(".ply", files.ply(BOX[0], files.QUADS, "binary_little_endian"), MeshFormat.PLY, id="PLY of quads"),
    pytest.param(".ply", files.ply(*BOX, "binary_big_endian"), MeshFormat.PLY, id="PLY big endian"),
    pytest.param(".ply", files.ply(BOX[0], MIXED, "binary_little_endian"), MeshFormat.PLY, id="PLY mixed"),
    pytest.param(".ply", files.ply(BOX[0], MIXED), MeshFormat.PLY, id="ASCII PLY mixed"),
    pytest.param(".obj", files.obj(BOX[0], MIXED), MeshFormat.OBJ, id="OBJ mixed"),
]  # fmt: skip
OWN_UNITS = [
    pytest.param(".3mf", files.threemf_box(10, 20, 30), MeshUnits.MILLIMETRE, UnitSource.FILE, id="3MF"),
    pytest.param(".glb", files.glb(*IN_METRES), MeshUnits.METRE, UnitSource.STANDARD, id="GLB"),
    pytest.param(".step", files.STEP_BOX, MeshUnits.MILLIMETRE, UnitSource.FILE, id="STEP"),
    pytest.param(".STP", files.STEP_BOX, MeshUnits.MILLIMETRE, UnitSource.FILE, id="STP"),
]


def size(mesh):
    return np.ptp(mesh.vertices_mm, axis=0)


@pytest.mark.parametrize(("suffix", "content", "found"), UNITLESS)
def test_a_format_without_unit_is_in_millimetres_unless_the_part_says_otherwise(suffix, content, found):
    assumed = mesh_from_bytes(content, suffix, None)
    assert (assumed.format, assumed.units, assumed.unit_source) == (found, "mm", UnitSource.ASSUMED)
    assert size(assumed.mesh) == pytest.approx([10, 20, 30])
    assert files.volume(assumed.mesh) == pytest.approx(6000)
    # 25.4 mm exactly: international yard and pound agreement, 1959
    given = mesh_from_bytes(content, suffix, MeshUnits.INCH)
    assert given.unit_source is UnitSource.GIVEN
    assert size(given.mesh) == pytest.approx([254, 508, 762])


@pytest.mark.parametrize(("suffix", "content", "own", "source"), OWN_UNITS)
def test_a_format_with_its_own_unit_keeps_it(suffix, content, own, source):
    loaded = mesh_from_bytes(content, suffix, None)
    assert (loaded.units, loaded.unit_source) == (own, source)
    assert size(loaded.mesh) == pytest.approx([10, 20, 30], rel=1e-6)
    assert files.volume(loaded.mesh) == pytest.approx(6000, rel=1e-6)
    assert files.volume(mesh_from_bytes(content, suffix, own).mesh) == pytest.approx(6000, rel=1e-6)
    with refused(r"mesh_units: inch, but .* carries its own unit"):
        mesh_from_bytes(content, suffix, MeshUnits.INCH)


@pytest.mark.parametrize(
    ("units", "mm"),
    # SI prefixes; inch and foot of the 1959 agreement
    [("mm", 1), ("cm", 10), ("m", 1000), ("micron", 0.001), ("inch", 25.4), ("foot", 304.8)],
)
def test_every_unit_of_the_part_scales(units, mm):
    loaded = mesh_from_bytes(files.binary_stl(*BOX), ".stl", MeshUnits(units))
    assert size(loaded.mesh) == pytest.approx(np.array([10, 20, 30]) * mm)


REFERENCE = trimesh.creation.annulus(r_min=5, r_max=12, height=8, sections=48)


@pytest.mark.parametrize("kind", ["stl", "stl_ascii", "obj", "ply", "glb", "3mf"])
def test_a_tube_written_by_a_reference_library_keeps_its_volume(kind):
    """trimesh writes each format; its own measure of the volume is the check."""
    written = REFERENCE.export(file_type=kind)
    content = written.encode() if isinstance(written, str) else written
    loaded = mesh_from_bytes(content, "." + kind.removesuffix("_ascii"), None)
    scale = 1000 if kind == "glb" else 1
    assert len(loaded.mesh.faces) == len(REFERENCE.faces)
    assert files.volume(loaded.mesh) == pytest.approx(REFERENCE.volume * scale**3, rel=1e-5)


def test_a_package_written_by_the_consortium_s_library_keeps_its_volume(tmp_path):
    """lib3mf is the reference implementation of the 3MF Consortium."""
    model = lib3mf.get_wrapper().CreateModel()
    model.SetUnit(lib3mf.ModelUnit.Inch)
    thing = model.AddMeshObject()
    vertices, faces = files.box(1, 2, 3)
    for corner in vertices:
        thing.AddVertex(lib3mf.Position(tuple(corner)))
    for face in faces:
        thing.AddTriangle(lib3mf.Triangle(tuple(int(i) for i in face)))
    model.AddBuildItem(thing, lib3mf.get_wrapper().GetTranslationTransform(4, 5, 6))
    path = tmp_path / "model.3mf"
    model.QueryWriter("3mf").WriteToFile(str(path))
    loaded = load_mesh(path, None)
    assert loaded.units is MeshUnits.INCH
    assert files.volume(loaded.mesh) == pytest.approx(6 * 25.4**3, rel=1e-6)
    assert loaded.mesh.vertices_mm.min(axis=0) == pytest.approx(np.array([4, 5, 6]) * 25.4, rel=1e-6)


def test_zero_area_inverted_and_open_shells_load_as_they_are():
    """They are facts about the part, told by the measuring; dropping them here would hide them."""
    vertices, faces = BOX
    odd = np.array([[0, 0, 1], [0, 1, 1]])
    loaded = mesh_from_bytes(files.binary_stl(vertices, np.vstack([faces, odd])), ".stl", None)
    assert len(loaded.mesh.faces) == 14
    inverted = mesh_from_bytes(files.binary_stl(vertices, faces[:, ::-1]), ".stl", None)
    assert files.volume(inverted.mesh) == pytest.approx(-6000)
    assert len(mesh_from_bytes(files.ascii_stl(vertices, faces[:-1]), ".stl", None).mesh.faces) == 11


def test_the_same_file_gives_the_same_bytes():
    one, two = (mesh_from_bytes(files.step_box(3, 4, 5), ".step", None) for _ in range(2))
    assert one.mesh.vertices_mm.tobytes() == two.mesh.vertices_mm.tobytes()
    assert one.mesh.faces.tobytes() == two.mesh.faces.tobytes()


class TestTheFileItself:
    def test_a_missing_file(self, tmp_path):
        with refused("cannot be read: no such file"):
            load_mesh(tmp_path / "model.stl", None)

    def test_a_folder_in_its_place(self, tmp_path):
        (tmp_path / "model.stl").mkdir()
        with refused("this is not a file"):
            load_mesh(tmp_path / "model.stl", None)

    def test_a_link_out_of_the_folder_is_not_followed(self, tmp_path):
        (tmp_path / "elsewhere.stl").write_bytes(files.binary_stl(*BOX))
        (tmp_path / "part").mkdir()
        link = tmp_path / "part" / "model.stl"
        link.symlink_to("../elsewhere.stl")
        with refused("leads out of the part's folder"):
            load_mesh(link, None)

    def test_a_link_within_the_folder_is_followed(self, tmp_path):
        (tmp_path / "old-name.stl").write_bytes(files.binary_stl(*BOX))
        link = tmp_path / "model.stl"
        link.symlink_to("old-name.stl")
        assert len(load_mesh(link, None).mesh.faces) == 12

    def test_a_pipe_is_not_waited_for(self, tmp_path):
        import os

        if not hasattr(os, "mkfifo"):
            pytest.skip("no named pipes on this system")
        os.mkfifo(tmp_path / "model.stl")
        with refused("this is not a file"):
            load_mesh(tmp_path / "model.stl", None)

    def test_a_file_over_the_cap_is_not_read(self, tmp_path):
        path = tmp_path / "model.stl"
        with path.open("wb") as stream:  # sparse: it takes no room
            stream.truncate(97 * 1024**2)
        with refused("97 MB, more than the 96 MB") as caught:
            load_mesh(path, None)
        assert "decimate" in fix(caught.value.problem)


def noted(content, suffix):
    return {each.kind: each.count for each in mesh_from_bytes(content, suffix, None).notes}


@pytest.mark.parametrize("extra", ["head", "middle", "few at the end", "one of many"])
def test_corners_of_an_obj_that_no_face_uses_are_told(extra):
    """Markers of an origin, axes, and a cloud of points before the faces: habits of exporters, nothing is cut short."""
    vertices, faces = BOX
    if extra == "head":
        content = files.obj(np.vstack([np.ones((40, 3)), vertices]), faces + 40)
    elif extra == "middle":
        content = files.obj(vertices, faces) + b"v 1 2 3\n" * 20 + files.obj(vertices + 50, faces + 28)
    elif extra == "few at the end":
        content = files.obj(np.vstack([vertices, [[0, 0, 0], [1, 1, 1]]]), faces)
    else:
        many = np.vstack([vertices + np.array([0, 0, 40 * i]) for i in range(60)])
        content = files.obj(np.vstack([many, np.zeros((4, 3))]), np.vstack([faces + 8 * i for i in range(60)]))
    expected = {"head": 40, "middle": 20, "few at the end": 2, "one of many": 4}[extra]
    assert noted(content, ".obj") == {DefectKind.UNUSED_CORNERS: expected}
    assert noted(files.obj(*BOX), ".obj") == {}


def test_help_for_the_printer_is_left_out_and_told():
    """3MF Core Specification 1.4, 4.1: an object of type support or other is not the part."""
    part, help_ = files.threemf_object(*BOX), files.threemf_object(*files.box(3, 3, 90), number=2, kind="support")
    inner = '<object id="3"><components><component objectid="1"/><component objectid="2"/></components></object>'
    for build in ('<item objectid="1"/><item objectid="2"/>', '<item objectid="3"/>'):
        content = files.threemf(files.threemf_model(part + help_ + inner, build))
        loaded = mesh_from_bytes(content, ".3mf", None)
        assert files.volume(loaded.mesh) == pytest.approx(6000)
        assert noted(content, ".3mf") == {DefectKind.LEFT_OUT: 1}
        made = facts_of(Opened(content, ".3mf", None))
        assert json.loads(made[FACTS_FILE])["facts"]["defects"] == {"left_out": 1}


def test_a_binary_stl_ends_at_two_million_triangles_like_every_form(tmp_path):
    """And not at the size of its file: its 50 bytes a triangle are the most of all binary forms."""
    assert MAX_FILE_BYTES >= 84 + 50 * MAX_FACES
    path = tmp_path / "model.stl"
    with path.open("wb") as stream:  # sparse: it takes no room
        stream.write(b" " * 80 + (MAX_FACES + 1).to_bytes(4, "little"))
        stream.truncate(84 + 50 * (MAX_FACES + 1))
    with refused("2,000,001 triangles, more than the 2,000,000"):
        load_mesh(path, None)


@pytest.mark.slow
def test_two_million_faces_load_and_one_more_is_refused():
    """The largest mesh that is read, as binary PLY (38 MB), and a header that promises one face more."""
    side = 1001
    grid = np.arange(side * side).reshape(side, side)
    a, b, c, d = (grid[i : i + 1000, j : j + 1000].ravel() for i, j in ((0, 0), (1, 0), (1, 1), (0, 1)))
    rows = np.zeros(2_000_000, dtype=[("n", "u1"), ("v", "<i4", 3)])
    rows["n"], rows["v"] = 3, np.concatenate([np.column_stack([a, b, c]), np.column_stack([a, c, d])])
    points = np.zeros((side * side, 3), "<f4")
    points[:, 0], points[:, 1] = np.divmod(np.arange(side * side), side)
    head = (
        "ply\nformat binary_little_endian 1.0\nelement vertex {}\nproperty float x\nproperty float y\n"
        "property float z\nelement face {}\nproperty list uchar int vertex_indices\nend_header\n"
    )
    body = points.tobytes() + rows.tobytes()
    loaded = mesh_from_bytes(head.format(len(points), 2_000_000).encode() + body, ".ply", None)
    assert loaded.mesh.faces.shape == (2_000_000, 3)
    with refused("2,000,001 triangles, more than the 2,000,000"):
        mesh_from_bytes(head.format(len(points), 2_000_001).encode() + body, ".ply", None)


def test_trimesh_reads_our_hand_made_files_alike():
    """The writers of these tests are themselves checked by a reference library."""
    for kind, content in {
        "stl": files.binary_stl(*BOX), "obj": files.obj(*BOX), "ply": files.ply(*BOX),
        "glb": files.glb(*BOX), "3mf": files.threemf_box(10, 20, 30),
    }.items():  # fmt: skip
        assert trimesh.load_mesh(io.BytesIO(content), file_type=kind).volume == pytest.approx(6000), kind
