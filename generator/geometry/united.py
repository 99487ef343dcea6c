"""Which closed surface do solids have that share space?"""

import manifold3d
import numpy as np

from generator.geometry.mesh import Mesh

__all__ = ["united"]

# Uniting takes half a second for 100,000 faces; more that also share space are no part of a vehicle.
MOST_FACES = 400_000
MOST_SOLIDS = 500


def united(solids: list[Mesh]) -> Mesh | None:
    """The surface of all that one of the solids fills; None where it cannot be made.

    solids: each closed, wound outwards, its cavities inwards. manifold3d computes in double precision and
    always gives a closed surface (Smith, "Towards topologically robust mesh operations", 2021).
    """
    if len(solids) > MOST_SOLIDS or sum(len(each.faces) for each in solids) > MOST_FACES:
        return None
    middle = np.mean([each.vertices_mm.mean(axis=0) for each in solids], axis=0)
    parts = [
        manifold3d.Manifold(
            manifold3d.Mesh64(
                vert_properties=np.ascontiguousarray(each.vertices_mm - middle),
                tri_verts=np.ascontiguousarray(each.faces, dtype=np.uint64),
            )
        )
        for each in solids
    ]
    if any(part.status() != manifold3d.Error.NoError for part in parts):
        return None
    whole = manifold3d.Manifold.batch_boolean(parts, manifold3d.OpType.Add)
    if whole.status() != manifold3d.Error.NoError or whole.is_empty():
        return None
    mesh = whole.to_mesh64()
    return Mesh(
        vertices_mm=np.asarray(mesh.vert_properties)[:, :3] + middle,
        faces=np.asarray(mesh.tri_verts).astype(np.int64),
    )
