"""Who signed what: everything that is not as the depot wants it is named, and never fitted where it is required."""

import copy
import os
import shutil
import subprocess

import pytest

from generator.provenance.signing import keygen
from generator.provenance.signing.checking import signatures_checked
from generator.reading.catalogue import read_catalogue
from generator.records.problems import Severity
from generator.rules.facts.case import Copy
from generator.rules.sheet import sheet
from generator.rules.verdicts import Verdict
from generator.systems.store import Store
from tests.fixtures.signing import (
    NAMESPACE,
    ROLES,
    events_of,
    line_of,
    made_key,
    ruled,
    sign,
    signature,
    text_of,
    write_events,
)
from tests.fixtures.tiny import ALL_PARTS, DAY, copied
from tests.fixtures.told import fix, line, says

KNOB, LEVER, CLIP = "parts/EX-0001-lid-knob", "parts/EX-0002-brake-lever", "parts/EX-0003-hose-clip"


@pytest.fixture
def look(root, tmp_path):
    """What is wrong with the signatures, and the kindest verdict of each part."""

    def look_at(store=None):
        catalogue = signatures_checked(read_catalogue(root), root, store or Store(tmp_path / "store"))
        sheets = [sheet(each, None, catalogue, Copy(DAY, 30)) for each in catalogue.parts]
        found = [*catalogue.problems, *(each for one in sheets for each in one.problems)]
        return found, {each.number: each.best for each in sheets}

    return look_at


def told(found):
    return [says(each) for each in found]


def test_a_record_whose_every_event_is_signed_is_fitted(look):
    assert look() == ([], dict.fromkeys(ALL_PARTS, Verdict.FIT_IT))


@pytest.mark.parametrize(("kind", "bits"), [("ecdsa", "256"), ("rsa", "2048")])
def test_every_kind_of_key_counts(root, keys, look, tmp_path, kind, bits):
    key = made_key(tmp_path, "other", kind=kind, bits=bits)
    with (root / "allowed_signers").open("a") as listed:
        listed.write(line_of("reviewer", key))
    sign(root / KNOB, keys, event_5=key)
    assert look()[0] == []


def spoil(root, part, change):
    events = events_of(root / part)
    change(events)
    write_events(root / part, events)


def taken_out(key):
    return lambda events: events[-1].pop(key)


def put(index, **fields):
    return lambda events: events[index].update(fields)


def exchanged(events):
    events[2]["signed"], events[3]["signed"] = events[3]["signed"], events[2]["signed"]


def cut_off(events):
    events[4]["signed"] = events[4]["signed"][:-60]


def of_another_namespace(keys):
    def change(events):
        events[4]["signed"] = signature(text_of("EX-0001", events, 4), keys / "reviewer", "file")

    return change


TAMPERED = "is not what was signed: it, its place or an event before it was changed since"
# What is done to the record of the knob → what is said of it.
SPOILT = {
    "unsigned": (taken_out("signed"), ["SIGN01: is not signed: event 5"]),
    "two unsigned": (
        lambda events: [events[i].pop("signed") for i in (0, 4)],
        ["SIGN01: is not signed: event 1 and 5"],
    ),
    "longer": (put(4, valid_until="2028-06-30"), [f"SIGN02: event 5 {TAMPERED}"]),
    "wider": (put(4, scope=[{"fleet": "A1", "vehicles": ["11-15"], "places": ["cab"]}]), [f"SIGN02: event 5 {TAMPERED}"]),
    "note added": (put(4, note="agreed"), [f"SIGN02: event 5 {TAMPERED}"]),
    "earlier event changed": (
        put(2, reference="D-9"),
        [f"SIGN02: event {n} {TAMPERED}" for n in (3, 4, 5)],
    ),
    "earlier event gone": (lambda events: events.pop(2), [f"SIGN02: event {n} {TAMPERED}" for n in (3, 4)]),
    "exchanged signatures": (
        exchanged,
        ["SIGN02: event 3 has the signature of event 4", "SIGN02: event 4 has the signature of event 3"],
    ),
    "cut off": (cut_off, ["SIGN02: event 5 has a signature that is none, or is cut off"]),
    "a word": (put(4, signed="yes"), ["SIGN02: event 5 has a signature that is none, or is cut off"]),
}


@pytest.mark.parametrize("name", SPOILT)
@pytest.mark.parametrize("rule", ["required", "advised"])
def test_what_is_not_what_was_signed_is_never_fitted(root, look, name, rule):
    change, wanted = SPOILT[name]
    spoil(root, KNOB, change)
    depot = root / "depot.yml"
    depot.write_text(depot.read_text().replace("required", rule))
    found, verdicts = look()
    of_signatures = [each for each in found if each.code.startswith("SIGN")]
    assert [f"{each.code}: {says(each)}" for each in of_signatures] == wanted
    assert all(each.where.file == f"{KNOB}/approval.yml" and each.where.line for each in of_signatures)
    is_error = rule == "required" or wanted[0].startswith("SIGN02")
    assert {each.severity for each in of_signatures} == {Severity.ERROR if is_error else Severity.WARNING}
    if is_error:
        assert verdicts == {"EX-0001": Verdict.DO_NOT_FIT, "EX-0002": Verdict.FIT_IT, "EX-0003": Verdict.FIT_IT}


def leaves(value, path=()):
    """The path of every text in a record."""
    if isinstance(value, str):
        yield path
    pairs = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, each in pairs:
        yield from leaves(each, (*path, key))


def changed(text):
    """Something else of the same form, so that the record still reads well where it can."""
    return text[:-1] + ("2" if text[-1] == "1" else "1") if text[-1].isdigit() else text + "x"


def test_no_letter_of_a_signed_record_can_change_unseen(root, look):
    """Every single text of every event, signatures too, changed or taken out: never fitted."""
    whole = events_of(root / KNOB)
    for path in leaves(whole):
        for take_out in (False, True):
            events = copy.deepcopy(whole)
            around = events
            for key in path[:-1]:
                around = around[key]
            if take_out:
                del around[path[-1]]
            else:
                around[path[-1]] = changed(around[path[-1]])
            write_events(root / KNOB, events)
            assert look()[1]["EX-0001"] is Verdict.DO_NOT_FIT, (path, take_out)


def test_a_signature_for_something_else_does_not_count(root, keys, look):
    spoil(root, KNOB, of_another_namespace(keys))
    found, verdicts = look()
    assert told(found) == [f"event 5 is signed for 'file', not for '{NAMESPACE}'"]
    assert verdicts["EX-0001"] is Verdict.DO_NOT_FIT


def test_an_advised_signature_that_lacks_is_told_and_stops_nothing(root, look):
    (root / "depot.yml").write_text((root / "depot.yml").read_text().replace("required", "advised"))
    spoil(root, KNOB, taken_out("signed"))
    found, verdicts = look()
    assert [(each.where.file, each.severity, says(each), fix(each)) for each in found] == [
        (f"{KNOB}/approval.yml", Severity.WARNING, "is not signed: event 5", "whoever is reviewer signs: spares sign EX-0001 --key FILE")
    ]
    lines = (root / KNOB / "approval.yml").read_text().splitlines()
    assert "what: approved" in "".join(lines[found[0].where.line - 1 :][:2])
    assert verdicts["EX-0001"] is Verdict.FIT_IT


def test_the_record_of_another_part_is_told_by_its_signatures(root, look):
    shutil.copyfile(root / CLIP / "approval.yml", root / KNOB / "approval.yml")
    found, verdicts = look()
    assert [each for each in told(found) if "signature" in each] == [
        "event 1 has the signature of event 1 of EX-0003",
        "event 2 has the signature of event 2 of EX-0003",
    ]
    assert verdicts == {"EX-0001": Verdict.DO_NOT_FIT, "EX-0002": Verdict.FIT_IT, "EX-0003": Verdict.FIT_IT}


def test_a_key_without_the_role_does_not_speak_for_it(root, keys, look):
    sign(root / KNOB, keys, event_5=keys / "specialist")
    found, verdicts = look()
    assert [says(each).rpartition(": ")[0] for each in found] == [
        "event 5 says that reviewer did it, and is signed by a key of specialist"
    ]
    assert verdicts["EX-0001"] is Verdict.DO_NOT_FIT


def test_a_key_that_nobody_has_is_named_as_ssh_keygen_names_it(root, keys, look):
    sign(root / KNOB, keys, event_5=keys / "stranger")
    found, verdicts = look()
    name = subprocess.run(["ssh-keygen", "-l", "-f", keys / "stranger"], capture_output=True, text=True, check=True).stdout.split()[1]
    assert told(found) == [f"event 5 is signed by a key that nobody has: {name}"]
    assert verdicts["EX-0001"] is Verdict.DO_NOT_FIT


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ('valid-after="20260115",valid-before="20260116"', None),
        ('VALID-BEFORE="20260115Z"', None),
        ('valid-before="20260114"', "event 5 of 2026-01-15 is signed by a key that was valid until 2026-01-14"),
        ('valid-before="202601142359"', "event 5 of 2026-01-15 is signed by a key that was valid until 2026-01-14"),
        ('valid-after="20260116"', "event 5 of 2026-01-15 is signed by a key that is valid from 2026-01-16 on"),
        ('namespaces="git,file"', "event 5 is signed by a key that may not sign events: SHA256:"),
        ('namespaces="spares-*"', None),
        ("", None),
    ],
)
@pytest.mark.parametrize("zone", ["UTC", "Pacific/Auckland", "America/Los_Angeles"])
def test_a_key_counts_on_the_day_of_the_event_in_every_time_zone(root, keys, look, monkeypatch, options, said, zone):
    monkeypatch.setenv("TZ", zone)
    lines = [line_of(role, keys / role, options if role == "reviewer" else "") for role in ROLES]
    (root / "allowed_signers").write_text("".join(lines))
    found, verdicts = look()
    assert [text[: len(said or "")] for text in told(found)] == ([said] if said else [])
    assert (verdicts["EX-0001"] is Verdict.FIT_IT) == (said is None)


def test_what_was_good_is_not_asked_again_and_all_else_is(root, keys, look, tmp_path, monkeypatch):
    store = Store(tmp_path / "kept")
    look(store)
    asked = []
    monkeypatch.setattr(keygen, "_asked", lambda *words, **more: asked.append(words) or pytest.fail("asked again"))
    assert look(store)[0] == []
    monkeypatch.undo()
    with (root / "allowed_signers").open("a") as listed:
        listed.write("# one line more\n")
    (root / "allowed_signers").write_text((root / "allowed_signers").read_text().replace("reviewer", "stranger"))
    found, verdicts = look(store)
    assert any("is signed by a key of stranger" in each for each in told(found))
    assert verdicts["EX-0001"] is Verdict.DO_NOT_FIT


def test_a_good_text_with_another_signature_is_asked_anew(root, look, tmp_path):
    store = Store(tmp_path / "kept")
    assert look(store)[0] == []
    spoil(root, KNOB, exchanged)
    assert look(store)[1]["EX-0001"] is Verdict.DO_NOT_FIT


def without_ssh_keygen(monkeypatch, tmp_path):
    (tmp_path / "bin").mkdir()
    monkeypatch.setenv("PATH", str(tmp_path / "bin"))


@pytest.mark.parametrize(("rule", "verdict"), [("required", Verdict.DO_NOT_FIT), ("advised", Verdict.FIT_IT)])
def test_without_ssh_keygen_it_is_said_what_to_install(root, look, monkeypatch, tmp_path, rule, verdict):
    (root / "depot.yml").write_text((root / "depot.yml").read_text().replace("required", rule))
    without_ssh_keygen(monkeypatch, tmp_path)
    found, verdicts = look()
    assert told(found) == ["cannot be looked at: ssh-keygen is not installed"] * 3
    assert {fix(each) for each in found} == {"install OpenSSH's client, such as: apt-get install openssh-client"}
    assert verdicts == dict.fromkeys(ALL_PARTS, verdict)


def test_without_the_list_nothing_is_known(root, look):
    (root / "allowed_signers").unlink()
    found, verdicts = look()
    assert set(told(found)) == {"cannot be looked at: there is no list of allowed signers allowed_signers"}
    lines = (root / "depot.yml").read_text().splitlines()
    assert [lines[each.where.line - 1] for each in found if each.where.file == "depot.yml"] == ["signatures: {rule: required}"]
    assert verdicts == dict.fromkeys(ALL_PARTS, Verdict.DO_NOT_FIT)


def test_a_line_that_is_none_is_told_with_its_place(root, keys, look):
    lines = (root / "allowed_signers").read_text().splitlines(keepends=True)
    (root / "allowed_signers").write_text("".join(["keeper ssh-ed25519\n", *lines, line_of("fittr", keys / "stranger")]))
    found, verdicts = look()
    of_list = [line(each).splitlines()[0] for each in found if each.where.file == "allowed_signers"]
    assert of_list == [
        "allowed_signers:1: error SIGN05: is no line of a list of allowed signers: its key counts for nothing",
        "allowed_signers:7: warning SIGN05: names 'fittr', which is no role",
    ]
    assert len(found) == 2
    assert verdicts == dict.fromkeys(ALL_PARTS, Verdict.FIT_IT)


@pytest.mark.parametrize("more", [", since: 2026-12-01", ", since: 2026-11-26"])
def test_what_came_before_the_rule_needs_no_signature(tmp_path, keys, more):
    root = ruled(copied(tmp_path / "depot"), keys, more=more)
    assert signatures_checked(read_catalogue(root), root, Store(tmp_path / "store")) == read_catalogue(root)


def test_from_the_first_day_of_the_rule_on_it_does(tmp_path, keys):
    root = ruled(copied(tmp_path / "depot"), keys, more=", since: 2026-01-15")
    found = signatures_checked(read_catalogue(root), root, Store(tmp_path / "store"))
    assert {each.number: told(each.problems) for each in found.parts} == {
        "EX-0001": ["is not signed: event 5"], "EX-0002": [], "EX-0003": ["is not signed: event 1 and 2"],
    }  # fmt: skip


@pytest.mark.parametrize("rule", [None, "none"])
def test_without_a_rule_nothing_is_asked(root, monkeypatch, tmp_path, rule):
    spoil(root, KNOB, put(4, signed="yes"))
    text = (root / "depot.yml").read_text().replace("rule: required", f"rule: {rule}")
    (root / "depot.yml").write_text(text if rule else text.partition("signatures:")[0])
    without_ssh_keygen(monkeypatch, tmp_path)
    catalogue = read_catalogue(root)
    assert signatures_checked(catalogue, root, Store(tmp_path / "store")) is catalogue


def test_the_list_may_have_another_name(root, look):
    os.renames(root / "allowed_signers", root / "keys/roles")
    depot = root / "depot.yml"
    depot.write_text(depot.read_text().replace("required}", "required, allowed_signers: keys/roles}"))
    assert look() == ([], dict.fromkeys(ALL_PARTS, Verdict.FIT_IT))


def test_a_list_that_leads_out_of_the_catalogue_is_not_read(root, look, tmp_path):
    shutil.move(root / "allowed_signers", tmp_path / "outside")
    (root / "allowed_signers").symlink_to(tmp_path / "outside")
    found, verdicts = look()
    assert any(each.code == "DISK04" for each in found)
    assert verdicts == dict.fromkeys(ALL_PARTS, Verdict.DO_NOT_FIT)
