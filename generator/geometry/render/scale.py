"""How large is a part in its picture?"""

from generator.geometry.mesh import Mesh
from generator.geometry.render.camera import View, camera_for, in_scene
from generator.geometry.weld import welded

__all__ = ["mm_per_px"]


def mm_per_px(mesh: Mesh, *, view: View, size_px: tuple[int, int]) -> float:
    """Millimetres of the part that one pixel of `picture(mesh, view=view, size_px=size_px)` shows.

    The camera fits every part to its picture, so that each has a scale of its own. The projection is parallel: the
    scale holds for all lengths that lie across the line of sight.
    """
    return 1 / camera_for(in_scene(welded(mesh).mesh.vertices_mm, view), view, size_px).scale
