"""The copy kept on a tablet: one that waits speaks already, and none that a page has tampered with is believed."""

import hashlib
import json
import shutil
from contextlib import ExitStack, suppress

import pytest
from playwright.sync_api import Error

from tests.attacks.two_copies import (
    AN_HOUR_LATER,
    FOUND,
    INDEX,
    LEAVES,
    LETTER,
    OWN_DATA,
    OWN_WORDS,
    PART,
    PATIENCE,
    PLACE,
    READY,
    WORDS,
    Tablet,
    a_catalogue,
    build,
    light,
    record,
    serving,
    withdraw,
)
from tests.browser.patience import wait_until
from tests.fixtures.tablets import forgetting, unseen

pytestmark = pytest.mark.browser

UNTOUCHED = "parts/TV-0236.html"
# Besides TV-0417 these may be fitted in the morning, and at noon they have a condition, a mistake, no folder.
CHANGED = [PART, "parts/TV-0123.html", "parts/TV-0260.html", "parts/TV-0231.html"]
FORGED = "FORGED"

# Rewrites what is kept: every entry of every cache whose address is one of these, whatever else its key says; and
# adds the keys themselves to every cache, and to the extra ones; or only adds (beside).
POISON = """async ([entries, extra, beside]) => {
  const kinds = {html: "text/html; charset=utf-8", js: "text/javascript", css: "text/css", pdf: "application/pdf"};
  const answer = ([path, body, headers]) => new Response(body, {status: 200, headers:
    {"content-type": kinds[path.split("?")[0].split(".").pop().toLowerCase()] || "text/html", ...headers}});
  for (const name of [...await caches.keys(), ...extra]) {
    const cache = await caches.open(name);
    const kept = await cache.keys();
    for (const entry of entries) {
      const own = new URL("/" + entry[0], location.href);
      for (const key of beside ? [] : kept)
        if (new URL(key.url).pathname === own.pathname) await cache.put(key, answer(entry));
      await cache.put(own.href, answer(entry));
    }
  }
}"""
# What was tampered with is thrown away, and the worker fetches anew what belongs to it. Gives all that is kept.
MEND = """async touched => {
  for (const name of await caches.keys()) if (name !== "spares-files") await caches.delete(name);
  const store = await caches.open("spares-files");
  const ours = new Set(touched.map(path => new URL("/" + path, location.href).pathname));
  for (const key of await store.keys()) {
    const { pathname, search } = new URL(key.url);
    if (ours.has(pathname) || !/^[?]sha256=\\w{64}$/.test(search)) await store.delete(key);
  }
  await Promise.all(touched.map(path => fetch("/" + path).then(answer => answer.arrayBuffer())));
  return (await store.keys()).map(key => decodeURI(key.url));
}"""
# Two addresses exchange what is kept for them, or it is thrown away.
EXCHANGE = """async ([one, other, gone]) => {
  for (const name of await caches.keys()) {
    const cache = await caches.open(name), kept = await cache.keys();
    const at = path => kept.find(key => new URL(key.url).pathname === "/" + path);
    const [first, second] = [await cache.match(at(one) || "/none"), await cache.match(at(other) || "/none")];
    if (first && second) { await cache.put(at(one), second); await cache.put(at(other), first); }
    for (const path of gone) if (at(path)) await cache.delete(at(path));
  }
}"""


@pytest.fixture(scope="module")
def builds(tmp_path_factory, warm_store):
    """The morning's site, and one of noon in which a withdrawal and other things changed verdicts."""
    folder = tmp_path_factory.mktemp("kept")
    store, sites = warm_store, {}
    for name in ("morning", "noon"):
        catalogue = a_catalogue(folder / f"catalogue-{name}")
        if name == "noon":
            withdraw(catalogue, store)
            record(catalogue, store, "TV-0123", "condition added", "--condition", "only with two screws")
            with next(catalogue.glob("parts/TV-0260-*/part.yml")).open("a", encoding="utf-8") as part:
                part.write("what_is_this: 1\n")
            shutil.rmtree(next(catalogue.glob("parts/TV-0231-*")))
        sites[name] = light(build(catalogue, folder / name, store))
    return sites


@pytest.fixture(scope="module")
def one_tablet(chromium):
    """One for all tests, whose day is the day of both builds: a tablet costs as much as two pages."""
    context = chromium.new_context()
    context.clock.install(time=AN_HOUR_LATER)
    yield context
    context.close()


@pytest.fixture
def keeping(one_tablet):
    """A copy in the tablet, of a server of its own: what is kept of others has another address."""
    with ExitStack() as stack:

        def keep(site):
            return Tablet(one_tablet, stack.enter_context(serving(site)))

        yield keep
        forgetting(one_tablet, {"width": 1280, "height": 720})


def anew(page):
    """Another page in place of this one, which is closed first: for a moment nothing of the copy is open."""
    context = page.context
    page.close()
    return unseen(context)


class Kept(Tablet):
    """A tablet with a whole copy, which a page then tampers with."""

    touched = ()

    def poisoned(self, entries, extra, beside=False):
        self.touched = [path.partition("?")[0] for path, *_ in entries]
        self.page.evaluate(POISON, [entries, extra, beside])

    def exchanged(self, one, other, gone):
        self.touched = [*self.touched, one, other, *gone]
        self.page.evaluate(EXCHANGE, [one, other, gone])

    def mend(self, listed):
        """The copy is as it was: to tamper with it again costs less than to keep another."""
        self.is_back_in_the_network()
        self.page = anew(self.page)
        self.go(UNTOUCHED)
        kept = self.page.evaluate(MEND, sorted(set(self.touched)))
        assert [f"{self.server.address}/{path}?sha256={digest}" for path, digest in sorted(listed)] == sorted(kept)
        self.touched = ()


@pytest.fixture(scope="module")
def kept(chromium, builds):
    """Noon's copy."""
    context = chromium.new_context()
    context.clock.install(time=AN_HOUR_LATER)
    with serving(builds["noon"]) as server:
        yield Kept(context, server)
    context.close()


@pytest.fixture
def noon(kept, builds):
    """The whole copy of noon, for each test anew."""
    yield kept
    kept.mend(listed(builds["noon"]))


@pytest.fixture(scope="module")
def waiting(chromium, builds):
    """A tablet with the morning's copy that has heard of noon's; its page stood open meanwhile, and is only looked at."""
    context = chromium.new_context()
    context.clock.install(time=AN_HOUR_LATER)
    with serving(builds["morning"]) as server:
        tablet = Tablet(context, server)
        for path in reversed(CHANGED):
            assert tablet.go(path)
            assert "Fit it" in tablet.page.evaluate(OWN_WORDS), path
        tablet.hears_of(builds["noon"])
        yield tablet
    context.close()


@pytest.fixture
def opened_later(waiting):
    """Another tab of it."""
    page = unseen(waiting.context)
    yield page
    page.close()
    waiting.is_back_in_the_network()


# --- a newer catalogue that waits --------------------------------------------------------------------------------


def test_a_page_that_stands_open_asks_first_once_a_newer_catalogue_waits(waiting):
    assert waiting.comes_to_say("Ask first")
    assert not [leaf for leaf in waiting.page.evaluate(LEAVES) if "TV-0236" not in leaf]  # its card has not changed


def test_every_part_that_differs_in_the_waiting_catalogue_asks_first_and_no_other(waiting, opened_later):
    for path in CHANGED:
        waiting.go(path, opened_later)
        assert waiting.comes_to_say("Ask first", opened_later), path
    waiting.go(UNTOUCHED, opened_later)
    assert waiting.comes_to_say("Fit it", opened_later)


def test_finder_and_cards_ask_first_for_a_part_that_differs_in_the_waiting_catalogue(waiting, opened_later):
    for path in (FOUND, PLACE):
        waiting.go(path, opened_later)
        assert waiting.comes_to_say("Ask first", opened_later, where=WORDS), path
        assert not [leaf for leaf in opened_later.evaluate(LEAVES) if "TV-0417" in leaf]
    assert any("TV-0104" in leaf for leaf in opened_later.evaluate(LEAVES))  # this one has not changed


def test_a_waiting_catalogue_speaks_without_network_too(waiting, opened_later):
    waiting.leave_the_network()
    assert waiting.go(PART, opened_later)
    assert waiting.comes_to_say("Ask first", opened_later)


def test_later_hides_the_bar_for_minutes_and_never_the_ask_first_until_the_newer_is_taken(builds, keeping):
    tablet = keeping(builds["morning"])
    second = unseen(tablet.context)
    tablet.go(PART, second)
    tablet.hears_of(builds["noon"])
    bar = tablet.page.get_by_text(READY)
    tablet.page.get_by_role("button", name="Later").click(force=True)
    bar.wait_for(state="hidden", timeout=60_000)
    tablet.page.clock.fast_forward("01:00:00")
    bar.wait_for(timeout=PATIENCE)
    assert tablet.comes_to_say("Ask first")
    tablet.page.get_by_role("button", name="Later").click(force=True)  # and it comes again on another page as well
    tablet.go(UNTOUCHED)
    tablet.page.clock.fast_forward("01:00:00")
    tablet.page.get_by_text(READY).wait_for(timeout=PATIENCE)
    tablet.go(PART)
    second.get_by_role("button", name="Take it").click(timeout=60_000, force=True)
    for page in (second, tablet.page):  # the tab that took it says its own word, and so does the one of the old copy
        wait_until(page, f"({OWN_WORDS})().includes('Do not fit')", PATIENCE)
        page.get_by_text(READY).wait_for(state="hidden", timeout=60_000)
        assert "Fit it" not in page.evaluate(OWN_WORDS)


def test_a_waiting_catalogue_never_makes_a_word_kinder(builds, keeping):  # holds already
    tablet = keeping(builds["noon"])
    tablet.hears_of(builds["morning"])
    for path in CHANGED[:3]:
        tablet.go(path)
        tablet.page.wait_for_timeout(500)
        assert "Fit it" not in tablet.page.evaluate(OWN_WORDS), path


def test_a_waiting_catalogue_that_a_page_rewrote_never_leaves_fit_it(builds, keeping):
    # With the morning's data in its place it would differ in nothing.
    old, new = builds["morning"], builds["noon"]
    entries = [[name, (old / name).read_text(encoding="utf-8"), {}] for name in (PART, OWN_DATA, INDEX)]
    tablet = keeping(old)
    tablet.hears_of(new)
    tablet.page.evaluate(POISON, [with_keys(new, entries), []])
    tablet.go(PART)
    assert tablet.comes_to_say("Ask first")


# --- a kept copy that a page has tampered with -------------------------------------------------------------------


def forged(site, path):
    """A page that looks whole and says what the forger likes."""
    return (site / path).read_text(encoding="utf-8").replace("<h1", f"<p>{FORGED}</p><h1")


def with_keys(site, entries):
    """Each entry also under the key with the digest of what belongs there."""
    digests = {path: hashlib.sha256((site / path).read_bytes()).hexdigest() for path, *_ in entries}
    return entries + [[f"{path}?sha256={digests[path]}", *rest] for path, *rest in entries]


def listed(site):
    """The files that the site's worker keeps by itself, each with its digest."""
    files = (site / "sw.js").read_text(encoding="utf-8").partition("const FILES = ")[2].partition(";\n")[0]
    return [(path, digest) for path, digest, is_kept_at_once, _ in json.loads(files) if is_kept_at_once]


def opened(tablet, paths):
    """What of these pages says Fit it for the withdrawn part, or is forged."""
    bad = []
    for path in paths:
        if tablet.go(path):
            text = tablet.page.content()
            leaves = [leaf for leaf in tablet.page.evaluate(LEAVES) if "TV-0417" in leaf or "401–412" in leaf]
            own = tablet.page.evaluate(OWN_WORDS) if "0417" in path and ".html?q" not in path else []
            if FORGED in text or leaves or "Fit it" in own:
                bad.append((path, FORGED in text, leaves, own))
    return bad


def assert_not_believed(tablet, paths):
    """Neither without network nor, after it, with it."""
    tablet.page.goto("about:blank")
    tablet.leave_the_network()
    assert not opened(tablet, paths)
    tablet.is_back_in_the_network()
    assert not opened(tablet, paths)


def test_without_network_an_untouched_copy_is_whole(builds, noon):  # holds already
    noon.leave_the_network()
    for path, word in ((PART, "Do not fit"), ("parts/TV-0104.html", "Fit it")):
        assert noon.go(path)
        assert word in noon.page.evaluate(OWN_WORDS)
    assert noon.go(FOUND)
    assert "Do not fit" in noon.page.evaluate(WORDS)


def test_rewritten_data_of_a_withdrawn_part_is_not_believed(builds, noon):
    entries = [[name, (builds["morning"] / name).read_text(encoding="utf-8"), {}] for name in (OWN_DATA, INDEX)]
    noon.poisoned(with_keys(builds["noon"], entries), ["!", "spares-files", "zz"])
    assert_not_believed(noon, [PART, FOUND, PLACE])


def test_the_whole_copy_of_the_morning_put_back_is_not_believed(builds, noon):
    # All of it is of one build, so nothing but the worker's own list can tell.
    old, new = builds["morning"], builds["noon"]
    names = [path.relative_to(new).as_posix() for path in [*new.rglob("*.html"), *new.rglob("assets/**/*.js")]]
    changed = [name for name in names if (old / name).is_file()
               and (old / name).read_bytes() != (new / name).read_bytes()]
    entries = [[name, (old / name).read_text(encoding="utf-8"), {}] for name in changed]
    noon.poisoned(with_keys(new, entries), ["spares-files-2"])
    assert_not_believed(noon, [PART, FOUND, PLACE, f"{PART}?again=1"])


def test_forged_pages_styles_scripts_and_letters_are_not_believed(builds, noon):
    site = builds["noon"]
    script, style = "assets/js/judge.js", "assets/css/all.css"
    entries = [[path, forged(site, path), {}] for path in (PART, "index.html", "404.html", "guide/tablet.html")]
    entries += [[script, f"document.body.append('{FORGED}');", {}],
                [style, f".verdict__word {{ font-size: 0 }} .verdict__word::after {{ content: '{FORGED}' }}", {}],
                [LETTER, f"%PDF-1.4 {FORGED}", {}]]
    noon.poisoned(with_keys(site, entries), ["letters"])
    noon.page = anew(noon.page)
    noon.leave_the_network()
    assert not opened(noon, [PART, "index.html", "404.html", "guide/tablet.html", "no-such-page.html",
                               "", UNTOUCHED])
    noon.go(UNTOUCHED)  # fetched as a page fetches them, when the page itself is not forged
    asked = """paths => Promise.all(paths.map(path =>
        fetch("/" + path).then(answer => answer.text(), () => "")))"""
    try:
        got = noon.page.evaluate(asked, [PART, script, style, LETTER])
    except Error:  # a copy that was mended opened its page anew in the midst
        noon.page.wait_for_load_state()
        got = noon.page.evaluate(asked, [PART, script, style, LETTER])
    assert [FORGED in text for text in got] == [False] * 4


def test_entries_that_changed_places_or_are_gone_are_not_believed(builds, noon):
    other = "assets/data/parts/TV-0104.js"  # goes to the same place, and may be fitted
    noon.exchanged(PART, "parts/TV-0104.html", [])
    noon.exchanged(OWN_DATA, other, [PLACE, INDEX])
    noon.page.goto("about:blank")
    noon.leave_the_network()
    noon.go(PART)
    assert "Fit it" not in noon.page.evaluate(OWN_WORDS)
    assert "TV-0104" not in noon.page.title()
    noon.go(PLACE)
    assert not [leaf for leaf in noon.page.evaluate(LEAVES) if "TV-0417" in leaf]


def test_forged_entries_beside_the_copy_are_never_opened(builds, noon):  # holds already
    page = forged(builds["morning"], PART)
    beside = [f"{PART}?x=1", f"{PART}?sha256=", "parts/tv-0417.html", "PARTS/TV-0417.HTML", "parts/TV-0417",
              "parts//TV-0417.html", "parts/%54V-0417.html", "parts/TV-0417.html/", "parts/TV-0999.html",
              "made-up.html", "index.html?x=1"]
    noon.poisoned([[path, page, {}] for path in [*beside, PART]],
                                  ["!", "sw", "spares-list"], True)
    assert_not_believed(noon, [PART, *beside])


def test_the_right_text_with_forged_headers_leads_nowhere_else(builds, noon):
    # A copy that compares only the text hands these on, and the browser turns to a part that may be fitted.
    site, other = builds["noon"], "parts/TV-0104.html"
    entries = [[PART, (site / PART).read_text(encoding="utf-8"), {"refresh": f"0; url=/{other}"}]]
    noon.poisoned(with_keys(site, entries), [])
    noon.page.goto("about:blank")
    noon.leave_the_network()
    seen = []
    noon.page.on("framenavigated", lambda frame: seen.append(frame.url))
    with suppress(Error):  # that nothing comes is as good
        noon.page.goto(f"{noon.server.address}/{PART}", timeout=60_000)
    noon.page.wait_for_timeout(1000)
    assert not [url for url in seen if other in url]
