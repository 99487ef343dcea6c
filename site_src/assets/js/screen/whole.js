// The last script of every page: where it runs, the page before it is whole.
(function () {
  "use strict";

  spares.screen.pageEnded();
})();
