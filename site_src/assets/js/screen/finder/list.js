// What does the finder show for a query? Sure hits, else a plain "no such part" with what is near and the way to ask.
(function () {
  "use strict";

  const { counted, filled } = spares.judge;
  const { made, hitElement } = spares.screen;

  const PERHAPS = { home: 5, top: 3 };
  const MOST_REQUESTS = 2;
  /** Beside sure hits, others only where they are few and come near the best. */
  const FEW = 2;
  const ALSO_SHOWN = 0.6;
  const NEARLY = 0.6;

  /** @param {Candidate[]} candidates best first @param {(candidate: Candidate) => boolean} passes the filters
   * @param {FinderPlace} place @returns {FoundParts} */
  function sorted(candidates, passes, place) {
    const parts = candidates.filter((each) => each.record.kind === "part" && passes(each));
    const sure = parts.filter((each) => each.sure);
    const least = sure.length ? ALSO_SHOWN * sure[0].score : 0;
    const perhaps = sure.length > FEW ? [] : parts.filter((each) => !each.sure && each.score >= least).slice(0, PERHAPS[place]);
    const requests = candidates.filter((each) => each.record.kind === "request" && (each.sure || !sure.length));
    return { sure, perhaps, requests: requests.slice(0, MOST_REQUESTS) };
  }

  /** @param {FoundParts} found @param {FinderWords} said */
  function noneWords(found, said) {
    return found.perhaps.length && found.perhaps[0].score >= NEARLY ? said.none_whole : said.none;
  }

  /** The list as elements.
   * @param {FoundParts} found @param {Catalogue} parts @param {Ranked} ranked @param {{ words: Words, base: URL }} page
   * @param {{ shown: number, more: (n: number) => Node, ask: () => Node }} around @returns {Node[]} */
  function listed(found, parts, ranked, page, around) {
    const said = page.words.finder;
    const { sure, perhaps, requests } = found;
    const hits = (/** @type {Candidate[]} */ each) => made("ol", "finder__hits", { role: "list" },
      ...each.map((hit) => hitElement(parts.index, parts.data, ranked, hit, hit.standing(), page)));
    const heading = (/** @type {string} */ text) => made("h2", "finder__heading", {}, text);
    return [
      ...(sure.length ? [hits(sure.slice(0, around.shown))] : [made("p", "finder__none", {}, noneWords(found, said))]),
      ...(sure.length > around.shown ? [around.more(sure.length)] : []),
      ...(perhaps.length ? [heading(sure.length ? said.perhaps_too : said.perhaps), hits(perhaps)] : []),
      ...(requests.length ? [heading(said.requests), hits(requests)] : []),
      ...(sure.length ? [] : [around.ask()]),
    ];
  }

  /** The line for a screen reader.
   * @param {FoundParts} found @param {Words} words @returns {string} */
  function spoken(found, words) {
    const said = words.finder;
    const count = found.sure.length ? counted(said.count, found.sure.length, {}, words) : noneWords(found, said);
    const first = found.sure[0] || found.perhaps[0];
    return first ? filled(said.first, { count, number: first.record.number, name: first.record.name }, words) : count;
  }

  spares.screen = { ...spares.screen, sorted, listed, spoken };
})();
