"""The lines of a canonical text that bind papers, and which papers of a material it names.

Version 3 writes each paper of the material with all its fields. A paper counts under a permit only where the text of
the permit names it; of two ends, then and now, the earlier counts.
"""

from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import date
from typing import TypeVar

from generator.records.materials import Certificate, FireTest, Material
from generator.records.parts import FireExemption
from generator.rules.canonical import as_written, lines_of, text_in

Paper = Certificate | FireTest | FireExemption
P = TypeVar("P", Certificate, FireTest, FireExemption)
_ENDS = ("valid until", "open ended")
_EXEMPTION = "fire exemption"


def paper_lines(material: Material) -> Iterator[tuple[str, object]]:
    """Every certificate and fire test of the material; two of one name are told apart by a number."""
    papers: list[Certificate | FireTest] = [*material.certificates, *material.fire_tests]
    told = sorted({(name_of(each), tuple(fields_of(each))): each for each in papers}.items(), key=lambda one: str(one[0]))
    met: Counter[str] = Counter()
    for (name, fields), _ in told:
        met[name] += 1
        group = name if met[name] == 1 else f"{name} {met[name]}"
        yield from ((f"{group} {field}", value) for field, value in fields)


def name_of(paper: Paper) -> str:
    match paper:
        case Certificate():
            return f"certificate {as_written(paper.reference)}"
        case FireTest():
            thick = as_written(paper.thickness_mm)
            return f"fire test {thick} mm {as_written(paper.requirement_set)} {as_written(paper.report)}"
        case FireExemption():
            return _EXEMPTION


def fields_of(paper: Paper) -> Iterator[tuple[str, object]]:
    match paper:
        case Certificate():
            yield "type", paper.type
            yield "issued on", paper.issued_on
        case FireTest():
            yield "standard", paper.standard
            yield "hazard level", paper.hazard_level
            yield "laboratory", paper.laboratory
            yield "tested on", paper.tested_on
        case FireExemption():
            yield "reference", paper.reference
            yield "by", paper.by
            yield "on", paper.on
    yield "valid until", paper.valid_until
    yield "open ended", "yes" if paper.open_ended else "no"
    kept = paper.evidence if isinstance(paper, FireExemption) else paper
    yield "file", kept.file
    yield "sha256", kept.sha256


def bound_material(approved: str, material: Material) -> Material:
    """The material with those of its papers alone that the text names."""
    groups = groups_of(lines_of(approved))
    certificates = (_as_bound(each, groups) for each in material.certificates)
    tests = (_as_bound(each, groups) for each in material.fire_tests)
    kept: dict[str, object] = {
        "certificates": tuple(each for each in certificates if each),
        "fire_tests": tuple(each for each in tests if each),
    }
    return material.model_copy(update=kept)


def bound_exemption(approved: str, exemption: FireExemption | None) -> FireExemption | None:
    """The fire engineer's statement, where the text names it."""
    return _as_bound(exemption, groups_of(lines_of(approved))) if exemption else None


def groups_of(lines: Mapping[str, str]) -> dict[str, dict[str, str]]:
    """The lines of papers by the paper's name and then by the field."""
    fields = ("type", "issued on", "standard", "hazard level", "laboratory", "tested on", "reference", "by", "on")
    endings = sorted((*fields, *_ENDS, "file", "sha256"), key=len, reverse=True)
    found: dict[str, dict[str, str]] = {}
    for key, value in lines.items():
        if key.startswith(("certificate ", "fire test ", f"{_EXEMPTION} ")):
            field = next((each for each in endings if key.endswith(f" {each}")), None)
            if field:
                found.setdefault(key.removesuffix(f" {field}"), {})[field] = value
    return found


def _as_bound(paper: P, groups: Mapping[str, Mapping[str, str]]) -> P | None:
    name = name_of(paper)
    wanted = {field: as_written(value) for field, value in fields_of(paper) if field not in _ENDS}
    for group, fields in groups.items():
        same_name = group == name or (group.startswith(f"{name} ") and group[len(name) + 1 :].isdigit())
        if same_name and {key: value for key, value in fields.items() if key not in _ENDS} == wanted:
            return _until_the_earlier(paper, fields)
    return None


def _until_the_earlier(paper: P, then: Mapping[str, str]) -> P:
    """The paper with the earlier of its ends; one that the text does not tell as it should is no end at all."""
    if (paper.valid_until is None) != paper.open_ended:
        return paper
    said, open_ended = text_in(then.get("valid until")), text_in(then.get("open ended")) == "yes"
    if said is None and open_ended:
        return paper
    day = _day(said) if said and not open_ended else None
    end = min(day, paper.valid_until or day) if day else None
    return paper.model_copy(update={"valid_until": end, "open_ended": False})


def _day(said: str) -> date | None:
    try:
        return date.fromisoformat(said)
    except ValueError:
        return None
