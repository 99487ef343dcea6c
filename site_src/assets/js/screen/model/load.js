// Reads the model of a part when it is asked for. It judges nothing, so a model that is not there leaves the verdicts as they are;
// one that is not this page's own is refused by its mark.
(function () {
  "use strict";

  const { readBeside } = spares.screen;

  /** @param {string} path @param {string} mark @returns {Promise<{ model: TurnModel, rounds: ModelRound[] }>}
   * rejects with an Error whose message is the key of its words: lacks, other, old_browser, broken */
  async function readModel(path, mark) {
    const script = await readBeside(path, taken);
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

  /** What the script gave, which is not held twice. */
  function taken() {
    const given = globalThis.sparesModel;
    globalThis.sparesModel = undefined;
    return given;
  }

  spares.screen = { ...spares.screen, readModel };
})();
