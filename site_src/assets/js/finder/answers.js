// Which of the three answers is it: *this one*, *most likely one of these*, or *no such part*? Pure.
//
// What sureness.js calls sure is looked at once more beside the others: a left and a right part share everything but the
// hand, sizes alone may be those of two, an open request may fit better, and the chosen vehicle may have another part.
(function () {
  "use strict";

  const { SAYS_WHICH, SAYS_KIND, SAYS_MORE, SAYS_LIKE, ofVehicle, isFault, isNearSide } = spares.finder;

  /** A word or number that one hand answers and the other does not. */
  const TELLS_APART = 0.25;
  const BETTER = 0.05;
  /** Two that share the larger sizes are near to each other. */
  const LARGEST = 2;
  const NOT_ON_IT = 0.1;
  const BEHIND = 0.001;
  /** A hit is near by its score, where nothing but numbers and sizes was said; */
  const NEAR = 0.5;
  /** else by its words: one that says the kind, two that stand on it anywhere, or most of what was said. */
  const [MET, TWO, MOST, SOME] = [0.45, 2, 0.6, 0.25];
  /** so many words of looks alone; a number nearly as asked; a thread that has other sizes. */
  const [LOOKS, NUMBER, OTHER] = [3, 0.4, 0.3];
  const FIRST = 5;
  /** So well a request fits that has the sizes, too. */
  const FITS_WELL = 0.62;
  /** Two sizes of one part that are nearly as asked. */
  const WELL = 0.85;

  /** @param {Index} index @param {Hit[]} hits best first @param {Item[]} items @param {string} vehicle chosen beforehand, "" for none
   * @param {Set<number>} otherwise what looks otherwise than was said
   * @returns {{ hits: Hit[], said: Said }} */
  function settled(index, hits, items, vehicle, otherwise) {
    if (vehicle) onTheVehicle(index, hits, vehicle);
    if (otherwise.size) setBack(index, hits, (hit) => otherwise.has(hit.at));
    handed(index, hits, items);
    if (items.every((item) => item.kind === "size" || item.kind === "bare")) alone(index, hits, items);
    behindRequests(index, hits);
    newerFirst(index, hits, items, otherwise);
    behindTheBest(index, hits);
    const isSure = hits.some((hit) => hit.sure && index.records[hit.at].kind === "part");
    return { hits, said: isSure ? "this" : hits.slice(0, FIRST).some((hit) => isNear(index, hit, items)) ? "likely" : "none" };
  }

  /** @param {Index} index @param {Hit} hit @param {Item[]} items */
  function isNear(index, { at, score }, items) {
    if (index.records[at].kind === "request" && score >= FITS_WELL && items.some((item) => item.size && item.match[at] >= MET)) return true;
    if (items.filter((item) => item.kind === "size" && item.match[at] >= WELL).length >= TWO) return true;
    const all = items.filter((item) => item.kind === "word");
    const telling = all.filter((item) => item.match[at] >= MET || !isFault(index, item)); // how it fails is no part of what it is
    const words = telling.length ? telling : all;
    if (!words.length) return score >= (items.some((item) => item.kind === "number" && item.numbers?.size) ? NUMBER : items.some((item) => (item.size?.values.length || 0) >= TWO) ? NUMBER : NEAR);
    const met = words.filter((item) => item.match[at] >= MET);
    const weight = (/** @type {Item[]} */ list) => list.reduce((sum, item) => sum + item.weight, 0);
    const share = weight(met) / weight(words);
    if (items.some((item) => item.numbers?.size && item.match[at] >= NUMBER) || items.some((item) => item.size?.thread && item.match[at] >= OTHER && !item.modelled?.has(at))) return true;
    if (met.length && items.some((item) => item.kind === "size" && item.match[at] >= WELL && (item.size?.values.length || 0) >= TWO)) return true;
    const says = (/** @type {number} */ bit) => met.filter((item) => item.says && item.says[at] & bit).length;
    if (!says(SAYS_MORE) && share >= MOST) return true;
    if (says(SAYS_MORE) < TWO && !says(SAYS_KIND | SAYS_LIKE) && met.length < LOOKS) return share >= MOST && (says(SAYS_MORE) === words.length || (words.length > 1 && met.length === words.length && !says(SAYS_WHICH)));
    return share >= SOME;
  }

  /** What does not fit on the vehicle is found, never sure; nor is anything on a vehicle that nobody knows.
   * @param {Index} index @param {Hit[]} hits @param {string} vehicle */
  function onTheVehicle(index, hits, vehicle) {
    const known = ofVehicle(index, vehicle);
    setBack(index, hits, (hit) => !known.has(hit.at));
  }

  /** @param {Index} index @param {Hit[]} hits @param {(hit: Hit) => boolean} isAgainst */
  function setBack(index, hits, isAgainst) {
    for (const hit of hits) {
      if (!isAgainst(hit)) continue;
      hit.sure = false;
      hit.score -= NOT_ON_IT;
    }
    hits.sort((a, b) => b.score - a.score || index.order[a.at] - index.order[b.at]);
  }

  /** Of a left and a right part, neither is sure until the hand is said, and then the other never is.
   * @param {Index} index @param {Hit[]} hits @param {Item[]} items */
  function handed(index, hits, items) {
    /** @type {Map<string, Hit> | null} */
    let byNumber = null;
    for (const hit of hits) {
      if (!hit.sure || !index.handed[hit.at]) continue;
      byNumber = byNumber || new Map(hits.map((each) => [index.records[each.at].number, each]));
      const other = byNumber.get(index.handed[hit.at]);
      if (!other) continue;
      const leads = items.some((item) => item.match[hit.at] - item.match[other.at] > TELLS_APART);
      const trails = items.some((item) => item.match[other.at] - item.match[hit.at] > TELLS_APART);
      if (trails || !leads) hit.sure = false;
    }
  }

  /** Sizes alone are sure where nothing else has them, and nothing else is as long and as wide, not even off a tape.
   * @param {Index} index @param {Hit[]} hits @param {Item[]} items */
  function alone(index, hits, items) {
    if (!hits.some((hit) => hit.sure)) return;
    const values = items.flatMap((item) => item.size?.values || []).sort((a, b) => b - a).slice(0, LARGEST);
    const near = index.sizes.filter(({ box }) => box.length && values.every((value, at) => isNearSide(index, value, box[at])));
    if (near.length > 1 || hits.filter((hit) => hit.sure).length > 1) for (const hit of hits) hit.sure = false;
  }

  /** What is superseded is sure by no words, and stands behind what took its place where nothing that was said tells them apart.
   * @param {Index} index @param {Hit[]} hits @param {Item[]} items @param {Set<number>} otherwise */
  function newerFirst(index, hits, items, otherwise) {
    const olds = hits.filter((hit) => index.numberOf.has(index.records[hit.at].over || "") && !items.some((item) => item.numbers?.get(hit.at)?.isWhole));
    for (const old of olds) {
      old.sure = false;
      const newer = hits.find((hit) => hit.at === index.numberOf.get(index.records[old.at].over || ""));
      const isMeant = newer && (otherwise.has(newer.at) || items.some((item) => item.match[old.at] - item.match[newer.at] > TELLS_APART));
      if (newer && !isMeant && old.score >= newer.score - BEHIND) old.score = newer.score - BEHIND;
    }
    if (olds.length) setBack(index, hits, () => false);
  }

  /** @param {Index} index @param {Hit[]} hits */
  function behindRequests(index, hits) {
    const best = Math.max(0, ...hits.filter((hit) => index.records[hit.at].kind === "request").map((hit) => hit.score));
    for (const hit of hits) if (best > hit.score + BETTER && index.records[hit.at].kind === "part") hit.sure = false;
  }

  /** No part is sure while one that is not says more of what was asked; nor is a request that fits clearly worse.
   * @param {Index} index @param {Hit[]} hits */
  function behindTheBest(index, hits) {
    const isPart = (/** @type {Hit} */ hit) => index.records[hit.at].kind === "part";
    const best = hits.find(isPart);
    if (best && !best.sure) for (const hit of hits) if (isPart(hit) || hit.score < best.score - BETTER) hit.sure = false;
  }

  spares.finder = { ...spares.finder, settled };
})();
