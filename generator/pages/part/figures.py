"""Which rows does the table of a part's data show: material, size, process, mesh?"""

from dataclasses import dataclass

from generator.geometry.facts import MeshFacts
from generator.pages.around import Around
from generator.pages.cards import size_of, size_words
from generator.pages.drawing.title_words import tool_words
from generator.pages.part.measured import MeasuredRow, measured_rows
from generator.pages.verdict_lines import vehicle_words
from generator.pages.wording import Wording
from generator.planning.stock.demand import Demand, Source
from generator.records.catalogue import Catalogue
from generator.records.parts import Part
from generator.rules.sheet import Sheet

Row = tuple[str, str]
_ALIKE_MM = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckLine:
    name: str
    nominal: str
    least: str
    most: str
    measured_with: str
    least_mm: float
    most_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    part: tuple[Row, ...]
    making: tuple[Row, ...]
    model: tuple[Row, ...]
    walls: str | None
    """What stands under the picture of the walls; None where there is none."""
    measured: tuple[MeasuredRow, ...]
    """What was recognised in the model."""
    checks: tuple[CheckLine, ...]


def figures(sheet: Sheet, part: Part, around: Around) -> Figures:
    """All data of a part as rows of words; what is not given has no row."""
    catalogue, w = around.catalogue, around.w
    return Figures(
        part=_rows("part", _part(sheet, part, around), w),
        making=_rows("making", _making(part, catalogue, w), w),
        model=_rows("model", _model(sheet, w), w),
        walls=_walls(sheet, w),
        measured=measured_rows(sheet.features, w),
        checks=check_lines(part, w),
    )


def check_lines(part: Part, w: Wording) -> tuple[CheckLine, ...]:
    """The critical dimensions and their limits."""
    return tuple(
        CheckLine(
            name=check.name,
            nominal=w.measure(check.nominal_mm),
            least=w.measure(check.nominal_mm - check.minus_mm),
            most=w.measure(check.nominal_mm + check.plus_mm),
            measured_with=tool_words(check, w),
            least_mm=round(check.nominal_mm - check.minus_mm, 6),
            most_mm=round(check.nominal_mm + check.plus_mm, 6),
        )
        for check in part.checks
    )


def _rows(kind: str, values: dict[str, str | None], w: Wording) -> tuple[Row, ...]:
    return tuple((w(f"figures.{kind}.{key}"), value) for key, value in values.items() if value)


def _part(sheet: Sheet, part: Part, around: Around) -> dict[str, str | None]:
    catalogue, w = around.catalogue, around.w
    material = catalogue.materials.get(part.material)
    fits = [
        w(
            "figures.fit",
            fleet=fit.fleet,
            vehicles=vehicle_words(fit.vehicles) or None,
            place=catalogue.place_name(fit.fleet, fit.place),
            n=str(fit.per_vehicle),
        )
        for fit in part.fits
    ]
    return {
        "size": size_of(sheet, w),
        "mass": f"{w.measure(sheet.mass_g)} g" if sheet.mass_g is not None else None,
        "material": material.name if material else part.material,
        "safety_role": w.term("safety_role", part.safety_role),
        "fits": "; ".join(fits),
        "yearly_demand": _needed(around.demands.get(part.number), w),
        "what_changed": part.what_changed,
    }


def _needed(demand: Demand | None, w: Wording) -> str | None:
    """In a year, as the stock reckons it; by what was fitted with what the record says beside, where that is another."""
    if demand is None or demand.source is Source.RECORD:
        return w.measure(float(demand.told)) if demand else None
    record = w.measure(demand.record) if demand.record not in (None, float(demand.told)) else None
    return w("figures.needed", a_year=w.measure(float(demand.told)), fitted=w.number(demand.fitted), days=w.number(demand.days), record=record)


def _making(part: Part, catalogue: Catalogue, w: Wording) -> dict[str, str | None]:
    settings = part.settings
    wall = settings.wall_mm if settings else None
    infill = settings.infill_percent if settings else None
    makers = [catalogue.makers[name] for name in part.makers if name in catalogue.makers]
    return {
        "process": ", ".join(sorted({w.term("process", maker.process) for maker in makers})),
        "orientation": settings.orientation if settings else None,
        "up": settings.up if settings else None,
        "layer": f"{w.measure(settings.layer_mm)} mm" if settings and settings.layer_mm else None,
        "wall": f"{w.measure(wall)} mm" if wall else w("figures.solid") if settings else None,
        "infill": f"{w.measure(infill)} %" if infill is not None else None,
        "support": settings.support if settings else None,
        "after_print": settings.after_print if settings else None,
        "surface_texture": settings.surface_texture if settings else None,
        "repair": settings.repair if settings else None,
        "acceptable_imperfections": settings.acceptable_imperfections if settings else None,
    }


def _model(sheet: Sheet, w: Wording) -> dict[str, str | None]:
    mesh, file = sheet.mesh, sheet.folder.mesh
    without = sheet.part.no_model if sheet.part else None
    told: dict[str, str | None] = {"no_model": w.term("no_model", without.because) if without else None}
    if file:
        told |= {"file": file.path.rsplit("/", 1)[-1], "sha256": grouped(file.sha256)}
    if sheet.source:
        unit = w.term("mesh_unit", sheet.source.units)
        told |= {
            "format": w.term("mesh_format", sheet.source.format),
            "units": w(f"figures.unit_of.{sheet.source.unit_source}", unit=unit),
        }
    if mesh:
        told |= {
            "as_modelled": _as_modelled(mesh, w),
            "volume": f"{w.number(mesh.volume_mm3 / 1000, 2)} cm³" if mesh.volume_mm3 is not None else None,
            "area": f"{w.number(mesh.area_mm2 / 100, 1)} cm²",
            "faces": w.number(mesh.faces),
            "bodies": w.number(mesh.bodies),
            "soundness": _soundness(mesh, w),
        }
    return told


def _as_modelled(mesh: MeshFacts, w: Wording) -> str:
    """The box along the model's axes, and why it is another than the part's size, where it is."""
    pairs = zip(sorted(mesh.size_mm), sorted(mesh.oriented_size_mm), strict=True)
    is_askew = any(abs(side - own) > _ALIKE_MM for side, own in pairs)
    return w(f"figures.modelled.{'askew' if is_askew else 'along_axes'}", size=size_words(mesh.size_mm, w))


def _walls(sheet: Sheet, w: Wording) -> str | None:
    walls = sheet.walls
    if walls is None or sheet.pictures is None or sheet.pictures.walls is None:
        return None
    return w(
        "figures.walls",
        thinnest=w.number(walls.thinnest_mm, 2),
        thickest=w.number(walls.thickest_mm, 2),
        nominal=w.number(walls.nominal_mm, 2),
    )


def grouped(sha256: str) -> str:
    """A sum in groups of eight, so that it can be compared by eye and breaks at a narrow screen's edge."""
    return " ".join(sha256[start : start + 8] for start in range(0, len(sha256), 8))


def _soundness(mesh: MeshFacts, w: Wording) -> str:
    if not mesh.defects:
        return w("figures.sound" if mesh.is_watertight else "figures.open")
    return "; ".join(f"{w.term('defect', defect.kind)}: {w.number(defect.count)}" for defect in mesh.defects)
