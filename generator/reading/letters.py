"""Does one letter speak for permits of several parts, and does each of them say so?"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from generator.reading.letter_text import LEAST_LETTERS, Reads
from generator.reading.part_folder import ReadFolder
from generator.reading.placing import Finding, put
from generator.records.approvals import TakenOver, TakeOverConfirmed
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.file_names import is_drawing
from generator.records.materials import Material
from generator.records.parts import Part
from generator.records.problems import Path, doubt, wrong
from generator.rules.canonical import from_record
from generator.rules.fingerprint import values_of
from generator.rules.walking import Permitted, letters_of


class _Served(NamedTuple):
    """A letter file as a permit of a part names it."""

    number: str
    event_index: int
    event: Permitted
    file: str
    sha256: str

    @property
    def is_copied(self) -> bool:
        """Whether the permit itself speaks of a part with another number."""
        if isinstance(self.event, TakenOver):  # it binds no text, and so tells of no other part
            return False
        return values_of(from_record(self.event.approved_as)).get("number") != self.number

    def says_so(self, other: "_Served") -> bool:
        """Whether both permits say that the letter speaks of both parts."""
        return other.number in self.event.also_for and self.number in other.event.also_for


def check_letters(
    folders: Iterable[ReadFolder], all_of_them: Iterable[ReadFolder | PartFolder], materials: Iterable[Material]
) -> None:
    """A letter serves the part that it was written for, and those others that the permits of each of them name.

    What a laboratory or a supplier wrote of a material permits no part.
    """
    papers = {paper.sha256 for each in materials for listed in (each.certificates, each.fire_tests) for paper in listed}
    served: defaultdict[str, list[_Served]] = defaultdict(list)
    for each in all_of_them:
        for one in _letters(each):
            served[one.sha256].append(one)
    for folder in folders:
        if folder.approval_yml:
            own = tuple(_letters(folder))
            put(folder.problems, folder.approval_yml, (found for one in own for found in _of_another_part(one, served)))
            put(folder.problems, folder.approval_yml, (_of_a_material(one) for one in own if one.sha256 in papers))


def _letters(folder: ReadFolder | PartFolder) -> Iterator[_Served]:
    for index, event in enumerate(folder.approval.events if folder.approval else ()):
        if isinstance(event, Permitted):
            yield from (_Served(folder.number, index, event, each.file, each.sha256) for each in letters_of(event))


def _of_a_material(one: _Served) -> Finding:
    path = ("events", one.event_index)
    return wrong("APPR33", "paper of a material", path=path, what=one.event.what, file=one.file)


def _of_another_part(one: _Served, served: dict[str, list[_Served]]) -> Iterator[Finding]:
    """The later permit is at fault: the letter was written before."""
    for other in served[one.sha256]:
        is_earlier = other.event.on < one.event.on or (other.event.on == one.event.on and not other.is_copied)
        if other.number != one.number and is_earlier and not one.says_so(other):
            yield wrong(
                "APPR33", "other part", path=("events", one.event_index), what=one.event.what, file=one.file, part=other.number,
                on=other.event.on, number=one.number,
            )  # fmt: skip
            return


def letter_doubts(event: TakenOver | TakeOverConfirmed, path: Path, unread: Mapping[str, Reads], catalogue: Catalogue) -> Iterator[Finding]:
    """What of a letter of before this record should be looked at: then whoever confirms it says what it says.

    unread: letters in which a program reads nothing, or too little. Its number, day and scope are compared by people alone.
    """
    for i, each in enumerate(event.evidence):
        if each.file in unread:
            here, nothing = (*path, "evidence", i), unread[each.file] is Reads.NOTHING
            if isinstance(event, TakenOver):
                yield doubt("APPR48", "letter unread" if nothing else "letter little", "by eye", path=here, file=each.file, least=LEAST_LETTERS)
            else:
                yield doubt("APPR48", "paper unread" if nothing else "paper little", "by eye", path=here, file=each.file, least=LEAST_LETTERS)
    for scope in event.scope if isinstance(event, TakenOver) else ():
        fleet = catalogue.fleets.get(scope.fleet)
        if fleet and isinstance(event, TakenOver) and event.letter_of.year < fleet.in_service_since:
            yield doubt(
                "APPR48", "before the fleet", path=(*path, "letter_of"), letter_of=event.letter_of, fleet=fleet.id,
                since=fleet.in_service_since,
            )  # fmt: skip


def own_paper(event: TakeOverConfirmed, part: Part | None, path: Path) -> Iterator[Finding]:
    """What confirms a letter is a paper that says so: the part's drawing and what the fire engineer wrote say something else."""
    fires = (part.fire, *(fit.fire for fit in part.fits)) if part else ()
    chosen = {each.evidence.sha256 for each in fires if each and each.evidence}
    exempted = {each.exemption.evidence.sha256 for each in fires if each and each.exemption}
    for i, each in enumerate(event.evidence):
        above = "fire" if each.sha256 in chosen | exempted else "drawing" if is_drawing(each.file) else ""
        if above:
            yield wrong("APPR47", "paper named", path=(*path, "evidence", i), file=each.file, above=above)
