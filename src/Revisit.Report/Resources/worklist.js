(function () {
  "use strict";
  var table = document.getElementById("worklist"), body = table.tBodies[0], rows = Array.from(body.rows);
  var heads = Array.from(table.tHead.rows[0].cells), box = document.getElementById("filter"), shown = document.getElementById("shown");
  var words = rows.map(function (row) { return row.textContent.toLowerCase(); });
  function count(n) { shown.textContent = shown.dataset.template.replace("{n}", n).replace("{all}", rows.length); }
  function value(row, column) {
    var cell = row.cells[column];
    if (cell.dataset.value === undefined) return cell.textContent.trim().toLowerCase();
    return cell.dataset.value === "" ? null : Number(cell.dataset.value);
  }
  heads.forEach(function (head, column) {
    var button = head.querySelector("button");
    if (button) button.addEventListener("click", function () {
      var down = head.getAttribute("aria-sort") === "ascending";
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
    var wanted = box.value.trim().toLowerCase(), n = 0;
    rows.forEach(function (row, i) {
      row.hidden = wanted !== "" && words[i].indexOf(wanted) < 0;
      if (!row.hidden) n++;
    });
    count(n);
  });
  // A printed list goes to the job: its checks and cautions must be on the paper.
  var folded = [];
  window.addEventListener("beforeprint", function () {
    folded = Array.from(table.querySelectorAll("details:not([open])"));
    folded.forEach(function (part) { part.open = true; });
  });
  window.addEventListener("afterprint", function () { folded.forEach(function (part) { part.open = false; }); });
  box.closest("p").hidden = false;
  count(rows.length);
})();
