"""Parts by their form: everything once, at one scale, and by what its model measures (common practice, no source)."""

import re

import pytest

from generator.pages.browse.by_look import RoughForm, form_of
from generator.pages.site import site
from tests.pages.sample import CATALOGUE, DAY, judged_sample


def page_of(catalogue, sheets, problems):
    return next(each.text for each in site(catalogue, sheets, problems, DAY, lambda _front, _wanted: {}).pages if each.path == "by-look.md")


def test_every_part_stands_there_once_at_one_scale():
    catalogue, sheets, problems = judged_sample(CATALOGUE)
    page = page_of(catalogue, sheets, problems)
    assert sorted(re.findall(r'card__number">([^<]*)<', page)) == sorted(sheet.number for sheet in sheets)
    assert len(set(re.findall(r'class="true__mm"[^>]*>([^<]*)<', page))) == 1


@pytest.mark.parametrize(("size", "volume", "form"), [
    ((70.0, 70.0, 26.0), 60_000.0, RoughForm.ROUND),
    ((30.0, 30.0, 4.0), 2_000.0, RoughForm.ROUND),
    ((150.0, 40.0, 30.0), 90_000.0, RoughForm.LONG),
    ((120.0, 80.0, 10.0), 60_000.0, RoughForm.FLAT),
    ((90.0, 70.0, 60.0), 40_000.0, RoughForm.HOLLOW),
    ((40.0, 34.0, 30.0), 25_000.0, RoughForm.BLOCK),
])  # fmt: skip
def test_a_form_is_what_its_measures_say(size, volume, form):
    assert form_of(size, volume) is form


def test_what_is_not_measured_has_no_form():
    assert form_of(None, None) is RoughForm.UNKNOWN
