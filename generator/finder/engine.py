"""Which parts does a query mean? Runs the browser's own ranker, so that the two can never differ."""

import json
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Self

from generator.finder.scripts import read_scripts

if TYPE_CHECKING:
    from py_mini_racer import MiniRacer

_ASK = """
globalThis.ask = (query, limit, vehicle) => {
  const { rank, forAsked, vehiclesAmong, whom, why } = spares.finder;
  const ranked = rank(index, query, vehicle);
  const { hits, items, said } = ranked;
  const asked = whom(index, ranked, query, null);
  const standing = (at) => {
    const grounds = (sparesIndex.records[at].grounds || []).map(([fleet, , vehicles], place) => ({ fleet, vehicles, place }));
    const { shown, vehicles } = forAsked(sparesIndex, grounds, asked);
    return { vehicles, named: vehicles.flatMap((number) => namedOf(number, asked.fleets)), grounds: shown.map((ground) => (
      { place: ground.place, vehicles: vehiclesAmong(sparesIndex, ground, vehicles) })) };
  };
  return JSON.stringify({ said, pieces: ranked.label ? ranked.label.text : '', meant: ranked.label ? ranked.label.meant : [], unread: (ranked.label && ranked.label.unread) || [], asks: Boolean(ranked.label && !ranked.label.unread && !ranked.label.text && !ranked.label.meant.length), stranger: strangerOf(asked.stranger), taken: asked.taken, hits: hits.slice(0, limit).map((hit) => (
    { ...hit, ...standing(hit.at), why: why(index, sparesIndex, items, hit.at) })) });
};
globalThis.namedOf = (number, asked) => {
  const ids = sparesIndex.fleets.filter((fleet, at) => (!asked.length || asked.includes(at)) && spares.vehicles.isAmong(fleet.vehicles, number)).map((fleet) => fleet.id);
  return number && ids.length ? ids.map((id) => `${id} ${number}`) : [number];
};
globalThis.strangerOf = (stranger) => stranger && { ...stranger, others: sparesIndex.fleets.filter((fleet) => (
  spares.vehicles.isAmong(fleet.vehicles, spares.vehicles.meantBy(stranger.text, sparesIndex.fleets)))).map((fleet) => fleet.id) };
globalThis.heard = (query) => JSON.stringify(spares.finder.heard(query, index.language));
globalThis.near = (wish) => JSON.stringify(spares.finder.nearMatches(index, JSON.parse(wish)).map(({ at, score, ranked }) => (
  { at, score, by: spares.finder.why(index, sparesIndex, ranked.items, at).map(({ asked }) => asked) })));
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What a new request asks for, as its page asks the finder; `place` is a name, `without` the request's own numbers."""

    name: str
    fleet: str
    place: str = ""
    sizes: tuple[float, ...] = ()
    numbers: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    without: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class NearMatch:
    """A part or an open request near to a wish; `by` is what was asked that it answers."""

    number: str
    name: str
    score: float
    by: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MatchReason:
    """What the query said, and the text of the part that answers it; `kind` is a field, number, size or fleet."""

    kind: str
    asked: str
    text: str
    detail: object
    asked_as: str = ""
    """What was asked for, where that is another kind of thing or another shape; the part's revision beside another one that was said."""
    shape: str = ""
    n: int = 1
    """How many of it a model has."""


@dataclass(frozen=True, slots=True)
class Answering:
    """A ground of the part by its place in the sheet, with those of the asked vehicles that it speaks of."""

    ground: int
    vehicles: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Found:
    """A part or an open request that may be meant; `is_sure` where nothing that was said speaks against it.

    `answering` are the grounds to show in their order: those of the vehicles in the query, or those of its fleet first.
    """

    kind: str
    number: str
    name: str
    score: float
    is_sure: bool
    reasons: tuple[MatchReason, ...]
    vehicles: tuple[str, ...]
    named: tuple[str, ...]
    """The same, each with the fleet whose it is."""
    answering: tuple[Answering, ...]


@dataclass(frozen=True, slots=True)
class Stranger:
    """What a query calls a vehicle, or a range of them, and no fleet has; or not the one that was named."""

    text: str
    is_range: bool
    fleets: tuple[str, ...]
    """That were named before it."""
    others: tuple[str, ...]
    """That have it."""


@dataclass(frozen=True, slots=True)
class Answered:
    """Which of the three answers it is, and what was found, best first; a request may stand before any part."""

    said: str
    """this, likely or none."""
    found: tuple[Found, ...]
    stranger: Stranger | None = None
    taken: tuple[tuple[str, str], ...] = ()
    """What was typed otherwise than its fleet writes it, with the vehicle that it was taken for."""
    pieces: str = ""
    """The two pieces that the query names, or a label that does not agree; "" for none."""
    meant: tuple[str, ...] = ()
    """The batches that may be meant where nobody can say which it is."""
    asks: bool = False
    """Whether a piece is spoken of, and neither a part nor a batch can be told from it."""
    unread: tuple[str, ...] = ()
    """What stands beside a known piece and is not understood."""


class Finder:
    """The ranker over one catalogue, for use in a `with` block.

    The engine must be closed: left to the interpreter's end, it can keep the process waiting for ever.
    """

    def __init__(self, data: dict[str, Any], scripts: Path) -> None:
        """data: what `generator.pages.finder.index.finder_data` gives. scripts: the browser's scripts."""
        self._data = data
        self._scripts = scripts
        self._engine: MiniRacer | None = None

    def __enter__(self) -> Self:
        """Start the engine and build the index. Raises FileNotFoundError where a script is missing."""
        scripts = read_scripts(self._scripts)
        sources = scripts.room("vehicles") + scripts.room("labels") + scripts.room("finder")
        # Here and not above: the engine is 80 MB that only `spares find` needs.
        from py_mini_racer import MiniRacer  # noqa: PLC0415

        self._engine = MiniRacer()
        self._engine.eval(sources)
        self._engine.eval(f"globalThis.sparesIndex = {json.dumps(self._data)}")
        self._engine.eval("globalThis.index = spares.finder.prepare(sparesIndex)")
        self._engine.eval(_ASK)
        return self

    def __exit__(self, *_: object) -> None:
        if self._engine is not None:
            self._engine.close()
            self._engine = None

    def find(self, query: str, limit: int = 10, vehicle: str = "") -> tuple[Found, ...]:
        """The best `limit` parts and open requests for a query, best first."""
        return self.answer(query, limit, vehicle).found

    def answer(self, query: str, limit: int = 10, vehicle: str = "") -> Answered:
        """The same with which of the three answers it is. vehicle: the one chosen beforehand, "" for none."""
        told = self._told("ask", query, limit, vehicle)
        given = told["stranger"]
        stranger = given and Stranger(given["text"], given["kind"] == "range", tuple(given["among"]), tuple(given["others"]))
        found = tuple(self._found(hit, stranger) for hit in told["hits"])
        taken = tuple((typed, number) for typed, number in told["taken"])
        return Answered(told["said"], found, stranger, taken, told["pieces"], tuple(told["meant"]), told["asks"], tuple(told["unread"]))

    def heard(self, query: str) -> str:
        """The query with its numbers in words as digits."""
        return str(self._told("heard", query))

    def near(self, wish: Wish) -> tuple[NearMatch, ...]:
        """The nearest few to a wish, best first, as the page for a new request shows them."""
        records = self._data["records"]
        return tuple(
            NearMatch(
                number=records[hit["at"]]["number"],
                name=records[hit["at"]]["name"],
                score=hit["score"],
                by=tuple(dict.fromkeys(hit["by"])),
            )
            for hit in self._told("near", json.dumps(asdict(wish)))
        )

    def _told(self, function: str, *asked: object) -> Any:
        if self._engine is None:
            raise ValueError("a Finder answers inside its `with` block only")
        return json.loads(str(self._engine.call(function, *asked)))

    def _found(self, hit: dict[str, Any], stranger: Stranger | None) -> Found:
        record = self._data["records"][hit["at"]]
        reasons = tuple(
            MatchReason(each["kind"], each["asked"], each["text"], each["detail"], each.get("as", ""), each.get("shape", ""), each.get("n", 1))
            for each in hit["why"]
        )
        return Found(
            kind=record["kind"],
            number=record["number"],
            name=record["name"],
            score=hit["score"],
            is_sure=hit["sure"],
            reasons=reasons,
            vehicles=tuple(each or (stranger.text if stranger else "") for each in hit["vehicles"]),
            named=tuple(each or (stranger.text if stranger else "") for each in hit["named"]),
            answering=tuple(Answering(each["place"], tuple(each["vehicles"])) for each in hit["grounds"]),
        )
