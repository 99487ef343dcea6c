"""Every page carries a policy that lets nothing run but the catalogue's own scripts, and works under it."""

import io
import re
import shutil
from html.parser import HTMLParser

import pytest
from PIL import Image

from tests.attacks.watched import ROOT, Watch, address, build, over
from tests.browser.patience import wait_until

KINDS = [
    "index",
    "vehicles",
    "vehicles/A1/at-cab",
    "parts/EX-0001",
    "states",
    "states/approved",
    "requests",
    "request",
]
KINDS += ["approvals", "catalogue", "changelog", "404", "guide/mechanics", "guide/tablet", "guide/specialist"]
ATTEMPTS = """async canary => {
  const add = (tag, set) => {
    const one = document.createElement(tag); set(one); document.body.append(one); return one };
  const ran = name => `(window.RAN = window.RAN || []).push('${name}')`;
  const blob = (text, type) => URL.createObjectURL(new Blob([text], {type}));
  const tries = {
    'inline script': () => add('script', one => { one.textContent = ran('inline script') }),
    'inline module': () => add('script', one => {
      one.type = 'module'; one.textContent = ran('inline module') }),
    'handler': () => add('b', one => one.setAttribute('onclick', ran('handler'))).click(),
    'broken picture': () => add('p', one => {
      one.innerHTML = `<img src="x:" onerror="${ran('broken picture')}">` }),
    'svg onload': () => add('p', one => { one.innerHTML = `<svg onload="${ran('svg onload')}"></svg>` }),
    'javascript link': () => add('a', one => { one.href = 'javascript:' + ran('javascript link') }).click(),
    'javascript frame': () => add('iframe', one => {
      one.src = "javascript:void (parent.RAN = parent.RAN || []).push('javascript frame')" }),
    'frame of text': () => add('iframe', one => {
      one.srcdoc = '<script>(parent.RAN = parent.RAN || []).push("frame of text")<' + '/script>' }),
    'data script': () => add('script', one => { one.src = 'data:text/javascript,' + ran('data script') }),
    'blob script': () => add('script', one => { one.src = blob(ran('blob script'), 'text/javascript') }),
    'eval': () => eval(ran('eval')),
    'Function': () => new Function(ran('Function'))(),
    'timer': () => setTimeout(ran('timer')),
    'blob worker': () => {
      new Worker(blob('postMessage(1)')).onmessage = () => (window.RAN = window.RAN || []).push('worker') },
    'script': () => add('script', one => { one.src = canary + '/script' }),
    'import': () => import(canary + '/import'),
    'fetch': () => fetch(canary + '/fetch', {mode: 'no-cors'}),
    'beacon': () => navigator.sendBeacon(canary + '/beacon', 'x'),
    'old request': () => { const one = new XMLHttpRequest(); one.open('GET', canary + '/xhr'); one.send() },
    'socket': () => new WebSocket(canary.replace('http', 'ws') + '/socket'),
    'events': () => new EventSource(canary + '/events'),
    'frame': () => add('iframe', one => { one.src = canary + '/frame' }),
    'object': () => add('object', one => { one.data = canary + '/object' }),
    'embed': () => add('embed', one => { one.src = canary + '/embed' }),
    'picture': () => add('img', one => { one.src = canary + '/picture' }),
    'sound': () => add('audio', one => { one.src = canary + '/sound' }),
    'sheet': () => add('link', one => { one.rel = 'stylesheet'; one.href = canary + '/sheet' }),
    'font': () => new FontFace('x', `url(${canary}/font)`).load(),
    'base': () => {
      const base = document.createElement('base'); base.href = canary + '/base/'; document.head.prepend(base);
      add('script', one => { one.src = 'own.js' }); base.remove() },
  };
  // not at once: what a debugger runs itself may use eval
  for (const one of Object.values(tries)) setTimeout(async () => {
    try { await one() } catch { /* refused */ } });
  await new Promise(done => setTimeout(done, 400));
  return [...new Set(window.RAN || [])].sort();
}"""


class Head(HTMLParser):
    """What a page holds before any script is read, and whatever in it would run by itself."""

    def __init__(self):
        super().__init__()
        self.policies, self.before, self.acts, self.depth = [], [], [], 0

    def handle_starttag(self, tag, attrs):
        held = {name: value or "" for name, value in attrs}
        if tag == "meta" and held.get("http-equiv", "").lower() == "content-security-policy":
            self.policies.append(held.get("content", ""))
        elif tag in {"script", "link", "style", "img", "iframe", "body"} and not self.policies:
            self.before.append(tag)
        if tag == "script" and "src" not in held and "json" not in held.get("type", ""):
            self.acts.append("inline script")
        if tag in {"base", "iframe", "object", "embed"} or held.get("http-equiv", "").lower() == "refresh":
            self.acts.append(tag)
        self.acts += [f"{tag} {name}" for name in held if name.startswith("on")]
        script = re.compile(r"[\s\0]*(javascript|vbscript|data:text/html)", re.IGNORECASE)
        self.acts += [
            f"{tag} {name}" for name in ("href", "src", "action") if script.match(held.get(name, ""))
        ]


def photo():
    file = io.BytesIO()
    Image.effect_noise((640, 480), 80).convert("RGB").save(file, "JPEG")
    return file.getvalue()


@pytest.fixture(scope="module")
def site(tmp_path_factory, warm_store):
    home = tmp_path_factory.mktemp("policy")
    depot = shutil.copytree(ROOT / "tests/fixtures/depot", home / "depot")
    photos = depot / "parts/EX-0001-lid-knob/photos"
    photos.mkdir()
    (photos / "fitted.jpg").write_bytes(photo())
    return build(depot, home / "site", warm_store)


@pytest.fixture(params=["file", "http"])
def at(request, site, watch):
    """A watched browser and the address of a kind of page, from disk and over http."""
    with over(site) as (_, base):
        way = base if request.param == "http" else "file"
        yield watch, lambda kind: address(way, site, site / f"{kind}.html")


def heads(site):
    for file in sorted(site.rglob("*.html")):
        head = Head()
        head.feed(file.read_text(encoding="utf-8"))
        yield str(file.relative_to(site)), head


def directives(policy):
    words = [directive.split() for directive in policy.split(";") if directive.strip()]
    return {name.lower(): [source.lower() for source in sources] for name, *sources in words}


def test_every_kind_of_page_is_there(site):
    """Holds already; else the tests below would look at nothing."""
    assert not [kind for kind in KINDS if not (site / f"{kind}.html").is_file()]


def test_a_policy_stands_in_every_page_before_anything_that_loads(site):
    assert not [name for name, head in heads(site) if len(head.policies) != 1 or head.before]


def test_the_policy_allows_no_inline_script_no_eval_and_no_other_host(site):
    for name, head in heads(site):
        assert head.policies, name
        rules = directives(head.policies[0])
        assert "default-src" in rules, name
        for kind in ("script-src", "connect-src", "frame-src", "object-src", "worker-src"):
            sources = (
                rules.get(kind)
                or rules.get("child-src" if kind == "frame-src" else "")
                or rules["default-src"]
            )
            assert set(sources) <= {"'self'", "'none'"}, f"{name}: {kind} {sources}"


def test_nothing_in_a_page_runs_by_itself_but_script_files(site):
    assert not {name: head.acts for name, head in heads(site) if head.acts}


@pytest.mark.browser
@pytest.mark.parametrize("kind", ["index", "parts/EX-0001", "request", "guide/tablet", "404"])
def test_nothing_foreign_runs_or_calls_out_from_a_page(at, canary, kind):
    watch, page = at
    tab = watch.open(page(kind), tabs=1)
    assert tab.evaluate(ATTEMPTS, canary[1]) == []
    assert sorted(set(canary[0].called)) == []


@pytest.mark.browser
def test_no_page_offends_against_the_policy_by_itself(at):
    """Holds already, as there is none; it must hold with one."""
    watch, page = at
    for kind in KINDS:
        if kind == "404" and page(kind).startswith("file"):
            continue  # a server's page: from disk nobody comes to it
        tab = watch.open(page(kind), tabs=1)
        tab.wait_for_timeout(50)
        assert "no-js" not in tab.locator("html").get_attribute("class"), kind  # our own scripts did run
    assert not watch.refusals


@pytest.mark.browser
def test_dark_colours_and_copying_work_under_the_policy(at):
    """Holds already."""
    watch, page = at
    tab = watch.open(page("parts/EX-0002"), tabs=1)
    before = tab.locator("body").get_attribute("data-md-color-scheme")
    tab.locator("button.pit").click()
    after = tab.locator("body").get_attribute("data-md-color-scheme")
    assert {before, after} == {"default", "slate"}
    tab.reload()
    assert tab.locator("body").get_attribute("data-md-color-scheme") == after
    assert not watch.refusals


@pytest.mark.browser
def test_the_verdict_is_judged_anew_under_the_policy(at, chromium):
    """Holds already: the tablet's own clock, years later, ends an approval."""
    page, watch = at[1], Watch(chromium)  # of its own, since a clock stays
    watch.context.clock.install(time="2036-11-25T10:00:00Z")
    tab = watch.open(page("parts/EX-0002"), tabs=1)
    assert tab.locator(".verdict__word").first.inner_text() == "Do not fit"
    assert not watch.refusals
    watch.context.close()


@pytest.mark.browser
def test_the_finder_works_under_the_policy(at):
    """Holds already."""
    watch, page = at
    tab = watch.open(page("index"), tabs=1)
    tab.fill("#finder-home", "knob")
    tab.locator(".finder__hits .hit", has_text="EX-0001").first.wait_for()
    tab.locator(".hit__link").first.click()
    tab.wait_for_url("**/parts/EX-0001.html*")
    assert not watch.refusals


@pytest.mark.browser
def test_the_request_form_with_photo_and_code_works_under_the_policy(at):
    """Holds already."""
    watch, page = at
    tab = watch.open(page("request"), tabs=1)
    tab.fill("#request-name", "Cab hook <b>&")
    tab.locator("input[value=A1]").check(force=True)
    tab.locator(".near__go").click()
    for name, text in (("what", "Holds a coat"), ("stops", "Nothing"), ("yearly", "3")):
        tab.fill(f"#request-{name}", text)
    tab.select_option("#request-by", "fitter")
    tab.set_input_files(
        "#request-photo", files=[{"name": "a.jpg", "mimeType": "image/jpeg", "buffer": photo()}]
    )
    shown = tab.locator(".photo__shown")
    shown.wait_for()
    wait_until(tab, "document.querySelector('.photo__shown').naturalWidth > 0")
    tab.locator("button[type=submit]").click()
    tab.locator(".handover__scan").click()
    code = tab.locator("svg.handover__qr").first
    code.wait_for()
    assert code.bounding_box()["width"] > 50
    with tab.expect_download() as download:
        tab.locator(".handover__save").click()
    saved = download.value.path().read_text(encoding="utf-8")
    assert "Cab hook <b>&" in saved
    assert "photo_data" in saved
    assert not watch.refusals
