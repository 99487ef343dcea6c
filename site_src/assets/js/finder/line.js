// A typed text without what no record may hold. Pure.
(function () {
  "use strict";

  // Controls, and signs that turn the reading direction round unseen.
  const UNSEEN = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff\ufffe\uffff]/g;
  const LONE_HALF = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

  /** @param {string} text */
  const several = (text) => String(text || "").replace(/\r\n?/g, "\n").replace(UNSEEN, "").replace(LONE_HALF, "").trim();

  /** One line of it.
   * @param {string} text */
  const line = (text) => several(text).replace(/\s+/g, " ").trim();

  spares.finder = { ...spares.finder, line, several };
})();
