"""A file that has to be there, read whole or refused in one sentence."""

from pathlib import Path

from generator.edge.refusals import disk_refusal


def bytes_of(file: Path) -> bytes:
    """Raises Refusal."""
    try:
        return file.read_bytes()
    except OSError as error:
        raise disk_refusal(error, "reading", file) from error
