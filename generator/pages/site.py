"""A judged catalogue → every page and file that it adds to the site."""

from datetime import date

from generator.pages.outputs import Asset, CopiedFile, Page, Site
from generator.records.catalogue import Catalogue
from generator.records.problems import Problem
from generator.sheets import Sheet

__all__ = ["Asset", "CopiedFile", "Page", "Site", "site"]


def site(
    catalogue: Catalogue, sheets: tuple[Sheet, ...], problems: tuple[Problem, ...], day: date
) -> Site:
    """The site of a catalogue judged on `day`. The catalogue must have its depot."""
    raise NotImplementedError
