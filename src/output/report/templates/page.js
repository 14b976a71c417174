// Folding and filtering of the checks. Without script every check can still be opened by itself.
(() => {
  "use strict";
  const checks = [...document.querySelectorAll(".check")];
  const all = (open) => () => checks.forEach((c) => { c.open = open; });
  document.getElementById("unfold").addEventListener("click", all(true));
  document.getElementById("fold").addEventListener("click", all(false));
  const when = document.getElementById("when");
  when.addEventListener("change", () => checks.forEach((c) => {
    c.hidden = when.value !== "all" && c.dataset.when !== when.value;
  }));
})();
