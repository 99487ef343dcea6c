"""One part with everything that its facts are drawn from."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from generator.geometry.sections import Walls
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.evidence import Evidence
from generator.records.parts import Fit, Part
from generator.records.problems import Problem
from generator.rules.basis import Basis, basis_now, basis_then, basis_under
from generator.rules.binding import Bound
from generator.rules.history import History
from generator.rules.permits import Permit


@dataclass(frozen=True, slots=True)
class Copy:
    """The copy of the catalogue that is read: the day it was built and how old it may get."""

    built_on: date
    max_copy_age_days: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """A part, what happened to it, and what each of its permits binds against what is there now."""

    folder: PartFolder
    part: Part
    catalogue: Catalogue
    history: History
    copy: Copy
    bound: Mapping[int, Bound]
    """By the permit's place in the record."""
    problems: tuple[Problem, ...]
    """Everything that is wrong with the part."""
    walls: Walls | None = None
    """As measured of the model."""
    contested: Collection[str] = ()
    """Papers by their SHA-256 that are recorded as what they cannot all be (rules/contested.py)."""

    def basis(self, fit: Fit) -> Basis:
        return basis_now(self.part, self.catalogue, fit, self.folder.mesh, self.walls)

    def basis_of(self, permit: Permit, fit: Fit) -> Basis:
        """What the pieces rest on that were made under the permit."""
        return basis_then(permit.text, self.basis(fit), self.catalogue, fit)

    def basis_under(self, permit: Permit, fit: Fit) -> Basis:
        """What pieces as they are made now rest on under the permit."""
        return basis_under(permit.text, self.basis(fit), fit)

    def is_earlier(self, permit: Permit) -> bool:
        """Whether the part has changed its revision since, and is still the same part."""
        changed = {change.what for change in self.bound[permit.index].changes}
        return "revision" in changed and "number" not in changed

    def name_of(self, role: str) -> str:
        """The name of a role, as depot.yml has it."""
        roles = self.catalogue.depot.roles if self.catalogue.depot else ()
        return next((each.name for each in roles if each.id == role), role)

    def files_of(self, evidence: Iterable[Evidence]) -> tuple[str, ...]:
        """The files of the part's evidence, each once, by their paths in the catalogue."""
        return tuple(dict.fromkeys(f"{self.folder.folder}/{each.file}" for each in evidence))
