"""What an event says of the part itself: what is submitted, which steps and letters stand beside it, what becomes of old stock."""

import argparse
from collections.abc import Iterable
from datetime import date
from pathlib import Path

from generator.edge.commands import options as asking
from generator.edge.disk.recording import Attached, attached
from generator.edge.one_part import OnePart
from generator.edge.refusals import Ending, refused
from generator.records.accompanying import Becomes, WayStep
from generator.records.parts import Part
from generator.rules.binding import part_text, submitted_text, without_letter
from generator.rules.canonical import fingerprint
from generator.writing.yaml_text import Value


def add_about_others(parser: argparse.ArgumentParser) -> None:
    """What an event says of other parts and of stock with earlier labels."""
    parser.add_argument(
        "--older-stock",
        action="append",
        type=older_stock,
        metavar="REVISION:BECOMES",
        help="what becomes of pieces with an earlier label, such as 'A:use up:2027-06-30', A:stop or 'A:call back'",
    )
    parser.add_argument(
        "--also-for",
        action="append",
        metavar="NUMBER",
        help="another part that the letter speaks of too, whose record names this one; may be given again",
    )


def add_beside(parser: argparse.ArgumentParser) -> None:
    """What an approval says besides."""
    parser.add_argument(
        "--changes-asked",
        nargs=2,
        metavar=("REFERENCE", "FILE"),
        help="the reviewer's letter that asked for what is otherwise than submitted",
    )
    parser.add_argument(
        "--carries-over",
        nargs=4,
        metavar=("STEPS", "WHY", "REFERENCE", "FILE"),
        help="steps of an earlier approval that count for a changed part too, such as prototype,acceptance, and who says so where",
    )
    add_about_others(parser)


def told_text(part: OnePart, letters: Iterable[Attached] = ()) -> tuple[Part, str]:
    """The part and its canonical text, without its places and the letters themselves. Raises Refusal where it cannot be said."""
    record = part.sheet.part
    folder = without_letter(part.sheet.folder, [each.file for each in letters])
    text = part_text(record, part.catalogue, folder) if record else None
    if record is None or text is None:
        raise refused("unsayable")
    return record, text


def submission(part: OnePart, *, opens: bool, letters: Iterable[Attached] = ()) -> dict[str, Value]:
    """The part as it lies in its folder, at every place that it fits.

    opens: it is "documents complete", with which the text always stands; a review may leave it out where it has not changed.
    letters: what lies there for a later step, and is submitted by none.
    """
    record, text = part.sheet.part, submitted_text(part.sheet.folder, part.catalogue, [each.file for each in letters])
    if record is None or text is None:
        raise refused("unsayable")
    is_known = not opens and part.sheet.history.submitted == text
    own: dict[str, Value] = {} if is_known else {"submitted_as": text}
    return {"revision": record.revision, **own, "fingerprint": fingerprint(text)}


def older_stock(text: str) -> dict[str, Value]:
    """'A:use up:2027-06-30' → {"revision": "A", "becomes": "use up", "until": "2027-06-30"}; for argparse."""
    revision, _, rest = text.partition(":")
    becomes, _, until = rest.partition(":")
    if becomes not in set(Becomes) or not revision:
        raise argparse.ArgumentTypeError(f"'{text}' is no such word; write it as 'A:use up:2027-06-30', A:stop or 'A:call back'")
    try:
        last = {"until": date.fromisoformat(until).isoformat()} if until else {}
    except ValueError:
        raise asking.no_day(until, "2027-06-30") from None
    return {"revision": revision, "becomes": becomes, **last}


def beside_the_letter(options: argparse.Namespace, folder: Path) -> tuple[dict[str, Value], list[Attached]]:
    """What an approval says besides, as it stands in the record, and the letters that it names."""
    said: dict[str, Value] = {}
    letters: list[Attached] = []
    if options.changes_asked:
        reference, file = options.changes_asked
        letters += attached([Path(file)], folder)
        said["changes_asked"] = {"reference": reference, "evidence": letters[-1].as_evidence}
    if options.carries_over:
        steps, why, reference, file = options.carries_over
        letters += attached([Path(file)], folder)
        said["carries_over"] = {
            "steps": _steps(steps),
            "why": why,
            "by": options.by,
            "reference": reference,
            "evidence": letters[-1].as_evidence,
        }
    if options.older_stock:
        said["older_stock"] = list(options.older_stock)
    return said, letters


def _steps(text: str) -> list[Value]:
    steps = [each.strip() for each in text.split(",")]
    strange = [each for each in steps if each not in set(WayStep)]
    if strange:
        raise refused("no_step", Ending.MISUSE, given=strange[0], known=[*WayStep])
    return list(steps)
