"""Names stand as a dictionary of the language has them, and numbers inside them count."""

import pytest

from generator.pages.sorting import sort_key


@pytest.mark.parametrize(
    ("language", "names"),
    [
        ("en", ["Teil 2", "Teil 10", "Teil 10a"]),
        ("de", ["Abdeckung", "Äste", "Atem", "Öse", "Osten", "Strasse 2", "Straße 10", "Über", "Ufer"]),
        ("da", ["Arm", "Über", "Yderside", "Zink", "Ærme", "Æske", "Ø-ring", "Øje", "Å-rør", "Aabning", "Åg"]),
    ],
)
def test_names_are_sorted_as_in_a_dictionary(language, names):
    assert sorted(names, key=lambda name: sort_key(name, language)) == names


def test_odd_signs_and_digits_of_other_scripts_are_sorted_too():
    assert sorted(["b", "10", "é", "ẞ", "²", "\U00010a40", ""], key=lambda name: sort_key(name, "de"))[:3] == ["", "²", "10"]
