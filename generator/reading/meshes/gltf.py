"""Which triangles does a GLB file hold, placed as its scene places them?"""

from __future__ import annotations

import struct
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from generator.reading.meshes.errors import EXPORT_STL, SAVE_AGAIN, unusable
from generator.reading.meshes.gltf_numbers import GltfFile, indices, positions
from generator.reading.meshes.gltf_tree import GltfTree, Node, Primitive, Quaternion, gltf_tree, numbered
from generator.reading.meshes.limits import MAX_NESTING, check_face_count
from generator.reading.meshes.outside import leads_outside
from generator.reading.meshes.soup import Triangles, joined, placed

# Clause numbers are those of the Khronos glTF 2.0 specification (2021).
_HEADER: Final = struct.Struct("<4sII")
_CHUNK: Final = struct.Struct("<I4s")

# Required extensions that change no shape, or only how coordinates are stored in a way read here.
_HARMLESS: Final = ("KHR_materials_", "KHR_texture_", "KHR_lights_", "KHR_mesh_quantization", "EXT_texture_")
_SHAPES: Final = frozenset({"EXT_mesh_gpu_instancing"})  # changes the shape even where it is optional
_TRIANGLES, _STRIP, _FAN = 4, 5, 6  # clause 3.7.2.1; points and lines (0 to 3) have no surface


def glb(content: bytes) -> Triangles:
    """Read the triangles of a GLB file in metres, nodes placed by their transforms, standing with z up.

    glTF has y up (clause 3.4), a printer's plate z: (x, y, z) becomes (x, -z, y). Nothing outside the
    file is ever opened. Raises MeshError for a length that does not fit, data that lies outside, an
    unknown required extension, a posed or morphed shape.
    """
    found = scene(opened(content))
    x, y, z = found.vertices.T
    return Triangles(vertices=np.column_stack((x, -z, y)), faces=found.faces)


def opened(content: bytes) -> GltfFile:
    """Read the description of a GLB file and check that all it needs lies inside; raises MeshError."""
    chunks = list(_chunks(content))
    if not chunks or chunks[0][0] != b"JSON":
        raise unusable("glb without description", SAVE_AGAIN)
    tree = gltf_tree(chunks[0][1])
    _check_extensions(tree)
    _check_outside(tree)
    binary = next((body for kind, body in chunks if kind == b"BIN\0"), b"")
    return GltfFile(tree=tree, binary=binary)


def scene(file: GltfFile) -> Triangles:
    """Put the surfaces of the scene in their places; raises MeshError for what is no whole surface."""
    return joined(_pieces(file))


def _chunks(content: bytes) -> Iterator[tuple[bytes, bytes]]:
    """Give kind and bytes of each chunk (clause 4.4)."""
    if len(content) < _HEADER.size:
        raise unusable("glb header cut off", SAVE_AGAIN, bytes=len(content))
    _, version, length = _HEADER.unpack_from(content)
    if version != 2:
        raise unusable("glb version", EXPORT_STL, version=version)
    if length != len(content):
        raise unusable("glb cut off", SAVE_AGAIN, held=len(content), promised=length)
    at = _HEADER.size
    while at < length:
        if at + _CHUNK.size > length:
            raise unusable("glb chunk cut off", SAVE_AGAIN)
        size, kind = _CHUNK.unpack_from(content, at)
        at += _CHUNK.size
        if at + size > length:
            raise unusable("glb chunk too long", SAVE_AGAIN)
        yield kind, content[at : at + size]
        at += size


def _check_extensions(tree: GltfTree) -> None:
    for name in [*tree.extensionsRequired, *(name for name in tree.extensionsUsed if name in _SHAPES)]:
        if name.startswith(_HARMLESS):
            continue
        if "draco" in name.lower() or "meshopt" in name.lower():
            raise unusable("glb compressed", name=name[:60])
        raise unusable("glb extension", EXPORT_STL, name=name[:60])


def _check_outside(tree: GltfTree) -> None:
    """Buffers must be inside the file; pictures are never opened, but may not point elsewhere either."""
    for number, buffer in enumerate(tree.buffers):
        if buffer.uri is not None and not buffer.uri.startswith("data:"):
            raise unusable("glb buffer elsewhere", number=number, target=buffer.uri[:80])
    for image in tree.images:
        if image.uri is not None and not image.uri.startswith("data:") and leads_outside(image.uri):
            raise unusable("glb picture outside", target=image.uri[:80])


def _pieces(file: GltfFile) -> list[Triangles]:
    """Place every surface of the scene; many small parts that name one large mesh are stopped in time."""
    pieces: list[Triangles] = []
    faces = 0
    for node, matrix in _placed_nodes(file.tree):
        for piece in _node_pieces(file, node):
            faces += len(piece.faces)
            check_face_count(faces)
            pieces.append(placed(piece, matrix))
    return pieces


@dataclass(frozen=True, slots=True)
class _Visit:
    number: int
    matrix: NDArray[np.float64]
    depth: int


def _placed_nodes(tree: GltfTree) -> Iterator[tuple[Node, NDArray[np.float64]]]:
    """Walk the scene from its roots; nodes form a strict tree, so each is met once (clause 3.5.2)."""
    waiting = [_Visit(number, np.eye(4), 0) for number in reversed(_roots(tree))]
    seen: set[int] = set()
    while waiting:
        visit = waiting.pop()
        node = numbered(tree.nodes, visit.number, "node")
        if visit.number in seen or visit.depth > MAX_NESTING:
            raise unusable("glb node twice", EXPORT_STL, number=visit.number)
        seen.add(visit.number)
        matrix = visit.matrix @ _matrix(node)
        yield node, matrix
        waiting += [_Visit(child, matrix, visit.depth + 1) for child in reversed(node.children)]


def _roots(tree: GltfTree) -> list[int]:
    """Give the nodes of the chosen scene, of the first one, or without scenes all that are nobody's child."""
    if tree.scenes:
        return numbered(tree.scenes, tree.scene, "scene").nodes
    children = {child for node in tree.nodes for child in node.children}
    return [number for number in range(len(tree.nodes)) if number not in children]


def _matrix(node: Node) -> NDArray[np.float64]:
    """Give the (4, 4) local transform: a column-major matrix, or T·R·S (clause 3.5.3)."""
    if node.matrix is not None:
        return np.array(node.matrix, dtype=np.float64).reshape(4, 4).T
    matrix = np.eye(4)
    matrix[:3, :3] = _rotation(node.rotation) * np.array(node.scale)
    matrix[:3, 3] = node.translation
    return matrix


def _rotation(quaternion: Quaternion) -> NDArray[np.float64]:
    length = float(np.linalg.norm(quaternion))
    if length == 0.0:
        raise unusable("glb turned by nothing", EXPORT_STL)
    x, y, z, w = (value / length for value in quaternion)
    return np.array([
        [1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
        [2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
        [2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)],
    ])  # fmt: skip


def _node_pieces(file: GltfFile, node: Node) -> Iterator[Triangles]:
    if node.mesh is None:
        return
    mesh = numbered(file.tree.meshes, node.mesh, "mesh")
    weights = mesh.weights if node.weights is None else node.weights
    if node.skin is not None or any(weights):
        raise unusable("glb posed", EXPORT_STL)
    for primitive in mesh.primitives:
        if primitive.mode in (_TRIANGLES, _STRIP, _FAN):
            yield _surface(file, primitive)


def _surface(file: GltfFile, primitive: Primitive) -> Triangles:
    number = primitive.attributes.get("POSITION")
    if number is None:
        raise unusable("glb without positions", EXPORT_STL)
    vertices = positions(file, number)
    if primitive.indices is None:
        order = np.arange(len(vertices), dtype=np.int64)
    else:
        order = indices(file, primitive.indices)
    faces = _faces(order, primitive.mode)
    if int(faces.max()) >= len(vertices):
        raise unusable("glb corner missing", SAVE_AGAIN, corner=int(faces.max()), corners=len(vertices))
    return Triangles(vertices=vertices, faces=faces)


def _faces(order: NDArray[np.int64], mode: int) -> NDArray[np.int64]:
    """Give (m, 3) faces from the run of corners; strips turn every second triangle round (3.7.2.1)."""
    if len(order) < 3 or (mode == _TRIANGLES and len(order) % 3):
        raise unusable("glb corners left over", SAVE_AGAIN, corners=len(order))
    if mode == _TRIANGLES:
        return order.reshape(-1, 3)
    if mode == _FAN:
        return np.column_stack([order[1:-1], order[2:], np.full(len(order) - 2, order[0])])
    here = np.arange(len(order) - 2)
    odd = here % 2
    return np.column_stack([order[here], order[here + 1 + odd], order[here + 2 - odd]])
