"""Which batches were taken off in a campaign though no recall has ever spoken of them, so that one may have been lost?

A recall that was deleted, and that no record names, cannot be known (unheld.py). What was taken off for it can. A depot that changes
pieces by a plan of its own has no recall either, so this only warns, once for each batch, and not where another record tells why they
came off: a lot that was blocked, a trial that was closed, an approval that was withdrawn, a newer revision.
"""

from collections import defaultdict
from collections.abc import Iterator
from typing import Final

from generator.records.batches import Batch
from generator.records.catalogue import Catalogue
from generator.records.fitted import Why
from generator.records.lots import Blocked
from generator.records.problems import Problem, Where, doubt
from generator.rules.production.states import speaks_of

_ENDS: Final = ("trial closed", "withdrawn")


def campaign_problems(catalogue: Catalogue) -> Iterator[Problem]:
    """At the first line of each such batch. While a recall cannot be read nothing is told: it may be the one."""
    production = catalogue.production
    if production.unread_in("recalls"):
        return
    lines = defaultdict[str, list[Where]](list)
    for row in production.fitted:
        if row.why is Why.CAMPAIGN and row.removed_batch in production.batches:
            lines[row.removed_batch].append(Where(row.file, row.line))
    for name, at in sorted(lines.items()):
        if not _is_told(name, production.batches[name], catalogue):
            yield doubt("RECALL04", "no recall", where=at[0], batch=name, count=len(at) if len(at) > 1 else None)


def _is_told(name: str, batch: Batch, catalogue: Catalogue) -> bool:
    """Whether any record tells why its pieces were taken off."""
    production, folder = catalogue.production, catalogue.folder(batch.part)
    if any(speaks_of(each, name, batch) for each in production.recalls.values()):
        return True
    lots = (lot for each in batch.lots if (lot := production.lots.get(each)))
    if any(isinstance(each, Blocked) for lot in lots for each in lot.events):
        return True
    if folder is None or folder.part is None or folder.part.revision != batch.revision:
        return True
    return any(each.what in _ENDS for each in (folder.approval.events if folder.approval else ()))
