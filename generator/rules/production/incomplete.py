"""What is there and could not be read, so that a list made of these records is short of it? Whoever lists must say so."""

import hashlib
from collections.abc import Collection

from generator.records.fitted import Gap
from generator.records.production import Production


def gaps_of(production: Production, *, parts: Collection[str] | None = None, recalls: bool = True) -> tuple[Gap, ...]:
    """Lines of fitted/, then records of lots, batches and recalls.

    parts: of records only those that may speak of these. recalls: False where it does not matter what else is called back.
    """
    files = (
        file
        for file, part in production.unread.items()
        if (parts is None or part is None or part in parts) and (recalls or not file.startswith("recalls/"))
    )
    return (*production.gaps, *(Gap(file=file, from_line=1) for file in sorted(files)))


def version_of(production: Production) -> str:
    """Eight digits that are the same only where every line and record is: two lists that bear them are the same list."""
    told = hashlib.sha256()
    for row in sorted(production.fitted, key=lambda each: (each.file, each.line)):
        told.update(repr(row.said).encode())
    for kind in (production.batches, production.lots, production.recalls):
        for name, record in sorted(kind.items()):
            told.update(f"{name}\n{record.model_dump_json()}\n".encode())
    told.update(repr(gaps_of(production)).encode())
    return told.hexdigest()[:8]
