"""Of what else a part could be made where its own material does not answer in the fire, and what that would change, in words."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from generator.pages.wording import Wording
from generator.planning.swaps import NowAndThen, Swap, Unanswered, unanswered_part
from generator.records.catalogue import Catalogue
from generator.records.depot import Depot
from generator.rules.sheet import Sheet

_DECIMALS = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapLine:
    """One material by one maker; key is that of a verdict on a row."""

    material: str
    material_id: str
    maker: str
    key: str
    verdict: str
    why: tuple[str, ...]
    changes: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Swaps:
    """says: where it is not answered now; lines: none where nothing else would do."""

    says: str
    lines: tuple[SwapLine, ...]


def swap_lines(sheet: Sheet, catalogue: Catalogue, w: Wording) -> Swaps | None:
    """None for a part that is answered, which costs nothing to find out."""
    found = unanswered_part(sheet, catalogue)
    if found is None or catalogue.depot is None:
        return None
    depot = catalogue.depot
    return Swaps(says=w("fire.swaps.says", where=_where(found, catalogue)), lines=tuple(_line(each, catalogue, depot, w) for each in found.swaps))


def _where(found: Unanswered, catalogue: Catalogue) -> tuple[str, ...]:
    return tuple(f"{fit.fleet} {catalogue.place_name(fit.fleet, fit.place)}" for fit in found.places)


def _line(swap: Swap, catalogue: Catalogue, depot: Depot, w: Wording) -> SwapLine:
    key = _key(swap)
    return SwapLine(
        material=catalogue.materials[swap.material].name,
        material_id=swap.material,
        maker=swap.maker.name,
        key=key,
        verdict=w(f"fire.swaps.{key}"),
        why=tuple(_why(swap, w)),
        changes=tuple((w(f"fire.swaps.{name}"), told) for name, told in _changes(swap, depot, w)),
    )


def _key(swap: Swap) -> str:
    """Without a certificate nothing passes, whatever its tests say; an unknown plate asks."""
    if not swap.has_certificate:
        return "missing"
    return "passes" if swap.passes and swap.fits_plate else "asks"


def _why(swap: Swap, w: Wording) -> Iterator[str]:
    yield from (w.term("fire_asked", each) for each in swap.why)
    if not swap.has_certificate:
        yield w("fire.swaps.no_certificate")
    if swap.fits_plate is None:
        yield w("fire.swaps.plate_unknown")


def _changes(swap: Swap, depot: Depot, w: Wording) -> Iterator[tuple[str, str]]:
    """What changes, now and then; what is not known is told so."""
    yield "mass", _now_and_then(swap.mass_g, lambda value: w("fire.swaps.grams", value=w.measure(value, _DECIMALS)), w)
    yield "price", _now_and_then(swap.price_one, lambda value: w.money(value, depot.currency), w)
    now = ", ".join(w.term("process", each) for each in swap.process_now) or w("fire.unknown")
    then = w.term("process", swap.maker.process)
    yield "process", w("fire.swaps.same", now=now) if now == then else w("fire.swaps.change", now=now, then=then)
    yield "heat", _now_and_then(swap.heat_deflection_c, lambda value: w("fire.swaps.degrees", value=w.measure(value, _DECIMALS)), w)
    yield "stiffness", _now_and_then(swap.tensile_modulus_mpa, lambda value: w("fire.swaps.megapascals", value=w.measure(value, _DECIMALS)), w)


def _now_and_then(figure: NowAndThen, told: Callable[[float], str], w: Wording) -> str:
    """Such as 12 g → 10 g (2 g less)."""
    now, then = (w("fire.unknown") if each is None else told(each) for each in (figure.now, figure.then))
    if figure.by is None:
        return w("fire.swaps.change", now=now, then=then)
    if now == then:
        return w("fire.swaps.same", now=now)
    by = w(f"fire.swaps.{'more' if figure.by > 0 else 'less'}", value=told(abs(figure.by)))
    return w("fire.swaps.change", now=now, then=then, by=by)
