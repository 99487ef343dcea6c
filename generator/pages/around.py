"""What every page is written with."""

from dataclasses import dataclass

from generator.pages.addresses import Addresses
from generator.pages.wording import Wording
from generator.records.catalogue import Catalogue
from generator.records.depot import Depot
from generator.rules.screening import EarlierChange
from generator.rules.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Around:
    """The judged catalogue, where its pages lie, and the words of its language."""

    catalogue: Catalogue
    sheets: dict[str, Sheet]
    """By number; the first of those that share one."""
    found: Addresses
    w: Wording
    earlier: tuple[EarlierChange, ...] = ()
    """Changes that were judged not significant, newest first."""

    @property
    def depot(self) -> Depot:
        """Raises ValueError for a catalogue without its depot."""
        if self.catalogue.depot is None:
            raise ValueError("a catalogue without its depot has no pages")
        return self.catalogue.depot
