// "Which piece?" beside the verdicts: the batch on its label. Few batches are buttons, many are typed with what is known to
// choose from; a batch of another part says so and leads there.
(function () {
  "use strict";

  const { filled } = spares.judge;
  const { choosePiece, made, piece } = spares.screen;
  const FEW = 4;
  const LONGEST = 14;
  const place = /** @type {HTMLElement | null} */ (document.querySelector("[data-piece]"));

  /** A piece that this copy does not know may be of another part: the finder's data know.
   * @param {string} batch @returns {Promise<PartRecord | undefined>} */
  async function partOf(batch) {
    const { records } = await spares.screen.partsData();
    return records.find((record) => spares.judge.batchAmong(batch, (record.batches || []).map(([name]) => name)) !== null);
  }

  /** @param {string} batch @param {PartRecord | undefined} other @returns {(string | Node)[]} */
  function told(batch, other) {
    const words = globalThis.sparesRules.words;
    const said = words.working.piece;
    if (!other) return [filled(spares.judge.asBatch(batch) ? said.unknown : said.unreadable, { batch }, words)];
    const name = spares.judge.batchAmong(batch, (other.batches || []).map(([each]) => each)) || batch;
    const to = new URL(other.page, spares.screen.base);
    to.hash = new URLSearchParams({ batch: name }).toString();
    return [filled(said.of_other, { batch: name, number: other.number, name: other.name }, words), " ", made("a", "button", { href: to.href }, filled(said.open, { number: other.number }, words))];
  }

  /** Whether the catalogue asks which piece it is, since some must not be fitted. */
  const isAsked = () => globalThis.sparesPart.grounds.some((ground) => ground.permits.some((facts) => facts.piece === "choose"));

  /** What the fold says while it is closed.
   * @param {string | null} chosen */
  function summed(chosen) {
    const words = globalThis.sparesRules.words;
    const said = words.working.piece;
    if (!chosen) return chosen === null ? said.any : said.one_none;
    return filled(said.one, { batch: chosen, revision: spares.screen.pieceRevision() || "" }, words);
  }

  /** The buttons and the box, none of which knows yet what is chosen. */
  function laidOut() {
    const words = globalThis.sparesRules.words;
    const said = words.working.piece;
    const newest = [...globalThis.sparesPart.batches].reverse();
    const named = newest.map(([name, revision]) => ({ name, text: filled(said.button, { batch: name, revision }, words) }));
    const offered = [...(named.length > FEW ? [] : named), ...(named.length ? [{ name: "", text: said.none }] : [])];
    const buttons = offered.map(({ name, text }) => {
      const one = made("button", "button piece__one", { type: "button" }, text);
      one.addEventListener("click", () => choosePiece(piece() === name ? null : name));
      return { name, one };
    });
    const box = made("input", "field__box piece__box", { type: "text", id: "piece-batch", list: "piece-batches", maxlength: String(LONGEST), autocomplete: "off", autocapitalize: "characters", spellcheck: "false", enterkeyhint: "done" });
    const list = made("datalist", "", { id: "piece-batches" }, ...named.map(({ name, text }) => made("option", "", { value: name }, text)));
    const drop = made("button", "button piece__drop", { type: "button" }, said.drop);
    const field = made("label", "piece__field", {}, made("span", "", {}, buttons.length > 1 ? said.other : said.field), box, list);
    const row = made("div", "piece__row", {}, ...buttons.map((each) => each.one), field, drop);
    return { buttons, box, drop, row };
  }

  /** @param {HTMLElement} form */
  function start(form) {
    const said = globalThis.sparesRules.words.working.piece;
    const known = globalThis.sparesPart.batches.map(([name]) => name);
    const { buttons, box, drop, row } = laidOut();
    const chosenText = made("span", "piece__chosen", {});
    const status = made("div", "piece__told", { role: "status" });
    const fold = made("details", "piece", {},
      made("summary", "", {}, made("b", "", {}, said.heading), " ", chosenText),
      made("p", "piece__says", {}, known.length ? said.says : said.says_any), row, status);
    let asked = "";

    function typed() {
      const text = box.value.trim();
      if (text !== (piece() ?? "")) choosePiece(text || null);
    }

    /** @param {string} batch */
    async function tellStranger(batch) {
      if (asked === batch) return;
      asked = batch;
      status.replaceChildren(...told(batch, undefined));
      try {
        const other = await partOf(batch);
        if (asked !== batch || !other) return;
        status.replaceChildren(...told(batch, other));
        spares.screen.pieceOfOther();
      } catch (reason) {
        console.error("spares: of which part a batch is cannot be looked up.", reason);
      }
    }

    function show() {
      const chosen = piece();
      const isStrange = Boolean(chosen) && !known.includes(String(chosen));
      for (const { name, one } of buttons) one.setAttribute("aria-pressed", String(chosen === name));
      drop.hidden = chosen === null;
      chosenText.textContent = summed(chosen);
      fold.classList.toggle("piece--one", chosen !== null);
      box.value = buttons.some(({ name }) => name === chosen) ? "" : chosen ?? "";
      fold.open = isStrange || (chosen === null && (fold.open || isAsked()));
      if (isStrange) tellStranger(String(chosen));
      else {
        asked = "";
        status.replaceChildren();
      }
    }

    drop.addEventListener("click", () => choosePiece(null));
    box.addEventListener("change", typed);
    box.addEventListener("input", () => { if (known.includes(box.value.trim())) typed(); });
    box.addEventListener("keydown", (event) => { if (event.key === "Enter") typed(); });
    form.replaceChildren(fold);
    form.hidden = false;
    document.addEventListener("spares:piece", show);
    show();
  }

  const { sparesPart: part, sparesRules: rules } = globalThis;
  if (place && part && rules && (part.batches.length || rules.keeps_batches || piece() !== null)) start(place);
})();
