"""The guide's table of what a change means is the table that judges; UPDATE_GOLDEN=1 writes it anew."""

import os
from pathlib import Path

from generator.pages.wording import wording
from generator.records.depot import Language
from generator.rules.changes import Means
from generator.rules.consequences import TABLE, Rule

GUIDE = Path(__file__).parents[2] / "site_src/guide/changes.md"
W = wording(Language.ENGLISH)
HEAD = "| Line | What has happened | What follows | Why |\n|---|---|---|---|\n"
HAPPENED = {"any": "any change", "changed": "changed", "added": "added", "taken out": "taken out"}


def row(rule: Rule) -> str:
    lines = ", ".join(f"`{line}`" for line in rule.line.split("|"))
    way = f", {rule.direction.__name__.removeprefix('is_').replace('_', ' ')}" if rule.direction else ""
    means, why = W.term("means", rule.means), W.term("consequence", rule.reason)
    return f"| {lines} | {HAPPENED[rule.happened]}{way} | **{means}** | {why} |\n"


def test_the_guide_shows_the_table():
    said = GUIDE.read_text(encoding="utf-8")
    text = said.partition(HEAD)[0] + HEAD + "".join(map(row, TABLE)) + "\n</div>\n"
    if os.environ.get("UPDATE_GOLDEN"):
        GUIDE.write_text(text, encoding="utf-8")
    assert GUIDE.read_text(encoding="utf-8") == text


def test_every_reason_is_said_in_words_and_none_is_idle():
    reasons = {rule.reason for rule in TABLE} | {"older form", "unknown line"}
    assert set(W.tree["terms"]["consequence"]) == reasons
    assert set(W.tree["terms"]["means"]) == set(Means)
