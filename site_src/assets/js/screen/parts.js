// What is known of all parts, and the finder over it: both are read once, and only when somebody wants them.
(function () {
  "use strict";

  /** @type {Promise<FinderData> | null} */
  let reading = null;
  /** @type {Promise<Catalogue> | null} */
  let loading = null;

  /** The records of all parts.
   * @returns {Promise<FinderData>} */
  function partsData() {
    reading = reading || spares.screen.readLate("assets/data/finder.js", () => globalThis.sparesIndex).then((data) => {
      spares.screen.keepEndedIn(data);
      return data;
    });
    return reading;
  }

  /** The finder's own scripts; the page for a new request comes with them.
   * @returns {Promise<FinderRoom>} */
  async function finderScripts() {
    return spares.finder || spares.screen.readLate("assets/js/finder.js", () => spares.finder);
  }

  /** The records with their index.
   * @returns {Promise<Catalogue>} */
  function catalogue() {
    loading = loading || Promise.all([partsData(), finderScripts()]).then(([data, finder]) => ({ data, index: finder.prepare(data) }));
    return loading;
  }

  spares.screen = { ...spares.screen, partsData, catalogue };
})();
