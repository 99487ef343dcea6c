"""The knob signed with SSH keys, and unsigned, for the attacks on who may say what."""

import subprocess

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import KNOB, folder, history, kept, roles
from tests.fixtures.copying import copied_from

SIGNED = "sign|key|ssh-keygen|tamper"


@pytest.fixture(scope="session")
def keys(tmp_path_factory):
    """A key for each of three roles, one that is nobody's, and an encrypted one."""
    where = tmp_path_factory.mktemp("keys")
    for name in ("am-specialist", "technical-review", "keeper", "nobody", "locked"):
        words = [
            "-q",
            "-t",
            "ed25519",
            "-N",
            "a secret" if name == "locked" else "",
            "-C",
            name,
            "-f",
            str(where / name),
        ]
        subprocess.run(["ssh-keygen", *words], check=True)
    return where


def public(keys, name):
    return " ".join((keys / f"{name}.pub").read_text().split()[:2])


def signers(catalogue, keys, options='namespaces="spares-event"', **instead):
    """The list of who signs for which role; `instead` names another role's key, or none."""
    lines = []
    for role in ("am-specialist", "technical-review", "keeper"):
        whose = instead.get(role.replace("-", "_"), role)
        if whose:
            lines.append(f"{role} {options} {public(keys, whose)}\n")
    (catalogue / "allowed_signers").write_text("".join(lines))


def asks_for(catalogue, rule="required", since="2026-11-01", **more):
    with roles(catalogue) as record:
        record["signatures"] = {"rule": rule, "allowed_signers": "allowed_signers", "since": since} | more


@pytest.fixture(scope="session")
def once(tmp_path_factory, warm_store, keys):
    """The knob submitted, sent and approved with keys, and nothing spoilt."""
    base = tmp_path_factory.mktemp("signed")
    (base / "store").symlink_to(warm_store, target_is_directory=True)
    catalogue = depot.demo(base, KNOB)
    asks_for(catalogue)
    signers(catalogue, keys)
    with history(catalogue) as record:
        depot.cut(record, "documents complete")
    kept(folder(catalogue), "documents/new-drawing.txt", "Drawing.\n")
    specialist = ["--key", keys / "am-specialist"]
    steps = {
        "documents complete": ["--evidence", "documents/new-drawing.txt"],
        "sent to technical review": [],
    }
    for name, more in steps.items():
        answer = depot.record(catalogue, KNOB, name, "am-specialist", "--reference", "R", *more, *specialist)
        assert answer.returncode == 0, answer.stdout + answer.stderr
    answer = depot.approve(catalogue, "--key", keys / "technical-review")
    assert answer.returncode == 0, answer.stdout + answer.stderr
    return catalogue


@pytest.fixture
def signed(once, tmp_path, warm_store):
    (tmp_path / "store").symlink_to(warm_store, target_is_directory=True)
    copied_from(once, tmp_path / "catalogue")
    return tmp_path / "catalogue"


@pytest.fixture
def unsigned(demo, keys):
    """The same, approved without any key, before anybody asked for signatures."""
    catalogue = demo()
    with history(catalogue) as record:
        depot.cut(record, "documents complete")
    depot.walk(catalogue, names=["documents complete", "sent to technical review"])
    answer = depot.approve(catalogue)
    assert answer.returncode == 0, answer.stdout + answer.stderr
    signers(catalogue, keys)
    return catalogue
