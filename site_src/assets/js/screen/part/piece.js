// "Which piece?" beside the verdicts: the batch on its label. Few batches are buttons, many are typed with what is known to
// choose from; a batch of another part says so and leads there.
(function () {
  "use strict";

  const { filled } = spares.judge;
  const { choosePiece, made, piece } = spares.screen;
  const FEW = 4;
  const LONGEST = 200;
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

  /** What was typed or scanned, in answer to which piece of this part it is.
   * @param {string} text */
  function readOf(text) {
    const { number, batches } = globalThis.sparesPart;
    return spares.judge.batchRead(text, { number, batches, numbers: [] });
  }

  /** What speaks against a label, as it was typed or scanned.
   * @param {BatchRead} read */
  function against(read) {
    const words = globalThis.sparesRules.words;
    return read.wrong ? filled(words.working.piece[read.wrong], { ...read, number: globalThis.sparesPart.number }, words) : "";
  }

  /** A button for each number that looks alike: it is chosen by a hand alone.
   * @param {string[]} names @returns {Node[]} */
  function offered(names) {
    const said = globalThis.sparesRules.words.working.piece;
    return names.length ? [made("p", "piece__meant", {}, `${said.meant} `, ...names.map((name) => spares.screen.pressable(name, "piece__alike", () => choosePiece(name))))] : [];
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
    const meant = made("div", "", {});
    const fold = made("details", "piece", {},
      made("summary", "", {}, made("b", "", {}, said.heading), " ", chosenText),
      made("p", "piece__says", {}, known.length ? said.says : said.says_any), row, status, meant);
    let asked = "";
    /** What was read last, and the piece that it made be chosen.
     * @type {{ read: BatchRead, chosen: string | null } | null} */
    let last = null;

    function typed() {
      const text = box.value.trim();
      if (text === (piece() ?? "")) return;
      const read = text ? readOf(text) : null;
      last = null;
      choosePiece(text ? read?.batch || text : null);
      last = read && { read, chosen: piece() };
      if (read?.wrong) spares.screen.pieceOfOther();
      else show();
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
      const read = last && last.chosen === chosen ? last.read : null;
      const isWrong = Boolean(read?.wrong) && spares.screen.isPieceOfOther();
      fold.open = isStrange || isWrong || (chosen === null && (fold.open || isAsked()));
      meant.replaceChildren(...offered(isStrange ? (read || readOf(String(chosen))).meant : []));
      if (isStrange && !isWrong) tellStranger(String(chosen));
      else {
        asked = "";
        status.replaceChildren(...(read && isWrong ? [against(read)] : []));
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
