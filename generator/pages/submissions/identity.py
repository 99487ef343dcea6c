"""What the part is, what it replaces, how it looks, and at which places of which vehicles it sits."""

from collections.abc import Iterator

from generator.pages.drawing.page import drawing_file
from generator.pages.fire.material_lines import data_lines
from generator.pages.part.figures import figures
from generator.pages.part.replaces import replaces
from generator.pages.part.story import photo_captions
from generator.pages.submissions.case import SubmissionCase
from generator.pages.submissions.kinds import Block, Figure, SubmissionSection
from generator.pages.submissions.shown import inspection_rows
from generator.pages.verdict_lines import vehicle_words
from generator.pages.wording import Wording
from generator.planning.saving.ahead import ahead
from generator.records.catalogue import KeptFile


def identity(case: SubmissionCase) -> SubmissionSection:
    """Number, revision and name as they are, and the model that they stand for."""
    w, part = case.w, case.part
    told = figures(case.sheet, part, case.around)
    pairs = (
        (w("submission.label.number"), part.number),
        (w("submission.label.revision"), part.revision),
        (w("submission.label.name"), part.name),
        *(((w("submission.label.other_names"), ", ".join(part.other_names)),) if part.other_names else ()),
        (w("submission.label.purpose"), part.purpose),
        *told.part,
    )
    model = Block(heading=w("figures.model.head"), pairs=told.model, documents=case.documents([case.sheet.folder.mesh.path]) if case.sheet.folder.mesh else ())
    return SubmissionSection(key="identity", heading=w("submission.section.identity"), blocks=(Block(pairs=pairs), model))


def replaced(case: SubmissionCase) -> SubmissionSection:
    w, part, around = case.w, case.part, case.around
    found = replaces(ahead(case.sheet, case.catalogue, around.demands.get(part.number), around.fitted.get(part.number)), part, around.depot, w)
    numbers = tuple((line.number, line.kind, line.note or w("missing")) for line in found.numbers)
    columns = (w("submission.label.number"), w("submission.label.kind"), w("submission.label.note"))
    why = (*([found.assembly] if found.assembly else ()), *([found.saving] if found.saving else ()))
    why += tuple(w("submission.fails_by", how=each) for each in part.symptoms)
    why += (w("submission.differs", how=part.what_changed),) if part.what_changed else ()
    blocks = (Block(says=why), Block(columns=columns if numbers else (), rows=numbers))
    return SubmissionSection(key="replaced", heading=w("submission.section.replaced"), blocks=blocks, nothing=w("submission.nothing.replaced"))


def pictures(case: SubmissionCase) -> SubmissionSection:
    """As they are drawn of the model, and the dimensioned drawing on a page of its own."""
    w, found = case.w, case.sheet.pictures
    drawn = tuple(_pictures(case)) if found else ()
    kept = case.sheet.folder.photos
    photos = Block(says=(w.count("submission.photos", len(kept)),) if kept else (), figures=tuple(_photos(case)), documents=_numbers(case, kept))
    svg = drawing_file(case.sheet, case.around)
    sheet = (Figure(kind="svg", content=svg, says=w("drawing.alt", name=case.part.name), is_sheet=True),) if svg else ()
    drawing = Block(heading=w("submission.drawing") if sheet else "", figures=sheet)
    blocks = (Block(figures=drawn), photos, drawing)
    return SubmissionSection(key="pictures", heading=w("submission.section.pictures"), blocks=blocks, nothing=w("submission.nothing.pictures"))


def _numbers(case: SubmissionCase, files: tuple[KeptFile, ...]) -> tuple[int, ...]:
    return case.documents(file.path for file in files)


def _photos(case: SubmissionCase) -> Iterator[Figure]:
    """Those that can be drawn, below each what its file is called."""
    captions = dict(photo_captions(case.sheet.folder))
    for each in case.sheet.folder.photos:
        if drawn := case.photos.get(each.path):
            yield Figure(kind="jpg", content=drawn, says=case.w("submission.picture.photo", caption=captions.get(each.path, each.path), number=case.refers(each.path)))


def _pictures(case: SubmissionCase) -> Iterator[Figure]:
    found, w = case.sheet.pictures, case.w
    if found is None:
        return
    yield Figure(kind="webp", content=found.front.read(), says=w("submission.picture.front"))
    yield Figure(kind="webp", content=found.behind.read(), says=w("submission.picture.behind"))
    walls = figures(case.sheet, case.part, case.around).walls
    if found.walls and walls:
        yield Figure(kind="webp", content=found.walls.read(), says=walls)


def places(case: SubmissionCase) -> SubmissionSection:
    w = case.w
    columns = tuple(w(f"submission.label.{key}") for key in ("fleet", "vehicles", "place", "per_vehicle", "area"))
    rows = tuple(
        (
            _fleet(fit.fleet, case),
            vehicle_words(fit.vehicles) or w("submission.all_vehicles"),
            case.catalogue.place_name(fit.fleet, fit.place),
            w.number(fit.per_vehicle),
            _area(fit.fleet, fit.place, case, w),
        )
        for fit in case.fits
    )
    left_out = len(case.part.fits) - len(rows)
    says = (w.count("submission.other_fleets", left_out),) if left_out else ()
    return SubmissionSection(key="places", heading=w("submission.section.places"), blocks=(Block(says=says, columns=columns, rows=rows),))


def _fleet(fleet: str, case: SubmissionCase) -> str:
    known = case.catalogue.fleets.get(fleet)
    if known is None:
        return fleet
    return known.name if known.name.startswith(fleet) else f"{fleet} {known.name}"


def _area(fleet: str, place: str, case: SubmissionCase, w: Wording) -> str:
    found = case.catalogue.place(fleet, place)
    return w(f"submission.area.{found.area.value}") if found else w("missing")


def material(case: SubmissionCase) -> SubmissionSection:
    """What it is made of, and each inspection document with whether it counts on the route."""
    w, blocks = case.w, list[Block]()
    for each in case.part.materials:
        blocks += _of_material(each, case)
    return SubmissionSection(key="material", heading=w("submission.section.material"), blocks=tuple(blocks), nothing=w("submission.nothing.material"))


def _of_material(name: str, case: SubmissionCase) -> Iterator[Block]:
    w, record = case.w, case.catalogue.materials.get(name)
    if record is None:
        yield Block(says=(w("submission.no_material", material=name),))
        return
    yield Block(heading=record.name, pairs=data_lines(record, w))
    rows = inspection_rows(record, case)
    columns = tuple(w(f"submission.label.{key}") for key in ("type", "reference", "speaks_of", "issued", "until", "counts", "document"))
    asked = case.catalogue.inspection_of(case.sheet.history.route)
    says = (w("submission.asked_type", least=asked.least.value), *((w("submission.asked_coupons"),) if asked.printed_coupons else ()))
    yield Block(says=says if rows else (*says, w("submission.no_inspection")), columns=columns if rows else (), rows=rows)

