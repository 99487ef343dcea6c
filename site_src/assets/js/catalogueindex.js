// What can be asked about each part? Turns the records of assets/data/finder.js into an index for rank.js. Pure.
(function (root) {
  "use strict";

  const { fold, pieces, stem, numberKey, shortNumberKey, letterMask } = root.spares;

  /** How much a word counts by where it stands. A word that stands in several places counts by the best. */
  const FIELDS = {
    name: 1, other_names: 0.94, symptoms: 0.78, assembly: 0.74, purpose: 0.7, place: 0.7, fleet: 0.35, checks: 0.48,
    what_changed: 0.4, material: 0.5,
  };
  /** A synonym counts this much of the word that it stands for; a word out of a longer synonym a little less. */
  const SYNONYM = 0.88;
  const SYNONYM_PHRASE = 0.74;
  const ENDING = 0.9;
  const SYNONYM_FIELDS = ["name", "other_names", "symptoms", "assembly", "purpose"];
  /** Where things stand in a ground, see generator/pages/finder_index.py. */
  const [FLEET, PLACE, VEHICLES] = [0, 1, 2];

  /** @typedef {{ records: any[], language: any, fleets: any[], terms: string[], ids: Map<string, number>,
   *   surfaces: string[], surfaceIds: number[], masks: Int32Array, postings: { at: number[], weight: number[] }[], spellings: Map<string, string[]>,
   *   joined: Map<string, number[]>, joinedList: string[], joinedMasks: Int32Array, joinedAt: number[][],
   *   numbers: { key: string, short: string, at: number, text: string, kind: string }[], nameTerms: number[][],
   *   everyday: Map<number, number[]>, fillers: Set<string>, sizes: any[], byLength: any, termOf: (word: string) => string,
   *   vehicles: Map<number, Set<number>>, fleetKeys: Map<string, number> }} Index */

  /** @param {any} data the value of sparesIndex @returns {Index} */
  function prepare(data) {
    const language = data.language;
    /** @type {Map<string, string>} */
    const known = new Map();
    const forms = new Map(Object.entries(language.forms || {}).map(([form, word]) => [fold(form), fold(String(word))]));
    const termOf = (/** @type {string} */ word) => {
      let term = known.get(word);
      if (term === undefined) {
        const folded = fold(word);
        term = stem(forms.get(folded) || folded, language.endings);
        known.set(word, term);
      }
      return term;
    };
    const fillers = new Set(language.fillers.map(fold));
    /** @type {Index} */
    const index = {
      records: data.records, language, fleets: data.fleets, terms: [], ids: new Map(), surfaces: [], surfaceIds: [], masks: new Int32Array(0), postings: [],
      spellings: new Map(), joined: new Map(), joinedList: [], joinedMasks: new Int32Array(0), joinedAt: [], numbers: [],
      nameTerms: [], everyday: new Map(), fillers, sizes: [], byLength: null, termOf, vehicles: new Map(), fleetKeys: new Map(),
    };
    const groups = synonymGroups(data.synonyms, index);
    data.records.forEach((/** @type {any} */ record, /** @type {number} */ at) => addRecord(index, record, at, groups, data));
    for (const [form, meant] of Object.entries(data.spellings)) {
      index.spellings.set(pieces(fold(form)).join(""), pieces(String(meant)).map(termOf));
    }
    addEveryday(index);
    addSurfaces(index, known);
    index.masks = Int32Array.from(index.surfaces, letterMask);
    index.joinedList = [...index.joined.keys()];
    index.joinedAt = [...index.joined.values()];
    index.joinedMasks = Int32Array.from(index.joinedList, letterMask);
    data.fleets.forEach((/** @type {any} */ fleet, /** @type {number} */ at) => index.fleetKeys.set(pieces(fold(fleet.id)).join(""), at));
    return index;
  }

  /** Every written form of every term: slips are looked for in what people write, endings and all.
   * @param {Index} index @param {Map<string, string>} known */
  function addSurfaces(index, known) {
    const seen = new Map();
    index.terms.forEach((term, id) => seen.set(term, id));
    for (const [word, term] of known) if (!seen.has(fold(word))) seen.set(fold(word), index.ids.get(term));
    for (const [surface, id] of seen) {
      if (id === undefined || surface.length < 3) continue;
      index.surfaces.push(surface);
      index.surfaceIds.push(id);
    }
  }

  /** @param {Index} index @param {string} term @returns {number} */
  function idOf(index, term) {
    let id = index.ids.get(term);
    if (id === undefined) {
      id = index.terms.length;
      index.ids.set(term, id);
      index.terms.push(term);
      index.postings.push({ at: [], weight: [] });
    }
    return id;
  }

  /** Each member of each group as its terms. @param {string[][]} synonyms @param {Index} index */
  function synonymGroups(synonyms, index) {
    const groups = synonyms.map((group) => group.map((member) => pieces(member).map((word) => idOf(index, index.termOf(word)))));
    /** @type {Map<number, { group: number, member: number }[]>} */
    const byFirst = new Map();
    groups.forEach((members, group) => members.forEach((terms, member) => {
      if (!terms.length) return;
      const list = byFirst.get(terms[0]) || [];
      list.push({ group, member });
      byFirst.set(terms[0], list);
    }));
    const singles = groups.flatMap((members, group) => members
      .filter((terms) => terms.length === 1 && index.terms[terms[0]].length >= 4)
      .map((terms) => ({ text: index.terms[terms[0]], group })));
    return { groups, byFirst, singles, endings: new Map() };
  }

  /** @param {Index} index @param {any} record @param {number} at @param {any} groups @param {any} data */
  function addRecord(index, record, at, groups, data) {
    /** @type {Map<number, number>} */
    const weights = new Map();
    const put = (/** @type {number} */ id, /** @type {number} */ weight) => {
      if ((weights.get(id) || 0) < weight) weights.set(id, weight);
    };
    for (const [field, phrase] of phrases(record, data)) {
      const weight = FIELDS[/** @type {keyof typeof FIELDS} */ (field)];
      const terms = pieces(phrase).filter((word) => !index.fillers.has(fold(word)) || field === "name").map((word) => idOf(index, index.termOf(word)));
      for (const id of terms) put(id, weight);
      if (field === "name" || field === "other_names") addJoined(index, terms);
      if (SYNONYM_FIELDS.includes(field)) {
        addSynonyms(terms, weight, groups, put);
        addSynonymsOfEndings(index, terms, weight, groups, put);
      }
      if (field === "name") index.nameTerms[at] = [...new Set(terms)];
    }
    for (const [id, weight] of weights) {
      index.postings[id].at.push(at);
      index.postings[id].weight.push(weight);
    }
    addNumbers(index, record, at);
    index.sizes[at] = sizesOf(record);
    addVehicles(index, record, at, data);
  }

  /** Every text of a record with the field it stands in. @param {any} record @param {any} data @returns {[string, string][]} */
  function phrases(record, data) {
    /** @type {[string, string][]} */
    const found = [["name", record.name]];
    for (const text of record.other_names || []) found.push(["other_names", text]);
    for (const text of record.symptoms || []) found.push(["symptoms", text]);
    if (record.purpose) found.push(["purpose", record.purpose]);
    if (record.assembly) found.push(["assembly", record.assembly.name]);
    for (const check of record.checks || []) found.push(["checks", check.name]);
    if (record.what_changed) found.push(["what_changed", record.what_changed]);
    if (record.material) found.push(["material", record.material]);
    for (const ground of record.grounds || []) {
      if (data.places[ground[PLACE]]) found.push(["place", data.places[ground[PLACE]]]);
      if (data.fleets[ground[FLEET]]) found.push(["fleet", data.fleets[ground[FLEET]].name]);
    }
    return found;
  }

  /** Neighbouring words as one: "windowlatch", "latchknob", "windowlatchknob". @param {Index} index @param {number[]} terms */
  function addJoined(index, terms) {
    for (let from = 0; from < terms.length; from += 1) {
      let text = index.terms[terms[from]];
      for (let to = from + 1; to < Math.min(terms.length, from + 4); to += 1) {
        text += index.terms[terms[to]];
        if (!index.joined.has(text)) index.joined.set(text, terms.slice(from, to + 1));
      }
    }
  }

  /** @param {number[]} terms @param {number} weight @param {any} groups @param {(id: number, weight: number) => void} put */
  function addSynonyms(terms, weight, groups, put) {
    terms.forEach((first, from) => {
      for (const { group, member } of groups.byFirst.get(first) || []) {
        const phrase = groups.groups[group][member];
        if (!phrase.every((/** @type {number} */ id, /** @type {number} */ step) => terms[from + step] === id)) continue;
        putGroup(groups.groups[group], weight, put);
      }
    });
  }

  /** @param {number[][]} group @param {number} weight @param {(id: number, weight: number) => void} put */
  function putGroup(group, weight, put) {
    for (const member of group) {
      for (const id of member) put(id, weight * (member.length === 1 ? SYNONYM : SYNONYM_PHRASE));
    }
  }

  /** A compound that ends in a word with synonyms has them too: "sitzschienenstopfen" is also some "verschluss".
   * @param {Index} index @param {number[]} terms @param {number} weight @param {any} groups
   * @param {(id: number, weight: number) => void} put */
  function addSynonymsOfEndings(index, terms, weight, groups, put) {
    for (const id of terms) {
      const text = index.terms[id];
      if (text.length < 8) continue;
      let known = groups.endings.get(id);
      if (!known) {
        known = groups.singles.filter((/** @type {any} */ each) => text.length - each.text.length >= 3 && text.endsWith(each.text))
          .map((/** @type {any} */ each) => each.group);
        groups.endings.set(id, known);
      }
      for (const group of known) putGroup(groups.groups[group], weight * ENDING, put);
    }
  }

  /** @param {Index} index */
  function addEveryday(index) {
    for (const group of index.language.everyday || []) {
      const ids = group.map((/** @type {string} */ word) => idOf(index, index.termOf(word)));
      for (const id of ids) index.everyday.set(id, [...(index.everyday.get(id) || []), ...ids.filter((/** @type {number} */ other) => other !== id)]);
    }
  }

  /** @param {Index} index @param {any} record @param {number} at */
  function addNumbers(index, record, at) {
    const add = (/** @type {string} */ text, /** @type {string} */ kind) =>
      index.numbers.push({ key: numberKey(text), short: shortNumberKey(text), at, text, kind });
    add(record.number, "own");
    for (const old of record.replaces || []) add(old.number, old.kind);
    if (record.assembly && record.assembly.number) add(record.assembly.number, "assembly");
  }

  /** What a caliper may find: the oriented box, the box as modelled, and the checked dimensions.
   * @param {any} record */
  function sizesOf(record) {
    const box = record.box_mm || [];
    const modelled = record.size_mm || [];
    const checks = (record.checks || []).map((/** @type {any} */ check) => ({ mm: check.mm, round: check.round, what: check.name }));
    return { box, modelled, checks };
  }

  /** @param {Index} index @param {any} record @param {number} at @param {any} data */
  function addVehicles(index, record, at, data) {
    for (const ground of record.grounds || []) {
      const fleet = data.fleets[ground[FLEET]] || { vehicles: [] };
      const ranges = ground[VEHICLES].length ? ground[VEHICLES] : fleet.vehicles;
      for (const range of ranges) {
        const [first, last] = String(range).split("-").map(Number);
        for (let number = first; number <= (last || first); number += 1) {
          if (!index.vehicles.has(number)) index.vehicles.set(number, new Set());
          /** @type {Set<number>} */ (index.vehicles.get(number)).add(at);
        }
      }
    }
  }

  root.spares = Object.assign(root.spares || {}, { prepare, phrases });
})(/** @type {any} */ (globalThis));
