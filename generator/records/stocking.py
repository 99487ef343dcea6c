"""How a depot keeps its stock, and what its own work costs."""

from typing import Annotated

from pydantic import Field

from generator.records.base import Record

USUAL_SERVICE_PERCENT = 95.0
USUAL_HOLDING_PERCENT = 20.0
"""Both are common practice, no source."""
MOST_SERVICE_PERCENT = 99.99
"""More asks for a stock that nobody keeps: common practice, no source."""


class Stocking(Record):
    """Left out, each is the usual one, and is called so."""

    service_percent: Annotated[float, Field(gt=0, le=MOST_SERVICE_PERCENT)] = USUAL_SERVICE_PERCENT
    """How many of a hundred orders are to arrive before the shelf is empty."""
    holding_percent: Annotated[float, Field(gt=0, le=100)] = USUAL_HOLDING_PERCENT
    """What of its price it costs to keep a piece for a year: money, room, and pieces that are changed before they are used."""
