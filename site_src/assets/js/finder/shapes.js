// Which shape is said of a feature, "round shaft", "square hole", "left-hand thread", and which features have it? Pure.
//
// A round bore is no D bore of the same size. What is called by no shape here, a collar or a spacing, may be called anything.
(function () {
  "use strict";

  const { fold, pieces } = spares.finder;

  const ROUND = ["bore", "seat", "shank", "pin", "pin-hole", "screw-hole", "panel-hole", "ring", "grip", "plug", "thread"];
  /** The kinds of feature of each shape; a shape without any is had where the name of a feature says so. `also`: the kind that
   * is meant whatever feature is named beside it: a "threaded hole" is a thread.
   * @type {Record<string, { kinds: string[], also?: string }>} */
  const SHAPES = {
    threaded: { kinds: ["thread"], also: "thread" },
    round: { kinds: ROUND },
    square: { kinds: ["square"], also: "square" },
    d: { kinds: ["d-bore"], also: "d-bore" },
    hexagon: { kinds: ["flats"] },
    oval: { kinds: ["slot", "strap-slot"] },
    tapered: { kinds: [] },
    splined: { kinds: [] },
    right: { kinds: ["thread"] }, // a thread that is not marked LH is right-handed: ISO 965-1, from memory
    left: { kinds: [] },
  };
  const HANDS = ["left", "right"];
  const D_SHAPED = "d";
  const SHAPED = new Set(Object.values(SHAPES).flatMap(({ kinds }) => kinds));
  const LONGEST_PHRASE = 2;
  const SHORTEST_CUT = 4;

  /** "Rundloch" and "firkantaksel" as a shape and a feature.
   * @param {Chunk} chunk @param {FeatureWords} words @returns {Chunk[]} */
  function cutShape(chunk, words) {
    if (chunk.kind !== "word") return [chunk];
    const word = fold(chunk.text);
    if (words.kinds.has(word)) return [chunk];
    for (const shape of words.shapes.keys()) {
      const rest = word.slice(shape.length).replace(/^s/, "");
      if (shape.length < SHORTEST_CUT || !word.startsWith(shape)) continue;
      for (const feature of [word.slice(shape.length), rest]) if (words.kinds.has(feature)) return [{ ...chunk, text: shape }, { ...chunk, text: feature }];
    }
    return [chunk];
  }

  /** Every feature with the shape that is said of it, without the word of the shape.
   * @param {Chunk[]} chunks @param {FeatureWords} words */
  function takeShapes(chunks, words) {
    chunks.forEach((chunk, at) => {
      if (chunk.kind === "feature") takeOfFeature(chunks, at, words);
      else if (chunk.kind === "measure" && words.shapes.get(fold(chunks[at + 1]?.text || "")) === D_SHAPED && chunks[at + 1].kind === "word") {
        chunks[at + 1].kind = "gone";
        chunk.shape = D_SHAPED;
      }
    });
    return chunks.filter((chunk) => chunk.kind !== "gone");
  }

  /** @param {Chunk[]} chunks @param {number} at @param {FeatureWords} words */
  function takeOfFeature(chunks, at, words) {
    const chunk = chunks[at];
    const [first, ...rest] = chunk.text.split(" ").map(fold);
    const own = words.shapes.get(first);
    if (own && rest.length) [chunk.shape, chunk.others] = [own, words.kinds.get(rest.join(" ")) || []];
    if (own) return;
    const found = shapeBefore(chunks, at, words) || shapeBehind(chunks, at, words);
    if (!found || !(chunk.kinds || []).some((kind) => SHAPED.has(kind)) || (HANDS.includes(found.shape) && (chunk.kinds || [])[0] !== "thread")) return;
    chunk.shape = found.shape;
    chunk.text = `${chunks.slice(found.from, found.to + 1).map((each) => each.text).join(" ")} ${chunk.text}`;
    for (let i = found.from; i <= found.to; i += 1) chunks[i].kind = "gone";
  }

  /** "round shaft", "round 6 mm shaft"
   * @param {Chunk[]} chunks @param {number} at @param {FeatureWords} words */
  function shapeBefore(chunks, at, words) {
    let to = at - 1;
    const isShape = (/** @type {number} */ here) => words.shapes.has(fold(chunks[here].text)) && chunks[here + 1].kind === "feature"; // "rund 6" is about 6
    while (chunks[to] && ["measure", "about", "glue"].includes(chunks[to].kind) && !isShape(to)) to -= 1;
    if (chunks[to]?.kind === "feature" && to < at - 1) return null; // "square 7 shaft 20" tells of two
    return shapeAt(chunks, to, -1, words);
  }

  /** "bore round 6", "thread 66 left-hand"; "holes round the edge" is none.
   * @param {Chunk[]} chunks @param {number} at @param {FeatureWords} words */
  function shapeBehind(chunks, at, words) {
    let from = at + 1;
    while (chunks[from] && ["measure", "about", "glue"].includes(chunks[from].kind)) from += 1;
    const found = shapeAt(chunks, from, 1, words);
    const next = found && chunks[found.to + 1];
    return found && (!next || next.kind === "measure" || found.shape === D_SHAPED) ? found : null;
  }

  /** @param {Chunk[]} chunks @param {number} end nearest to the feature @param {1 | -1} step @param {FeatureWords} words
   * @returns {{ shape: string, from: number, to: number } | null} */
  function shapeAt(chunks, end, step, words) {
    for (let length = LONGEST_PHRASE; length > 0; length -= 1) {
      const [from, to] = step < 0 ? [end - length + 1, end] : [end, end + length - 1];
      const run = chunks.slice(Math.max(0, from), to + 1);
      if (run.length < length || run.some((chunk) => !["word", "round", "about", "feature"].includes(chunk.kind))) continue;
      const shape = words.shapes.get(run.map((chunk) => fold(chunk.text)).join(" "));
      if (shape) return { shape, from, to };
    }
    return null;
  }

  /** The kinds that are meant by a shape and the word of a feature.
   * @param {string[]} kinds @param {string} shape */
  function kindsOfShape(kinds, shape) {
    const also = SHAPES[shape]?.also;
    return also && !kinds.includes(also) ? [also, ...kinds] : kinds;
  }

  /** Whether a feature may be called so.
   * @param {KnownFeature} feature @param {string} shape "" for any */
  function isOfShape(feature, shape) {
    return !shape || !SHAPED.has(feature.kind) || SHAPES[shape].kinds.includes(feature.kind) || pieces(fold(feature.what)).some((word) => word.startsWith(shape) && shape !== D_SHAPED);
  }

  /** How a kind of feature is shaped, to say it beside what was asked; "" where there is nothing to say.
   * @param {string} kind @param {string} asked */
  function shapeOf(kind, asked) {
    if (kind === "thread" && HANDS.includes(asked)) return "right";
    return Object.keys(SHAPES).find((shape) => SHAPES[shape].kinds.includes(kind)) || "";
  }

  spares.finder = { ...spares.finder, cutShape, takeShapes, kindsOfShape, isOfShape, shapeOf };
})();
