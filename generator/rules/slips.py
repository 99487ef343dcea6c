"""What of a record of production counts for nothing, since it is in error? By the path of each error, as it is remembered.

What has never counted may be mended; nobody can have rested anything on it.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping

from pydantic import BaseModel

from generator.records.machines import Machine
from generator.records.problems import Path, Problem, Severity
from generator.rules.past_produced import EVERYTHING, key_of_paper, names_of, nth_event

# What is told at one of them may be mended at each of them.
_TOGETHER = {
    "printed_as": ("printed_as", "fingerprint", "part", "revision", "machine"),
    "fingerprint": ("printed_as", "fingerprint"),
    "started": ("started", "ended"),
    "ended": ("started", "ended"),
}
_OF_ALL = {("BATCH01", "one print"), ("BATCH01", "file name")}
"""Mended by taking the whole record out, or by another name for it."""


def slips_of_record(file: str, record: BaseModel, faults: Iterable[Problem], astray: Iterable[Path] = ()) -> Mapping[str, frozenset[str]]:
    """By the name that it is remembered by; faults: all that speaks against it, each by its path in the record.

    astray: further paths where something is wrong; an empty one means all of it.
    """
    errors = [each for each in faults if each.severity is Severity.ERROR]
    paths = [each.path for each in errors if each.path and (each.code, each.key) not in _OF_ALL]
    found: defaultdict[str, set[str]] = defaultdict(set)
    for path in (*paths, *astray):
        if isinstance(record, Machine):
            for name, own in _of_machine(file, record, path):
                found[name].add(own)
        else:
            found[file].update(_of_path(record, path) if path else (EVERYTHING,))
    if any((each.code, each.key) in _OF_ALL for each in errors):
        found[file].add(EVERYTHING)
    return {name: frozenset(slips) for name, slips in found.items()}


def _of_machine(file: str, machine: Machine, path: Path) -> Iterable[tuple[str, str]]:
    match path:
        case ("qualifications", int(at), "coupons", int(nth), *_):
            yield f"{file}#{names_of(machine)[at]}", nth_event(nth)


def _of_path(record: BaseModel, path: Path) -> Iterable[str]:
    match path:
        case ("events", int(at), *_):
            yield nth_event(at)
        case ("events", *_):
            return
        case ("inspection_documents", int(at), *_):
            yield key_of_paper(record.inspection_documents[at].reference)  # type: ignore[attr-defined]
        case (str(key), *_):
            yield from _TOGETHER.get(key, (key,))
