"""Does a record tell, in a comment that an import left, of an approval that nobody has taken over?"""

from collections.abc import Iterator
from typing import Any

from generator.reading.yaml_places import YamlFile
from generator.records.problems import Problem, Where, doubt
from generator.records.untaken import told_in


def untaken(approval_yml: YamlFile, raw: bytes) -> Iterator[Problem]:
    """Until its letter is taken over, or somebody takes those lines out."""
    line = told_in(raw.decode("utf-8-sig", "replace"))
    if line is not None and not _takes_over(approval_yml.content):
        yield doubt("APPR49", "nobody", where=Where(approval_yml.file, line))


def _takes_over(content: Any) -> bool:
    events = content.get("events") if isinstance(content, dict) else None
    listed = events if isinstance(events, list) else []
    return any(isinstance(each, dict) and each.get("what") == "taken over" for each in listed)
