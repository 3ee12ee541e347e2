"use strict";
// The editor of a recipe. The text is the recipe; the server says what comes of it, and works out every change but typing.

const WAIT = 350; // ms without a key before the text is looked at
const TYPING = 800; // ms within which keys are one step of undo
const LARGER = 8; // ruler steps

const form = document.querySelector(".workbench");
const area = document.getElementById("text");
const csrf = form.querySelector("[name=csrfmiddlewaretoken]").value;
const $ = (id) => document.getElementById(id);

// --- The text: what it was, what it is kept as ---

const past = [];
const future = [];
let now = area.value; // before the next key
let saved = form.elements.seen.value === "" ? null : area.value;
let typedAt = 0;

// Two places, so that what was typed before a reload stays until somebody says what is to become of it.
const SLOTS = [form.dataset.keep, `${form.dataset.keep}, more`];
const offered = SLOTS.find((slot) => (kept(slot) ?? { text: area.value }).text !== area.value);
const slot = SLOTS.find((each) => each !== offered);

function keep() {
  try {
    if (area.value === saved) localStorage.removeItem(slot);
    else localStorage.setItem(slot, JSON.stringify({ text: area.value, at: new Date().toLocaleString() }));
  } catch { /* a browser that keeps nothing still edits */ }
}

function kept(place) {
  try {
    return JSON.parse(localStorage.getItem(place));
  } catch {
    return null;
  }
}

function buttons() {
  $("undo").disabled = past.length === 0;
  $("redo").disabled = future.length === 0;
}

function put(text) {
  now = text;
  typedAt = 0; // what is typed next is a step of its own
  const [start, top] = [area.selectionStart, area.scrollTop];
  area.value = text;
  area.setSelectionRange(start, start);
  area.scrollTop = top;
  changed();
}

function change(text) {
  if (text === area.value) return;
  past.push(area.value);
  future.length = 0;
  put(text);
}

function back(from, to, word) {
  if (from.length === 0) return;
  to.push(area.value);
  put(from.pop());
  tell(word);
  look();
}

const undo = () => back(past, future, "Undone.");
const redo = () => back(future, past, "Done again.");

function changed() {
  $("compared").hidden = true; // it was about another text
  keep();
  numbers();
  buttons();
  $("printed").textContent = area.value;
}

// --- Lines ---

let marked = [];

// Like the marks of a ruler: a number at every fifth line, and at those with a fault.
function numbers() {
  const count = area.value.split("\n").length;
  const signs = new Set(marked);
  const made = document.createDocumentFragment();
  let marks = "";
  for (let line = 1; line <= count; line += 1) {
    if (signs.has(line)) {
      const sign = document.createElement("b");
      sign.textContent = `◆${line}`;
      made.append(marks, sign);
      marks = "\n";
    } else marks += `${line % 5 === 0 || line === 1 ? line : "–"}\n`;
  }
  made.append(marks);
  $("lines").replaceChildren(made);
  $("lines").scrollTop = area.scrollTop;
}

function toLine(line, column) {
  const lines = area.value.split("\n");
  const start = lines.slice(0, line - 1).reduce((sum, each) => sum + each.length + 1, 0);
  const end = start + (lines[line - 1] ?? "").length;
  area.focus();
  area.setSelectionRange(Math.min(start + Math.max(column - 1, 0), end), end);
  area.scrollTop = (line - 4) * parseFloat(getComputedStyle(area).lineHeight);
}

// --- Asking the server ---

let asking = null;
let waiting = 0;

// Said once, beside what one works with.
function tell(said) {
  const atTrimmer = document.activeElement?.closest(".trimmer") !== null;
  $("told").textContent = atTrimmer ? said : "";
  $("state").textContent = atTrimmer ? "" : said;
}

function trouble(html) {
  $("trouble").innerHTML = html;
  $("trouble").hidden = html.trim() === "";
}

function refused(status) {
  const said = {
    400: "The text is too large to be looked at.",
    403: "You are not signed in any more, or the page stood open too long. Sign in in another tab, then try again.",
    404: "This recipe or its month is not here any more.",
  };
  const why = said[status] ?? "The server does not answer as it should. Try again in a moment.";
  trouble(`<b>${why}</b> Your text stands here and is kept in this browser.`);
}

async function ask(act, more = {}) {
  clearTimeout(waiting);
  asking?.abort();
  const own = (asking = new AbortController());
  const body = new FormData(form);
  body.set("act", act);
  for (const [name, value] of Object.entries(more)) body.set(name, value);
  const sent = area.value;
  form.setAttribute("aria-busy", "true");
  try {
    const answer = await fetch(form.dataset.look, { method: "POST", body, headers: { "X-CSRFToken": csrf }, signal: own.signal, redirect: "manual" });
    if (!answer.ok) return refused(answer.type === "opaqueredirect" ? 403 : answer.status);
    const said = await answer.json();
    if (area.value === sent) show(said, act);
    else if (act.startsWith("save")) savedAs(said);
    else if (act !== "") tell("You typed on meanwhile, so the text is as you have it. Do that again.");
  } catch (error) {
    if (error.name !== "AbortError") refused(0);
  } finally {
    if (asking === own) form.removeAttribute("aria-busy");
  }
}

const look = () => ask("");

// The version the text goes back to has changed: this text is kept now, or somebody else's that is gone on with.
function savedAs(said) {
  if (said.seen === form.elements.seen.value) return;
  form.elements.seen.value = said.seen;
  saved = said.text;
  keep();
}

function show(said, act) {
  const focused = document.activeElement?.closest(".at-trimmer")?.dataset.label;
  if (said.text !== area.value) change(said.text);
  savedAs(said);
  trouble(said.trouble);
  for (const [id, html] of Object.entries(said.pieces)) {
    if (id !== "compared" || act !== "") $(id).innerHTML = html;
  }
  if (act !== "") $("compared").hidden = said.pieces.compared.trim() === "";
  if (act === "arrange" || act === "compare" || act.startsWith("save")) $("compared-title")?.focus();
  Object.assign(form.dataset, { step: said.step, unit: said.unit, perUnit: said.perUnit });
  marked = said.marked;
  numbers();
  options(said.names);
  parts();
  choose(said.chosen || hand?.value);
  if (focused) document.querySelector(`.at-trimmer[data-label="${CSS.escape(focused)}"]`)?.focus();
  const many = said.faults === 1 ? "1 fault." : `${said.faults || "No"} faults.`;
  const words = `${said.said} ${many}`.trim();
  if (!said.needs) tell(act === "" ? many : words);
}

// --- The part in hand ---

let all = []; // parts of all sheets
let hand = null;
let mark = 0; // a length
let fence = "left";

function parts() {
  all = [];
  const select = $("part");
  select.replaceChildren();
  for (const bench of document.querySelectorAll(".at-trimmer")) {
    const own = JSON.parse(bench.dataset.parts).map((part) => ({ ...part, bench }));
    if (own.length === 0) continue;
    const group = document.createElement("optgroup");
    group.label = bench.dataset.label;
    group.append(...own.map((part) => new Option(part.said, part.value)));
    select.append(group);
    all.push(...own);
  }
}

function options(names) {
  $("name").replaceChildren(new Option("offcut", ""), ...names.map((each) => new Option(each.said, each.value)));
}

const step = () => Number(form.dataset.step);
const along = (part) => (fence === "left" ? part.across : part.down);

function choose(value, at = null) {
  hand = all.find((part) => part.value === value) ?? all.find((part) => !part.finished) ?? all[0] ?? null;
  if (hand) {
    $("part").value = hand.value;
    $("name").value = hand.named || (hand.names[0] ?? "");
    fence = hand.fence;
    mark = at ?? marks()[0] ?? Math.max(Math.floor(along(hand) / 2 / step()) * step(), step());
  }
  draw();
}

// Marks at which a piece that is still to be cut would come off or stay, whole ones first.
const marks = () => hand?.marks[fence] ?? [];

function move(to) {
  if (!hand) return;
  const last = Math.floor((along(hand) - 1) / step()) * step();
  mark = Math.min(Math.max(to, step()), Math.max(last, step()));
  draw();
  $("told").textContent = said(mark);
}

function turn() {
  fence = fence === "left" ? "top" : "left";
  move(marks()[0] ?? mark);
  $("told").textContent = `Turned: ${fence} edge at the fence, mark ${said(mark)}.`;
}

function next(by) {
  if (!hand) return;
  const own = all.filter((part) => part.bench === hand.bench);
  choose(own[(own.indexOf(hand) + by + own.length) % own.length].value);
  $("told").textContent = describe(hand);
}

function describe(part) {
  const named = part.names.map((each, index) => `${index + 1} ${JSON.parse(each).filter(Boolean).join(" to ")}`).join(", ");
  return `${part.said}. ${part.finished ? "Finished." : `Mark ${said(mark)}, ${fence} edge at the fence.`}${named ? ` It can be: ${named}.` : ""}`;
}

function number(length) {
  const units = Number(form.dataset.perUnit);
  const whole = Math.floor(length / units);
  const rest = length - whole * units;
  if (rest === 0) return String(whole);
  if (form.dataset.unit === "mm") return String(length / units);
  let [top, bottom] = [rest, units];
  while (bottom) [top, bottom] = [bottom, top % bottom];
  return `${whole ? `${whole} ` : ""}${rest / top}/${units / top}`;
}

const said = (length) => `${number(length)} ${form.dataset.unit}`;

function shape(name, attributes) {
  const made = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  return made;
}

function draw() {
  for (const old of document.querySelectorAll(".over-sheet")) old.remove();
  if (!hand) return;
  $("mark").value = hand.finished ? "" : number(mark);
  $("fence").value = fence;
  const over = shape("g", { class: "over-sheet", "aria-hidden": "true" });
  over.append(shape("rect", { class: "in-hand", x: hand.x, y: hand.y, width: hand.width, height: hand.height }));
  if (!hand.finished) over.append(...blade(hand));
  hand.bench.querySelector("svg").append(over);
}

function blade(part) {
  const at = fence === "left" ? part.x + (part.width * mark) / part.across : part.y + (part.height * mark) / part.down;
  const ends = fence === "left" ? { x1: at, x2: at, y1: part.y, y2: part.y + part.height } : { x1: part.x, x2: part.x + part.width, y1: at, y2: at };
  const label = number(mark);
  const wide = label.length * 2.3 + 2.4;
  const place = fence === "left" ? { x: at - wide / 2, y: part.y + part.height / 2 - 3 } : { x: part.x + part.width / 2 - wide / 2, y: at - 3 };
  const words = shape("text", { class: "blade-mark", x: place.x + wide / 2, y: place.y + 4.4, "text-anchor": "middle" });
  words.textContent = label;
  return [
    shape("line", { class: "blade-ground", ...ends }),
    shape("line", { class: "blade", ...ends }),
    shape("rect", { class: "blade-tag", ...place, width: wide, height: 6, rx: 0.6 }),
    words,
  ];
}

// --- Pointing ---

function pointed(event) {
  const bench = event.target.closest?.(".at-trimmer");
  const drawing = bench?.querySelector("svg");
  if (!drawing) return null;
  const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(drawing.getScreenCTM().inverse());
  const inside = (part) => part.bench === bench && point.x >= part.x && point.x <= part.x + part.width && point.y >= part.y && point.y <= part.y + part.height;
  const part = all.find(inside);
  return part && { part, point };
}

function aim({ part, point }) {
  if (part !== hand) choose(part.value);
  const share = fence === "left" ? (point.x - part.x) / part.width : (point.y - part.y) / part.height;
  const last = Math.floor((along(part) - 1) / step()) * step();
  mark = Math.min(Math.max(Math.round((share * along(part)) / step()) * step(), step()), Math.max(last, step()));
  draw();
}

document.addEventListener("pointermove", (event) => {
  const found = event.pointerType === "mouse" && pointed(event);
  if (found && !found.part.finished) aim(found);
});

document.addEventListener("click", (event) => {
  const link = event.target.closest?.(".to-line");
  if (link) {
    event.preventDefault();
    return toLine(Number(link.dataset.line), Number(link.dataset.column));
  }
  const found = pointed(event);
  if (!found) return;
  if (found.part.finished) {
    choose(found.part.value);
    $("told").textContent = `${found.part.said} is finished. Name it offcut to cut it on.`;
  } else {
    aim(found);
    doCut();
  }
});

// --- Keys ---

function doCut() {
  if (hand) ask("cut", { part: hand.value, fence, mark: hand.finished ? number(step()) : number(mark) });
}

function doName(value) {
  if (hand) ask("name", { part: hand.value, name: value });
}

const KEYS = {
  ArrowRight: (large) => move(mark + step() * large),
  ArrowDown: (large) => move(mark + step() * large),
  ArrowLeft: (large) => move(mark - step() * large),
  ArrowUp: (large) => move(mark - step() * large),
  Home: () => move(0),
  End: () => move(Infinity),
  Enter: doCut,
  t: turn,
  m: () => move(marks()[(marks().indexOf(mark) + 1) % marks().length] ?? mark),
  n: () => next(1),
  p: () => next(-1),
  u: undo,
  0: () => doName(""),
};

document.addEventListener("focusin", (event) => {
  const bench = event.target.closest?.(".at-trimmer");
  if (bench && hand?.bench !== bench) choose(all.find((part) => part.bench === bench && !part.finished)?.value ?? all.find((part) => part.bench === bench)?.value);
  if (bench && hand) $("told").textContent = describe(hand);
});

document.addEventListener("keydown", (event) => {
  const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
  const inText = event.target === area || event.target.closest?.(".at-trimmer");
  if ((event.ctrlKey || event.metaKey) && inText && key === "s") {
    event.preventDefault();
    return void ask("save");
  }
  if ((event.ctrlKey || event.metaKey) && inText && (key === "z" || key === "y")) {
    event.preventDefault();
    return key === "y" || event.shiftKey ? redo() : undo();
  }
  if (event.ctrlKey || event.metaKey || event.altKey || !event.target.closest?.(".at-trimmer")) return;
  if (key >= "1" && key <= "9" && key.length === 1) {
    const name = hand?.names[Number(key) - 1];
    if (name) doName(name);
    else $("told").textContent = "No piece of that number has this size.";
    event.preventDefault();
  } else if (KEYS[key]) {
    event.preventDefault();
    KEYS[key](event.shiftKey ? LARGER : 1);
  }
});

$("mark").addEventListener("keydown", (event) => {
  const way = { ArrowUp: 1, ArrowDown: -1 }[event.key];
  if (way) {
    event.preventDefault();
    move(mark + way * step() * (event.shiftKey ? LARGER : 1));
  }
  if (event.key === "Enter") {
    event.preventDefault();
    ask("cut");
  }
});
$("part").addEventListener("change", () => choose($("part").value));
$("fence").addEventListener("change", () => ((fence = $("fence").value), move(marks()[0] ?? mark)));

// --- Buttons, typing, leaving ---

form.addEventListener("submit", (event) => {
  event.preventDefault();
  const act = event.submitter?.dataset.act ?? "";
  if (act === "keep") {
    $("compared").hidden = true;
    $("compared").replaceChildren();
    area.focus();
  } else ask(act);
});

area.addEventListener("input", () => {
  const moment = Date.now();
  if (moment - typedAt > TYPING) past.push(now);
  future.length = 0;
  now = area.value;
  typedAt = moment;
  changed();
  clearTimeout(waiting);
  waiting = setTimeout(look, WAIT);
});
// A new line begins below the one before; going back in the empty start of a line goes one step out.
area.addEventListener("keydown", (event) => {
  const [start, end] = [area.selectionStart, area.selectionEnd];
  const before = area.value.slice(area.value.lastIndexOf("\n", start - 1) + 1, start);
  if (event.ctrlKey || event.metaKey || event.altKey || event.isComposing) return;
  if (event.key === "Enter") area.setRangeText(`\n${before.match(/^ */)[0]}`, start, end, "end");
  else if (event.key === "Backspace" && start === end && /^( {4})+$/.test(before)) area.setRangeText("", start - 4, start, "end");
  else return;
  event.preventDefault();
  area.dispatchEvent(new Event("input"));
});
area.addEventListener("scroll", () => ($("lines").scrollTop = area.scrollTop));
$("undo").addEventListener("click", undo);
$("redo").addEventListener("click", redo);
addEventListener("beforeunload", (event) => {
  if (saved !== null && area.value !== saved) event.preventDefault();
});

$("restore").addEventListener("click", () => {
  change(kept(offered).text);
  $("forget").click();
  look();
});
$("forget").addEventListener("click", () => {
  localStorage.removeItem(offered);
  $("kept").hidden = true;
  area.focus();
});

// --- At the start ---

keep(); // what the page came with needs no place
if (offered) {
  $("kept-when").textContent = `It is of ${kept(offered).at}.`;
  $("kept").hidden = false;
}
for (const id of ["undo", "redo", "keys"]) $(id).hidden = false;
$("check").hidden = true;
marked = [...document.querySelectorAll("#faults .to-line")].map((link) => Number(link.dataset.line));
numbers();
buttons();
const chosen = $("part").value;
parts();
choose(form.dataset.chosen ? chosen : undefined);
