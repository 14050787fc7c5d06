// Ticked boxes are kept by the browser, where it lets pages keep anything. Nothing else here needs a script.
(function () {
  "use strict";
  var kept = null;
  try {
    kept = window.localStorage;
    kept.getItem("ellwand");
  } catch (refused) {
    kept = null;
  }
  function name(box) { return "ellwand cut: " + box.dataset.key; }
  function keep(box) {
    try {
      if (!kept) return;
      if (box.checked) kept.setItem(name(box), "1"); else kept.removeItem(name(box));
    } catch (full) { /* The tick still shows until the page is closed. */ }
  }
  document.querySelectorAll("[data-list]").forEach(function (list) {
    var boxes = Array.from(list.querySelectorAll("input[type=checkbox]"));
    var clear = list.querySelector(".clear");
    var status = clear.querySelector("[role=status]");
    function count() {
      var done = boxes.filter(function (box) { return box.checked; }).length;
      status.textContent = done + " of " + boxes.length + " ticked";
    }
    boxes.forEach(function (box) {
      if (kept) box.checked = kept.getItem(name(box)) === "1";
      box.addEventListener("change", function () { keep(box); count(); });
    });
    clear.querySelector("button").addEventListener("click", function () {
      boxes.forEach(function (box) { box.checked = false; keep(box); });
      count();
    });
    clear.hidden = false;
    count();
  });
})();
