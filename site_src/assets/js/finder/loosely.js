// Which digits does a query give to a piece without writing them as a label does: "b 1 5 1", "#151", "piece no. 151", "TV-0417/151",
// "0B-151", "B-0150 and 51"? Pure; whether there is a batch of that number is asked in mentioned.js.
//
// A number with a unit, one that counts, and one behind the word for a vehicle, a place or a year are none of these.
(function () {
  "use strict";

  const NOT_INSIDE = "(?<![\\p{L}\\p{N}])";
  const COUNTED = "pcs|pieces?|pc|off|stk|stück|stücke|stykker?|x|×|mm|cm|m|g|kg|n|v|w|%|€|°|days?|tage?|dage?|min|by|mal|gange|long|wide|high|tall|thick|deep|lange?|breit|hoch|dick|tief|bred|høj|tyk|dyb|inch|zoll|tommer|degrees?|grad";
  const NOT_COUNTED = `(?![\\p{L}\\p{N}]|[.,]\\d|\\s*(?:${COUNTED})(?!\\p{L}))`;
  const NUMBER = "(?:#|n[o°º]|nr|num|number|nummer)";
  const PIECE = "(?:piece|specimen|part|item|label|tag|sticker|marked|marking|stamped|printed|spool|serial|s\\/?n|job|build|print|b+a+t+c*h{2,}|bacth|bathc|batc|stück|teil|exemplar|etikett|aufkleber|beschriftet|markiert|spule|filamentrolle|stk|stykke|del|eksemplar|mærkat|mærke|mærket|filamentrulle)";
  const SAYS = "[\\s.:#=-]*";
  const QUOTE = "[\"'„“”‚‘’»«(\\[{<]*";
  const NUMBERED = new RegExp(`(?:${NOT_INSIDE}${PIECE}${SAYS}(?:${NUMBER}${SAYS})?|${NOT_INSIDE}${NUMBER}${SAYS}|#\\s*|(?<=\\p{L}\\s+\\p{L}{4,20})[-_]|["„“](?=[0-9]+["“”]))${QUOTE}([0-9]{3,8})(?:["“”]|${NOT_COUNTED})`, "giu");
  const HELD = /(?:["„“][0-9]{3,8}["“”]|[([{][0-9]{3,8}[)\]}])/gu;
  /** Behind these a number is of something else: a vehicle has its own words. */
  const ELSEWHERE = /(?<!\p{L})(?:seat|door|place|position|pos|drawing|order|request|year|sitz|platz|tür|zeichnung|auftrag|baujahr|sæde|plads|dør|tegning|ordre|årgang)\.?\s*$/iu;
  const YEAR = /^(?:19[5-9]|20[0-4])\d$/;
  /** Digits right behind something that may be the number of a part, whatever stands between; "Rolle" is also a roller. */
  const DIGITS_BEHIND = new RegExp(`(?<=[0-9](?:[ ]+[A-Z]{1,2})?)[^\\p{L}\\p{N}€$£⌀±]{1,4}(?:(?:rolle|rulle|los|plate|platte|plade|build\\s?plate|druckplatte|printplade)\\s+)?([0-9]{3,8})${NOT_COUNTED}`, "giu");
  const SPACED = new RegExp(`${NOT_INSIDE}(?:(?:batch|lot|los|charge|serie|parti)${SAYS}(?:${NUMBER}${SAYS})?|((?:(?!\u00df)\\p{L}){1,4})\\s?[-+.:/'~_#\\u2010-\\u2015\\u2212]?\\s?)((?:[0-9]{1,4}\\s+){1,7}[0-9]{1,4})(?![\\p{L}\\p{N}]|[.,]\\d|\\s*(?:mm|cm|x|×|"|″|°)(?!\\p{L}))`, "giu");
  /** "0B-151", "BB-151", "B;151": a key that was hit twice, too early or beside the right one. */
  const STUTTERED = new RegExp(`${NOT_INSIDE}([0-9]{0,2})(\\p{L})(\\2?)\\s?([-+.:/'~_#;,|\\\\*!=\\u2010-\\u2015\\u2212]{0,2})\\s?([0-9]{2,8})${NOT_COUNTED}`, "giu");
  const BESIDE_THE_KEY = /[;,|\\*!=]/;
  /** A part's number, a batch's letters and too few digits for a batch: "TV-0417 B 15". */
  const BRIEF = new RegExp(`(?<=[0-9](?:\\s+[A-Z])?[\\s,]{1,3})((?:(?!\u00df)\\p{L}){1,4})\\s?-?\\s?([0-9]{1,2})(?![\\p{L}\\p{N}]|[.,]\\d|\\s*(?:${COUNTED}|")(?!\\p{L}))`, "giu");
  /** What a hand writes before a supplier's number. */
  const OF_A_LOT = `(?:(?:material)?(?:lot|los|charge|chargennummer|parti|partinummer|materialeparti|spool|spule|rolle|rulle)${SAYS}(?:${NUMBER}${SAYS})?)`;
  const SHORTEST = 3;
  const REVISION = new RegExp(`${NOT_INSIDE}(?:rev|revision|version|ausgabe|udgave)(?:\\.\\s*|[\\s:_-]+)([A-Z]|[0-9]{1,2})(?![\\p{L}\\p{N}]|[.,][0-9]|\\s*(?:${COUNTED})(?!\\p{L}))`, "giu");
  const MORE = new RegExp(`^(?:\\s*(?:\\.{2,}|…|[,&])\\s*|\\s+-\\s+|\\s+(?:and|or|to|until|through|und|oder|bis|og|eller|til)\\s+)([0-9]{2,8})${NOT_COUNTED}`, "iu");

  /** How the suppliers' numbers of stopped lots are written, with any signs within; a short one of digits alone may be anything, unless something calls it so.
   * @param {Map<string, ThingRow>} things @returns {{ name: string, form: RegExp }[]} */
  function suppliersOf(things) {
    return [...things].flatMap(([name, { number = "" }]) => {
      const runs = number.match(/\p{L}+|[0-9]+/gu) || [];
      const signs = runs.join("").length;
      if (signs < SHORTEST) return [];
      const before = /^[0-9]{1,3}$/.test(number) ? OF_A_LOT : `${OF_A_LOT}?`;
      return { name, form: new RegExp(`${NOT_INSIDE}${before}${runs.join("[\\s./_:-]{0,3}")}${NOT_COUNTED}`, "giu") };
    });
  }

  /** @param {RegExp} form @param {string} text */
  const all = (form, text) => [...text.matchAll(form)].map((match) => ({ match, from: Number(match.index), to: Number(match.index) + match[0].length }));

  /** Digits that something calls a piece's, or that stand in brackets or quotes.
   * @param {string} text @returns {LooseDigits[]} */
  function numbered(text) {
    const called = all(NUMBERED, text).filter(({ from }) => !ELSEWHERE.test(text.slice(0, from)));
    return called.map(({ match, from, to }) => ({ from, to, text: match[0].trim(), digits: match[1] }));
  }

  /** Digits behind a number: right behind it, or in quotes or brackets. `before` is all that stands before them.
   * @param {string} text @returns {(LooseDigits & { before: string })[]} */
  function behindNumbers(text) {
    const held = all(HELD, text).map(({ match, from, to }) => ({ from, to, text: match[0], digits: match[0].slice(1, -1), before: text.slice(0, from) }));
    const bare = all(DIGITS_BEHIND, text).map(({ match, from, to }) => ({ from, to, text: match[1], digits: match[1], before: text.slice(0, from) }));
    return [...held, ...bare].filter(({ digits }) => !YEAR.test(digits));
  }

  /** Letters, or the word for a batch, with the groups of digits behind it.
   * @param {string} text @returns {{ from: number, text: string, letters: string, groups: string[], ends: number[] }[]} */
  function spaced(text) {
    return all(SPACED, text).map(({ match, from, to }) => {
      const groups = match[2].split(/\s+/);
      const start = to - match[2].length;
      const ends = [...match[2].matchAll(/[0-9]+/g)].map((group) => start + Number(group.index) + group[0].length);
      return { from, text, letters: (match[1] || "").toUpperCase(), groups, ends };
    });
  }

  /** @param {string} text @returns {(LooseDigits & { letters: string, alone: string })[]} `alone`: the digits behind the letter */
  function stuttered(text) {
    return all(STUTTERED, text).filter(({ match }) => match[1] || match[3] || BESIDE_THE_KEY.test(match[4])).map(({ match, from, to }) => ({ from, to, text: match[0], digits: match[1] + match[5], letters: match[2].toUpperCase(), alone: match[5] }));
  }

  /** @param {string} text @returns {(LooseDigits & { letters: string, before: string })[]} */
  function brief(text) {
    return all(BRIEF, text).map(({ match, from, to }) => ({ from, to, text: match[0], digits: match[2], letters: match[1].toUpperCase(), before: text.slice(0, from) }));
  }

  /** What goes on behind a batch: "B-0150 and 51" is B-0151 as well.
   * @param {string} behind @returns {{ length: number, digits: string } | null} */
  function goesOn(behind) {
    const more = MORE.exec(behind);
    return more && { length: more[0].length, digits: more[1] };
  }

  /** The revisions that a query calls so: "rev B". Whether its part has another is asked in batches.js.
   * @param {string} text @returns {{ from: number, to: number, text: string, revision: string }[]} */
  function revisionsIn(text) {
    return all(REVISION, text).map(({ match, from, to }) => ({ from, to, text: match[0], revision: match[1].toUpperCase() }));
  }

  spares.finder = { ...spares.finder, numbered, behindNumbers, spaced, stuttered, brief, goesOn, revisionsIn, suppliersOf };
})();
