"""In which units may a model be drawn? A module of its own: what is made of a mesh hangs on it, and on no other record."""

from enum import StrEnum


class MeshUnits(StrEnum):
    """Length unit of a mesh file that carries none itself (STL, OBJ, PLY)."""

    MILLIMETRE = "mm"
    CENTIMETRE = "cm"
    METRE = "m"
    INCH = "inch"
    MICRON = "micron"
    FOOT = "foot"
