"""What a purchaser of printed parts lists when ordering (ISO/ASTM 52901:2017), from the records; what these do not hold is told as open."""

from collections.abc import Iterator

from generator.pages.part.figures import figures, grouped
from generator.pages.submissions.case import Case
from generator.pages.submissions.kinds import Block, Section

_KEYS = (
    "order", "geometry", "tolerances", "surface_texture", "orientation", "feedstock", "process", "repair", "imperfections", "control",
    "characteristics", "inspection", "acceptance",
)  # fmt: skip
_OF_PRINTS = frozenset({"geometry", "orientation", "process", "control", "repair", "imperfections", "surface_texture"})
"""What nobody states of a part that is bought."""


def order_data(case: Case) -> Section:
    """A row for each item of the standard's list, in its order."""
    w = case.w
    rows = tuple((w(f"submission.order.{key}"), said or w("submission.not_recorded")) for key, said in items(case))
    columns = (w("submission.label.item"), w("submission.label.recorded"))
    return Section(key="order", heading=w("submission.section.order"), blocks=(Block(says=(w("submission.order_says"),), columns=columns, rows=rows),))


def items(case: Case) -> Iterator[tuple[str, str]]:
    """Each key of `submission.order` and what is recorded; empty where nothing is."""
    told = _told(case)
    yield from ((key, told.get(key, "")) for key in _KEYS)


def _told(case: Case) -> dict[str, str]:
    w, part, catalogue = case.w, case.part, case.catalogue
    made = figures(case.sheet, part, catalogue, w)
    making, rule = dict(made.making), case.around.depot.drawing.general_tolerance
    makers = [catalogue.makers[name] for name in part.makers if name in catalogue.makers]
    asked = catalogue.inspection_of(case.sheet.history.route)
    order_at = [each.order_at for each in makers] + ([part.no_model.buy_at] if part.no_model and part.no_model.buy_at else [])
    return {
        "order": w("submission.order_is", number=part.number, revision=part.revision, at="; ".join(order_at) or None),
        "geometry": _geometry(case),
        "tolerances": "; ".join(
            (*(w("submission.tolerance", name=each.name, least=each.least, most=each.most) for each in made.checks), *([f"ISO 2768-1 {rule.value}"] if rule else []))
        ),
        "orientation": "; ".join(filter(None, (making.get(w("figures.making.orientation")), making.get(w("figures.making.up"))))),
        "feedstock": _feedstock(case, asked.least.value),
        "process": "; ".join(f"{name}: {value}" for name, value in made.making if name not in (w("figures.making.orientation"), w("figures.making.up"))),
        "control": w("submission.control_is") if any(each.maker in part.makers for each in catalogue.production.machines.values()) else "",
        "characteristics": "; ".join(f"{name}: {value}" for name, value in made.part if name in (w("figures.part.size"), w("figures.part.mass"))),
        "inspection": "; ".join(f"{each.name}: {each.measured_with}" for each in made.checks),
        "acceptance": w("submission.acceptance_is") if made.checks else "",
    }


def _geometry(case: Case) -> str:
    """ISO/ASTM 52901 asks for the file with its version; a mesh of the STL form carries no units, so that they are said beside it."""
    w, file, source = case.w, case.sheet.folder.mesh, case.sheet.source
    if file is None:
        return ""
    unit = w(f"figures.unit_of.{source.unit_source}", unit=w.term("mesh_unit", source.units)) if source else None
    return w("submission.geometry_is", file=file.path.rsplit("/", 1)[-1], sha256=grouped(file.sha256), unit=unit)


def _feedstock(case: Case, least: str) -> str:
    w, record = case.w, case.catalogue.materials.get(case.part.material)
    if record is None:
        return ""
    return w("submission.feedstock_is", name=record.name, grade=record.grade, supplier=record.supplier, least=least)


def unrecorded(case: Case) -> tuple[str, ...]:
    """The items of the list of which nothing is recorded, by name; of a part that is bought only those that speak of it."""
    beside = _OF_PRINTS if case.part.is_bought else frozenset[str]()
    return tuple(case.w(f"submission.order.{key}") for key, said in items(case) if not said and key not in beside)
