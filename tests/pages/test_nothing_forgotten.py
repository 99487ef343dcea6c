"""What is added in one place and wants another: a row of a part's data its words, a field of the finder its reason."""

import ast
import re
from pathlib import Path

import pytest

from generator.edge.commands.record import EVENTS, FILLED, OWN
from generator.pages.finder.index import FIELDS
from generator.pages.part import figures
from generator.pages.wording import wording
from generator.records.accompanying import Submitted
from generator.records.approvals import DesignStarted

W = wording("en")
INDEX = Path(__file__).parents[2] / "site_src" / "assets" / "js" / "finder" / "index.js"


def rows_of(kind: str) -> set[str]:
    """The rows that `_<kind>` of pages/part/figures.py may give, read off its syntax tree."""
    tree = ast.parse(Path(figures.__file__).read_text("utf-8"))
    (found,) = [each for each in tree.body if isinstance(each, ast.FunctionDef) and each.name == f"_{kind}"]
    keys = [key for node in ast.walk(found) if isinstance(node, ast.Dict) for key in node.keys]
    return {key.value for key in keys if isinstance(key, ast.Constant)}


@pytest.mark.parametrize("kind", ["part", "making", "model"])
def test_each_row_of_a_parts_data_has_its_words_and_each_words_their_row(kind):
    words = set(W.tree["figures"][kind]) - {"head"}
    assert rows_of(kind) == words


def js_names(name: str) -> set[str]:
    text = INDEX.read_text("utf-8")
    if name == "FIELDS":
        block = re.search(r"const FIELDS = \{\n(.*?)\n  \};", text, re.DOTALL)
        return set(re.findall(r"^    (\w+):", block[1], re.MULTILINE))
    block = re.search(rf"const {name} = \[(.*?)\]", text, re.DOTALL)
    return set(re.findall(r'"(\w+)"', block[1]))


def test_the_finder_weighs_or_leaves_out_every_field_of_a_record():
    assert js_names("FIELDS") | js_names("WITHOUT_WORDS") == FIELDS


def test_a_field_that_is_found_says_why():
    assert js_names("FIELDS") - {"name"} <= set(W.tree["finder"]["why"])


def test_every_event_can_be_recorded_with_what_it_says():
    common = set(DesignStarted.model_fields) | {"reference", "evidence", "note"} | set(Submitted.model_fields)
    own = {field for kind in EVENTS.values() for field in kind.model_fields} - common
    assert own <= {*OWN, *FILLED}
