(function () {
  "use strict";
  var light = { ink: "#1b1b19", rule: "#d5d5cf" }, dark = { ink: "#e6e6e1", rule: "#3c3f42" };
  var darkness = window.matchMedia("(prefers-color-scheme: dark)");
  function put(figure, path, value) {
    var parts = path.split("."), at = figure;
    for (var i = 0; i < parts.length - 1; i++) at = at[parts[i]] = at[parts[i]] || {};
    at[parts[parts.length - 1]] = value;
  }
  function replace(figure, entries) { Object.keys(entries).forEach(function (path) { put(figure, path, entries[path]); }); }
  function draw(tone, paper) {
    document.querySelectorAll("script[data-figure]").forEach(function (script) {
      var figure = JSON.parse(script.textContent), element = document.getElementById(script.dataset.figure);
      if (element.clientWidth < 520) replace(figure, figure.narrow);
      if (tone === dark) replace(figure, figure.dark);
      var height = Number(element.dataset.height);
      if (paper) { put(figure, "layout.font.size", 11); height = Math.round(height * (height > 300 ? 0.66 : 0.8)); }
      element.style.height = height + "px";
      put(figure, "layout.height", height);
      put(figure, "layout.font.color", tone.ink);
      ["xaxis", "yaxis"].forEach(function (axis) {
        put(figure, "layout." + axis + ".gridcolor", tone.rule);
        put(figure, "layout." + axis + ".zerolinecolor", tone.rule);
      });
      Plotly.react(element, figure.data, figure.layout, { staticPlot: true, responsive: true });
    });
  }
  function now() { draw(darkness.matches ? dark : light); }
  now();
  darkness.addEventListener("change", now);
  window.addEventListener("beforeprint", function () { draw(light, true); });
  window.addEventListener("afterprint", now);
})();
