"""How many spoilt catalogues and hostile documents were tried, and how many got through: the aim is 0.

Run as `.venv/bin/python -m tests.benchmarks.bench_attacks`; it prints figures and asserts none.
"""

import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

from generator.edge.commands.terminal import Terminal
from generator.rules.verdicts import Verdict
from tests.attacks.test_documents import Depot
from tests.attacks.watched import Canary, Untyped, Watch, address, chromium, over, served
from tests.fixtures.tiny import DEPOT, overlaid
from tests.reading.test_bad import MISTAKES
from tests.rules import test_mutations as spoilt


def mutations() -> Iterator[tuple[str, str, object]]:
    """File, place and value of every mutation that must cost the knob its "Fit it"; a value of ... is taken away."""
    for file, path in spoilt.TAKEN:
        name = spoilt.spelled(path)
        inside = any(name.startswith(f"{each}.") for each in spoilt.HARMLESS[file])
        if name not in spoilt.HARMLESS[file] and not inside:
            yield file, name, ...
    for file in (spoilt.PART, spoilt.APPROVAL, spoilt.PETG):
        content = spoilt.loaded(file)
        for path in spoilt.paths(content):
            name = spoilt.spelled(path)
            harmless = any(name.startswith(each) for each in spoilt.HARMLESS[file])
            for value in spoilt.GARBAGE:
                if not harmless and not spoilt._says_the_same(content, path, value):
                    yield file, name, value
    yield from (each for each in spoilt.CHANGES if each[:2] not in spoilt.DEPOT_ONLY and each[1] != "number")


def wrong_words(folder: Path) -> tuple[int, list[str]]:
    """How many mutations were tried, and those after which the current part may still be fitted."""
    wrong, tried = [], 0
    for tried, (file, name, value) in enumerate(mutations(), start=1):  # noqa: B007
        depot = shutil.copytree(DEPOT, folder / "depot")
        path = tuple(int(step) if step.isdigit() else step for step in name.split("."))
        content = spoilt.loaded(file)
        changed = spoilt.without(content, path) if value is ... else spoilt.with_value(content, path, value)
        spoilt.write(depot, file, changed)
        found, _ = spoilt.sheets(depot)
        grounds = [ground for sheet in found if sheet.number == spoilt.KNOB for ground in sheet.grounds]
        if any(each.on(spoilt.DAY).verdict is Verdict.FIT_IT for each in grounds if each.label_revision is None):
            wrong.append(f"{file} {name} {value!r}")
        shutil.rmtree(depot)
    return tried, wrong


def broken_folders(folder: Path) -> tuple[int, int]:
    """Broken folders, and parts with a mistake that may be fitted all the same."""
    wrong = 0
    for mistake in MISTAKES:
        found, _ = spoilt.sheets(overlaid(shutil.copytree(DEPOT, folder / mistake.name), mistake))
        wrong += sum(sheet.best is Verdict.FIT_IT for sheet in found if sheet.is_broken)
    return len(MISTAKES), wrong


def scripts_run(folder: Path) -> Iterator[str]:
    """A line for each way in which every file of a site with hostile documents is opened."""
    with served(Canary) as canary, chromium() as browser:
        depot = Depot(folder, canary[1])
        files = list(depot.files())
        yield f"{len(depot.documents)} hostile documents, {len(files)} files of the site opened each way"
        for way, handler in (("from disk", None), ("over http", "typed"), ("over http, kinds not told", "untyped")):
            canary[0].called.clear()
            watch = Watch(browser)
            if handler is None:
                watch.open_all(address("file", depot.site, file) for file in files)
            else:
                with over(depot.site, *([Untyped] if handler == "untyped" else [])) as (_, base):
                    watch.open_all(address(base, depot.site, file) for file in files)
            watch.settle()
            yield f"  {way}: {len({*watch.signs, *canary[0].called})} scripts run"
            watch.context.close()


def main() -> None:
    terminal = Terminal()
    with tempfile.TemporaryDirectory() as held:
        folder = Path(held)
        tried, wrong = wrong_words(folder)
        terminal.say(f"{tried} mutations: {len(wrong)} wrong 'Fit it'")
        for each in wrong:
            terminal.say(f"  {each}")
        terminal.say("{} broken folders: {} wrong 'Fit it'".format(*broken_folders(folder)))
        (folder / "documents").mkdir()
        for line in scripts_run(folder / "documents"):
            terminal.say(line)


if __name__ == "__main__":
    main()
