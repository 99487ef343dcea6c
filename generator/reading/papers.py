"""Are the papers there that a record names, as they were recorded, and do they say until when they count?"""

import difflib
from collections.abc import Iterable
from datetime import date

from generator.reading.disk import Disk
from generator.reading.fitted import shortened
from generator.reading.placing import Finding, put
from generator.reading.prints import runs_to_come
from generator.reading.production_days import days_of_production
from generator.reading.yaml_places import YamlFile
from generator.records.catalogue import Catalogue, Fault, KeptFile
from generator.records.depot import SignatureRule
from generator.records.evidence import Evidence
from generator.records.fire import FireTest
from generator.records.inspection import SpeaksOf
from generator.records.materials import Material
from generator.records.placeholders import names_nothing, says_nothing
from generator.records.problems import Path, Problem, doubt, wrong
from generator.records.proof import Proof
from generator.rules.contested import contested
from generator.rules.inspection import is_by_the_supplier, is_signed
from generator.rules.lasting import is_too_long
from generator.rules.production.on_vehicles import to_come


def papers_of(material: Material) -> Iterable[Finding]:
    """Each paper says until when it counts, and for a time that a paper can count."""
    for i, each in enumerate(material.certificates):
        yield from ends(each.issued_on, each.valid_until, ("certificates", i), open_ended=each.open_ended)
        if each.speaks_of is SpeaksOf.COUPONS and not is_signed(each):
            yield wrong("EVID08", "by nobody", path=("certificates", i))
        elif each.speaks_of is SpeaksOf.COUPONS and is_by_the_supplier(each, material.supplier):
            yield wrong("EVID08", "by the supplier", path=("certificates", i, "issued_by"), supplier=material.supplier)
    for i, test in enumerate(material.fire_tests):
        yield from ends(test.tested_on, test.valid_until, ("fire_tests", i), open_ended=test.open_ended)
    for i, proof in enumerate(material.proof):
        for key, is_empty in (("method", names_nothing), ("conditions", says_nothing)):  # under no conditions is an answer, by no method none
            if is_empty(getattr(proof, key) or "something"):
                yield wrong("PROOF01", "says nothing", path=("proof", i, key), property=proof.property)


def contested_papers(catalogue: Catalogue) -> dict[str, list[Finding]]:
    """Files that are recorded as papers that they cannot all be, by the material whose record says so."""
    found: dict[str, list[Finding]] = {}
    for recorded in contested(catalogue.materials).values():
        files = [f"materials/{name}.yml" for name, _, _ in recorded]
        kinds = {type(paper) for _, _, paper in recorded}
        two = "two kinds" if Proof not in kinds else "a proof too"
        for name, path, paper in recorded:
            twice = [each for of, _, each in recorded if of == name and isinstance(each, FireTest)]
            if len(kinds) == 1 and len(twice) > 1:
                first, second = twice[0].report, twice[1].report
                found.setdefault(name, []).append(wrong("EVID07", "two reports", path=(*path, "file"), file=paper.file, first=first, second=second))
                continue
            others = sorted({*files} - {f"materials/{name}.yml"})
            wrongly = (
                wrong("EVID07", two, path=(*path, "file"), file=paper.file)
                if len(kinds) > 1
                else wrong("EVID07", "two materials", path=(*path, "file"), file=paper.file, others=others)
            )
            found.setdefault(name, []).append(wrongly)
    return found


def days_to_come(disk: Disk, catalogue: Catalogue, day: date) -> list[Problem]:
    """Papers and runs that are dated after `day` and count for nothing until then; signatures asked for from then on."""
    found: list[Problem] = []
    signatures = catalogue.depot.signatures if catalogue.depot else None
    if signatures and signatures.rule is not SignatureRule.NONE and signatures.since and signatures.since > day:
        put(found, disk.yaml("depot.yml"), [doubt("SIGN05", "to come", path=("signatures", "since"), since=signatures.since)])
    for name, material in catalogue.materials.items():
        dated = [
            (("certificates", i, "issued_on"), each.issued_on) for i, each in enumerate(material.certificates)
        ]
        dated += [
            (("fire_tests", i, "tested_on"), each.tested_on) for i, each in enumerate(material.fire_tests)
        ]
        dated += [(("proof", i, "tested_on"), each.tested_on) for i, each in enumerate(material.proof)]
        late = [
            wrong("EVID06", "to come", path=path, on=on)
            for path, on in dated
            if on > day
        ]
        put(found, disk.yaml(f"materials/{name}.yml") if late else YamlFile(""), late)
    for file, late in days_of_production(catalogue.production, day):
        put(found, disk.yaml(file), late)
    if runs := list(runs_to_come(catalogue, day)):
        put(found, disk.yaml("prints.yml"), runs)
    return [*found, *shortened(to_come(catalogue.production.fitted, day))]


def ends(begins: date, ends: date | None, path: Path, *, open_ended: bool) -> Iterable[Finding]:
    if ends is None and not open_ended:
        yield wrong("EVID05", "no end", path=path)
    elif ends is not None and open_ended:
        yield wrong("EVID05", "two ends", path=(*path, "valid_until"), ends=ends)
    elif ends is not None and (ends < begins or is_too_long(begins, ends)):
        yield wrong("EVID05", "cannot be", path=(*path, "valid_until"), begins=begins, ends=ends)


def evidence_file(evidence: Evidence, files: dict[str, KeptFile], path: Path) -> Iterable[Finding]:
    """Evidence of a part is a letter in its documents/, never the model or a photo of the part itself."""
    if not evidence.file.startswith("documents/"):
        yield wrong("EVID04", "no document", path=(*path, "file"), file=evidence.file)
        return
    yield from kept_file(evidence.file, evidence.sha256, files, path)


def kept_file(name: str, sha256: str, files: dict[str, KeptFile], path: Path) -> Iterable[Finding]:
    kept = files.get(name)
    if kept is None:
        close = difflib.get_close_matches(name, list(files), n=1, cutoff=0.8)
        here = (*path, "file")
        if close:
            yield wrong("EVID01", "not there", "near", path=here, file=name, near=close[0])
        else:
            yield wrong("EVID01", "not there", "put", path=here, file=name)
    elif kept.size_bytes == 0:
        yield wrong("EVID03", "empty", path=(*path, "file"), file=name)
    elif kept.sha256 != sha256:
        here, now, then = (*path, "sha256"), f"{kept.sha256[:12]}…", f"{sha256[:12]}…"
        yield wrong("EVID02", "another file", path=here, file=name, now=now, recorded=then)
    elif kept.fault:
        yield from _unopened(kept.fault, name, (*path, "file"))


def _unopened(fault: Fault, file: str, path: Path) -> Iterable[Problem]:
    """One that is locked, or acts, is told where it lies (DISK09): who has the key reads it, and it may be this very file that was signed."""
    match fault:
        case Fault.CUT:
            yield wrong("EVID03", "cut", path=path, file=file)
        case Fault.PAGELESS:
            yield wrong("EVID03", "pageless", path=path, file=file)
        case Fault.TRAILED:
            yield doubt("EVID03", "trailed", path=path, file=file)
        case Fault.LOCKED | Fault.SEALED | Fault.ACTS:
            pass
