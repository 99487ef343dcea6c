"""The guide's table of what a change means is the table that judges; UPDATE_GOLDEN=1 writes it anew."""

import os
from pathlib import Path

import pytest

from generator.pages.wording import Wording, languages, wording
from generator.records.depot import Language
from generator.rules.changes import Means
from generator.rules.consequences import TABLE, Rule

GUIDES = Path(__file__).parents[2] / "site_src/guide"
W = wording(Language.ENGLISH)
RULE = "|---|---|---|---|\n"
HEADS = {
    "en": "| Line | What has happened | What follows | Why |\n",
    "de": "| Zeile | Was geschah | Was folgt | Warum |\n",
    "da": "| Linje | Hvad er sket | Hvad følger | Hvorfor |\n",
}
HAPPENED = {
    "en": {},
    "de": {
        "any": "jede Änderung", "changed": "geändert", "added": "hinzugefügt", "taken out": "herausgenommen", "mended": "berichtigt",
        "first noted": "zuerst festgehalten", "like machine": "gleichartige Maschine", "same machine": "dieselbe Maschine",
        "within band": "innerhalb der Toleranz",
    },
    "da": {
        "any": "enhver ændring", "changed": "ændret", "added": "tilføjet", "taken out": "taget ud", "mended": "rettet",
        "first noted": "noteret første gang", "like machine": "tilsvarende maskine", "same machine": "samme maskine",
        "within band": "inden for tolerancen",
    },
}  # fmt: skip


def row(rule: Rule, w: Wording) -> str:
    said = HAPPENED[w.language]
    lines = ", ".join(f"`{line}`" for line in rule.line.split("|"))
    way = rule.direction.__name__.removeprefix("is_").replace("_", " ") if rule.direction else ""
    happened = said.get(rule.happened, "any change" if rule.happened == "any" else rule.happened)
    means, why = w.term("means", rule.means), w.term("consequence", rule.reason)
    return f"| {lines} | {happened}{', ' if way else ''}{said.get(way, way)} | **{means}** | {why} |\n"


@pytest.mark.parametrize("language", languages())
def test_the_guide_shows_the_table(language):
    guide = GUIDES / ("changes.md" if language == "en" else f"changes.{language}.md")
    said, head, w = guide.read_text(encoding="utf-8"), HEADS[language] + RULE, wording(language)
    text = said.partition(head)[0] + head + "".join(row(rule, w) for rule in TABLE) + "\n</div>\n"
    if os.environ.get("UPDATE_GOLDEN"):
        guide.write_text(text, encoding="utf-8")
    assert guide.read_text(encoding="utf-8") == text


def test_every_reason_is_said_in_words_and_none_is_idle():
    reasons = {rule.reason for rule in TABLE} | {"older form", "unknown line"}
    assert set(W.tree["terms"]["consequence"]) == reasons
    assert set(W.tree["terms"]["means"]) == set(Means)
