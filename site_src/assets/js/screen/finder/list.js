// What does the finder show for a query? One of three answers: this one, most likely one of these, or no such part and the
// way to ask. An open request that fits better than any part stands before it.
(function () {
  "use strict";

  const { counted, filled } = spares.judge;
  const { made, hitElement } = spares.screen;

  const PERHAPS = { home: 5, top: 3 };
  const MOST_REQUESTS = 2;
  /** Beside sure hits, others only where they are few and come near the best. */
  const FEW = 2;
  const ALSO_SHOWN = 0.6;
  const STRONG = 0.62;

  /** @param {Candidate[]} candidates best first @param {(candidate: Candidate) => boolean} passes the filters
   * @param {FinderPlace} place @param {Said} answer of the finder @param {{ isStrange: boolean, isAnswer: boolean }} how isStrange: a vehicle was named
   * that no fleet has, or a piece and not which, of which the notice above tells; isAnswer: something was said @returns {FoundParts} */
  function sorted(candidates, passes, place, answer, how) {
    const parts = candidates.filter((each) => each.record.kind === "part" && passes(each));
    const sure = parts.filter((each) => each.sure);
    const least = sure.length ? ALSO_SHOWN * sure[0].score : 0;
    const perhaps = sure.length > FEW ? [] : mostLikely(parts.filter((each) => !each.sure && each.score >= least), sure.length ? Infinity : STRONG, PERHAPS[place]);
    const best = parts.length ? parts[0].score : 0;
    const asked = candidates.filter((each) => each.record.kind === "request");
    const isFirst = asked.length > 0 && asked[0].score > best && answer !== "none";
    const requests = asked.filter((each) => each.sure || !sure.length || (isFirst && each.score > best)).slice(0, MOST_REQUESTS);
    const near = perhaps.length || requests.length ? "likely" : "none";
    return { sure, perhaps, requests, isFirst, ...how, said: sure.length ? "this" : answer === "none" ? "none" : near };
  }

  /** The best few, or all that answer well where they are many: "clip" in a depot of fifty clips.
   * @param {Candidate[]} unsure @param {number} least @param {number} few */
  function mostLikely(unsure, least, few) {
    const many = unsure.filter((each) => each.score >= least);
    return many.length > few ? many : unsure.slice(0, few);
  }

  /** @param {FoundParts} found @param {FinderWords} said */
  function unsureLine(found, said) {
    if (found.said === "none" && found.isStrange) return { name: "", text: "" };
    const [name, text] = found.said === "none" ? ["none", said.none] : found.perhaps.length ? ["likely", said.likely] : ["likely", said.likely_asked];
    return { name: `finder__${name}`, text };
  }

  /** How a sure answer is headed; a list that nobody asked for by words is none.
   * @param {FoundParts} found @param {FinderWords} said */
  function sureLine({ sure, isAnswer }, said) {
    if (!sure.length || !isAnswer) return "";
    return sure.length === 1 ? said.this_one : said.these;
  }

  /** The list as elements.
   * @param {FoundParts} found @param {Catalogue} parts @param {Ranked} ranked @param {{ words: Words, base: URL }} page
   * @param {{ shown: number, more: (n: number) => Node, ask: (text: string) => Node }} around @returns {Node[]} */
  function listed(found, parts, ranked, page, around) {
    const said = page.words.finder;
    const { sure, perhaps, requests, isFirst } = found;
    const hits = (/** @type {Candidate[]} */ each) => made("ol", "finder__hits", { role: "list" },
      ...each.map((hit) => hitElement(parts.index, parts.data, ranked, hit, hit.standing(), page)));
    const heading = (/** @type {string} */ text) => made("h2", "finder__heading", {}, text);
    const asked = requests.length ? [heading(isFirst ? said.requests_first : said.requests), hits(requests)] : [];
    const line = unsureLine(found, said);
    const isOther = sure.length > 0 || isFirst;
    const further = found.said === "none" ? said.far : sure.length ? said.perhaps_too : said.perhaps;
    return [
      ...(sure.length || !line.text ? [] : [made("p", line.name, {}, line.text)]),
      ...(isFirst ? asked : []),
      ...(sure.length && isFirst ? [heading(said.also_sure)] : []),
      ...(isFirst || !sureLine(found, said) ? [] : [made("p", "finder__this", {}, sureLine(found, said))]),
      ...(sure.length ? [hits(sure.slice(0, around.shown))] : []),
      ...(sure.length > around.shown ? [around.more(sure.length)] : []),
      ...(found.said === "none" && !found.isStrange ? [around.ask(said.ask)] : []),
      ...(perhaps.length ? [...(isOther || found.said === "none" ? [heading(further)] : []), hits(perhaps.slice(0, around.shown))] : []),
      ...(perhaps.length > around.shown ? [around.more(perhaps.length)] : []),
      ...(isFirst ? [] : asked),
      ...(found.said === "likely" ? [around.ask(said.ask)] : []),
      ...(sureLine(found, said) ? [around.ask(said.not_it)] : []),
    ];
  }

  /** The line for a screen reader.
   * @param {FoundParts} found @param {Words} words @returns {string} */
  function spoken(found, words) {
    const said = words.finder;
    const count = found.sure.length ? [sureLine(found, said), counted(said.count, found.sure.length, {}, words)].filter(Boolean).join(": ") : unsureLine(found, said).text;
    const first = (found.isFirst && found.requests[0]) || found.sure[0] || (found.said === "none" ? undefined : found.perhaps[0]);
    return first ? filled(said.first, { count, number: first.record.number, name: first.record.name }, words) : count;
  }

  spares.screen = { ...spares.screen, sorted, listed, spoken };
})();
