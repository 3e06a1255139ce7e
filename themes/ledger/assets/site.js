// What the pages gain where a script runs: tables to sort and sift, pictures to page through, values of charts, a run that
// is read day by day, a search.
// Everything can be read without it: each control is made here, so that none stands dead. It asks no server for anything
// but the index of the search, which is a script too, so that it is found from a folder on disk.
"use strict";
(() => {
  const words = JSON.parse(document.currentScript.dataset.words); // the page's language is not the script's business
  const filled = (text, places) => text.replace(/\{(\w+)\}/g, (place, name) => places[name] ?? place);
  const all = (selector, within = document) => [...within.querySelectorAll(selector)];
  const make = (tag, properties = {}, ...inside) => {
    const made = Object.assign(document.createElement(tag), properties);
    made.append(...inside);
    return made;
  };
  const step = (list, at, by) => list[(at + by + list.length) % list.length];

  // ---- tables -----------------------------------------------------------------------------------------------------

  const ROWS = 6; // from so many rows on, sifting helps
  const PARTS = { kg: 1000, g: 1, mg: 0.001, lb: 453.592, oz: 28.3495, L: 1000, ml: 1, gal: 3785.41, m: 100, cm: 1, mm: 0.1, in: 2.54, ft: 30.48 };
  // Slow to make.
  const { lang } = document.documentElement;
  const once = (work, done) => () => (done ??= work());
  const decimal = once(() => (1.5).toLocaleString(lang)[1]);
  const collator = once(() => new Intl.Collator(lang, { numeric: true, sensitivity: "base" }));
  const number = (text) => Number(decimal() === "," ? text.replaceAll(".", "").replace(",", ".") : text.replaceAll(",", ""));

  const plain = (cell) => {
    const copy = cell.cloneNode(true);
    all(".also", copy).forEach((each) => each.remove());
    return copy.textContent.replace(/\s+/g, " ").trim();
  };

  const bare = (text) => text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
  const before = words.before.split("|").map(bare).join("|");
  const AMOUNT = new RegExp(`^(?:(?:${before}) )*([\\d.,]*\\d)(?: ?[–-] ?[\\d.,]*\\d)? ?(${bare(words.of)} \\d+|[\\p{L}°%]*)(?: ([\\d.]+) oz)?`, "u");

  // The amount that a cell says, in one unit of its kind: null where it says none, text where it is no amount.
  function amount(text) {
    if (/^\d{4}-\d\d/.test(text)) return text;
    const found = AMOUNT.exec(text);
    if (found === null) return text;
    const [, written, unit, ounces] = found;
    if (unit.startsWith(`${words.of} `)) return number(written) / Math.max(1, number(unit.slice(words.of.length + 1)));
    return number(written) * (PARTS[unit] ?? 1) + (ounces ? Number(ounces) * PARTS.oz : 0);
  }

  const isNothing = (cell, text) => text === "" || (cell.firstElementChild?.matches(".none") && cell.children.length === 1) || cell.querySelector("a.none") !== null;

  function keys(rows, column) {
    const cells = rows.map((row) => row.cells[column]);
    const texts = cells.map((cell) => cell.querySelector("time")?.dateTime ?? plain(cell)); // a month in words sorts by its year
    const said = texts.map((text, i) => (isNothing(cells[i], text) ? null : amount(text)));
    return said.every((each) => each === null || typeof each === "number") ? said : texts.map((text, i) => (said[i] === null ? null : text));
  }

  function compared(one, other) {
    if (one === null || other === null) return (one === null) - (other === null); // what is not there stands last
    return typeof one === "number" ? one - other : collator().compare(one, other);
  }

  function sort(table, column, way) {
    const body = table.tBodies[0];
    const rows = orders.get(table).filter((row) => row.isConnected);
    const key = keys(rows, column);
    const order = [...rows.keys()];
    const turn = way === "descending" ? -1 : 1;
    if (way !== "none")
      order.sort((a, b) => (key[a] === null || key[b] === null ? 1 : turn) * compared(key[a], key[b]) || a - b);
    body.append(...order.map((i) => rows[i]));
  }

  const NEXT = { none: "ascending", ascending: "descending", descending: "none" };
  const orders = new WeakMap(); // the rows of each table as they were written

  function sortable(table) {
    const rows = [...table.tBodies[0].rows];
    orders.set(table, rows);
    all("thead th", table).forEach((head, column) => {
      if (head.querySelector("button")) return;
      const dated = head.textContent.trim() === words.date || rows.some((row) => /^\s*\d{1,2}\s\p{Lu}/u.test(row.cells[column]?.textContent)); // 4 Oct: in order already
      if (dated || rows.some((row) => row.cells.length <= column)) return;
      const button = make("button", { type: "button" }, ...head.childNodes);
      head.append(button);
      head.setAttribute("aria-sort", "none");
      button.addEventListener("click", () => {
        const way = NEXT[head.getAttribute("aria-sort")];
        all("[aria-sort]", table).forEach((each) => each.setAttribute("aria-sort", "none"));
        head.setAttribute("aria-sort", way);
        sort(table, column, way);
      });
    });
  }

  function siftable(table) {
    const region = table.closest(".region");
    if (region.previousElementSibling?.matches(".sift")) return;
    const input = make("input", { type: "search", autocomplete: "off" });
    const count = make("output");
    const label = make("label", {}, `${words.sift} `, input);
    region.before(make("p", { className: "sift" }, label, " ", count));
    input.addEventListener("input", () => {
      const wanted = folded(input.value).split(" ").filter(Boolean);
      const rows = [...table.tBodies[0].rows];
      rows.forEach((row) => (row.hidden = !wanted.every((word) => folded(row.textContent).includes(word))));
      count.textContent = wanted.length ? filled(words.sifted, { shown: rows.filter((row) => !row.hidden).length, all: rows.length }) : "";
    });
  }

  // Where a row is a block of its own there are no heads to press: a choice of columns stands above the table.
  function choosable(table) {
    const region = table.closest(".region");
    const before = region.previousElementSibling;
    if (before?.matches(".choose") || before?.previousElementSibling?.matches(".choose")) return;
    const heads = all("[aria-sort]", table);
    const select = make("select", {}, make("option", { value: -1 }, words.unsorted), ...heads.map((head, i) => make("option", { value: i }, head.textContent)));
    const down = make("input", { type: "checkbox" });
    const turned = () => {
      const head = heads[select.value];
      const way = !head ? "none" : down.checked ? "descending" : "ascending";
      heads.forEach((each) => each.setAttribute("aria-sort", each === head ? way : "none"));
      sort(table, head?.cellIndex ?? 0, way);
    };
    [select, down].forEach((each) => each.addEventListener("change", turned));
    const line = make("p", { className: "choose" }, make("label", {}, `${words.sorted} `, select), " ", make("label", {}, down, ` ${words.down}`));
    (before?.matches(".sift") ? before : region).before(line);
  }

  function tables() {
    all("table.sorts").forEach((table) => {
      if (table.closest(".on-paper")) return;
      const rows = table.tBodies[0].rows.length;
      if (rows > 1) sortable(table);
      if (rows >= ROWS) siftable(table);
      if (rows > 1 && table.matches(".arms")) choosable(table);
    });
  }

  // ---- pictures ---------------------------------------------------------------------------------------------------

  let viewer = null;
  let shots = [];
  let shown = 0;

  function show(index) {
    shown = (index + shots.length) % shots.length;
    const picture = shots[shown].querySelector("picture").cloneNode(true);
    all("source", picture).forEach((each) => (each.sizes = "100vw"));
    const image = picture.querySelector("img");
    image.loading = "eager";
    const said = shots[shown].closest("figure").querySelector("figcaption")?.textContent.trim().replace(/\s+/g, " ") ?? "";
    viewer.querySelector("figure").replaceChildren(picture, make("figcaption", {}, `${said ? `${said}. ` : ""}${image.alt}`));
    viewer.querySelector("output").textContent = filled(words.place, { number: shown + 1, all: shots.length });
  }

  function viewing() {
    const button = (label, act) => {
      const made = make("button", { type: "button" }, label);
      made.addEventListener("click", act);
      return made;
    };
    const bar = make("p", {}, button(words.earlier, () => show(shown - 1)), make("output"), button(words.later, () => show(shown + 1)), button(words.close, () => viewer.close()));
    viewer = make("dialog", { className: "viewer" }, make("figure"), bar);
    viewer.setAttribute("aria-label", words.pictures);
    viewer.addEventListener("keydown", (event) => {
      const on = getComputedStyle(viewer).direction === "rtl" ? -1 : 1; // pictures follow one another as words do
      const to = { ArrowLeft: shown - on, ArrowRight: shown + on, Home: 0, End: shots.length - 1 }[event.key];
      if (to === undefined) return;
      event.preventDefault();
      show(to);
    });
    viewer.addEventListener("click", (event) => event.target === viewer && viewer.close());
    viewer.addEventListener("close", () => {
      if (!entered) return;
      entered = false;
      history.back();
    });
  }

  // The open viewer is an entry of the history, so that "back" closes it; closed by hand, it takes its entry along.
  let entered = false;
  const OPEN = "pictures";

  function enter() {
    viewer.showModal();
    entered = true;
  }

  addEventListener("popstate", (event) => {
    const open = event.state === OPEN;
    if (entered && !open) {
      entered = false;
      viewer.close();
    } else if (open && !entered) {
      if (viewer?.isConnected) enter();
      else history.back();
    }
  });
  if (history.state === OPEN) history.back(); // loaded again with the viewer open

  document.addEventListener("click", (event) => {
    const shot = event.target.closest?.("a.shot");
    if (!shot || event.button || event.ctrlKey || event.metaKey || event.shiftKey) return;
    const by = new Map(all("a.shot").map((each) => [each.href, each]).reverse()); // each picture once, where it first stands
    shots = [...by.values()].reverse();
    if (viewer === null) viewing();
    if (!viewer.isConnected) document.body.append(viewer); // a renewed page has lost it
    event.preventDefault();
    show(shots.findIndex((each) => each.href === shot.href));
    history.pushState(OPEN, "");
    enter();
  });

  // ---- charts -----------------------------------------------------------------------------------------------------

  const REACH = 28; // pixels from a mark at which a finger still means it
  const seen = new WeakSet();

  function readout(holder) {
    const there = holder.querySelector(":scope > .readout");
    if (there) return there;
    const made = make("p", { className: "readout", hidden: true });
    made.setAttribute("role", "status");
    holder.append(made);
    return made;
  }

  function tell(holder, mark) {
    const box = readout(holder);
    all(".lit", holder).forEach((each) => each.classList.remove("lit"));
    box.hidden = mark === null;
    if (mark === null) return;
    mark.classList.add("lit");
    box.textContent = mark.querySelector("title").textContent;
    const place = mark.getBoundingClientRect();
    const round = holder.getBoundingClientRect();
    const axis = (name) => holder.querySelector(`[class=${name}]`)?.getBoundingClientRect();
    const left = (axis("numbers")?.right ?? round.left) - round.left; // the words keep off the axes
    box.style.maxWidth = `min(20rem, ${round.width - left}px)`;
    const middle = place.left + place.width / 2 - round.left;
    box.style.left = `${Math.max(left, Math.min(round.width - box.offsetWidth, middle - box.offsetWidth / 2))}px`;
    const above = place.top - box.offsetHeight - 8;
    box.style.top = `${(above < (axis("dates")?.bottom ?? 0) ? place.bottom + 8 : above) - round.top}px`;
  }

  const middle = (mark) => {
    const box = mark.getBoundingClientRect();
    return [box.left + box.width / 2, box.top + box.height / 2];
  };

  function nearest(marks, event) {
    let best = null;
    let least = REACH;
    for (const mark of marks) {
      const [x, y] = middle(mark);
      const away = Math.hypot(x - event.clientX, y - event.clientY);
      if (away < least) [best, least] = [mark, away];
    }
    return best;
  }

  function asked(drawing) {
    const marks = all("title", drawing).map((title) => title.parentElement).filter((mark) => mark !== drawing);
    if (seen.has(drawing) || marks.length === 0) return;
    seen.add(drawing);
    const holder = drawing.parentElement;
    let current = null;
    const say = (mark) => {
      current = mark ?? current;
      tell(holder, mark);
    };
    for (const kind of ["pointermove", "pointerdown"]) drawing.addEventListener(kind, (event) => say(nearest(marks, event)));
    drawing.addEventListener("pointerleave", (event) => event.pointerType === "mouse" && tell(holder, null));
    drawing.addEventListener("blur", () => tell(holder, null));
    drawing.addEventListener("focusin", (event) => event.target !== drawing && say(event.target.closest("a")));
    drawing.addEventListener("focusout", () => tell(holder, null));
    if (drawing.querySelector("a")) return; // its marks are links, each with a focus of its own
    drawing.tabIndex = 0;
    drawing.addEventListener("keydown", (event) => {
      if (event.key === "Escape") return tell(holder, null);
      const by = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
      if (by === undefined) return;
      event.preventDefault();
      const order = marks.map((mark) => [mark, middle(mark)[0]]).sort((one, other) => one[1] - other[1]).map(([mark]) => mark);
      say(current === null ? order.at(by < 0 ? -1 : 0) : step(order, order.indexOf(current), by));
    });
  }

  const charts = () => all(".chart .wide > svg, .chart .narrow > svg").forEach(asked);

  // ---- days -------------------------------------------------------------------------------------------------------

  const far = (figure, day) => Math.abs(figure.dataset.day - day);

  // The photo of a day is marked in the strip, and fills the stage where the page has one.
  function photographed(day) {
    const figures = all("[data-day]:not(.day-axis)");
    if (figures.length === 0) return;
    const near = figures.reduce((best, each) => (far(each, day) < far(best, day) ? each : best));
    figures.forEach((each) => each.classList.toggle("on", each.dataset.day === near.dataset.day));
    const stage = document.querySelector(".stage");
    const image = near.querySelector("picture");
    if (!stage || stage.dataset.shows === image.querySelector("img").src) return;
    const copy = image.cloneNode(true);
    all("source", copy).forEach((each) => (each.sizes = "(min-width: 62em) 50vw, 100vw"));
    stage.dataset.shows = image.querySelector("img").src;
    stage.replaceChildren(copy, make("figcaption", {}, near.querySelector("figcaption").textContent));
    stage.hidden = false;
  }

  // A drawing with days, read day by day: a range lies over it, for fingers and arrow keys, and follows the mouse. Its
  // first and last day are in `x`; `inset` has what lies before and after them, in per cent of its width.
  function readable(drawing) {
    if (drawing.querySelector(":scope > .scrub")) return;
    const rows = JSON.parse(document.getElementById(drawing.dataset.days).textContent);
    if (rows.length === 0) return;
    const set = { ...document.querySelector(".day-axis[data-days]")?.dataset, ...drawing.dataset }; // a chart is read in the words of the axis
    const [first, last] = set.x.split(" ").map(Number);
    const [before, after] = (set.inset ?? "0 0").split(" ").map(Number);
    const axis = drawing.matches(".day-axis");
    const range = make("input", { type: "range", className: "scrub", min: Math.max(first, axis ? first : rows[0][0]), max: last, step: 1 });
    const output = make("output", { className: "says" });
    const link = set.to ? make("a") : "";
    const place = (day) => before + ((day - first) / (last - first)) * (100 - before - after);
    range.setAttribute("aria-label", axis ? set.label : `${drawing.closest("figure").querySelector("h3").textContent}. ${set.label}`);
    range.style.left = `calc(${place(+range.min)}% - 11px)`;
    range.style.width = `calc(${place(last) - place(+range.min)}% + 22px)`;
    const words = make("p", { className: "said-day" }, output, " ", link);
    if (axis) drawing.before(words);
    else drawing.prepend(words); // shown with the one of two drawings that is
    drawing.append(range);
    all("a", drawing).forEach((each) => (each.tabIndex = -1)); // the range and its link lead to the same days
    const say = () => {
      const day = +range.value;
      const [at, date, deed, sum, when] = rows.findLast((row) => row[0] <= day) ?? rows[0];
      const lead = when ? `. ${filled(set.about, { when })}` : at === day ? `${date ? `, ${date}` : ""}.` : `. ${filled(set.before, { day: at })}`;
      output.replaceChildren(make("b", {}, filled(set.day, { day })), `${lead} ${deed} ${sum}`);
      range.setAttribute("aria-valuetext", output.textContent.trim());
      if (link) Object.assign(link, { href: `${set.to}#day-${at}`, textContent: filled(set.leads, { day: at }) });
      if (axis) photographed(day);
    };
    range.addEventListener("input", say);
    drawing.addEventListener("mousemove", (event) => {
      if (event.buttons) return;
      const box = drawing.getBoundingClientRect();
      const share = ((event.clientX - box.left) / box.width) * 100 - before;
      range.value = Math.round(first + (share / (100 - before - after)) * (last - first));
      say();
    });
    range.value = set.start;
    say();
  }

  // `#day-98` is a day of the axis, whether there was a visit or not.
  function addressed() {
    const range = document.querySelector(".day-axis > .scrub");
    const day = /^#day-(\d+)$/.exec(location.hash);
    if (!range || !day) return;
    range.value = day[1];
    range.dispatchEvent(new Event("input"));
    if (!document.getElementById(`day-${day[1]}`)) range.scrollIntoView({ block: "center" });
  }

  function days() {
    all("[data-days]").forEach(readable);
    addressed();
  }
  addEventListener("hashchange", addressed);

  // ---- find -------------------------------------------------------------------------------------------------------

  const folded = (text) => text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase().replace(/\s+/g, " ").trim();
  const MOST = 12; // results that can be looked through at a glance
  let index = null;

  function loaded(address) {
    index ??= new Promise((done, failed) => {
      const script = make("script", { src: address, onload: () => done(window.siteIndex), onerror: failed });
      document.head.append(script);
    });
    return index;
  }

  // The texts of an entry, folded once: its title, what is shown of it, what was written about each day, its story.
  const ready = (entry) => (entry.folded ??= [entry.t, `${entry.k} ${entry.s ?? ""} ${entry.w ?? ""}`, (entry.n ?? []).map(([, , text]) => text), entry.r ?? ""].map((each) => (Array.isArray(each) ? each.map(folded) : folded(each))));

  function weight(entry, wanted) {
    const [title, rest, days, story] = ready(entry);
    let sum = 0;
    for (const word of wanted) {
      if (title.includes(word)) sum += title.split(" ").some((part) => part.startsWith(word)) ? 4 : 3;
      else if (rest.includes(word) || days.some((day) => day.includes(word))) sum += 1;
      else if (story.includes(word)) sum += 0.5;
      else return 0;
    }
    return sum;
  }

  function results(entries, wanted) {
    if (wanted.length === 0) return [];
    const weighed = entries.map((entry, i) => [weight(entry, wanted), i, entry]).filter(([sum]) => sum > 0);
    return weighed.sort((one, other) => other[0] - one[0] || one[1] - other[1]).map(([, , entry]) => entry);
  }

  // Where the words were found that the entry does not show: the day with most of them, else its story.
  function place(entry, wanted) {
    const [title, rest, days] = ready(entry);
    const left = wanted.filter((word) => !title.includes(word) && !rest.includes(word));
    if (left.length === 0) return null;
    const counts = days.map((day) => left.filter((word) => day.includes(word)).length);
    const most = Math.max(0, ...counts);
    if (most === 0) return ["story", words.story];
    const [anchor, day, text] = entry.n[counts.indexOf(most)];
    return [anchor, `${day[0].toUpperCase()}${day.slice(1)}: ${text}`];
  }

  function result(entry, base, wanted) {
    const found = place(entry, wanted);
    const address = new URL(entry.a, base).href;
    const link = make("a", { href: found ? `${address}#${found[0]}` : address }, entry.t);
    const said = entry.s ? [make("span", {}, entry.s)] : [];
    if (found) said.push(make("span", { className: "place" }, found[1]));
    return make("li", {}, link, make("small", {}, entry.k), ...said);
  }

  function find() {
    const head = document.querySelector("[data-find]");
    if (!head || head.querySelector(".find")) return;
    const base = new URL(head.dataset.find, location.href).href;
    const input = make("input", { type: "search", autocomplete: "off", id: "find" });
    const form = make("form", { className: "find" }, make("label", { htmlFor: "find" }, words.find), input);
    form.setAttribute("role", "search");
    const count = make("p", { className: "spoken" });
    count.setAttribute("role", "status");
    const list = make("ol");
    const found = make("div", { className: "found", hidden: true }, count, list);
    head.append(form, found);
    const look = async () => {
      const entries = await loaded(base).catch(() => null);
      const wanted = folded(input.value).split(" ").filter(Boolean);
      const hits = entries ? results(entries, wanted) : [];
      const none = entries ? words.nothing : words.no_index;
      found.hidden = folded(input.value) === "";
      count.textContent = found.hidden ? "" : filled(words.found, { number: hits.length });
      list.replaceChildren(...(hits.length ? hits.slice(0, MOST).map((entry) => result(entry, base, wanted)) : [make("li", {}, none)]));
    };
    input.addEventListener("focus", () => loaded(base).catch(() => null), { once: true });
    input.addEventListener("input", look);
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      list.querySelector("a")?.click();
    });
    form.addEventListener("keydown", (event) => event.key === "Escape" && ((input.value = ""), look()));
  }

  // On a phone, what lies below the first screen is laid out in slices, then shown, so that no finger waits; at once for
  // who comes to a place in the page, or comes back, or scrolls.
  const PIECES = "main > :nth-child(n+3), main > :nth-child(n+3) :is(figure, .side, .phase, .workings, .region, .day-axis), .arms tbody > tr";

  function unrolled() {
    const whole = location.hash || performance.getEntriesByType("navigation")[0]?.type !== "navigate";
    const pieces = whole ? [] : all(PIECES);
    const left = [...pieces];
    const show = (some) => pieces.splice(0, some).forEach((each) => each.classList.remove("below"));
    const next = () => {
      const end = performance.now() + 4;
      while (left.length && performance.now() < end) left.shift().firstElementChild?.getBoundingClientRect();
      if (left.length) return setTimeout(next);
      show(12);
      pieces.length ? requestAnimationFrame(next) : charts();
    };
    pieces.forEach((each) => each.classList.add("below"));
    addEventListener("load", () => setTimeout(next));
    addEventListener("scroll", () => show(1e6), { once: true });
  }

  function start() {
    tables();
    days();
    find();
  }
  document.addEventListener("swapped", () => (start(), charts()));
  start();
  unrolled();
})();
