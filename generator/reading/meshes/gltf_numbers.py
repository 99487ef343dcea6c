"""Which numbers stand behind an accessor of a GLB file?"""

from __future__ import annotations

import base64
import binascii
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from generator.reading.meshes.errors import EXPORT_STL, SAVE_AGAIN, unusable
from generator.reading.meshes.gltf_tree import Accessor, BufferView, GltfTree, numbered
from generator.reading.meshes.limits import check_vertex_count

# Component types (glTF 2.0, clause 3.6.2.2).
_COMPONENTS: Final = {5120: "i1", 5121: "u1", 5122: "<i2", 5123: "<u2", 5125: "<u4", 5126: "<f4"}
_WIDTHS: Final = {"SCALAR": 1, "VEC3": 3}


@dataclass(frozen=True, slots=True, kw_only=True)
class GltfFile:
    """The description of a GLB file and the numbers that follow it."""

    tree: GltfTree
    binary: bytes


def positions(file: GltfFile, number: int) -> NDArray[np.float64]:
    """Give corners as (n, 3) float64; whole numbers are scaled as KHR_mesh_quantization says."""
    accessor = numbered(file.tree.accessors, number, "accessor")
    if accessor.type != "VEC3":
        raise unusable("glb corners no triples", EXPORT_STL)
    values = _values(file, accessor)
    vertices = values.astype(np.float64)
    if accessor.normalized and values.dtype.kind in "iu":
        vertices = np.maximum(vertices / np.iinfo(values.dtype).max, -1.0)
    return vertices


def indices(file: GltfFile, number: int) -> NDArray[np.int64]:
    """Give the numbers of corners, (n,)."""
    accessor = numbered(file.tree.accessors, number, "accessor")
    if accessor.type != "SCALAR" or accessor.componentType not in (5121, 5123, 5125):
        raise unusable("glb corners not numbered", EXPORT_STL)
    return _values(file, accessor).reshape(-1).astype(np.int64)


def _values(file: GltfFile, accessor: Accessor) -> NDArray[Any]:
    """Read (count, width) values with the stride of their view (clause 3.6.2.4)."""
    component = _COMPONENTS.get(accessor.componentType)
    if component is None:
        raise unusable("glb number kind", SAVE_AGAIN, kind=accessor.componentType)
    check_vertex_count(accessor.count)
    if accessor.sparse is not None:
        raise unusable("glb sparse", EXPORT_STL)
    if accessor.bufferView is None:  # all zeros by the specification: no shape worth having
        raise unusable("glb no numbers", EXPORT_STL)
    view, body = _view(file, accessor.bufferView)
    kind, width = np.dtype(component), _WIDTHS[accessor.type]
    stride = view.byteStride or kind.itemsize * width
    needed = accessor.byteOffset + stride * (accessor.count - 1) + kind.itemsize * width
    if needed > len(body):
        raise unusable("glb numbers cut off", SAVE_AGAIN, promised=needed, held=len(body))
    shape, strides = (accessor.count, width), (stride, kind.itemsize)
    return np.ndarray(shape, kind, body, accessor.byteOffset, strides).copy()


def _view(file: GltfFile, number: int) -> tuple[BufferView, bytes]:
    view = numbered(file.tree.bufferViews, number, "bufferView")
    whole = _buffer(file, view.buffer)
    if view.byteOffset + view.byteLength > len(whole):
        raise unusable("glb view cut off", SAVE_AGAIN)
    return view, whole[view.byteOffset : view.byteOffset + view.byteLength]


def _buffer(file: GltfFile, number: int) -> bytes:
    uri = numbered(file.tree.buffers, number, "buffer").uri
    if uri is None and number == 0:  # the binary chunk (clause 4.4.3)
        return file.binary
    if uri is None or not uri.startswith("data:") or ";base64," not in uri[:200]:
        raise unusable("glb shape elsewhere")
    try:
        return base64.b64decode(uri.partition(";base64,")[2], validate=True)
    except binascii.Error:
        raise unusable("glb data broken", SAVE_AGAIN) from None
