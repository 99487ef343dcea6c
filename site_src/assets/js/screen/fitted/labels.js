// The two fields for a batch: it may be typed or scanned with its whole label, and what speaks against that label is told at once.
(function () {
  "use strict";

  const NAMES = /** @type {const} */ (["batch", "removed_batch"]);

  /** @param {string} part @param {Record<LabelledName | "why", FormField>} fields @param {() => void} changed when a scanner has ended
   * @returns {LabelledBatches} */
  function labelledBatches(part, fields, changed) {
    const data = globalThis.sparesFitted;
    const of = { number: part, batches: data.parts[part].batches, numbers: Object.keys(data.parts) };
    const read = (/** @type {LabelledName} */ name) => spares.labels.batchRead(fields[name].get(), of);
    const meant = { batch: spares.screen.meantBelow(fields.batch, data.words.meant), removed_batch: spares.screen.meantBelow(fields.removed_batch, data.words.meant) };

    /** What speaks against a label; where the wrong part came off, its label is of another one.
     * @param {LabelledName} name */
    function wrong(name) {
      const found = read(name).wrong;
      return name === "removed_batch" && found === "label_number" && fields.why.get() === "wrong" ? "" : found;
    }

    /** @param {LabelledName} name */
    function says(name) {
      const { wrong: key, said, batch, revision } = read(name);
      if (!key) return "";
      const text = data.words.wrong[name === "removed_batch" && key === "label_number" ? "label_removed" : key];
      return spares.judge.filled(text, { said, number: part, of: batch, own: revision }, globalThis.sparesRules.words);
    }

    /** A batch that was read out of a label stands alone in its field.
     * @param {LabelledName} name */
    function take(name) {
      const found = read(name);
      if (found.batch && !found.wrong) fields[name].set(found.batch);
      fields[name].fault(wrong(name) ? says(name) : "");
      offer(name);
    }

    const offer = (/** @type {LabelledName} */ name) => meant[name](read(name).meant);

    for (const name of NAMES) {
      const { element } = fields[name];
      element.addEventListener("input", () => offer(name));
      element.addEventListener("change", () => take(name));
      element.addEventListener("keydown", (event) => {
        // A scanner ends with Enter: that is no wish to add a row.
        if (event.key !== "Enter" || !(event.target instanceof HTMLInputElement)) return;
        event.preventDefault();
        take(name);
        changed();
      });
    }
    fields.why.element.addEventListener("change", () => take("removed_batch"));
    return { take, wrong, says, batch: (name) => read(name).batch || fields[name].get().trim() };
  }

  spares.screen = { ...spares.screen, labelledBatches };
})();
