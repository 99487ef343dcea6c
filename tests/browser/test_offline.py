"""Does the tablet keep one whole catalogue, whatever happens to network, server, disk and update?"""

import json
import shutil
import zipfile
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Browser, BrowserContext, Page, expect

from generator.pages.offline.app_manifest import TOUCH_ICON
from tests.browser.depot_server import DepotServer, serving
from tests.browser.patience import wait_until
from tests.pages.conftest import build_site
from tests.pages.sample import CATALOGUE, DAY

pytestmark = [pytest.mark.browser, pytest.mark.slow]

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


@pytest.fixture
def depot(builds: tuple[Path, Path]):
    with serving(builds[0]) as server:
        yield server


@pytest.fixture
def kept(page: Page, depot: DepotServer) -> Page:
    """A tablet that has been on the home page once and has its copy, on the day of its build."""
    page.clock.set_fixed_time(NOON)
    page.goto(depot.url)
    wait_until(page, "navigator.serviceWorker.controller")
    return page


def files_of(site: Path) -> list[str]:
    return sorted(each.relative_to(site).as_posix() for each in site.rglob("*") if each.is_file())


def listed(site: Path) -> list[list]:
    """The files that sw.js names: path, hash, kept at once, bytes."""
    text = (site / "sw.js").read_text(encoding="utf-8")
    return json.loads(text.split("const FILES = ", 1)[1].split(";\n", 1)[0])


def title_of(page: Page, url: str) -> str:
    page.goto(url)
    return page.locator("h1").inner_text()


def test_with_the_network_off_every_page_and_picture_is_there(
    kept: Page, tablet: BrowserContext, depot: DepotServer, builds
) -> None:
    failed: list[tuple[str, str | None]] = []
    tablet.on("requestfailed", lambda request: failed.append((request.url, request.failure)))
    tablet.on("response", lambda answer: failed.append((answer.url, "refused")) if answer.status >= 400 else None)
    tablet.set_offline(True)
    pages = [path for path in files_of(builds[0]) if path.endswith(".html") and path != "404.html"]
    assert len(pages) > 10
    for path in pages:
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


def test_with_the_server_really_stopped_an_unvisited_page_opens(page: Page, builds) -> None:
    with serving(builds[0]) as depot:
        page.goto(depot.url)
        wait_until(page, "navigator.serviceWorker.controller")
    assert title_of(page, depot.url + "parts/P-0002.html")
    assert title_of(page, depot.url)  # the folder means its index
    page.goto(depot.url + "parts/none.html")
    assert page.locator("h1").inner_text()  # our own page for lost ones
    with pytest.raises(Exception, match="ERR_CONNECTION_REFUSED"):
        page.goto(f"http://127.0.0.1:{depot.port}/elsewhere.html")


def test_the_worker_lists_exactly_what_was_written(builds) -> None:
    for site in builds:
        written = [path for path in files_of(site) if path != "sw.js"]
        assert [each[0] for each in listed(site)] == written
        assert [each[3] for each in listed(site)] == [(site / path).stat().st_size for path in written]
        assert not [path for path in written if path.endswith(".map") or "sitemap" in path]


def test_a_newer_catalogue_waits_until_it_is_taken_and_then_comes_whole(
    kept: Page, depot: DepotServer, builds
) -> None:
    old = title_of(kept, depot.url + "parts/P-0001.html")
    depot.folder, depot.asked[:] = builds[1], []
    assert kept.evaluate(UPDATE) == "installed"
    bar = kept.locator(".newer")
    expect(bar).to_be_visible()
    changed = {each[0] for each in listed(builds[1])} - {each[0] for each in listed(builds[0])}
    changed |= {a[0] for a in listed(builds[1]) for b in listed(builds[0]) if a[0] == b[0] and a[1] != b[1]}
    assert set(depot.asked) - {"sw.js"} == changed  # nothing that was there already is fetched anew
    kept.reload()
    assert kept.locator("h1").inner_text() == old  # the old one is read until the new one is taken
    expect(bar).to_be_visible()
    button = bar.get_by_role("button").first
    assert button.bounding_box()["height"] >= 48
    button.click()
    expect(kept.locator("h1")).to_contain_text("Renamed")
    expect(bar).to_have_count(0)
    assert not any(
        each[1] in url
        for url in kept.evaluate(KEPT)
        for each in listed(builds[0])
        if each not in listed(builds[1])
    )


def test_every_open_page_goes_over_to_the_new_build(
    kept: Page, tablet: BrowserContext, depot: DepotServer, builds
) -> None:
    other = tablet.new_page()
    other.goto(depot.url + "parts/P-0001.html")
    depot.folder = builds[1]
    assert kept.evaluate(UPDATE) == "installed"
    kept.locator(".newer button").first.click()
    expect(other.locator("h1")).to_contain_text("Renamed")


def test_half_an_update_leaves_the_old_catalogue_whole(
    kept: Page, tablet: BrowserContext, depot: DepotServer, builds, tmp_path: Path
) -> None:
    """One mishap after the other, to and fro between two builds; each is followed by the whole update."""
    page, (old, new) = "parts/P-0001.html", builds
    for mishap in ("missing", "stale", "cut"):
        depot.folder = new
        if mishap == "missing":
            depot.missing = {page}
        else:
            depot.stale = {page: old if mishap == "stale" else tmp_path}
        if mishap == "cut":
            (tmp_path / "parts").mkdir()
            (tmp_path / page).write_bytes((new / page).read_bytes()[:-100])
        assert kept.evaluate(UPDATE) == "redundant", mishap
        assert kept.locator(".newer").count() == 0, mishap
        tablet.set_offline(True)
        titles = [title_of(kept, depot.url + path) for path in ("index.html", "parts/P-0002.html", "requests.html", page)]
        assert all(titles), mishap
        assert ("Renamed" in titles[-1]) == (old == builds[1]), mishap
        depot.missing, depot.stale = set(), {}
        tablet.set_offline(False)  # back in the network it looks by itself
        kept.locator(".newer button").first.click()
        title = expect(kept.locator("h1"))
        (title.to_contain_text if new == builds[1] else title.not_to_contain_text)("Renamed")
        expect(kept.locator(".newer")).to_have_count(0)
        old, new = new, old


def test_a_full_disk_leaves_the_old_catalogue_whole(
    kept: Page, tablet: BrowserContext, depot: DepotServer, builds
) -> None:
    kept.goto(depot.url + "guide/tablet.html")
    before = set(kept.evaluate(KEPT))
    used = kept.evaluate("async () => (await navigator.storage.estimate()).usage")
    devtools = tablet.new_cdp_session(kept)
    origin = depot.url.rsplit("/spares/", 1)[0]
    devtools.send("Storage.overrideQuotaForOrigin", {"origin": origin, "quotaSize": used + 2_000_000})
    depot.folder = builds[1]
    assert kept.evaluate(UPDATE) == "redundant"
    expect(kept.locator("[data-offline-panel] p").first).to_contain_text("storage is full")
    wait_until(kept, f"({KEPT})().then((now) => now.sort().join() === {json.dumps(sorted(before))}.sort().join())")
    tablet.set_offline(True)  # the browser tries by itself once more, and makes room again as well
    assert "Renamed" not in title_of(kept, depot.url + "parts/P-0001.html")
    devtools.send("Storage.overrideQuotaForOrigin", {"origin": origin})
    tablet.set_offline(False)  # back in the network it looks by itself
    kept.locator(".newer button").first.click()
    expect(kept.locator("h1")).to_contain_text("Renamed")


def test_documents_come_on_demand_and_all_of_them_by_one_button(
    kept: Page, tablet: BrowserContext, depot: DepotServer, tmp_path: Path, builds
) -> None:
    depot.folder = Path(shutil.copytree(builds[0], tmp_path / "site"))
    with_pdf(depot.folder, b"%PDF-1.4 one")
    assert kept.evaluate(UPDATE) == "installed"
    with kept.expect_event("load"):  # it opens itself anew
        kept.locator(".newer button").first.click()
    kept.goto(depot.url + "guide/tablet.html")
    first = kept.locator("[data-offline-panel] p").first
    expect(first).to_contain_text("Kept on this tablet")
    tablet.set_offline(True)
    kept.goto(depot.url + "parts/drawing.pdf")
    expect(kept.locator("body")).to_contain_text("not kept on this tablet")
    tablet.set_offline(False)
    kept.goto(depot.url + "guide/tablet.html")
    kept.get_by_role("button", name="Keep everything").click()
    expect(first).to_contain_text("Everything is kept")
    assert kept.get_by_role("button", name="Keep everything").count() == 0
    # From then on an update brings everything too.
    with_pdf(depot.folder, b"%PDF-1.4 two")
    assert kept.evaluate(UPDATE) == "installed"
    kept.locator(".newer button").first.click()
    expect(first).to_contain_text("Everything is kept")
    tablet.set_offline(True)
    body = kept.evaluate("async (url) => await (await fetch(url)).text()", depot.url + "parts/drawing.pdf")
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
    page, said = context.new_page(), []
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
