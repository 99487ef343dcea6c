"""What does a model look like when it is turned as a part that it is like lies?"""

from __future__ import annotations

from generator.geometry.likeness.kinds import Compared
from generator.measuring.guarded import Done, Guard
from generator.measuring.meshes_laid import mesh_in
from generator.measuring.one_mesh import Order
from generator.reading.meshes.errors import MeshError

__all__ = ["drawn_turned", "turned_picture"]


def turned_picture(order: Order, lies: Compared) -> tuple[bytes, float] | None:
    """A WebP picture from the front and how many mm one pixel shows; None where it could not be drawn."""
    with Guard() as children:
        (ended,) = children.run_all(drawn_turned, [(order, lies)])
    return ended.value if isinstance(ended, Done) else None


def drawn_turned(asked: tuple[Order, Compared]) -> tuple[bytes, float] | None:
    """The job of a guarded child. What lies mirrored is turned as the mirror image of the other: it is drawn in its own hand."""
    # The parent only names this job.
    import numpy as np  # noqa: PLC0415

    from generator.geometry.mesh import Mesh  # noqa: PLC0415
    from generator.geometry.render.encoded import encoded  # noqa: PLC0415
    from generator.geometry.render.picture import picture  # noqa: PLC0415
    from generator.geometry.render.scale import mm_per_px  # noqa: PLC0415
    from generator.geometry.render.surface import surface_of  # noqa: PLC0415
    from generator.measuring.pictures_of import SIGHTS, colour_of  # noqa: PLC0415

    order, lies = asked
    try:
        mesh = mesh_in(order)
    except MeshError:
        return None
    if mesh is None:
        return None
    flip = np.diag([-1.0 if lies.is_mirrored else 1.0, 1.0, 1.0])
    turn = flip @ np.reshape(lies.turn, (3, 3)) @ flip
    turned, sight = Mesh(vertices_mm=mesh.vertices_mm @ turn.T, faces=mesh.faces), SIGHTS["front"]
    drawn = picture(surface_of(turned), view=sight.view, size_px=sight.size_px, tint=colour_of(order.tint))
    return encoded(drawn), mm_per_px(turned, view=sight.view, size_px=sight.size_px)
