"""What a purchaser of printed parts lists when ordering (ISO/ASTM 52901:2017), from the records; what these do not hold is told as open.

Tolerances, feedstock and the unit of the model are told in the same words in the text of an order (stock/order_text.py).
"""

from collections.abc import Iterable, Iterator

from generator.pages.part.figures import CheckLine, figures, grouped
from generator.pages.submissions.case import SubmissionCase
from generator.pages.submissions.kinds import Block, SubmissionSection
from generator.pages.wording import Wording
from generator.records.catalogue import Catalogue
from generator.records.depot import Depot
from generator.rules.sheet import Sheet

_KEYS = (
    "order", "geometry", "tolerances", "surface_texture", "orientation", "feedstock", "process", "repair", "imperfections", "control",
    "characteristics", "inspection", "acceptance",
)  # fmt: skip
_ITEMS_OF_THEIR_OWN = ("orientation", "up", "surface_texture", "repair", "acceptable_imperfections")
_OF_PRINTS = frozenset({"geometry", "orientation", "process", "control", "repair", "imperfections", "surface_texture"})
"""What nobody states of a part that is bought."""


def order_data(case: SubmissionCase) -> SubmissionSection:
    """A row for each item of the standard's list, in its order."""
    w = case.w
    rows = tuple((w(f"submission.order.{key}"), said or w("submission.not_recorded")) for key, said in items(case))
    columns = (w("submission.label.item"), w("submission.label.recorded"))
    return SubmissionSection(key="order", heading=w("submission.section.order"), blocks=(Block(says=(w("submission.order_says"),), columns=columns, rows=rows),))


def items(case: SubmissionCase) -> Iterator[tuple[str, str]]:
    """Each key of `submission.order` and what is recorded; empty where nothing is."""
    told = _told(case)
    yield from ((key, told.get(key, "")) for key in _KEYS)


def _told(case: SubmissionCase) -> dict[str, str]:
    w, part, catalogue = case.w, case.part, case.catalogue
    made = figures(case.sheet, part, case.around)
    making = dict(made.making)
    makers = [catalogue.makers[name] for name in part.makers if name in catalogue.makers]
    order_at = [each.order_at for each in makers] + ([part.no_model.buy_at] if part.no_model and part.no_model.buy_at else [])
    apart = {w(f"figures.making.{key}") for key in _ITEMS_OF_THEIR_OWN}
    return {
        "order": w("submission.order_is", number=part.number, revision=part.revision, at="; ".join(order_at) or None),
        "geometry": _geometry(case),
        "tolerances": tolerance_words(made.checks, case.around.depot, w),
        "orientation": "; ".join(filter(None, (making.get(w("figures.making.orientation")), making.get(w("figures.making.up"))))),
        "feedstock": feedstock_words(case.sheet, catalogue, w),
        "process": "; ".join(f"{name}: {value}" for name, value in made.making if name not in apart),
        "surface_texture": making.get(w("figures.making.surface_texture"), ""),
        "repair": making.get(w("figures.making.repair"), ""),
        "imperfections": making.get(w("figures.making.acceptable_imperfections"), ""),
        "control": w("submission.control_is") if any(each.maker in part.makers for each in catalogue.production.machines.values()) else "",
        "characteristics": "; ".join(f"{name}: {value}" for name, value in made.part if name in (w("figures.part.size"), w("figures.part.mass"))),
        "inspection": "; ".join(f"{each.name}: {each.measured_with}" for each in made.checks),
        "acceptance": w("submission.acceptance_is") if made.checks else "",
    }


def _geometry(case: SubmissionCase) -> str:
    """ISO/ASTM 52901 asks for the file with its version."""
    w, file = case.w, case.sheet.folder.mesh
    if file is None:
        return ""
    return w("submission.geometry_is", file=file.path.rsplit("/", 1)[-1], sha256=grouped(file.sha256), unit=unit_words(case.sheet, w))


def unit_words(sheet: Sheet, w: Wording) -> str | None:
    """Of the model, and who says so: a mesh of the STL form carries none. None where it was not read."""
    source = sheet.source
    return w(f"figures.unit_of.{source.unit_source}", unit=w.term("mesh_unit", source.units)) if source else None


def tolerance_words(checks: Iterable[CheckLine], depot: Depot, w: Wording) -> str:
    """Each critical dimension with its limits, and the depot's general tolerance; empty where neither is said."""
    rule = depot.drawing.general_tolerance
    each_one = (w("submission.tolerance", name=each.name, least=each.least, most=each.most) for each in checks)
    return "; ".join((*each_one, *([f"ISO 2768-1 {rule.value}"] if rule else [])))


def feedstock_words(sheet: Sheet, catalogue: Catalogue, w: Wording) -> str:
    """The material, and which inspection documents the part's route asks for; empty where its record cannot be read."""
    record = catalogue.materials.get(sheet.part.material) if sheet.part else None
    if record is None:
        return ""
    asked = catalogue.inspection_of(sheet.history.route)
    coupons = w("submission.coupons_too") if asked.printed_coupons else None
    return w("submission.feedstock_is", name=record.name, grade=record.grade, supplier=record.supplier, least=asked.least.value, coupons=coupons)


def unrecorded(case: SubmissionCase) -> tuple[str, ...]:
    """The items of the list of which nothing is recorded, by name; of a part that is bought only those that speak of it."""
    beside = _OF_PRINTS if case.part.is_bought else frozenset[str]()
    return tuple(case.w(f"submission.order.{key}") for key, said in items(case) if not said and key not in beside)
