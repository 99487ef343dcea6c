"""Does the tablet keep one whole catalogue, whatever happens to network, server, disk and update?"""

import json
import shutil
import zipfile
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Browser, BrowserContext, Page, expect

from generator.pages.offline.app_manifest import TOUCH_ICON
from tests.browser.conftest import PORTRAIT, pressed
from tests.browser.depot_server import DepotServer, serving
from tests.browser.patience import wait_until
from tests.fixtures.tablets import unseen
from tests.pages.conftest import build_site
from tests.pages.sample import CATALOGUE, DAY

pytestmark = [pytest.mark.browser, pytest.mark.slow]

LATCH = "parts/P-0001.html"
NOON = datetime(DAY.year, DAY.month, DAY.day, 12, tzinfo=UTC)
KEPT = """async () => {
  await navigator.serviceWorker.ready;
  const store = await caches.open("spares-files");
  return (await store.keys()).map((request) => decodeURI(request.url));
}"""
# Looks for a newer catalogue and waits for how its installation ends: "installed" or "redundant".
UPDATE = """async () => {
  const registration = await navigator.serviceWorker.ready;
  const ended = new Promise((resolve) => registration.addEventListener("updatefound", () => {
    const coming = registration.installing;
    const look = () => ["installed", "redundant"].includes(coming.state) && resolve(coming.state);
    coming.addEventListener("statechange", look);
    look();
  }, { once: true }));
  const nothing = new Promise((resolve) => setTimeout(() => resolve("nothing came"), 8000));
  registration.update().catch(() => undefined);
  return await Promise.race([ended, nothing]);
}"""


@pytest.fixture(scope="module")
def builds(tmp_path_factory: pytest.TempPathFactory, sample_site: Path, warm_store: Path) -> tuple[Path, Path]:
    """The sample's site, and the site after an edit: the latch has a new name and a large new picture came."""
    folder = tmp_path_factory.mktemp("builds")
    edited = Path(shutil.copytree(CATALOGUE, folder / "catalogue"))
    part = edited / "parts/P-0001-latch/part.yml"
    part.write_text(part.read_text(encoding="utf-8").replace("name: ", "name: Renamed ", 1), encoding="utf-8")
    photos = edited / "parts/P-0001-latch/photos"
    photos.mkdir(exist_ok=True)
    Image.effect_noise((2000, 1600), 90).convert("RGB").save(photos / "large.png")
    return sample_site, build_site(edited, folder / "two", warm_store)


class Kept:
    """A tablet that has been on the home page once and has its copy, on the day of its build; for all tests of this file.

    To keep another copy costs as much as a whole test, so each begins with what the one before left: `old` is kept, `new` is not.
    """

    def __init__(self, context: BrowserContext, depot: DepotServer, builds: tuple[Path, Path]) -> None:
        self.context, self.depot, self.builds = context, depot, builds
        self.page = unseen(context)
        self.page.clock.set_fixed_time(NOON)
        self.page.goto(depot.url)
        wait_until(self.page, "navigator.serviceWorker.controller")

    @property
    def old(self) -> Path:
        return self.builds[self.is_renamed()]

    @property
    def new(self) -> Path:
        return self.builds[not self.is_renamed()]

    def is_renamed(self) -> bool:
        """Which of the two the tablet itself reads."""
        return "Renamed" in self.page.evaluate("async url => await (await fetch(url)).text()", f"{self.depot.url}{LATCH}")

    def rested(self) -> None:
        """In the network, on the home page, by itself, and with nothing new on the server."""
        for other in self.context.pages:
            if other != self.page:
                other.close()
        self.context.set_offline(False)
        self.depot.missing, self.depot.stale = set(), {}
        self.depot.folder = self.old
        self.page.goto(self.depot.url)
        self.page.evaluate("navigator.serviceWorker.ready.then(one => one.update())")
        expect(self.page.locator(".newer")).to_have_count(0)


@pytest.fixture(scope="module")
def one_kept(chromium: Browser, builds: tuple[Path, Path]) -> Iterator[Kept]:
    context = chromium.new_context(viewport=PORTRAIT, has_touch=True, locale="en-GB")
    with serving(builds[0]) as depot:
        yield Kept(context, depot, builds)
    context.close()


@pytest.fixture
def tablet(one_kept: Kept) -> Iterator[BrowserContext]:
    yield one_kept.context
    one_kept.rested()


@pytest.fixture
def depot(one_kept: Kept) -> DepotServer:
    return one_kept.depot


@pytest.fixture
def kept(one_kept: Kept, tablet: BrowserContext) -> Page:
    """Its page, which draws no frame: what is pressed is pressed by `pressed`."""
    assert tablet
    return one_kept.page


@pytest.fixture
def turn(one_kept: Kept) -> tuple[Path, Path]:
    """The build that it keeps, and the other."""
    return one_kept.old, one_kept.new


def files_of(site: Path) -> list[str]:
    return sorted(each.relative_to(site).as_posix() for each in site.rglob("*") if each.is_file())


def listed(site: Path) -> list[list]:
    """The files that sw.js names: path, hash, kept at once, bytes."""
    text = (site / "sw.js").read_text(encoding="utf-8")
    return json.loads(text.split("const FILES = ", 1)[1].split(";\n", 1)[0])


def title_of(page: Page, url: str) -> str:
    page.goto(url)
    return page.locator("h1").inner_text()


def of_each_kind(site: Path) -> list[str]:
    """All pages of the site but those that others are like: of these, of each folder, the first and the last."""
    pages = [path for path in files_of(site) if path.endswith(".html") and path != "404.html"]
    folders = {path.rpartition("/")[0]: [each for each in pages if each.rpartition("/")[0] == path.rpartition("/")[0]] for path in pages}
    return [page for folder, all_ in folders.items() for page in (all_ if folder == "" else dict.fromkeys((all_[0], all_[-1])))]


READ = """async paths => Promise.all(paths.map(async path => {
  const answer = await fetch(path), all = await crypto.subtle.digest("SHA-256", await answer.arrayBuffer());
  return [path, answer.status, [...new Uint8Array(all)].map(byte => byte.toString(16).padStart(2, "0")).join("")];
}))"""


def test_with_the_network_off_every_page_and_picture_is_there(
    kept: Page, tablet: BrowserContext, depot: DepotServer, turn
) -> None:
    """Each file byte for byte; and one page of each kind in use, which asks for nothing else."""
    site, _ = turn
    failed: list[tuple[str, str | None]] = []
    tablet.on("requestfailed", lambda request: failed.append((request.url, request.failure)))
    tablet.on("response", lambda answer: failed.append((answer.url, "refused")) if answer.status >= 400 else None)
    kept.goto(depot.url)
    tablet.set_offline(True)
    due = [[path, 200, digest] for path, digest, is_kept, _ in listed(site) if is_kept]
    assert len([path for path, *_ in due if path.endswith((".html", ".webp"))]) > 20
    assert kept.evaluate(READ, [path for path, *_ in due]) == due
    for path in of_each_kind(site):
        kept.goto(depot.url + path, wait_until="load")
        # A drawing alone on its page has its approval's day and no verdict, so no age either.
        said = kept.locator("main svg, main" if path.startswith("drawings/") else ".copy-age")
        assert said.first.is_visible(), path
    kept.goto(depot.url + "index.html?q=latch")
    expect(kept.locator(".hit__number").first).to_have_text("P-0001")
    # A page is loaded before the icon of its tab is there: who goes on to the next page breaks that off.
    icon = depot.url + TOUCH_ICON
    assert [each for each in failed if each != (icon, "net::ERR_ABORTED")] == []
    assert icon in [url.partition("?")[0] for url in kept.evaluate(KEPT)]


def test_with_the_server_really_stopped_an_unvisited_page_opens(reader: Page, builds) -> None:
    with serving(builds[0]) as depot:
        reader.goto(depot.url)
        wait_until(reader, "navigator.serviceWorker.controller")
    assert title_of(reader, depot.url + "parts/P-0002.html")
    assert title_of(reader, depot.url)  # the folder means its index
    reader.goto(depot.url + "parts/none.html")
    assert reader.locator("h1").inner_text()  # our own page for lost ones
    with pytest.raises(Exception, match="ERR_CONNECTION_REFUSED"):
        reader.goto(f"http://127.0.0.1:{depot.port}/elsewhere.html")


def test_the_worker_lists_exactly_what_was_written(builds) -> None:
    for site in builds:
        written = [path for path in files_of(site) if path != "sw.js"]
        assert [each[0] for each in listed(site)] == written
        assert [each[3] for each in listed(site)] == [(site / path).stat().st_size for path in written]
        assert not [path for path in written if path.endswith(".map") or "sitemap" in path]


def says(page: Page, build: Path, builds: tuple[Path, Path]) -> None:
    """Waits until the latch is called on the page as that build calls it."""
    title = expect(page.locator("h1"))
    (title.to_contain_text if build == builds[1] else title.not_to_contain_text)("Renamed")


def test_a_newer_catalogue_waits_until_it_is_taken_and_then_comes_whole(
    kept: Page, depot: DepotServer, builds, turn
) -> None:
    (was, new), before = turn, set(kept.evaluate(KEPT))
    old = title_of(kept, depot.url + LATCH)
    depot.folder, depot.asked[:] = new, []
    assert kept.evaluate(UPDATE) == "installed"
    bar = kept.locator(".newer")
    expect(bar).to_be_visible()
    there = {url.removeprefix(depot.url) for url in before}
    assert set(depot.asked) - {"sw.js"} == {path for path, digest, is_kept, _ in listed(new) if is_kept and f"{path}?sha256={digest}" not in there}  # what was there already is not fetched anew
    assert depot.asked.count(LATCH) == 1
    kept.reload()
    assert kept.locator("h1").inner_text() == old  # the old one is read until the new one is taken
    expect(bar).to_be_visible()
    button = bar.get_by_role("button").first
    assert button.bounding_box()["height"] >= 48
    pressed(button)
    says(kept, new, builds)
    expect(bar).to_have_count(0)
    assert not any(
        each[1] in url
        for url in kept.evaluate(KEPT)
        for each in listed(was)
        if each not in listed(new)
    )


def test_every_open_page_goes_over_to_the_new_build(
    kept: Page, tablet: BrowserContext, depot: DepotServer, builds, turn
) -> None:
    other = unseen(tablet)
    other.goto(depot.url + LATCH)
    says(other, turn[0], builds)
    depot.folder = turn[1]
    assert kept.evaluate(UPDATE) == "installed"
    pressed(kept.locator(".newer button").first)
    says(other, turn[1], builds)


@pytest.mark.parametrize("mishap", ["missing", "stale", "cut"])
def test_half_an_update_leaves_the_old_catalogue_whole(
    kept: Page, tablet: BrowserContext, depot: DepotServer, builds, turn, tmp_path: Path, mishap
) -> None:
    """One mishap, followed by the whole update."""
    old, new = turn
    depot.folder = new
    if mishap == "missing":
        depot.missing = {LATCH}
    else:
        depot.stale = {LATCH: old if mishap == "stale" else tmp_path}
    if mishap == "cut":
        (tmp_path / "parts").mkdir()
        (tmp_path / LATCH).write_bytes((new / LATCH).read_bytes()[:-100])
    assert kept.evaluate(UPDATE) == "redundant"
    assert kept.locator(".newer").count() == 0
    tablet.set_offline(True)
    titles = [title_of(kept, depot.url + path) for path in ("index.html", "parts/P-0002.html", "requests.html", LATCH)]
    assert all(titles)
    assert ("Renamed" in titles[-1]) == (old == builds[1])
    depot.missing, depot.stale = set(), {}
    tablet.set_offline(False)  # back in the network it looks by itself
    pressed(kept.locator(".newer button").first)
    says(kept, new, builds)
    expect(kept.locator(".newer")).to_have_count(0)


def test_a_full_disk_leaves_the_old_catalogue_whole(
    kept: Page, tablet: BrowserContext, depot: DepotServer, builds, turn
) -> None:
    old, new = turn
    kept.goto(depot.url + "guide/tablet.html")
    before = set(kept.evaluate(KEPT))
    used = kept.evaluate("async () => (await navigator.storage.estimate()).usage")
    devtools = tablet.new_cdp_session(kept)
    origin = depot.url.rsplit("/spares/", 1)[0]
    devtools.send("Storage.overrideQuotaForOrigin", {"origin": origin, "quotaSize": used + 200_000})
    depot.folder = new
    assert kept.evaluate(UPDATE) == "redundant"
    expect(kept.locator("[data-offline-panel] p").first).to_contain_text("storage is full")
    wait_until(kept, f"({KEPT})().then((now) => now.sort().join() === {json.dumps(sorted(before))}.sort().join())")
    tablet.set_offline(True)  # the browser tries by itself once more, and makes room again as well
    kept.goto(depot.url + LATCH)
    says(kept, old, builds)
    devtools.send("Storage.overrideQuotaForOrigin", {"origin": origin})
    tablet.set_offline(False)  # back in the network it looks by itself
    pressed(kept.locator(".newer button").first)
    says(kept, new, builds)


def test_documents_come_on_demand_and_all_of_them_by_one_button(reader: Page, tmp_path: Path, builds) -> None:
    site = Path(shutil.copytree(builds[0], tmp_path / "site"))
    with_pdf(site, b"%PDF-1.4 one")
    with serving(site) as depot:
        reader.goto(depot.url + "guide/tablet.html")
        first = reader.locator("[data-offline-panel] p").first
        expect(first).to_contain_text("Kept on this tablet")
        reader.context.set_offline(True)
        reader.goto(depot.url + "parts/drawing.pdf")
        expect(reader.locator("body")).to_contain_text("not kept on this tablet")
        reader.context.set_offline(False)
        reader.goto(depot.url + "guide/tablet.html")
        pressed(reader.get_by_role("button", name="Keep everything"))
        expect(first).to_contain_text("Everything is kept")
        assert reader.get_by_role("button", name="Keep everything").count() == 0
        # From then on an update brings everything too.
        with_pdf(site, b"%PDF-1.4 two")
        assert reader.evaluate(UPDATE) == "installed"
        pressed(reader.locator(".newer button").first)
        expect(first).to_contain_text("Everything is kept")
        reader.context.set_offline(True)
        body = reader.evaluate("async (url) => await (await fetch(url)).text()", depot.url + "parts/drawing.pdf")
        assert body.strip() == "%PDF-1.4 two"


def with_pdf(site: Path, content: bytes) -> None:
    """A drawing more in a built site, and its worker written anew as a build does."""
    from generator.edge.site.kept_offline import finish_for_tablets
    from generator.pages.wording import wording

    (site / "parts/drawing.pdf").write_bytes(content.ljust(400_000))  # too large to come unasked
    finish_for_tablets(site, wording("en"))


def test_from_a_stick_every_page_opens_without_any_worker(chromium: Browser, builds, tmp_path: Path) -> None:
    from generator.edge.site.zipped import zipped

    zipped(builds[0], tmp_path / "catalogue.zip")
    with zipfile.ZipFile(tmp_path / "catalogue.zip") as archive:
        archive.extractall(tmp_path / "stick")
    site = tmp_path / "stick/catalogue"
    assert files_of(site) == files_of(builds[0])
    context = chromium.new_context(offline=True)
    page, said = unseen(context), []
    page.on(
        "console", lambda message: said.append(message.text) if message.type in ("error", "warning") else None
    )
    page.on("pageerror", lambda error: said.append(str(error)))
    for path in (each for each in files_of(site) if each.endswith(".html") and each != "404.html"):
        page.goto((site / path).as_uri())
        assert page.locator("h1").count() == 1, path
    page.goto((site / "guide/tablet.html").as_uri())
    expect(page.locator("[data-offline-panel]")).to_contain_text("whole copy already")
    assert said == []
    context.close()


def test_the_home_screen_gets_name_and_icons(kept: Page, depot: DepotServer) -> None:
    link = kept.locator("link[rel=manifest]")
    manifest = kept.evaluate(
        "async (url) => await (await fetch(url)).json()", link.evaluate("each => each.href")
    )
    assert manifest["name"].endswith("Sample depot")
    assert manifest["display"] == "standalone"
    for icon in manifest["icons"]:
        side = int(icon["sizes"].split("x")[0])
        size = kept.evaluate(
            """async (url) => { const image = new Image(); image.src = url; await image.decode();
               return [image.naturalWidth, image.naturalHeight]; }""",
            depot.url + icon["src"],
        )
        assert size == [side, side]
    devtools = kept.context.new_cdp_session(kept)
    assert devtools.send("Page.getInstallabilityErrors")["installabilityErrors"] in (
        [],
        [{"errorId": "in-incognito", "errorArguments": []}],
    )
