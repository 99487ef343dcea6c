"""Surface texture, repair, acceptable imperfections (ISO/ASTM 52901): what is bound once it is said, and never before.

Cases from an adversary's side: nobody loosens them unseen, nobody's shelf goes void because somebody wrote down what held all along.
"""

import re

import pytest
from pydantic import ValidationError

from generator.records.makers import Maker
from generator.records.materials import Material
from generator.records.parts import Part, Settings
from generator.rules.changes import Means
from generator.rules.consequences import part_changes
from generator.rules.fingerprint import canonical_text
from generator.rules.production.printed import differences, printed_text
from tests.rules.forms import record
from tests.rules.test_consequences import BUREAU, FOLDER, MAKER, MATERIAL, PART

STATED = {"surface_texture": "Ra 12.5 µm or smoother", "repair": "none", "acceptable_imperfections": "layer lines; no gap between walls"}


def text(version=4, **stated):
    part = record(Part, PART | {"settings": PART["settings"] | stated})
    return canonical_text(part, record(Material, MATERIAL), [record(Maker, each) for each in (MAKER, BUREAU)], "a" * 64, FOLDER, version=version)


@pytest.mark.parametrize("version", [1, 2, 3, 4])
def test_no_text_of_before_has_a_line_of_what_nobody_says(version):
    assert not re.search("texture|repair|imperfection", text(version))


@pytest.mark.parametrize("version", [2, 3, 4])
def test_an_approval_of_any_form_asks_about_what_is_said_for_the_first_time(version):
    found = part_changes(text(version), text(version, **STATED))
    assert {each.means for each in found} == {Means.ASK}
    assert len(found) == 3


def test_the_first_form_tells_none_of_them():
    assert text(1) == text(1, **STATED)


@pytest.mark.parametrize("field", STATED)
@pytest.mark.parametrize(
    ("then", "now", "means"),
    [("none", "up to 1 mm", {Means.VOID}), ("up to 1 mm", "up to 11 mm", {Means.VOID}), ("none", None, {Means.ASK}), ("None.", "none", {Means.ASK}), (None, "none", {Means.ASK})],
)
def test_what_is_printed_and_what_is_approved_are_compared_by_the_same_rows(field, then, now, means):
    """A piece on the shelf that was printed before anybody said it is asked about, never void; one of other words is another piece."""
    printed = printed_text(text(**({field: now} if now else {})), "bench")
    approved = text(**({field: then} if then else {}))
    assert {each.means for each in differences(printed, approved)} == means


@pytest.mark.parametrize("nothing", ["?", "-", "TBD", "to be agreed", "[to be agreed]", "open", "...", "xxx", "unknown"])
@pytest.mark.parametrize("field", STATED)
def test_what_only_keeps_a_place_free_is_no_answer(field, nothing):
    with pytest.raises(ValidationError, match="states nothing"):
        Settings(orientation="flat", **{field: nothing})


@pytest.mark.parametrize("figure", ["12.5", "≤ 12,5 µm", "3.2 / 6.3", "1.6-3.2 um", "0.01 mm"])
def test_a_figure_of_roughness_names_its_parameter(figure):
    with pytest.raises(ValidationError, match="figure of nothing"):
        Settings(orientation="flat", surface_texture=figure)
    assert Settings(orientation="flat", acceptable_imperfections=f"pores up to {figure}")


@pytest.mark.parametrize("said", ["as printed", "Ra 12.5 µm", "Rz 63", "N8", "sanded with 400 paper", "none", "wie gedruckt, Ra 12,5"])
def test_words_and_parameters_are_taken_as_they_are(said):
    assert Settings(orientation="flat", surface_texture=said).surface_texture == said
