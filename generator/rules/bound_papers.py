"""The lines of a canonical text that bind papers, and which papers of a material it names.

Versions 3 and 4 write each paper of the material with all its fields, version 4 the results of a fire report too. A paper counts under a permit only where the text of
the permit names it; of two ends, then and now, the earlier counts.
"""

from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import date
from typing import TypeVar

from generator.records.fire import FireExemption, FireResult, FireTest
from generator.records.materials import Certificate, Material
from generator.records.proof import Proof
from generator.rules.bound_properties import proof_fields, proof_name
from generator.rules.canonical import as_written, lines_of, text_in

Paper = Certificate | FireTest | FireExemption
P = TypeVar("P", Certificate, FireTest, FireExemption)
_ENDS = ("valid until", "open ended")
_EXEMPTION = "fire exemption"
_WITH_RESULTS = 4


def paper_lines(material: Material, version: int) -> Iterator[tuple[str, object]]:
    """Every certificate and fire report of the material; two of one name are told apart by a number."""
    papers: list[Certificate | FireTest] = [*material.certificates, *material.fire_tests]
    told = sorted({(name_of(each, version), tuple(fields_of(each, version))): each for each in papers}.items(), key=lambda one: str(one[0]))
    met: Counter[str] = Counter()
    for (name, fields), _ in told:
        met[name] += 1
        group = name if met[name] == 1 else f"{name} {met[name]}"
        yield from ((f"{group} {field}", value) for field, value in fields)


def name_of(paper: Paper, version: int) -> str:
    match paper:
        case Certificate():
            return f"certificate {as_written(paper.reference)}"
        case FireTest() if version >= _WITH_RESULTS:
            return f"fire report {as_written(paper.report)}"
        case FireTest():
            thick = as_written(paper.thickness_mm)
            return f"fire test {thick} mm {as_written(paper.requirement_set)} {as_written(paper.report)}"
        case FireExemption():
            return _EXEMPTION


def fields_of(paper: Paper, version: int) -> Iterator[tuple[str, object]]:
    match paper:
        case Certificate():
            yield "type", paper.type
            yield "issued on", paper.issued_on
            if version >= _WITH_RESULTS:
                yield "speaks of", paper.speaks_of
                yield "issued by", paper.issued_by
        case FireTest():
            yield "standard", paper.standard
            yield "hazard level", paper.hazard_level
            yield "laboratory", paper.laboratory
            yield "tested on", paper.tested_on
            if version >= _WITH_RESULTS:
                yield from _result_fields(paper)
        case FireExemption():
            yield "reference", paper.reference
            yield "by", paper.by
            yield "on", paper.on
    yield "valid until", paper.valid_until
    yield "open ended", "yes" if paper.open_ended else "no"
    kept = paper.evidence if isinstance(paper, FireExemption) else paper
    yield "file", kept.file
    yield "sha256", kept.sha256


def _result_fields(paper: FireTest) -> Iterator[tuple[str, object]]:
    yield "accreditation", paper.accreditation
    yield "accepted by", paper.accepted_by
    yield "process", paper.process
    yield "colour", paper.colour
    yield "lot family", paper.lot_family
    yield "requirement set", paper.requirement_set
    yield "thickness mm", paper.thickness_mm
    yield "results", "; ".join(sorted(map(_as_line, paper.results))) or None


def _as_line(result: FireResult) -> str:
    """A result in one line; what the record leaves out stands as none, so that no two results read alike."""
    sizes = (result.thickness_mm, result.mass_g, result.infill_percent)
    thickness, mass, infill = map(as_written, sizes)
    said = map(as_written, (result.test, result.method, result.value, result.unit, " ".join(result.layers)))
    return f"{' '.join(said)} thickness {thickness} mass {mass} infill {infill}"


def bound_material(approved: str, material: Material, version: int, under: str = "") -> Material:
    """The material with those of its papers alone that the text names, of version 3 without their results.

    under: how the lines begin that speak of it.
    """
    groups = groups_of({key.removeprefix(under): value for key, value in lines_of(approved).items() if key.startswith(under)})
    certificates = (_as_bound(each, groups, version) for each in material.certificates)
    tests = (_as_bound(each, groups, version) for each in material.fire_tests)
    kept: dict[str, object] = {
        "certificates": tuple(each for each in certificates if each),
        "proof": _named_proofs(material, approved, under) if version >= _WITH_RESULTS else material.proof,
        "fire_tests": tuple(_as_told(each, version) for each in tests if each),
    }
    return material.model_copy(update=kept)


def _named_proofs(material: Material, approved: str, under: str) -> tuple[Proof, ...]:
    """The proofs that the text names, and every one that failed: what speaks against the material needs nobody's acceptance."""
    lines = {key.removeprefix(under): value for key, value in lines_of(approved).items() if key.startswith(f"{under}proof ")}
    told = set(lines.items())
    return tuple(each for each in material.proof if not each.passed or told >= _told_of(each))


def _told_of(proof: Proof) -> set[tuple[str, str]]:
    return {(f"{proof_name(proof)} {field}", as_written(value)) for field, value in proof_fields(proof)}


def _as_told(report: FireTest, version: int) -> FireTest:
    """Of results that the text does not tell nobody has said that they were seen."""
    return report if version >= _WITH_RESULTS else report.model_copy(update={"results": ()})


def bound_exemption(approved: str, exemption: FireExemption | None, version: int, under: str = "") -> FireExemption | None:
    """The fire engineer's statement, where the text names it; under: how the lines begin that speak of it."""
    lines = {key.removeprefix(under): value for key, value in lines_of(approved).items() if key.startswith(under)}
    return _as_bound(exemption, groups_of(lines), version) if exemption else None


def groups_of(lines: Mapping[str, str]) -> dict[str, dict[str, str]]:
    """The lines of papers by the paper's name and then by the field."""
    fields = (
        "type", "issued on", "standard", "hazard level", "laboratory", "tested on", "reference", "by", "on", "accreditation",
        "accepted by", "speaks of", "issued by", "process", "colour", "lot family", "requirement set", "thickness mm", "results",
    )  # fmt: skip
    endings = sorted((*fields, *_ENDS, "file", "sha256"), key=len, reverse=True)
    found: dict[str, dict[str, str]] = {}
    for key, value in lines.items():
        if key.startswith(("certificate ", "fire test ", "fire report ", f"{_EXEMPTION} ")):
            field = next((each for each in endings if key.endswith(f" {each}")), None)
            if field:
                found.setdefault(key.removesuffix(f" {field}"), {})[field] = value
    return found


def _as_bound(paper: P, groups: Mapping[str, Mapping[str, str]], version: int) -> P | None:
    name = name_of(paper, version)
    wanted = {field: as_written(value) for field, value in fields_of(paper, version) if field not in _ENDS}
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
