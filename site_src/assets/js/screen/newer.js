// A newer catalogue waits on this tablet: for which parts does it say otherwise?
//
// Its rules and facts come from its own worker, which checks every byte of them.
(function () {
  "use strict";

  const { compared, localDay, spokenOf, spokenOn, valueIn } = spares.judge;
  const ANSWER_WITHIN_MS = 8000;

  /** @type {null | "unread" | { data: FinderData, rules: Rules }} */
  let newer = null;
  /** @type {Map<string, string>} answers by part and day */
  let answers = new Map();

  /** The batch of the piece in the hand: it is of the part whose page this is.
   * @param {string} number */
  const chosenOf = (number) => (globalThis.sparesPart?.number === number ? spares.screen.piece() : null);

  /** What this page itself says of the part.
   * @param {string} number @returns {Spoken[] | null} */
  function spokenHere(number) {
    const part = globalThis.sparesPart;
    const piece = { batch: chosenOf(number), unknown: globalThis.sparesRules.unknown_piece };
    if (part && part.number === number) return spokenOn(part, piece);
    return globalThis.sparesIndex ? spokenOf(globalThis.sparesIndex, number, piece) : null;
  }

  /** Does the newer catalogue say the same of a part?
   * @param {string} number @returns {string} none, same, differs, unread */
  function newerCopy(number) {
    if (newer === null || newer === "unread") return newer || "none";
    const day = localDay(new Date());
    const key = JSON.stringify([number, day, chosenOf(number)]);
    if (!answers.has(key)) answers.set(key, understood(newer, number, day));
    return answers.get(key) || "unread";
  }

  /** @param {{ data: FinderData, rules: Rules }} coming @param {string} number @param {string} day */
  function understood(coming, number, day) {
    try {
      return compared(spokenHere(number), globalThis.sparesRules, coming, number, day, chosenOf(number));
    } catch (reason) {
      console.error("spares: the newer catalogue cannot be understood.", reason);
      return "differs";
    }
  }

  /** @param {null | "unread" | { data: FinderData, rules: Rules }} found */
  function learned(found) {
    newer = found;
    answers = new Map();
    spares.screen.copyChanged();
  }

  /** Ask the waiting worker what its catalogue says.
   * @param {ServiceWorker} waiting */
  function newerWaits(waiting) {
    learned("unread");
    const channel = new MessageChannel();
    const late = setTimeout(() => channel.port1.close(), ANSWER_WITHIN_MS);
    channel.port1.onmessage = ({ data }) => {
      clearTimeout(late);
      channel.port1.close();
      try {
        learned({ data: valueIn(data.finder), rules: valueIn(data.rules) });
      } catch (reason) {
        console.error("spares: the newer catalogue cannot be read.", reason);
      }
    };
    waiting.postMessage({ spares: "verdicts" }, [channel.port2]);
  }

  spares.screen = { ...spares.screen, newerCopy, newerWaits };
})();
