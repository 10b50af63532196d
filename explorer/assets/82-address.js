/* The address keeps what is chosen, so that the page can be handed on. */
(function () {
  "use strict";

  const stillbar = window.stillbar,
    REST = 250;

  /* Written once the hand rests: a browser does more than one would think whenever its address changes.
     `gather` puts what the page keeps into the query; whoever cannot wait calls what comes back. */
  stillbar.keepAddress = function (gather) {
    let writing = 0;

    function write() {
      const query = new URLSearchParams();
      gather(query);
      window.history.replaceState(null, "", "?" + query.toString().replace(/%20/g, "+"));
    }

    stillbar.tellAddress = function () {
      clearTimeout(writing);
      writing = setTimeout(write, REST);
    };
    return write;
  };

  stillbar.keepStudy = function (query) {
    if (stillbar.bundled) query.set("study", stillbar.bundled);
  };

  stillbar.keepUnits = function (query) {
    const { state, study } = stillbar.stage;
    if (state.units && state.units !== study.units) query.set("units", state.units);
  };
})();
