"""A day and a time of day, as a log of a machine tells it."""

import re
from datetime import datetime
from typing import Annotated

from pydantic import BeforeValidator

from generator.records.base import FIRST_DAY
from generator.records.problems import Unfit

_FORM = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}[ T][0-9]{2}:[0-9]{2}")


def _as_written(written: object) -> object:
    if isinstance(written, datetime):
        return written
    try:
        found = datetime.fromisoformat(written) if isinstance(written, str) and _FORM.fullmatch(written) else None
    except ValueError:
        found = None
    if found is None:
        raise Unfit("no moment")
    if found.date() < FIRST_DAY:
        raise Unfit("too early", first=FIRST_DAY.year)
    return found


Moment = Annotated[datetime, BeforeValidator(_as_written)]
"""A day and a time of day as ISO 8601 writes them, such as '2026-03-02 08:10'; the time is that of the depot's own clock."""
