"""The whole catalogue as read: every record with the files and problems that belong to it."""

from collections import defaultdict
from dataclasses import dataclass, field
from enum import StrEnum

from generator.records.approvals import Approval, Route
from generator.records.depot import Depot, Language, Words
from generator.records.fitting import FittingNotes
from generator.records.fleets import Fleet, Place
from generator.records.inspection import USUAL, Asked
from generator.records.law import UNION, Law
from generator.records.makers import Maker
from generator.records.materials import Material
from generator.records.parts import Fit, Part
from generator.records.prints import PrintRun
from generator.records.problems import Problem, Severity, Where
from generator.records.production import Production
from generator.records.queries import Queries
from generator.records.requests import AddedVoice, Request
from generator.records.screening import Screening
from generator.records.standards import FireStandard


class FileKind(StrEnum):
    """What a file is by its name and its bytes, where both say the same; all else is OTHER."""

    PDF = "PDF"
    PNG = "PNG"
    JPEG = "JPEG"
    WEBP = "WebP"
    TEXT = "plain text"
    OTHER = "other"

    @property
    def is_picture(self) -> bool:
        return self in (FileKind.PNG, FileKind.JPEG, FileKind.WEBP)


class Fault(StrEnum):
    """What keeps a reader from opening a PDF, or programs here from showing it. Words of the submission's doubts."""

    ACTS = "acts"
    """It may run, send or carry something: it opens, and is shown nowhere in place."""
    CUT = "cut"
    LOCKED = "locked"
    PAGELESS = "pageless"
    SEALED = "sealed"
    """It is encrypted and opens without a password: everybody can read it, and no program here looks into it."""
    TRAILED = "trailed"
    """It has its end, and something lies behind that: many readers open it all the same."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptFile:
    """A file beside the records: where it is in the catalogue, its size and SHA-256 (of the bytes on disk)."""

    path: str
    size_bytes: int
    sha256: str
    kind: FileKind = FileKind.OTHER
    text: str | None = None
    """What it says, of plain text only."""
    fault: Fault | None = None
    """What is wrong with what begins as a PDF; None where nothing was found."""

    @property
    def proves_nothing(self) -> bool:
        """Whether there is nothing in it, or nothing that anybody can open: as evidence it counts as if it were not there."""
        return self.size_bytes == 0 or self.fault in (Fault.CUT, Fault.PAGELESS)


@dataclass(frozen=True, slots=True, kw_only=True)
class PartFolder:
    """One folder under parts/. `part` is None when part.yml cannot be read: the part still gets its page."""

    folder: str
    number: str
    part: Part | None
    approval: Approval | None
    fitting: FittingNotes | None
    mesh: KeptFile | None
    documents: tuple[KeptFile, ...]
    photos: tuple[KeptFile, ...]
    event_places: tuple[Where, ...]
    """Where each event of approval.yml stands, so that the rules' findings can point there."""
    problems: tuple[Problem, ...]

    @property
    def name(self) -> str:
        return self.part.name if self.part else self.number

    @property
    def title(self) -> str:
        """Number and name, or the number alone where the name says no more."""
        return self.number if self.name == self.number else f"{self.number} {self.name}"

    @property
    def is_way_unread(self) -> bool:
        """Whether it has mistakes and no approval record that can be read, so that nobody knows route and stage."""
        return self.approval is None and any(each.severity is Severity.ERROR for each in self.problems)

    @property
    def screening(self) -> Screening | None:
        return self.approval.screening if self.approval else None

    @property
    def files(self) -> dict[str, KeptFile]:
        """Files by their path inside the part's folder."""
        kept = (*self.documents, *self.photos, *((self.mesh,) if self.mesh else ()))
        return {file.path.removeprefix(self.folder + "/"): file for file in kept}


@dataclass(frozen=True, slots=True)
class Drawing:
    """A side view of the depot's own, which draws and does nothing else."""

    path: str
    """Relative to the catalogue."""
    width_to_height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Catalogue:
    """Everything a depot wrote down, and everything that is wrong with it."""

    depot: Depot | None
    fleets: dict[str, Fleet]
    makers: dict[str, Maker]
    materials: dict[str, Material]
    material_files: dict[str, KeptFile]
    words: Words
    parts: tuple[PartFolder, ...]
    requests: dict[str, Request]
    problems: tuple[Problem, ...]
    prints: tuple[PrintRun, ...] = ()
    """What was printed, as prints.yml tells it."""
    production: Production = field(default_factory=Production)
    """Lots, machines, batches, recalls, and what sits on the vehicles."""
    request_voices: dict[str, AddedVoice] = field(default_factory=dict)
    """Voices that lie in requests/ as they came, by the file's name; they count in `requests` already."""
    queries: dict[str, Queries] = field(default_factory=dict)
    """What people looked for in vain, by the name of the file of each hand-over."""
    standard: FireStandard | None = None
    """What we hold of the fire standard; None where the depot's own file of it cannot be read."""
    outlines: dict[str, Drawing] = field(default_factory=dict)
    """The depot's own side views of fleets, by the name of the file."""
    request_files: dict[str, KeptFile] = field(default_factory=dict)
    """Photos of requests by their path in requests/."""
    request_models: dict[str, KeptFile] = field(default_factory=dict)
    """Models and scans of requests by their path in requests/."""
    requests_refused: frozenset[str] = frozenset()
    """Photos and models that requests name, that lie there and that are not taken, each with a problem of its own."""
    _places: dict[tuple[str, str], Place] = field(init=False, repr=False, compare=False)
    _folders: dict[str, PartFolder] = field(init=False, repr=False, compare=False)
    _fitting: dict[tuple[str, str], tuple[tuple[Part, Fit], ...]] = field(init=False, repr=False, compare=False)
    mistaken: frozenset[str] = field(init=False, repr=False, compare=False)
    """Files, by their path in the catalogue, in which something cannot be right."""

    def __post_init__(self) -> None:
        """Make the indexes that answer for each of thousands of parts."""
        places = {(name, place.id): place for name, fleet in self.fleets.items() for place in fleet.places}
        object.__setattr__(self, "_places", places)
        object.__setattr__(self, "_folders", {each.number: each for each in reversed(self.parts)})
        fitting: defaultdict[tuple[str, str], list[tuple[Part, Fit]]] = defaultdict(list)
        for part in sorted((each.part for each in self.parts if each.part), key=lambda part: part.number):
            for fit in part.fits:
                fitting[fit.fleet, fit.place].append((part, fit))
        object.__setattr__(self, "mistaken", frozenset(each.where.file for each in self.problems if each.severity is Severity.ERROR))
        object.__setattr__(self, "_fitting", {where: tuple(there) for where, there in fitting.items()})

    def is_mistaken(self, file: str) -> bool:
        """Whether something in this file, by its path in the catalogue, cannot be right."""
        return file in self.mistaken

    @property
    def language(self) -> Language:
        """The depot's; English where depot.yml cannot be read."""
        return self.depot.language if self.depot else Language.ENGLISH

    @property
    def floor_languages(self) -> tuple[Language, ...]:
        """Languages that the finder understands besides the depot's own."""
        return self.depot.floor_languages if self.depot else ()

    @property
    def law(self) -> Law:
        """The law that the vehicles stand under; the Union's where depot.yml cannot be read."""
        return self.depot.law if self.depot else UNION

    def inspection_of(self, route: Route) -> Asked:
        """What a route asks of inspection documents; the usual where depot.yml cannot be read."""
        asked = self.depot.inspection_documents if self.depot else USUAL
        return asked.authority if route is Route.AUTHORITY else asked.customer

    def place(self, fleet: str, place: str) -> Place | None:
        """The place of a fleet, None when either is unknown."""
        return self._places.get((fleet, place))

    def place_name(self, fleet: str, place: str, position: str = "") -> str:
        """What a place is called, or as it was written where the fleet has none of that name; with the position where one is said."""
        known = self.place(fleet, place)
        name = known.name if known else place
        return f"{name}, {position}" if position else name

    def fitting(self, fleet: str, place: str) -> tuple[tuple[Part, Fit], ...]:
        """Every part that fits the place, by number, and how it fits there."""
        return self._fitting.get((fleet, place), ())

    def folder(self, number: str) -> PartFolder | None:
        """The first part folder with this number."""
        return self._folders.get(number)
