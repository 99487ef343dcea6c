"""`--key` and `spares sign`: an event is signed by the key at hand, and one that would not count is never written."""

import os
import re
import subprocess
from pathlib import Path

import pytest

from generator.edge.refusals import Ending
from generator.provenance.signing import keygen
from tests.edge.conftest import bytes_of
from tests.fixtures.signing import events_of, line_of, made_key, ruled, signature, text_of

CLIP, KNOB = Path("catalogue/parts/EX-0003-hose-clip"), Path("catalogue/parts/EX-0001-lid-knob")


@pytest.fixture
def ruling(depot, keys):
    """The tiny depot, which requires signatures of what happens from today on."""
    return ruled(depot / "catalogue", keys, more=", since: 2026-11-25")


def record(*more, by="keeper"):
    return ["record", "EX-0003", "customer acceptance given", "--by", by, "--reference", "M-3", *more]


def test_an_event_is_signed_as_it_is_recorded(ruling, spares, keys):
    before = (CLIP / "approval.yml").read_bytes()
    code, out, err = spares(*record("--key", keys / "keeper"))
    assert (code, err) == (0, "")
    after = (CLIP / "approval.yml").read_bytes()
    assert after.startswith(before)
    assert after[len(before) :].decode() in out
    event = events_of(CLIP)[-1]
    assert event.pop("signed") == signature(text_of("EX-0003", events_of(CLIP), 2), keys / "keeper")
    assert list(event) == ["on", "what", "by", "reference"]
    assert spares("check")[0] == 0


def test_an_approval_is_signed_with_all_that_it_binds(ruling, depot, spares, keys):
    (depot / "letter.txt").write_text("approved")
    for event, by in (("customer acceptance given", "keeper"), ("documents complete", "specialist"), ("sent to technical review", "specialist")):
        assert spares("record", "EX-0003", event, "--by", by, "--key", keys / by)[0] == 0
    words = ["approve", "EX-0003", "--by", "reviewer", "--reference", "L-3", "--scope", "B2:21-22:bogie", "--until", "2028-11-30"]
    assert spares(*words, "--evidence", "letter.txt", "--replaces", "2026-10-01", "--yes", "--key", keys / "reviewer")[0] == 0
    assert spares("check")[0] == 0
    assert "Fit it. " in spares("explain", "EX-0003")[1]
    record_of = CLIP / "approval.yml"
    record_of.write_text(record_of.read_text().replace("2028-11-30", "2029-11-30"))
    code, out, _ = spares("check")
    assert (code, "error SIGN02: event 6 is not what was signed" in out) == (1, True)
    assert "Do not fit. " in spares("explain", "EX-0003")[1]


@pytest.mark.parametrize("command", ["record", "sign"])
def test_a_key_without_the_role_signs_nothing(ruling, depot, spares, keys, command):
    if command == "sign":
        assert spares(*record())[0] == 0
    before = bytes_of(depot / "catalogue")
    words = record("--key", keys / "reviewer") if command == "record" else ["sign", "EX-0003", "--by", "keeper", "--key", keys / "reviewer"]
    code, _, err = spares(*words)
    assert (code, err.splitlines()[0].rpartition(": ")[0]) == (
        1, "spares: nothing is signed: event 3 says that keeper did it, and is signed by a key of reviewer",
    )  # fmt: skip
    assert bytes_of(depot / "catalogue") == before


def test_what_somebody_else_recorded_is_signed_later_and_every_byte_stays(ruling, spares, keys):
    path = CLIP / "approval.yml"
    path.write_text(path.read_text() + "# the end\n")
    _, _, err = spares(*record())
    assert err == "Not signed yet, so EX-0003 says Do not fit: spares sign EX-0003 --key FILE\n"
    code, out, _ = spares("check")
    assert (code, "error SIGN01: is not signed: event 3" in out) == (1, True)
    assert spares("record", "EX-0003", "documents complete", "--by", "specialist", "--key", keys / "specialist")[0] == 0
    before = path.read_bytes()
    code, out, _ = spares("sign", "EX-0003", "--key", keys / "keeper", "--dry-run")
    assert (code, path.read_bytes()) == (0, before)
    assert "  event 3: 2026-11-25 customer acceptance given by keeper, M-3" in out
    assert spares("sign", "EX-0003", "--key", keys / "keeper")[0] == 0
    block = re.compile(rb"    signed: \|-?\n(?:      .*\n)+")
    assert path.read_bytes() != before
    assert block.sub(b"", path.read_bytes()) == block.sub(b"", before)
    assert spares("check")[0] == 0
    code, out, _ = spares("sign", "EX-0003", "--key", keys / "keeper")
    assert (code, out) == (0, "Nothing to sign: no event of EX-0003 by keeper lacks its signature.\n")


@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_a_whole_old_record_can_be_signed(depot, spares, keys, ends):
    ruled(depot / "catalogue", keys)
    path = KNOB / "approval.yml"
    path.write_bytes(path.read_bytes().replace(b"\n", ends.encode()))
    for role in ("keeper", "specialist", "reviewer"):
        assert spares("sign", "EX-0001", "--key", keys / role)[0] == 0
    text = path.read_bytes().decode()
    assert text.count("-----BEGIN SSH SIGNATURE-----") == 5
    assert ends == "\n" or "\n" not in text.replace("\r\n", "")
    assert "Fit it. " in spares("explain", "EX-0001")[1]
    assert [each for each in spares("check")[1].splitlines() if "EX-0001" in each] == []


def test_nothing_is_signed_on_top_of_what_was_tampered_with(ruling, spares, keys):
    spares(*record("--key", keys / "keeper"))
    path = CLIP / "approval.yml"
    path.write_text(path.read_text().replace("M-3", "M-4"))
    before = path.read_bytes()
    code, _, err = spares("record", "EX-0003", "documents complete", "--by", "specialist", "--key", keys / "specialist")
    assert (code, err.splitlines()[0]) == (1, "spares: EX-0003 has mistakes, so nothing is recorded")
    assert spares("sign", "EX-0003", "--key", keys / "specialist")[0] == 1
    assert path.read_bytes() == before


def open_to_others(key, keys):
    key.chmod(0o644)
    return key


def locked(key, keys):
    return made_key(key.parent, "locked", passphrase="not told")


def public_alone(key, keys):
    other = made_key(key.parent, "other")
    other.unlink()
    return other.with_name("other.pub")


def no_key(key, keys):
    return key.write_text("no key\n") and key


TROUBLES = {
    "open": (open_to_others, 1, "others may read the private key {key}, so it is not used", "take that right away: chmod 600 {key}"),
    "locked": (locked, 1, "the key {key} has a passphrase", "load it into the agent, then run it again: ssh-add {key}"),
    "public": (public_alone, 1, "{key} is the public half of a key, and the agent does not have the private one", "load it (ssh-add), or name the private key"),
    "none": (lambda _key, keys: keys / "gone", 2, "there is no key file {key}", "name your private key, such as --key ~/.ssh/id_ed25519"),
    "folder": (lambda key, keys: key.parent, 2, "there is no key file {key}", "name your private key, such as --key ~/.ssh/id_ed25519"),
    "text": (no_key, 2, "{key} is no SSH key", "name your private key, such as --key ~/.ssh/id_ed25519"),
}  # fmt: skip


@pytest.mark.parametrize("name", TROUBLES)
def test_a_key_that_cannot_sign_is_told_in_one_message(ruling, depot, spares, keys, tmp_path, monkeypatch, name):
    monkeypatch.delenv("SSH_AUTH_SOCK", raising=False)
    make, ending, says, mend = TROUBLES[name]
    own = tmp_path / "own"
    own.mkdir()
    made = own / "key"
    made.write_bytes((keys / "keeper").read_bytes())
    made.chmod(0o600)
    key = make(made, keys)
    before = bytes_of(depot / "catalogue")
    code, _, err = spares(*record("--key", key))
    assert (code, err) == (ending, f"spares: {says.format(key=key)}\n  mend: {mend.format(key=key)}\n")
    assert bytes_of(depot / "catalogue") == before


def test_a_locked_key_signs_by_the_agent(ruling, spares, keys, tmp_path, monkeypatch):
    key = made_key(tmp_path, "locked", passphrase="told")
    with (ruling / "allowed_signers").open("a") as listed:
        listed.write(line_of("keeper", key))
    said = subprocess.run(["ssh-agent", "-s"], capture_output=True, text=True, check=True).stdout
    socket, agent = re.search(r"SSH_AUTH_SOCK=([^;]+)", said)[1], int(re.search(r"SSH_AGENT_PID=(\d+)", said)[1])
    try:
        monkeypatch.setenv("SSH_AUTH_SOCK", socket)
        teller = tmp_path / "teller"
        teller.write_text("#!/bin/sh\necho told\n")
        teller.chmod(0o700)
        asked = {**os.environ, "SSH_ASKPASS": str(teller), "SSH_ASKPASS_REQUIRE": "force"}
        subprocess.run(["ssh-add", "-q", key], env=asked, check=True, start_new_session=True)
        assert spares(*record())[0] == 0
        assert spares("sign", "EX-0003", "--key", key)[0] == 0
        assert spares("record", "EX-0003", "documents complete", "--by", "keeper", "--key", f"{key}.pub")[0] == 0
    finally:
        os.kill(agent, 15)
    assert spares("check")[0] == 0


def test_without_ssh_keygen_it_is_said_what_to_install(ruling, spares, keys, monkeypatch, tmp_path):
    monkeypatch.setattr(keygen, "PROGRAM", "no-such-program")
    for words in (record("--key", keys / "keeper"), ["sign", "EX-0003", "--key", keys / "keeper"]):
        code, _, err = spares(*words)
        assert (code, err.splitlines()) == (
            1, ["spares: ssh-keygen is not installed", "  mend: install OpenSSH's client, such as: apt-get install openssh-client"],
        )  # fmt: skip


def test_a_key_that_the_list_does_not_know_has_to_be_told_whose_it_is(ruling, spares, keys):
    spares(*record())
    code, _, err = spares("sign", "EX-0003", "--key", keys / "stranger")
    assert (code, err.splitlines()[0]) == (
        Ending.MISUSE, f"spares: the list of allowed signers gives no role to {keys / 'stranger'}",
    )  # fmt: skip


def test_a_depot_without_a_rule_may_sign_all_the_same(depot, spares, keys):
    assert spares(*record("--key", keys / "stranger"))[0] == 0
    assert "signed" in events_of(CLIP)[-1]
    assert spares("check")[0] == 0


def test_an_event_in_braces_is_left_to_a_person(ruling, spares, keys):
    path = CLIP / "approval.yml"
    with path.open("a") as added:
        added.write("  - {on: 2026-11-25, what: customer acceptance given, by: keeper}\n")
    before = path.read_bytes()
    code, _, err = spares("sign", "EX-0003", "--key", keys / "keeper")
    assert (code, "is not written as 'key: value' lines" in err) == (1, True)
    assert path.read_bytes() == before


def test_a_signature_left_empty_is_left_to_a_person(ruling, spares, keys):
    spares(*record())
    path = CLIP / "approval.yml"
    path.write_text(path.read_text() + "    signed:\n")
    before = path.read_bytes()
    code, _, err = spares("sign", "EX-0003", "--key", keys / "keeper")
    assert (code, "is written in a way that cannot be added to by machine" in err) == (1, True)
    assert path.read_bytes() == before


def test_the_signature_stands_readable_in_the_record(ruling, spares, keys):
    spares(*record("--key", keys / "keeper"))
    text = (CLIP / "approval.yml").read_text()
    assert re.search(r"    signed: \|\n      -----BEGIN SSH SIGNATURE-----\n(?:      \S+\n)+      -----END SSH SIGNATURE-----\n$", text)
