"""What a spreadsheet shows is what somebody has typed: what it keeps beside is guessed by nobody."""

import pytest

from generator.importing.workbook import _shows_whole_day


@pytest.mark.parametrize("form", ["yyyy-mm-dd", "dd.mm.yyyy", "d/m/yy", "[$-407]d. mmmm yyyy", 'dd" of "mmmm yyyy'])
def test_a_whole_day_is_shown(form):
    assert _shows_whole_day(form)


@pytest.mark.parametrize("form", ["mmm yyyy", "yyyy", "dd.mm.", "[$-de-DE]mmmm yyyy", '"day of "mmm yyyy', "mm/yyyy", "h:mm", "General", ""])
def test_of_a_month_or_a_year_nobody_has_typed_the_day(form):
    assert not _shows_whole_day(form)
