"""How well and how fast does the finder answer? Prints figures; run with `python -m tests.benchmarks.bench_finder`.

Quality: the evaluation set in both halves (the ranker was tuned on one, the other is the one to believe).
Speed: a generated catalogue of 5,000 parts in Chromium at a sixth of the processor's speed, opened from disk.
"""

import argparse
import gzip
import statistics
import tempfile
from pathlib import Path
from typing import Any

from playwright.sync_api import Page, sync_playwright

from generator.finder.engine import Finder
from generator.finder.scripts import read_scripts
from generator.pages.finder.index import index_script
from tests.conftest import CHROMIUM, SWITCHES
from tests.finder import catalogues, evaluation

PARTS = 5000
THROTTLE = 6

# Of three rounds the least counts: it disturbs less what else runs on the machine. Words once worked out are
# forgotten before each, so that every round works them out anew.
TIMED = """(queries) => queries.map((query) => Math.min(...[1, 2, 3].map(() => {
  index.meant = index.pieceCache = undefined;
  const start = performance.now();
  spares.finder.rank(index, query);
  return performance.now() - start;
})))"""
AS_TYPED = """(queries) => queries.flatMap((query) => [...query].map((_, at) => query.slice(0, at + 1)))"""


def quality(data: dict[str, Any], wrong: str | None) -> None:
    """wrong: of the kinds that hold this text, each query that is not answered as it should be is printed."""
    with Finder(data, catalogues.SCRIPTS) as finder:
        for title, half in (("tuned on", False), ("held back", True)):
            asked = [query for query in evaluation.queries() if query.is_held_back is half]
            heads = "".join(f"{head:>8}" for head in ("@1", "@5", "MRR", "sure", "wrongly"))
            print(f"\n{title}: {len(asked)} queries\n{'kind':24}{'n':>5}{heads}")
            for kind in dict.fromkeys(query.kind for query in asked):
                got = evaluation.score([query for query in asked if query.kind == kind], finder)
                print(f"{kind:24}{got.n:5}{got.at_1:8.3f}{got.at_5:8.3f}{got.mrr:8.3f}{got.sure:8.3f}{got.wrongly_sure:8}")
                if wrong is not None and wrong in kind and not half:
                    print("".join(f"    {line}\n" for line in got.wrong), end="")


def speed(data: dict[str, Any]) -> None:
    content = index_script(data)
    print(f"\n{len(data['records'])} records: {len(content) / 1e6:.2f} MB, {len(gzip.compress(content, 9, mtime=0)) / 1e6:.2f} MB gzipped")
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        (Path(folder) / "scripts.js").write_text("".join(read_scripts(catalogues.SCRIPTS).room(each) for each in ("vehicles", "labels", "finder")), encoding="utf-8")
        tags = "<script src='scripts.js'></script>"
        (Path(folder) / "finder.js").write_bytes(content)
        start = "<script>const started = performance.now();</script><script src='finder.js'></script>"
        ready = "<script>globalThis.index = spares.finder.prepare(sparesIndex); spares.finder.rank(index, 'knob tr4 35'); globalThis.took = performance.now() - started;</script>"
        (Path(folder) / "page.html").write_text(f"<!doctype html><meta charset='utf-8'>{tags}{start}{ready}", encoding="utf-8")
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=SWITCHES)
        for throttle in (1, THROTTLE):
            page = browser.new_page()
            page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": throttle})
            page.goto((Path(folder) / "page.html").as_uri())
            print(f"processor 1/{throttle}: data read, index built and first answer in {page.evaluate('took'):.0f} ms")
            _timed(page, throttle)
        browser.close()


def _timed(page: Page, throttle: int) -> None:
    asked = [query.text for query in evaluation.queries()]
    typed = page.evaluate(AS_TYPED, asked[:: max(1, len(asked) // 40)])
    for what, queries in (("whole queries", asked), ("every keystroke", typed)):
        times = sorted(page.evaluate(TIMED, queries))
        p95 = times[int(0.95 * len(times))]
        print(f"processor 1/{throttle}: {what:16} n={len(times):5} median {statistics.median(times):6.2f} ms, p95 {p95:6.2f} ms, worst {times[-1]:6.2f} ms")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--store", type=Path, default=catalogues.ROOT / ".store")
    parser.add_argument("--quality", action="store_true", help="figures of quality only")
    parser.add_argument("--wrong", metavar="KIND", help="print what is wrong in the half tuned on")
    options = parser.parse_args()
    data = catalogues.demo(options.store)
    quality(data, options.wrong)
    if options.quality:
        return
    speed(catalogues.generated(data, PARTS))


if __name__ == "__main__":
    main()
