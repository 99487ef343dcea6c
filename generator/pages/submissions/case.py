"""What each section of a submission is told from: one part, the catalogue around it, the day, and the numbers of its documents."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from generator.pages.around import Around
from generator.pages.wording import Wording
from generator.records.catalogue import Catalogue
from generator.records.parts import Fit, Part
from generator.rules.grounds import Ground
from generator.rules.sheet import Sheet
from generator.rules.verdicts import Judgement


@dataclass(frozen=True, slots=True, kw_only=True)
class SubmissionCase:
    """numbers: of its documents, by their path in the catalogue. fleet: of which alone the places are told; None is all.

    photos: as JPEG, by their path in the catalogue; None of one that cannot be drawn.
    """

    sheet: Sheet
    part: Part
    around: Around
    day: date
    numbers: Mapping[str, int]
    fleet: str | None = None
    photos: Mapping[str, bytes | None] = field(default_factory=dict)

    @property
    def w(self) -> Wording:
        return self.around.w

    @property
    def catalogue(self) -> Catalogue:
        return self.around.catalogue

    @property
    def stem(self) -> str:
        return self.around.found.by_folder[self.sheet.folder.folder]

    @property
    def fits(self) -> tuple[Fit, ...]:
        return tuple(fit for fit in self.part.fits if self.fleet in (None, fit.fleet))

    @property
    def judged(self) -> tuple[tuple[Ground, Judgement], ...]:
        """The places of what is made now, each judged; what old stock is to become stands in its own grounds."""
        pairs = zip(self.sheet.grounds, self.sheet.judgements, strict=True)
        return tuple((ground, judgement) for ground, judgement in pairs if not ground.label_revision and self.fleet in (None, ground.fleet))

    def own(self, files: Iterable[str]) -> tuple[int, ...]:
        """The numbers of files of the part's folder, each once."""
        return self.documents(f"{self.sheet.folder.folder}/{each}" for each in files)

    def documents(self, paths: Iterable[str]) -> tuple[int, ...]:
        """The numbers of files by their paths in the catalogue, each once; of what is not attached nothing."""
        return tuple(dict.fromkeys(self.numbers[path] for path in paths if path in self.numbers))

    def refers(self, path: str) -> str:
        """Such as D12; empty of what is not attached."""
        return f"D{self.numbers[path]}" if path in self.numbers else ""
