"""What is there and could not be read, so that a list made of these records is short of it? Whoever lists must say so."""

from collections.abc import Collection

from generator.records.fitted import Gap
from generator.records.production import Production


def gaps_of(production: Production, *, parts: Collection[str] | None = None) -> tuple[Gap, ...]:
    """Lines of fitted/, then records of lots, batches and recalls. parts: of records only those that may speak of these."""
    files = (file for file, part in production.unread.items() if parts is None or part is None or part in parts)
    return (*production.gaps, *(Gap(file=file, from_line=1) for file in sorted(files)))
