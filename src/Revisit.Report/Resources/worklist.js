(function () {
  "use strict";
  var table = document.getElementById("worklist"), body = table.tBodies[0], rows = Array.from(body.rows);
  var heads = Array.from(table.tHead.rows[0].cells), box = document.getElementById("filter"), shown = document.getElementById("shown");
  var all = document.getElementById("all"), most = Number(table.dataset.most), words = null, found = Number(table.dataset.all);
  function count() {
    var n = table.classList.contains("short") ? Math.min(found, most) : found;
    shown.textContent = shown.dataset.template.replace("{n}", n).replace("{all}", table.dataset.all);
    all.hidden = n === found;
  }
  // The rows a long list leaves out at first are put in when something asks for them.
  function whole() {
    var rest = document.getElementById("rest");
    if (!rest) return;
    body.appendChild(rest.content);
    rest.remove();
    rows = Array.from(body.rows);
  }
  function value(row, column) {
    var cell = row.cells[column];
    if (cell.dataset.value === undefined) return cell.textContent.trim().toLowerCase();
    return cell.dataset.value === "" ? null : Number(cell.dataset.value);
  }
  heads.forEach(function (head, column) {
    var button = head.querySelector("button");
    if (button) button.addEventListener("click", function () {
      var down = head.getAttribute("aria-sort") === "ascending";
      whole();
      heads.forEach(function (other) { if (other.querySelector("button")) other.setAttribute("aria-sort", "none"); });
      head.setAttribute("aria-sort", down ? "descending" : "ascending");
      rows.map(function (row, i) { return { row: row, i: i, v: value(row, column) }; }).sort(function (a, b) {
        if (a.v === b.v) return a.i - b.i;
        if (a.v === null) return 1;
        if (b.v === null) return -1;
        var order = typeof a.v === "number" ? a.v - b.v : a.v < b.v ? -1 : 1;
        return down ? -order : order;
      }).forEach(function (entry) { body.appendChild(entry.row); });
    });
  });
  box.addEventListener("input", function () {
    whole();
    var wanted = box.value.trim().toLowerCase();
    words = words || rows.map(function (row) { return row.textContent.toLowerCase(); });
    found = 0;
    rows.forEach(function (row, i) {
      row.hidden = wanted !== "" && words[i].indexOf(wanted) < 0;
      if (!row.hidden) found++;
    });
    count();
  });
  all.addEventListener("click", function () {
    whole();
    table.classList.remove("short");
    count();
    box.focus();
  });
  // A printed list goes to the job: its checks and cautions must be on the paper.
  var folded = [];
  window.addEventListener("beforeprint", function () {
    whole();
    folded = Array.from(document.querySelectorAll("main details:not([open])"));
    folded.forEach(function (part) { part.open = true; });
  });
  window.addEventListener("afterprint", function () { folded.forEach(function (part) { part.open = false; }); });
  box.closest("p").hidden = false;
  count();
})();
