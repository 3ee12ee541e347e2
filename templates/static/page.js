"use strict";
// Tables can be sorted by any column. Without this script they stand in the order of the plan.

function value(row, column) {
  const text = row.cells[column].textContent.trim();
  const number = Number(text.replace(/[,\s]|[^\d.]+$/g, ""));
  if (text !== "" && !Number.isNaN(number)) return number;
  const day = Date.parse(text.replace(/^[A-Z][a-z]{2} (?=\d)/, ""));
  return /\d{4}$/.test(text) && !Number.isNaN(day) ? day : text.toLocaleLowerCase();
}

function compare(one, other) {
  if (typeof one === typeof other && typeof one === "number") return one - other;
  return String(one).localeCompare(String(other));
}

function sort(table, column, heading) {
  const down = heading.getAttribute("aria-sort") === "ascending";
  for (const each of heading.parentElement.cells) each.removeAttribute("aria-sort");
  heading.setAttribute("aria-sort", down ? "descending" : "ascending");
  const body = table.tBodies[0];
  const rows = [...body.rows].sort((a, b) => compare(value(a, column), value(b, column)) * (down ? -1 : 1));
  body.append(...rows);
}

for (const table of document.querySelectorAll(".scroll table")) {
  if (table.tBodies[0].rows.length < 3 || table.tHead.querySelector("a")) continue; // a long table's headings are links
  [...table.tHead.rows[0].cells].forEach((heading, column) => {
    const button = document.createElement("button");
    button.type = "button";
    button.append(...heading.childNodes);
    button.addEventListener("click", () => sort(table, column, heading));
    heading.append(button);
  });
}
