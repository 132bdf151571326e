"use strict";
// Search, filters, order, and opening one drawing at a time. Everything that is read stands in the page without this.
(() => {
  const byId = (id) => document.getElementById(id);
  const body = document.body;
  const library = byId("library");
  const sheets = byId("sheets");
  const rows = [...byId("rows").rows];
  const apart = body.classList.contains("kept-apart");
  const title = document.title;
  const controls = byId("controls");
  // A table of many thousand rows is slow to lay out: only the first of what fits stand in it, more when asked for.
  const STEP = 500;
  let most = STEP;
  let facts = null;
  let kept = null;
  let opened = "";
  let leftAt = 0;

  // What is known of each row, found when it is first needed.
  const known = () => {
    facts = facts || rows.map((row, nth) => ({
      row, nth,
      text: (row.textContent + " " + row.dataset.rules).toLowerCase(),
      levels: row.dataset.levels.split(" "),
      verdicts: row.dataset.verdicts.split(" "),
      rules: row.dataset.rules.split(" "),
      order: row.dataset.order.split(" ").map(Number),
    }));
    return facts;
  };

  const worse = (a, b) => {
    for (let i = 0; i !== a.order.length; i += 1) {
      if (a.order[i] !== b.order[i]) return b.order[i] - a.order[i];
    }
    return a.nth - b.nth;
  };

  const arrange = () => {
    known().sort(byId("order").value === "path" ? (a, b) => a.nth - b.nth : worse);
    filter();
  };

  const filter = () => {
    const words = byId("search").value.toLowerCase().split(" ").filter(Boolean);
    const level = byId("level").value, verdict = byId("verdict").value, rule = byId("rule").value;
    let shown = 0;
    const visible = [];
    for (const fact of known()) {
      const fits = words.every((word) => fact.text.includes(word))
        && (!level || fact.levels.includes(level === "none" ? "" : level))
        && (!verdict || fact.verdicts.includes(verdict))
        && (!rule || fact.rules.includes(rule));
      if (fits) shown += 1;
      fact.fits = fits;
      if (fits && most >= shown) visible.push(fact.row);
    }
    byId("rows").replaceChildren(...visible);
    byId("count").textContent = shown + " of " + rows.length + " drawings";
    byId("more").hidden = shown <= most;
    byId("more").textContent = "Show " + Math.min(STEP, shown - most) + " more of " + (shown - most);
    byId("nothing").hidden = shown > 0;
  };

  // The kept sheet of a drawing, by its name within the page.
  const find = (key) => {
    if (!apart) return byId(key);
    if (!kept) {
      kept = new Map();
      for (const text of document.querySelectorAll("script.kept")) {
        kept.set(/ id="([^"]*)"/.exec(text.textContent.slice(0, 200))[1], text);
      }
    }
    const text = kept.get(key);
    if (!text) return null;
    if (!byId(key)) text.insertAdjacentHTML("beforebegin", text.textContent);
    return byId(key);
  };

  // Of an open drawing only its own rules are told below it.
  const tell = (fits) => {
    for (const rule of document.querySelectorAll(".rules div")) rule.hidden = !fits(rule);
  };

  const close = () => {
    const sheet = opened && byId(opened);
    if (!sheet) return;
    sheet.classList.remove("open");
    if (apart) sheet.remove();
    opened = "";
    body.classList.remove("one");
    tell(() => true);
    document.title = title;
  };

  const open = (key) => {
    if (opened === key) return byId(key);
    const sheet = find(key);
    if (!sheet) return null;
    if (!opened) leftAt = scrollY;
    close();
    opened = key;
    sheet.classList.add("open");
    body.classList.add("one");
    const row = rows.find((one) => one.querySelector("a").hash === "#" + key);
    const its = new Set(row ? row.dataset.rules.split(" ") : []);
    tell((rule) => its.has(rule.id.slice("rule-".length)));
    document.title = sheet.querySelector("h2").textContent;
    return sheet;
  };

  // The address says what is shown, so that links, back and forward are those of any page.
  const follow = () => {
    const id = decodeURIComponent(location.hash.slice(1));
    document.querySelectorAll(".here").forEach((mark) => mark.classList.remove("here"));
    const drawing = /^(d[0-9a-f]{12})(-.*)?$/.exec(id);
    if (drawing) {
      const sheet = open(drawing[1]);
      const place = sheet && (byId(id) || sheet);
      if (!place) return;
      if (place !== sheet) place.classList.add("here");
      const holder = place.closest("details");
      if (holder) holder.open = true;
      if (place === sheet) {
        scrollTo(0, 0);
        sheet.querySelector("h2").focus({ preventScroll: true });
      } else {
        place.scrollIntoView({ block: "center", inline: "center" });
        place.focus({ preventScroll: true });
      }
      return;
    }
    if (id.startsWith("rule-")) {
      const rule = byId(id);
      if (rule) { rule.classList.add("here"); rule.focus(); }
      return;
    }
    const from = opened;
    close();
    if (from) {
      scrollTo(0, leftAt);
      const link = library.querySelector('a[href="#' + from + '"]');
      if (link) link.focus();
    }
  };

  const printAll = () => {
    close();
    for (const fact of known()) {
      if (fact.fits) {
        const sheet = find(fact.row.querySelector("a").hash.slice(1));
        if (sheet) sheet.classList.add("printed");
      }
    }
    body.classList.add("printing");
    print();
  };

  addEventListener("afterprint", () => {
    body.classList.remove("printing");
    document.querySelectorAll(".printed").forEach((sheet) => {
      sheet.classList.remove("printed");
      if (apart) sheet.remove();
    });
  });
  let wereClosed = [];
  addEventListener("beforeprint", () => {
    wereClosed = [...document.querySelectorAll("section.drawing details.working:not([open])")];
    wereClosed.forEach((part) => { part.open = true; });
  });
  addEventListener("afterprint", () => wereClosed.forEach((part) => { part.open = false; }));
  addEventListener("hashchange", follow);
  addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || event.defaultPrevented) return;
    if (opened) location.hash = "library";
    else if (document.activeElement === byId("search")) { controls.reset(); }
  });
  controls.addEventListener("submit", (event) => event.preventDefault());
  // Lists tell of a choice by `change` where the keyboard made it, letters of a search by `input`.
  for (const kind of ["input", "change"]) {
    controls.addEventListener(kind, (event) => {
      most = STEP;
      if (event.target.id === "order") arrange(); else filter();
    });
  }
  controls.addEventListener("reset", () => setTimeout(() => { most = STEP; arrange(); }));
  byId("more").addEventListener("click", () => { most += STEP; filter(); });
  byId("print").addEventListener("click", printAll);

  const used = new Set(rows.flatMap((row) => row.dataset.rules.split(" ")));
  for (const option of [...byId("rule").options]) {
    if (option.value && !used.has(option.value)) option.remove();
  }
  body.classList.add("js");
  controls.hidden = false;
  arrange();
  follow();
})();
