// What was typed → the text of a request file, in the format of generator/records/requests.py, or what is missing. Pure.
(function () {
  "use strict";

  const { line, several } = spares.finder;
  const { meantBy, vehiclesIn } = spares.vehicles;
  const JOINING = ["and", "und", "og"];
  const LONGEST = { name: 80, what: 4000, stops: 200, note: 200, number: 80 };
  const MOST_NUMBERS = 20;
  const LARGEST_MM = 5000;
  const MOST_A_YEAR = 100000;
  const TAKEN = ["true", "false", "null", "yes", "no", "on", "off", "y", "n"];
  const PLAIN = /^[A-Za-z](?:[^\S\n\t]?[A-Za-z0-9_.,;()/+%°×–'-])*$/;

  /** A number as people type it, with a point or a comma; NaN for anything else.
   * @param {string} text */
  function number(text) {
    const typed = String(text || "").trim().replace(",", ".").replace(/\s*mm$/i, "");
    return /^\d{1,6}(\.\d{1,4})?$/.test(typed) ? Number(typed) : NaN;
  }

  /** "401-403, 407 and B9" → ["401-403", "407", "B9"].
   * @param {string} text @returns {string[]} */
  function vehicles(text) {
    return line(text).replace(/\s*[-–]\s*/g, "-").split(/[\s,;&+]+|\.(?!\d)/).filter((piece) => piece && !JOINING.includes(piece.toLowerCase()));
  }

  /** The same as the fleet writes them; null where a piece is no vehicle of it.
   * @param {Fleet} fleet @param {string} text @returns {string[] | null} */
  function asWritten(fleet, text) {
    const found = vehicles(text).map((piece) => {
      const all = vehiclesIn([piece]).map((each) => meantBy(each, [fleet]));
      const [first, last] = [all[0], all[all.length - 1]];
      return all.length && all.every(Boolean) ? (first === last ? first : `${first}-${last}`) : "";
    });
    return found.every(Boolean) ? found : null;
  }

  /** @param {string} text */
  const numbers = (text) => several(text).split(/[\n;,]+/).map(line).filter(Boolean);

  /** @param {Typed} typed */
  const sizes = (typed) => typed.sizes.filter((size) => String(size).trim()).map(number);

  /** What is missing or wrong, by field; the values are keys of words.request.wrong.
   * @param {Typed} typed @param {Fleet[]} fleets @param {string[]} roles @returns {Wrong} */
  function problems(typed, fleets, roles) {
    /** @type {Wrong} */
    const wrong = {};
    const fleet = fleets.find((each) => each.id === typed.fleet);
    if (!fleet) wrong.fleet = "choose";
    if (!line(typed.name)) wrong.name = "missing";
    else if (line(typed.name).length > LONGEST.name) wrong.name = "long";
    if (!several(typed.what)) wrong.what = "missing";
    else if (several(typed.what).length > LONGEST.what) wrong.what = "long";
    if (!line(typed.stops)) wrong.stops = "missing";
    else if (line(typed.stops).length > LONGEST.stops) wrong.stops = "long";
    if (sizes(typed).some((size) => !(size > 0 && size <= LARGEST_MM))) wrong.sizes = "size";
    const listed = numbers(typed.numbers);
    if (listed.length > MOST_NUMBERS || listed.some((each) => each.length > LONGEST.number)) wrong.numbers = "long";
    if (fleet && asWritten(fleet, typed.vehicles) === null) wrong.vehicles = "vehicles";
    return { ...wrong, ...voiceProblems(typed, roles) };
  }

  /** @param {Typed} typed @param {string[]} roles @returns {Wrong} */
  function voiceProblems(typed, roles) {
    /** @type {Wrong} */
    const wrong = {};
    const yearly = number(typed.yearly);
    if (!String(typed.yearly).trim()) wrong.yearly = "missing";
    else if (!(yearly >= 0 && yearly <= MOST_A_YEAR)) wrong.yearly = "number";
    if (!roles.includes(typed.by)) wrong.by = "choose";
    if (line(typed.note).length > LONGEST.note) wrong.note = "long";
    return wrong;
  }

  /** @param {Typed} typed @param {string} day @param {string} photo JPEG as base64, or "" @param {Fleet[]} fleets @returns {string} */
  function text(typed, day, photo, fleets) {
    const fleet = fleets.find((each) => each.id === typed.fleet);
    return written({
      on: day,
      by: typed.by,
      name: line(typed.name),
      what_it_does: several(typed.what).replace(/[ \t]+$/gm, ""),
      fleet: typed.fleet,
      vehicles: (fleet && asWritten(fleet, typed.vehicles)) || [],
      place: typed.place || null,
      numbers: numbers(typed.numbers),
      sizes_mm: sizes(typed).sort((a, b) => b - a),
      yearly_demand: number(typed.yearly),
    }) + `stops_without: ${JSON.stringify(line(typed.stops))}\n` + (photo ? `photo_data: |-\n${photo.replace(/.{1,76}/g, "  $&\n")}` : "");
  }

  /** @param {string} id @param {Typed} typed @param {string} day @returns {string} */
  function voiceText(id, typed, day) {
    return `${written({ on: day, by: typed.by, yearly_demand: number(typed.yearly), note: line(typed.note) || null })}adds_to: ${JSON.stringify(id)}\n`;
  }

  /** The text with how many lines it has before all else: cut at the end of one it would be read as a shorter list. Its last line is
   * one that tells by its quotes, brackets or braces where it ends.
   * @param {string} text @returns {string} */
  function withLines(text) {
    return `lines: ${1 + text.split("\n").filter((each) => each.trim()).length}\n${text}`;
  }

  /** @param {Record<string, string | number | (string | number)[] | null>} record */
  function written(record) {
    const kept = Object.entries(record).filter(([, value]) => value !== null && !(Array.isArray(value) && !value.length));
    return kept.map(([key, value]) => `${key}: ${Array.isArray(value) ? `[${value.map(inList).join(", ")}]` : scalar(/** @type {string | number} */ (value))}\n`).join("");
  }

  /** A value on one line, quoted wherever YAML could read it as something else.
   * @param {string | number} value */
  function scalar(value) {
    if (typeof value === "number") return String(value);
    if (/^\d{4}-\d{2}-\d{2}$/.test(value) || (PLAIN.test(value) && !TAKEN.includes(value.toLowerCase()))) return value;
    return JSON.stringify(value);
  }

  /** @param {string | number} value */
  const inList = (value) => (typeof value === "number" ? String(value) : JSON.stringify(value));

  /** A name that tells the files of one day apart.
   * @param {string} what @param {string} day */
  function fileName(what, day) {
    const plain = spares.finder.plain(what).replace(/[^a-z0-9]+/g, "-").replace(/^-+|-+$/g, "").slice(0, 40).replace(/-+$/, "");
    return `request-${day}-${plain || "part"}.yml`;
  }

  spares.request = { ...spares.request, problems, voiceProblems, text, voiceText, withLines, fileName, sizes, number, numbers };
})();
