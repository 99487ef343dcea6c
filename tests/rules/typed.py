"""Facts as text, as the browser reads them, become typed ones as the rules judge them; what is malformed stays as it is."""

import re
from collections.abc import Mapping
from dataclasses import fields
from datetime import date
from typing import Any

from generator.rules.facts.fields import OPEN, UNSAID, Facts
from generator.rules.history import Stage

DAYS = ("permit_on", "letter_of", "permit_from", "question_open_since", "trial_until", "permit_until", "certificate_until", "fire_until", "built_on", "stage_since", "withdrawn_on", "superseded_on", "stock_until")


def typed(told: Mapping[str, Any]) -> Facts:
    """What is not told is unsaid."""
    said = {field.name: _typed(field.name, told[field.name]) if field.name in told else UNSAID for field in fields(Facts)}
    return Facts(**said)


def _typed(name: str, value: Any) -> Any:
    if isinstance(value, list):
        return tuple(value)
    if not isinstance(value, str):
        return value
    if name.endswith("_until") and value == "open":
        return OPEN
    if name in DAYS and re.fullmatch("[0-9]{4}-[0-9]{2}-[0-9]{2}", value):
        try:
            return date.fromisoformat(value)
        except ValueError:
            return value
    if name == "stage" and value in set(Stage):
        return Stage(value)
    if name == "max_copy_age_days" and re.fullmatch("[0-9]{1,4}", value):
        return int(value)
    return value
