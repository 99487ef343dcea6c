"""The events of a record as a chain: the fingerprint of each speaks of all before it, so that none goes unseen."""

import hashlib
import json
from collections.abc import Iterable, Sequence
from typing import Any

from generator.records.approvals import Event

START = "0" * 64
"""What stands before the first event."""


def said(event: Event) -> dict[str, Any]:
    """What an event says, as plain JSON values: every field that says more than nothing, but not its signature.

    A field at its default says what its absence says, so a field that a later edition adds changes no old event.
    """
    return event.model_dump(mode="json", exclude_defaults=True, exclude={"signed"})


def canonical_json(value: object) -> str:
    """The one JSON text of a value: RFC 8785 (JSON Canonicalization Scheme) for what records hold.

    No white space, keys in order, UTF-8 unescaped but for what JSON must escape (section 3.2.2.2). Keys are ASCII, where
    the order of letters is that of UTF-16. Raises ValueError for a fraction, whose form (section 3.2.2.3) no event needs.
    """
    _refuse_fractions(value)
    return json.dumps(value, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def _refuse_fractions(value: object) -> None:
    match value:
        case float():
            raise ValueError(f"{value} is no value of an event")
        case dict():
            for each in value.values():
                _refuse_fractions(each)
        case list():
            for each in value:
                _refuse_fractions(each)


def own_fingerprint(event: Event) -> str:
    """SHA-256 (FIPS 180-4) of what an event says, whatever stands before it."""
    return hashlib.sha256(canonical_json(said(event)).encode("utf-8")).hexdigest()


def link(event: Event, before: str) -> str:
    """The chained fingerprint of an event: SHA-256 (FIPS 180-4) of what it says and of the fingerprint before it."""
    text = canonical_json({"before": before, "event": said(event)})
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def chain(events: Iterable[Event]) -> tuple[str, ...]:
    """The chained fingerprints of events, in their order; a record with the same last one has the same past."""
    links: list[str] = []
    for event in events:
        links.append(link(event, links[-1] if links else START))
    return tuple(links)


def texts_to_sign(number: str, events: Sequence[Event]) -> tuple[str, ...]:
    """What a signature of each event signs: the part's number, the event's place (from 1), what it says, and all before it.

    What was submitted or approved is in it by its fingerprint. One line of canonical JSON, ended by a line feed.
    """
    pasts = (START, *chain(events))
    return tuple(
        canonical_json({"before": before, "event": said(event), "part": number, "place": place}) + "\n"
        for place, (event, before) in enumerate(zip(events, pasts, strict=False), start=1)
    )
