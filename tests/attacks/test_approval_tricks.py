"""Words that read alike, YAML that says two things, and texts of an older form: no way round what was approved."""

import hashlib
import re

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import ASK, FIT, NO, Said, folder, history, refuses

V2 = "spares fingerprint|number|revision|mesh|safety role|material|maker|setting|fire|thinnest wall|check|at "


def approval(catalogue, **changes):
    with history(catalogue) as record:
        depot.what(record, "approved").update(changes)


def retold(catalogue, change):
    """The approved text in other words, with the fingerprint that belongs to them."""
    with history(catalogue) as record:
        one = depot.what(record, "approved")
        text = change(one["approved_as"])
        one.update(approved_as=text, fingerprint=hashlib.sha256(text.encode()).hexdigest())


def as_version_2(text):
    """Without the lines that came later: papers, grade, machine, notes."""
    old = [line for line in text.splitlines() if re.match(V2, line)]
    late = r"material (grade|supplier|certificate|fire)|.*sha256|maker \S+ (name|machine)|maker \S+ process"
    keep = [
        line for line in old if not re.match(late, line) or line.startswith(("mesh sha256", "fire exemption"))
    ]
    return (
        "\n".join(re.sub(r"^spares fingerprint: \d+", "spares fingerprint: 2", line) for line in keep) + "\n"
    )


def number(version):
    return lambda text: re.sub(r"^spares fingerprint: \d+", f"spares fingerprint: {version}", text)


RETOLD = {
    "as of version 2": as_version_2,
    "as of version 2, with the lines of now": number(2),
    "as of version 1": number(1),
    "as of version 3, with the lines of now": number(3),
    "as of version 5": number(5),
    "as of version 99": number(99),
    "as of version 03": number("03"),
    "as of version 3.0": number("3.0"),
    "as of version -3": number(-3),
    "without its first line": lambda text: text.split("\n", 1)[1],
    "with its first line twice": lambda text: text.split("\n", 1)[0] + "\n" + text,
    "with every line twice": lambda text: "".join(line + line for line in text.splitlines(keepends=True)),
    "without its last line": lambda text: text.rsplit("\n", 2)[0] + "\n",
    "empty but for its version": lambda text: text.split("\n", 1)[0] + "\n",
    "with ends of lines of another system": lambda text: text.replace("\n", "\r\n"),
    "with a mark in front": lambda text: "\ufeff" + text,
    "with a line more": lambda text: text + 'check "Depth" nominal mm: 3\n',
    "with a comment": lambda text: text + "# nothing\n",
    "without the place": lambda text: "".join(
        one for one in text.splitlines(keepends=True) if not one.startswith("at ")
    ),
    "of another part": lambda text: text.replace("TV-0417", "TV-0418"),
}


@pytest.mark.parametrize("case", RETOLD)
def test_an_approved_text_in_another_form_is_not_fitted(demo, case):
    catalogue = demo()
    retold(catalogue, RETOLD[case])
    said = Said(catalogue)
    if (
        case == "as of version 2, with the lines of now"
        and "spares fingerprint: 2" in (folder(depot.DEMO) / "approval.yml").read_text()
    ):
        pytest.skip("the demo itself is of version 2")
    assert said.fitted == set(), said.why


@pytest.mark.parametrize("value", ["upper", "of nothing", "of the letter"])
def test_a_fingerprint_that_is_not_that_of_the_text(demo, value):
    catalogue = demo()
    with history(catalogue) as record:
        one = depot.what(record, "approved")
        one["fingerprint"] = {
            "upper": one["fingerprint"].upper(),
            "of nothing": hashlib.sha256(b"").hexdigest(),
            "of the letter": one["evidence"][0]["sha256"],
        }[value]
    refuses(catalogue, "fingerprint|approved_as")


@pytest.mark.parametrize("value", [3, 99, 0, -1, "2", "two", 2.5, None, [2], True])
def test_a_record_of_a_form_that_nobody_knows(demo, value):
    catalogue = demo()
    with history(catalogue) as record:
        record["format"] = value
    refuses(catalogue, "format")


def test_a_record_of_a_later_form_says_to_update(demo):
    catalogue = demo()
    with history(catalogue) as record:
        record["format"] = 3
    assert "update" in refuses(catalogue, "format").problems().lower()


def test_a_record_that_says_it_is_of_the_first_form_is_not_judged_more_kindly(demo):
    catalogue = demo()
    with history(catalogue) as record:
        record["format"] = 1
        for one in record["events"]:
            one.pop("submitted_as", None)
            if one["what"] != "approved":
                one.pop("fingerprint", None)
                one.pop("revision", None)
    said = Said(catalogue)
    assert said.words() <= {ASK, NO}, said.text


# Text that YAML reads in two ways


def text_of(catalogue, change, file="approval.yml"):
    path = folder(catalogue) / file
    path.write_bytes(change(path.read_text()).encode())


YAML = {
    "two last days": lambda t: t.replace(
        "    valid_until: 2030", "    valid_until: 2029-03-31\n    valid_until: 2030"
    ),
    "two routes": lambda t: "route: authority\n" + t,
    "two lists of events": lambda t: t + "\nevents: []\n",
    "a second document": lambda t: t + "\n---\nroute: customer\nevents: []\n",
    "a document before it": lambda t: "route: authority\n---\n" + t,
    "an anchor": lambda t: t.replace("route: customer", "route: &r customer"),
    "a tag": lambda t: t.replace("route: customer", "route: !!str customer"),
    "a merge": lambda t: t.replace("  - on: 2025-03-17", "  - <<: {}\n    on: 2025-03-17"),
    "a key in quotes beside the key": lambda t: t.replace(
        "    valid_until:", '    "valid_until": 2029-01-01\n    valid_until:'
    ),
    "a key that reads alike": lambda t: t.replace(
        "    valid_until:", "    v\u0430lid_until: 2029-01-01\n    valid_until:"
    ),
    "a line end that no editor shows": lambda t: t.replace(
        "# What happened", "# x\u2028withdrawn: yes\n# What happened"
    ),
    "a nought in the text": lambda t: t.replace("letter TR-25-024", "letter\x00TR-25-024"),
    "text turned round": lambda t: t.replace("letter TR-25-024", "letter \u202e420-52-RT"),
}


@pytest.mark.parametrize("case", YAML)
def test_yaml_that_says_two_things_is_not_fitted(demo, case):
    catalogue = demo()
    text_of(catalogue, YAML[case])
    said = Said(catalogue)
    if case == "a line end that no editor shows":
        assert said.words() <= {FIT, NO}  # a comment to its end, or refused: never a second reading
    else:
        assert said.fitted == set(), said.text
