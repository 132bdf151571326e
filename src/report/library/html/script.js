"use strict";
// Sorting and filtering of the tables. Everything that is read stands in the page without this.
(() => {
  const FEW = 12;
  const value = (row, nth) => {
    const cell = row.cells[nth];
    return cell.dataset.v === undefined ? cell.textContent.trim().toLowerCase() : Number(cell.dataset.v);
  };
  const order = (a, b) => (typeof a === "number" ? a - b : a.localeCompare(b, "en", { numeric: true }));

  const sort = (table, head, nth) => {
    const was = head.getAttribute("aria-sort");
    // Numbers are looked at from the greatest down.
    const down = was ? was === "ascending" : head.classList.contains("n");
    for (const other of table.tHead.rows[0].cells) other.removeAttribute("aria-sort");
    head.setAttribute("aria-sort", down ? "descending" : "ascending");
    const rows = [...table.tBodies[0].rows].map((row) => ({ row, key: value(row, nth) }));
    rows.sort((a, b) => (down ? order(b.key, a.key) : order(a.key, b.key)));
    table.tBodies[0].append(...rows.map((one) => one.row));
  };

  const filter = (table) => {
    const rows = [...table.tBodies[0].rows];
    const box = document.createElement("p");
    box.className = "filter";
    const label = document.createElement("label");
    const input = document.createElement("input");
    const count = document.createElement("output");
    input.type = "search";
    input.autocomplete = "off";
    label.append("Filter these rows ", input);
    box.append(label, count);
    table.closest(".wide").before(box);
    input.addEventListener("input", () => {
      const words = input.value.toLowerCase().split(" ").filter(Boolean);
      let shown = 0;
      for (const row of rows) {
        const text = row.textContent.toLowerCase();
        row.hidden = !words.every((word) => text.includes(word));
        if (!row.hidden) shown += 1;
      }
      count.textContent = words.length ? shown + " of " + rows.length + " rows" : "";
    });
  };

  for (const table of document.querySelectorAll("table.sorts")) {
    [...table.tHead.rows[0].cells].forEach((head, nth) => {
      if (!head.textContent) return;
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = head.textContent;
      head.replaceChildren(button);
      button.addEventListener("click", () => sort(table, head, nth));
    });
    if (table.tBodies[0].rows.length > FEW) filter(table);
  }
})();
