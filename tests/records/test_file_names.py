"""Which names a depot may use is the same on every system, also where this one would take them."""

import pytest

from generator.records.file_names import is_drawing, twins, unfit


@pytest.mark.parametrize(
    ("name", "why"),
    [
        *((name, "device") for name in ("CON", "con", "aux.stl", "NUL.tar.gz", "COM1", "lpt9.pdf", "LPT¹", "CON .txt", "conin$")),
        *((f"a{sign}b", "sign") for sign in '<>:"|?*\\\x1f'),
        *((name, "end") for name in ("a.", "a ", "a.pdf.", "..a ")),
    ],
)  # fmt: skip
def test_a_name_that_windows_cannot_hold(name, why):
    assert unfit(name)[0] == why


@pytest.mark.parametrize("name", ["CON-1", "console.txt", "COM", "COM10", "a.CON", "NULL", "Türknopf.pdf", "a b", ".a", "TV-0417-knob"])
def test_a_name_that_every_system_holds(name):
    assert unfit(name) is None


@pytest.mark.parametrize(
    ("names", "alike"),
    [
        (("Letter.pdf", "letter.pdf", "other.pdf"), [("Letter.pdf", "letter.pdf")]),
        (("T\u00fcr", "Tu\u0308r"), [("Tu\u0308r", "T\u00fcr")]),
        (("\u00dc", "u\u0308"), [("u\u0308", "\u00dc")]),
        (("Maß", "Mass", "a", "b"), []),
    ],
)
def test_names_that_are_one_elsewhere(names, alike):
    assert twins(names) == alike


@pytest.mark.parametrize("name", ["drawing.pdf", "TV-0417-Drawing-B.pdf", "Zeichnung-1002.txt", "Werkstattzeichnung.pdf", "tegning-1002.pdf", "MONTAGETEGNING.PDF"])
def test_a_document_that_calls_itself_a_drawing(name):
    assert is_drawing(name)


@pytest.mark.parametrize("name", ["letter.pdf", "Kennzeichnung.pdf", "Bezeichnung.txt", "Unterzeichnung-2019.pdf", "Aufzeichnung.txt", "betegnelse.pdf"])
def test_a_document_that_calls_itself_something_else(name):
    assert not is_drawing(name)
