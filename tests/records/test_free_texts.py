"""Each free text of the records of prints and approvals is decided: whether it has to say something, and what counts where it says nothing."""

from collections.abc import Iterator
from typing import Annotated, Any, Literal, get_args, get_origin

import pytest
from pydantic import BaseModel

from generator.records.approvals import Approval
from generator.records.batches import Batch, Released
from generator.records.free_texts import OF_ANY, TABLE, Blank, blanks, is_void
from generator.records.inspection_sheet import InspectionSheet
from generator.records.lots import Lot, Unblocked
from generator.records.machines import Machine
from generator.records.recalls import CalledBack, Lifted, Recall

NO_TEXT = {"file", "sheet"}
"""Names of files, which have to be there."""


def _leaves(kind: Any, of: str = "") -> Iterator[tuple[Any, str]]:
    """Every type that a field may hold, with what is asked of it."""
    if get_origin(kind) is Annotated:
        yield from _leaves(get_args(kind)[0], of + repr(get_args(kind)[1:]))
    elif get_origin(kind) is not Literal:
        inner = get_args(kind)
        yield from ((leaf for each in inner for leaf in _leaves(each, of)) if inner else ((kind, of),))


def _texts(kind: type[BaseModel], seen: set[type[BaseModel]]) -> Iterator[tuple[type[BaseModel], str, bool]]:
    """Record, field, and whether it is required, of every text that neither a pattern nor a list of words bounds."""
    if kind in seen:
        return
    seen.add(kind)
    for name, info in kind.model_fields.items():
        for leaf, asked in _leaves(info.annotation, repr(info.metadata)):
            if isinstance(leaf, type) and issubclass(leaf, BaseModel):
                yield from _texts(leaf, seen)
            elif leaf is str and "without_controls" in asked:
                yield kind, name, info.is_required()


@pytest.mark.parametrize("kind", [Batch, Lot, Machine, Recall, InspectionSheet, Approval])
def test_no_free_text_is_left_undecided(kind):
    found = [(of, name, needed) for of, name, needed in _texts(kind, set()) if name not in NO_TEXT]
    assert found
    for of, name, needed in found:
        own = TABLE.get(of, {}).get(name)
        assert own or name in OF_ANY, (of.__name__, name)
        # What must be written must say something, unless another rule holds it against something.
        assert not needed or (own[0] if own else OF_ANY[name]) is not Blank.FREE, (of.__name__, name)


def test_the_table_names_nothing_that_is_not_there():
    assert all(name in of.model_fields for of, asked in TABLE.items() for name in asked)


EVENT = {"on": "2026-11-01", "by": "quality"}


@pytest.mark.parametrize("why", ["n/a", "N. A.", "ingen", "Keine!", "folgt noch", "ukendt", "-", "…", "xx", "0", "tbd", "entfällt", "k. A.", "n\u2044a"])  # fmt: skip
def test_what_says_that_something_is_good_does_not_count_without_a_reason(why):
    assert is_void(Lifted.model_validate({"what": "lifted", "why": why, **EVENT}))
    assert is_void(Unblocked.model_validate({"what": "unblocked", "why": why, **EVENT}))
    assert is_void(Released.model_validate({"what": "released", "accepts": why, **EVENT}))
    assert not is_void(CalledBack.model_validate({"what": "called back", "why": why, **EVENT}))


def test_what_says_something_or_may_be_left_out_is_no_blank():
    assert not is_void(Released.model_validate({"what": "released", **EVENT}))
    assert not is_void(Lifted.model_validate({"what": "lifted", "why": "no cracks found in 12 of them", "reference": "n/a", **EVENT}))
    lot = {"material": "pc", "supplier_lot": "3388", "supplier": "n/a", "events": ({"what": "opened", "note": "-", **EVENT},)}
    assert list(blanks(Lot.model_validate(lot))) == []
    assert [each.path for each in blanks(Lot.model_validate({**lot, "supplier_lot": "000"}))] == [("supplier_lot",)]
