"""GLB as the Khronos glTF 2.0 specification (2021) asks."""

import base64

import numpy as np
import pytest

from generator.reading.meshes.load import mesh_from_bytes
from tests.reading.meshes import files

BOX = files.box(1, 2, 3)


def loaded(content):
    return mesh_from_bytes(content, ".glb", None).mesh


def extent(mesh):
    """The box in the file's own axes and metres: the reader turns y up (clause 3.4) into z up."""
    x, y, z = mesh.vertices_mm.T / 1000
    corners = np.column_stack((x, z, -y))
    return np.vstack([corners.min(axis=0), corners.max(axis=0)])


def test_what_stands_up_in_the_file_stands_up_on_the_plate():
    """Clause 3.4: +Y is up; here z is."""
    x, y, z = loaded(files.glb(*files.box(1, 9, 2))).vertices_mm.T
    assert np.ptp(z) == pytest.approx(9000)
    assert (np.ptp(x), np.ptp(y)) == pytest.approx((1000, 2000))


def test_lengths_are_metres():
    """Clause 3.4: the units for all linear distances are meters."""
    assert extent(loaded(files.glb(*BOX))) == pytest.approx(np.array([[0, 0, 0], [1, 2, 3]]))


QUARTER = [0, 0, np.sqrt(0.5), np.sqrt(0.5)]  # a quarter turn about z


@pytest.mark.parametrize(
    ("node", "expected"),
    [
        pytest.param({"translation": [5, 6, 7]}, [[5, 6, 7], [6, 8, 10]], id="moved"),
        pytest.param({"scale": [2, 1, 1]}, [[0, 0, 0], [2, 2, 3]], id="stretched"),
        pytest.param({"rotation": QUARTER}, [[-2, 0, 0], [0, 1, 3]], id="turned"),
        pytest.param({"translation": [9, 0, 0], "rotation": QUARTER, "scale": [3, 1, 1]}, [[7, 0, 0], [9, 3, 3]],
                     id="stretched, then turned, then moved: T R S of clause 3.5.3"),
        pytest.param({"matrix": [0, 1, 0, 0, -1, 0, 0, 0, 0, 0, 1, 0, 9, 0, 0, 1]}, [[7, 0, 0], [9, 1, 3]],
                     id="column-major matrix"),
        pytest.param({"scale": [-1, 1, 1]}, [[-1, 0, 0], [0, 2, 3]], id="mirrored"),
    ],
)  # fmt: skip
def test_a_node_places_its_mesh(node, expected):
    mesh = loaded(files.glb(*BOX, nodes=[{"mesh": 0, **node}]))
    assert extent(mesh) == pytest.approx(np.array(expected, dtype=float), abs=1e-6)
    assert files.volume(mesh) > 0  # a mirrored mesh is turned round (clause 3.7.4)


def test_nodes_within_nodes_and_one_mesh_twice():
    nodes = [{"children": [1, 2], "translation": [1, 0, 0]}, {"mesh": 0, "scale": [2, 2, 2]}, {"mesh": 0}]
    mesh = loaded(files.glb(*BOX, nodes=nodes))
    assert len(mesh.faces) == 24
    assert files.volume(mesh) == pytest.approx(6e9 * 9)
    assert extent(mesh) == pytest.approx(np.array([[1, 0, 0], [3, 4, 6]]))


def test_only_the_chosen_scene_is_read():
    nodes = [{"mesh": 0}, {"mesh": 0, "scale": [2, 2, 2]}]
    scenes = [{"nodes": [0]}, {"nodes": [1]}]
    assert files.volume(loaded(files.glb(*BOX, nodes=nodes, scenes=scenes, scene=1))) == pytest.approx(48e9)
    assert files.volume(loaded(files.glb(*BOX, nodes=nodes, scenes=[]))) == pytest.approx(54e9)


@pytest.mark.parametrize(("mode", "expected"), [(5, [[0, 1, 2], [1, 3, 2]]), (6, [[1, 2, 0], [2, 3, 0]])])
def test_strips_and_fans_give_the_triangles_of_clause_3_7_2_1(mode, expected):
    """Strip: p(i) = v(i), v(i+1+i%2), v(i+2-i%2). Fan: p(i) = v(i+1), v(i+2), v(0)."""
    primitive = {"attributes": {"POSITION": 0}, "indices": 1, "mode": mode}
    mesh = loaded(files.glb(BOX[0], np.arange(4), meshes=[{"primitives": [primitive]}]))
    assert mesh.faces.tolist() == expected


def test_points_and_lines_have_no_surface():
    primitives = [{"attributes": {"POSITION": 0}, "indices": 1, "mode": mode} for mode in (0, 1, 4)]
    assert len(loaded(files.glb(*BOX, meshes=[{"primitives": primitives}])).faces) == 12


def test_interleaved_corners_and_a_buffer_written_into_the_description():
    rows = np.zeros(8, dtype=[("p", "<f4", 3), ("n", "<f4", 3)])
    rows["p"] = BOX[0]
    order = BOX[1].astype("u1").tobytes()
    uri = "data:application/octet-stream;base64," + base64.b64encode(order).decode()
    tree = {
        "nodes": [{"mesh": 0}],
        "meshes": [{"primitives": [{"attributes": {"POSITION": 0}, "indices": 1}]}],
        "accessors": [
            {"bufferView": 0, "componentType": 5126, "count": 8, "type": "VEC3"},
            {"bufferView": 1, "componentType": 5121, "count": 36, "type": "SCALAR"},
        ],
        "bufferViews": [{"buffer": 0, "byteLength": 192, "byteStride": 24}, {"buffer": 1, "byteLength": 36}],
        "buffers": [{"byteLength": 192}, {"byteLength": 36, "uri": uri}],
    }
    assert files.volume(loaded(files.packed_glb(tree, rows.tobytes()))) == pytest.approx(6e9)


def test_quantised_corners():
    """KHR_mesh_quantization: normalized shorts are divided by 32767."""
    points = np.zeros((8, 4), "<i2")
    points[:, :3] = np.round(BOX[0] / 3 * 32767)
    order = BOX[1].astype("<u2").tobytes()
    tree = {
        "extensionsRequired": ["KHR_mesh_quantization"],
        "nodes": [{"mesh": 0, "scale": [3, 3, 3]}],
        "meshes": [{"primitives": [{"attributes": {"POSITION": 0}, "indices": 1}]}],
        "accessors": [
            {"bufferView": 0, "componentType": 5122, "count": 8, "type": "VEC3", "normalized": True},
            {"bufferView": 1, "componentType": 5123, "count": 36, "type": "SCALAR"},
        ],
        "bufferViews": [
            {"buffer": 0, "byteLength": 64, "byteStride": 8},
            {"buffer": 0, "byteOffset": 64, "byteLength": 72},
        ],
        "buffers": [{"byteLength": 136}],
    }
    assert files.volume(loaded(files.packed_glb(tree, points.tobytes() + order))) == pytest.approx(6e9, rel=1e-3)


def test_a_picture_beside_the_file_is_not_missed():
    assert len(loaded(files.glb(*BOX, images=[{"uri": "colours.png"}])).faces) == 12
