"""Which records have to be mended first, each once, however many parts it stops?

What else is missing of a part whose record has a mistake follows from that mistake as far as anybody knows, so it is no task yet.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping

from generator.planning.overview import Missing, OverviewRow
from generator.planning.today.guesses import Logged, OwnWork, minutes_for
from generator.planning.today.tasks import Task, TaskKind
from generator.planning.today.worth import Worth
from generator.records.catalogue import Catalogue
from generator.records.linked import file_to_mend
from generator.records.problems import Severity
from generator.rules.short import short_of

_PIECE = "piece"
_MEND = (Missing.MEND_RECORD.name.lower(), "record")
_OWN = ("requests/", "machines/")
"""No figure of the whole is made of these; to mend they are all the same."""


def follows_from(row: OverviewRow, catalogue: Catalogue) -> frozenset[str]:
    """Files of other records for whose mistakes alone the part is stopped."""
    sheet = row.sheet
    linked = {file for each in sheet.problems if (file := file_to_mend(each)) is not None}
    depot = {sheet.mistake.where.file} if sheet.mistake and sheet.mistake not in sheet.problems else set[str]()
    return frozenset(linked | depot | _of_pieces(row, catalogue))


def _of_pieces(row: OverviewRow, catalogue: Catalogue) -> set[str]:
    """For which nobody knows which pieces are good: records that cannot be read, and machines of batches that are stopped for theirs."""
    facts = [lack.judgement.facts for lack in row.lacks if lack.judgement for taken in lack.taken if taken.step.id == _PIECE]
    every = (place for each in facts for place in (*each.piece_unread, *each.piece_less, *each.piece_astray))
    found = {place.partition(":")[0].partition("#")[0] for place in every}
    batches, mistaken = catalogue.production.batches, _mistaken(catalogue)
    stopped = {f"machines/{batches[name].machine}.yml" for each in facts for name in each.piece_batches if name in batches and not each.piece_unreleased}
    return found | (stopped if stopped <= mistaken else set())


def told_by_itself(row: OverviewRow, what: str, catalogue: Catalogue) -> bool:
    """Whether this that is missing is known to be missing, and no other record's mend may answer it."""
    if row.sheet.mistake and row.sheet.mistake not in row.sheet.problems:
        return False
    if what == _PIECE and _of_pieces(row, catalogue):
        return False
    errors = [each for each in row.sheet.problems if each.severity is Severity.ERROR]
    return not errors or (what in _MEND and any(file_to_mend(each) is None for each in errors))


def records_to_mend(rows: Iterable[OverviewRow], worths: Mapping[str, Worth], catalogue: Catalogue, logged: Logged) -> Iterator[Task]:
    """One for each file: those that stop parts with what these are worth, then what no part waits for."""
    stopped: dict[str, dict[str, Worth]] = defaultdict(dict)
    own: set[str] = set()
    for row in sorted(rows, key=lambda each: each.sheet.number):
        for file in follows_from(row, catalogue):
            stopped[file][row.sheet.number] = worths[row.sheet.number]
        if row.lacks or Missing.MEND_RECORD in row.missing:  # then a task of its own tells of it
            own |= {each.where.file for each in row.sheet.problems if each.severity is Severity.ERROR}
    files = {*stopped, *(gap.file for gap in short_of(catalogue)), *_mistaken(catalogue)}
    for file in sorted(files - own):
        yield Task(kind=TaskKind.RECORD, number=file, what="unread", work=OwnWork.MEND, minutes=minutes_for(OwnWork.MEND, logged), worths=stopped.get(file, {}))


def _mistaken(catalogue: Catalogue) -> set[str]:
    return {
        each.where.file
        for each in catalogue.problems
        if each.severity is Severity.ERROR and each.where.file.startswith(_OWN) and file_to_mend(each) is None
    }
