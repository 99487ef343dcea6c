"""Evidence is a letter or report in documents/: the model, the record or a photo of the part proves nothing."""

import hashlib
import shutil
from datetime import date

import pytest

from generator.reading.catalogue import read_catalogue
from generator.reading.disk import Disk
from generator.reading.papers import days_to_come
from tests.fixtures.told import fix, says
from tests.reading.test_notices import picture

KNOB = "parts/EX-0001-lid-knob"


def named(depot, file):
    """Let the knob's acceptance name `file`, with its true SHA-256."""
    record = depot / KNOB / "approval.yml"
    letter = depot / KNOB / "documents/acceptance.txt"
    before = ("documents/acceptance.txt", hashlib.sha256(letter.read_bytes()).hexdigest())
    after = (file, hashlib.sha256((depot / KNOB / file).read_bytes()).hexdigest())
    text = record.read_text(encoding="utf-8")
    for old, new in zip(before, after, strict=True):
        assert old in text
        text = text.replace(old, new, 1)
    record.write_text(text, encoding="utf-8")


@pytest.mark.parametrize("file", ["model.stl", "part.yml", "photos/front.jpg", "fitting.md"])
def test_only_a_document_is_evidence(depot, file):
    (depot / KNOB / "photos").mkdir()
    (depot / KNOB / "photos/front.jpg").write_bytes(picture("JPEG"))
    named(depot, file)
    (found,) = read_catalogue(depot).folder("EX-0001").problems
    assert (found.code, says(found)) == ("EVID04", f"names {file}, which is no document")
    assert fix(found) == "put the letter into documents/ and name that file"
    assert str(found.where).startswith(f"{KNOB}/approval.yml:22:")


def test_another_document_is(depot):
    shutil.copy(depot / KNOB / "model.stl", depot / KNOB / "documents/as-drawn.stl")
    named(depot, "documents/as-drawn.stl")
    assert read_catalogue(depot).folder("EX-0001").problems == ()


@pytest.mark.parametrize(("day", "told"), [(date(2026, 11, 26), True), (date(2026, 11, 27), False)])
def test_a_proof_of_tomorrow_is_told(depot, day, told):
    record = depot / "materials/petg.yml"
    proof = "proof: [{property: sun, method: ISO 4892-2, passed: true, tested_on: 2026-11-27, file: documents/petg-fire.txt, sha256: SHA}]\n"
    record.write_text(record.read_text("utf-8") + proof.replace("SHA", '"' + "0" * 64 + '"'), "utf-8")
    line = record.read_text("utf-8").count("\n")
    found = days_to_come(Disk(depot), read_catalogue(depot), day)
    assert [(each.code, str(each.where)) for each in found] == ([("EVID06", f"materials/petg.yml:{line}:70")] if told else [])
