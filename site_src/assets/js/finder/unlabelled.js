// Does a query speak of a piece whose number nobody can say: "no label", "Los unleserlich", "B-????", "batch one five"? Or of
// a batch, and nobody says which: "another batch", "dieses Los"? Pure.
//
// In the three languages at once, since a hand writes what it says. No number is taken from any of these but from digits in words.
(function () {
  "use strict";

  const { fold, heard } = spares.finder;
  const NOT_INSIDE = "(?<![\\p{L}\\p{N}])";
  const ENDS = "(?![\\p{L}\\p{N}])";
  /** What a hand writes before a batch or a lot. */
  const CALLED = "(?:batch|lot|los|charge|serie|serial|parti|materialeparti)(?:[ -]?(?:number|nummer|nr|no))?";
  const LABEL = "(?:label|tag|sticker|etikett?e?n?|aufkleber|typenschild|schildchen|beschriftung|kennzeichnung|marking|mærkat|mærkning|mærke)";
  const THING = `(?:${CALLED.replace("charge", "chargen?").replace("serie", "serien?").replace("batch", "batch(?:en)?")}|${LABEL}(?:en|et)?)`;
  const NONE = "(?:no|without|w/o|lacks|lacking|missing|lost|unknown|unreadable|illegible|ohne|kein(?:e[nmrs]?)?|fehlende[nrsm]?|unbekannte[nrsm]?|unleserliche[nrsm]?|unlesbare[nrsm]?|uden|ingen|intet|manglende|ukendte?|ulæselige?t?)";
  const LITTLE = "(?:an?|any|the|of|its|readable|legible|visible|batch|lot|part|piece|der|die|das|dem|den|ein(?:e[nmrs]?)?|lesbare[nrsm]?|et|en|på|med|læsbare?t?|synlige?t?|nogen|noget)";
  const BETWEEN = "(?:is|was|are|has|it|been|come|fallen|totally|completely|partly|half|all|ist|war|sind|wurde|ganz|völlig|teils|halb|er|var|blev|helt|delvis|halvt|faldet|revet|the|of)";
  const READ = "(?:readable|legible|read|known|visible|there|lesbar|leserlich|lesen|erkennen|entziffern|bekannt|da|dran|vorhanden|læselig|læsbar|læses|tydes|kendt|der)";
  const NOT = "(?:not|cannot|can['’]?t|isn['’]?t|couldn['’]?t|hardly|barely|nicht|kaum|ikke|næppe)";
  const GONE = "(?:unreadable|illegible|unknown|unclear|missing|gone|lost|off|worn|torn|smudged|smeared|faded|scratched|painted|burnt|unleserlich|unlesbar|unbekannt|unklar|fehlt|weg|ab|abgerissen|abgefallen|abgerieben|verwischt|verschmiert|verblichen|verloren|zerkratzt|mangler|væk|forsvundet|ukendt|uklart?|ulæseligt?|slidt|udvisket|af|tabt)";
  const PIECE = "(?:pieces?|part|stück|teil|exemplar|stykke|del|eksemplar)";
  /** Where pieces lie that nobody may take yet. */
  const HELD_BACK = "(?:quarantined?|quarantäne|karantæne|sperr(?:lager|bestand|kiste|regal|fach)|spærre(?:lager|kasse|hylde)|un-?released|unfreigegeben|not\\s+(?:yet\\s+)?released\\s+yet|not\\s+yet\\s+released|(?:noch\\s+)?nicht\\s+freigegeben(?:e[nmrs]?)?|ohne\\s+freigabe|(?:endnu\\s+)?ikke\\s+frigivet|uden\\s+frigivelse|red\\s+(?:box|bin|tray|tag|shelf)|rote[nmrs]?\\s+(?:kiste|box|kasten|behälter|anhänger|regal|fach)|røde?\\s+(?:kasse|boks|bakke|hylde))";
  const PLAIN = [
    `${PIECE}\\s+(?:${NONE}|with\\s+no)\\s+(?:(?:an?|eine?|et|en)\\s+)?(?:numbers?|nummer)`,
    `${NONE}\\s+(?:${LITTLE}\\s+){0,2}${THING}`,
    `${THING}(?:[\\s:]+${BETWEEN}){0,3}[\\s:,]+(?:${GONE}|${NOT}(?:\\s+\\p{L}+){0,2}?\\s+${READ}|(?:kan|can|kann|zu)\\s+${NOT}\\s+(?:be\\s+|zu\\s+)?${READ})`,
    `${THING}\\s+(?:weiß|weiss|kenne|kennt|ved|kender|know)\\s+(?:\\p{L}+\\s+){0,2}${NOT}`,
    `${NOT}\\s+(?:sure|certain|know|sicher|sikker)\\s+(?:\\p{L}+\\s+){0,2}${THING}`,
    `(?:which|what|welche[rsnm]?|hvilke[nt]?)\\s+${THING}`,
    "(?:un-?label+ed|un-?marked|un-?numbered|unbeschriftet|ungekennzeichnet|unetikettiert|umærket)(?:e[nrsm]?|e)?",
  ].map((each) => new RegExp(`${NOT_INSIDE}(?:${each})${ENDS}`, "giu"));
  const ASKED = new RegExp(`${NOT_INSIDE}${THING}\\s*[.:#=-]*\\s*[?*_]+`, "giu");
  /** "B-????", "B-01?1", "b xx51", "B-": letters of a batch, and what nobody could read. */
  /** "B-01.5": a sign within the digits, which begin as a batch's do. */
  const BROKEN = new RegExp(`${NOT_INSIDE}(\\p{L}{1,4})[ ]?-[ ]?0[0-9]{0,6}[.,\u00b7][0-9]{1,6}(?![\\p{L}\\p{N}]|\\s*(?:mm|cm)(?!\\p{L}))`, "giu");
  const GAPS = new RegExp(`${NOT_INSIDE}(\\p{L}{1,4})(?:[ ]?[-.:/_\\u2010-\\u2015][ ]?|(?=[0-9]*[?*_]))((?![0-9]{1,8}\\?(?:\\s|$)|[0-9]{3,8}[.]{2,}(?:[0-9\\s]|$))(?=[0-9OILSBZ]*(?:[?*_]|[.]{2}|x[x0-9]))(?:[0-9OILSBZX?*_]|[.]{2,}){1,10}|(?=\\s|$))(?![\\p{L}\\p{N}])`, "giu");
  const LETTER = new RegExp(`${NOT_INSIDE}(?:batch|los|serie)\\s+(\\p{L}{1,4})(?=\\s|$)`, "giu");
  const SPELT = new RegExp(`(?<before>${NOT_INSIDE}${CALLED}[\\s.:#=-]+)(?<words>\\p{L}+(?:[\\s-]+\\p{L}+){0,9})`, "giu");
  /** "Another batch", "dieses Los", "en eller anden serie": spoken of, and not said which. "A lot of play" is none, nor is "los" alone. */
  const SOME_EN = "(?:this|that|these|those|another|other|some|any|next|last|previous|first|second|third|older|oldest|old|newer|newest|new|latest|same|wrong|right|good|bad|different|each|every|either|both|recalled|called[ -]back|blocked|two|three|several)\\s+lots?";
  const SOME_DE = "(?:(?:irgend)?eine?|einer|eines|einem|einen|das|die|der|dem|des|vom|zur|(?:irgendein|kein|dies|jen|jed|ander|nächst|letzt|vorig|erst|zweit|älter|ältest|alt|neuer|neuest|neu|gut|schlecht|falsch|richtig|selb|gleich|zurückgerufen|gesperrt|beid)(?:e[nmrs]?)?|zwei|mehrere)\\s+(?:los(?:es|e)?|chargen?)";
  const SOME_DA = "(?:en|et|den|det|denne|dette|disse|hver|enhver|ethvert|anden|andet|andre|næste|sidste|forrige|første|gammel|gamle|gammelt|nye?|nyt|nyeste|gode?|godt|dårlige?|forkerte?|rigtige?|samme|tilbagekaldte?|spærrede?|nogen|noget|alle|begge|flere|to)\\s+(?:serier?|serien|parti(?:er|et)?)";
  const AT_THE_END = "(?=\\s*(?:[.,;:!?)]|$))";
  const SOME = [
    `batch(?:es|en|er)?|(?:batch|los|chargen|parti|serie)-?(?:nummer|nr)|(?:batch|lot)\\s+(?:number|no)|${SOME_EN}|${SOME_DE}|${SOME_DA}`,
    `(?<!(?:in|to|on|of|no|not|n['’]?t|can|will|full|battery|phone)\\s+)(?:charge|serie)${AT_THE_END}`,
    `the\\s+other\\s+(?:one|piece)|(?<!(?:auf|an|in|über|als|wie|und|gegen|og|på|af|end|til|mod|i)\\s+)(?:(?:das|der|die|den|dem)\\s+andere[nmrs]?|(?:den|det)\\s+(?:anden|andet))${AT_THE_END}`,
    "(?:an)?other\\s+piece|andere[nmrs]?\\s+(?:stück|exemplar)|andet\\s+(?:stykke|eksemplar)",
    `${HELD_BACK}|(?:gesperrte[nmrs]?|spærrede?|spærret|blocked)\\s+${PIECE}|${PIECE}\\s+(?:is\\s+|ist\\s+|er\\s+)?(?:gesperrt|spærret|blocked)`,
    "(?<=[0-9](?:\\s+[a-z])?[\\s,;:]+(?:is\\s+|ist\\s+|er\\s+)?)(?:gesperrt|spærret|blocked)",
    "called[ -]back|recall(?:ed)?|(?:zurück|rück)gerufen(?:e[nmrs]?)?|rückruf|tilbagekaldt?e?|tilbagekaldelsen?|kaldt\\s+tilbage",
  ].map((each) => new RegExp(`${NOT_INSIDE}(?:${each})${ENDS}`, "giu"));
  const DIGITS = 10;
  /** "be nul en fem en": so many digits behind the name of a letter. */
  const LEAST = 3;

  /** A query with its numbers in words as digits, also the small ones behind what calls them a batch.
   * @param {string} text @param {Language} language */
  function asDigits(text, language) {
    const told = heard(text, language);
    const digit = (/** @type {string} */ word) => language.heard?.number(fold(word)) ?? language.heard?.inside.get(fold(word)) ?? DIGITS;
    return spelledOut(told, language, digit).replace(SPELT, (whole, before, said) => {
      const each = String(said).split(/[\s-]+/);
      const end = each.findIndex((word) => !(digit(word) < DIGITS && Number.isInteger(digit(word))));
      const read = end < 0 ? each : each.slice(0, end);
      return read.length ? `${before}${read.map(digit).join("")} ${each.slice(read.length).join(" ")}`.trimEnd() : whole;
    });
  }

  /** @param {string} text @param {Language} language @param {(word: string) => number} digit */
  function spelledOut(text, language, digit) {
    const words = text.split(/\s+/);
    const isDigit = (/** @type {string} */ word) => digit(word) < DIGITS && Number.isInteger(digit(word));
    for (let at = 0; at < words.length; at += 1) {
      const letter = language.heard?.letters.get(fold(words[at]));
      const end = words.findIndex((word, next) => next > at && !isDigit(word));
      const digits = words.slice(at + 1, end < 0 ? words.length : end);
      const run = isDigit(words[at]) && !letter ? [words[at], ...digits] : []; // "et fem et"
      if (letter && digits.length >= LEAST) words.splice(at, 1 + digits.length, letter + digits.map(digit).join(""));
      else if (run.length >= LEAST && run.some((word) => Number.isInteger(language.heard?.number(fold(word))))) words.splice(at, run.length, run.map(digit).join(""));
    }
    return words.length === text.split(/\s+/).length ? text : words.join(" ");
  }

  /** @param {RegExp[]} forms @param {string} text */
  const allOf = (forms, text) => forms.flatMap((form) => [...text.matchAll(form)]).map((match) => ({ from: Number(match.index), to: Number(match.index) + match[0].length, text: match[0].trim(), letters: match[1] || "" }));

  /** The stretches of a text that speak of a piece without any number.
   * @param {string} text @returns {{ from: number, to: number, text: string }[]} */
  const unlabelled = (text) => allOf([...PLAIN, ASKED], text);

  /** Those that begin as a batch and could not be read.
   * @param {string} text @param {Set<string>} known letters of the batches here @returns {{ from: number, to: number, text: string }[]} */
  const gapped = (text, known) => allOf([GAPS, BROKEN, LETTER], text).filter(({ letters }) => known.has(letters.toUpperCase()));

  /** The stretches that speak of a batch and say nothing of it: asked about where no piece is named.
   * @param {string} text @returns {{ from: number, to: number, text: string }[]} */
  const someBatch = (text) => allOf(SOME, text);

  spares.finder = { ...spares.finder, asDigits, unlabelled, gapped, someBatch };
})();
