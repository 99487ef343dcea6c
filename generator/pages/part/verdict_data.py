"""What the browser's scripts judge anew: the table with its words, and the facts of every ground of a part."""

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict
from datetime import date
from typing import Any

from generator.pages.evidence import FILES, open_files
from generator.pages.part.pieces import ToldPieces, plain_piece
from generator.pages.problems.said import said
from generator.pages.verdict_lines import vehicle_words
from generator.pages.wording import Wording
from generator.records.catalogue import Catalogue
from generator.records.fleets import Fleet
from generator.rules.facts.fields import Facts
from generator.rules.grounds import Ground
from generator.rules.production.piece import UNKNOWN, mistaken
from generator.rules.sheet import Sheet
from generator.rules.verdicts import table_for_browser


def rules_script(
    w: Wording,
    max_copy_age_days: int,
    day: date,
    fleets: Iterable[Fleet] = (),
    finder: Mapping[str, Any] | None = None,
    *,
    keeps_batches: bool = False,
) -> bytes:
    """assets/data/rules.js; finder: what its words are in this depot, where they are not those of the language."""
    words = w.for_browser()
    words["finder"] = {**words.get("finder", {}), **(finder or {})}
    return script(
        "sparesRules",
        {
            "built_on": day.isoformat(),
            "max_copy_age_days": max_copy_age_days,
            "language": w.language,
            "fleets": [{"id": each.id, "name": each.name, "vehicles": list(each.vehicles)} for each in fleets],
            "table": table_for_browser(),
            "files": FILES,
            "unknown_piece": plain_piece(UNKNOWN),
            "keeps_batches": keeps_batches,
            "words": words,
        },
    )


def part_script(sheet: Sheet, stem: str, catalogue: Catalogue, w: Wording, sitting: Sequence[Any] = ()) -> bytes:
    """assets/data/parts/<page>.js; sitting: what `on_vehicles.carried.sitting_told` gives."""
    every = (facts for ground in sheet.grounds for facts in (*ground.permits, *_of_pieces(ground)))
    files = open_files(every, sheet.folder, stem, catalogue, w)
    batches = catalogue.production.of_part(sheet.number)
    pieces = ToldPieces()
    grounds = [_ground(ground, sheet, catalogue, w) | {"pieces": pieces.rows(ground, batches)} for ground in sheet.grounds]
    broken = {name: piece.piece_unread[0] for name, piece in mistaken(sheet.number, catalogue).items()}
    return script(
        "sparesPart",
        ({"mistaken": broken} if broken else {})
        | {
            "number": sheet.number,
            "grounds": grounds,
            "batches": [[name, batch.revision] for name, batch in batches.items()],
            "pieces": pieces.items,
            "revision": sheet.part.revision if sheet.part else None,
            "sitting": list(sitting),
            "files": {path: asdict(each) for path, each in files.items()},
        },
    )


def _of_pieces(ground: Ground) -> Iterable[Facts]:
    """A piece of each batch names papers of its own lots."""
    for facts, pieces in zip(ground.permits, ground.pieces, strict=True):
        yield from (facts.of_piece(each) for each in pieces.values() if each.piece_files)


def script(name: str, content: Any) -> bytes:
    """A classic script that sets one global; plain ASCII, so that no reader can take it for anything else."""
    text = json.dumps(content, ensure_ascii=True, separators=(",", ":"), sort_keys=True)
    inert = text.replace("<", "\\u003c")
    return f"globalThis.{name}={inert};\n".encode("ascii")


def _ground(ground: Ground, sheet: Sheet, catalogue: Catalogue, w: Wording) -> dict[str, Any]:
    return {
        "fleet": ground.fleet,
        "place": catalogue.place_name(ground.fleet, ground.place),
        "vehicles": vehicle_words(ground.vehicles),
        "label_revision": ground.label_revision,
        "permits": [plain_facts(facts, sheet, w) for facts in ground.permits],
    }


def plain_facts(facts: Facts, sheet: Sheet, w: Wording) -> dict[str, Any]:
    """Facts as JSON data, the mistake in words, without those facts that only the tablet can say."""
    plain = {key: list(value) if isinstance(value, tuple) else value for key, value in facts.for_browser.items()}
    return plain | {"mistake": f"{sheet.mistake.where}: {said(sheet.mistake, w).says}" if sheet.mistake else None}
