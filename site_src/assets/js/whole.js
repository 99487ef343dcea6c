// The last script of every page: where it runs, the page before it is whole.
(function (root) {
  "use strict";

  root.spares.pageEnded();
})(/** @type {any} */ (globalThis));
