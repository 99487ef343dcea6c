"""`spares build`: a site as a whole or not at all, whatever happens on the way."""

import errno
import shutil
import subprocess
import time
from pathlib import Path

import pytest

from generator.edge.disk import swapping
from generator.edge.refusals import Ending
from generator.edge.site import plain_files, site_builder
from tests.edge.conftest import bytes_of, names_in

ALWAYS = {".store", "catalogue", "mkdocs.yml", "site_src", "theme"}
PART = Path("catalogue/parts/EX-0001-lid-knob/part.yml")


@pytest.fixture
def good(depot, spares):
    """A depot with a good site that must not be lost."""
    assert spares("build")[0] == 0
    (depot / "site" / "old.txt").write_text("the last good site")
    return depot


def broken(file=PART):
    file.write_text(file.read_text().replace("material: petg", "material: petgg"))


def assert_last_good_site(depot, extra=()):
    assert (depot / "site" / "old.txt").read_text() == "the last good site"
    assert names_in(depot) == sorted({*ALWAYS, "site", *extra})


def test_a_site_is_built_and_told(depot, spares):
    code, out, err = spares("build")
    assert (code, len(err.splitlines())) == (0, 1)
    assert err.startswith("note: nothing here remembers what the records said before")
    assert "3 parts, by the kindest verdict of each: " in out
    assert "; no problems." in out
    assert out.endswith("Site for 25 Nov 2026: site/index.html\n")
    assert names_in(depot) == sorted({*ALWAYS, "site"})
    built = bytes_of(depot / "site")
    assert {"index.html", "parts/EX-0001.html", "assets/data/parts/EX-0001.js"} <= set(built)
    assert not any("sitemap" in name for name in built)
    # Without git the days in the records tell what changed lately.
    assert b"From the days that the records give" in built["lately.html"]
    assert b"Trial opened" in built["lately.html"]


def test_a_new_site_takes_the_place_of_the_old_one_as_a_whole(good, spares):
    assert spares("build")[0] == 0
    assert not (good / "site" / "old.txt").exists()
    assert names_in(good) == sorted({*ALWAYS, "site"})


def test_same_input_same_bytes_whatever_the_time(depot, spares):
    spares("build")
    first = bytes_of(depot / "site")
    time.sleep(1.1)  # a second is what file formats such as gzip note
    spares("build")
    assert bytes_of(depot / "site") == first


def test_the_day_can_be_said(depot, spares, monkeypatch):
    monkeypatch.delenv("SOURCE_DATE_EPOCH")
    _, out, _ = spares("build", "--on", "2026-12-24")
    assert "Site for 24 Dec 2026" in out
    assert b"2026-12-24" in (depot / "site" / "assets" / "data" / "rules.js").read_bytes()


def test_a_broken_part_has_its_page_and_is_said_loudly(good, spares):
    broken()
    code, out, _ = spares("build")
    assert code == 0
    assert "part.yml:" in out
    assert "BROKEN, and shown as 'Do not fit' until mended: EX-0001" in out
    assert (good / "site" / "parts" / "EX-0001.html").exists()
    assert not (good / "site" / "old.txt").exists()


def test_strict_keeps_the_last_good_site(good, spares):
    broken()
    code, out, err = spares("build", "--strict")
    assert code == 1
    assert "part.yml:" in out
    assert (
        err == "spares: 1 error, so with --strict the last good site stays\n  mend: mend the errors above\n"
    )
    assert_last_good_site(good)


def test_strict_counts_dead_links(good, spares):
    (good / "site_src" / "guide.md").write_text("[gone](nowhere.md)\n")
    code, _, err = spares("build", "--strict")
    assert code == 1
    assert "nowhere.md" in err
    assert_last_good_site(good)


def test_many_problems_are_counted_not_poured_out(good, spares):
    PART.write_text(PART.read_text() + "".join(f"stranger_{i}: 1\n" for i in range(20)))
    _, out, _ = spares("build")
    told = "… and 8 errors more, in parts/EX-0001-lid-knob/part.yml; `spares check` lists all"
    assert told in out


def test_without_its_depot_there_is_no_site(good, spares):
    Path("catalogue/depot.yml").write_text("railway: [\n")
    code, _, err = spares("build")
    assert (code, err.splitlines()[0]) == (
        1,
        "spares: the depot itself cannot be read, so the last good site stays",
    )
    assert_last_good_site(good)


@pytest.mark.parametrize(
    ("number", "says"),
    [
        (errno.ENOSPC, "spares: writing site failed: the disk is full"),
        (errno.EROFS, "spares: writing site failed: the disk can only be read"),
    ],
)
def test_a_disk_that_fails_in_the_middle_keeps_the_last_good_site(good, spares, monkeypatch, number, says):
    written = []

    def failing(content, path):
        written.append(path)
        if len(written) > 3:
            raise OSError(number, "told by the test", path)
        Path(path).parent.mkdir(parents=True, exist_ok=True)
        Path(path).write_bytes(content)

    monkeypatch.setattr("mkdocs.utils.write_file", failing)
    code, _, err = spares("build", "--site", "site")
    assert code == 1
    assert err.startswith(says)
    assert len(written) > 3
    assert_last_good_site(good)


def test_a_disk_that_fails_for_plain_markdown_keeps_the_last_good_one(depot, spares, monkeypatch):
    spares("build", "--markdown", "book")
    before = bytes_of(depot / "book")

    def full(*_):
        raise OSError(errno.ENOSPC, "told by the test")

    monkeypatch.setattr(plain_files, "_place", full)
    code, _, err = spares("build", "--markdown", "book")
    assert (code, err.splitlines()[0]) == (1, "spares: writing book failed: the disk is full")
    assert bytes_of(depot / "book") == before
    assert names_in(depot) == sorted({*ALWAYS, "book"})


def test_a_really_full_disk(good, spares):
    """A file system of 64 kB, where the account that runs the tests may mount one."""
    small = good / "small"
    small.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(small)]
    if not shutil.which("mount") or subprocess.run(mount, capture_output=True, check=False).returncode:
        pytest.skip("this account may not mount a small file system")
    try:
        code, _, err = spares("build", "--site", small / "site")
        assert (code, names_in(small)) == (1, [])
        assert err.startswith("spares: writing small/site failed: the disk is full")
        code, _, err = spares("build", "--site", small)
        assert code == 1
    finally:
        subprocess.run(["umount", str(small)], check=True)


def test_a_folder_that_is_not_ours_is_never_replaced(depot, spares):
    (depot / "photos").mkdir()
    (depot / "photos" / "holiday.jpg").write_bytes(b"x")
    code, _, err = spares("build", "--site", "photos")
    assert code == Ending.MISUSE
    assert err.startswith("spares: photos holds files that spares did not make")
    assert names_in(depot / "photos") == ["holiday.jpg"]
    assert spares("build", "--site", "mkdocs.yml")[0] == Ending.MISUSE
    assert spares("build", "--markdown", "catalogue")[0] == Ending.MISUSE


def test_a_site_behind_a_link_is_replaced_where_it_lies(depot, spares, tmp_path_factory):
    served = tmp_path_factory.mktemp("served") / "www"
    served.mkdir()
    (depot / "site").symlink_to(served)
    assert spares("build")[0] == 0
    assert (depot / "site").is_symlink()
    assert (served / "index.html").exists()
    assert names_in(served.parent) == ["www"]


@pytest.mark.parametrize("in_one_step", [True, False], ids=["in one step", "by two renames"])
def test_an_exchange_that_fails_puts_the_old_site_back(good, spares, monkeypatch, in_one_step):
    rename = Path.rename

    def refusing(path, target):
        if ".new-" in path.name:
            raise OSError(errno.EBUSY, "told by the test")
        return rename(path, target)

    def refusing_in_one_step(_one, _other):
        raise OSError(errno.EBUSY, "told by the test")

    monkeypatch.setattr(swapping.Path, "rename", refusing)
    monkeypatch.setattr(swapping, "swapped", refusing_in_one_step if in_one_step else lambda *_: False)
    code, _, err = spares("build")
    assert (code, err.splitlines()[0]) == (
        1,
        "spares: writing site failed: it is in use, perhaps as a mount point",
    )
    assert_last_good_site(good)


def test_what_a_killed_build_left_is_mended_by_the_next(good, spares):
    ended = subprocess.Popen(["true"])
    ended.wait()
    (good / "site").rename(good / f".site.old-{ended.pid}")
    (good / f".site.new-{ended.pid}").mkdir()
    broken()
    assert spares("build", "--strict")[0] == 1
    assert names_in(good) != sorted({*ALWAYS, "site"})  # nothing was begun, so nothing was tidied
    shutil.copytree(good / f".site.old-{ended.pid}", good / "copy")
    PART.write_text(PART.read_text().replace("petgg", "petg"))
    (good / "site_src" / "guide.md").write_text("[gone](nowhere.md)\n")
    assert spares("build", "--strict")[0] == 1
    assert_last_good_site(good, extra=["copy"])


def test_markdown_is_the_same_pages_as_plain_files(depot, spares):
    (depot / "site_src" / "guide.md").write_text("# Guide\n")
    code, out, _ = spares("build", "--markdown", "book")
    assert (code, out.splitlines()[-1]) == (0, "Markdown for 25 Nov 2026: book")
    book = bytes_of(depot / "book")
    assert book["guide.md"] == b"# Guide\n"
    assert {"index.md", "parts/EX-0001.md", "assets/pictures/EX-0001-front.webp"} <= set(book)
    assert not (depot / "site").exists()
    (depot / "mkdocs.yml").unlink()
    assert spares("build", "--markdown", "book")[0] == 0
    assert set(book) - set(bytes_of(depot / "book")) == {"guide.md"}


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (None, "there is no mkdocs.yml"),
        ("site_name: x\ndocs_dir: site_src\nplugins: []\n", "mkdocs.yml does not name the plugin"),
        ("site_name: x\ndocs_dir: gone\nplugins: []\n", "mkdocs.yml: Config value 'docs_dir': The path"),
        ("site_name: x\nplugins: [nonesuch]\n", "mkdocs.yml: "),
        ("site_name: [\n", "mkdocs.yml: "),
    ],
)
def test_a_wrong_site_file_is_misuse(depot, spares, text, says):
    (depot / "mkdocs.yml").unlink()
    if text is not None:
        (depot / "mkdocs.yml").write_text(text)
    code, _, err = spares("build")
    assert code == Ending.MISUSE
    assert err.startswith(f"spares: {says}")


def test_a_theme_without_a_template_is_one_message(good, spares):
    (good / "theme" / "part.html").unlink()
    code, _, err = spares("build")
    assert code == 1
    assert err.startswith("spares: the site could not be put together: a template of the theme: 'part.html'")
    assert_last_good_site(good)


def test_the_epoch_is_put_back(depot, spares, monkeypatch):
    monkeypatch.delenv("SOURCE_DATE_EPOCH")
    spares("build")
    assert "SOURCE_DATE_EPOCH" not in site_builder.os.environ


def test_a_zip_of_somebody_else_is_never_overwritten(depot, spares):
    (depot / "site.zip").write_bytes(b"the holiday pictures")
    code, _, err = spares("build", "--zip")
    assert code == Ending.MISUSE
    assert "spares: site.zip is there already and was not made by spares" in err.splitlines()
    assert (depot / "site.zip").read_bytes() == b"the holiday pictures"
    (depot / "site.zip").unlink()
    assert spares("build", "--zip")[0] == 0
    assert spares("build", "--zip")[0] == 0


def test_hidden_entries_are_never_deleted(good, spares):
    (good / "site" / ".git").mkdir()
    code, _, err = spares("build")
    assert (code, "site holds .git, which spares did not make" in err) == (Ending.MISUSE, True)
    assert_last_good_site(good)
    assert (good / "site" / ".git").is_dir()


@pytest.mark.parametrize("inside", ["catalogue/site", "site_src/site", "catalogue"])
def test_a_site_never_grows_inside_its_sources(depot, spares, inside):
    before = bytes_of(depot / "catalogue")
    code, _, err = spares("build", "--site", inside)
    assert (code, "which the site is made from" in err) == (Ending.MISUSE, True)
    assert bytes_of(depot / "catalogue") == before
