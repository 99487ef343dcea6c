"""Hand-made histories: lines of what was fitted, and batches that say no more than they must."""

from datetime import date, timedelta

from generator.records.batches import Batch
from generator.records.fitted import FittedRow, Why
from generator.records.production import Production

DAY = date(2026, 11, 28)
_LINES = iter(range(2, 1_000_000))


def batch(part="TV-0001", revision="A", count=1000, started="2024-12-01 08:00", **more):
    told = {
        "part": part, "revision": revision, "printed_as": "spares print: 1\n", "fingerprint": "0" * 64, "count": count, "machine": "m-1",
        "printed_by": "am-specialist", "lots": ("L-1",), "started": started, "ended": started, **more,
    }  # fmt: skip
    return Batch.model_validate(told)


def line(day, *, on="", count=0, off="", removed=0, why=None, fleet="TR4", vehicle="401", place="saloon", position=""):
    """A line: `on` and `off` are batches; counts are 1 where a batch is named. `day`: a day, or how many before the last."""
    return FittedRow(
        day=day if isinstance(day, date) else DAY - timedelta(days=day),
        fleet=fleet, vehicle=vehicle, place=place, position=position,
        batch=on, count=count or (1 if on else 0), removed_batch=off, removed=removed or (1 if off else 0), why=Why(why) if why else None,
        by="fitter-body", row="", file="fitted/2026.csv", line=next(_LINES),
    )  # fmt: skip


def produced(*lines, **batches):
    """The names of batches are written B_1 for B-1."""
    return Production(batches={name.replace("_", "-"): each for name, each in batches.items()}, fitted=tuple(lines))
