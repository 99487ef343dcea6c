// Why was a part found, and what speaks against it? "Asked 8 mm, here 7.1". Pure.
(function () {
  "use strict";

  const { fitOf, modelInstead, fold, phrases, pieces, shapeFit, shapeOf, sizeMatch } = spares.finder;

  const COUNTED = ["teeth", "module"];

  /** Why a part was found: for each item the text of the part that answers it.
   * @param {Index} index @param {FinderData} data @param {Item[]} items @param {number} at
   * @returns {Why[]} */
  function why(index, data, items, at) {
    return items.filter((item) => item.match[at] > 0 || item.size?.named).flatMap((item) => reasonOf(index, data, item, at) || []);
  }

  /** @param {Index} index @param {FinderData} data @param {Item} item @param {number} at */
  function reasonOf(index, data, item, at) {
    const number = item.numbers && item.numbers.get(at);
    if (number && Math.fround(number.match) >= item.match[at]) return { kind: number.isOther ? "revision" : "number", asked: item.text, text: number.number.text, detail: number.number.kind, ...(number.number.own ? { as: number.number.own } : {}) };
    if (item.size) {
      const model = item.modelled?.get(at);
      if (model) return ofModel("modelled", item, model);
      const { fits, here, taken: on, isCalled, isOther } = item.kind === "shape" ? shapeFit(index, at, item.size) : fitOf(index, at, item.size);
      const instead = !fits && (isOther || !here?.what) && item.kind === "size" ? modelInstead(index, at, item.size) : null;
      if (instead) return ofModel("model_clash", item, instead);
      if (isOther && here?.what) return otherKind(item, item.size, here);
      if (item.kind === "shape") return null;
      if (!fits && (item.size.named || isCalled) && here) return { kind: "clash", asked: item.text, text: here.what, detail: [bare(here)] };
      if (!fits && item.size.kinds) return null;
      if (!fits && here && item.kind === "size" && item.size.values.length === 1) return { kind: "clash", asked: item.text, text: here.what, detail: [bare(here)] };
      if (fits && on?.every((each) => COUNTED.includes(each.kind || ""))) return { kind: "counted", asked: item.text, text: "", detail: on.map(bare) };
      const { match, taken } = sizeMatch(index.sizes[at], item.size);
      if (fits || match > 0.3 || item.kind === "size") return { kind: "size", asked: item.text, text: "", detail: (fits && on ? on : taken).map(bare) };
    }
    if (item.kind === "fleet" || item.kind === "vehicle" || item.kind === "bare") {
      return { kind: item.kind === "bare" ? "vehicle" : item.kind, asked: item.text, text: item.text, detail: null };
    }
    for (const [field, phrase] of phrases(index.records[at], data)) {
      if (pieces(phrase).some((word) => (item.meant || new Map()).has(index.ids.get(index.termOf(word))))) {
        return { kind: field, asked: item.text, text: phrase, detail: null };
      }
    }
    return { kind: "synonym", asked: item.text, text: item.text, detail: null };
  }

  /** "Asked pin 9, here Bolt hole 9": the kinds are told where they differ, the shape where one was said.
   * @param {Item} item @param {Size} size @param {Dimension} here @returns {Why} */
  function otherKind(item, size, here) {
    const shape = size.shape && shapeOf(here.kind || "", size.shape);
    const isTold = pieces(fold(here.what)).includes(shape); // "D bore"
    return { kind: "otherwise", asked: item.kind === "shape" ? "" : item.text, text: here.what, detail: [bare(here)], as: size.named, shape: isTold ? "" : shape };
  }

  /** "Model: hole 8.1 (4×)"; `text` is the kind of feature.
   * @param {string} kind @param {Item} item @param {ModelSize} model @returns {Why} */
  function ofModel(kind, item, { kind: text, mm, n }) {
    return { kind, asked: item.text, text, detail: [{ mm, what: "" }], n };
  }

  /** @param {Dimension} each @returns {Dimension} */
  function bare({ mm, what }) {
    return { mm, what };
  }

  spares.finder = { ...spares.finder, why };
})();
