"""A picture is opened once; what cannot be shown stays so, from wherever the answer comes."""

import hashlib
from io import BytesIO

import pytest
from PIL import Image

from generator.reading import pictures
from generator.reading.pictures import FAULT_FILE, picture_fault
from generator.records.catalogue import FileKind
from generator.systems.store import Store

KINDS = (FileKind.PNG, FileKind.JPEG, FileKind.WEBP)


def drawn(kind, colour=0):
    file = BytesIO()
    Image.linear_gradient("L").point(lambda dot: dot ^ colour).convert("RGB").save(file, kind.value.upper())
    return file.getvalue()


def spoilt(content):
    """The same with its head or its end gone, or with other bytes in its head."""
    return (content[: len(content) // 2], content[:20], content[:12] + b"\xff" * 16 + content[28:])


@pytest.fixture(autouse=True)
def fresh(monkeypatch):
    monkeypatch.setattr(pictures, "_known", {})


@pytest.fixture
def store(tmp_path):
    return Store(tmp_path / "store")


def fault(content, kind, store=None, asked=None):
    def read():
        if asked is not None:
            asked.append(kind)
        return content

    return picture_fault(kind, hashlib.sha256(content).hexdigest(), read, store)


@pytest.mark.parametrize("kind", KINDS)
def test_what_was_told_is_told_again_in_another_process(kind, store, monkeypatch):
    for content in (drawn(kind), *spoilt(drawn(kind))):
        told, asked = fault(content, kind, store), []
        assert (told is None) == (content == drawn(kind))
        monkeypatch.setattr(pictures, "_known", {})
        assert fault(content, kind, Store(store.folder), asked) == told
        assert asked == []


def test_one_process_opens_a_picture_once_without_a_store():
    asked = []
    assert [fault(drawn(FileKind.PNG), FileKind.PNG, None, asked) for _ in range(3)] == [None] * 3
    assert len(asked) == 1


def test_the_same_bytes_by_another_name_are_another_question(store):
    png = drawn(FileKind.PNG)
    assert fault(png, FileKind.PNG, store) is None
    assert fault(png, FileKind.JPEG, store) == "is broken"


def test_a_damaged_entry_is_asked_anew(store, monkeypatch):
    broken = spoilt(drawn(FileKind.PNG))[1]
    told = fault(broken, FileKind.PNG, store)
    for file in store.folder.rglob(FAULT_FILE):
        file.write_bytes(b"")
    monkeypatch.setattr(pictures, "_known", {})
    assert told == fault(broken, FileKind.PNG, store) == "is broken"


def test_want_of_memory_is_not_kept(store, monkeypatch):
    def wanting(*_, **__):
        raise MemoryError

    with monkeypatch.context() as here:
        here.setattr(Image, "open", wanting)
        assert fault(drawn(FileKind.PNG), FileKind.PNG, store) == "is broken"
    assert fault(drawn(FileKind.PNG), FileKind.PNG, store) is None


def test_of_bytes_that_change_meanwhile_nothing_is_kept(store):
    broken = spoilt(drawn(FileKind.PNG))[1]
    digest = hashlib.sha256(broken).hexdigest()
    assert picture_fault(FileKind.PNG, digest, lambda: drawn(FileKind.PNG), store) is None
    assert fault(broken, FileKind.PNG, store) == "is broken"


@pytest.mark.parametrize("other", ["library", "code"])
def test_another_library_or_other_code_asks_anew(store, monkeypatch, other):
    fault(drawn(FileKind.PNG), FileKind.PNG, store)
    monkeypatch.setattr(pictures, "_known", {})
    if other == "library":
        monkeypatch.setattr(pictures.metadata, "version", lambda _: "0")
    else:
        file = store.folder.parent / "pictures.py"
        file.write_text("other")
        monkeypatch.setattr(pictures, "__file__", str(file))
    pictures._asked_by.cache_clear()
    asked = []
    fault(drawn(FileKind.PNG), FileKind.PNG, store, asked)
    assert len(asked) == 1


@pytest.fixture(autouse=True)
def asked_by_afresh():
    yield
    pictures._asked_by.cache_clear()
