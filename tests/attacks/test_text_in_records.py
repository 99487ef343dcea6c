"""No text of any record, and nothing in fitting notes, becomes a script, a frame or a call elsewhere."""

import datetime as dt
import hashlib
import re
import shutil

import pytest
import yaml

from tests.attacks.watched import ROOT, address, build, nothing_ran, over, telling

# Fields of free text, with the most letters that each may have.
SHORT = ["name", "railway", "depot", "family", "laboratory", "measured_with"]
MIDDLE = [
    "contact",
    "order_at",
    "reference",
    "reason",
    "condition",
    "note",
    "title",
    "support",
    "after_print",
    "orientation",
    "report",
    "standard",
]
MIDDLE += ["stops_without", "place_text"]
LONG = ["purpose", "what_it_does", "what_changed", "question", "answer"]
LISTS = ["other_names", "symptoms", "conditions", "words", "numbers"]
PAYLOADS = {  # each at most 80 letters, for the shortest fields; {m} is the mark
    "breaks out": "'\"></title></script><img src=x: onerror=console.log('RAN{m}')>",
    "closes script": "</script><script>console.log('RAN{m}')</script><!--<script>",
    "svg": "--></p></bdi><svg/onload=console.log('RAN{m}')>]]>",
    "link": "[a](javascript:console.log('RAN{m}')) <javascript:console.log('RAN{m}')>",
    "entities": "&lt;img src=x: onerror=console.log('RAN{m}')&gt; &#60;script&#62;RAN()",
    "template": "${{console.log('RAN{m}')}}`{{{{7*7}}}}{{% raw %}}\\u003cscript>",
    "handler": "x' onmouseover=console.log('RAN{m}') onfocus=console.log('RAN{m}') autofocus x='",
    "loose tags": "</script ><script/x>console.log('RAN{m}')</script/><plaintext>",
}


def notes(canary):
    """Fitting notes with every way to act that Markdown and HTML have."""
    mark = "console.log('RAN note')"
    inner = [
        f"<script>{mark}</script>",
        f"<script src='{canary}/script.js'></script>",
        f"<img src='x:' onerror=\"{mark}\">",
        (
            f'<svg onload="{mark}"><script>{mark}</script>'
            f"<a xlink:href='javascript:{mark}'><text>x</text></a></svg>"
        ),
        f"<iframe src='{canary}/frame'></iframe><iframe srcdoc=\"<script>parent.{mark}</script>\"></iframe>",
        f"<object data='{canary}/object'></object><embed src='{canary}/embed'>",
        (
            f"<base href='{canary}/'><link rel=stylesheet href='{canary}/sheet'>"
            f"<meta http-equiv=refresh content='0;{canary}/go'>"
        ),
        (
            f"<style>@import '{canary}/import'; body {{ background: url({canary}/back) }} "
            f".verdict {{ display: none }}</style>"
        ),
        (
            f"<form action='{canary}/form'><input autofocus onfocus=\"{mark}\">"
            f"<button formaction='javascript:{mark}'>x</button></form>"
        ),
        (
            f'<details open ontoggle="{mark}"><summary>x</summary></details>'
            f"<video src='{canary}/v' onerror=\"{mark}\"></video>"
        ),
        f'<p style="background: url(\'{canary}/style\')" onmouseover="{mark}">x</p><body onload="{mark}">',
        f"[a](javascript:{mark}) [b](JaVa&#09;ScRiPt:{mark}) [c](data:text/html,<script>{mark}</script>)",
        f"[d](vbscript:{mark}) [e](<java\tscript:{mark}>) [f]( &#1;javascript:{mark} ) [g]({canary}/link)",
        f'![p]({canary}/picture) ![q](javascript:{mark}) ![r](x:"onerror="{mark}) <javascript:{mark}>',
        f"[ref]\n\n[ref]: javascript:{mark}\n",
        (
            f"<a href='&#x6A;avascript:{mark}'>x</a> <a href='\x01javascript:{mark}'>x</a>"
            f" <a href='//{canary[7:]}/x'>x</a>"
        ),
        f'<div markdown="1" onclick="{mark}">*x* <b onclick={mark}>x</b></div>',
        "<div class='verdict verdict--fit' data-number='EX-0001'><p class='verdict__word'>Fit it</p></div>",
        f'{{{{ 7*7 }}}} {{% include \'x\' %}} {{: onclick="{mark}" #x .y }}\n# x {{: onmouseover="{mark}" }}',
        "<p id='finder' name='x'>clobber</p><a id=location name=href href=x>x</a><img name=currentScript>",
        # these may swallow what follows: one at the end of each heading
        f'<math><mtext><table><mglyph><style><img src=x: onerror="{mark}">',
        f'<noscript><p title="</noscript><img src=x: onerror={mark}>"></noscript>',
        f"```js onclick={mark}\n</code></pre><script>{mark}</script>\n```",
        f"<!-- <script>{mark}</script> --!><script>{mark}</script> -->",
    ]
    heads = ("Tools", "Steps", "Cautions", "Check after fitting")
    return "\n\n".join(f"## {head}\n\n" + "\n\n".join(inner[at::4]) for at, head in enumerate(heads)) + "\n"


class Plain(yaml.SafeDumper):
    def ignore_aliases(self, data):
        return True


def read(file):
    """A record, in which the key `on` is a text and not the truth value of old YAML."""

    def keyed(value):
        if isinstance(value, dict):
            return {"on" if key is True else key: keyed(one) for key, one in value.items()}
        return [keyed(one) for one in value] if isinstance(value, list) else value

    return keyed(yaml.safe_load(file.read_text(encoding="utf-8")))


def write(file, record):
    file.write_text(yaml.dump(record, Dumper=Plain, allow_unicode=True, sort_keys=False), encoding="utf-8")


class Spoiler:
    """Writes payloads into every text of a record in turn, each with its mark; long texts get them all."""

    def __init__(self, first):
        self.count = first

    def text(self, most):
        self.count += 1
        all_ = list(PAYLOADS.values())
        texts = [all_[(self.count + at) % len(all_)].format(m=f" {self.count}") for at in range(len(all_))]
        assert max(map(len, texts)) <= 80
        return " ".join(texts[: 1 if most == 80 else 2 if most == 200 else None]).strip()

    def spoil(self, value):
        if isinstance(value, list):
            return [self.spoil(one) for one in value]
        if isinstance(value, dict):
            return {key: self.field(key, one) for key, one in value.items()}
        return value

    def field(self, key, value):
        if key in LISTS:
            return [self.text(80) for _ in PAYLOADS]
        if isinstance(value, str) and key in SHORT + MIDDLE + LONG:
            return self.text(80 if key in SHORT else 200 if key in MIDDLE else 4000)
        return self.spoil(value)


def full(depot):
    """Give the records the fields of text that the tiny depot leaves out."""
    letter = depot / "parts/EX-0001-lid-knob/documents/acceptance.txt"
    evidence = [
        {
            "file": "documents/acceptance.txt",
            "sha256": hashlib.sha256(letter.read_bytes()).hexdigest(),
            "title": "t",
        }
    ]
    day = dt.date(2026, 11, 1)

    def part(record):
        said = {
            "symptoms": ["s"],
            "what_changed": "w",
            "other_names": ["o"],
            "assembly": {"name": "a", "number": "1"},
        }
        record["settings"] |= {"support": "s", "after_print": "a"}
        record["stock"] = {"place": "shelf", "on_shelf": 2, "revision": record["revision"]}
        record["replaces"] = [{"number": "0417", "note": "n"}]
        return record | said

    def approval(record):
        more = [{"on": day, "by": "keeper", "what": "condition added", "condition": "c", "note": "n"}]
        record["events"] += more
        answer = {"answer": "a", "by": "specialist", "on": day}
        record["screening"] = {"novelty": answer, "complexity": answer, "monitoring": answer}
        record["events"][0] |= {"note": "n", "evidence": evidence, "reference": "r"}
        return record

    yield depot / "parts/EX-0001-lid-knob/part.yml", part
    yield depot / "parts/EX-0001-lid-knob/approval.yml", approval
    wanted = {"on": day, "by": "fitter", "yearly_demand": 1, "note": "n"}
    yield (
        depot / "requests/coat-hook.yml",
        lambda record: record | {"also_wanted": [wanted], "numbers": ["1"]},
    )
    for name in ("depot.yml", "fleets.yml", "makers.yml", "materials/petg.yml", "materials/nylon.yml"):
        yield depot / name, dict


def spoiled(home, first, canary):
    depot = shutil.copytree(ROOT / "tests/fixtures/depot", home / "depot")
    spoiler = Spoiler(first)
    for file, filled in full(depot):
        record = filled(read(file))
        record = spoiler.spoil(record)
        if file.name == "part.yml":  # places that other records name by their id are not texts; these are
            record["stock"]["place"] = spoiler.text(80)
            record["replaces"][0]["number"] = record["assembly"]["number"] = spoiler.text(80)
        write(file, record)
    words = {"synonyms": [["knob", spoiler.text(80)]], "spellings": {spoiler.text(80): spoiler.text(80)}}
    write(depot / "words.yml", words)
    (depot / "parts/EX-0001-lid-knob/fitting.md").write_text(notes(canary), encoding="utf-8")
    return depot


@pytest.fixture(scope="module", params=["file", "http"])
def site(request, tmp_path_factory, canary, warm_store):
    home = tmp_path_factory.mktemp("texts")
    built = build(spoiled(home, 3 * (request.param == "http"), canary[1]), home / "site", warm_store)
    with over(built) as (_, base):  # each half of the texts is opened in another way
        yield built, base if request.param == "http" else "file"


ACTING = """() => [...document.querySelectorAll('*')].flatMap(one => [...one.attributes]
  .filter(held => /^on/i.test(held.name)
    || /^[\\s\\x00-\\x1f]*(java|vb)script:|^\\s*data:text/i.test(held.value))
  .map(held => one.tagName + ' ' + held.name)
  .concat(['BASE', 'IFRAME', 'OBJECT', 'EMBED', 'STYLE'].includes(one.tagName) && one.closest('main')
    ? [one.tagName] : [])
  .concat(one.tagName === 'SCRIPT' && !one.src ? ['SCRIPT inline'] : []))"""


@pytest.mark.browser
def test_no_text_of_a_record_acts_on_any_page(site, watch, canary):
    """Holds already, but for the inline script that the pages bring themselves."""
    site, way = site
    acting = {}
    for file in telling(site):
        tab = watch.open(address(way, site, file))
        acting[str(file.relative_to(site))] = tab.evaluate(ACTING)
    nothing_ran(watch, canary)
    assert not {name: what for name, what in acting.items() if what}


@pytest.mark.browser
def test_no_text_of_a_record_acts_in_the_finder_and_the_request_form(site, watch, canary):
    """Holds already."""
    site, way = site
    tab = watch.open(address(way, site, site / "index.html"), tabs=1)
    for typed in (
        "RAN",
        "script",
        "console log",
        "<img src=x: onerror=console.log('RAN typed')>",
        "0417",
        "knob",
    ):
        tab.fill("#finder-home", typed)
        tab.wait_for_timeout(60)
    asked = "?q=%3Cimg%20src=x:%20onerror=console.log('RAN')%3E#%3Csvg/onload=console.log('RAN')%3E"
    tab = watch.open(address(way, site, site / "index.html") + asked, tabs=1)
    tab = watch.open(address(way, site, site / "request.html"), tabs=1)
    tab.fill("#request-name", "console log script")
    tab.locator("input[value=A1]").check(force=True)
    tab.wait_for_timeout(100)
    nothing_ran(watch, canary)


@pytest.mark.browser
def test_texts_are_shown_as_written_and_notes_show_no_verdict_of_their_own(site, watch):
    """What looks like a script is a name like any other; a box like the page's own answer, or a style that hides it, is taken out."""
    site, way = site
    tab = watch.open(address(way, site, site / "parts/EX-0001.html"), tabs=1)
    shown = tab.locator("main").text_content()
    for words in (
        "<img src=x: onerror=console.log('RAN",
        "[a](javascript:console.log('RAN",
        "{{7*7}}",
        "&lt;img src=x:",
    ):
        assert words in shown, words
    assert tab.locator(".notes").count()
    assert not tab.locator(".notes .verdict, .notes .verdict__word, .notes [class*=verdict]").count()
    assert not tab.locator(
        ".notes [style], .notes style, .notes form, .notes input, .notes [id=location]"
    ).count()
    assert tab.locator(".verdict__word").first.is_visible()


def test_no_text_leaves_its_data_file(site):
    """A script of data stays a script of data: no text closes it."""
    for file in (site[0] / "assets/data").rglob("*.js"):
        text = file.read_text(encoding="utf-8")
        assert not re.search(r"</script|<!--", text, re.IGNORECASE), file.name
