"""Which day is it? The only place that asks."""

import os
from datetime import UTC, date, datetime

from generator.edge.refusals import Ending, Refusal


def today() -> date:
    """SOURCE_DATE_EPOCH where it is set (reproducible-builds.org, in UTC), else today by this machine's clock."""
    said = os.environ.get("SOURCE_DATE_EPOCH", "").strip()
    if not said:
        return datetime.now().astimezone().date()
    try:
        return datetime.fromtimestamp(int(said), UTC).date()
    except (ValueError, OverflowError, OSError):
        says = f"SOURCE_DATE_EPOCH is '{said}', which is no number of seconds since 1970"
        raise Refusal(says, "set it to a whole number, or unset it", Ending.MISUSE) from None
