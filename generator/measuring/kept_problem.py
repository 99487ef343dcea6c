"""Why can a mesh not be used, as it is kept instead of its facts?"""

from __future__ import annotations

import json

from generator.reading.meshes.errors import unusable
from generator.records.problems import Problem


def problem_blob(problem: Problem) -> bytes:
    """A problem of MESH03 without its file, which is not the mesh's own."""
    facts = {name: list(fact) if isinstance(fact, tuple) else fact for name, fact in problem.facts}
    told = {"key": problem.key, "mend": problem.mend, "line": problem.where.line, "facts": facts}
    return (json.dumps(told, indent=1, sort_keys=True, ensure_ascii=False) + "\n").encode()


def problem_in(blob: bytes) -> Problem:
    """The problem that a blob tells."""
    told = json.loads(blob)
    return unusable(told["key"], told["mend"], line=told["line"], **told["facts"]).problem
