"""Events signed with SSH keys: who signs for whom, what was signed, and what stands there now."""

import shutil

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import (
    KNOB,
    NO,
    Said,
    add,
    event,
    fits,
    folder,
    history,
    refuses,
    run,
)
from tests.attacks.approval_keys import SIGNED, asks_for, public, signers

pytestmark = pytest.mark.skipif(not shutil.which("ssh-keygen"), reason="there is no ssh-keygen")


def test_what_was_signed_by_who_may_is_fitted(signed):
    fits(signed)


def test_required_and_unsigned_is_not_fitted(unsigned):
    asks_for(unsigned)
    assert refuses(unsigned, SIGNED).words() == {NO}


def test_advised_and_unsigned_is_told(unsigned):
    asks_for(unsigned, "advised")
    said = fits(unsigned)
    assert "sign" in said.problems()


def test_none_asked_for_is_as_before(unsigned):
    asks_for(unsigned, "none")
    fits(unsigned)


def of_last(change):
    def mutate(catalogue, keys):
        with history(catalogue) as record:
            change(record["events"])

    return mutate


def swap(events):
    events[-1]["signed"], events[-2]["signed"] = events[-2]["signed"], events[-1]["signed"]


TAMPERED = {
    "the signature of the approval taken out": of_last(lambda e: e[-1].pop("signed")),
    "an empty signature": of_last(lambda e: e[-1].update(signed="")),
    "the signature of the submission taken out": of_last(lambda e: e[-3].pop("signed")),
    "all signatures taken out": of_last(lambda e: [one.pop("signed", None) for one in e]),
    "the signature of the event before": of_last(lambda e: e[-1].update(signed=e[-2]["signed"])),
    "two signatures that change places": of_last(swap),
    "a later end": of_last(lambda e: e[-1].update(valid_until="2039-01-01")),
    "no end": of_last(lambda e: e[-1].update(valid_until=None, open_ended=True)),
    "a wider scope": of_last(lambda e: e[-1].update(scope=[{"fleet": "TR4"}])),
    "another role": of_last(lambda e: e[-1].update(by="keeper")),
    "another reference": of_last(lambda e: e[-1].update(reference="letter TR-99-999")),
    "a note added": of_last(lambda e: e[-1].update(note="Holds for trams too.")),
    "it begins earlier": of_last(lambda e: e[-1].update(valid_from="2026-11-25")),
    "a condition of an earlier event changed": of_last(
        lambda e: e[1].update(note="Cracked in the cold, by the way.")
    ),
    "an event put in before it": of_last(lambda e: e.insert(2, dict(e[1]))),
    "an event taken out before it": of_last(lambda e: e.pop(2)),
    "one letter of the signature": of_last(
        lambda e: e[-1].update(signed=e[-1]["signed"].replace("A", "B", 3))
    ),
    "no armour": of_last(lambda e: e[-1].update(signed="approved, J. D.")),
    "a signature without its end": of_last(lambda e: e[-1].update(signed=e[-1]["signed"][:120])),
}
LISTS = {
    "the reviewer's key is the maker's": {"technical_review": "am-specialist"},
    "the reviewer is not listed": {"technical_review": None},
    "the reviewer's key is another": {"technical_review": "nobody"},
    "a key that has expired": {"options": 'namespaces="spares-event",valid-before="20261101"'},
    "a key that holds from later on": {"options": 'namespaces="spares-event",valid-after="20270101"'},
    "a key for mails": {"options": 'namespaces="email"'},
    "a key for files": {"options": 'namespaces="file,git"'},
    "an option that nobody knows": {"options": 'namespaces="spares-event",unknown-option'},
}


@pytest.mark.parametrize("case", TAMPERED)
def test_what_was_changed_after_it_was_signed_is_not_fitted(signed, keys, case):
    TAMPERED[case](signed, keys)
    assert refuses(signed, SIGNED + "|order|submi").words() == {NO}


@pytest.mark.parametrize("case", LISTS)
def test_a_key_that_may_not_sign_this_is_not_fitted(signed, keys, case):
    signers(signed, keys, **LISTS[case])
    assert refuses(signed, SIGNED).words() == {NO}


def anybody(catalogue, keys, who="*"):
    (catalogue / "allowed_signers").write_text(
        "".join(
            f'{who} namespaces="spares-event" {public(keys, name)}\n'
            for name in ("am-specialist", "technical-review")
        )
    )


@pytest.mark.parametrize("who", ["*", "technical-*", "am-specialist,technical-review", "!keeper,*"])
def test_the_list_lets_one_key_sign_for_every_role(signed, keys, who):
    # four eyes are gone where the maker's key may sign as the reviewer; the list names roles, one by one
    anybody(signed, keys, who)
    said = Said(signed)
    assert said.fitted == set() or "allowed_signers" in said.problems(), said.problems()


@pytest.mark.parametrize(
    "text", ["", "# nobody\n", "technical-review\n", "\x00\x01", "technical-review ssh-ed25519 AAAA\n"]
)
def test_a_list_that_names_nobody(signed, text):
    (signed / "allowed_signers").write_text(text)
    refuses(signed, SIGNED)


def test_the_list_is_gone(signed):
    (signed / "allowed_signers").unlink()
    refuses(signed, SIGNED + "|allowed_signers")


def test_the_list_lies_outside_of_the_catalogue(signed, keys):
    shutil.move(signed / "allowed_signers", signed.parent / "allowed_signers")
    asks_for(signed, allowed_signers="../allowed_signers")
    refuses(signed, SIGNED + "|allowed_signers")


@pytest.mark.parametrize(
    "change", [{"rule": "Required"}, {"rule": ""}, {"since": "2999-01-01"}, {"since": None}, {"rule": "off"}]
)
def test_the_rule_is_not_switched_off_without_a_word(unsigned, change):
    asks_for(unsigned, **change)
    said = Said(unsigned)
    assert said.fitted == set() or "since" in said.problems(), said.problems()


def test_a_signed_event_of_another_part(signed, keys):
    # the same events, in the record of a part of another number
    source = folder(signed)
    other = source.with_name("TV-0999-another-knob")
    source.rename(other)
    record = other / "part.yml"
    record.write_text(record.read_text().replace("TV-0417", "TV-0999"))
    said = Said(signed, "TV-0999")
    assert said.words() == {NO}, said.why


def test_an_unsigned_event_behind_the_signed_ones(signed):
    add(signed, KNOB, event(depot.DAY, "question answered", "am-specialist"))
    refuses(signed, SIGNED)


def test_without_ssh_keygen_what_is_required_is_not_fitted(signed, tmp_path):
    (tmp_path / "bin").mkdir()
    (tmp_path / "bin" / "git").symlink_to(shutil.which("git"))
    # the store of this test knows no earlier answer
    (tmp_path / "store").unlink()
    answer = run(signed, "explain", KNOB, PATH=str(tmp_path / "bin"))
    told = answer.stdout + answer.stderr
    assert "Fit it" not in told, told[:600]
    assert "ssh-keygen" in told, told[:600]


def test_what_the_store_once_verified_is_verified_anew_for_another_list(signed, keys):
    fits(signed)
    signers(signed, keys, technical_review="nobody")
    refuses(signed, SIGNED)
