"""Which files come with a submission, under which names, and what is wrong with them?"""

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from generator.pages.evidence import titles_of
from generator.pages.submissions.kinds import Attachment
from generator.pages.wording import Wording
from generator.records.approvals import Approved, TrialOpened
from generator.records.batches import Batch, Measured
from generator.records.catalogue import Catalogue, Fault, FileKind, KeptFile, PartFolder
from generator.records.evidence import Evidence
from generator.records.machines import Machine
from generator.rules.walking import letters_of

_STRANGE = re.compile(r"[^A-Za-z0-9]+")
_ENDING = re.compile(r"\.[A-Za-z0-9]{1,8}$")
_LONGEST = 60
# What a name promises; a file of another kind is told, since no reviewer can open it as what it is called.
_PROMISED = {
    ".pdf": FileKind.PDF, ".png": FileKind.PNG, ".jpg": FileKind.JPEG, ".jpeg": FileKind.JPEG, ".webp": FileKind.WEBP, ".txt": FileKind.TEXT,
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class AttachedFile:
    """A file that a part's records name, or that lies with them. sha256: as recorded; None where no record binds it."""

    path: str
    what: str
    """Key of `submission.file`."""
    title: str = ""
    sha256: str | None = None


def attachments(
    folders: Sequence[PartFolder], catalogue: Catalogue, w: Wording, large: Mapping[str, KeptFile] = MappingProxyType({})
) -> tuple[Attachment, ...]:
    """Each file once, whichever of the parts it belongs to, in the order of the parts and of their sections.

    large: those of `left_out` whose sum was taken. They go into no zip all the same.
    """
    every: dict[str, list[tuple[str, AttachedFile]]] = {}
    for folder in folders:
        for named in files_of(folder, catalogue):
            every.setdefault(named.path, []).append((folder.number, named))
    on_disk, unread = files_on_disk(folders, catalogue), too_large(folders, catalogue)
    found: list[Attachment] = []
    first: dict[str, Attachment] = {}
    for number, (path, said) in enumerate(every.items(), start=1):
        attached = _attachment(number, path, said, on_disk.get(path), first, w)
        if path in unread and path not in on_disk:
            attached = _too_large(attached, large.get(path), w)
        found.append(attached)
        if attached.stored_as and attached.same_as is None:
            first[attached.sha256] = attached
    return tuple(found)


def _too_large(attached: Attachment, file: KeptFile | None, w: Wording) -> Attachment:
    """attached: with the sum that its record has, if any."""
    if file is None:
        return replace(attached, doubt=w("submission.doubt.too_large_unsummed", recorded=attached.sha256 or None))
    key = "too_large_changed" if attached.sha256 not in ("", file.sha256) else "too_large"
    return replace(attached, size_bytes=file.size_bytes, sha256=file.sha256, doubt=w(f"submission.doubt.{key}", sha256=file.sha256))


def _attachment(  # noqa: PLR0917  of `attachments` alone
    number: int, path: str, said: Sequence[tuple[str, AttachedFile]], file: KeptFile | None, first: Mapping[str, Attachment], w: Wording
) -> Attachment:
    recorded = [named.sha256 for _, named in said if named.sha256]
    name = path.rsplit("/", 1)[-1]
    twin = first.get(file.sha256) if file else None
    return Attachment(
        number=number,
        path=path,
        name=next((named.title for _, named in said if named.title), name),
        what=w(f"submission.file.{said[0][1].what}"),
        of=tuple(dict.fromkeys(of for of, _ in said)),
        size_bytes=file.size_bytes if file else 0,
        sha256=file.sha256 if file else next(iter(recorded), ""),
        doubt=_doubt(name, file, recorded, w),
        same_as=twin.number if twin else None,
        stored_as=twin.stored_as if twin else f"documents/{zip_name(number, name)}" if file else "",
    )


def _doubt(name: str, file: KeptFile | None, recorded: Iterable[str], w: Wording) -> str:
    if file is None:
        return w("submission.doubt.missing")
    if file.size_bytes == 0:
        return w("submission.doubt.empty")
    if any(each != file.sha256 for each in recorded):
        return w("submission.doubt.changed")
    if file.fault is Fault.SEALED:
        return ""  # whoever gets it opens it
    if file.fault:
        return w(f"submission.doubt.{file.fault.value}")
    ending = _ENDING.search(name)
    promised = _PROMISED.get(ending[0].lower()) if ending else None
    return w("submission.doubt.other_kind", kind=ending[0][1:].upper()) if ending and promised not in (None, file.kind) else ""


def zip_name(number: int, name: str) -> str:
    """A name that every system can unpack: its number keeps it apart from all others, whatever else is cut or left out of it."""
    found = _ENDING.search(name)
    own = found[0] if found else ""
    plain = unicodedata.normalize("NFKD", name.removesuffix(own)).encode("ascii", "ignore").decode()
    told = _STRANGE.sub("-", plain).strip("-")[:_LONGEST].strip("-")
    return f"D{number:03d}-{told}{own}" if told else f"D{number:03d}{own}"


def files_of(folder: PartFolder, catalogue: Catalogue) -> Iterator[AttachedFile]:
    """Everything that a reviewer may want to open: of the part, its materials, machines, and the batches of its revision."""
    yield from _own(folder)
    part = folder.part
    if part is None:
        return
    for material in part.materials:
        yield from _of_material(material, catalogue)
    for machine in machines_of(folder, catalogue).values():
        yield from _of_machine(machine, part.materials)
    for batch in batches_of(folder, catalogue).values():
        yield from _of_batch(batch)


def _own(folder: PartFolder) -> Iterator[AttachedFile]:
    named = {each.file: each.sha256 for each in _evidence(folder)}
    titles = titles_of(folder)
    if folder.mesh:
        yield AttachedFile(path=folder.mesh.path, what="model")
    for kind, files in (("document", folder.documents), ("photo", folder.photos)):
        for file in files:
            inside = file.path.removeprefix(f"{folder.folder}/")
            what = "letter" if inside in named else kind
            yield AttachedFile(path=file.path, what=what, title=titles.get(inside, ""), sha256=named.get(inside))
    for inside in sorted(named.keys() - folder.files.keys()):
        yield AttachedFile(path=f"{folder.folder}/{inside}", what="letter", title=titles.get(inside, ""), sha256=named[inside])
    for path in sorted(too_large([folder], None) - {f"{folder.folder}/{inside}" for inside in named}):
        yield AttachedFile(path=path, what="document")


def _evidence(folder: PartFolder) -> Iterator[Evidence]:
    """All that the part's records name: of events, of what the fire engineer chose, of the authority's word on the change."""
    for event in folder.approval.events if folder.approval else ():
        yield from letters_of(event) if isinstance(event, Approved | TrialOpened) else event.evidence
    part = folder.part
    for fire in (part.fire, *(fit.fire for fit in part.fits)) if part else ():
        if fire:
            yield from (each for each in (fire.evidence, fire.exemption.evidence if fire.exemption else None) if each)
    if folder.screening and folder.screening.authorisation:
        yield folder.screening.authorisation.evidence


def _of_material(material: str, catalogue: Catalogue) -> Iterator[AttachedFile]:
    record = catalogue.materials.get(material)
    if record is None:
        return
    for certificate in record.certificates:
        yield AttachedFile(path=f"materials/{certificate.file}", what="certificate", title=certificate.reference, sha256=certificate.sha256)
    for report in record.fire_tests:
        yield AttachedFile(path=f"materials/{report.file}", what="fire_report", title=report.report, sha256=report.sha256)
    for proof in record.proof:
        yield AttachedFile(path=f"materials/{proof.file}", what="proof", title=proof.method, sha256=proof.sha256)


def _of_machine(machine: Machine, materials: Iterable[str]) -> Iterator[AttachedFile]:
    for each in machine.qualifications:
        if each.material not in materials:
            continue
        if each.settings:
            yield AttachedFile(path=f"machines/{each.settings.file}", what="settings", sha256=each.settings.sha256)
        for coupons in each.coupons:
            if coupons.file:
                yield AttachedFile(path=f"machines/{coupons.file}", what="coupons", sha256=coupons.sha256)


def _of_batch(batch: Batch) -> Iterator[AttachedFile]:
    if batch.settings_file:
        yield AttachedFile(path=f"batches/{batch.settings_file.file}", what="settings", sha256=batch.settings_file.sha256)
    for event in batch.events:
        if isinstance(event, Measured) and event.sheet:
            yield AttachedFile(path=f"batches/{event.sheet}", what="inspection_sheet", sha256=event.sha256)


def machines_of(folder: PartFolder, catalogue: Catalogue) -> dict[str, Machine]:
    """The machines of the part's makers that are known here, and those that have printed it."""
    makers = folder.part.makers if folder.part else ()
    printed = {batch.machine for batch in batches_of(folder, catalogue).values()}
    return {name: each for name, each in sorted(catalogue.production.machines.items()) if each.maker in makers or name in printed}


def batches_of(folder: PartFolder, catalogue: Catalogue) -> dict[str, Batch]:
    """What was printed of the part's own revision, the oldest first."""
    revision = folder.part.revision if folder.part else None
    return {name: each for name, each in catalogue.production.of_part(folder.number).items() if each.revision == revision}


def too_large(folders: Iterable[PartFolder], catalogue: Catalogue | None) -> frozenset[str]:
    """Paths of files that are there, and too large for anybody to have read them."""
    problems = (problem for each in (*folders, *([catalogue] if catalogue else ())) for problem in each.problems)
    return frozenset(each.where.file for each in problems if (each.code, each.key) == ("DISK03", "too large"))


def left_out(folders: Sequence[PartFolder], catalogue: Catalogue) -> tuple[str, ...]:
    """Paths of those files of the submission that are too large."""
    named = {named.path for folder in folders for named in files_of(folder, catalogue)}
    return tuple(sorted(named & too_large(folders, catalogue)))


def files_on_disk(folders: Iterable[PartFolder], catalogue: Catalogue) -> dict[str, KeptFile]:
    """What lies on disk, by its path in the catalogue."""
    own = {file.path: file for folder in folders for file in folder.files.values()}
    return own | {file.path: file for file in catalogue.material_files.values()} | dict(catalogue.production.files)
