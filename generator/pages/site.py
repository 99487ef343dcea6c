"""A judged catalogue → every page and file that it adds to the site."""

from collections.abc import Iterator, Mapping
from datetime import date
from types import MappingProxyType

from generator.pages.approvals.page import approvals_page
from generator.pages.around import Around
from generator.pages.browse.by_look import look_page
from generator.pages.browse.ways_in import state_pages, vehicle_pages
from generator.pages.browse.whole import home_page, problems_page
from generator.pages.drawing.page import Keep, drawings, drawn_now
from generator.pages.finder.examples import own_words
from generator.pages.finder.index import finder_script
from generator.pages.fire.evidence_page import evidence_page
from generator.pages.fire.material_page import material_pages
from generator.pages.fire.papers import papers
from generator.pages.fire_tests.page import fire_tests_page
from generator.pages.fitting_form.page import fitted_form_data, fitted_form_page
from generator.pages.gathered import around_of
from generator.pages.holding.page import holds_page
from generator.pages.inspection_form.form import inspection_data
from generator.pages.lately.page import lately_page
from generator.pages.offline.app_manifest import TOUCH_ICON, Icons, app_assets, pictured
from generator.pages.on_vehicles.carried import carried_pages, sitting_told
from generator.pages.on_vehicles.recalled import open_recalls, recall_pages
from generator.pages.outline import outline_files
from generator.pages.outputs import Asset, CopiedFile, PackedFile, Page, Site, StoredAsset
from generator.pages.part.offered import (
    copies,
    offered,
    offered_papers,
    offered_prints,
    paper_pages,
    print_pages,
    text_pages,
)
from generator.pages.part.page import part_page
from generator.pages.part.silhouettes import kept_silhouettes
from generator.pages.part.turnable import model_asset
from generator.pages.part.verdict_data import part_script, rules_script
from generator.pages.policy import POLICY
from generator.pages.printed.page import printed_pages
from generator.pages.reports.page import month_pages, month_reports, month_tables
from generator.pages.requests.asked import request_photos, request_pictures, requests_page
from generator.pages.requests.asking import request_data, request_page
from generator.pages.requests.looked_for import looked_for_page
from generator.pages.savings.page import savings_page, savings_table
from generator.pages.seen import placeholders
from generator.pages.stock.page import stock_page
from generator.pages.today.page import today_page
from generator.pages.wording import Wording
from generator.planning.saving.whole import whole_savings
from generator.records.catalogue import Catalogue
from generator.records.depot import Depot
from generator.records.problems import Problem
from generator.rules.asked_alike import AskedShape
from generator.rules.facts.case import Copy
from generator.rules.lately import Lately
from generator.rules.sheet import Sheet

__all__ = ["Asset", "CopiedFile", "Page", "Site", "site"]


def site(
    catalogue: Catalogue,
    sheets: tuple[Sheet, ...],
    problems: tuple[Problem, ...],
    day: date,
    icons: Icons,
    *,
    keep: Keep = drawn_now,
    asked: Mapping[str, AskedShape] = MappingProxyType({}),
    lately: Lately | None = None,
) -> Site:
    """The site of a catalogue judged on `day`, with the models of its open requests and what git tells of it. Raises ValueError for a catalogue without its depot."""
    depot = catalogue.depot
    if depot is None:
        raise ValueError("a catalogue without its depot has no pages")
    saved = whole_savings(sheets, catalogue, day)
    around = around_of(catalogue, sheets, day, asked=asked, lately=lately, saved=saved)
    reports = month_reports(around, sheets, day)
    pages = (
        *_whole_pages(around, sheets, problems, day),
        *month_pages(around, reports),
        savings_page(around, saved),
        *_fire_pages(around, sheets, depot, day),
        *_single_pages(around, sheets),
    )
    assets = (*_assets(around, sheets, depot, day, (icons, keep)), *month_tables(reports), savings_table(saved))
    return Site(
        pages=tuple(sorted(pages, key=lambda page: page.path)),
        assets=tuple(sorted(assets, key=lambda asset: asset.path)),
        files=tuple(sorted(_files(around, sheets), key=lambda file: file.path)),
        theme=_theme(depot, around.w, day) | {"icon": TOUCH_ICON if pictured(sheets) else None},
    )


def _whole_pages(around: Around, sheets: tuple[Sheet, ...], problems: tuple[Problem, ...], day: date) -> Iterator[Page]:
    """Of all parts, vehicles, prints or requests."""
    yield home_page(around, sheets, problems, open_recalls(around, day))
    yield from vehicle_pages(around, sheets)
    yield from carried_pages(around)
    yield from recall_pages(around, day)
    yield look_page(around, sheets)
    yield from state_pages(around, sheets)
    yield approvals_page(around, sheets, day)
    yield today_page(around, sheets, day)
    yield stock_page(around, sheets, day)
    yield holds_page(around, day)
    yield from lately_page(around)
    yield from printed_pages(around, day)
    yield requests_page(around)
    yield request_page(around)
    yield fitted_form_page(around)
    yield looked_for_page(around)
    yield problems_page(around, sheets, problems)


def _fire_pages(around: Around, sheets: tuple[Sheet, ...], depot: Depot, day: date) -> Iterator[Page]:
    evidence = papers(around.catalogue, sheets, Copy(day, depot.max_copy_age_days))
    yield fire_tests_page(around, sheets, day)
    yield evidence_page(around, evidence, sheets, day)
    yield from material_pages(around, sheets, evidence)


def _single_pages(around: Around, sheets: tuple[Sheet, ...]) -> Iterator[Page]:
    """Of each part, and of each document that is offered as text."""
    yield from (part_page(sheet, around) for sheet in sheets)
    yield from (page for sheet in sheets for page in text_pages(sheet.folder, around.found.by_folder[sheet.folder.folder], sheet.name, around.w))
    yield from paper_pages(around.catalogue, around.w)
    yield from print_pages(around.catalogue.production, around.w)


def _assets(
    around: Around, sheets: tuple[Sheet, ...], depot: Depot, day: date, kept: tuple[Icons, Keep]
) -> Iterator[Asset | StoredAsset]:
    own = own_words(sheets, around.w)
    batched = around.catalogue.production.keeps_batches
    rules = rules_script(around.w, depot.max_copy_age_days, day, around.catalogue.fleets.values(), own, keeps_batches=batched)
    yield Asset(path="assets/data/rules.js", content=rules)
    yield Asset(
        path="assets/data/finder.js", content=finder_script(around.catalogue, sheets, around.found, day, around.not_good)
    )
    yield request_data(around)
    yield fitted_form_data(around)
    yield inspection_data(around)
    yield from request_pictures(around)
    yield from placeholders(sheets, around.w)
    icons, keep = kept
    yield from app_assets(depot, sheets, around.w, icons)
    yield from drawings(sheets, around, keep)
    for sheet in sheets:
        stem = around.found.by_folder[sheet.folder.folder]
        yield Asset(path=f"assets/data/parts/{stem}.js", content=part_script(sheet, stem, around.catalogue, around.w, sitting_told(sheet.number, around)))
        if model := model_asset(sheet, stem):
            yield model
        if sheet.pictures:
            yield StoredAsset(path=f"assets/pictures/{stem}-front.webp", kept=sheet.pictures.front)
            yield StoredAsset(path=f"assets/pictures/{stem}-behind.webp", kept=sheet.pictures.behind)
            yield StoredAsset(path=f"assets/pictures/{stem}-thumb.webp", kept=sheet.pictures.thumb)
        if sheet.views:
            yield StoredAsset(path=f"assets/data/silhouettes/{stem}.js", kept=kept_silhouettes(sheet.number, sheet.name, sheet.views))
        if sheet.pictures and sheet.pictures.walls:
            yield StoredAsset(path=f"assets/pictures/{stem}-walls.webp", kept=sheet.pictures.walls)


def _files(around: Around, sheets: tuple[Sheet, ...]) -> Iterator[CopiedFile | PackedFile]:
    for sheet in sheets:
        yield from copies(offered(sheet.folder, around.found.by_folder[sheet.folder.folder]).values())
    yield from copies(offered_papers(around.catalogue).values())
    yield from copies(offered_prints(around.catalogue.production).values())
    yield from request_photos(around.catalogue)
    yield from outline_files(around.catalogue)


def _theme(depot: Depot, w: Wording, day: date) -> dict[str, object]:
    return {
        "language": w.language,
        "words": {key: w(f"theme.{key}") for key in w.tree["theme"]},
        "railway": depot.railway,
        "depot": depot.depot,
        "contact": depot.contact,
        "built_on": day.isoformat(),
        "policy": POLICY,
        "copy": w("copy.made", built_on=day.isoformat(), max_copy_age_days=depot.max_copy_age_days),
    }
