"""The print list of `spares stock` as values for its paper."""

from generator.pages.addresses import addresses, page_on_site
from generator.pages.part.printing import pose_words
from generator.pages.reports.told import Names
from generator.pages.stock.told import grams_words, print_section, time_words
from generator.papers.coded import label_text
from generator.papers.kinds import OnSketch, PrintGroup, PrintPlate, PrintSheet, ToPrint
from generator.planning.stock.print_list import OnPlate, PrintList
from generator.planning.stock.whole import StockPlan


def print_sheet(plan: StockPlan, names: Names) -> PrintSheet:
    """By printer, material and layer, plate by plate, as the page has it."""
    w, depot = names.w, names.catalogue.depot
    says = w("papers.print_list.codes" if plan.prints else "papers.print_list.nothing")
    return PrintSheet(
        title=w("papers.print_list.title"),
        subtitle=w("papers.print_list.subtitle", depot=depot.depot if depot else "", day=w.day(plan.day)),
        sentences=(says,),
        groups=tuple(_group(each, names) for each in plan.prints),
    )


def _group(listed: PrintList, names: Names) -> PrintGroup:
    told = print_section(listed, names)
    plates = tuple(_plate(at, plate, listed, names) for at, plate in enumerate(listed.plates, 1))
    return PrintGroup(heading=told.heading, sentences=told.sentences, plates=plates)


def _plate(at: int, plate: OnPlate, listed: PrintList, names: Names) -> PrintPlate:
    w = names.w
    numbers = [number for number, _ in plate.pieces]
    wide, deep, _ = listed.maker.build_volume_mm
    grams = grams_words(plate, w) if plate.grams else None
    return PrintPlate(
        heading=w("papers.print_list.plate", n=w.number(at), all=w.number(len(listed.plates))),
        says=w("papers.print_list.takes", time=time_words(plate.minutes, w) if plate.minutes else w("papers.print_list.no_time"), grams=grams),
        parts=tuple(_to_print(number, count, listed, names) for number, count in plate.pieces),
        sketch=tuple(OnSketch(x=each.x, y=each.y, wide=each.wide, deep=each.deep, part=numbers.index(each.box.name)) for each in plate.lying),
        wide_mm=wide,
        deep_mm=deep,
    )


def _to_print(number: str, count: int, listed: PrintList, names: Names) -> ToPrint:
    w, folder, catalogue = names.w, names.catalogue.folder(number), names.catalogue
    part, pose = folder.part if folder else None, listed.poses.get(number)
    settings = part.settings if part else None
    said = [settings.orientation if settings else None, pose_words(pose, w) if pose else None]
    stem = addresses(catalogue.parts).by_folder.get(folder.folder) if folder else None
    page = page_on_site(catalogue.depot.address, stem) if catalogue.depot and stem else None
    revision, name = (part.revision, part.name) if part else ("", number)
    return ToPrint(
        part=w("stock.piece", count=w.number(count), part=w("order.part_line", number=number, revision=revision, name=name)),
        pose="; ".join(filter(None, said)),
        code=label_text(number=number, revision=revision, name=name, batch=None, page=page).code,
    )
