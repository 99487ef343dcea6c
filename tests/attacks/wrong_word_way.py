"""What a history needs besides its point: submissions, a way of its own for each revision, a letter for each permit."""

import hashlib

STEPS = {
    "prototype printed": "specialist",
    "customer acceptance given": "keeper",
    "documents complete": "specialist",
    "sent to technical review": "specialist",
}
SUBMISSIONS = ("documents complete", "sent to technical review")
ENDINGS = ("withdrawn", "superseded")
PERMITS = ("approved", "trial opened")
_SAID = ("revision", "submitted_as", "fingerprint")
_REMEMBERED = {}
"""By the revision: what the submissions said that led to its approval."""


def remember(revision, events):
    """Keeps what the commands wrote as submitted before the last approval of the usual part."""
    _REMEMBERED[revision] = {
        event["what"]: {key: event[key] for key in _SAID if key in event}
        for event in events
        if event["what"] in SUBMISSIONS
    }


def completed(events, folder, usual_letter):
    """The history with the whole way, and a letter of its own for each permit that the test gave no evidence."""
    events = _lettered(_submitted(_walked_anew(events)), folder, usual_letter)
    return list(events)


def _walked_anew(events):
    """An approval of another revision than the last one has a way of its own, on its day where the test has none.

    After an ending the test has to say itself what was walked: that is what it attacks.
    """
    found, last, new = [], None, set()
    for event in events:
        new.add(event["what"])
        if event["what"] == "approved":
            is_another = last not in (None, event["revision"])
            if is_another and not new.issuperset(STEPS) and not new.intersection(ENDINGS):
                found += whole_way(event["on"])
            last, new = event["revision"], set()
        found.append(event)
    return found


def whole_way(day):
    return [{"on": day, "what": what, "by": by, "reference": "M-2"} for what, by in STEPS.items()]


def _submitted(events):
    """Each submission says the part of the next approval; of the next trial where nothing is approved any more."""
    for index, event in enumerate(events):
        later = [each for what in PERMITS for each in events[index:] if each["what"] == what]
        known = _REMEMBERED.get(later[0]["revision"], {}) if later else {}
        yield event if "fingerprint" in event else event | known.get(event["what"], {})


def _lettered(events, folder, usual_letter):
    events = list(events)
    for index, event in enumerate(events):
        if event["what"] in PERMITS and event["evidence"] == [usual_letter]:
            events[index] = event | {"evidence": [new_letter(folder, events)]}
    return events


def new_letter(folder, events):
    """A letter that no event names yet."""
    named = {each["file"] for event in events for each in event.get("evidence", ())}
    number = next(i for i in range(1, 1000) if f"documents/letter-{i}.txt" not in named)
    name, text = f"documents/letter-{number}.txt", f"Letter {number} on {folder.name}.\n"
    (folder / name).write_text(text)
    return {"file": name, "sha256": hashlib.sha256(text.encode()).hexdigest()}


def steps_to_take(events, revision, day):
    """The steps that an approval of a revision still needs, and how many events at the end of the record they take the place of."""
    tail = [event for event in events[-2:] if event["what"] in SUBMISSIONS and "fingerprint" not in event]
    if len(tail) == len(SUBMISSIONS):
        return tail, len(tail)
    last = next((i for i in reversed(range(len(events))) if events[i]["what"] == "approved"), None)
    if last is None or events[last]["revision"] == revision:
        return [], 0
    done = {event["what"] for event in events[last:]}
    return ([], 0) if done.issuperset(STEPS) else (whole_way(day), 0)
