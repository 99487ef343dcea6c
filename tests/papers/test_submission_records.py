"""The paper of a submission against the files of the part, read by themselves: what somebody wrote down stands in the text of the PDF."""

import hashlib
import re
from functools import cache

import pytest
import yaml

from generator.pages.gathered import around_of
from generator.pages.submissions.whole import submission_of
from generator.papers.submission.paper import submission_paper
from tests.pages.sample import CATALOGUE, DAY, judged_sample
from tests.papers.printed import text_of
from tests.papers.test_documents import squeezed

FOUND, SHEETS, _ = judged_sample()
READ = [each for each in SHEETS if each.part]
# What a reviewer needs in no paper: by what a mechanic finds it, where it lies; texts of sums, which the fingerprint stands for; and
# the paths of files, which are listed by their titles and names.
UNTOLD = {"looks", "features", "stock", "look_alikes", "other_hand", "approved_as", "submitted_as", "fingerprint", "file", "format"}
# What is told in words of the language, or by the name that another record gives it: here only that it is one of these.
NAMED = {"by", "what", "judged_by", "chosen_by", "place", "places", "material", "vehicles", "asks_nothing", "because", "route", "safety_role"}


def scalars(value, path=()):
    if isinstance(value, dict):
        for key, each in value.items():
            yield from scalars(each, (*path, str(key)))
    elif isinstance(value, list):
        for each in value:
            yield from scalars(each, path)
    else:
        yield path, value


def written_down(sheet):
    """Every text and length of part.yml and approval.yml that a reviewer reads as it is."""
    for name in ("part.yml", "approval.yml"):
        file = CATALOGUE / sheet.folder.folder / name
        for path, value in scalars(yaml.safe_load(file.read_text("utf-8"))) if file.exists() else ():
            if not UNTOLD & set(path) and path[-1] not in NAMED and value not in ("yes", "no", True, False, None):
                yield path, value


def paper(sheet):
    return text_on_paper(sheet.number)


@cache
def text_on_paper(number):
    around = around_of(FOUND, SHEETS, DAY)
    return squeezed(text_of(submission_paper(submission_of([around.sheets[number]], around, DAY), around.w).content))


@pytest.mark.parametrize("sheet", READ, ids=lambda each: each.number)
def test_what_the_records_say_stands_on_paper(sheet):
    shown, texts = paper(sheet), [(path, value) for path, value in written_down(sheet) if isinstance(value, str)]
    assert len(texts) > 10
    assert [(path, value) for path, value in texts if squeezed(value) not in shown] == []


@pytest.mark.parametrize("sheet", READ, ids=lambda each: each.number)
def test_each_day_of_the_record_stands_on_paper(sheet):
    shown = paper(sheet)
    days = [value for path, value in written_down(sheet) if hasattr(value, "isoformat")]
    assert [day for day in days if f"{day.day}{day:%b}{day.year}" not in shown] == []


@pytest.mark.parametrize("sheet", READ, ids=lambda each: each.number)
def test_each_file_stands_on_paper_with_the_sum_of_its_bytes(sheet):
    shown = paper(sheet)
    files = [each for each in (CATALOGUE / sheet.folder.folder).rglob("*") if each.is_file() and each.suffix not in (".yml", ".md")]
    assert files
    assert [each.name for each in files if hashlib.sha256(each.read_bytes()).hexdigest() not in shown] == []


def test_each_limit_of_a_dimension_is_reckoned_from_its_own_record():
    sheet = next(each for each in READ if each.number == "P-0001")
    shown = paper(sheet)
    for check in yaml.safe_load((CATALOGUE / sheet.folder.folder / "part.yml").read_text("utf-8"))["checks"]:
        least, most = check["nominal_mm"] - check["minus_mm"], check["nominal_mm"] + check["plus_mm"]
        assert re.search(rf"{check['name']}{least:g}{check['nominal_mm']:g}{most:g}", shown)


def test_roles_and_places_are_told_by_their_names():
    shown = paper(next(each for each in READ if each.number == "P-0001"))
    roles = {each["id"]: each["name"] for each in yaml.safe_load((CATALOGUE / "depot.yml").read_text("utf-8"))["roles"]}
    assert squeezed(roles["reviewer"]) in shown
    place = next(each for fleet in yaml.safe_load((CATALOGUE / "fleets.yml").read_text("utf-8"))["fleets"] for each in fleet["places"] if each["id"] == "cab")
    assert squeezed(place["name"]) in shown
