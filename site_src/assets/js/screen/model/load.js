// Reads the model of a part when it is asked for. It judges nothing, so a model that is not there leaves the verdicts as they are;
// one that is not this page's own is refused by its mark.
(function () {
  "use strict";

  const { base } = spares.screen;

  /** @param {string} path @param {string} mark @returns {Promise<{ model: TurnModel, rounds: ModelRound[] }>}
   * rejects with an Error whose message is the key of its words: lacks, other, old_browser, broken */
  async function readModel(path, mark) {
    const script = await scriptOf(path);
    if (script.mark !== mark || typeof script.packed !== "string") throw new Error("other");
    if (typeof DecompressionStream === "undefined") throw new Error("old_browser");
    try {
      const packed = Uint8Array.from(atob(script.packed), (sign) => sign.charCodeAt(0));
      const plain = new Blob([packed]).stream().pipeThrough(new DecompressionStream("deflate"));
      const bytes = new Uint8Array(await new Response(plain).arrayBuffer());
      return { model: spares.model.unpackedModel(bytes), rounds: script.rounds };
    } catch (reason) {
      console.error("spares: the model cannot be read.", reason);
      throw new Error("broken");
    }
  }

  /** @param {string} path @returns {Promise<ModelScript>} */
  function scriptOf(path) {
    return new Promise((resolve, reject) => {
      const script = document.createElement("script");
      globalThis.sparesModel = undefined;
      script.onload = () => {
        const given = globalThis.sparesModel;
        globalThis.sparesModel = undefined; // not held twice
        script.remove();
        if (given) resolve(given);
        else reject(new Error("broken"));
      };
      script.onerror = () => { script.remove(); reject(new Error("lacks")); };
      script.src = new URL(path, base).href;
      document.head.append(script);
    });
  }

  spares.screen = { ...spares.screen, readModel };
})();
