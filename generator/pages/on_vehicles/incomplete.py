"""That a list is short of something, and of what, in words: for pages, papers and the terminal alike."""

from collections.abc import Iterable

from generator.pages.wording import Wording
from generator.records.catalogue import Catalogue
from generator.records.fitted import FileGap
from generator.rules.production.moves import PieceSpot
from generator.rules.production.suspects import Suspects
from generator.rules.short import contradicting_lines, short_of

_MOST_LINES = 30
_MOST_FILES = 12


def gap_words(gaps: Iterable[FileGap], w: Wording) -> tuple[str, ...]:
    """A sentence for each file, behind one that says what they mean; nothing where all could be read."""
    every = list(gaps)
    if not every:
        return ()
    listed = [each for each in every if each.why != "changed"]
    batches = [each.file.removeprefix("batches/").removesuffix(".yml") for each in every if each.why == "changed"]
    changed = (w.count("incomplete.changed", len(batches), batches=_some(batches)),) if batches else ()
    more = (w.count("incomplete.more", len(listed) - _MOST_FILES),) if len(listed) > _MOST_FILES else ()
    told = (sentence for gap in listed[:_MOST_FILES] for sentence in _of(gap, w))
    return (w("incomplete.head"), *told, *more, *changed, w("incomplete.mend"))


def incomplete_words(catalogue: Catalogue, w: Wording) -> tuple[str, ...]:
    """The same of what is made of all records."""
    return (*gap_words(short_of(catalogue), w), *contradicting_words(catalogue, w))


def plain_gaps(gaps: Iterable[FileGap]) -> dict[str, object]:
    """The same as JSON holds it."""
    listed = [{"file": each.file, "lines": list(each.lines), "from_line": each.from_line, "why": each.why} for each in gaps]
    return {"is_complete": not listed, "unread": listed}


def _of(gap: FileGap, w: Wording) -> Iterable[str]:
    if gap.why in ("less", "missing", "astray", "mistakes", "gone"):
        yield w(f"incomplete.{gap.why}", file=gap.file)
        return
    if gap.from_line is not None and gap.from_line <= 1:
        yield w("incomplete.file", file=gap.file)
        return
    if gap.lines:
        which = "incomplete.to_come" if gap.why == "to come" else "incomplete.lines"
        yield w.count(which, len(gap.lines), lines=_some(map(str, gap.lines)), file=gap.file)
    if gap.from_line is not None:
        yield w("incomplete.from", line=str(gap.from_line), file=gap.file)


def contradicting_words(catalogue: Catalogue, w: Wording) -> tuple[str, ...]:
    """Which lines contradict other records and count all the same, a sentence for each file."""
    gaps = contradicting_lines(catalogue)
    return tuple(w.count("incomplete.contradicts", len(each.lines), lines=_some(map(str, each.lines)), file=each.file) for each in gaps)


def _some(names: Iterable[str]) -> str:
    listed = list(names)
    return ", ".join(listed[:_MOST_LINES] + (["…"] if len(listed) > _MOST_LINES else []))


def suspect_rows(found: Suspects, catalogue: Catalogue, w: Wording) -> list[tuple[str, str, str, str, str, str]]:
    """Vehicle, place, position, batch, count and why one has to look there, one row a spot."""
    rows = [
        (*_at(each.spot, catalogue), each.batch, w.number(each.count), w("suspects.no_record")) for each in found.sitting
    ]
    rows += [
        (*_at(each.spot, catalogue), w("trace.no_batch"), w.number(each.count), w("suspects.came_off", on=w.day(each.on))) for each in found.came_off
    ]
    rows += [
        (*_at(each.spot, catalogue), each.batch, w.number(each.count), w("suspects.lying", on=w.day(each.on))) for each in found.lying
    ]
    return rows


def _at(spot: PieceSpot, catalogue: Catalogue) -> tuple[str, str, str]:
    fleet, vehicle, place, position = spot
    return f"{fleet} {vehicle}", catalogue.place_name(fleet, place), position
