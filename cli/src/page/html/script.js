"use strict";
// Sorting: a button in each heading of a table with more than two rows.
for (const table of document.querySelectorAll("table")) {
  const body = table.tBodies[0];
  if (body.rows.length < 3) continue;
  for (const head of table.tHead.rows[0].cells) {
    if (!head.textContent.trim()) continue;
    const button = document.createElement("button");
    button.type = "button";
    button.append(...head.childNodes);
    head.append(button);
    button.addEventListener("click", () => sort(table, body, head));
  }
}
function sort(table, body, head) {
  const falling = head.getAttribute("aria-sort") === "ascending";
  for (const other of table.tHead.rows[0].cells) other.removeAttribute("aria-sort");
  head.setAttribute("aria-sort", falling ? "descending" : "ascending");
  const german = document.documentElement.lang === "de";
  const key = (row) => {
    const words = row.cells[head.cellIndex].textContent.trim();
    const number = /^-?\d+([.,]\d+)?(?=\s|$)/.exec(words);
    return [number ? Number(german ? number[0].replace(",", ".") : number[0]) : NaN, words];
  };
  const rows = [...body.rows].map((row) => [key(row), row]);
  rows.sort(([[a, x]], [[b, y]]) => {
    const order = Number.isNaN(a) || Number.isNaN(b) ? x.localeCompare(y, undefined, { numeric: true }) : a - b;
    return falling ? -order : order;
  });
  body.append(...rows.map(([, row]) => row));
}
// From any number to its working, and from there back to the same number.
document.addEventListener("click", (event) => {
  const link = event.target.closest("a[href^='#working-']");
  if (!link) return;
  const working = document.getElementById(link.hash.slice(1));
  if (!working || !working.hash || working === link) return;
  if (!link.id) link.id = "from-" + Math.random().toString(36).slice(2);
  working.setAttribute("href", "#" + link.id);
});
