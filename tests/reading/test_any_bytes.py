"""Whatever bytes stand in a record, reading never raises, says where, and never lets an unreadable part pass."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from generator.reading.validating import record
from generator.reading.yaml_places import read_yaml
from generator.records.approvals import Approval
from generator.records.depot import Depot, Words
from generator.records.fleets import Fleets
from generator.records.makers import Makers
from generator.records.materials import Material
from generator.records.parts import Part
from generator.records.requests import Request
from generator.rules.verdicts import Verdict
from tests.fixtures.tiny import DEPOT, copied, sheets
from tests.fixtures.told import fix, says

KINDS = (Part, Approval, Depot, Words, Fleets, Makers, Material, Request)
RECORDS = sorted(path.relative_to(DEPOT).as_posix() for path in DEPOT.rglob("*.yml"))
# What breaks readers: YAML's own signs, controls, byte order marks, broken UTF-8, extremes of numbers and days.
PIECES = [
    *(sign.encode() for sign in "\t\n\r :-[]{}&*!|>'\"%@`#,?~"),
    b"\x00", b"\x0b", b"\x0c", b"\x1c", b"\x7f", b"\xc2\x85", b"\xe2\x80\xa8", b"\xe2\x80\xae", b"\xef\xbb\xbf",
    b"\xff", b"\xed\xa0\x80", b"---\n", b"...\n", b"<<: ", b"!!int ", b"!!python/name:os ", b"&a ", b"*a ",
    b"null", b"true", b"1e999", b"1.0e999", b"-0.0", b"9" * 40, b".inf", b".nan", b"0x10", b"0o7", b"1_000",
    b"2026-02-30", b"0000-00-00", b"9999-12-31", b"[" * 60, b"{a: " * 60, b"\\ud800", b'"\\ud800"', b'"\\0"',
    b"events:\n", b"  - on: 2026-01-01\n", b"what: approved\n", "ÿ🔧".encode(),
]  # fmt: skip


def spoilt(content: bytes, draw: st.DataObject) -> bytes:
    """`content` after one to four cuts, doublings, swaps or insertions."""
    for _ in range(draw.draw(st.integers(1, 4))):
        a, b = sorted(draw.draw(st.tuples(*[st.integers(0, len(content))] * 2)))
        kind = draw.draw(st.sampled_from(["cut", "insert", "overwrite", "double", "truncate"]))
        piece = draw.draw(st.sampled_from(PIECES))
        near = min(b, a + 40)
        content = {
            "cut": content[:a] + content[near:],
            "insert": content[:a] + piece + content[a:],
            "overwrite": content[:a] + piece + content[a + len(piece) :],
            "double": content[:near] + content[a:],
            "truncate": content[:a],
        }[kind]
    return content


@pytest.fixture(scope="module")
def shared_depot(tmp_path_factory):
    return copied(tmp_path_factory.mktemp("any") / "depot")


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(draw=st.data(), file=st.sampled_from(RECORDS))
def test_a_spoilt_record_never_raises(shared_depot: Path, draw: st.DataObject, file: str):
    before = (DEPOT / file).read_bytes()
    (shared_depot / file).write_bytes(spoilt(before, draw))
    try:
        found, problems = sheets(shared_depot)
    finally:
        (shared_depot / file).write_bytes(before)
    for problem in problems:
        assert problem.where.file
        assert says(problem)
        assert fix(problem)
        str(problem).encode("utf-8")
    assert len(found) == 3
    for sheet in found:
        if sheet.is_broken:
            assert sheet.best is Verdict.DO_NOT_FIT
    spoilt_part = next((each for each in found if file == f"{each.folder.folder}/part.yml"), None)
    if spoilt_part and spoilt_part.part is None:
        assert spoilt_part.is_broken


@given(raw=st.one_of(st.binary(max_size=200), st.lists(st.sampled_from(PIECES), max_size=12).map(b"".join)))
def test_any_bytes_at_all_become_problems(raw: bytes):
    for kind in KINDS:
        source = read_yaml("any.yml", raw)
        found = record(kind, source)
        assert found is not None or source.problems
        assert all(problem.where.file == "any.yml" and fix(problem) for problem in source.problems)


@pytest.mark.parametrize("sign", [b"[", b"{", b"- ", b"? ", b"a: {", b"'", b"&a ", b"*a ", b"!", b"\t"])
def test_a_megabyte_of_one_sign_is_refused(sign: bytes):
    source = read_yaml("any.yml", sign * (990_000 // len(sign)))
    assert record(Part, source) is None
    assert source.problems
    assert len(source.problems) < 100
