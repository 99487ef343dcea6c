"""Why a command stops is said in the depot's language: every refusal by name has its words, and no words wait for a refusal that is gone."""

import ast
import errno
import os
from pathlib import Path

import pytest

from generator.edge.refusals import disk_refusal, reason_of
from generator.edge.spoken import listen
from generator.pages.wording import wording
from generator.provenance.signing.keygen import Trouble
from generator.records.depot import Language

EDGE = Path(__file__).parents[2] / "generator"
TREES = [ast.parse(file.read_text("utf-8")) for file in sorted(EDGE.rglob("*.py"))]
REFUSED = wording("en").tree["commands"]["refused"]


def named():
    """The keys that calls of `refused` name."""
    calls = (node for tree in TREES for node in ast.walk(tree) if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "refused")
    firsts = (node.args[0] for node in calls if node.args)
    return {each.value for first in firsts if not isinstance(first, ast.JoinedStr) for each in _said(first)}


def _said(first):
    chosen = [first.body, first.orelse] if isinstance(first, ast.IfExp) else [first]
    return [each for each in chosen if isinstance(each, ast.Constant)]


def test_every_refusal_that_is_named_has_its_words():
    found = named()
    assert len(found) > 100
    assert [key for key in found if set(REFUSED.get(key, ())) != {"says", "mend"}] == []


def test_every_trouble_of_a_key_has_its_words():
    assert set(REFUSED["key"]) == {each.value for each in Trouble}


@pytest.mark.parametrize("language", Language)
def test_what_a_disk_answers_is_said_in_the_language_with_what_was_done_and_what_to_do(language):
    """Numbers of POSIX (IEEE Std 1003.1, <errno.h>); one that we have no word for is said as the system says it."""
    listen(language=language)
    known = ("ENOSPC", "EDQUOT", "EFBIG", "EROFS", "EACCES", "EPERM", "EBUSY", "ENOENT", "ENOTDIR", "EMFILE", "ENAMETOOLONG", "ELOOP", "EISDIR", "EADDRINUSE", "ENXIO")
    for name in known:
        error = OSError(getattr(errno, name), os.strerror(getattr(errno, name)), "parts/x.yml")
        told = disk_refusal(error, "writing", "the folder")
        assert "the folder" in told.says
        assert "(parts/x.yml)" in told.says
        assert reason_of(error) in told.says
        assert told.fix
        assert language is Language.ENGLISH or told.says != disk_refusal_in_english(error)
    strange = disk_refusal(OSError(errno.EXDEV, "Invalid cross-device link"), "reading", "x")
    assert os.strerror(errno.EXDEV).lower() in strange.says
    assert "(" not in strange.says
    listen()


def disk_refusal_in_english(error):
    said = wording("en")
    return said("commands.disk.failed", doing=said("commands.disk.doing.writing", what="the folder"), reason=reason_of(error), name="parts/x.yml")


def test_where_even_the_words_cannot_be_read_the_system_is_heard_itself(monkeypatch):
    """As when too many files are open."""

    def unread():
        raise OSError(errno.EMFILE, "Too many open files")

    monkeypatch.setattr("generator.edge.refusals.words", unread)
    error = OSError(errno.EMFILE, "Too many open files")
    assert disk_refusal(error, "reading", "x").says == str(error)
    assert reason_of(error) == os.strerror(errno.EMFILE).lower()
