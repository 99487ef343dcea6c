"""The list of allowed signers as it is read to name roles and reasons; ssh-keygen is asked whether it reads it alike."""

import subprocess
from datetime import date

import pytest

from generator.provenance.signing.signature import key_name, signature_in
from generator.provenance.signing.signers import read_signers
from tests.fixtures.signing import NAMESPACE, line_of, signature

KEY = "ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAIGL0D1y7Vh9dGv2tW0mPpBm3UnDq0Vb7rZtqf3n2kS1x"
DAY = date(2026, 6, 1)


@pytest.mark.parametrize(
    ("principals", "role", "speaks"),
    [
        ("keeper", "keeper", True),
        ("keeper", "keeper-2", False),
        ('"keeper"', "keeper", True),
        ("k[e]eper", "keeper", False),
    ],
)
def test_principals_are_read_as_ssh_keygen_reads_them(keys, tmp_path, principals, role, speaks):
    listed = line_of(principals, keys / "keeper", "")
    (tmp_path / "listed").write_text(listed)
    (tmp_path / "sig").write_text(signature("text", keys / "keeper"))
    words = ["ssh-keygen", "-Y", "verify", "-n", NAMESPACE, "-I", role, "-f", tmp_path / "listed", "-s", tmp_path / "sig"]
    theirs = subprocess.run(words, input=b"text", capture_output=True, check=False)
    assert (theirs.returncode == 0) == speaks
    assert read_signers(listed.encode()).signers[0].speaks_for(role) == speaks


@pytest.mark.parametrize(
    "line",
    ["keeper", "keeper ssh-ed25519", f"* {KEY}", f"reviewer,keeper {KEY}", f"keepe? {KEY}", f'"*,!reviewer" {KEY}', f"keeper what {KEY}x!", f'keeper valid-after="soon" {KEY}', KEY, f'keeper namespaces="a {KEY}'],
)
def test_what_is_no_line_is_named(line):
    """Nor is one for several roles: whoever makes a part would sign for who approves it."""
    assert read_signers(f"# one\n\n{line}\nkeeper {KEY}\n".encode()).unread == (3,)
    assert 4 in {each.line for each in read_signers(f"# one\n\n{line}\nkeeper {KEY}\n".encode()).signers}


@pytest.mark.parametrize(
    ("options", "begun", "lasts", "signs"),
    [
        ("", True, True, True),
        ('namespaces="git"', True, True, False),
        ('namespaces="git,spares-event"', True, True, True),
        ("valid-after=20260601", True, True, True),
        ("valid-after=20260602", False, True, True),
        ('valid-before="20260601Z"', True, True, True),
        ('valid-before="20260531235959"', True, False, True),
        ('NAMESPACES="git",Valid-After="203001010000"', False, True, False),
    ],
)
def test_options_are_read(options, begun, lasts, signs):
    (signer,) = read_signers(f"keeper {options} {KEY} a comment\n".replace("  ", " ").encode()).signers
    assert (signer.has_begun(DAY), signer.lasts_on(DAY), signer.signs_events) == (begun, lasts, signs)


@pytest.mark.parametrize("text", ["a" * 300_000 + "!", '"' * 300_000, "a," * 150_000, "a " * 150_000, '="' * 150_000, "*" * 300_000])
def test_a_hostile_line_is_read_all_the_same(text):
    for line in (text, f"keeper {text} {KEY}", f"{text} {KEY}"):
        read_signers(line.encode())


def test_bytes_that_are_no_text_are_no_line():
    assert read_signers(b"\xff\xfe\x00keeper\n").unread == (1,)


def test_a_signature_names_its_key_and_what_it_is_for(keys):
    made = signature("text", keys / "keeper")
    told = signature_in(made)
    said = subprocess.run(["ssh-keygen", "-l", "-f", keys / "keeper"], capture_output=True, text=True, check=True).stdout
    assert (key_name(told.key), told.namespace) == (said.split()[1], NAMESPACE)


@pytest.mark.parametrize("length", range(0, 290, 7))
def test_a_signature_that_is_cut_off_is_none_or_names_what_it_still_holds(keys, length):
    told = signature_in(signature("text", keys / "keeper")[:length])
    assert told is None
