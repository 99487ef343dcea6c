"""What only keeps a place free is no answer, in whichever language of a depot it is typed; "none" is one where nobody is to be named."""

import pytest

from generator.records.placeholders import names_nothing, says_nothing

# Written as people type them, before the words were collected; from memory.
TO_COME = [
    "-", "–", "?", "??", "...", "…", "/", "xxx", "XX", "x x x", "_____", "0", "TBD", "t.b.d.", "n/a", "N.A.", "n. a.", "TODO", "to be decided", "not yet known", "unknown", "pending",
    "offen", "Offen!", "OFFEN", "(offen)", "noch offen", "folgt", "Folgt.", "folgt noch …", "k. A.", "k.A.", "K.A", "keine Angabe", "wird nachgereicht", "unbekannt", "noch nicht bekannt",
    "steht noch aus", "zu klären", "zu klaeren", "N.N.", "ukendt", "Ukendt.", "følger", "foelger", "FØLGER", "afventer", "mangler", "ikke oplyst", "endnu ikke afklaret", "ved ikke",
]  # fmt: skip
NONE = ["none", "None.", "nothing", "not applicable", "keine", "Keine!", "keiner", "entfällt", "entfaellt", "ENTFÄLLT", "nicht zutreffend", "ingen", "Ingen.", "intet", "bortfalder", "ikke relevant"]
ANSWERS = [
    "Offenbach fire laboratory", "Folgt Prüftechnik", "caliper C-07", "4711/26", "12 34", "K. Albers", "keine Grate an der Dichtfläche", "ingen revner over 2 mm", "open pores of up to 0.3 mm",
    "unknown residues are wiped off", "Ra 6.3", "x-ray", "Xylol", "no burrs", "isopropanol, 70 %", "Nordlab", "Wien", "N 23/4",
]  # fmt: skip


@pytest.mark.parametrize("text", TO_COME)
def test_what_keeps_a_place_free_says_nothing(text):
    assert (says_nothing(text), names_nothing(text)) == (True, True)


@pytest.mark.parametrize("text", NONE)
def test_none_is_an_answer_but_where_somebody_is_to_be_named(text):
    assert (says_nothing(text), names_nothing(text)) == (False, True)


@pytest.mark.parametrize("text", ANSWERS)
def test_an_answer_that_holds_such_a_word_is_one(text):
    assert (says_nothing(text), names_nothing(text)) == (False, False)
