"""The signature of an event, by the key at hand; one that would not count is never written."""

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from generator.edge.disk.recording import cannot_append, rewritten
from generator.edge.one_part import OnePart
from generator.edge.refusals import Ending, Refusal, refused
from generator.edge.spoken import words
from generator.pages.problems.said import said
from generator.pages.wording import wording
from generator.provenance.signing.at_hand import objection_of, roles_of
from generator.provenance.signing.keygen import CannotSignError, Trouble, signed
from generator.provenance.signing.objections import Claim
from generator.reading.proposed import proposed_folder
from generator.records.catalogue import PartFolder
from generator.records.depot import SignatureRule
from generator.rules.chain import texts_to_sign
from generator.writing.adding import with_field
from generator.writing.appending import CannotAppendError


def signer(part: OnePart, key: Path | None) -> Callable[[PartFolder], str] | None:
    """What signs the last event of a folder with a key; None without one."""
    return (lambda folder: signature_of(part, folder, -1, key)) if key else None


def not_signed_yet(part: OnePart, key: Path | None) -> str | None:
    """What to tell whoever has recorded an event without a key, where the depot wants signatures."""
    rule = part.catalogue.depot.signatures if part.catalogue.depot else None
    if key or rule is None or rule.rule is SignatureRule.NONE:
        return None
    w, number = wording(part.catalogue.language), part.sheet.number
    verdict = w("verdict.no") if rule.rule is SignatureRule.REQUIRED else None
    return w("commands.added.unsigned", number=number, verdict=verdict, command=f"spares sign {number} --key FILE")


def signature_of(part: OnePart, folder: PartFolder, index: int, key: Path) -> str:
    """The signature of an event of a folder. Raises Refusal where there can be none, or where it would not count."""
    events = folder.approval.events if folder.approval else ()
    texts = texts_to_sign(folder.number, events)
    index %= len(events)
    try:
        signature = signed(texts[index], key)
    except CannotSignError as error:
        raise _refusal(error, key) from error
    claim = Claim.of(index, events[index].model_copy(update={"signed": signature}), texts[index])
    _refuse_objected(part, folder, claim, texts)
    return signature


def roles_at_hand(part: OnePart, key: Path) -> tuple[str, ...]:
    """The roles that the list gives to a key. Raises Refusal where there are none."""
    try:
        roles = roles_of(key, part.catalogue.depot, part.root) if part.catalogue.depot else ()
    except CannotSignError as error:
        raise _refusal(error, key) from error
    if not roles:
        raise refused("key_no_role", Ending.MISUSE, file=str(key))
    return roles


def _refusal(error: CannotSignError, key: Path) -> Refusal:
    misuse = error.trouble in (Trouble.NO_FILE, Trouble.NO_KEY)
    return refused(f"key.{error.trouble}", Ending.MISUSE if misuse else Ending.PROBLEMS, file=str(key), reason=error.reason)


def sign_events(part: OnePart, indexes: Sequence[int], key: Path, *, dry_run: bool) -> None:
    """Write signatures into the events of a part's record; with `dry_run` only make them.

    Raises Refusal as `signature_of`, and where the record is written in a way that cannot be added to.
    """
    folder = part.sheet.folder
    file = f"{folder.folder}/approval.yml"
    before = content = (part.root / file).read_bytes()
    signatures = {index: signature_of(part, folder, index, key) for index in indexes}
    try:
        for index, signature in signatures.items():
            content = with_field(content, "events", index, "signed", signature)
    except CannotAppendError as error:
        raise cannot_append(error.problem, part.root / file, wording(part.catalogue.language)) from error
    _refuse_misread(part, file, content, signatures)
    if not dry_run:
        rewritten(part, before, content)


def _refuse_misread(part: OnePart, file: str, content: bytes, signatures: Mapping[int, str]) -> None:
    """Read the folder as it would be: every event says what it said, and has the signature that it was given."""
    folder = part.sheet.folder
    would_be = proposed_folder(part.root, part.catalogue, folder.folder, {file: content})
    before, after = (each.approval.events if each.approval else () for each in (folder, would_be))
    wanted = [each.model_copy(update={"signed": signatures[i].strip()}) if i in signatures else each for i, each in enumerate(before)]
    if list(after) != wanted:
        raise refused("by_machine", file=str(part.root / file), lines=words()("commands.refused.keys"))


def _refuse_objected(part: OnePart, folder: PartFolder, claim: Claim, texts: tuple[str, ...]) -> None:
    depot = part.catalogue.depot
    found = objection_of(depot, part.root, claim, folder.number, texts) if depot else None
    if found:
        told = said(found.telling(event=claim.index + 1), wording(part.catalogue.language))
        raise refused("not_signed", why=told.says, fix=told.fix)
