"""What we hold of the fire standard: the file that spares brings along, or the depot's own in its place."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from generator.reading.disk import Disk
from generator.reading.validating import record
from generator.reading.yaml_places import YamlFile
from generator.records.problems import wrong
from generator.records.standards import FireStandard

SHIPPED = Path(__file__).parents[1] / "standards"
NAME = "en-45545-2"


def held_standard(disk: Disk, own: Mapping[str, YamlFile]) -> FireStandard | None:
    """The depot's own file where there is one, else ours; None where the depot's has mistakes, which are told."""
    for name in own:
        if name != NAME:
            disk.add(f"standards/{name}.yml", wrong("FIRE01", "another standard", known=f"{NAME}.yml"))
    return record(FireStandard, own[NAME]) if NAME in own else shipped_standard()


@cache
def shipped_standard() -> FireStandard:
    """The file that spares brings along. Raises ValueError where it is broken, which is a fault of ours."""
    source = Disk(SHIPPED).yaml(f"{NAME}.yml")
    found = record(FireStandard, source)
    if found is None:
        raise ValueError(f"{NAME}.yml: {source.problems}")
    return found
