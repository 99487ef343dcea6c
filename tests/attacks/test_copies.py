"""A copy put together of two builds of one day, or with a file missing or cut off, never says Fit it."""

import os
import re
import shutil

import pytest

from tests.attacks.two_copies import (
    AN_HOUR_LATER,
    FINDER,
    FOUND,
    INDEX,
    LEAVES,
    NOON,
    OWN_DATA,
    PART,
    PLACE,
    REST,
    RULES,
    WORDS,
    a_catalogue,
    build,
    serving,
    withdraw,
)
from tests.fixtures.tablets import unseen


@pytest.fixture(scope="module")
def builds(tmp_path_factory, warm_store):
    """The morning's site, in which TV-0417 may be fitted, and the one of noon, when it was withdrawn."""
    folder, sites = tmp_path_factory.mktemp("copies"), {}
    for name in ("morning", "noon"):
        catalogue = a_catalogue(folder / f"catalogue-{name}")
        if name == "noon":
            withdraw(catalogue, warm_store)
        sites[name] = build(catalogue, folder / "sites" / name, warm_store)
    return sites


@pytest.fixture(scope="module")
def address(builds):
    """Where the folders of sites are served over http."""
    with serving(builds["noon"].parent) as server:
        yield server.address


@pytest.fixture(scope="module")
def tablet(chromium):
    """A browser whose day is the day of both builds; no worker, so that what is served is what is read."""
    context = chromium.new_context(service_workers="block")
    context.clock.set_fixed_time(AN_HOUR_LATER)
    yield context
    context.close()


@pytest.fixture(scope="module")
def loaded(tablet, builds):
    """Per page the scripts and data that it loads, as the browser asks for them, whatever they are called."""
    found = {}
    for address in (PART, PLACE, FOUND):
        page, asked = tablet.new_page(), []
        page.on("request", lambda request, asked=asked: asked.append(request.url.split("?")[0].split("#")[0]))
        page.goto((builds["morning"] / address.split("?")[0]).as_uri() + address.partition(".html")[2],
                  wait_until="networkidle")
        root = builds["morning"].as_uri() + "/"
        found[address] = [url.removeprefix(root) for url in dict.fromkeys(asked) if url.endswith(".js")]
        page.close()
    assert OWN_DATA in found[PART]
    assert INDEX in found[PLACE]
    assert len(found[PART]) > 2  # its data and at least something that judges
    return found


class Bench:
    """Puts copies together and looks at them, several tabs at a time."""

    def __init__(self, tablet, builds, address):
        self.tablet, self.builds, self.address, self.made = tablet, builds, address, 0
        self.tabs = [unseen(tablet) for _ in range(4)]

    def mix(self, base, changes):
        """A copy of one build in which single files have other content, or (None) are missing."""
        self.made += 1
        site = self.builds["noon"].parent / f"mix-{self.made}"
        shutil.copytree(self.builds[base], site, copy_function=os.link)
        for name, content in changes.items():
            (site / name).unlink()
            if content is not None:
                (site / name).write_bytes(content)
        return site

    def look(self, cases, over="file"):
        """(what, site, page) → (what, leaves to fit, all words that show) for each, when the page is at rest."""
        seen, tabs = [], self.tabs
        for start in range(0, len(cases), len(tabs)):
            some = list(zip(tabs, cases[start:start + len(tabs)], strict=False))
            for tab, (_, site, page) in some:
                root = site.as_uri() if over == "file" else f"{self.address}/{site.name}"
                tab.goto(f"{root}/{page}", wait_until="commit", timeout=60_000)
            for tab, (what, _, page) in some:
                tab.wait_for_load_state("load", timeout=60_000)
                leaves, words = tab.evaluate(f"async () => {{ await ({REST})(); return [({LEAVES})(), ({WORDS})()]; }}")
                seen.append((f"{page}: {what}", leaves, words))
        return seen

    def swapped(self, base, names, pages, over="file"):
        other = self.builds["noon" if base == "morning" else "morning"]
        cases = []
        for name in names:
            site = self.mix(base, {name: (other / name).read_bytes()})
            cases += [(f"{name} is of the other build, all else of {base}", site, page) for page in pages]
        return self.look(cases, over)


@pytest.fixture(scope="module")
def bench(tablet, builds, address):
    return Bench(tablet, builds, address)


@pytest.fixture
def new_bench(chromium, builds, address):
    """On a tablet that has seen no copy yet: one that has seen the newer of two remembers what that one withdrew."""
    with chromium.new_context(service_workers="block") as context:
        context.clock.set_fixed_time(AN_HOUR_LATER)
        yield Bench(context, builds, address)


def assert_nothing_may_be_fitted(seen):
    assert not [(what, leaves) for what, leaves, _ in seen if leaves]


def assert_said_to_be_mixed(seen):
    silent = [what for what, _, words in seen if not any(re.search(r"\bmixed\b", word) for word in words)]
    assert not silent, f"these do not say that the copy is mixed: {silent}"


def code(names):
    return [name for name in names if "/data/" not in name]


def identity(site, page="index.html"):
    """The name of the build as the page itself carries it."""
    return re.findall(r'<meta name="spares-build" content="([^"]*)"', (site / page).read_text(encoding="utf-8"))


# --- the identity itself -----------------------------------------------------------------------------------------


def test_every_page_data_file_and_script_carries_the_identity_of_its_build(builds):
    for site in builds.values():
        pages = [path.relative_to(site) for path in site.rglob("*.html")]
        (one,) = identity(site)
        assert len(one) >= 8, "too short to tell builds apart"
        assert not [str(page) for page in pages if identity(site, page) != [one]]
        scripts = [*site.glob("assets/js/**/*.js"), *site.glob("assets/data/**/*.js"), site / "sw.js"]
        assert not [path.name for path in scripts if one not in path.read_text(encoding="utf-8")]


def test_two_builds_of_one_day_that_differ_in_one_withdrawal_have_two_identities(builds):
    assert identity(builds["morning"])
    assert identity(builds["morning"]) != identity(builds["noon"])


def test_the_same_input_has_the_same_identity_in_any_folder_at_any_hour(builds, warm_store, tmp_path):
    catalogue = a_catalogue(tmp_path / "elsewhere" / "copied")
    again = build(catalogue, tmp_path / "site", warm_store, at=NOON + 3 * 3600)
    assert identity(again)
    assert identity(again) == identity(builds["morning"])


def test_a_change_that_touches_no_day_and_no_verdict_changes_the_identity(builds, warm_store, tmp_path):
    catalogue = a_catalogue(tmp_path / "catalogue")
    fitting = catalogue / "parts/TV-0417-window-latch-knob/fitting.md"
    text = fitting.read_text(encoding="utf-8")
    assert "Do not lever" in text
    fitting.write_text(text.replace("Do not lever", "Never lever"), encoding="utf-8")
    changed = identity(build(catalogue, tmp_path / "site", warm_store))
    assert changed
    assert changed != identity(builds["morning"])


# --- whole copies: hold already ----------------------------------------------------------------------------------


@pytest.mark.browser
@pytest.mark.parametrize("over", ["file", "http"])
def test_whole_copies_say_their_own_verdicts(new_bench, builds, over):  # holds already
    pages = (PART, PLACE, FOUND)
    morning = new_bench.look([("morning", builds["morning"], page) for page in pages], over)
    assert all(any("Fit it" in leaf for leaf in leaves) for _, leaves, _ in morning), morning
    noon = new_bench.look([("noon", builds["noon"], page) for page in pages], over)
    assert not [leaf for _, leaves, _ in noon for leaf in leaves if "TV-0417" in leaf or "401" in leaf]
    assert all("Do not fit" in words for _, _, words in noon)
    assert not any(re.search(r"\bmixed\b", word) for _, _, words in morning + noon for word in words)


# --- one file of the other build ---------------------------------------------------------------------------------


@pytest.mark.browser
@pytest.mark.parametrize(("base", "over"), [("noon", "file"), ("morning", "file"), ("noon", "http")])
def test_pages_and_data_of_two_builds_together_never_say_fit_it(bench, base, over):
    seen = bench.swapped(base, [PART, OWN_DATA, INDEX, RULES], [PART], over)
    seen += bench.swapped(base, [INDEX] if over == "http" else [PLACE, INDEX], [PLACE], over)
    seen += bench.swapped(base, [INDEX] if over == "http" else ["index.html", INDEX], [FOUND], over)
    assert_nothing_may_be_fitted(seen)
    assert_said_to_be_mixed(seen)
    if base == "morning":  # the other way round Do not fit may stand, too
        assert all({"Ask first", "Do not fit"} & set(words) for _, _, words in seen)


@pytest.mark.browser
@pytest.mark.parametrize("base", ["morning", "noon"])
@pytest.mark.parametrize("page", [PART, PLACE, FOUND])
def test_one_script_of_the_other_build_ends_every_fit_it(bench, loaded, base, page):
    assert FINDER not in loaded[PART]  # it is read when somebody wants to find something
    assert FINDER in loaded[FOUND]
    seen = bench.swapped(base, code(loaded[page]), [page])
    assert_nothing_may_be_fitted(seen)
    assert_said_to_be_mixed(seen)


@pytest.mark.browser
def test_the_same_script_swap_over_http_ends_every_fit_it(bench, loaded):
    seen = bench.swapped("morning", code(loaded[PART]), [PART], over="http")
    seen += bench.swapped("morning", [FINDER], [FOUND], over="http")
    assert_nothing_may_be_fitted(seen)


# --- files that are missing, cut off, or something else ----------------------------------------------------------


STAMP = b"(globalThis.sparesStamps"


def cuts(content):
    """Cut to nothing, in the middle (what is there cannot be read), and before the line that says whose build it is (all else runs)."""
    return [b"", content[:len(content) // 2], content[:content.rindex(STAMP)]]


@pytest.mark.browser
@pytest.mark.parametrize("over", ["file", "http"])
def test_missing_or_cut_data_never_leaves_fit_it(bench, builds, over):
    login = b"<!doctype html><title>Sign in</title><p>Sign in to use this network"  # what a borrowed network sends
    cases = []
    for page, name in ((PART, OWN_DATA), (PART, INDEX), (PART, RULES), (PLACE, INDEX), (FOUND, INDEX)):
        whole = (builds["morning"] / name).read_bytes()
        contents = [None, whole[:len(whole) // 2]] if over == "http" else [None, *cuts(whole)]
        for content in contents:
            size = "missing" if content is None else f"{len(content)} bytes of {len(whole)}"
            cases.append((f"{name} is {size}", bench.mix("morning", {name: content}), page))
    cases.append(("the network asks to sign in", bench.mix("morning", {OWN_DATA: login, INDEX: login, RULES: login}), PART))
    assert_nothing_may_be_fitted(bench.look(cases, over))


@pytest.mark.browser
@pytest.mark.parametrize("page", [PART, FOUND])
def test_a_missing_or_cut_script_ends_every_fit_it(bench, builds, loaded, page):
    cases = []
    for name in code(loaded[page]):
        whole = (builds["morning"] / name).read_bytes()
        for content in [None, *cuts(whole)]:
            size = "missing" if content is None else f"{len(content)} bytes of {len(whole)}"
            cases.append((f"{name} is {size}", bench.mix("morning", {name: content}), page))
    assert_nothing_may_be_fitted(bench.look(cases))


@pytest.mark.browser
def test_a_page_cut_off_between_its_scripts_never_says_fit_it(bench, builds):
    cases = []
    for page in (PART, PLACE, FOUND):
        name = page.split("?")[0]
        whole = (builds["morning"] / name).read_bytes()
        scripts = [found.start() for found in re.finditer(rb"<script [^>]*src=", whole)]
        cases += [(f"cut to {end} of {len(whole)}", bench.mix("morning", {name: whole[:end]}), page)
                  for end in (scripts[len(scripts) // 2], scripts[-1])]
    assert_nothing_may_be_fitted(bench.look(cases))


# --- siblings ----------------------------------------------------------------------------------------------------


@pytest.mark.browser
def test_data_of_another_part_of_the_same_build_never_judges_this_part(bench, builds):  # holds already
    # TV-0104 goes to the same place of the same vehicles and may be fitted; a rename on the server is enough.
    other = (builds["noon"] / "assets/data/parts/TV-0104.js").read_bytes()
    ((_, leaves, _),) = bench.look([("has the data of TV-0104", bench.mix("noon", {OWN_DATA: other}), PART)])
    assert not [leaf for leaf in leaves if "TV-0236" not in leaf]  # the card of the look-alike may stand


@pytest.mark.browser
def test_copies_without_any_identity_never_say_fit_it(bench, builds, loaded):
    # Nothing equals nothing: that must not count as being of one build.
    site = builds["morning"]
    one = (identity(site) or ["no identity yet"])[0].encode()
    page = (site / PART).read_bytes()
    bare = re.sub(rb'<meta name="spares-build"[^>]*>', b"", page).replace(one, b"")
    emptied = {name: (site / name).read_bytes().replace(one, b"") for name in loaded[PART]}
    cases = [("its page has no identity", bench.mix("morning", {PART: bare}), PART),
             ("its page has an empty identity", bench.mix("morning", {PART: page.replace(one, b"")}), PART),
             ("its data has an empty identity", bench.mix("morning", {OWN_DATA: emptied[OWN_DATA]}), PART),
             ("nothing has an identity", bench.mix("morning", {PART: bare, **emptied}), PART),
             ("all identities are empty", bench.mix("morning", {PART: page.replace(one, b""), **emptied}), PART)]
    assert_nothing_may_be_fitted(bench.look(cases))


@pytest.mark.browser
@pytest.mark.parametrize("late", [INDEX, FINDER])
def test_a_page_of_noon_that_fetches_the_finder_of_the_morning_later_never_says_fit_it(bench, address, late):
    # The page is open when a second server, still with the morning's files, answers for the finder.
    site = bench.mix("noon", {})
    tab = bench.tabs[0]
    tab.goto(f"{address}/{site.name}/catalogue.html", wait_until="networkidle")
    (site / late).unlink()
    shutil.copy(bench.builds["morning"] / late, site / late)
    tab.locator("[data-finder] input[type=search]").first.fill("4-117-0417")
    tab.locator(".hit, [data-finder] [role=status]:not(:empty)").first.wait_for(timeout=60_000)
    tab.evaluate(REST)
    assert not tab.evaluate(LEAVES)


@pytest.mark.browser
def test_the_near_parts_of_a_new_request_never_say_fit_it_from_two_builds(bench):
    site = bench.mix("noon", {INDEX: (bench.builds["morning"] / INDEX).read_bytes()})
    tab = bench.tabs[0]
    tab.goto(f"{site.as_uri()}/request.html", wait_until="networkidle")
    tab.locator("#request-name").fill("window latch knob")
    tab.locator(".near__go").wait_for(timeout=60_000)  # it looks while one types, and offers this when it has looked
    tab.evaluate(REST)
    assert not tab.evaluate(LEAVES)
