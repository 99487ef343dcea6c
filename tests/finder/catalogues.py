"""What the finder is tried on: the demo catalogue, small ones by hand, and a generated one of any size."""

import random
from datetime import date
from pathlib import Path
from typing import Any

import yaml

from generator.assemble.whole_way import examined
from generator.finder.engine import Answered
from generator.pages.addresses import addresses
from generator.pages.finder.fits import fits
from generator.pages.finder.index import finder_data
from generator.pages.finder.query_words import query_words
from generator.systems.store import Store

ROOT = Path(__file__).parents[2]
SCRIPTS = ROOT / "site_src" / "assets" / "js"
BUILT = date(2026, 11, 25)
COMPOUNDS = Path(__file__).with_name("compounds.yml")


def demo(store: Path) -> dict[str, Any]:
    """The finder's data of the demo catalogue; what `store` keeps is not measured again."""
    read = examined(ROOT / "catalogue", BUILT, Store(store), lambda *_: None)
    return finder_data(read.catalogue, read.sheets, addresses(read.catalogue.parts), BUILT)


def strange_vehicle(told: Answered) -> str:
    """What was called a vehicle and is none; "" for nothing such."""
    return told.stranger.text if told.stranger else ""


def small(language: str, parts: dict[str, Any], synonyms: list[list[str]]) -> dict[str, Any]:
    """Records without pictures, verdicts or fleets."""
    blank = {"kind": "part", "grounds": [], "page": "", "thumb": None}
    return {
        "built_on": BUILT.isoformat(),
        "language": query_words(language),
        "floor": [],
        "fits": fits(),
        "synonyms": synonyms,
        "spellings": {},
        "fleets": [],
        "places": [],
        "facts": {"names": [], "values": [], "permits": []},
        "records": [{**blank, "number": number, **record} for number, record in parts.items()],
    }


def compounds() -> dict[str, Any]:
    """By language: data and queries of the catalogues with compound words."""
    read = yaml.safe_load(COMPOUNDS.read_text(encoding="utf-8"))
    return {
        language: (small(language, each["parts"], each["synonyms"]), each["queries"])
        for language, each in read.items()
    }


def generated(base: dict[str, Any], n: int) -> dict[str, Any]:
    """n parts made from the words, sizes, numbers and facts of the parts in `base`; the same on every run."""
    dice = random.Random(n)
    parts = [record for record in base["records"] if record["kind"] == "part"]
    names = [record["name"].replace(",", "").split() for record in parts]
    phrases = {
        key: [text for record in parts for text in record.get(key, ())] for key in ("other_names", "symptoms")
    }
    syllables = [a + b for a in ("bra", "ten", "kol", "mur", "sti", "vel", "dro", "pan") for b in ("ker", "dal", "nic", "sta", "lin", "mo")]  # fmt: skip
    records = [*base["records"]]
    for at in range(n - len(parts)):
        model = dice.choice(parts)
        own = dice.choice(syllables) + dice.choice(syllables)
        name = " ".join([own.capitalize(), dice.choice(dice.choice(names)).lower(), dice.choice(names)[-1]])
        box = sorted((round(dice.uniform(8, 260), 2) for _ in range(3)), reverse=True)
        records.append(
            {
                **model,
                "number": f"G{dice.choice('ABCD')}-{10000 + at}",
                "name": name,
                "other_names": [*dice.sample(phrases["other_names"], 2), f"{own} {dice.choice(names)[-1]}"],
                "symptoms": dice.sample(phrases["symptoms"], 3),
                "replaces": [
                    {"number": f"{dice.randrange(2, 9)}-{dice.randrange(100, 999)}-{dice.randrange(9999):04d}", "kind": "maker's number"},
                    {"number": f"S/{dice.randrange(10000, 99999)}", "kind": "stores number"},
                ],
                "box_mm": box,
                "size_mm": dice.sample(box, 3),
                "checks": [{"name": "Bore", "mm": round(dice.uniform(3, 60), 1), "round": True, "feature": "bore", "allowed": [0, 0.1]}],
            }
        )  # fmt: skip
    return {**base, "records": records}
