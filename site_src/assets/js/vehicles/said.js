// Which vehicles does a query name, as people write them: one, a list of them, a range? And what is none of them? Pure.
(function () {
  "use strict";

  const { isAmong, isLikeOneOf, meantBy, plain, takenApart, vehiclesIn } = spares.vehicles;

  /** With fewer digits, a bare number is as likely a size as a vehicle. */
  const SURELY = /\d{3}|\p{L}|\d\.\d/u;
  const RANGE = /^([^-–]+)[-–]([^-–]+)$/;
  /** More are no answer that anybody reads. */
  const MOST_OF_A_RANGE = 40;
  const WIDE = /[！-～]/g;
  const BETWEEN = /[,;/+&]/;
  /** One letter before a number that is an article or "number". */
  const NO_LETTER = ["a", "n", "i", "x"];
  /** Letters behind a number that are a unit, or "by". */
  const UNIT_LETTERS = ["m", "x", "v", "w"];
  /** A thread, or a bore: "M8", "d8". */
  const SIZE_STEMS = ["m", "d", "r"];
  /** What stands for "number". */
  const NUMBER_WORDS = ["no", "nr", "n"];
  /** What takes a vehicle out of what is asked, in the languages of the floor; "no" may stand for "number". */
  const DENYING = ["not", "except", "without", "nicht", "außer", "ohne", "kein", "keine", "ikke", "undtagen", "uden", "ingen"];

  /** Behind the letters of a standard, a colour or a telephone, and before a unit, a number is no vehicle: "DIN 912", "ext 214", "100 g". */
  const OF_ANOTHER_KIND = ["din", "iso", "iec", "vdv", "vde", "uic", "ral", "astm", "ds", "ext", "extension", "tel", "telefon", "phone", "tlf", "lokal", "durchwahl", "nebenstelle"];
  const MEASURED_IN = ["g", "kg", "gr", "gram", "grams", "gramm", "n", "nm", "v", "w", "volt", "watt", "bar", "hz", "%", "°", "°c", "c", "mm", "cm", "m", "km", "stk", "pcs", "stück", "days", "tage", "dage", "min", "h", "euro", "eur", "kr", "€"];

  /** Whether a number between two words is of another kind than a vehicle; one letter behind a vehicle that there is may be anything.
   * @param {string} before @param {string} behind @param {boolean} isKnown */
  const isOfAnotherKind = (before, behind, isKnown) => (
    OF_ANOTHER_KIND.includes(before.toLowerCase().replace(/[.:]$/, "")) || (MEASURED_IN.includes(behind.toLowerCase()) && (!isKnown || behind.length > 1)));

  /** @param {string} text @param {{ vehicles: string[] }[]} fleets */
  const isLike = (text, fleets) => fleets.some((fleet) => isLikeOneOf(text, fleet.vehicles));

  /** A query with its vehicles as the fleets write them: "B 31" is B31, "405,406" are two, and wide letters are letters.
   * @param {string} query @param {VehicleWords} said @returns {string} */
  function tidied(query, said) {
    const text = query.replace(WIDE, (sign) => String.fromCharCode(sign.charCodeAt(0) - 0xfee0)).replace(/\u3000/g, " ");
    const joined = text.replace(/(?<![\p{L}\d])(\p{L}{1,4})\s+(\d[\d.]{0,12})(?![\p{L}\d])/gu, (whole, letters, digits, at) => (
      isLike(letters + digits, said.fleets) || isLetterOf(letters, text.slice(0, at), said.words) ? letters + digits : whole));
    const words = joined.split(/(\s+)/);
    return words.map((word, at) => listed(word, words[at + 2] || "", said)).join("");
  }

  /** "wagon B 31": one letter behind the word for a vehicle.
   * @param {string} letters @param {string} before @param {string[]} words */
  function isLetterOf(letters, before, words) {
    const word = (/(\p{L}+)\s+$/u.exec(before) || ["", ""])[1].toLowerCase();
    return letters.length === 1 && !NO_LETTER.includes(letters.toLowerCase()) && words.includes(word);
  }

  /** "405,406" and "405/", where one of them is a vehicle and all of them look so.
   * @param {string} word @param {string} next @param {VehicleWords} said */
  function listed(word, next, said) {
    if (!BETWEEN.test(word) || said.units.includes(next.toLowerCase())) return word;
    const numbers = word.split(BETWEEN).filter(Boolean);
    const areAll = numbers.every((each) => SURELY.test(each) && isLike(each, said.fleets));
    return areAll && numbers.some((each) => meantBy(each, said.fleets)) && !said.isNumber(word) ? numbers.join(" ") : word;
  }

  /** The two ends of "401-407", "405-7", "31.02-09", "B31-B35" in full; null where it is nothing such.
   * @param {string} text @returns {[string, string] | null} */
  function endsOf(text) {
    const cut = RANGE.exec(text);
    const first = cut && takenApart(cut[1]);
    if (!cut || !first) return null;
    const isBrief = /^[0-9]{1,6}$/.test(cut[2]);
    const digits = first.last.slice(0, Math.max(0, first.last.length - cut[2].length)) + cut[2];
    const last = isBrief ? first.stem + digits + first.behind : cut[2];
    return takenApart(last) ? [cut[1], last] : null;
  }

  /** Every vehicle of a range; none where no fleet has it from its first to its last, or where it runs backwards.
   * @param {[string, string]} ends @param {{ vehicles: string[] }[]} fleets @returns {string[]} */
  function vehiclesBetween(ends, fleets) {
    const known = ends.map((end) => meantBy(end, fleets));
    const fleet = fleets.find((each) => known.every((end) => end && isAmong(each.vehicles, end)));
    const all = fleet ? vehiclesIn(fleet.vehicles) : [];
    const between = all.slice(all.indexOf(known[0]), all.indexOf(known[1]) + 1);
    const [first, last] = ends.map((end) => takenApart(end));
    const isWhole = Boolean(first && last) && Number(last?.last) - Number(first?.last) === between.length - 1;
    return fleet && isWhole && between.length <= MOST_OF_A_RANGE ? between : [];
  }

  /** A query with every vehicle of its ranges written out: "401-403" is "401 402 403".
   * @param {string} query @param {VehicleWords} said */
  function spelledOut(query, { fleets, until }) {
    const words = query.split(/\s+/);
    /** @type {string[]} */
    const out = [];
    for (let at = 0; at < words.length; ) {
      const { text, length } = oneOrRange(words, at, until);
      const ends = endsOf(text);
      const between = ends && SURELY.test(ends[0]) ? vehiclesBetween(ends, fleets) : [];
      out.push(...(between.length ? between : words.slice(at, at + length)));
      at += length;
    }
    return out.join(" ");
  }

  /** The words of a query, a fleet or a word for a vehicle apart from the number that is joined to it.
   * @param {string} query @param {VehicleWords} said */
  function wordsOf(query, { fleets, words }) {
    const leads = [...words, ...fleets.map((fleet) => fleet.id.toLowerCase())];
    const cut = query.split(/[\s,;:!?()]+|\.(?!\d)|(?<!\d)\.|#|(?<=\D)°/);
    return cut.flatMap((word) => {
      const lead = leads.find((each) => word.toLowerCase().startsWith(each) && /^[-/]\d/.test(word.slice(each.length)));
      return lead ? [lead, word.slice(lead.length + 1)] : [word.replace(/^[-–/]+(?=\d)/, "")];
    }).filter((word) => word && !NUMBER_WORDS.includes(word.toLowerCase()));
  }

  /** "401 to 407" and "401 - 407" written as one range; else the word itself.
   * @param {string[]} words @param {number} at @param {string[]} until */
  function oneOrRange(words, at, until) {
    const [first, to, last] = words.slice(at, at + 3);
    const isRange = last && (/^[-–]$/.test(to) || until.includes(to.toLowerCase())) && takenApart(first) && takenApart(last);
    return isRange ? { text: `${first}-${last}`, length: 3 } : { text: first || "", length: 1 };
  }

  /** The first that a query calls a vehicle, "car 499", "TR4-499", "401-420", or a number alone that nothing else explains, though
   * no fleet has it; null where there is none such.
   * @param {string} query @param {VehicleWords} said @param {string[]} unexplained numbers that are no size and no number of a part
   * @returns {Stranger | null} */
  function strangeIn(query, said, unexplained) {
    const words = wordsOf(query, said);
    /** @type {RulesFleet[]} */
    let among = [];
    let isNamed = false;
    for (let at = 0; at < words.length; ) {
      const fleet = said.fleets.filter((each) => each.id.toLowerCase() === words[at].toLowerCase());
      const isWord = said.words.includes(words[at].toLowerCase());
      const { text, length } = oneOrRange(words, at, said.until);
      const isSize = said.units.includes((words[at + length] || "").toLowerCase()) || isOfAnotherKind(words[at - 1] || "", words[at + length] || "", meantBy(text, said.fleets) !== "");
      const found = fleet.length || isWord || isSize ? null : strangerOf(text, { ...said, among, isNamed });
      if (found) return found;
      [among, isNamed] = [fleet.length ? fleet : isWord ? among : [], isWord || (isNamed && fleet.length > 0)];
      at += fleet.length || isWord ? 1 : length;
    }
    const alone = unexplained.find((text) => SURELY.test(text) && !meantBy(text, said.fleets) && isLike(text, said.fleets));
    return alone ? { text: alone, kind: "vehicle", among: [], ends: [], isBare: true } : null;
  }

  /** @param {string} text @param {VehicleWords & { among: RulesFleet[], isNamed: boolean }} said among: the fleet before it; isNamed:
   * behind a word for a vehicle @returns {Stranger | null} */
  function strangerOf(text, said) {
    const { among, isNamed } = said;
    const fleets = among.length ? among : said.fleets;
    const ends = endsOf(text);
    const one = { text, among: among.map((fleet) => fleet.id), ends: ends || [], isBare: false };
    if (ends) {
      const isMeant = isNamed || (SURELY.test(ends[0]) && ends.some((end) => isLike(end, fleets)) && !said.isNumber(text));
      if (!isMeant || vehiclesBetween(ends, fleets).length) return null;
      return { ...one, kind: ends.some((end) => meantBy(end, said.fleets)) ? "range" : "vehicle", isBare: !isNamed && !among.length };
    }
    return !meantBy(text, fleets) && isMeantForOne(text, said) ? { ...one, kind: "vehicle" } : null;
  }

  /** Whether what no fleet has was meant for a vehicle: behind a word for one, behind a fleet that numbers so, or "405A".
   * @param {string} text @param {VehicleWords & { among: RulesFleet[], isNamed: boolean }} said */
  function isMeantForOne(text, { fleets, among, isNamed, isNumber }) {
    const apart = takenApart(text);
    if (!apart) return false;
    if (isLike(text, among)) return true; // "TR4 35" is a size
    if (among.length && SURELY.test(text) && meantBy(text, fleets)) return true;
    const isSize = SIZE_STEMS.includes(plain(apart.stem)) || UNIT_LETTERS.includes(plain(apart.behind));
    if (isNamed) return !isSize;
    return !isSize && /^\d{3,6}\p{L}$/u.test(text) && isLike(text.slice(0, -1), fleets) && !isNumber(text);
  }

  /** The vehicles that a query takes out: "not 405", "ikke TR4 405", "ohne Wagen 405".
   * @param {string} query @param {VehicleWords} said @returns {string[]} */
  function deniedIn(query, { fleets, words: names }) {
    const words = query.toLowerCase().split(/[^\p{L}\d.]+/u);
    const isBetween = (/** @type {string} */ word) => names.includes(word) || fleets.some((fleet) => fleet.id.toLowerCase() === word);
    return words.flatMap((word, at) => {
      if (!DENYING.includes(word)) return [];
      return meantBy(words.slice(at + 1).find((each) => !isBetween(each)) || "", fleets) || [];
    });
  }

  spares.vehicles = { ...spares.vehicles, deniedIn, endsOf, spelledOut, isOfAnotherKind, strangeIn, tidied, vehiclesBetween, MOST_OF_A_RANGE };
})();
