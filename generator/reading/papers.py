"""Are the papers there that a record names, as they were recorded, and do they say until when they count?"""

import difflib
from collections.abc import Iterable
from datetime import date

from generator.reading.disk import Disk
from generator.reading.placing import Finding, put
from generator.reading.yaml_places import Path, Written
from generator.records.catalogue import Catalogue, KeptFile
from generator.records.evidence import Evidence
from generator.records.materials import Material
from generator.records.problems import Problem
from generator.rules.lasting import is_too_long


def papers_of(material: Material) -> Iterable[Finding]:
    """Each paper says until when it counts, and for a time that a paper can count."""
    for i, each in enumerate(material.certificates):
        yield from ends(each.issued_on, each.valid_until, ("certificates", i), open_ended=each.open_ended)
    for i, test in enumerate(material.fire_tests):
        yield from ends(test.tested_on, test.valid_until, ("fire_tests", i), open_ended=test.open_ended)


def papers_to_come(disk: Disk, catalogue: Catalogue, day: date) -> list[Problem]:
    """Papers of a material that are dated after `day`; they count for nothing until then."""
    found: list[Problem] = []
    for name, material in catalogue.materials.items():
        dated = [
            (("certificates", i, "issued_on"), each.issued_on) for i, each in enumerate(material.certificates)
        ]
        dated += [
            (("fire_tests", i, "tested_on"), each.tested_on) for i, each in enumerate(material.fire_tests)
        ]
        late = [
            Finding(
                "EVID06", path, f"is dated {on}, which is still to come", "date it on the day that it bears"
            )
            for path, on in dated
            if on > day
        ]
        put(found, disk.yaml(f"materials/{name}.yml") if late else Written(""), late)
    return found


def ends(begins: date, ends: date | None, path: Path, *, open_ended: bool) -> Iterable[Finding]:
    if ends is None and not open_ended:
        fix = "add 'valid_until: <day>', or 'open_ended: true' where the paper itself says that it has no end"
        yield Finding("EVID05", path, "does not say until when it counts", fix)
    elif ends is not None and open_ended:
        fix = "keep the end that the paper says"
        yield Finding("EVID05", (*path, "valid_until"), f"ends on {ends} and is open-ended", fix)
    elif ends is not None and (ends < begins or is_too_long(begins, ends)):
        says = f"counts from {begins} until {ends}"
        yield Finding("EVID05", (*path, "valid_until"), says, "check the two dates against the paper")


def evidence_file(evidence: Evidence, files: dict[str, KeptFile], path: Path) -> Iterable[Finding]:
    """Evidence of a part is a letter in its documents/, never the model or a photo of the part itself."""
    if not evidence.file.startswith("documents/"):
        fix = "put the letter into documents/ and name that file"
        yield Finding("EVID04", (*path, "file"), f"names {evidence.file}, which is no document", fix)
        return
    yield from kept_file(evidence.file, evidence.sha256, files, path)


def kept_file(name: str, sha256: str, files: dict[str, KeptFile], path: Path) -> Iterable[Finding]:
    kept = files.get(name)
    if kept is None:
        close = difflib.get_close_matches(name, list(files), n=1, cutoff=0.8)
        fix = f"did you mean '{close[0]}'?" if close else "put the file there, or mend its path"
        yield Finding("EVID01", (*path, "file"), f"names the file {name}, which is not there", fix)
    elif kept.size_bytes == 0:
        fix = "put the recorded file there; an empty one proves nothing"
        yield Finding("EVID03", (*path, "file"), f"names {name}, which is empty", fix)
    elif kept.sha256 != sha256:
        says = f"names {name}, which is not the file that was recorded (SHA-256 now {kept.sha256[:12]}…, recorded {sha256[:12]}…)"
        fix = "put the recorded file back; if the new one is right, record a new event with it"
        yield Finding("EVID02", (*path, "sha256"), says, fix)
