"""Runs `spares` as its user would; a disk is slow, an editor saves, or a signal comes at a chosen write."""

import json
import os
import re
import subprocess
from concurrent.futures import ThreadPoolExecutor

from tests.fixtures.commands import POWERLESS, ROOT, SPARES, Command
from tests.fixtures.copying import copied_from

FIXTURE = ROOT / "tests" / "fixtures" / "depot"
DAY = "1790856000"  # 2026-10-01, noon
GUARD_S = 180  # only says that something ends at all
KNOB, LEVER, CLIP = (
    f"parts/{name}" for name in ("EX-0001-lid-knob", "EX-0002-brake-lever", "EX-0003-hose-clip")
)

MODEL = str(FIXTURE / KNOB / "model.stl")
REQUEST = """on: 2026-10-01
by: fitter
name: {name}
what_it_does: Holds a lamp.
fleet: A1
place: door
yearly_demand: 3
stops_without: Nothing.
"""
VOICE = "adds_to: coat-hook\non: 2026-10-01\nby: keeper\nyearly_demand: 2\nnote: {name}\n"
TRIAL = ("approve", "EX-0003", "--trial", "--pieces", "2", "--by", "keeper", "--scope", "B2:22:bogie", "--until", "2026-12-31")

# Python loads a module of this name at its start. It hears of every file that is opened for writing, renamed,
# linked or removed, an instant before it happens: whatever the program is made of, a disk that is slow or full
# at that instant, and a signal that comes then, are things that its user may meet.
HOOK = """
import errno, json, os, resource, signal, sys, time
plan = json.loads(os.environ.get("AT_WORK", "null"))
count, busy = 0, False
CHANGES = ("os.rename", "os.remove", "os.mkdir", "os.rmdir", "os.link", "os.symlink", "os.truncate",
           "shutil.rmtree")
def act():
    if "mark" in plan:
        open(plan["mark"], "a").close()
    if plan["do"] == "mark":
        return
    if plan["do"] == "sleep":
        while "until" in plan and not os.path.exists(plan["until"]):
            time.sleep(0.01)
        time.sleep(plan["for"])
    elif plan["do"] == "full":
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
    elif plan["do"] == "save":
        with open(plan["file"], "a") as file:
            file.write(plan["text"])
    else:
        os.kill(os.getpid(), getattr(signal, plan["do"]))
def hear(event, args):
    global count, busy
    if busy:
        return
    if event == "open":
        mode, flags = args[1], args[2] or 0
        if not (isinstance(mode, str) and set(mode) & set("wax+") or flags & 3):
            return
    elif event not in CHANGES:
        return
    if event not in plan.get("events", [event]):
        return
    names = [os.path.abspath(os.fsdecode(a)) for a in args[:2] if isinstance(a, (str, bytes, os.PathLike))]
    if not any(plan["where"] in name for name in names):
        return
    count += 1
    if plan["at"] in (0, count):
        busy = True
        try:
            act()
        finally:
            busy = False
if plan:
    if "memory" in plan:
        resource.setrlimit(resource.RLIMIT_AS, (plan["memory"],) * 2)
    if "patience" in plan:
        from generator.edge.disk import writing_lock
        writing_lock.PATIENCE_S = plan["patience"]
    if "do" in plan:
        sys.addaudithook(hear)
"""

# A lie is one of these two, each at the wrong time.
NOTHING = re.compile(
    r"nothing (is|was|has been|were) \w+|nothing written|as it was|not (recorded|written|added|made)\b",
    re.IGNORECASE,
)
DONE = re.compile(
    r"\b(written|recorded|added|in place|is there|are there|are in|is made|was made|complete)\b",
    re.IGNORECASE,
)


def depot(folder):
    return copied_from(FIXTURE, folder)


def environment(home, plan=None, **more):
    hook = home / "hook"
    hook.mkdir(exist_ok=True)
    if not (hook / "sitecustomize.py").exists():
        (hook / "sitecustomize.py").write_text(HOOK)
    new = {
        **os.environ,
        "SOURCE_DATE_EPOCH": DAY,
        "PYTHONPATH": str(hook),
        "PYTHONDONTWRITEBYTECODE": "1",
        **more,
    }
    return {**new, "AT_WORK": json.dumps(plan)} if plan else new


def start(home, *args, plan=None, before=(), more=None, **options):
    """`home` keeps the hook and the store of one test; what runs it (`sh -c`, `setpriv`) comes in front."""
    around = environment(home, plan, **(more or {}))
    if before in ((), POWERLESS):
        return Command(args, env=around, powerless=bool(before), **options)
    piped = {"stdin": subprocess.DEVNULL, "stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
    return subprocess.Popen([*before, str(SPARES), *args], env=around, **{**piped, **options})


class Ended:
    def __init__(self, process, guard_s=GUARD_S):
        try:
            out, err = process.communicate(timeout=guard_s)
        except subprocess.TimeoutExpired:
            process.kill()
            process.communicate()
            raise
        self.code, self.out, self.err = (
            process.returncode,
            (out or b"").decode(errors="replace"),
            (err or b"").decode(errors="replace"),
        )
        self.all = self.out + self.err

    def __repr__(self):
        return f"exit {self.code}\n{self.out[-1500:]}\n{self.err[-1500:]}"


def spares(home, *args, **options):
    return Ended(start(home, *args, **options))


def batch(home, calls, before=(), **plan):
    """Many commands, two at a time: how each ended, in their order. One that does not end within 60 s is killed."""

    def one(call):
        process = start(home, *call, plan=plan or None, before=before)
        return Ended(process, 60)

    return together([lambda call=call: one(call) for call in calls], 2)


def sane(ended, codes=(0, 1, 2)):
    assert ended.code in codes, ended
    assert "Traceback" not in ended.all, ended
    assert "fault of spares itself" not in ended.all, ended
    return ended


def at(catalogue, home):
    return ["--catalogue", str(catalogue), "--store", str(home / "store")]


def contents(folder, hidden=False):
    """What every file of a folder holds. Hidden ones (a lock, a half-written copy) are nobody's record."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
        and (hidden or not any(part.startswith(".") for part in path.relative_to(folder).parts))
    }


def together(calls, workers=3):
    """Runs the calls, a few at a time, and gives what they gave, in their order."""
    with ThreadPoolExecutor(workers) as pool:
        return [future.result() for future in [pool.submit(call) for call in calls]]


# ---- the commands that write


def condition(mark, number="EX-0001"):
    return ["record", number, "condition added", "--by", "reviewer", "--condition", mark]


def withdrawn(mark, number="EX-0001"):
    return ["record", number, "withdrawn", "--by", "reviewer", "--reason", mark]


def letter(folder, mark):
    """Two hands bring two letters that bear the same name."""
    (folder / mark).mkdir()
    file = folder / mark / "letter.txt"
    file.write_text(f"letter {mark}\n")
    return [*TRIAL, "--reference", mark, "--evidence", str(file)]


def asked(folder, mark, text=REQUEST):
    file = folder / f"{mark}.yml"
    file.write_text(text.format(name=mark))
    return ["request", "add", str(file)]


def new(mark, number="EX-0009"):
    return ["new", number, mark, "--mesh", MODEL]


def build(home, catalogue, site, *more):
    return spares(home, *building(catalogue, home, site, *more))


def building(catalogue, home, site, *more):
    return ["build", "--config", str(ROOT / "mkdocs.yml"), "--site", str(site), *more, *at(catalogue, home)]


def refused(home, catalogue, calls, **options):
    """None of them may be done: each says why in a line, and leaves every file as it was."""
    before, wrong = contents(catalogue, hidden=True), []
    for call, ended in zip(calls, batch(home, calls, **options), strict=True):
        fault = re.search("Traceback|fault of spares itself", ended.all)
        if (
            ended.code not in (1, 2)
            or fault
            or not ended.all.strip()
            or "\x1b" in ended.all
            or len(ended.all) > 40_000
        ):
            wrong.append(([word[:70] for word in call if word != "--catalogue"], ended.code, ended.all[:300]))
    assert not wrong, "\n".join(map(str, wrong))
    left = contents(catalogue, hidden=True)
    changed = [name for name in left if left[name] != before.get(name) and "lock" not in name]
    assert not changed
    assert before.items() <= left.items(), "a file is gone"
