"""Fixtures that many tests share."""

import gc
import locale
import os
import shutil
import signal
from collections.abc import Iterator
from pathlib import Path

import pytest
from _pytest.runner import runtestprotocol  # as plugins that run a test anew take it from there
from hypothesis import settings
from playwright.sync_api import Browser, expect, sync_playwright

from generator.edge import spoken
from generator.edge.cli import main
from generator.edge.disk import done
from generator.systems import lost
from tests.fixtures.measured_once import shelf_is
from tests.fixtures.shared import made_once, run_folder
from tests.fixtures.signing import made_keys
from tests.fixtures.tiny import copied

ROOT = Path(__file__).parents[1]
# The same engine without a browser's windows: a page costs a quarter less.
CHROMIUM = os.environ.get("SPARES_CHROMIUM", "/usr/bin/chromium-headless-shell")
# A page that goes on to another of its own site keeps what draws it: a fifth of what a load costs. The switch takes the place of
# Playwright's own, whose choices that matter here are therefore named again. A script that is not read while it comes is found
# among those that were read before: the same few stand on every page.
LEFT_OUT = (
    "RenderDocument", "ScriptStreaming", "PaintHolding", "HttpsUpgrades", "HttpsFirstBalancedModeAutoEnable", "AvoidUnnecessaryBeforeUnloadCheckSync",
    "ThirdPartyStoragePartitioning", "DestroyProfileOnBrowserClose", "MediaRouter", "OptimizationHints", "NetworkTimeServiceQuerying",
)  # fmt: skip
# A page lives too short for code that is made fast to be worth the making: with what is said above a sixth of a load.
ENGINE = "--no-maglev", "--no-turbofan"
SWITCHES = [
    "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update", f"--disable-features={','.join(LEFT_OUT)}",
    f"--js-flags={' '.join(ENGINE)}",
]  # fmt: skip

# Where the tests are started in the background, a shell has them ignore Ctrl-C, and so would every program that a test
# starts and stops by it.
signal.signal(signal.SIGINT, signal.default_int_handler)

# The day of whatever is given none, in processes of its own too: no test depends on the clock.
os.environ["SOURCE_DATE_EPOCH"] = "1795608000"  # 2026-11-25, noon

# A page on a busy machine is waited for as patiently as all else; what never comes fails as surely.
expect.set_options(timeout=30_000)

# The long files begin, so that no long one is left for the end, when the other workers have nothing to do any more; the first few
# wait for different things: two copies of a site, the demo's facts, nothing.
LONG = (
    "attacks/test_kept_copies.py", "edge/test_guide_commands.py", "geometry/likeness/test_unseen.py", "rules/test_against_second_judge.py",
    "attacks/test_copies.py", "measuring/test_all_meshes.py", "browser/test_offline.py", "attacks/test_bounds.py", "browser/test_model.py",
    "attacks/test_told_truth.py", "edge/test_hook.py", "browser/test_ticks.py", "edge/test_plugin.py", "attacks/test_poisoned_folders.py",
    "browser/test_carried.py", "papers/test_submission.py", "signing/test_checking.py", "remembering/test_mended.py",
    "attacks/test_documents.py", "geometry/features/test_unseen.py", "papers/test_documents.py", "attacks/test_approval_shelf.py",
    "attacks/test_arguments.py", "rules/test_mutations.py", "browser/test_vain.py", "geometry/drawing/test_unseen.py",
    "importing/test_lists.py", "edge/test_loaded.py", "browser/test_look.py", "attacks/test_places.py",
    "attacks/test_approval_untouched.py", "geometry/printing/test_standing.py", "models/test_models.py", "scripts/test_types.py",
    "papers/test_labels.py", "attacks/test_page_policy.py", "browser/test_small_screens.py", "edge/test_without_posix.py",
    "edge/test_wheel.py", "pages/test_fire.py", "browser/test_request.py", "edge/test_build.py", "geometry/likeness/test_likeness.py",
    "measuring/test_code.py", "geometry/test_walls.py", "geometry/model/test_thinned.py", "edge/test_languages.py",
    "browser/test_fitted.py", "attacks/test_text_in_records.py", "attacks/test_plausible.py", "browser/test_verdicts.py",
    "browser/test_working_order.py", "browser/test_vehicle_named.py", "browser/test_languages.py", "attacks/test_wrong_word_shelf.py",
    "attacks/test_wrong_word_bound.py", "attacks/test_commands.py",
)  # fmt: skip


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The files of `LONG` first, in its order; all else as it lies."""
    turns = {ROOT / "tests" / name: turn for turn, name in enumerate(LONG)}
    items.sort(key=lambda item: turns.get(item.path, len(LONG)))


# Thousands of tests are made and stay until the end: they are looked through for rings neither then nor later.
gc.disable()


def pytest_collection_finish() -> None:
    """From here on rings are looked for as in the program itself (`edge/cli.py`)."""
    gc.freeze()
    gc.set_threshold(100_000, 50, 50)
    gc.enable()


class Briefly:
    """A worker tells of a test what it came to; that it begins, was set up and taken down and has ended is a third of what a short one costs."""

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtest_protocol(self, item: pytest.Item, nextitem: pytest.Item | None) -> bool:
        for report in runtestprotocol(item, log=False, nextitem=nextitem):
            if report.when == "call" or not report.passed:
                item.ihook.pytest_runtest_logreport(report=report)
        return True


def pytest_configure(config: pytest.Config) -> None:
    """Who asks how long each step takes, or for a file of results, is told all."""
    if hasattr(config, "workerinput") and config.option.durations is None and not config.option.xmlpath:
        config.pluginmanager.register(Briefly())


# Hypothesis' own 200 ms an example fail on a busy machine: no test depends on the clock.
settings.register_profile("no clock", deadline=None, max_examples=50)
settings.register_profile("thorough", deadline=None, max_examples=2000)  # for a night: --hypothesis-profile thorough
settings.load_profile("no clock")


@pytest.fixture(scope="session", autouse=True)
def shelf_of_the_run(tmp_path_factory: pytest.TempPathFactory) -> None:
    """For `measured_once`, which a test has to ask for."""
    shelf_is(run_folder(tmp_path_factory) / "measured")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol() -> Iterator[object]:
    """lib3mf leaves the process without UTF-8, and what a later test reads would not be what was written."""
    before = locale.setlocale(locale.LC_CTYPE)
    try:
        return (yield)
    finally:
        locale.setlocale(locale.LC_CTYPE, before)


@pytest.fixture(autouse=True)
def nothing_said() -> None:
    """What the command of an earlier test said, wrote and lost is that test's: each begins as a process does, in whichever order they run."""
    spoken.listen()
    done.begin()
    lost.taken()


@pytest.fixture
def depot(tmp_path: Path) -> Path:
    """A copy of the tiny valid depot that the test may spoil."""
    return copied(tmp_path / "depot")


@pytest.fixture(scope="session")
def tiny_store(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Facts, pictures and icons of the tiny depot, and nothing else, for who wants a store of one's own: copy it."""

    def fill(store: Path) -> None:
        # A copy, for git knows how the tests' own depot was changed.
        where = ["--catalogue", str(copied(store.with_name("tiny-depot"))), "--store", str(store), "--config", str(ROOT / "mkdocs.yml")]
        assert main(["build", *where, "--site", str(store.with_name("tiny-site"))]) == 0
        for left in ("pages", "memory"):
            shutil.rmtree(store / left)

    return made_once(tmp_path_factory, "tiny-store", fill)


@pytest.fixture(scope="session")
def warm_store(tmp_path_factory: pytest.TempPathFactory, tiny_store: Path) -> Path:
    """Facts and pictures of the tiny depot and of the demo catalogue, for every test that does not test the store.

    Many tests use it at once, and what they measure newly is kept in it as well.
    """

    def fill(store: Path) -> None:
        shutil.copytree(tiny_store, store)
        if (ROOT / ".store").is_dir():
            left = shutil.ignore_patterns("pages", "memory", ".new-*")
            shutil.copytree(ROOT / ".store", store, ignore=left, dirs_exist_ok=True)
        assert main(["check", "--catalogue", str(ROOT / "catalogue"), "--store", str(store)]) == 0

    return made_once(tmp_path_factory, "warm-store", fill)


@pytest.fixture(scope="session")
def keys(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with an SSH key for each role of the tiny depot, by its name, and one of a stranger."""
    return made_once(tmp_path_factory, "ssh-keys", made_keys)


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """One Chromium for all tests of a process: Debian's, by its path, with every other host out of reach."""
    if not Path(CHROMIUM).exists():
        if os.environ.get("CI"):
            pytest.fail(f"there is no Chromium at {CHROMIUM}; the CI machine must have one")
        pytest.skip(f"there is no Chromium at {CHROMIUM}; name yours in SPARES_CHROMIUM")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=CHROMIUM, args=SWITCHES
        )
        yield browser
        browser.close()
