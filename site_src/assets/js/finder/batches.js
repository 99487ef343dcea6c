// Is the query the number of a batch, or a whole label? Then its part is surely meant, and nothing else is. Pure.
//
// A number of a batch alone is read exactly: a piece of one, or one nearly like it, says nothing, for another piece is another
// answer; what only looks like one is offered. A label is read as everywhere (labels/). One that does not agree opens the part that it says, with the
// whole label, so that the page says what is wrong. A part whose own number is written so comes first.
(function () {
  "use strict";

  const { fold, mentioned, notUnderstood, numberKey, suppliersOf } = spares.finder;
  const { asBatch, batchAmong, batchRead, lookAlike, looks, squashed, tidied } = spares.labels;
  const WEIGHT = 2;
  const LONGEST = 200;
  const SHORTEST = 4;
  const MOST_TRIED = 6;
  const FIRST = 3;
  /** What a number that says the piece is: a known batch, one that nobody can tell, or a label that does not agree. */
  const PIECE = ["batch", "strange", "label", "stopped", "lot", "unlabelled", "unread"];
  /** Signs that say something of a batch: "> B-0150", "B-0150…". */
  const MORE_THAN_A_LABEL = /[+~\u2248\u2260<>\u2264\u2265!\u00ac\u2026*]|\.\.|[-\u2010-\u2015]\s*$/;
  /** A word beside what a label says may deny its piece, or be a vehicle's. */
  const WORD = /(?<![\p{L}\p{N}])\p{L}{2,}(?![\p{L}\p{N}-])|(?<![\p{L}\p{N}.-])\p{N}/u;
  /** So many batches of a lot are offered. */
  const OFFERED = 8;

  /** Of each index what its batches are, worked out once.
   * @type {WeakMap<Index, Batches>} */
  const known = new WeakMap();

  /** "B-0147" → "B4".
   * @param {string} batch */
  const shapeOf = (batch) => `${batch.split("-")[0]}${(batch.split("-")[1] || "").length}`;

  /** @param {Index} index @returns {Batches} */
  function batchesOf(index) {
    let found = known.get(index);
    if (!found) {
      const owners = new Map(index.records.flatMap((record, at) => (record.batches || []).map(([name]) => /** @type {[string, number]} */ ([name, at]))));
      const names = [...owners.keys()];
      found = {
        owners, names, looks: names.length ? index.records.map((record) => looks(record.number)) : [], shapes: new Set(names.map(shapeOf)),
        letters: new Set(names.map((name) => name.split("-")[0])), fewest: Math.min(...names.map((name) => (name.split("-")[1] || "").length)),
        alike: names.map((name) => [name, looks(name), looks(name.replace(/-0+/, "-"))]),
        numbers: names.length ? index.numbers.map((number) => squashed(number.text)) : [],
        things: new Map(Object.entries(index.things || {})), thingShapes: new Set(Object.keys(index.things || {}).map(shapeOf)), suppliers: suppliersOf(new Map(Object.entries(index.things || {}))),
        revisions: new Set(index.records.flatMap((record) => (record.batches || []).map(([, revision]) => revision))),
      };
      known.set(index, found);
    }
    return found;
  }

  /** The batch or label that a query is, or the pieces that it names among other words, which `rest` holds then; null where it is
   * none of these.
   * @param {Index} index @param {string} query @returns {LabelAsked | null} */
  function batchAsked(index, query) {
    const { owners } = batchesOf(index);
    const batch = asBatch(query);
    if (!owners.size || index.numberOf.has(query.trim().toUpperCase())) return null;
    const at = owners.get(batch);
    if (batch && at !== undefined && !index.numberOf.has(batch)) return { at, batch, text: batch, isWrong: false, meant: [] };
    const written = query.length > LONGEST ? null : labelAsked(index, query);
    if (written?.batch && !MORE_THAN_A_LABEL.test(query) && (!written.isWrong || (written.at >= 0 && !WORD.test(query)))) return written;
    const said = amongWords(index, query);
    if (query.length > LONGEST || said?.isDoubted || (said?.isWrong && said.rest !== undefined)) return said;
    const plain = plainly(query);
    const label = plain === query ? written : labelAsked(index, plain);
    const isUnread = label !== null && !label.batch;
    return (label?.isWrong && besideVehicles(index, query)) || (isUnread && said) || label || said || alikeAsked(index, query);
  }

  /** Without the sign at the end of a sentence: "TV-0417 B-0150?"
   * @param {string} query */
  const plainly = (query) => query.trim().replace(/(?<=[0-9])["'”“’»)]*[.!?,;]$/u, "");

  /** Whether what stands where a label has its revision is a word or a count: "TV-0417 fra B-0150", "2x B-0150".
   * @param {Index} index @param {string} said @param {Set<string>} revisions */
  const isNoRevision = (index, said, revisions) => !revisions.has(said) && (/^(?:[A-Z]{3,4}|OK|\d+X|X\d+)$/.test(said) || (/^[A-Z]{2}$/.test(said) && index.fillers.has(fold(said))));

  /** A label with the vehicles that its piece is asked for, which are no revision of it.
   * @param {Index} index @param {string} query @returns {LabelAsked | null} */
  function besideVehicles(index, query) {
    const { owners, revisions } = batchesOf(index);
    const isVehicle = (/** @type {string} */ word) => !revisions.has(word.toUpperCase()) && (spares.vehicles.meantBy(word, index.fleets) !== "" || index.fleets.some(({ id }) => id.toUpperCase() === word.toUpperCase()));
    const words = query.trim().split(/\s+/);
    const rest = words.filter(isVehicle).join(" ");
    const label = rest ? labelAsked(index, words.filter((word) => !isVehicle(word)).join(" ")) : null;
    return label && !label.isWrong && owners.has(label.batch) ? { ...label, at: -1, rest } : null;
  }

  /** @param {Index} index @param {string} query @returns {LabelAsked | null} */
  function amongWords(index, query) {
    const { named, beside, rest, marked } = mentioned(index, query, batchesOf(index));
    if (!named.length) return null;
    const [{ batch, text, meant, isNumber, kind, revision, about, isDoubted, isTwo }] = named;
    if (named.length > 1 || isTwo) return { at: -1, batch: "", text: named.map((each) => each.text).join(", "), isWrong: true, meant: named.flatMap((each) => (each.batch ? [each.batch] : each.meant)), rest };
    return { at: -1, batch, text, isWrong: false, meant, rest, marked, beside, isNumber, kind, revision, about, isDoubted };
  }

  /** Whether digits that may be the number of a part are a batch all the same: the other words find the part of such a batch.
   * @param {Index} index @param {LabelAsked} asked @param {Ranked} told by the other words */
  function isPiece(index, { meant, isNumber, revision }, told) {
    const { owners } = batchesOf(index);
    const parts = told.hits.filter((hit) => index.records[hit.at].kind === "part");
    const said = parts.some((hit) => hit.sure) ? parts.filter((hit) => hit.sure) : parts.slice(0, FIRST);
    if (revision) return said.some((hit) => isOfAnother(index, hit.at, revision));
    return !isNumber || meant.some((name) => said.some((hit) => hit.at === owners.get(name)));
  }

  /** Whether a part is of another revision than the one that was said.
   * @param {Index} index @param {number} at @param {string} revision */
  const isOfAnother = (index, at, revision) => (index.records[at].revision || revision).toUpperCase() !== revision;

  /** What the other words find, as a piece of the batch that was named among them. The part of a known batch is found alone, and its
   * piece fits nowhere where the words say another part or revision; a piece that nobody knows, or two, are of whatever was found.
   * @param {Index} index @param {LabelAsked} asked @param {string} query @param {Ranked} told by the other words, or by the whole query
   * where there are none @returns {Ranked} */
  function ofPiece(index, asked, query, told) {
    const owner = asked.batch ? Number(batchesOf(index).owners.get(asked.batch)) : -1;
    const beside = owner >= 0 ? unreadBeside(index, owner, asked, told) : [];
    const isWrong = asked.isWrong || (owner >= 0 && isAgainst(index, owner, asked, query, told, !asked.marked || beside.length > 0));
    const unread = isWrong ? [] : beside;
    const hits = owner >= 0 ? [{ at: owner, score: 1, sure: true }] : withMeant(index, asked, told.hits);
    const match = new Float32Array(index.records.length);
    const said = isWrong || (!asked.batch && batchesOf(index).owners.has(asBatch(asked.text))) ? query.trim() : asked.batch || asked.text;
    const text = asked.isDoubted && !isWrong && isRead(index, asked, said) ? `${said} ?` : said;
    const kind = isWrong ? "label" : unread.length ? "unread" : asked.batch ? "batch" : asked.kind || "strange";
    const numbers = new Map(hits.filter(({ at }) => index.records[at].kind === "part" && (!asked.revision || isOfAnother(index, at, asked.revision))).map(({ at }) => [at, { match: 1, number: { key: numberKey(text), short: "", at, text, kind, ...(asked.revision ? { own: index.records[at].revision } : {}) }, isWhole: true }]));
    for (const at of numbers.keys()) match[at] = 1;
    const { owners } = batchesOf(index);
    const ownMeant = asked.meant.filter((name) => numbers.has(Number(owners.get(name))));
    const meant = isWrong && asked.batch ? [asked.batch] : !asked.kind ? asked.meant : ownMeant.slice(-OFFERED);
    return {
      ...told, besides: asked.rest, hits, items: [{ kind: "number", text, weight: WEIGHT, match, least: 0.6, numbers, isPiece: true }, ...told.items], sure: hits.filter((hit) => hit.sure).length,
      said: owner >= 0 ? "this" : hits.length && told.said === "none" ? "likely" : told.said, ...(unread.length ? { label: { ...asked, text: "", meant: [], unread } } : meant.length || !hits.length ? { label: { ...asked, text: asked.isWrong ? asked.text : "", meant } } : {}),
    };
  }

  /** What beside a known batch is not understood; in its place nothing stands where the batch is all that was said.
   * @param {Index} index @param {number} owner @param {LabelAsked} asked @param {Ranked} told */
  function unreadBeside(index, owner, { batch, marked }, told) {
    const [, revision] = (index.records[owner].batches || []).find(([name]) => name === batch) || ["", ""];
    return marked ? notUnderstood(index, owner, marked, revision, told) : [];
  }

  /** What of the piece of a hit is asked of the page that it opens, which must not take one for known beside which something was not understood.
   * @param {Ranked} ranked @param {number} at */
  function askedOfPage(ranked, at) {
    const batch = batchFound(ranked, at);
    return batch && isUnread(ranked, at) ? `${batch} ? ${ranked.label?.unread?.join(" … ") || ""}`.trim() : batch;
  }

  /** Whether the page that the hit opens would take a text for one of the batches that were doubted: "B-0150+".
   * @param {Index} index @param {LabelAsked} asked @param {string} text */
  const isRead = (index, { meant, about = [] }, text) => [...meant, ...about].some((name) => {
    const { number, batches = [] } = index.records[Number(batchesOf(index).owners.get(name))];
    return batchRead(text, { number, batches, numbers: [] }).batch !== "";
  });

  /** Where nothing was found by the words, the parts whose batches may be meant.
   * @param {Index} index @param {LabelAsked} asked @param {Hit[]} hits @returns {Hit[]} */
  function withMeant(index, { meant, about = [] }, hits) {
    if (hits.some(({ at }) => index.records[at].kind === "part")) return hits;
    const { owners } = batchesOf(index);
    return [...hits, ...[...new Set([...meant, ...about].map((name) => Number(owners.get(name))))].map((at) => ({ at, score: 1, sure: false }))];
  }

  /** Whether the words beside a known batch say another part or another revision; those of the question alone ("is the batch … ok") say none.
   * @param {Index} index @param {number} owner @param {LabelAsked} asked @param {string} query @param {Ranked} told
   * @param {boolean} saysMore than the question */
  function isAgainst(index, owner, { batch, rest, beside }, query, told, saysMore) {
    const [, own] = (index.records[owner].batches || []).find(([name]) => name === batch) || ["", ""];
    const { revisions } = batchesOf(index);
    const next = (beside || []).map(tidied).filter((word) => revisions.has(word) || /^[A-Z]$/.test(word));
    const called = [...tidied(query).matchAll(/\bREV(?:ISION)?\b[. :]*([A-Z0-9]{1,4})\b/g)].map(([, revision]) => revision);
    if ([...next, ...called].some((revision) => revision !== own)) return true;
    const isOfParts = told.items.some((item) => !["fleet", "vehicle", "bare"].includes(item.kind));
    const parts = told.hits.filter((hit) => index.records[hit.at].kind === "part");
    const sure = parts.filter((hit) => hit.sure);
    const said = sure.length ? sure : told.said === "none" ? [] : parts;
    return Boolean(rest) && isOfParts && said.length > 0 && !said.some((hit) => hit.at === owner) && saysMore;
  }

  /** @param {Index} index @param {string} query @returns {LabelAsked | null} */
  function labelAsked(index, query) {
    const { owners, looks: numbers, shapes, revisions } = batchesOf(index);
    const said = looks(query);
    if (said.length < SHORTEST || !/[0-9]/.test(said)) return null;
    const named = index.records.map((_record, at) => at).filter((at) => index.records[at].kind === "part" && numbers[at] && said.includes(numbers[at]));
    named.sort((one, other) => numbers[other].length - numbers[one].length);
    for (const at of named.slice(0, MOST_TRIED)) {
      const { number, batches = [] } = index.records[at];
      const read = batchRead(query, { number, batches, numbers: named.map((other) => index.records[other].number) });
      if (read.wrong === "label_two") return { at: -1, batch: "", text: read.said, isWrong: true, meant: read.said.split(", ").filter((name) => owners.has(name)), rest: number };
      if (read.wrong === "label_number" || (read.wrong === "label_revision" && isNoRevision(index, read.said, revisions))) continue;
      const byDigits = read.batch || read.meant.length ? null : batchAmong(query.trim().split(/\s+/).slice(1).join(" "), batches.map(([name]) => name));
      if (byDigits) return { at, batch: byDigits, text: byDigits, isWrong: false, meant: [] };
      if (!read.batch && !read.meant.length) continue;
      if (!read.batch) return { at: -1, batch: "", text: query.trim(), isWrong: false, meant: read.meant, rest: number };
      const owner = owners.get(read.batch);
      if (owner === undefined && !shapes.has(shapeOf(read.batch))) continue; // "TV-0105 M4"
      const isWrong = read.wrong !== "" || (owner !== undefined && owner !== at);
      return { at, batch: read.batch, text: isWrong ? query.trim() : read.batch, isWrong, meant: [] };
    }
    return null;
  }

  /** What looks like batches, without a part's number: two at once, or a letter for a digit.
   * @param {Index} index @param {string} query @returns {LabelAsked | null} */
  function alikeAsked(index, query) {
    const { owners } = batchesOf(index);
    if (!/[0-9]/.test(query) || looks(query).length < SHORTEST) return null;
    const names = [...owners.keys()];
    const two = /[a-z][^a-z0-9]?[0-9]+[^0-9]+[a-z]?[0-9]/i.test(query) ? batchRead(query, { number: "", batches: names.map((name) => [name, ""]), numbers: [] }) : null;
    if (two?.wrong === "label_two" && two.meant.length > 1) return { at: -1, batch: "", text: two.said, isWrong: true, meant: two.meant, rest: "" };
    const meant = index.numberTable.key.text.includes(`\n${numberKey(query)}\n`) ? [] : lookAlike(query, names);
    return meant.length ? { at: -1, batch: "", text: "", isWrong: false, meant } : null;
  }

  /** What a query that is a batch's number or a label finds.
   * @param {Index} index @param {LabelAsked} asked @returns {Ranked} */
  function rankedBatch(index, { at, batch, text, isWrong }) {
    const match = new Float32Array(index.records.length);
    match[at] = 1;
    const number = { key: numberKey(batch), short: "", at, text, kind: isWrong ? "label" : "batch" };
    const numbers = new Map([[at, { match: 1, number, isWhole: true }]]);
    return { hits: [{ at, score: 1, sure: true }], items: [{ kind: "number", text: batch, weight: WEIGHT, match, least: 0.6, numbers }], sure: 1, said: "this", strange: "" };
  }

  /** The batch that a query named, or the whole label where that does not agree, of a record that was found by it; "" for none.
   * @param {Ranked} ranked @param {number} at */
  function batchFound(ranked, at) {
    const hit = ranked.items.map((item) => item.numbers?.get(at)?.number).find((number) => number && PIECE.includes(number.kind));
    return hit ? hit.text : "";
  }

  /** Whether that label does not agree, so that its piece fits nowhere.
   * @param {Ranked} ranked @param {number} at */
  const isWrongLabel = (ranked, at) => ranked.items.some((item) => item.numbers?.get(at)?.number.kind === "label");

  /** Whether something beside that batch was not understood, so that nobody can say whether it is the piece.
   * @param {Ranked} ranked @param {number} at */
  const isUnread = (ranked, at) => ranked.items.some((item) => item.numbers?.get(at)?.number.kind === "unread");

  spares.finder = { ...spares.finder, askedOfPage, isUnread, batchAsked, rankedBatch, isPiece, ofPiece, batchFound, isWrongLabel };
})();
