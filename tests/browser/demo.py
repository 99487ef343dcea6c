"""The demo catalogue for tests that need many parts of many sizes; its store is the one that `spares build` fills."""

from datetime import date
from pathlib import Path

from generator.assemble import Assembled, examined
from generator.measuring.store import Store

ROOT = Path(__file__).parents[2]
CATALOGUE = ROOT / "catalogue"
STORE = ROOT / ".store"


def examined_demo(day: date) -> Assembled:
    return examined(CATALOGUE, day, Store(STORE), lambda *_told: None)
