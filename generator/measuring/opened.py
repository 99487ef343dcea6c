"""Which mesh does a file hold, loaded once for all that is made of it?"""

from __future__ import annotations

from functools import cached_property

from generator.reading.meshes.errors import MeshError
from generator.reading.meshes.load import LoadedMesh, mesh_from_bytes
from generator.records.mesh_units import MeshUnits


class Opened:
    """The content of a mesh file, loaded when it is first asked for."""

    def __init__(self, content: bytes, suffix: str, units: MeshUnits | None) -> None:
        """suffix: the ending of the file's name. units: what the part says, see `load_mesh`."""
        self._content = content
        self._suffix = suffix
        self._units = units
        self._error: MeshError | None = None

    @cached_property
    def loaded(self) -> LoadedMesh:
        """Raises MeshError for anything but a whole, finite mesh."""
        if self._error:  # asked again, it is not read again
            raise self._error
        try:
            loaded = mesh_from_bytes(self._content, self._suffix, self._units)
        except MeshError as error:
            self._error = error
            raise
        self._content = b""  # nobody asks for it again, and it may be a hundred megabytes
        return loaded
