// How does one found part look in the list? Builds elements from text only, so that no name can become markup.
(function () {
  "use strict";

  const { filled } = spares.judge;
  const { pieces, why } = spares.finder;
  const MOST_REASONS = 3;
  const MOST_STANDS = 4;
  const AGAINST = ["clash", "otherwise", "revision", "model_clash"];
  /** What a number is called that is a piece's. */
  const PIECES = new Map([["batch", "batch_number"], ["strange", "strange_batch"], ["label", "wrong_label"], ["stopped", "stopped"], ["lot", "of_lot"], ["unlabelled", "unlabelled"], ["unread", "unread"]]);
  const SAID_BY_THE_NAME = ["name", "own", "fleet"];

  /** @param {string} tag @param {string} name @param {...(string | Node)} content */
  function element(tag, name, ...content) {
    const made = document.createElement(tag);
    if (name) made.className = name;
    made.append(...content);
    return made;
  }

  /** Text from a record, its reading direction kept to itself.
   * @param {string} text */
  function isolated(text) {
    return element("bdi", "", text);
  }

  /** One hit: picture, number, name, why it matched, and how it stands today.
   * @param {Index} index @param {FinderData} data @param {Ranked} ranked @param {Hit} hit @param {Standing} standing from `forAsked`
   * @param {{ words: Words, base: URL }} page @returns {HTMLLIElement} */
  function hitElement(index, data, ranked, hit, standing, page) {
    const record = data.records[hit.at];
    const link = /** @type {HTMLAnchorElement} */ (element("a", "hit__link"));
    const [to, batch] = [new URL(record.page, page.base), spares.finder.askedOfPage(ranked, hit.at)];
    if (batch) to.hash = new URLSearchParams({ batch }).toString();
    link.href = to.href;
    const isForbidden = !standing.shown.length || standing.unsaid.length > 0 || standing.shown.some((stand) => stand.verdict === "no");
    const isMade = record.kind === "part" && !isForbidden; // what is only asked for is made for nobody yet
    const reasons = why(index, data, ranked.items, hit.at).filter((reason) => reason.kind !== "vehicle" || (isMade && standing.vehicles.length < 2));
    const text = element("span", "hit__text",
      element("span", "hit__number", isolated(record.number)),
      element("span", "hit__name", ...marked(index, record.name, ranked.items)),
      ...successor(record, page.words),
      ...reasonLines(reasons, page.words),
      ...sittingLines(data, record, standing.vehicles, page.words));
    link.append(picture(record, page.base), text, element("span", "hit__stands", ...standLines(data, record, standing, page.words)));
    return /** @type {HTMLLIElement} */ (element("li", `hit hit--${record.kind}`, link));
  }

  /** What of it sits on a vehicle that is asked for or carried, and must not, or has to be asked about.
   * @param {FinderData} data @param {PartRecord} record @param {string[]} asked @param {Words} words */
  function sittingLines(data, record, asked, words) {
    const carried = spares.screen.vehicle();
    const isMeant = (/** @type {string} */ fleet, /** @type {string} */ number) => (asked.length ? asked.includes(number) : carried?.number === number && carried.fleets.includes(fleet));
    return (record.sitting || [])
      .map(([fleet, number, n, isStopped]) => ({ fleet: (data.fleets[fleet] || { id: "" }).id, number, n, isStopped }))
      .filter(({ fleet, number }) => isMeant(fleet, number))
      .map(({ fleet, number, n, isStopped }) => element("span", `hit__sitting${isStopped ? " hit__sitting--no" : ""}`, isolated(filled(isStopped ? words.finder.must_come_off : words.finder.to_ask, { vehicle: `${fleet} ${number}`, n: String(n) }, words))));
  }

  /** @param {PartRecord} record @param {Words} words */
  function successor(record, words) {
    if (!record.over || !/\d/.test(record.over)) return [];
    return [element("span", "hit__over", isolated(filled(words.finder.why.over, { text: record.over }, words)))];
  }

  /** @param {PartRecord} record @param {URL} base */
  function picture(record, base) {
    if (!record.thumb) return element("span", "hit__picture hit__picture--none");
    const image = /** @type {HTMLImageElement} */ (element("img", "hit__picture"));
    image.src = new URL(record.thumb, base).href;
    image.alt = "";
    image.width = 160;
    image.height = 120;
    image.loading = "lazy";
    image.decoding = "async";
    return image;
  }

  /** The name with the words that were asked for set off.
   * @param {Index} index @param {string} name @param {Item[]} items */
  function marked(index, name, items) {
    const meant = new Set(items.flatMap((item) => [...(item.meant ? item.meant.keys() : [])]));
    const held = element("bdi", "");
    let rest = name;
    for (const word of pieces(name)) {
      const at = rest.indexOf(word);
      held.append(rest.slice(0, at));
      held.append(meant.has(Number(index.ids.get(index.termOf(word)))) ? element("mark", "", word) : word);
      rest = rest.slice(at + word.length);
    }
    held.append(rest);
    return [held];
  }

  /** @param {Why[]} reasons @param {Words} words */
  function reasonLines(reasons, words) {
    const isAgainst = (/** @type {Why} */ reason) => AGAINST.includes(reason.kind);
    const first = [...reasons.filter(isAgainst), ...reasons.filter((reason) => !isAgainst(reason))];
    const lines = first.map((reason) => reasonLine(reason, words)).filter(Boolean);
    return [...new Set(lines)].slice(0, MOST_REASONS).map((line) => element("span", "hit__why", isolated(String(line))));
  }

  /** @param {Why} reason @param {Words} words @returns {string | null} */
  function reasonLine(reason, words) {
    const kind = reason.kind === "number" && reason.detail === "own" ? "own" : reason.kind;
    if (SAID_BY_THE_NAME.includes(kind)) return null;
    const said = words.finder.why[kind];
    if (!said) return null;
    const facts = { asked: reason.asked, text: reason.text, kind: reason.detail, as: reason.as, shape: words.finder.shapes[reason.shape || ""], feature: words.finder.modelled[reason.text], n: Number(reason.n) > 1 ? String(reason.n) : "" };
    if (kind === "number" && reason.as) return filled(said, { ...facts, kind: filled(words.finder.why.other_revision, facts, words) }, words);
    if (kind === "number") return filled(said, { ...facts, kind: words.finder.why[PIECES.get(String(reason.detail)) || ""] || (words.terms.number_kind || {})[String(reason.detail)] || words.finder.why.assembly_number }, words);
    if (Array.isArray(reason.detail)) {
      const sizes = reason.detail.map((each) => measure(each, words)).join(" × ");
      const what = reason.detail.map((each) => each.what).filter(Boolean);
      return filled(said, { ...facts, sizes, what: [...new Set(what)] }, words);
    }
    return filled(said, facts, words);
  }

  /** @param {{ mm: number }} dimension @param {Words} words */
  function measure(dimension, words) {
    return String(Math.round(dimension.mm * 10) / 10).replace(".", words.finder.decimal);
  }

  /** Today's verdicts, vehicles that stand alike on one line; where vehicles were asked for, those of these alone, and each
   * of which nothing is said: Do not fit.
   * @param {FinderData} data @param {PartRecord} record @param {Standing} standing @param {Words} words */
  function standLines(data, record, { shown: stands, vehicles: asked, unsaid }, words) {
    if (record.kind === "request") return [element("span", "hit__asked", record.worked_on ? filled(words.finder.worked_on, { number: record.worked_on }, words) : words.finder.request)];
    const none = unsaid.length ? [standLine(unsaid.join(", "), "no", words)] : [];
    if (!stands.length) return none.length ? none : [standLine("", "no", words)];
    /** @type {Map<string, { fleet: string, vehicles: string[], verdict: string | null, label: string | null }>} */
    const alike = new Map();
    for (const stand of stands) {
      const fleet = (data.fleets[stand.fleet] || { id: "" }).id;
      const key = JSON.stringify([fleet, stand.verdict, stand.label]);
      const group = alike.get(key) || { fleet, vehicles: /** @type {string[]} */ ([]), verdict: stand.verdict, label: stand.label };
      const spoken = asked.length ? spares.finder.vehiclesAmong(data, stand, asked) : stand.vehicles;
      group.vehicles.push(...spoken.filter((each) => !group.vehicles.includes(each)));
      alike.set(key, group);
    }
    const groups = [...alike.values()];
    const lines = groups.slice(0, MOST_STANDS).map((group) => {
      const split = asked.length || groups.filter((other) => other.fleet === group.fleet && other.label === group.label).length > 1;
      const vehicles = split ? ` ${group.vehicles.map((each) => each.replace("-", "–")).join(", ")}` : "";
      const label = group.label ? ` ${filled(words.finder.with_label, { revision: group.label }, words)}` : "";
      return standLine(group.fleet + vehicles + label, group.verdict, words);
    });
    return [...none, ...lines, ...(groups.length > MOST_STANDS ? [element("span", "hit__more", words.finder.more_stands)] : [])];
  }

  /** @param {string} who @param {string | null} verdict @param {Words} words */
  function standLine(who, verdict, words) {
    const word = verdict ? words.verdict[verdict] : words.finder.see_page;
    const line = element("span", `hit__stand hit__stand--${verdict || "open"}`);
    if (who) line.append(element("span", "hit__who", isolated(who)), " ");
    line.append(element("strong", "hit__verdict", word));
    return line;
  }

  spares.screen = { ...spares.screen, hitElement };
})();
