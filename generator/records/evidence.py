"""A file that proves something, bound to its bytes."""

from generator.records.base import Line, Record, RelativeFile, Sha256


class Evidence(Record):
    """A file in the part's folder, bound by its SHA-256."""

    file: RelativeFile
    sha256: Sha256
    title: Line | None = None
