"""The one place where these cases touch the code under test: who renames something there mends it here."""

from collections.abc import Iterable
from functools import cache

from generator.geometry.mesh import Mesh
from tests.geometry.likeness.unseen_parts import part

WORDS = ("SAME", "SCALED", "OTHER_HAND", "SIMILAR", "OTHER")


def described(mesh: Mesh):
    """None where the mesh has no area."""
    from generator.geometry.likeness.descriptor import described as of_surface
    from generator.geometry.likeness.surface import surface_of

    surface = surface_of(mesh)
    return of_surface(surface) if surface else None


@cache
def known(name: str):
    return described(part(name))


def nearest(mesh: Mesh, names: Iterable[str]) -> list[tuple[str, float, float]]:
    """Name, distance and size ratio (asked / known) of each known part, the nearest first; the known ones as they are kept."""
    from generator.geometry.likeness.nearest import nearest as found

    every, _ = _kept()
    return [(near.name, near.distance, near.size_ratio) for near in found(described(mesh), {name: every[name] for name in names})]


@cache
def _kept():
    from tests.geometry.likeness.kept import read

    return read()


def compared(asked: Mesh, with_: Mesh) -> tuple[str, float | None, float | None]:
    """One of WORDS, the surface distance in mm and the size ratio (asked / known)."""
    from generator.geometry.likeness.aligned import compared as held

    answer = held(asked, with_)
    return answer.kind.name, answer.distance_mm, answer.ratio
