// Which measured sizes does a query hold, in millimetres? `42 x 18`, `Ø12 bore`, `about 120 long`, `1 1/2"`. Pure.
(function () {
  "use strict";

  const { bound, isRoundFeature } = spares.finder;

  const VULGAR = { "¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8" };
  const MEASURE =
    /^([~≈±+-])?(ø)?(\d{1,2}-\d{1,2}\/\d{1,2}|\d{1,3}\/\d{1,2}|\d{1,4}(?:[.,]\d{1,3})?|[.,]\d{1,3})(["a-zø]*)$/;
  const RANGE = /^(\d{1,4}(?:[.,]\d)?)[-–](\d{1,4}(?:[.,]\d)?)(mm|cm)$/;
  const MISREAD_DIGITS = /^(ø?)((?=[oil.,]*\d)[\doil.,]{2,5})(mm|cm)$/;
  /** M32, M32 x 1.5; and three sizes with slashes, which no number of ours has so. */
  const THREAD = /(?<![\p{L}\d]|(?<![\p{L}\d])\d+ )m(\d{1,3}(?:[.,]5)?)(?:\s?x\s?(\d(?:[.,]\d+)?)(?![\d]))?(?![\p{L}\d-])/gu;
  const SLASHED = /(?<![\p{L}\d/.-])[1-9]\d{1,2}(?:[.,]\d)?\/[1-9]\d{0,2}(?:[.,]\d)?\/[1-9]\d{0,2}(?:[.,]\d)?(?![\p{L}\d/-])/gu;
  /** "160 ±1", "22 +/- 0.2 mm": the sign with what is allowed goes to its number. */
  const GIVEN = /(\d(?:\s?(?:mm|cm))?)\s*\(?(?:±|\+\s?\/?\s?[-−–])\s*(\d{1,3}(?:[.,]\d{1,3})?)\s*(?:mm)?\)?(?=$|[\s,;x])/g;
  const GIVEN_CHUNK = /§t([\d.,]+)$/;
  const THREAD_CHUNK = /^§m([\d.,]+)_([\d.,]*)$/;
  const INCH = 25.4;
  /** Kinds that nobody calls round. */
  const NEVER_ROUND = ["square", "slot", "strap-slot", "keyway", "flats"];
  const LARGEST_MM = 3000;

  /** @type {Size} */
  const PLAIN = { values: [], round: false, about: false, exact: false, axis: null, way: "", near: "", text: "", kinds: null, named: "", isBefore: false, thread: null, caliper: true, taped: false, step: 0, given: 0, shape: "" };

  /** @param {string} query @param {Language} language words of the query, see generator/pages/finder/spoken
   * @returns {{ sizes: Size[], rest: Rest[] }} */
  function measures(query, language) {
    const chunks = spread(query, language).map((text) => read(text, language));
    takeSpoken(chunks);
    takeUnits(chunks);
    takeFractions(chunks);
    return gathered(bound(chunks.filter((chunk) => chunk.kind !== "gone"), language), language);
  }

  /** "between 90 and 95": about the middle.
   * @param {string} text @param {Language} language */
  function middled(text, language) {
    const [between, and] = [language.between.join("|"), [...language.and, "-"].join("|")];
    return text.replace(new RegExp(`(?:${between})\\s+(\\d{1,4}(?:[.,]\\d+)?)\\s*(?:${and})\\s*(\\d{1,4}(?:[.,]\\d+)?)`, "g"),
      (_whole, low, high) => `~${(decimal(low) + decimal(high)) / 2}`);
  }

  /** The query cut at white space, with every "by" sign set free.
   * @param {string} query @param {Language} language */
  function spread(query, language) {
    return middled(query.toLowerCase(), language)
      .replace(/[¼½¾⅛⅜⅝⅞]/g, (sign) => ` ${VULGAR[/** @type {keyof typeof VULGAR} */ (sign)]}`)
      .replace(/[″”“„]|''/g, '"')
      .replace(/[⁄∕]/g, "/")
      .replace(/[⌀∅]/g, "ø")
      .replace(/ø\s+(?=[\d.,])/g, "ø")
      .replace(/[×✕✖*]/g, " x ")
      .replace(GIVEN, "$1§t$2")
      .replace(THREAD, (_whole, mm, pitch) => ` §m${mm}_${pitch || ""} `)
      .replace(/(^|\s)d-(?=\p{L})/gu, "$1d ")
      .replace(SLASHED, (run) => run.replace(/\//g, " x "))
      .replace(/(\d|["'ø]|mm|cm|in)\s*x\s*(?=[~ø.,\d])/g, "$1 x ")
      .replace(/(\d)x(?=\s|$)/g, "$1 x ")
      .split(/\s+/)
      .filter(Boolean);
  }

  /** @param {string} raw @param {Language} language @returns {Chunk} */
  function read(raw, language) {
    const given = decimal((GIVEN_CHUNK.exec(raw) || ["", "0"])[1]);
    const text = raw.replace(GIVEN_CHUNK, "").replace(/^[([{<'=:,;!?]+|[)\]}>',;:!?]+$|\.$/g, "");
    const blank = { text, value: 0, unit: 0, fraction: false, exact: false, round: false, about: false, axis: null };
    const word = spares.finder.plain(text).replace(/\.$/, "");
    const thread = THREAD_CHUNK.exec(text);
    if (thread) return { ...blank, kind: "thread", text: `m${thread[1]}${thread[2] ? ` x ${thread[2]}` : ""}`, value: decimal(thread[1]), pitch: thread[2] ? decimal(thread[2]) : 0 };
    for (const kind of /** @type {const} */ (["by", "about", "round", "glue"])) {
      if (language[kind].includes(word)) return { ...blank, kind };
    }
    if (own(language.axes, word)) return { ...blank, kind: "axis", axis: language.axes[word] };
    const measure = measured(text, blank, language);
    if (measure) return { ...measure, given };
    if (own(language.spoken, word)) return { ...blank, kind: "spoken", value: language.spoken[word] };
    if (own(language.units, word) || text === '"') return { ...blank, kind: "unit", unit: language.units[word] || INCH };
    return { ...blank, kind: "word" };
  }

  /** @param {string} text @param {Omit<Chunk, "kind">} blank @param {Language} language @returns {Chunk | null} */
  function measured(text, blank, language) {
    const range = RANGE.exec(text);
    if (range) {
      const value = (decimal(range[1]) + decimal(range[2])) / 2;
      return { ...blank, kind: "measure", value, unit: range[3] === "cm" ? 10 : 1, about: true };
    }
    const mended = text.replace(MISREAD_DIGITS, (_whole, sign, digits, unit) =>
      sign + digits.replace(/o/g, "0").replace(/[il]/g, "1") + unit);
    const cut = MEASURE.exec(mended);
    if (!cut) return null;
    const sign = cut[4].replace(/ø/g, "");
    const nearly = language.nearly.find((ending) => sign.endsWith(ending)) || "";
    const end = sign.slice(0, sign.length - nearly.length);
    const unit = end === "" ? 0 : end === '"' ? INCH : own(language.units, end) || -1;
    if (unit < 0) return null;
    const decimals = (/[.,](\d+)$/.exec(cut[3]) || ["", ""])[1].length;
    return {
      ...blank,
      kind: "measure",
      value: cut[3].includes("/") ? fraction(cut[3]) : decimal(cut[3]),
      unit,
      fraction: cut[3].includes("/"),
      exact: /[.,]/.test(cut[3]),
      step: unit === 10 ? 5 / 10 ** decimals : 0,
      round: Boolean(cut[2]) || cut[4].includes("ø"),
      about: Boolean(cut[1]) || Boolean(nearly),
    };
  }

  /** @param {string} text */
  function decimal(text) {
    return Number(text.replace(",", "."));
  }

  /** @param {string} text 3/4 or 1-1/2 */
  function fraction(text) {
    const [whole, part] = text.includes("-") ? text.split("-") : ["0", text];
    const [over, under] = part.split("/").map(Number);
    return under ? Number(whole) + over / under : NaN;
  }

  /** "half inch", "three quarter inch", "twelve mm": a spoken number counts only before a unit.
   * @param {Chunk[]} chunks */
  function takeSpoken(chunks) {
    chunks.forEach((chunk, at) => {
      if (chunk.kind !== "spoken") return;
      const next = chunks[at + 1];
      if (next?.kind === "spoken" && next.value < 1 && chunks[at + 2]?.kind === "unit") {
        next.value *= chunk.value;
        next.text = `${chunk.text} ${next.text}`;
        chunk.kind = "gone";
      } else chunk.kind = next?.kind === "unit" ? "measure" : "word";
    });
  }

  /** A unit that stands by itself goes to the number before it.
   * @param {Chunk[]} chunks */
  function takeUnits(chunks) {
    chunks.forEach((chunk, at) => {
      const before = chunks[at - 1];
      if (chunk.kind !== "unit") return;
      const after = chunks[at + 1];
      const isPreposition = chunk.text === "in" && before && !before.exact && after && after.kind === "word";
      if (before && before.kind === "measure" && !before.unit && !isPreposition) {
        before.unit = chunk.unit;
        if (chunk.unit === 10) before.step = before.exact ? 0.5 : 5;
        before.text += ` ${chunk.text}`;
        chunk.kind = "gone";
      } else chunk.kind = "word";
    });
  }

  /** `1 1/2"` is one number; a fraction without a unit is inches.
   * @param {Chunk[]} chunks */
  function takeFractions(chunks) {
    chunks.forEach((chunk, at) => {
      if (chunk.kind !== "measure" || !chunk.fraction) return;
      if (!Number.isFinite(chunk.value)) chunk.kind = "word";
      if (!chunk.unit && [2, 4, 8, 16, 32, 64].includes(Number(chunk.text.split("/")[1]))) chunk.unit = INCH;
      const before = chunks[at - 1];
      if (before && before.kind === "measure" && !before.unit && !before.exact && chunk.value < 1 && chunk.unit === INCH) {
        chunk.value += before.value;
        chunk.text = `${before.text} ${chunk.text}`;
        chunk.round = chunk.round || before.round;
        before.kind = "gone";
      }
    });
  }

  /** @param {Chunk[]} chunks with the features that stand beside them @param {Language} language */
  function gathered(chunks, language) {
    /** @type {Size[]} */
    const sizes = [];
    /** @type {Rest[]} */
    const rest = [];
    const taken = new Set();
    const caliper = chunks.some((chunk) => chunk.kind === "caliper");
    const tape = chunks.some((chunk) => chunk.kind === "tape");
    for (let at = 0; at < chunks.length; at += 1) {
      if (chunks[at].kind === "thread") sizes.push(threaded(chunks, at));
      if (chunks[at].kind !== "measure") continue;
      const end = endOfRun(chunks, at);
      const size = sized(chunks, at, end, taken, language);
      if (!size) continue;
      sizes.push({ ...size, caliper: !tape && (caliper || size.exact), taped: tape });
      for (let i = at; i <= end; i += 1) taken.add(i);
      at = end;
    }
    chunks.forEach((chunk, at) => {
      if (taken.has(at) || ["by", "glue", "thread", "caliper", "tape", "side"].includes(chunk.kind)) return;
      if (chunk.kind === "feature") {
        if (chunk.shape && !chunk.isBound) sizes.push({ ...PLAIN, kinds: [...(chunk.kinds || []), ...(chunk.others || [])], named: chunk.text, shape: chunk.shape });
        rest.push(...chunk.text.split(" ").map((text) => ({ text, maybe: null, feature: Boolean(chunk.isBound) })));
        return;
      }
      const maybe = chunk.kind === "measure" && chunk.value >= 2 && chunk.value <= LARGEST_MM ? chunk.value : null;
      rest.push({ text: chunk.text, maybe, exact: chunk.exact, near: maybe === null ? "" : wordBefore(chunks, at) });
    });
    return { sizes, rest };
  }

  /** A thread by its name; of two, the outer one stands first.
   * @param {Chunk[]} chunks @param {number} at @returns {Size} */
  function threaded(chunks, at) {
    const { value, text, pitch, shape } = chunks[at];
    const isPair = [at - 2, at - 1, at + 1, at + 2].some((other) => chunks[other]?.kind === "thread");
    const side = !isPair ? null : [at - 2, at - 1].some((other) => chunks[other]?.kind === "thread") ? "inside" : "outside";
    return { ...PLAIN, values: [value], round: true, text, kinds: ["thread", "screw-hole", "slot"], thread: { mm: value, pitch: pitch || 0, side }, named: shape ? `${shape} ${text}` : text, shape: shape || "" };
  }

  /** The last measure of a run such as `92 x 64` or `92 long x 64 wide x 55`.
   * @param {Chunk[]} chunks @param {number} at */
  function endOfRun(chunks, at) {
    let end = at;
    for (;;) {
      const by = ["axis", "round"].includes(chunks[end + 1]?.kind) ? end + 2 : end + 1;
      const next = ["about"].includes(chunks[by + 1]?.kind) ? by + 2 : by + 1;
      if (chunks[by]?.kind !== "by" || chunks[next]?.kind !== "measure") return end;
      end = next;
    }
  }

  /** The measures from one chunk to another with the words around them; null where they are just a number.
   * @param {Chunk[]} chunks @param {number} from @param {number} to @param {Set<number>} taken @param {Language} language @returns {Size | null} */
  function sized(chunks, from, to, taken, language) {
    const numbers = chunks.slice(from, to + 1).filter((chunk) => chunk.kind === "measure");
    const hints = [beside(chunks, from, -1), beside(chunks, to, 1)].filter((at) => at !== null && !taken.has(at));
    const words = hints.map((at) => chunks[/** @type {number} */ (at)]);
    const openBy = chunks[to + 1]?.kind === "by" || chunks[from - 1]?.kind === "by";
    const said = numbers.some((each) => each.unit || each.round || each.about || each.given);
    const feature = chunks[from].feature || null;
    if (numbers.length === 1 && !said && !words.length && !openBy && !feature) return null;
    const unit = [...numbers].reverse().find((each) => each.unit)?.unit || 1;
    const values = numbers.map((each) => each.value * (plausibleUnit(each) || unit));
    if (values.some((value) => !(value > 0 && value <= LARGEST_MM))) return null;
    hints.forEach((at) => taken.add(/** @type {number} */ (at)));
    const before = beside(chunks, Math.min(from, ...(/** @type {number[]} */ (hints))), -1);
    if (before !== null && chunks[before].kind === "about") taken.add(before);
    const isRound = numbers.some((each) => each.round) || words.some((each) => each.kind === "round");
    const pitched = feature && feature.kinds[0] === "thread" ? pitchOf(chunks, to, values) : null;
    return {
      ...PLAIN,
      values: pitched ? values.slice(0, 1) : values,
      kinds: feature ? (isRound && rounded(feature.kinds)) || feature.kinds : null,
      named: feature ? feature.text : words.filter((each) => each.kind === "axis").map((each) => each.text).join(" "),
      isBefore: Boolean(feature && feature.isBefore),
      thread: pitched,
      step: Math.max(...numbers.map((each) => each.step || (unit === 10 && !each.unit ? 5 : 0))),
      given: Math.max(...numbers.map((each) => each.given || 0)),
      shape: feature?.shape || chunks[from].shape || words.map((each) => own(language.shapes, each.text) || "").find(Boolean) || "",
      round: isRound || (isRoundFeature(feature) && !feature?.shape),
      about: numbers.some((each) => each.about) || words.some((each) => each.kind === "about")
        || (before !== null && chunks[before].kind === "about"),
      exact: numbers.some((each) => each.exact),
      axis: words.find((each) => each.kind === "axis")?.axis || null,
      near: wordBefore(chunks, from),
      way: words.find((each) => each.kind === "axis")?.text || "",
      text: chunks.slice(from, to + 1).map((each) => each.text).join(" "),
    };
  }

  /** Kinds of feature that may be round; null where none may.
   * @param {string[]} kinds */
  function rounded(kinds) {
    const round = kinds.filter((kind) => !NEVER_ROUND.includes(kind));
    return round.length ? round : null;
  }

  /** A thread's pitch, as "66 x 8" or "66 pitch 8" tells it.
   * @param {Chunk[]} chunks @param {number} to @param {number[]} values */
  function pitchOf(chunks, to, values) {
    if (values.length > 1 && values[1] < values[0] / 4) return { mm: values[0], pitch: values[1], side: null };
    return { mm: 0, pitch: chunks[to].pitch || 0, side: null };
  }

  /** A whole number of metres is no size of a part.
   * @param {Chunk} chunk */
  function plausibleUnit(chunk) {
    return chunk.unit === 1000 && chunk.value > 3 ? 1 : chunk.unit;
  }

  /** @param {Chunk[]} chunks @param {number} at */
  function wordBefore(chunks, at) {
    return chunks[at - 1]?.kind === "word" ? chunks[at - 1].text : "";
  }

  /** The place of a word that says what a measure beside it means, past one "of" or "is".
   * @param {Chunk[]} chunks @param {number} at @param {1 | -1} step @returns {number | null} */
  function beside(chunks, at, step) {
    let next = at + step;
    if (chunks[next]?.kind === "glue") next += step;
    return ["about", "round", "axis"].includes(chunks[next]?.kind) ? next : null;
  }

  /** @template T @param {Record<string, T>} record @param {string} key @returns {T | undefined} */
  function own(record, key) {
    return Object.prototype.hasOwnProperty.call(record, key) ? record[key] : undefined;
  }

  spares.finder = { ...spares.finder, measures, PLAIN };
})();
