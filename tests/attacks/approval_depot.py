"""The demo, cut down to a few parts, for the attacks on an approval: one mutation, and the words that come out."""

import contextlib
import copy
import hashlib
import itertools
import os
import re
import shutil
import subprocess
from datetime import UTC, datetime
from typing import ClassVar

import yaml

from generator.provenance.remembering.kept import memory_file
from tests.attacks.wrong_word_depot import ASK, FIT, NO, numbers
from tests.fixtures.commands import ROOT
from tests.fixtures.copying import copied_from
from tests.fixtures.in_process import answered
from tests.fixtures.written_once import written_once

DAY = "2026-11-25"
DEMO = ROOT / "catalogue"
LEFT_OUT = shutil.ignore_patterns("parts", "requests", "lots", "machines", "batches", "recalls", "fitted", ".*")
KNOB, CAP, OTHER_CAP, HANDLE, TRIM = "TV-0417", "TV-0104", "TV-0105", "TV-0227", "TV-0136"
WINDOW, ENTRANCE = "TR4:401-412:saloon-window", "TR7:701-708:entrance"
LETTER = "documents/approval-letter.pdf"
HEAD = re.compile(
    r"^(?P<fleet>\S+) (?P<vehicles>\d[\d–, ]*) · (?P<place>.+?)(?:, stock labelled revision (?P<label>\w+))?$"
)


def demo(base, *keep):
    """A fresh folder with these parts of the demo; what they say of other parts is left out."""
    catalogue = base / "catalogue"
    copied_from(DEMO, catalogue, LEFT_OUT)
    (catalogue / "parts").mkdir()
    own = catalogue / "depot.yml"  # all commits of a test count, whatever the demo says of its own
    own.write_text(re.sub(r"^records_kept_since:.*\n(?: .*\n)*", "", own.read_text(), flags=re.MULTILINE))
    for number in keep:
        (source,) = (DEMO / "parts").glob(f"{number}-*")
        copied_from(source, catalogue / "parts" / source.name)
        record = catalogue / "parts" / source.name / "part.yml"
        text = record.read_text()
        for line in re.findall(r"^(?:look_alikes|other_hand): .*\n", text, re.MULTILINE):
            if not set(re.findall(r"TV-\d+", line)) <= set(keep):
                text = text.replace(line, "")
        record.write_text(text)
    return catalogue


def folder(catalogue, number=KNOB):
    (found,) = (catalogue / "parts").glob(f"{number}-*")
    return found


@contextlib.contextmanager
def edited(path):
    """The record as data, written back as YAML; a hand with an editor does no other."""
    record = yaml.load(path.read_text(), Loader=_Core)
    yield record
    text = yaml.dump(record, Dumper=_NoAliases, sort_keys=False, allow_unicode=True, width=10_000)
    path.write_text(text)


class _Core(yaml.CSafeLoader):
    """Only true and false are answers, and a day stays a text."""

    yaml_implicit_resolvers: ClassVar = {
        first: [(tag, pattern) for tag, pattern in known if not tag.endswith((":bool", ":timestamp"))]
        for first, known in yaml.SafeLoader.yaml_implicit_resolvers.items()
    }


_Core.add_implicit_resolver("tag:yaml.org,2002:bool", re.compile("^(true|false)$"), list("tf"))


class _NoAliases(yaml.CSafeDumper):
    def ignore_aliases(self, data):
        return True


def part(catalogue, number=KNOB):
    return edited(folder(catalogue, number) / "part.yml")


def history(catalogue, number=KNOB):
    return edited(folder(catalogue, number) / "approval.yml")


def material(catalogue, name="pa12-fr-grey"):
    return edited(catalogue / "materials" / f"{name}.yml")


def makers(catalogue):
    return edited(catalogue / "makers.yml")


def roles(catalogue):
    return edited(catalogue / "depot.yml")


def kept(where, name, text):
    """Writes a file and says how a record names it."""
    content = text if isinstance(text, bytes) else text.encode()
    (where / name).parent.mkdir(parents=True, exist_ok=True)
    (where / name).write_bytes(content)
    return {"file": name, "sha256": hashlib.sha256(content).hexdigest()}


def forgotten(catalogue):
    """The store forgets what the commands wrote: the case is what a hand typed, judged by what stands there alone."""
    memory_file(catalogue.parent / "store", catalogue).unlink()


def again(catalogue, number, file, content):
    """Another file under the old name, and every record of the part told its new SHA-256."""
    where = folder(catalogue, number)
    old = hashlib.sha256((where / file).read_bytes()).hexdigest()
    new = kept(where, file, content)["sha256"]
    with history(catalogue, number) as record:
        for event in record["events"]:
            for paper in event.get("evidence", []):
                if paper["sha256"] == old:
                    paper["sha256"] = new


def other_mesh(catalogue, number=KNOB, mark=b"another"):
    """The model saved anew: other bytes, the same shape."""
    model = folder(catalogue, number) / "model.stl"
    content = model.read_bytes()
    model.write_bytes(mark.ljust(80)[:80] + content[80:])


def what(record, name, last=True):
    """The event of that name in a record."""
    return [one for one in record["events"] if one["what"] == name][-1 if last else 0]


def cut(record, name):
    """Takes the first event of that name and all after it out."""
    at = next(i for i, one in enumerate(record["events"]) if one["what"] == name)
    del record["events"][at:]


def add(catalogue, number, *events):
    with history(catalogue, number) as record:
        record["events"] += copy.deepcopy(list(events))


def event(on, name, by="technical-review", **more):
    return {"on": on, "what": name, "by": by, "reference": f"letter X {on}"} | more


def way(month="2026-03", number=KNOB, catalogue=None):
    """Prototype, acceptance, documents and review walked anew, by hand and so without what was submitted."""
    steps = [
        ("prototype printed", "am-specialist"),
        ("customer acceptance given", "keeper"),
        ("documents complete", "am-specialist"),
        ("sent to technical review", "am-specialist"),
    ]
    return [event(f"{month}-{day:02}", name, by) for day, (name, by) in enumerate(steps, 2)]


def run(catalogue, *words, day=DAY, **environment):
    noon = datetime.fromisoformat(f"{day}T12:00:00").replace(tzinfo=UTC)
    where = ["--catalogue", catalogue, "--store", catalogue.parent / "store"]
    around = {"SOURCE_DATE_EPOCH": str(int(noon.timestamp()))} | environment

    def once():
        return answered([*words, *where], cwd=ROOT, env=os.environ | around)

    memory = memory_file(catalogue.parent / "store", catalogue)
    writes = words[0] in ("record", "approve")
    answer = written_once(catalogue, memory, (*words, *sorted(around.items())), once) if writes else once()
    assert "Traceback" not in answer.stderr, answer.stderr
    return answer


def record(catalogue, number, name, by, *more, on=DAY, day=None):
    return run(catalogue, "record", number, name, "--by", by, "--on", on, *more, day=day or DAY)


def walk(catalogue, number=KNOB, on=DAY, names=None, mark="new"):
    """The way from the prototype to the review, with the commands; each has its paper."""
    where = folder(catalogue, number)
    kept(where, f"documents/{mark}-minutes.txt", f"Minutes {mark} {number}.\n")
    kept(where, f"documents/{mark}-drawing.txt", f"Drawing {mark} {number}.\n")
    steps = {
        "prototype printed": ("am-specialist", "--reference", f"bench log {mark}"),
        "sent for customer acceptance": ("am-specialist", "--reference", f"note {mark}"),
        "customer acceptance given": (
            "keeper",
            "--reference",
            f"minutes {mark}",
            "--evidence",
            f"documents/{mark}-minutes.txt",
        ),
        "documents complete": (
            "am-specialist",
            "--reference",
            f"dossier {mark}",
            "--evidence",
            f"documents/{mark}-drawing.txt",
        ),
        "sent to technical review": ("am-specialist", "--reference", f"letter PP {mark}"),
    }
    for name in names or steps:
        answer = record(catalogue, number, name, *steps[name], on=on)
        assert answer.returncode == 0, answer.stdout + answer.stderr


def approve(
    catalogue,
    *more,
    number=KNOB,
    scope=WINDOW,
    letter=None,
    on=DAY,
    by="technical-review",
    until="2031-11-30",
):
    """As `spares approve` does it, with a letter of its own unless another is named."""
    if letter is None:
        text = f"Approval of {number} on {on}: {more}.\n"
        letter = kept(folder(catalogue, number), f"documents/letter-{on}.txt", text)["file"]
    words = ["--by", by, "--reference", f"letter of {on}", "--scope", scope, "--until", until, "--on", on]
    return run(catalogue, "approve", number, *words, "--evidence", letter, *more, day=max(on, DAY))


class Said:
    """What `spares explain` says of one part: a word for each fleet, vehicles, place and label, and why."""

    def __init__(self, catalogue, number=KNOB, day=DAY, before=""):
        answer = run(catalogue, "explain", number, "--on", day, day=max(day, DAY))
        assert answer.returncode in (0, 1), answer.stderr
        self._catalogue, self._day, self._number = catalogue, day, number
        self.text = f"{before}\n{answer.stdout}\n{answer.stderr}"
        self.verdicts = []
        for line, reason in itertools.pairwise(answer.stdout.splitlines()):
            head, word = HEAD.match(line), re.match(f"({FIT}|{ASK}|{NO})", reason)
            if head and word:
                vehicles = numbers(head["vehicles"])
                self.verdicts.append((head["fleet"], vehicles, head["place"], head["label"], word[1]))
        assert self.verdicts or NO in self.text, self.text

    def words(self, label=None, vehicle=None):
        """The words of newly made parts, or of stock with that label; NO where the record cannot be read."""
        return {
            word
            for _, vehicles, _, of, word in self.verdicts
            if of == label and (vehicle is None or vehicle in vehicles)
        } or {NO}

    @property
    def fitted(self):
        return {
            (fleet, vehicle, place, label)
            for fleet, vehicles, place, label, word in self.verdicts
            for vehicle in vehicles
            if word == FIT
        }

    @property
    def why(self):
        """All that speaks against it: every line but those of the questions that passed, then the problems."""
        lines = [line for line in self.text.splitlines() if not line.startswith("✓")]
        return "\n".join(lines)

    def problems(self):
        answer = run(self._catalogue, "check", "--on", self._day, day=max(self._day, DAY))
        return answer.stdout + answer.stderr


def refuses(catalogue, says, number=KNOB, day=DAY, before="", label=None):
    """No vehicle gets Fit it (of newly made parts, or of stock with that label), and what is told says why."""
    said = Said(catalogue, number, day, before)
    fitted = sorted(one[:3] for one in said.fitted if one[3] == label)
    assert not fitted, f"{FIT}: {fitted[:2]} …"
    told = said.why
    if not re.search(says, told, re.IGNORECASE):
        told += said.problems()
    assert re.search(says, told, re.IGNORECASE), told
    return said


def asks(catalogue, says, number=KNOB, day=DAY, before=""):
    """A careful change: somebody is to be asked, and the approval is not void."""
    said = refuses(catalogue, says, number, day, before)
    assert said.words() == {ASK}, said.why + said.problems()
    return said


def fits(catalogue, number=KNOB, day=DAY):
    said = Said(catalogue, number, day)
    assert said.words() == {FIT}, said.why + said.problems()
    return said


def committed(catalogue, message="as it was"):
    """Puts the folder under git, or what changed in it."""
    plain = os.environ | {"GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_SYSTEM": os.devnull}
    who = ["-c", "user.name=Depot", "-c", "user.email=depot@example.invalid", "-c", "commit.gpgsign=false"]
    for words in (["init", "-q"], ["add", "-A"], [*who, "commit", "-q", "--allow-empty", "-m", message]):
        subprocess.run(["git", "-C", catalogue, *words], check=True, env=plain, capture_output=True)
    return catalogue
