"""Bare MkDocs with the plugin: the same pages, the same care, and a site that follows every edit."""

import re
import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import pytest
from mkdocs.config import load_config

from generator.edge.site.settings import completed
from generator.finder.scripts import PLACE
from tests.browser.bundles import SCRIPTS
from tests.edge.conftest import bytes_of
from tests.fixtures.commands import ran

BIN = Path(sys.executable).parent
KNOB = Path("catalogue/parts/EX-0001-lid-knob/part.yml")


def mkdocs(*arguments, **options):
    return ran(arguments, text=True, script=BIN / "mkdocs", **options)


def test_mkdocs_build_gives_the_same_bytes(depot, spares):
    (depot / "site_src" / "guide.md").write_text("# Guide\n\n[the knob](parts/EX-0001.md)\n")
    done = mkdocs("build", "--site-dir", "bare")
    assert (done.returncode, "WARNING" in done.stderr) == (0, False)
    assert spares("build")[0] == 0
    assert bytes_of(depot / "bare") == bytes_of(depot / "site")
    assert spares("build", "--site", "bare")[0] == 0  # it may be replaced, for spares made it


@pytest.fixture
def scripts(depot):
    """The browser's scripts where a depot has them: among its own pages."""
    shutil.copytree(SCRIPTS.folder, depot / "site_src" / PLACE)


def test_scripts_are_joined_whichever_command_writes_the_site(depot, spares, scripts):
    (depot / "site_src" / PLACE / "own.js").write_text("// a depot's own\n")
    done = mkdocs("build", "--site-dir", "bare", "--strict")
    assert (done.returncode, "WARNING" in done.stderr) == (0, False)
    assert spares("build")[0] == 0
    assert bytes_of(depot / "bare") == bytes_of(depot / "site")
    written = bytes_of(depot / "site" / PLACE)
    assert set(written) == {"own.js", *(f"{name}.js" for name in SCRIPTS.bundles)}
    for name in SCRIPTS.bundles:
        assert without_stamp(written[f"{name}.js"].decode()) == SCRIPTS.bundle(name)
    assert spares("build", "--markdown", "plain")[0] == 0
    assert not (depot / "plain" / PLACE).exists()


@pytest.mark.parametrize("order", ["judge: [judge/gone.js]\n", "just words\n", "judge: [\n"])
def test_scripts_that_cannot_be_joined_keep_the_last_good_site(depot, spares, scripts, order):
    assert spares("build")[0] == 0
    before = bytes_of(depot / "site")
    (depot / "site_src" / PLACE / "order.yml").write_text(order)
    code, _, err = spares("build")
    assert code == 1
    assert "the browser's scripts cannot be joined" in err
    assert bytes_of(depot / "site") == before


def test_its_strictness_counts_our_problems(depot):
    assert mkdocs("build", "--strict").returncode == 0
    KNOB.write_text(KNOB.read_text().replace("material: petg", "material: petgg"))
    done = mkdocs("build", "--strict")
    assert done.returncode == 1
    assert "LINK01: names the material 'petgg'" in done.stderr
    assert "Aborted with 1 errors in strict mode!" in done.stdout
    assert mkdocs("build").returncode == 0


def test_a_depot_that_cannot_be_read_keeps_the_last_good_site(depot):
    mkdocs("build")
    before = bytes_of(depot / "site")
    (depot / "catalogue" / "depot.yml").unlink()
    done = mkdocs("build")
    assert done.returncode == 1
    assert "depot.yml" in done.stderr
    assert "Traceback" not in done.stderr
    assert bytes_of(depot / "site") == before


def test_a_catalogue_of_a_later_format_keeps_the_last_good_site(depot):
    mkdocs("build")
    before = bytes_of(depot / "site")
    file = depot / "catalogue" / "depot.yml"
    file.write_text(file.read_text("utf-8").replace("format: 2", "format: 3"), "utf-8")
    done = mkdocs("build")
    assert (done.returncode, "depot.yml:1:9: error DEPOT03: the catalogue is of format 3" in done.stderr) == (1, True)
    assert "Traceback" not in done.stderr
    assert bytes_of(depot / "site") == before


def test_folders_are_options_relative_to_the_file(depot):
    (depot / "catalogue").rename(depot / "depot-north")
    done = mkdocs("build")
    assert (done.returncode, "there is no folder" in done.stderr) == (1, True)
    text = (
        (depot / "mkdocs.yml")
        .read_text()
        .replace("[spares]", "[spares: {catalogue: depot-north, store: kept}]")
    )
    (depot / "mkdocs.yml").write_text(text)
    elsewhere = depot / "elsewhere"
    elsewhere.mkdir()
    done = mkdocs("build", "-f", depot / "mkdocs.yml", cwd=elsewhere)
    assert done.returncode == 0
    assert (depot / "kept").is_dir()
    assert list(elsewhere.iterdir()) == []


def test_a_page_by_hand_in_the_place_of_a_made_one_is_a_warning(depot):
    (depot / "site_src" / "vehicles.md").write_text("# Mine\n")
    done = mkdocs("build", "--strict")
    assert done.returncode == 1
    assert "vehicles.md is written by hand and also made from the catalogue" in done.stderr


@pytest.fixture
def free_port():
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return found.getsockname()[1]


@pytest.mark.parametrize(
    "command", [["spares", "serve", "--address"], ["mkdocs", "serve", "--dev-addr"]], ids=str
)
def test_serve_follows_an_edit_survives_a_mistake_and_gives_the_same_pages(
    depot, spares, scripts, free_port, command
):
    assert spares("build")[0] == 0
    address = f"127.0.0.1:{free_port}"
    said = depot / "said.txt"
    with said.open("w") as told:
        process = subprocess.Popen([BIN / command[0], *command[1:], address], stdout=told, stderr=subprocess.STDOUT)
    try:
        shown = waited_for(address, "Lid knob")
        assert without_reload(shown) == (depot / "site/parts/EX-0001.html").read_text()
        for name in SCRIPTS.bundles:
            with urllib.request.urlopen(f"http://{address}/{PLACE}/{name}.js", timeout=10) as answer:
                assert without_stamp(answer.read().decode()) == SCRIPTS.bundle(name)
        KNOB.write_text(KNOB.read_text().replace("Lid knob", "Lid knob, new"))
        waited_for(address, "Lid knob, new")
        depot_yml = (depot / "catalogue/depot.yml").read_text()
        (depot / "catalogue/depot.yml").write_text("railway: [\n")
        wait_for(lambda: "depot.yml" in said.read_text(), "the mistake is told")
        assert process.poll() is None
        (depot / "catalogue/depot.yml").write_text(depot_yml)
        KNOB.write_text(KNOB.read_text().replace("Lid knob, new", "Lid knob, newer"))
        waited_for(address, "Lid knob, newer")
    finally:
        process.send_signal(signal.SIGINT)
        process.wait(timeout=60)
    assert process.returncode in (0, 130)
    assert "Traceback" not in said.read_text()


def test_serve_on_a_taken_address_is_one_message(depot, spares, free_port):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", free_port))
        taken.listen()
        code, _, err = spares("serve", "--address", f"127.0.0.1:{free_port}")
    assert code == 1
    assert f"spares: serving on 127.0.0.1:{free_port} failed: address already in use" in err
    assert "choose another" in err


@pytest.mark.parametrize("address", ["foo", "127.0.0.1", "127.0.0.1:0", "127.0.0.1:99999", ":8000", "127.0.0.1:x", "127.0.0.1:-1"])
def test_serve_takes_an_address_and_nothing_else(depot, spares, address):
    code, _, err = spares("serve", f"--address={address}")
    assert code == 2
    assert "write it as 127.0.0.1:8100" in err


def test_settings_that_are_filled_in_can_be_read_at_every_edit(tmp_path):
    file = tmp_path / "mkdocs.yml"
    file.write_text("site_name: x\nplugins: [spares]\n", encoding="utf-8")
    filled = completed(file)
    first, second = (load_config(str(file), **filled) for _ in range(2))
    assert first.markdown_extensions == second.markdown_extensions
    assert first.mdx_configs == second.mdx_configs
    assert first.theme.dirs == second.theme.dirs


def waited_for(address, words):
    """The knob's page, as soon as it holds the words."""
    page = ""

    def holds_them():
        nonlocal page
        try:
            with urllib.request.urlopen(f"http://{address}/parts/EX-0001.html", timeout=10) as answer:
                page = answer.read().decode()
        except OSError:
            page = ""
        return words in page

    wait_for(holds_them, f"the page holds '{words}'")
    return page


def wait_for(comes, what, seconds=60):
    deadline = time.monotonic() + seconds
    while not comes():
        assert time.monotonic() < deadline, f"never came: {what}"
        time.sleep(0.1)


def without_stamp(script):
    """A script without the last line, which names the build."""
    return script[: script.rindex("(globalThis.sparesStamps=")]


def without_reload(page):
    return re.sub(r"<script>.*?livereload\(.*?</script>", "", page, flags=re.DOTALL)
