"""What every page is written with."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from generator.geometry.facts import MeshFacts
from generator.pages.addresses import Addresses
from generator.pages.lately.told import LatelyTold
from generator.pages.wording import Wording
from generator.planning.holding.whole import Holds
from generator.planning.print_time import ProcessModel
from generator.planning.saving.rows import Saved
from generator.planning.stock.demand import Demand
from generator.records.catalogue import Catalogue
from generator.records.depot import Depot
from generator.records.makers import Process
from generator.records.parts import Part, Stock
from generator.rules.asked_alike import AskedShape
from generator.rules.production.contradicting import Contradictions
from generator.rules.production.not_good import Against, NotGood
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

    shelves: Mapping[str, tuple[Sheet, ...]] = field(default_factory=dict)
    """What lies in stock, by its place as `shelf_key` writes it."""
    meshes: Mapping[str, MeshFacts | None] = field(default_factory=dict)
    """What was measured of each part, by its number."""

    print_models: Mapping[Process, ProcessModel] = field(default_factory=dict)
    """How long prints take, by what was printed here."""

    asked: Mapping[str, AskedShape] = field(default_factory=dict)
    """The models of open requests, by the request's id."""

    holds: Mapping[str, Holds] = field(default_factory=dict)
    """How the pieces of parts hold that were fitted or tried, by number."""

    contradictions: Contradictions = field(default_factory=Contradictions)
    """What speaks against pieces that sit on vehicles all the same."""
    speaking: Mapping[str, Against | None] = field(default_factory=dict)
    """What speaks against a batch of which pieces sit on vehicles, on the day of the pages, by its number."""
    not_good: Mapping[str, tuple[NotGood, ...]] = field(default_factory=dict)
    """What sits on vehicles and must not, or of which nobody can say so, by number of the part."""

    fitted: Mapping[str, Saved] = field(default_factory=dict)
    """What the pieces of each part saved that were fitted up to the day of the pages, by number."""

    demands: Mapping[str, Demand] = field(default_factory=dict)
    """How many of each part are needed in a year, on the day of the pages, by number; nothing of what nobody knows it of."""

    lately: LatelyTold | None = None
    """What changed lately; None where nobody looked for it."""

    def beside(self, part: Part) -> tuple[Sheet, ...]:
        """What lies at the same place of the stock as a part, itself included."""
        return self.shelves.get(shelf_key(part.stock), ()) if part.stock else ()

    @property
    def depot(self) -> Depot:
        """Raises ValueError for a catalogue without its depot."""
        if self.catalogue.depot is None:
            raise ValueError("a catalogue without its depot has no pages")
        return self.catalogue.depot


def shelves_of(sheets: Iterable[Sheet]) -> dict[str, tuple[Sheet, ...]]:
    """The stock of all parts, sorted once by its places."""
    found: defaultdict[str, list[Sheet]] = defaultdict(list)
    for sheet in sheets:
        if sheet.part and sheet.part.stock:
            found[shelf_key(sheet.part.stock)].append(sheet)
    return {place: tuple(there) for place, there in found.items()}


def shelf_key(stock: Stock) -> str:
    """The place of a stock; capital or small letters are no difference."""
    return stock.place.casefold()
