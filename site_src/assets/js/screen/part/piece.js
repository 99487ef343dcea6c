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
   * @param {string} batch @returns {Promise<{ data: FinderData, record: PartRecord, name: string } | undefined>} */
  async function partOf(batch) {
    const data = await spares.screen.partsData();
    const namesOf = (/** @type {PartRecord} */ record) => (record.batches || []).map(([each]) => each);
    const name = spares.labels.batchAmong(batch, data.records.flatMap(namesOf)) ?? labelled(batch, data.records);
    const record = data.records.find((each) => name && namesOf(each).includes(name));
    return name && record ? { data, record, name } : undefined;
  }

  /** The batch on a label of another part, whose number this page does not know.
   * @param {string} text @param {PartRecord[]} records */
  function labelled(text, records) {
    const said = spares.labels.squashed(text);
    const named = records.filter((each) => each.batches?.length && said.includes(spares.labels.squashed(each.number)));
    const read = named.map(({ number, batches }) => ({ batches, ...spares.labels.batchRead(text, { number, batches: batches || [], numbers: [] }) }));
    return read.find((each) => each.wrong !== "label_number" && each.batches?.some(([name]) => name === each.batch))?.batch;
  }

  /** @param {string} batch @param {{ record: PartRecord, name: string } | undefined} found @returns {(string | Node)[]} */
  function told(batch, found) {
    const words = globalThis.sparesRules.words;
    const said = words.working.piece;
    const where = globalThis.sparesPart.mistaken?.[batch];
    if (!found && where) return [filled(said.mistaken, { batch, where }, words)];
    if (!found) return [filled(spares.labels.asBatch(batch) ? said.unknown : said.unreadable, { batch }, words)];
    const { record: other, name } = found;
    const to = new URL(other.page, spares.screen.base);
    to.hash = new URLSearchParams({ batch: name }).toString();
    return [filled(said.of_other, { batch: name, number: other.number, name: other.name }, words), " ", made("a", "button", { href: to.href }, filled(said.open, { number: other.number }, words))];
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

  /** Whether the catalogue asks which piece it is: some must not be fitted, or not yet, or nobody can tell which are good. */
  const isAsked = () => globalThis.sparesPart.grounds.some((ground) => ground.permits.some((facts) => !["not kept", "any", "known"].includes(String(facts.piece))));

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
      one.addEventListener("click", () => choosePiece(piece() === name && !spares.screen.pieceRead()?.wrong ? null : name));
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

    function typed() {
      const text = box.value.trim();
      // A scanner may end with Enter twice: a label that does not agree stays what it is until something else is typed.
      const isSame = text === spares.screen.pieceTyped() || (text === (piece() ?? "") && !spares.screen.pieceRead()?.wrong);
      if (!isSame) choosePiece(text || null);
    }

    /** @param {string} batch @param {string} first what speaks against its label */
    async function tellStranger(batch, first) {
      const key = `${batch} ${first}`;
      if (asked === key) return;
      asked = key;
      status.replaceChildren(...(first ? [first] : told(batch, undefined)));
      try {
        const other = await partOf(batch);
        if (asked !== key || !other) return;
        status.replaceChildren(...(first ? [first, " "] : []), ...told(batch, other));
        spares.screen.pieceOfOther(spares.judge.againstOther(other.data, other.record, other.name));
      } catch (reason) {
        console.error("spares: of which part a batch is cannot be looked up.", reason);
      }
    }

    function show() {
      const chosen = piece();
      const isStrange = Boolean(chosen) && !known.includes(String(chosen));
      const read = spares.screen.pieceRead();
      const isWrong = Boolean(read?.wrong);
      for (const { name, one } of buttons) one.setAttribute("aria-pressed", String(chosen === name && !isWrong));
      drop.hidden = chosen === null;
      chosenText.textContent = summed(chosen);
      fold.classList.toggle("piece--one", chosen !== null);
      box.value = isWrong ? spares.screen.pieceTyped() : buttons.some(({ name }) => name === chosen) ? "" : chosen ?? "";
      fold.open = isStrange || isWrong || chosen === "" || (chosen === null && (fold.open || isAsked()));
      meant.replaceChildren(...offered(read?.meant || []));
      if (isStrange && read?.wrong !== "label_two") {
        tellStranger(String(chosen), read && isWrong ? against(read) : "");
        return;
      }
      asked = "";
      status.replaceChildren(...(read && isWrong ? [against(read)] : chosen === "" ? [said.without] : []));
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
