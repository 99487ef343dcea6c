"""Keys that cannot sign, and signatures that are given later."""

import shutil

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import (
    KNOB,
    fits,
    folder,
    history,
    kept,
    refuses,
    run,
)
from tests.attacks.approval_keys import SIGNED, asks_for

pytestmark = pytest.mark.skipif(not shutil.which("ssh-keygen"), reason="there is no ssh-keygen")


# Keys at hand


def waiting(catalogue):
    with history(catalogue) as record:
        depot.cut(record, "approved")
    return (folder(catalogue) / "approval.yml").read_bytes()


@pytest.mark.parametrize(
    "key", ["locked", "am-specialist", "nobody", "gone", "garbage", "public half", "folder", "open to all"]
)
def test_a_key_that_cannot_sign_is_told_in_one_message_and_nothing_is_written(signed, keys, tmp_path, key):
    before = waiting(signed)
    file = keys / key
    if key == "garbage":
        file = tmp_path / "garbage"
        file.write_text("not a key\n")
    elif key == "public half":
        file = shutil.copy(keys / "technical-review.pub", tmp_path)
    elif key == "folder":
        file = keys
    elif key == "open to all":
        file = tmp_path / "open"
        shutil.copy(keys / "technical-review", file)
        file.chmod(0o644)
    letter = kept(folder(signed), "documents/k.txt", "k\n")["file"]
    answer = run(
        signed,
        "approve",
        KNOB,
        "--by",
        "technical-review",
        "--reference",
        "L",
        "--scope",
        depot.WINDOW,
        "--until",
        "2031-11-30",
        "--evidence",
        letter,
        "--key",
        file,
        SSH_AUTH_SOCK="",
        SSH_ASKPASS="/bin/false",
        DISPLAY="",
    )
    assert answer.returncode != 0, answer.stdout
    assert "key" in answer.stderr.lower(), answer.stderr
    assert (folder(signed) / "approval.yml").read_bytes() == before
    assert not list(folder(signed).glob("**/*.sig"))


def test_required_and_approved_without_a_key_is_refused_or_not_fitted(signed):
    waiting(signed)
    answer = depot.approve(signed, letter=kept(folder(signed), "documents/k.txt", "k\n")["file"])
    refuses(signed, SIGNED, before=answer.stdout + answer.stderr)


def test_signed_later_by_its_own_role(unsigned, keys):
    asks_for(unsigned)
    for name in ("am-specialist", "technical-review"):
        answer = run(unsigned, "sign", KNOB, "--key", keys / name)
        assert answer.returncode == 0, answer.stdout + answer.stderr
    fits(unsigned)


def test_nobodys_key_signs_nothing_later(unsigned, keys):
    asks_for(unsigned)
    run(unsigned, "sign", KNOB, "--key", keys / "nobody")
    run(unsigned, "sign", KNOB, "--key", keys / "am-specialist")
    refuses(unsigned, SIGNED)
