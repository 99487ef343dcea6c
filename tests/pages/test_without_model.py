"""A part without a model is found, listed and judged as any other, and is asked about first, whatever is known of it."""

import json
import shutil
from pathlib import Path

import pytest

from generator.pages.site import site
from generator.rules.binding import part_text
from generator.rules.verdicts import Verdict
from tests.fixtures.copying import copied_from
from tests.pages.sample import CATALOGUE, DAY, judged_sample

LAMP = "P-0005"
FOLDER = "parts/P-0005-lamp"


def judged(root: Path):
    catalogue, sheets, problems = judged_sample(root)
    return catalogue, next(each for each in sheets if each.number == LAMP), site(catalogue, sheets, problems, DAY, lambda *_: {})


@pytest.fixture
def root(tmp_path):
    return copied_from(CATALOGUE, tmp_path / "catalogue")


def changed(root, *pairs, file="part.yml"):
    record = root / FOLDER / file
    text = record.read_text("utf-8")
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new)
    record.write_text(text, "utf-8")
    return root


def test_approved_with_everything_it_is_asked_about_first():
    _, sheet, _ = judged(CATALOGUE)
    assert sheet.problems == ()
    assert (sheet.best, sheet.worst) == (Verdict.ASK_FIRST, Verdict.ASK_FIRST)
    assert [each.decided_by.step.id for each in sheet.judgements if each.decided_by] == ["model"]


def test_its_text_says_that_there_is_no_mesh_and_nothing_of_walls():
    catalogue, sheet, _ = judged(CATALOGUE)
    text = part_text(sheet.part, catalogue, sheet.folder)
    assert "\nmesh sha256: none\n" in text
    assert '\nno model: "bought"\n' in text
    assert "setting " not in text
    assert "\nthinnest wall mm: none\n" in text


def test_a_model_that_comes_later_is_another_part_to_the_approval(root):
    shutil.copy(root / "parts/P-0001-latch/model.stl", root / FOLDER / "model.stl")
    changed(root, ('no_model:\n  because: bought\n  size_mm: [40, 62, 18]\n  buy_at: "central stores, 40.1187"\n', "makers: [bench]\nsettings: {orientation: flat}\n"))
    _, sheet, _ = judged(root)
    assert sheet.best is Verdict.DO_NOT_FIT
    assert sheet.judgements[0].decided_by.step.id == "unchanged"


@pytest.mark.parametrize("walls", ["", "  thinnest_wall_mm: 2\n  thickest_section_mm: 6\n"])
@pytest.mark.parametrize("made", ["", "makers: [bench]\n"])
def test_the_fire_rules_take_nothing_for_granted(root, walls, made):
    """Its process is not known, or the shell that it is printed with: no report answers it kindly."""
    changed(root, ("  asks_nothing: no requirement\n", f"  requirement_set: R22\n{walls}"), ("no_model:", f"{made}no_model:"))
    _, sheet, _ = judged(root)
    fire = {taken.step.id: taken.outcome.value for taken in sheet.judgements[0].steps if taken.step.id.startswith("fire_")}
    assert {fire["fire_report"], fire["fire_asked"]} != {"passed"}
    assert sheet.best is Verdict.DO_NOT_FIT


def test_it_is_shown_by_a_placeholder_or_its_first_photo_everywhere(root):
    *_, made = judged(root)
    svg = next(each for each in made.assets if each.path == "assets/pictures/no-model-bought.svg")
    assert b">bought</text>" in svg.content
    assert finder_record(made)["thumb"] == svg.path
    for page in ("by-look.md", "vehicles/F1/at-desk.md", "parts/P-0005.md"):
        assert "no-model-bought.svg" in next(each.text for each in made.pages if each.path == page)
    (root / FOLDER / "photos").mkdir()
    shutil.copy(Path(__file__).parents[2] / "site_src/assets/screenshots/finder.png", root / FOLDER / "photos" / "as it lies.png")
    *_, made = judged(root)
    photo = "parts/P-0005/photos/as it lies.png"
    assert photo in {each.path for each in made.files}
    assert finder_record(made)["thumb"] == photo.replace(" ", "%20")
    assert photo.replace(" ", "%20") in next(each.text for each in made.pages if each.path == "parts/P-0005.md")


def finder_record(made):
    script = next(each.content for each in made.assets if each.path == "assets/data/finder.js").decode()
    text = json.loads(script[script.index('"{') : script.rindex('}"') + 2])
    return next(each for each in json.loads(text)["records"] if each["number"] == LAMP)


def test_its_size_by_hand_finds_it_and_says_that_it_is_by_hand():
    *_, made = judged(CATALOGUE)
    assert finder_record(made)["box_mm"] == [62, 40, 18]
    assert finder_record(made)["by_hand"] is True
    assert "62 × 40 × 18 mm, by hand" in next(each.text for each in made.pages if each.path == "parts/P-0005.md")


def test_what_is_bought_says_where_and_prints_no_settings(root):
    *_, made = judged(changed(root, ("no_model:", "makers: [bench]\nno_model:")))
    text = next(each.text for each in made.pages if each.path == "parts/P-0005.md")
    assert "It is bought, not printed. Where: central stores, 40.1187. Numbers to order it by: 12.400-1." in text
    order = text[text.index('class="order__text"') :].split("</pre>")[0]
    assert not [word for word in ("Process", "Orientation", "Layer", "model", "SHA-256") if word in order]
