// Renews a page of the preview in place. Served by `sitegen live` only; no page that is published holds it.
"use strict";
(() => {
  const own = document.currentScript;
  let shown = own.dataset.shown; // the digest of what this window holds
  let source = null; // that page as it was served: what scripts added to the window since is not in it
  let busy = false;
  let latest = null;

  // What changed between two served pages is set into the window; the rest is left alone, with all that scripts,
  // opened details and the reader have done to it.

  const LISTS = ["OL", "TBODY", "UL"]; // whose children a script may have put into another order
  const same = (one, other) => one.nodeName === other.nodeName && one.id === other.id;
  const equal = (one, other) => same(one, other) && one.textContent === other.textContent;
  const paired = (ones, others, test) => ones.length === others.length && ones.every((one, i) => test(one, others[i]));
  const taken = (nodes) => nodes.map((node) => document.importNode(node, true));

  function renewAttributes(live, before, after) {
    for (const { name } of [...before.attributes]) if (!after.hasAttribute(name)) live.removeAttribute(name);
    for (const { name, value } of [...after.attributes])
      if (before.getAttribute(name) !== value) live.setAttribute(name, value);
  }

  function renew(live, before, after) {
    if (before.isEqualNode(after)) return;
    if (before.nodeType !== Node.ELEMENT_NODE) return void (live.nodeValue = after.nodeValue);
    renewAttributes(live, before, after);
    renewChildren(live, [...before.childNodes], [...after.childNodes]);
  }

  function renewChildren(live, before, after) {
    const there = [...live.childNodes];
    if (!paired(there, before, LISTS.includes(live.nodeName) ? equal : same)) return live.replaceChildren(...taken(after));
    let first = 0;
    let last = 0;
    const least = Math.min(before.length, after.length);
    while (first < least && before[first].isEqualNode(after[first])) first += 1;
    while (last < least - first && before.at(-1 - last).isEqualNode(after.at(-1 - last))) last += 1;
    const old = before.slice(first, before.length - last);
    const fresh = after.slice(first, after.length - last);
    if (paired(old, fresh, same)) return old.forEach((node, i) => renew(there[first + i], node, fresh[i]));
    const end = there[before.length - last] ?? null;
    there.slice(first, before.length - last).forEach((node) => node.remove());
    taken(fresh).forEach((node) => live.insertBefore(node, end));
  }

  // The head: a new style sheet is there before the old one goes, so that nothing flashes.

  const hrefs = (page) => [...page.querySelectorAll('link[rel="stylesheet"]')].map((link) => link.getAttribute("href"));
  const scripts = (page) => [...page.querySelectorAll("script[src]")].map((script) => script.getAttribute("src"));

  function loaded(href) {
    const link = document.createElement("link");
    link.rel = "stylesheet";
    link.setAttribute("href", href);
    return new Promise((done) => {
      link.onload = link.onerror = done;
      document.head.append(link);
    });
  }

  async function renewHead(page) {
    const wanted = hrefs(page);
    const old = [...document.querySelectorAll('link[rel="stylesheet"]')];
    const held = old.map((link) => link.getAttribute("href"));
    await Promise.all(wanted.filter((href) => !held.includes(href)).map(loaded));
    for (const link of old) if (!wanted.includes(link.getAttribute("href"))) link.remove();
    const styles = taken([...page.head.querySelectorAll("style")]);
    document.head.querySelectorAll("style").forEach((style) => style.remove());
    document.head.append(...styles);
    document.title = page.title;
  }

  const digest = (page) => page.querySelector("script[data-shown]").dataset.shown;

  async function served() {
    const response = await fetch(location.pathname + location.search, { cache: "no-store" });
    return new DOMParser().parseFromString(await response.text(), "text/html");
  }

  async function swap() {
    const page = await served();
    if (source === null || String(scripts(page)) !== String(scripts(source))) return location.reload();
    await renewHead(page);
    renew(document.body, source.body, page.body);
    source = page;
    shown = digest(page);
    document.dispatchEvent(new CustomEvent("swapped")); // a theme's script may see to what is new
  }

  // The ribbon and the overlay stand beside the body, out of reach of the theme's styles.

  const sheet = new CSSStyleSheet();
  sheet.replaceSync(`
    :host { all: initial; }
    [hidden] { display: none !important; }
    .dock { position: fixed; inset: auto 0 0 0; z-index: 2147483647; display: flex; flex-direction: column;
      align-items: start; pointer-events: none; font: 1rem/1.4 system-ui, sans-serif; color: #fff; }
    .dock > * { pointer-events: auto; margin: 0; }
    .ribbon { padding: .3rem .8rem; font-size: .8rem; font-weight: 600; background: #7a3b00;
      border-start-end-radius: .3rem; }
    .trouble { align-self: stretch; max-height: 60vh; overflow: auto; padding: .6rem 1rem 1rem; background: #2b1212;
      border-top: .3rem solid #e05a4a; }
    h2 { display: inline; font-size: 1rem; margin: 0; }
    button { float: right; font: inherit; color: inherit; background: #4a2323; border: 1px solid #e9b3ab;
      border-radius: .2rem; padding: .1rem .7rem; min-height: 1.75rem; cursor: pointer; }
    pre { margin: .6rem 0 0; font: .85rem/1.45 ui-monospace, monospace; white-space: pre-wrap; overflow-wrap: anywhere; }
    @media print { .dock { display: none; } }`);

  const host = document.createElement("sitegen-live");
  const root = host.attachShadow({ mode: "open" });
  root.adoptedStyleSheets = [sheet];
  root.innerHTML = `<div class="dock"><p class="ribbon" role="status" hidden></p>
    <section class="trouble" role="alert" hidden>
    <button type="button">Hide</button><h2>To be mended; beneath is the last good page</h2><pre tabindex="0"></pre>
    </section></div>`;
  const ribbon = root.querySelector(".ribbon");
  const trouble = root.querySelector(".trouble");
  const text = root.querySelector("pre");
  root.querySelector("button").onclick = () => (trouble.hidden = true);

  function mark(words) {
    ribbon.textContent = words;
    ribbon.hidden = !words;
  }

  function say(what) {
    mark(what.unpublished ? "not published" : "");
    if (text.textContent === what.trouble && what.trouble) return; // what was hidden stays hidden
    text.textContent = what.trouble;
    trouble.hidden = !what.trouble;
  }

  // One thing after another: the last word wins.

  async function act() {
    if (busy) return;
    busy = true;
    try {
      for (let what = latest; what !== null; what = latest) {
        latest = null;
        say(what);
        if (what.go && what.go !== location.pathname) return location.assign(what.go);
        if (what.shown !== shown) await swap();
      }
    } catch {
      mark("the preview has stopped"); // the stream says when it is back
    } finally {
      busy = false;
    }
  }

  // A window that nobody sees gives its connection back: a browser has only six for one server.

  let stream = null;
  let later = 0;
  let seen = own.dataset.serial;

  function listen() {
    clearTimeout(later);
    stream?.close();
    stream = null;
    if (document.hidden) return;
    const page = encodeURIComponent(decodeURI(location.pathname));
    stream = new EventSource(`/-/events?page=${page}&serial=${seen}`);
    stream.onerror = () => {
      mark("the preview has stopped");
      // A browser asks again by itself, unless it was refused: there were too many windows, or the key is another now.
      if (stream?.readyState === EventSource.CLOSED) later = setTimeout(listen, 10000);
    };
    stream.onmessage = (event) => {
      seen = event.lastEventId;
      latest = JSON.parse(event.data);
      act();
    };
  }

  async function start() {
    document.documentElement.append(host);
    try {
      const first = await served();
      source = digest(first) === shown ? first : null; // changed already: then there is nothing to compare with
    } catch {
      mark("the preview has stopped"); // since the page came: the stream says when it is back
    }
    document.addEventListener("visibilitychange", listen);
    listen();
  }

  addEventListener("pagehide", () => stream?.close());
  addEventListener("pageshow", (event) => event.persisted && location.reload());
  start();
})();
