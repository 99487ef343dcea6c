// How does a request get from the tablet to the specialist? Share sheet, file, clipboard, or a code to scan.
(function () {
  "use strict";

  const { made } = spares.screen;
  // Larger codes have modules too small for a camera that looks at a tablet.
  const LARGEST_CODE = 25;

  /** The last step: the file's text and the ways to hand it over.
   * @param {HandedOver} whole
   * @param {RequestWords} words @param {string} contact @param {() => void} change @param {() => void} finish @returns {HTMLElement} */
  function handover(whole, words, contact, change, finish) {
    const said = words.done;
    const request = { ...whole, text: spares.request.withLines(whole.text), short: spares.request.withLines(whole.short) };
    const told = made("p", "handover__told", { role: "status" });
    const tell = (/** @type {string} */ text) => { told.textContent = text; };
    const text = made("pre", "handover__text", { tabindex: "0", "aria-label": said.text }, request.text);
    // A photo as text helps nobody, so that it stays out of what is copied.
    const copiedWords = request.hasPhoto ? said.copied_without : said.copied;
    const gone = () => request.gone?.();
    const code = made("div", "handover__code", {});
    code.hidden = true;
    const button = (/** @type {string} */ name, /** @type {string} */ word, /** @type {() => void} */ pressed) => {
      const one = made("button", `button ${name}`, { type: "button" }, word);
      one.addEventListener("click", pressed);
      return one;
    };
    const file = asFile(request);
    const ways = made("div", "handover__ways", {});
    if (canShare(file)) ways.append(button("button--main handover__share", said.share, () => share(file, said, tell, gone)));
    ways.append(button(canShare(file) ? "handover__save" : "button--main handover__save", said.save, () => save(file, said, tell, gone)));
    ways.append(button("handover__copy", said.copy, async () => {
      const isCopied = await spares.screen.copied(request.short, text);
      if (isCopied && !request.along) gone();
      tell(isCopied ? copiedWords : said.not_copied);
    }));
    if (!request.uncoded) ways.append(codeButton(request, said, code, button));
    const title = made("h2", "", { tabindex: "-1" }, said.heading);
    const ends = made("div", "handover__ends", {}, button("handover__change", said.change, change), button("handover__finish", said.finish, finish));
    return made("section", "handover", {}, title, made("p", "", {}, spares.judge.filled(said.says, { contact }, globalThis.sparesRules.words)),
      ...(request.notes || []).map((note) => made("p", "handover__note", {}, note)), ...alongWords(request, words), ways, told, code, made("h3", "", {}, said.text), text, ends);
  }

  /** What goes along with the file, and where a person can look at it and delete it.
   * @param {HandedOver} request @param {RequestWords} words */
  function alongWords(request, words) {
    if (!request.along) return [];
    const says = spares.judge.counted(words.vain.along, request.along, {}, globalThis.sparesRules.words);
    return [made("p", "handover__along", {}, `${says} `, made("a", "", { href: new URL("requests.html#vain", spares.screen.base).href }, words.vain.list))];
  }

  /** @param {{ text: string, file: string }} request */
  function asFile({ text, file }) {
    return new File([text], file, { type: "text/yaml" });
  }

  /** @param {File} file */
  function canShare(file) {
    return Boolean(navigator.canShare && navigator.canShare({ files: [asPlain(file)] }));
  }

  /** Share sheets know text files, not YAML.
   * @param {File} file */
  function asPlain(file) {
    return new File([file], `${file.name}.txt`, { type: "text/plain" });
  }

  /** @param {File} file @param {RequestWords["done"]} said @param {(text: string) => void} tell @param {() => void} gone */
  async function share(file, said, tell, gone) {
    try {
      await navigator.share({ files: [asPlain(file)], title: file.name });
      gone();
      tell(said.shared);
    } catch (reason) {
      if (!(reason instanceof DOMException && reason.name === "AbortError")) tell(said.not_shared);
    }
  }

  /** @param {File} file @param {RequestWords["done"]} said @param {(text: string) => void} tell @param {() => void} gone */
  function save(file, said, tell, gone) {
    const link = made("a", "", { download: file.name });
    link.href = URL.createObjectURL(file);
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
    gone();
    tell(spares.judge.filled(said.saved, { file: file.name }, globalThis.sparesRules.words));
  }

  /** @param {HandedOver} request @param {RequestWords["done"]} said @param {HTMLElement} place @param {(name: string, word: string, pressed: () => void) => HTMLButtonElement} button */
  function codeButton(request, said, place, button) {
    const code = spares.request.qrCode(request.short, { most: LARGEST_CODE });
    if (!code) return made("p", "handover__long", {}, said.too_long);
    const one = button("handover__scan", said.code, () => {
      place.hidden = !place.hidden;
      one.textContent = place.hidden ? said.code : said.hide_code;
      one.setAttribute("aria-expanded", String(!place.hidden));
      if (!place.hidden) place.scrollIntoView({ block: "nearest" });
    });
    one.setAttribute("aria-expanded", "false");
    place.replaceChildren(spares.screen.codeDrawing(code.rows, said.code_alt, "handover__qr"), made("p", "", {}, request.hasPhoto ? said.code_without : said.code_says));
    return one;
  }

  spares.screen = { ...spares.screen, handover };
})();
