// Do the words around a piece say that it is not this one, or that nobody is sure: "not B-0150", "all but B-0150", "maybe B-0150",
// "newer than B-0150", "B-0150 or so"? Pure.
//
// In the three languages at once, since a hand writes what it says. What is denied is another piece, and nobody says which.
(function () {
  "use strict";

  const NOT_INSIDE = "(?<![\\p{L}\\p{N}])";
  /** What stands between such a word and the piece. */
  const LITTLE = "(?:\\s+(?:the|a|of|from|with|batch|lot|piece|label|das|die|der|den|dem|von|aus|vom|los|charge|stück|etikett|fra|af|serie|serien|parti|stykke|stykket)\\.?){0,3}\\s+[\"'(„“»]?$";
  const ALL = "(?:(?:any(?:thing|one)?|every(?:thing|one)?|all|the|alle[srmn]?|alt|hvad\\s+som\\s+helst|et)\\s+(?:(?:others?|else|one|andere[srmn]?|andet|anden)\\s+)?)?";
  const NOT = "not|never|isn['’]?t|except(?:\\s+for)?|excluding|minus|with\\s+the\\s+exception\\s+of|mit\\s+ausnahme\\s+von|med\\s+undtagelse\\s+af|without|than|unlike|instead\\s+of|(?:apart|aside)\\s+from|nicht|nie(?:mals)?|kein(?:e[nmrs]?)?|außer|ausgenommen|ohne|statt|anstatt|als|bis\\s+auf|ikke|aldrig|undtagen|undtaget|uden|ingen|end|bortset\\s+fra|i\\s+stedet\\s+for";
  const OF_AN_ORDER = "(?:right\\s+|just\\s+)?(?:after|before|until|till|since|following|up\\s+to|down\\s+to|onwards?\\s+from|nach|vor|ab|seit|bis|bis\\s+zu|efter|før|siden|indtil|fra\\s+og\\s+med|til\\s+og\\s+med)";
  const DENYING = new RegExp(`${NOT_INSIDE}(?:${ALL}(?:${NOT}|${OF_AN_ORDER})|(?:any(?:thing|one)?|every(?:thing|one)?|all|nothing)(?:\\s+(?:batch|batches|lot|lots|else))?\\s+but)${LITTLE}`, "iu");
  /** ">B-0150", "!= B-0150"; "<B-0150>" is held in brackets. */
  const SIGN_BEFORE = /(?:[!≠>≤≥¬]|<)[=>]?\s*$/u;
  const DENIED_BEHIND = /^["')]?\s*(?:is\s+|ist\s+|er\s+|das\s+)?(?:not|nicht|ikke|excluded|ausgenommen|undtaget)(?:\s+(?:it|this|that|one|the|das|dieses|es|den|det|denne|dette)){0,2}\s*(?:[.,;!?]|$)/iu;
  /** "From B-0150 on"; "B-0150 on 405" is where it goes. */
  const FROM = new RegExp(`${NOT_INSIDE}(?:from|von|vom|fra)${LITTLE}`, "iu");
  const ON = /^\s+(?:on(?:wards?)?|an|aufwärts|og\s+frem|og\s+opefter|and\s+up)(?![\p{L}\p{N}]|\s*\p{L}{0,3}\s?\d)/iu;
  const LATER = /^\s+(?:and|or|und|oder|og|eller)\s+(?:later|newer|older|earlier|neuer|älter|später|früher|nyere|ældre|senere|tidligere)(?![\p{L}\p{N}])/iu;
  const UNSURE = new RegExp(`${NOT_INSIDE}(?:may\\s?be|perhaps|probably|possibly|presumably|likely|(?:could|might|must|should|would)\\s+be|(?:looks?|seems?|sounds?)\\s+like|like|near|nearly|almost|about|approx\\.?|roughly|similar\\s+to|i\\s+(?:think|guess|believe|suppose)|or|(?<!(?:batch|lot|part|piece|label|serial)\\s+)no|vielleicht|evtl\\.?|eventuell|wahrscheinlich|vermutlich|möglicherweise|womöglich|wohl|(?:könnte|dürfte|müsste)(?:\\s+es)?|ungefähr|etwa|wie|ähnlich|fast|ich\\s+glaube|glaube|oder|måske|muligvis|sandsynligvis|formentlig|formodentlig|vistnok|nok|(?:kunne|må|skulle)\\s+være|cirka|ca\\.?|omkring|ligesom|næsten|(?:jeg\\s+)?tror|eller)${LITTLE}|[~≈]\\s*$`, "iu");
  const UNSURE_BEHIND = /^(?:\+|\.{2,}|…|[-\u2010-\u2015](?![\p{L}\p{N}(]|\s[\p{L}\p{N}(]))|^["')]?,?\s+\(?(?:or|plus|ff|etc|et\s+seq|oder|eller|may\s?be|perhaps|probably|possibly|presumably|i\s+(?:think|guess|believe|suppose)|not\s+sure|unsure|vielleicht|evtl|eventuell|wahrscheinlich|vermutlich|glaube?(?:\s+ich)?|denke\s+ich|nicht\s+sicher|måske|muligvis|sandsynligvis|formentlig|vistnok|vist|tror\s+jeg|ikke\s+sikker|something|irgendwas|(?:so\s+)?ungefähr)(?![\p{L}\p{N}])(?:\s+(?:so|sådan|noget|etwas))?/iu;

  /** @template {{ from: number, to: number }} T @param {string} text @param {T} at @param {RegExpExecArray | null} before @param {RegExpExecArray | null} behind
   * @returns {T & { text: string }} the whole stretch */
  function stretched(text, at, before, behind) {
    const [from, to] = [before ? before.index : at.from, behind ? at.to + behind[0].length : at.to];
    return { ...at, from, to, text: text.slice(from, to).trim() };
  }

  /** Whether the words around a stretch say that it is another piece than this: "not B-0150". Gives the whole stretch.
   * @template {{ from: number, to: number }} T @param {string} text @param {T} at @returns {T & { text: string } | null} */
  function deniedPiece(text, at) {
    const [ahead, after] = [text.slice(0, at.from), text.slice(at.to)];
    const [from, on] = [FROM.exec(ahead), ON.exec(after)];
    if (from && on) return stretched(text, at, from, on);
    const [before, behind] = [DENYING.exec(ahead) || (after.startsWith(">") ? null : SIGN_BEFORE.exec(ahead)), DENIED_BEHIND.exec(after) || LATER.exec(after)];
    return before || behind ? stretched(text, at, before, behind) : null;
  }

  /** Whether they say that nobody is sure: "maybe B-0150".
   * @template {{ from: number, to: number }} T @param {string} text @param {T} at @returns {T & { text: string } | null} */
  function doubtedPiece(text, at) {
    const [before, behind] = [UNSURE.exec(text.slice(0, at.from)), UNSURE_BEHIND.exec(text.slice(at.to))];
    return before || behind ? stretched(text, at, before, behind) : null;
  }

  spares.finder = { ...spares.finder, deniedPiece, doubtedPiece };
})();
