"""A record of the older form in the newest: one line comes in, nothing is lost, and nothing becomes kinder."""

import shutil
from pathlib import Path

import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from generator.reading.yaml_places import read_yaml
from generator.records.approvals import NEWEST_FORMAT
from generator.writing.appending import CannotAppendError
from generator.writing.migrating import with_format
from tests.fixtures.tiny import DAY, DEPOT, sheets
from tests.writing.test_appending import RECORDS

LINE = f"format: {NEWEST_FORMAT}"


def migrated(raw):
    return with_format(raw, NEWEST_FORMAT)


FORMS = RECORDS | {
    "comments before": "# who we are\n\n# and why\n" + RECORDS["last in the file"],
    "a beginning sign": "---\n" + RECORDS["last in the file"],
    "indented": "".join(f"  {line}\n" for line in RECORDS["last in the file"].splitlines()),
}


@pytest.mark.parametrize("bom", [b"", b"\xef\xbb\xbf"], ids=["", "with a mark"])
@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["lf", "crlf"])
@pytest.mark.parametrize("text", FORMS.values(), ids=FORMS)
def test_one_line_comes_in_and_every_byte_stays(text, end, bom):
    raw = bom + text.replace("\n", end).encode()
    found = migrated(raw)
    (line,) = [each for each in found.splitlines(keepends=True) if LINE.encode() in each]
    assert line.endswith(end.encode())
    assert found.replace(line.removeprefix(bom), b"", 1) == raw
    before, after = read_yaml("approval.yml", raw), read_yaml("approval.yml", found)
    assert not after.problems
    assert after.content == {"format": NEWEST_FORMAT} | before.content
    assert migrated(found) == found


def test_a_format_that_is_said_already_is_put_right_and_keeps_its_comment():
    assert migrated(b"route: customer\nformat: 1  # as of old\nevents: []\n") == (
        b"route: customer\nformat: 2  # as of old\nevents: []\n"
    )


@pytest.mark.parametrize("text", ["{route: customer}\n", "? route\n: customer\n", "- a\n", "", "# only words\n", "a: [\n"])
def test_what_has_no_keys_on_lines_is_left_to_a_person(text):
    with pytest.raises(CannotAppendError):
        migrated(text.encode())


def told(root: Path) -> list[tuple[str, list[int], list[str]]]:
    found = sheets(root, DAY)[0]
    return [
        (each.number, [int(judgement.verdict) for judgement in each.judgements], sorted(p.code for p in each.problems))
        for each in found
    ]


PARTS = sorted(each.name for each in (DEPOT / "parts").iterdir())


@pytest.fixture(scope="module")
def spoilt(tmp_path_factory):
    return shutil.copytree(DEPOT, tmp_path_factory.mktemp("migrate") / "depot")


@given(part=st.sampled_from(PARTS), data=st.data())
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_verdict_becomes_kinder(spoilt, part, data):
    """Random records: events left out, doubled and put in another order, on either route, some not to be read."""
    written = yaml.safe_load((DEPOT / "parts" / part / "approval.yml").read_text("utf-8"))
    events = data.draw(st.lists(st.sampled_from(written["events"]), max_size=len(written["events"]) + 1))
    every = data.draw(st.sampled_from([written["events"], events]))
    route = data.draw(st.sampled_from(["customer", "authority", "nobody"]))
    record = spoilt / "parts" / part / "approval.yml"
    record.write_text(yaml.safe_dump({**written, "route": route, "events": every}, sort_keys=False), "utf-8")
    try:
        before = told(spoilt)
        record.write_bytes(migrated(record.read_bytes()))
        for old, new in zip(before, told(spoilt), strict=True):
            assert (new[0], new[2]) == (old[0], old[2])
            assert all(is_now >= was for was, is_now in zip(old[1], new[1], strict=True))
    finally:
        shutil.copyfile(DEPOT / "parts" / part / "approval.yml", record)
