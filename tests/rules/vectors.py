"""Which verdicts were worked out by hand? Reads vectors.json for the tests of Python and of the browser."""

import json
from pathlib import Path
from typing import Any

_FILE = Path(__file__).with_name("vectors.json")


def read() -> dict[str, Any]:
    return json.loads(_FILE.read_text(encoding="utf-8"))


def facts_of(vector: dict[str, Any], good: dict[str, Any]) -> dict[str, Any]:
    """The facts that a vector judges."""
    kept = good if "only" not in vector else {key: good[key] for key in vector["only"]}
    gone = vector.get("without", ())
    return {key: value for key, value in (kept | vector.get("change", {})).items() if key not in gone}


def expected(vector: dict[str, Any], steps: list[str]) -> dict[str, Any]:
    """Verdict, deciding step and outcome of every step, as plain JSON."""
    outcomes = {step: vector.get("not_passed", {}).get(step, "passed") for step in steps}
    return {"verdict": vector["verdict"], "decided_by": vector["decided_by"], "outcomes": outcomes}
