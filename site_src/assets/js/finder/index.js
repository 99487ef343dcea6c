// What can be asked about each part? Turns the records of assets/data/finder.js into an index for rank.js. Pure.
//
// A field of a record that is not told of here is an error: it would never be found.
(function () {
  "use strict";

  const { fold, pieces, stemmer, numberKey, shortNumberKey, letterMask, numberTable, sizeTable, blobOf, phraseReader, featuresOf, modelSizes, countedIn, heard, measures, lexicons } = spares.finder;

  /** What is known so far of the terms of one record, by term.
   * @typedef {{ weight: Float32Array, says: Uint8Array, touched: number[] }} Scratch */

  /** Where words are looked for. `weight`: how much a word counts there; one that stands in several places counts by the
   * best. `named`: it says what the part is called. `which`: it says which part it is; the others tell about it. `own`: it tells of
   * the part itself, not of its faults, its neighbours or its past. `widened`: the depot's synonyms count, too. Places and fleets stand in a record's grounds.
   * @type {Record<string, Field>} */
  const FIELDS = {
    name: { weight: 1, own: true, named: true, which: true, widened: true, texts: (record) => [record.name] },
    other_names: { weight: 0.94, own: true, named: true, which: true, widened: true, texts: (record) => record.other_names },
    symptoms: { weight: 0.78, widened: true, texts: (record) => record.symptoms },
    purpose: { weight: 0.7, own: true, widened: true, texts: (record) => [record.purpose] },
    assembly: { weight: 0.74, which: true, widened: true, texts: (record) => [record.assembly?.name] },
    checks: { weight: 0.48, own: true, texts: (record) => record.checks?.map((check) => check.name) },
    what_changed: { weight: 0.4, texts: (record) => [record.what_changed] },
    material: { weight: 0.5, own: true, texts: (record) => [record.material] },
    features: { weight: 0.48, own: true, texts: (record) => record.features?.map((feature) => feature.name) },
    looks: { weight: 0.6, own: true, texts: (record) => record.looks },
  };
  /** @type {Record<string, Field>} */
  const OF_GROUNDS = { place: { weight: 0.7, which: true, widened: true }, fleet: { weight: 0.35 } };
  /** Fields that are found otherwise, as numbers, sizes and vehicles, or only shown. */
  const WITHOUT_WORDS = ["kind", "number", "page", "thumb", "grounds", "over", "box_mm", "size_mm", "by_hand", "replaces", "on_shelf", "other_hand", "worked_on", "modelled", "batches", "sitting", "revision"];
  /** What a word says of a part where it stands, as bits; SAYS_MORE: it stands elsewhere than in how the part looks;
   * SAYS_LIKE: it is an everyday word for what says the kind; SAYS_OWN: it tells of the part itself;
   * SAYS_SO: it is at least an everyday word for what stands there, and no guess. */
  const [SAYS_WHICH, SAYS_KIND, SAYS_MORE, SAYS_LIKE, SAYS_OWN, SAYS_SO] = [1, 2, 4, 8, 16, 32];
  /** What is worth less is a word out of a longer synonym: no kind of thing. */
  const WHOLE_SYNONYM = 0.78;
  /** What comes after one of these is no longer the thing itself: "knob for the window". */
  const AFTER_THE_THING = /[,(]/;
  /** Where things stand in a ground, see generator/pages/finder/index.py. */
  const [FLEET, PLACE, VEHICLES] = /** @type {const} */ ([0, 1, 2]);

  /** @param {FinderData} data the value of sparesIndex @returns {Index} */
  function prepare(data) {
    /** @type {Map<string, string>} */
    const known = new Map();
    const index = blank(data, known);
    const read = phraseReader(index, data.synonyms);
    index.hands = new Set(data.language.hands.map((word) => index.idOf(index.termOf(word))));
    addEveryday(index);
    /** @type {Scratch} */
    const scratch = { weight: new Float32Array(1024), says: new Uint8Array(1024), touched: [] };
    data.records.forEach((record, at) => {
      refuseUnknownFields(record);
      addWords(index, record, at, data, read, scratch);
      addNumbers(index, record, at);
      addVehicles(index, record, at, data);
      const features = record.kind === "request" ? wished(record, index.language) : featuresOf(record);
      index.sizes.push(sizesOf(record, record.kind === "request" ? features : []));
      index.features.push(features);
      index.modelled.push(modelSizes(record));
      index.handed.push(record.other_hand || "");
      index.counted.push(countedIn(index, record.looks || []));
    });
    for (const [form, meant] of Object.entries(data.spellings)) {
      index.spellings.set(pieces(fold(form)).join(""), pieces(String(meant)).map(index.termOf));
    }
    index.faults = new Set(data.language.faults.map(index.termOf));
    addSurfaces(index, known);
    return Object.assign(index, {
      sizeTable: sizeTable(index.sizes),
      numberTable: numberTable(index.numbers),
      termBlob: blobOf(index.terms),
      order: orderOf(data.records),
      masks: Int32Array.from(index.surfaces, letterMask),
      joinedList: [...index.joined.keys()],
      joinedAt: [...index.joined.values()],
      joinedMasks: Int32Array.from([...index.joined.keys()], letterMask),
    });
  }

  /** @param {PartRecord} record */
  function refuseUnknownFields(record) {
    const unknown = Object.keys(record).filter((field) => !FIELDS[field] && !WITHOUT_WORDS.includes(field));
    if (unknown.length) throw new Error(`the finder does not know the field ${unknown.join()}: give it its weight in FIELDS of site_src/assets/js/finder/index.js, or name it in WITHOUT_WORDS there`);
  }

  /** An index of nothing.
   * @param {FinderData} data @param {Map<string, string>} known term of each word met so far @returns {Index} */
  function blank(data, known) {
    const language = data.language;
    const forms = new Map(Object.entries(language.forms || {}).map(([form, word]) => [fold(form), fold(String(word))]));
    const stem = stemmer(language);
    const index = /** @type {Index} */ (/** @type {unknown} */ ({
      records: data.records, language, fleets: data.fleets, things: data.things, terms: [], ids: new Map(), postings: [], surfaces: [], surfaceIds: [],
      joined: new Map(), spellings: new Map(), everyday: new Map(), numbers: [], sizes: [], nameTerms: [], symptoms: [], vehicles: new Map(), features: [], modelled: [], handed: [], counted: [], ownWords: [], kinds: new Set(), fits: data.fits, floor: lexicons(data.floor),
      numberOf: new Map(data.records.map((record, at) => [record.number, at])), ownNames: [], goesIn: new Set(), hands: new Set(),
      fillers: new Set([...language.fillers, ...howMany(language)].map(fold)), placeOnly: new Map(),
      fleetKeys: new Map(data.fleets.map((fleet, at) => [pieces(fold(fleet.id)).join(""), at])),
    }));
    index.termOf = (word) => {
      let term = known.get(word);
      if (term === undefined) {
        const folded = fold(word);
        term = stem(forms.get(folded) || folded);
        known.set(word, term);
      }
      return term;
    };
    index.goesIn = new Set(language.goes_in.map(index.termOf));
    index.idOf = (term) => {
      let id = index.ids.get(term);
      if (id === undefined) {
        id = index.terms.length;
        index.ids.set(term, id);
        index.terms.push(term);
        index.postings.push({ at: [], weight: [], says: [] });
      }
      return id;
    };
    return index;
  }

  /** "two slots", "with three holes": how many says hardly which.
   * @param {Language} language */
  function howMany(language) {
    return Object.entries(language.spoken).filter(([, value]) => Number.isInteger(value)).map(([word]) => word);
  }

  /** @param {Index} index @param {PartRecord} record @param {number} at @param {FinderData} data @param {PhraseReader} read
   * @param {Scratch} scratch all 0, and left so */
  function addWords(index, record, at, data, read, scratch) {
    index.symptoms.push([]);
    index.ownWords.push(new Set());
    index.ownNames.push([]);
    for (const [field, text] of phrases(record, data)) {
      const { weight, named, own, which, widened } = FIELDS[field] || OF_GROUNDS[field];
      const phrase = read(text, field === "name", Boolean(widened));
      if (index.terms.length >= scratch.weight.length) {
        scratch.weight = longer(scratch.weight, index.terms.length);
        scratch.says = new Uint8Array(longer(scratch.says, index.terms.length));
      }
      for (let i = 0; i < phrase.ids.length; i += 1) {
        const id = phrase.ids[i];
        if (scratch.weight[id] === 0) scratch.touched.push(id);
        if (scratch.weight[id] < weight * phrase.factors[i]) scratch.weight[id] = weight * phrase.factors[i];
      }
      const bits = (which ? SAYS_WHICH : 0) | (field === "looks" ? 0 : SAYS_MORE) | (own ? SAYS_OWN : 0);
      const only = field === "place" ? phrase.terms : phrase.ids; // a synonym of a place names no part: "door handle"
      for (const id of phrase.ids) scratch.says[id] |= only.includes(id) ? bits : bits & ~SAYS_WHICH;
      if (named) {
        addJoined(index, phrase.terms);
        index.ownNames[at].push(phrase.ids.filter((_id, i) => phrase.factors[i] >= WHOLE_SYNONYM));
        for (const id of phrase.terms) index.ownWords[at].add(id);
        const kinds = read(thing(text, index.fillers), true, true);
        kinds.ids.forEach((id, i) => {
          if (kinds.factors[i] < WHOLE_SYNONYM) return;
          scratch.says[id] |= SAYS_KIND;
          index.kinds.add(id);
        });
      }
      if (field === "symptoms") index.symptoms[at].push(phrase);
      if (field === "name") index.nameTerms[at] = [...new Set(phrase.terms)];
    }
    addPlaces(index, record, at, data, read, scratch);
    for (const id of scratch.touched) {
      index.postings[id].at.push(at);
      index.postings[id].weight.push(scratch.weight[id]);
      index.postings[id].says.push(scratch.says[id]);
      scratch.weight[id] = scratch.says[id] = 0;
    }
    scratch.touched.length = 0;
  }

  /** The words that a record has from a place alone, with the fleets that have it there.
   * @param {Index} index @param {PartRecord} record @param {number} at @param {FinderData} data @param {PhraseReader} read @param {Scratch} scratch */
  function addPlaces(index, record, at, data, read, scratch) {
    for (const ground of record.grounds || []) {
      for (const id of data.places[ground[PLACE]] ? read(data.places[ground[PLACE]], false, Boolean(OF_GROUNDS.place.widened)).ids : []) {
        if (scratch.weight[id] > Math.fround(OF_GROUNDS.place.weight)) continue;
        const of = index.placeOnly.get(id) || new Map();
        index.placeOnly.set(id, of);
        of.set(at, (of.get(at) || new Set()).add(ground[FLEET]));
      }
    }
  }

  /** The word of a name that says what kind of thing it is: "knob" of "Heater knob with pointer".
   * @param {string} name @param {Set<string>} fillers */
  function thing(name, fillers) {
    const words = pieces(name.split(AFTER_THE_THING)[0]).filter((word) => !/^\d+$/.test(word));
    const end = words.findIndex((word, at) => at > 0 && fillers.has(fold(word)));
    return words[(end > 0 ? end : words.length) - 1] || "";
  }

  /** @param {Float32Array | Uint8Array} old @param {number} least @returns {Float32Array} */
  function longer(old, least) {
    const made = new Float32Array(2 * least + 1);
    made.set(old);
    return made;
  }

  /** Every text of a record with the field it stands in.
   * @param {PartRecord} record @param {FinderData} data @returns {[string, string][]} */
  function phrases(record, data) {
    /** @type {[string, string][]} */
    const found = [];
    for (const [field, { texts }] of Object.entries(FIELDS)) {
      for (const text of (texts && texts(record)) || []) if (typeof text === "string") found.push([field, text]);
    }
    for (const ground of record.grounds || []) {
      if (data.places[ground[PLACE]]) found.push(["place", data.places[ground[PLACE]]]);
      if (data.fleets[ground[FLEET]]) found.push(["fleet", data.fleets[ground[FLEET]].name]);
    }
    return found;
  }

  /** Neighbouring words as one: "windowlatch", "latchknob", "windowlatchknob".
   * @param {Index} index @param {number[]} terms */
  function addJoined(index, terms) {
    for (let from = 0; from < terms.length; from += 1) {
      let text = index.terms[terms[from]];
      for (let to = from + 1; to < Math.min(terms.length, from + 4); to += 1) {
        text += index.terms[terms[to]];
        if (!index.joined.has(text)) index.joined.set(text, terms.slice(from, to + 1));
      }
    }
  }

  /** @param {Index} index */
  function addEveryday(index) {
    for (const group of index.language.everyday || []) {
      const ids = group.map((word) => index.idOf(index.termOf(word)));
      for (const id of ids) {
        const others = ids.filter((other) => other !== id);
        index.everyday.set(id, [...(index.everyday.get(id) || []), ...others]);
      }
    }
  }

  /** Every written form of every term: slips are looked for in what people write, endings and all.
   * @param {Index} index @param {Map<string, string>} known */
  function addSurfaces(index, known) {
    /** @type {Map<string, number | undefined>} */
    const seen = new Map(index.terms.map((term, id) => [term, id]));
    for (const [word, term] of known) if (!seen.has(fold(word))) seen.set(fold(word), index.ids.get(term));
    for (const [surface, id] of seen) {
      if (id === undefined || surface.length < 3) continue;
      index.surfaces.push(surface);
      index.surfaceIds.push(id);
    }
  }

  /** @param {Index} index @param {PartRecord} record @param {number} at */
  function addNumbers(index, record, at) {
    const add = (/** @type {string} */ text, /** @type {string} */ kind) =>
      index.numbers.push({ key: numberKey(text), short: shortNumberKey(text), at, text, kind });
    add(record.number, "own");
    for (const old of record.replaces || []) add(old.number, old.kind);
    if (record.assembly && record.assembly.number) add(record.assembly.number, "assembly");
  }

  /** What a caliper may find: the oriented box, the box as modelled where it is another, and the checked dimensions.
   * @param {PartRecord} record @param {KnownFeature[]} wishes what a request asks for in its words */
  function sizesOf(record, wishes) {
    const box = record.box_mm || [];
    const sorted = (record.size_mm || []).slice().sort((a, b) => b - a);
    const isSame = box.length === sorted.length && sorted.every((mm, at) => Math.abs(mm - box[at]) < 0.005 * mm);
    const checks = [...(record.checks || []).map((check) => ({ mm: check.mm, round: check.round, what: check.name })), ...wishes.map(({ mm, what }) => ({ mm, round: false, what }))];
    return { box, modelled: isSame ? [] : sorted, checks };
  }

  /** The features that a request tells of in its words: "an eight-millimetre square".
   * @param {PartRecord} record @param {Language} language @returns {KnownFeature[]} */
  function wished(record, language) {
    const texts = [record.name, record.purpose || "", ...(record.other_names || [])];
    return texts.flatMap((text) => measures(heard(text, language), language).sizes)
      .filter((size) => size.kinds && size.values.length)
      .map((size) => ({ kind: size.thread ? "thread" : /** @type {string[]} */ (size.kinds)[0], mm: size.values[0], what: size.named || size.text, allowed: [0, 0], pitch: size.thread?.pitch || 0, side: "", isNamed: true }));
  }

  /** @param {Index} index @param {PartRecord} record @param {number} at @param {FinderData} data */
  function addVehicles(index, record, at, data) {
    for (const ground of record.grounds || []) {
      const fleet = data.fleets[ground[FLEET]] || { vehicles: [] };
      for (const range of ground[VEHICLES].length ? ground[VEHICLES] : fleet.vehicles) {
        let records = index.vehicles.get(range);
        if (!records) index.vehicles.set(range, (records = new Set()));
        records.add(at);
      }
    }
  }

  /** The records that fit a vehicle by its running number.
   * @param {Index} index @param {string} text as somebody types it @returns {Set<number>} */
  function ofVehicle(index, text) {
    /** @type {Set<number>} */
    const found = new Set();
    const vehicle = spares.vehicles.meantBy(text, index.fleets);
    if (!vehicle) return found;
    for (const [range, records] of index.vehicles) {
      if (spares.vehicles.isAmong([range], vehicle)) for (const at of records) found.add(at);
    }
    return found;
  }

  /** Place of each record in the order of their numbers.
   * @param {PartRecord[]} records */
  function orderOf(records) {
    const sorted = records.map((_record, at) => at).sort((a, b) => (records[a].number < records[b].number ? -1 : 1));
    const order = new Int32Array(records.length);
    sorted.forEach((at, place) => { order[at] = place; });
    return order;
  }

  spares.finder = { ...spares.finder, prepare, phrases, ofVehicle, SAYS_WHICH, SAYS_KIND, SAYS_MORE, SAYS_LIKE, SAYS_OWN, SAYS_SO };
})();
