"""A small depot for the attacks on the word: histories, records and fleets, and the words that come out."""

import copy
import hashlib
import itertools
import json
import os
import re
import shutil
from datetime import UTC, datetime

import yaml

from generator.rules.screening import SIX_QUESTIONS
from tests.attacks.wrong_word_way import STEPS, completed, new_letter, remember, steps_to_take
from tests.fixtures.commands import ROOT
from tests.fixtures.copying import copied_from
from tests.fixtures.in_process import answered

DAY = "2026-10-15"
NUMBER = "EX-0001"
ALL = "A1:11-14:cab,door"  # everything that the part fits on A1
LETTER = "documents/letter.txt"
NOTE, NOTE_TEXT = "documents/fire-note.txt", "Fire note N-1\n"
LETTER_TEXT = "The letter.\n"
USUAL_LETTER = {"file": LETTER, "sha256": hashlib.sha256(LETTER_TEXT.encode()).hexdigest()}
FIT, ASK, NO = "Fit it", "Ask first", "Do not fit"
NOTES = """# Fitting

## Tools
- Screwdriver

## Steps
1. Put it on.

## Cautions
- Mind your fingers.

## Check after fitting
- It moves freely.
"""
PART = {
    "number": NUMBER,
    "revision": "A",
    "name": "Lid knob",
    "purpose": "Turns the latch of the lid.",
    "fits": [
        {"fleet": "A1", "place": "cab", "per_vehicle": 2},
        {"fleet": "A1", "place": "door", "per_vehicle": 2},
        {"fleet": "B2", "place": "cab", "per_vehicle": 1},
    ],
    "safety_role": "none",
    "material": "petg",
    "makers": ["bench"],
    "settings": {"orientation": "flat", "layer_mm": 0.2, "infill_percent": 100},
    "fire": {
        "requirement_set": "R22",
        "thinnest_wall_mm": 1.5,
        "thickest_section_mm": 21,
        "chosen_by": "fire-engineer",
        "reason": "small part",
        "reference": "fire note N-1",
        "on": "2025-01-10",
        "evidence": {"file": NOTE, "sha256": hashlib.sha256(NOTE_TEXT.encode()).hexdigest()},
    },
    "checks": [{"name": "Bore", "nominal_mm": 6, "plus_mm": 0.1, "minus_mm": 0}],
}


def _fleet(name, title, vehicles, since, category, places):
    return {
        "id": name,
        "name": title,
        "vehicles": vehicles,
        "in_service_since": since,
        "operation_category": category,
        "design_category": "N",
        "places": [
            {"id": one, "name": called, "area": area, "largest_mm": 200} for one, called, area in places
        ],
    }


_CAB = ("cab", "Driver's cab", "interior")
FLEETS = [
    _fleet("A1", "A1 railcar", ["11-14"], 1990, 2, [_CAB, ("door", "Entrance door", "interior")]),
    _fleet("B2", "B2 works car", ["21", "22"], 1980, 1, [_CAB, ("bogie", "Bogie", "exterior")]),
]


def run(catalogue, *args, day=DAY):
    """One command of the program, as typed in the project's folder."""
    noon = datetime.fromisoformat(f"{day}T12:00:00").replace(tzinfo=UTC)
    store = catalogue.parent / "store"
    return answered(
        [*args, "--catalogue", catalogue, "--store", store],
        cwd=ROOT,
        env=os.environ | {"SOURCE_DATE_EPOCH": str(int(noon.timestamp()))},
    )


def new_folder(base, name):
    return base / f"{name}-{len(list(base.iterdir()))}"


def kept(folder, name, text):
    """Writes a file and says how a record names it."""
    target = folder / name
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_text(text)
    return {"file": name, "sha256": hashlib.sha256(text.encode()).hexdigest()}


def box(x, y, z, name="box"):
    """A closed box as STL text; a part needs a mesh that no other part has."""
    corner = [(i * x, j * y, k * z) for k in (0, 1) for j in (0, 1) for i in (0, 1)]
    faces = [
        (0, 2, 3),
        (0, 3, 1),
        (4, 5, 7),
        (4, 7, 6),
        (0, 1, 5),
        (0, 5, 4),
        (2, 6, 7),
        (2, 7, 3),
        (0, 4, 6),
        (0, 6, 2),
        (1, 3, 7),
        (1, 7, 5),
    ]
    facets = (
        "facet normal 0 0 0\nouter loop\n"
        + "".join("vertex {} {} {}\n".format(*corner[i]) for i in face)
        + "endloop\nendfacet\n"
        for face in faces
    )
    return f"solid {name}\n{''.join(facets)}endsolid {name}\n"


def copy_of_the_depot(folder):
    """The tiny depot without its parts, with fleets of known names."""
    copied_from(ROOT / "tests" / "fixtures" / "depot", folder)
    shutil.rmtree(folder / "parts")
    (folder / "parts").mkdir()
    write_fleets(folder, FLEETS)
    petg(folder)
    return folder


def write_fleets(catalogue, fleets):
    (catalogue / "fleets.yml").write_text(json.dumps({"fleets": fleets}))


SPECIMEN = {"layers": ["along", "across"], "infill_percent": 100}


def _tested_too(papers, report, process):
    """The same results of pieces of another process, in a report of their own."""
    return report | {"report": "F-petg-2", "process": process, **kept(papers, "documents/petg-fire-2.txt", "Fire report F-petg-2\n")}


def petg(catalogue, certificate=None, test=None, tested_too=None, **material):
    """The material, with one certificate and one fire report; a value of None leaves the line out."""
    papers = catalogue / "materials"
    good_certificate = {
        "type": "3.1",
        "reference": "C-petg",
        "issued_on": "2025-02-03",
        "valid_until": "2027-12-31",
        **kept(papers, "documents/petg-certificate.txt", "Certificate C-petg\n"),
    }
    good_test = {
        "standard": "EN 45545-2:2020+A1:2023",
        "requirement_set": "R22",
        "hazard_level": "HL2",
        "report": "F-petg",
        "laboratory": "Example fire laboratory",
        "tested_on": "2024-05-06",
        "valid_until": "2027-09-30",
        "thickness_mm": 1.5,
        "accreditation": "L-1",
        "accepted_by": "fire-engineer",
        "process": "material extrusion",
        "colour": "natural",
        "lot_family": "type 1",
        "results": [
            {"test": "T01", "method": "EN ISO 4589-2", "value": 31.2, "unit": "%", "thickness_mm": 1.5, **SPECIMEN},
            {"test": "T10.03", "method": "EN ISO 5659-2", "value": 140, "unit": "-", "thickness_mm": 25, **SPECIMEN},
            {"test": "T12", "method": "NF X70-100", "value": 0.4, "unit": "-", "mass_g": 1},
        ],
        **kept(papers, "documents/petg-fire.txt", "Fire report F-petg\n"),
    }
    record = {
        "name": "PETG",
        "family": "PETG",
        "density_g_cm3": 1.27,
        "colouring": "natural",
        "lot_family": "type 1",
        "processes": ["material extrusion"],
        "properties": {"tensile_strength_mpa": 43},
        "certificates": [_without_none(good_certificate | (certificate or {}))],
        "fire_tests": [_without_none(good_test | (test or {})), *([_tested_too(papers, good_test, tested_too)] if tested_too else [])],
    } | material
    (papers / "petg.yml").write_text(json.dumps(record))


def _without_none(record):
    return {key: value for key, value in record.items() if value is not None}


def folder_of(catalogue, number=NUMBER):
    return catalogue / "parts" / f"{number}-knob"


def write_part(catalogue, mesh=None, **changes):
    """The part's record, anew; what stands in `changes` takes the place of the usual value."""
    record = PART | changes
    folder = folder_of(catalogue, record["number"])
    kept(folder, LETTER, LETTER_TEXT)
    kept(folder, NOTE, NOTE_TEXT)
    if mesh or not (folder / "model.stl").exists():
        serial = int(record["number"].split("-")[1])
        (folder / "model.stl").write_text(mesh or box(20, 20, 20 + serial))
        (folder / "fitting.md").write_text(NOTES)
    (folder / "part.yml").write_text(json.dumps(record))
    return folder


_ANSWER = {"answer": "no", "by": "keeper", "on": "2025-06-01"}
SCREENED = {
    "identical_function": _ANSWER | {"answer": "yes", "reason": "does the same"},
    **dict.fromkeys(SIX_QUESTIONS, _ANSWER),
    "judged_significant": "no", "judged_by": "keeper", "judged_on": "2025-06-01",
}  # fmt: skip


def write_events(catalogue, events, number=NUMBER):
    folder = folder_of(catalogue, number)
    lines = "".join(f"  - {json.dumps(event)}\n" for event in completed(events, folder, USUAL_LETTER))
    (folder / "approval.yml").write_text(
        f"route: customer\nscreening: {json.dumps(SCREENED)}\nevents:\n{lines}"
    )


def read_events(catalogue, number=NUMBER):
    return yaml.load((folder_of(catalogue, number) / "approval.yml").read_text(), Loader=yaml.BaseLoader)[
        "events"
    ]


def way(year_and_month="2025-10"):
    """What goes before every approval: prototype, acceptance, documents, review.

    What its submissions submitted is filled in by `write_events`, or by `approve`.
    """
    return [
        {"on": f"{year_and_month}-{day:02}", "what": what, "by": by, "reference": "M-1"}
        for day, (what, by) in enumerate(STEPS.items(), start=1)
    ]


def approve(catalogue, *more, number=NUMBER, scope=ALL, on="2026-01-15", until="2027-12-31"):
    """Submits what lies there, where the record does not say it yet, and approves it by a letter of its own."""
    submit(catalogue, number, on)
    letter = new_letter(folder_of(catalogue, number), read_events(catalogue, number))["file"]
    said = ("--by", "reviewer", "--reference", f"L-{on}", "--scope", scope, "--until", until, "--on", on)
    # what a reviewer reads besides, a drawing or the screening, is not what these attacks are about
    return run(catalogue, "approve", number, *said, "--evidence", letter, "--yes", *more)


def withdrawn(on="2026-03-01"):
    return {"on": on, "what": "withdrawn", "by": "reviewer", "reason": "cracks"}


def superseded(on="2026-03-01"):
    return {"on": on, "what": "superseded", "by": "reviewer", "superseded_by": "EX-0900"}


def event(on, what, **more):
    """Any other event, with its letter kept, so that it lacks nothing."""
    return {
        "on": on, "what": what, "by": "reviewer", "reference": f"X-{on}", "evidence": [USUAL_LETTER],
    } | more  # fmt: skip


def submit(catalogue, number, on):
    """By the commands: what the record does not say of its submissions, or the whole way of another revision.

    Where a command refuses, the record stays as it was, and whatever follows is refused or not.
    """
    record, folder = folder_of(catalogue, number) / "approval.yml", folder_of(catalogue, number)
    before, events = record.read_text(), read_events(catalogue, number)
    steps, instead_of = steps_to_take(events, json.loads((folder / "part.yml").read_text())["revision"], on)
    lines = before.splitlines(keepends=True)
    record.write_text("".join(lines[: len(lines) - instead_of]))
    for step in steps:
        if take(catalogue, step, number).returncode:
            record.write_text(before)
            return


def take(catalogue, step, number=NUMBER):
    """Records one step of the way by the command."""
    said = ("--by", step["by"], "--reference", step["reference"], "--on", step["on"])
    return run(catalogue, "record", number, step["what"], *said)


class Permits:
    """Approvals as `spares approve` writes them, bound once a revision and scope, then given other days.

    uses_up: the earlier revision whose pieces the approval lets be used up.
    """

    def __init__(self, base):
        self._base, self._bound = base, {}

    def __call__(
        self, revision="A", scope=ALL, on="2026-01-15", until="2027-12-31", what="approved", uses_up=None, **more
    ):
        if (revision, scope) not in self._bound:
            catalogue = copy_of_the_depot(new_folder(self._base, "bind"))
            write_part(catalogue, revision=revision)
            write_events(catalogue, way())
            answer = approve(catalogue, scope=scope)
            assert answer.returncode == 0, answer.stderr
            events = read_events(catalogue)
            remember(revision, events)
            self._bound[revision, scope] = events[-1] | {"evidence": [USUAL_LETTER]}
        permit = copy.deepcopy(self._bound[revision, scope])
        stock = {"revision": uses_up, "becomes": "use up", "until": "2027-12-31"}
        said = {"older_stock": [stock]} if uses_up else {}
        return permit | {"on": on, "valid_until": until, "what": what, "reference": f"L-{on}"} | said | more


class Words:
    """What `spares explain` says, a verdict for each fleet, vehicles, place and label."""

    HEAD = re.compile(
        r"^(?P<fleet>\S+) (?P<vehicles>.+?) · (?P<place>[^,\n]+)(?:, .*revision (?P<label>\w+))?$"
    )

    def __init__(self, catalogue, number=NUMBER, day=DAY):
        answer = run(catalogue, "explain", number, "--on", day, day=day)
        assert answer.returncode in (0, 1), answer.stderr
        assert "Traceback" not in answer.stderr, answer.stderr
        self.text = answer.stdout
        self.verdicts = []
        lines = self.text.splitlines()
        for line, reason in itertools.pairwise(lines):
            head, word = self.HEAD.match(line), re.match(f"({FIT}|{ASK}|{NO})", reason)
            if head and word:
                self.verdicts.append(
                    (head["fleet"], numbers(head["vehicles"]), head["place"], head["label"], word[1], reason)
                )
        # a record that cannot be read has one word for everything
        assert self.verdicts or NO in lines, self.text + answer.stderr

    def on(self, vehicle, place="Driver's cab", label=None, part=4):
        """The words (or, with part=5, the reasons) for one vehicle; without a label, of a newly made part."""
        return {
            verdict[part]
            for verdict in self.verdicts
            if vehicle in verdict[1] and verdict[2] == place and verdict[3] == label
        }

    def fitted(self, label="any"):
        """The vehicles and places that say Fit it, for one label or for any."""
        return {
            (vehicle, place)
            for _, vehicles, place, of, word, _ in self.verdicts
            for vehicle in vehicles
            if word == FIT and label in ("any", of)
        }


def numbers(text):
    found = set()
    for piece in text.split(","):
        first, _, last = piece.strip().partition("–")
        found |= set(range(int(first), int(last or first) + 1))
    return found


class History:
    """Writes a history into a catalogue of its own and asks for the words."""

    def __init__(self, base):
        self._base = base

    def catalogue(self, events, revision="A", label=None, **changes):
        catalogue = copy_of_the_depot(new_folder(self._base, "depot"))
        if any(one["what"] == "superseded" for one in events):
            write_part(catalogue, number="EX-0900", name="Newer knob", replaces=[])
            write_events(catalogue, [], number="EX-0900")
        if label:
            changes["stock"] = {"place": "R1", "on_shelf": 3, "revision": label}
        write_part(catalogue, revision=revision, **changes)
        write_events(catalogue, events)
        return catalogue

    def __call__(self, events, revision="A", label=None, day=DAY, **changes):
        return Words(self.catalogue(events, revision, label, **changes), day=day)


def problems(catalogue, day=DAY):
    """Everything that `spares check` finds, as (file, text), errors and warnings alike."""
    answer = run(catalogue, "check", "--format", "json", "--on", day, day=day)
    assert answer.returncode in (0, 1), answer.stderr
    return [json.dumps(problem) for problem in json.loads(answer.stdout)["problems"]]


def told(catalogue, number=NUMBER, day=DAY):
    return [problem for problem in problems(catalogue, day) if number in problem]
