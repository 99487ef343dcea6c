"""What could not be read, or says less or something else than it did, so that a list made of these records is short of it?

Whoever lists must say so.
"""

import hashlib
from collections.abc import Collection, Iterator

from generator.records.fitted import FileGap
from generator.records.production import Production
from generator.rules.production.unheld import unheld_files
from generator.rules.production.unsaid import unsaid_years


def gaps_of(production: Production, *, parts: Collection[str] | None = None, recalls: bool = True) -> tuple[FileGap, ...]:
    """Files of fitted/ and lines of them, records that others name and that are gone, then records of lots, batches and recalls, then batches
    whose record was changed.

    parts: of records that cannot be read only those that may speak of these; of what part one was that was changed nobody knows.
    recalls: False where it does not matter what else is called back.
    """
    files = {
        file.partition("#")[0]: production.apart.get(file)
        for file, part in sorted(production.unread.items())
        if (parts is None or part is None or part in parts) and (recalls or production.folder_of(file) != "recalls")
    }
    return (
        *production.gaps,
        *_of_fitted(production),
        *(FileGap(file=file, why="gone") for file in unheld_files(production, parts, recalls=recalls)),
        *(FileGap(file=file, why=why) if why else FileGap(file=file, from_line=1) for file, why in files.items()),
        *(FileGap(file=f"batches/{name}.yml", why="changed") for name in sorted(production.rewritten)),
    )


def _of_fitted(production: Production) -> Iterator[FileGap]:
    """Files that say less than they did, and those that are not there though batches speak of what they told."""
    yield from (FileGap(file=file, why="less") for file in sorted(production.shortened))
    years = sorted({year for listed in unsaid_years(production).values() for year in listed})
    told = {*production.shortened, *(gap.file for gap in production.gaps)}
    yield from (FileGap(file=file, why="missing") for year in years if (file := f"fitted/{year}.csv") not in told)


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
