"""What is approved, in both forms: test vectors, and what changes it; what only one form has stands at the end."""

import hashlib
import os
import random
import subprocess
import sys
import textwrap
from pathlib import Path

import pytest

from generator.records.parts import Part
from generator.rules import fingerprint_1
from generator.rules.canonical import fingerprint, from_record, lines_of, text_in
from generator.rules.fingerprint import changes, values_of, version_of
from tests.rules.forms import FORM_1, FORM_2, FULLEST_MATERIAL, MATERIAL, PART, record

ROOT = Path(__file__).parents[2]
FORMS = (FORM_1, FORM_2)


@pytest.fixture(params=FORMS, ids=["form 1", "form 2"])
def form(request):
    return request.param


def told(old, new):
    return {(change.what, change.approved, change.now) for change in changes(old, new)}


@pytest.mark.parametrize("vector", ["smallest", "fullest"])
def test_vectors(form, vector):
    part, material = (PART, MATERIAL) if vector == "smallest" else (form.fullest_part, FULLEST_MATERIAL)
    written = getattr(form, vector)
    assert form.text(part, material) == written
    sha256 = getattr(form, f"{vector}_sha256")
    assert fingerprint(written) == sha256 == hashlib.sha256(written.encode("utf-8")).hexdigest()


def test_sha256_is_the_published_one():
    # FIPS 180-2, appendix B.1: the message "abc".
    assert fingerprint("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


@pytest.mark.parametrize("number", [100, 100.0])
def test_a_number_is_one_however_it_is_written(form, number):
    settings = {"orientation": "flat", "infill_percent": number}
    assert "infill percent: 100\n" in form.text(PART | {"settings": settings})


def test_lists_do_not_depend_on_their_order(form):
    one, other = PART | {"makers": ("bench", "zeta")}, PART | {"makers": ("zeta", "bench")}
    assert form.text(one) == form.text(other)


def test_names_of_checks_sort_the_checks(form):
    turned = form.fullest_part | {"checks": tuple(reversed(form.fullest_part["checks"]))}
    assert form.text(turned, FULLEST_MATERIAL) == form.fullest


@pytest.mark.parametrize(
    "tail", ["", "\n", "\n\n  ", "\r\n"], ids=["cut off", "one line feed", "more", "other line end"]
)
def test_the_record_may_lose_the_last_line_feed(form, tail):
    assert from_record(form.smallest.strip() + tail) == form.smallest


def test_no_text_in_a_value_makes_a_line_of_its_own(form):
    sly = PART | {"settings": {"orientation": "flat\u2028material: steel\x85revision: Z"}}
    lines = form.text(PART | {"settings": {"orientation": "flat material: steel revision: Z"}})
    assert len(lines.splitlines()) == len(form.smallest.splitlines())
    with pytest.raises(ValueError):
        record(Part, sly)  # controls are refused before
    assert f"material: {form.quoted('petg')}\n" in lines


def test_changes_are_told_line_by_line(form):
    later = form.text(PART | {"revision": "B", "settings": {"orientation": "flat", "wall_mm": 2}})
    revision = ("revision", form.quoted("A"), form.quoted("B"))
    assert told(form.smallest, later) == {revision, ("setting wall mm", "none", "2")}
    assert changes(form.smallest, form.smallest) == ()


def test_a_line_more_or_less_is_a_change(form):
    what, value = form.check
    assert (what, None, value) in told(form.smallest, form.fullest)
    assert (what, value, None) in told(form.fullest, form.smallest)


@pytest.mark.parametrize(
    "altered",
    [
        lambda text, number: text + number,
        lambda text, number: number + text,
        lambda text, _: "".join(reversed(text.splitlines(keepends=True))),
        lambda text, _: text + "\n",
    ],
    ids=["a line twice", "a line twice, in front", "another order", "an empty line"],
)
def test_texts_that_differ_are_never_called_equal(form, altered):
    other = altered(form.smallest, f"number: {form.quoted('EX-0001')}\n")
    assert changes(other, form.smallest)
    assert changes(form.smallest, other)


def test_any_single_letter_changed_is_a_change(form):
    chosen = random.Random(7)
    for _ in range(200):
        at = chosen.randrange(len(form.fullest))
        letter = chosen.choice("abc019: .\n")
        other = form.fullest[:at] + letter + form.fullest[at + 1 :]
        if other != form.fullest:
            assert changes(other, form.fullest)
            assert fingerprint(other) != fingerprint(form.fullest)


# What the forms have each for itself

COMPOSED, DECOMPOSED = (
    PART | {"settings": {"orientation": word}} for word in ("Ångström", "A\u030angstro\u0308m")
)


def test_composed_and_decomposed_letters_are_one_in_form_1():
    text = FORM_1.text(COMPOSED)
    assert text == FORM_1.text(DECOMPOSED)
    assert from_record(text) == from_record(text.replace("Ångström", "A\u030angstro\u0308m"))


def test_composed_and_decomposed_letters_are_two_in_form_2():
    """They look alike; so the one that an editor might compose unseen is written with escapes."""
    text = FORM_2.text(DECOMPOSED)
    assert 'setting orientation: "Ångström"\n' in FORM_2.text(COMPOSED)
    assert 'setting orientation: "A\\u030angstro\\u0308m"\n' in text
    assert from_record(text) == text


def test_the_lines_by_their_keys():
    for lines in (fingerprint_1.lines_of, lines_of):
        assert lines("a: b: c\nd: \n") == {"a": "b: c", "d": ""}
    assert lines_of('check "x: y\\"" mm: "z: 1"\n') == {'check "x: y\\"" mm': '"z: 1"'}
    written = (None, "none", "1.5", '"a\\u00a0b"', '"broken')
    assert [text_in(each) for each in written] == [None, None, "1.5", "a\u00a0b", None]


def test_version_and_values_of_form_1_are_read():
    assert version_of(FORM_1.fullest) == 1
    assert values_of(FORM_1.fullest)["material"] == "petg"
    assert values_of(FORM_1.fullest)["safety role"] == "safety"


@pytest.mark.parametrize(
    "surroundings",
    [
        {"PYTHONHASHSEED": "1"},
        {"PYTHONHASHSEED": "2", "LC_ALL": "C", "PYTHONUTF8": "0"},
        {"PYTHONHASHSEED": "3", "LC_ALL": "de_DE.UTF-8", "TZ": "Pacific/Auckland"},
        {"PYTHONHASHSEED": "4", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0", "LANG": "POSIX"},
    ],
    ids=["other hash seed", "C locale", "German locale", "bare"],
)
def test_the_same_in_every_process(surroundings):
    script = textwrap.dedent("""
        from tests.rules.forms import FORM_2, FULLEST_MATERIAL, FULLEST_PART
        from generator.rules.canonical import fingerprint
        print(fingerprint(FORM_2.text()), fingerprint(FORM_2.text(FULLEST_PART, FULLEST_MATERIAL)))
    """)
    done = subprocess.run(
        [sys.executable, "-c", script],
        cwd=ROOT,
        env=os.environ | surroundings,
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.split() == [FORM_2.smallest_sha256, FORM_2.fullest_sha256]
