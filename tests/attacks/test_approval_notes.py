"""The fitting notes are turned round after the approval: the mechanic would do what nobody has looked at."""

import shutil

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import CAP, KNOB, asks, folder, refuses


def notes(catalogue, *exchanges):
    path = folder(catalogue) / "fitting.md"
    text = path.read_text()
    for old, new in exchanges:
        assert old in text
        text = text.replace(old, new)
    path.write_text(text)


TURNED = {
    "a caution turned round": [("- Do not lever behind the knob.", "- Lever behind the knob.")],
    "a caution taken out": [("- No thread-locking fluid: it makes the plastic crack.\n", "")],
    "a caution that says the opposite in one letter": [
        ("- No thread-locking fluid", "- Now thread-locking fluid")
    ],
    "a caution moved to the tools": [
        ("- No thread-locking fluid: it makes the plastic crack.\n", ""),
        ("- Brush\n", "- Brush\n- No thread-locking fluid: it makes the plastic crack.\n"),
    ],
    "another torque": [("then a quarter turn", "then two turns")],
    "a step taken out": [("1. Shut the window. Latch it.\n", "")],
    "two steps that change places": [
        ("2. Take out", "9. Take out"),
        ("4. Push", "2. Push"),
        ("9. Take", "4. Take"),
    ],
    "a check after fitting taken out": [("- Pull the knob. No play.\n", "")],
    "a check that allows what it forbade": [("It does not give.", "It may give.")],
    "another tool": [("- Gauge, 7 mm square", "- Gauge, 8 mm square")],
    "a caution hidden in a comment": [
        ("- Do not lever behind", "<!-- -->\n<!-- - Do not lever behind"),
        ("right there.", "right there. -->"),
    ],
    "a caution struck out": [
        ("- Do not lever behind the knob. The glass", "- ~~Do not lever behind the knob.~~ The glass")
    ],
    "a caution under another heading": [("## Cautions", "## Cautions\n\n## Remarks")],
    "headings that change places": [
        ("## Cautions", "## X"),
        ("## Check after fitting", "## Cautions"),
        ("## X", "## Check after fitting"),
    ],
    "a letter of another alphabet": [("- Do not lever", "- D\u043e n\u043et lever")],
    "a word that is not shown": [("- Do not lever", "- Do <span hidden>not</span> lever")],
}


@pytest.mark.parametrize("case", TURNED)
def test_fitting_notes_that_say_something_else_are_asked_about(demo, case):
    catalogue = demo()
    notes(catalogue, *TURNED[case])
    asks(catalogue, "fitting|caution|step|tool|check")


@pytest.mark.parametrize(
    "text", ["", "\n", "# Fitting TV-0417 Window-latch knob\n"], ids=["empty", "blank", "title only"]
)
def test_fitting_notes_that_were_emptied_are_not_fitted(demo, text):
    catalogue = demo()
    (folder(catalogue) / "fitting.md").write_text(text)
    refuses(catalogue, "fitting|caution|step")


def test_fitting_notes_that_were_deleted_are_not_fitted(demo):
    catalogue = demo()
    (folder(catalogue) / "fitting.md").unlink()
    refuses(catalogue, "fitting|caution|step")


def test_the_fitting_notes_of_another_part(demo):
    catalogue = demo(KNOB, CAP)
    shutil.copy(folder(catalogue, CAP) / "fitting.md", folder(catalogue) / "fitting.md")
    refuses(catalogue, "fitting|caution|step")


def test_a_picture_that_the_notes_show_is_exchanged(demo):
    # the notes keep their words; what they point at is another drawing
    catalogue = demo()
    notes(catalogue, ("## Cautions", "![Where to push](photos/push.webp)\n\n## Cautions"))
    shutil.copy(folder(catalogue) / "photos/fitted.webp", folder(catalogue) / "photos/push.webp")
    with depot.history(catalogue) as record:
        depot.cut(record, "documents complete")
    depot.walk(catalogue, names=["documents complete", "sent to technical review"])
    answer = depot.approve(catalogue)
    assert answer.returncode == 0, answer.stdout + answer.stderr
    depot.fits(catalogue)
    shutil.copy(folder(catalogue) / "photos/broken-original.webp", folder(catalogue) / "photos/push.webp")
    refuses(catalogue, "photo|push.webp")


@pytest.mark.parametrize(
    "new", ["\r\n", "\n\n"], ids=["ends of lines as on another system", "lines set apart"]
)
def test_notes_that_only_an_editor_saved_anew_stay_fitted(demo, new):
    catalogue = demo()
    path = folder(catalogue) / "fitting.md"
    path.write_bytes(path.read_bytes().replace(b"\n", new.encode()))
    said = depot.Said(catalogue)
    assert depot.NO not in said.words(), said.why + said.problems()
