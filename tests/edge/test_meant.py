"""What is typed for a batch, lot or part is read as leniently by the commands as by the pages, and never guessed."""

import pytest

from generator.edge.meant import batch_meant, name_meant, near

PARTS = {"B-0131": "TV-0105", "B-0157": "TV-0105", "B-0130": "TV-0104", "L-0018": ""}


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        *((each, "B-0131") for each in ("B-0131", "b0131", "B-131", "b 131", "131", "B–0131", "TV-0105 A B-0131", "TV0105AB0131", "B-0131 TV-0105 A")),
        ("TV-0104 A B-0131", None),  # its label says another part
        ("TV-0999 A B-0131", None),
        ("B-O131", None),
        ("B-0199", None),
        ("B-0131 B-0157", None),
        ("", None),
        ("L18", "L-0018"),
    ],
)
def test_a_batch(typed, meant):
    assert batch_meant(typed, PARTS) == meant


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        *((each, "TV-0105") for each in ("TV-0105", "tv-0105", "tv0105", "TV 0105", "TV–0105", "tv_0105", "TV-105")),
        ("105", None),
        ("TV-O105", None),
        ("TV-01051", None),
        ("X-7.2", "X-7-2"),
        ("B-1", None),  # two have it but for zeros
        ("B-01", "B-01"),
    ],
)
def test_a_number(typed, meant):
    assert name_meant(typed, ["TV-0105", "TV-0104", "X-7-2", "B-01", "B-001"]) == meant


def test_what_only_looks_like_one_is_told():
    assert near("B-O131", PARTS) == near("TV-0105 A B-O131", PARTS) == ["B-0131"]
    assert near("TV-O105", ["TV-0105"]) == ["TV-0105"]
    assert near("", PARTS) == near("B-0199", PARTS) == []
