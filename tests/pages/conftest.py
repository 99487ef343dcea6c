"""A site built for real from a catalogue whose every text is hostile."""

import re
from pathlib import Path
from shutil import copytree
from typing import Any

import pytest
import yaml

from generator.edge.cli import main
from tests.fixtures.bind import bind
from tests.fixtures.shared import made_once
from tests.pages.sample import CATALOGUE, DAY

CONFIG = Path(__file__).parents[2] / "mkdocs.yml"
DEMO = CONFIG.with_name("catalogue")
HOSTILE = "<script>alert(1)</script> \"q\" 'a' | `b` [c](javascript:1) *d* _e_ 🔧 مقبض"
IMAGE = '"><img src=x onerror=alert(1)>'
NOTES = """# Own heading
## Tools
- <script>alert(1)</script>Hammer
- [drawing](documents/drawing.txt) and [page](documents/page.html)
## Steps
1. ![far](https://elsewhere.example/x.png) ![near](photos/fitted one.png)
2. <img src=x onerror=alert(1)> <a href="javascript:alert(1)">tap</a> <iframe src="//elsewhere.example"></iframe>
3. <div style="background:url(https://elsewhere.example/x.png)">styled</div></div></div></article></main>
## Cautions
- <svg onload=alert(1)><a href="https://elsewhere.example">away</a></svg>

```
not closed <style>body{display:none}</style>
## Check after fitting
- [TOC] {: onclick=alert(1) }
"""
PICTURE = bytes.fromhex(
    "89504e470d0a1a0a0000000d49484452000000010000000108060000001f15c4890000000d49444154789c6360000000020001e221bc330000000049454e44ae426082"
)


def hostile_catalogue(folder: Path) -> Path:
    """The sample with a hostile text wherever its records allow one, and approved so."""
    root = Path(copytree(CATALOGUE, folder))
    _edit(root / "depot.yml", lambda depot: depot.update(railway=HOSTILE, depot=IMAGE, contact=HOSTILE))
    _edit(root / "fleets.yml", _fleets)
    _edit(root / "makers.yml", lambda makers: makers["makers"][0].update(name=HOSTILE, order_at=HOSTILE))
    _edit(root / "materials/plain.yml", _material)
    latch = root / "parts/P-0001-latch"
    _edit(latch / "part.yml", _part)
    (latch / "fitting.md").write_text(NOTES, encoding="utf-8")
    (latch / "documents/page.html").write_text("<script>alert(1)</script>", encoding="utf-8")
    (latch / "documents/a b#c?d%e&f'g.txt").write_text("a document with an odd name", encoding="utf-8")
    (latch / "photos").mkdir()
    (latch / "photos/fitted one.png").write_bytes(PICTURE)
    (latch / "photos/other.png").write_bytes(PICTURE)
    for name in ("R-1", "R-2"):
        _edit(root / f"requests/{name}.yml", _request)
    _edit(root / "queries/2026-11-20-two.yml", lambda queries: queries["looked_for"][0].update(text=HOSTILE))
    bind(root)
    return root


def _edit(file: Path, change: Any) -> None:
    content = _with_on(yaml.safe_load(file.read_text(encoding="utf-8")))
    change(content)
    file.write_text(yaml.safe_dump(content, allow_unicode=True, sort_keys=False), encoding="utf-8")


def _with_on(content: Any) -> Any:
    """YAML 1.1 takes the key `on` for true; the catalogue's own reader does not."""
    if isinstance(content, dict):
        return {"on" if key is True else key: _with_on(each) for key, each in content.items()}
    return [_with_on(each) for each in content] if isinstance(content, list) else content


def _fleets(content: dict[str, Any]) -> None:
    content["fleets"][0]["name"] = HOSTILE
    for at, place in enumerate(content["fleets"][0]["places"]):
        place["name"] = HOSTILE + " " * at + "." * at


def _material(material: dict[str, Any]) -> None:
    material.update(name=HOSTILE, grade=HOSTILE, supplier=IMAGE, lot_family=HOSTILE, colouring=IMAGE)
    material["fire_tests"][0].update(report=HOSTILE, laboratory=IMAGE, lot_family=HOSTILE, colour=IMAGE, accreditation=HOSTILE)


def _part(part: dict[str, Any]) -> None:
    part.update(
        name=HOSTILE, other_names=[HOSTILE, IMAGE], purpose=HOSTILE, symptoms=[HOSTILE], what_changed=IMAGE
    )
    part["replaces"][0].update(number=HOSTILE, note=IMAGE)
    part["assembly"].update(name=HOSTILE, number=IMAGE)
    part["stock"]["place"] = HOSTILE


def _request(request: dict[str, Any]) -> None:
    request.update(
        name=HOSTILE, what_it_does=IMAGE, stops_without=HOSTILE, numbers=[HOSTILE], words=[HOSTILE]
    )


@pytest.fixture(scope="session")
def hostile_site(tmp_path_factory: pytest.TempPathFactory, warm_store: Path) -> Path:
    """Built once a run, as all sites here: look, do not touch."""

    def make(folder: Path) -> None:
        build_site(hostile_catalogue(folder / "catalogue"), folder / "site", warm_store)

    return made_once(tmp_path_factory, "hostile", make) / "site"


@pytest.fixture(scope="session")
def sample_site(tmp_path_factory: pytest.TempPathFactory, warm_store: Path) -> Path:
    """The small catalogue of the page tests as it is."""
    return made_once(tmp_path_factory, "sample", lambda folder: build_site(CATALOGUE, folder, warm_store))


@pytest.fixture(scope="session")
def demo_site(tmp_path_factory: pytest.TempPathFactory, warm_store: Path) -> Path:
    """The demo catalogue, for tests that need many parts of many sizes."""
    return made_once(tmp_path_factory, "demo", lambda folder: build_site(DEMO, folder, warm_store))


def build_site(catalogue: Path, site: Path, store: Path) -> Path:
    """The site of a catalogue as `spares build` makes it, with our own pages and theme.

    Of a copy: git knows how the tests' own catalogues were changed, and the store whoever built them before.
    """
    copied = copytree(catalogue, site.with_name(f"{site.name}-catalogue"))
    folders = ["--catalogue", str(copied), "--site", str(site), "--store", str(store)]
    assert main(["build", *folders, "--config", str(CONFIG), "--on", DAY.isoformat()]) == 0
    return site


def inline_script() -> str:
    """The one script that stands in the pages themselves."""
    text = (CONFIG.parent / "site_src/theme/partials/top.html").read_text(encoding="utf-8")
    found = re.search(r"<script>(.*?)</script>", text, re.DOTALL)
    assert found
    return found[1]
