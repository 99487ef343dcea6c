"""What hangs on bytes alone is worked out once of the same bytes, and never taken for what others have."""

import pytest

from generator.reading import same_bytes
from generator.reading.same_bytes import once_of_same_bytes


@pytest.fixture
def asked():
    return []


@pytest.fixture
def told(asked):
    def ask(content):
        asked.append(content)
        if content == b"raises":
            raise OSError
        return None if content == b"nothing" else len(content)

    return once_of_same_bytes(ask)


def test_the_same_bytes_are_asked_once_be_it_for_nothing(told, asked):
    assert [told(b"ab"), told(bytearray(b"ab")), told(b"nothing"), told(b"nothing")] == [2, 2, None, None]
    assert asked == [b"ab", b"nothing"]


def test_other_bytes_of_the_same_length_are_others(told, asked):
    assert told(b"ab") == told(b"ac") == 2
    assert asked == [b"ab", b"ac"]


def test_what_raises_is_asked_anew(told, asked):
    for _ in range(2):
        with pytest.raises(OSError):
            told(b"raises")
    assert asked == [b"raises"] * 2


def test_each_question_has_its_own_answers(told):
    assert told(b"ab") == 2
    assert once_of_same_bytes(lambda content: content[::-1])(b"ab") == b"ba"


def test_no_more_are_remembered_than_there_is_room_for(told, asked, monkeypatch):
    monkeypatch.setattr(same_bytes, "MOST_REMEMBERED", 2)
    assert [told(bytes(length)) for length in (1, 2, 3, 3, 1)] == [1, 2, 3, 3, 1]
    assert [len(each) for each in asked] == [1, 2, 3, 1]
