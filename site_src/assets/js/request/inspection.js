// What was measured → the text of an inspection sheet in the form of generator/records/inspection_sheet.py, or what is wrong. Pure.
(function () {
  "use strict";

  const { line } = spares.finder;
  const LONGEST = 200;
  const LARGEST_MM = 100000;
  const whole = (/** @type {string} */ text) => (/^[0-9]{1,4}$/.test(text.trim()) ? Number(text.trim()) : NaN);
  const isDay = (/** @type {string} */ day) => /^[0-9]{4}-[0-9]{2}-[0-9]{2}$/.test(day) && !Number.isNaN(Date.parse(`${day}T00:00:00Z`));

  /** In millimetres, with a point or a comma; NaN for anything else.
   * @param {string} text */
  function millimetres(text) {
    const typed = spares.request.number(text);
    return typed <= LARGEST_MM ? typed : NaN;
  }

  /** Whether a value lies out of its limits, both of which are in; null where it is no number.
   * @param {InspectedCheck} check @param {string} text */
  function standsOut(check, text) {
    const value = millimetres(text);
    return Number.isNaN(value) ? null : !(Number(check.least) <= value && value <= Number(check.most));
  }

  /** @param {TypedCheck} typed @param {number} pieces */
  const valuesOf = (typed, pieces) => typed.values.slice(0, pieces).map((value) => value.trim());

  /** Whether anything was measured of it.
   * @param {TypedCheck} typed @param {number} pieces */
  const isMeasured = (typed, pieces) => (typed.kind === "gauge" ? Boolean(typed.passed.trim() || typed.failed.trim()) : valuesOf(typed, pieces).some(Boolean));

  /** What is wrong, as keys of words.wrong, by field: "pieces", "day", or of the dimension 0 "0 value 3", "0 gauge".
   * @param {TypedInspection} typed @param {InspectedBatch} of @param {InspectionData} data @param {string} today ISO date @returns {Record<string, string>} */
  function inspectionProblems(typed, of, data, today) {
    /** @type {Record<string, string>} */
    const wrong = {};
    const pieces = whole(typed.pieces);
    const isCount = pieces >= 1 && pieces <= of.count;
    if (!isCount) wrong.pieces = "pieces";
    else {
      typed.checks.forEach((each, at) => Object.assign(wrong, isMeasured(each, pieces) ? checkProblems(each, at, pieces, typed.day, data.blank) : {}));
      if (!typed.checks.some((each) => isMeasured(each, pieces))) wrong[typed.checks[0].kind === "gauge" ? "0 passed" : "0 value 0"] = "nothing";
    }
    if (!data.roles.some((role) => role.id === typed.by)) wrong.by = "by";
    if (!isDay(typed.day) || typed.day > today || typed.day < of.from) wrong.day = "day";
    if (line(typed.note).length > LONGEST) wrong.note = "long";
    return wrong;
  }

  /** @param {TypedCheck} typed @param {number} at @param {number} pieces @param {string} day @param {BlankTexts} blank */
  function checkProblems(typed, at, pieces, day, blank) {
    /** @type {Record<string, string>} */
    const wrong = {};
    if (typed.kind === "gauge") {
      const [passed, failed] = [typed.passed, typed.failed].map((text) => (text.trim() ? whole(text) : 0));
      if (passed + failed !== pieces) wrong[`${at} ${Number.isNaN(failed) ? "failed" : "passed"}`] = "gauged";
    } else {
      valuesOf(typed, pieces).forEach((value, nth) => {
        if (value && !(millimetres(value) > 0)) wrong[`${at} value ${nth}`] = "number";
      });
    }
    const gauge = line(typed.gauge);
    if (spares.request.namesNothing(gauge, blank) || gauge.length > LONGEST) wrong[`${at} gauge`] = gauge.length > LONGEST ? "long" : "gauge";
    if (!isDay(typed.until)) wrong[`${at} until`] = "until";
    else if (hasLapsed(typed.until, day)) wrong[`${at} until`] = "lapsed";
    return wrong;
  }

  /** Whether a gauge is no longer calibrated on the day of the measurement; a year that is still being typed tells nothing.
   * @param {string} until @param {string} day */
  const hasLapsed = (until, day) => isDay(until) && until >= "2000" && isDay(day) && until < day;

  /** What a sheet leaves open: dimensions that nobody measured, and pieces, from 1, of which one has no figure.
   * @param {TypedInspection} typed what has no problem @param {InspectedBatch} of */
  function leftOpen(typed, of) {
    const pieces = whole(typed.pieces);
    const isLeft = typed.checks.map((each) => !isMeasured(each, pieces));
    const some = typed.checks.map((each, at) => (isLeft[at] || each.kind === "gauge" ? [] : valuesOf(each, pieces).flatMap((value, nth) => (value ? [] : [nth + 1]))));
    return { checks: of.checks.filter((_check, at) => isLeft[at]).map((check) => check.name), pieces: some.flatMap((left, at) => (left.length ? [{ check: of.checks[at].name, left }] : [])) };
  }

  /** The file's text; of what was not measured it says nothing.
   * @param {TypedInspection} typed what has no problem @param {InspectedBatch} of @param {InspectionData} data */
  function inspectionText(typed, of, data) {
    const pieces = whole(typed.pieces);
    const said = JSON.stringify;
    const checks = typed.checks.flatMap((each, at) => (isMeasured(each, pieces) ? [checkText(each, of.checks[at].name, pieces)] : []));
    return `railway: ${said(data.railway)}\ndepot: ${said(data.depot)}\nbatch: ${of.batch}\npart: ${said(of.part)}\nrevision: ${said(of.revision)}\n`
      + `on: ${typed.day}\nby: ${said(typed.by)}\n${line(typed.note) ? `note: ${said(line(typed.note))}\n` : ""}checks:\n${checks.join("")}`;
  }

  /** @param {TypedCheck} typed @param {string} name @param {number} pieces */
  function checkText(typed, name, pieces) {
    const count = (/** @type {string} */ text) => whole(text) || 0;
    const found = typed.kind === "gauge" ? `passed: ${count(typed.passed)}, failed: ${count(typed.failed)}` : `values_mm: [${valuesOf(typed, pieces).filter(Boolean).map(millimetres).join(", ")}]`;
    return `  - {check: ${JSON.stringify(name)}, ${found}, gauge: ${JSON.stringify(line(typed.gauge))}, calibrated_until: ${typed.until}}\n`;
  }

  spares.request = { ...spares.request, standsOut, hasLapsed, inspectionProblems, leftOpen, inspectionText };
})();
