"use strict";
// The bench. What is scanned shows at once, waits in this browser until the server has it, and counts there once.

const page = document.getElementById("bench");
const { acts: address, signIn, plan, packer, keep } = page.dataset;
const items = JSON.parse(page.dataset.items);
const csrf = page.querySelector("[name=csrfmiddlewaretoken]").value;
const $ = (id) => document.getElementById(id);
const SAME = 1500; // ms in which the same code is one scan
const AGAIN = 2000; // ms until what could not be sent is tried again
const PATIENCE = 8000; // ms a server is waited for
const LOOK = 30000; // ms between looks at how the wave gets on
const AT_ONCE = 100; // acts sent together
const MOST_LATER = 200; // scans kept while a box is being asked for
const LOUD = 0.25;

let hand = null; // the box in hand as the server last said
let last = null; // the box this bench closed last
let later = []; // scans behind one that asks for a box
let sending = false;
let reached = true;
let letIn = true;

// --- What waits: an entry each, so that two tabs never overwrite one another ---

const unkept = new Map(); // for a browser that keeps nothing
let count = 0;

function waiting() {
  const names = [...Object.keys(localStorage).filter((name) => name.startsWith(keep)), ...unkept.keys()].sort();
  return names.map((name) => ({ name, ...JSON.parse(unkept.get(name) ?? localStorage.getItem(name)) }));
}

function put(act) {
  count += 1;
  const name = `${keep}${String(Date.now()).padStart(15, "0")} ${String(count).padStart(6, "0")} ${act.id}`;
  const text = JSON.stringify(act);
  try {
    localStorage.setItem(name, text);
  } catch {
    unkept.set(name, text);
  }
}

function drop(names) {
  for (const name of names) {
    unkept.delete(name);
    localStorage.removeItem(name);
  }
}

// Not crypto.randomUUID: a tablet in the house may reach the server without HTTPS.
function fresh() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 15) | 64;
  bytes[8] = (bytes[8] & 63) | 128;
  const hex = [...bytes].map((one) => one.toString(16).padStart(2, "0")).join("");
  return [8, 12, 16, 20].reduceRight((text, at) => `${text.slice(0, at)}-${text.slice(at)}`, hex);
}

function act(kind, serial, more = {}) {
  put({ id: fresh(), plan: Number(plan), packer: Number(packer), act: kind, serial, at: Date.now(), ...more });
  show();
  send();
}

// --- How the box stands: what the server said, and what waits on top of it ---

function box() {
  if (hand === null) return null;
  const now = { ...hand, trail: [...hand.trail], closed: false, left: false };
  for (const one of waiting()) if (one.serial === now.serial) replay(now, one);
  return now;
}

function replay(now, one) {
  if (one.act === "add" && one.bad) now.wrong = one.note;
  else if (one.act === "add") now.trail.push([one.item, one.count]);
  else if (one.act === "out") now.trail = now.trail.filter(([item]) => item !== one.item);
  else if (one.act === "right") now.wrong = "";
  else if (one.act === "close") now.closed = true;
  else if (one.act === "leave") now.left = true;
  else if (one.act === "undo" && now.closed) now.closed = false;
  else if (one.act === "undo" && now.wrong) now.wrong = "";
  else if (one.act === "undo") now.trail.pop();
}

const isOpen = (now) => now !== null && !now.closed && !now.left;
const asked = () => waiting().find((one) => one.act === "take");
const inside = (now, item) => now.trail.filter(([each]) => each === item).reduce((sum, [, many]) => sum + many, 0);
const lacking = (now) => now.lines.filter((line) => inside(now, line.item) < line.want);

// --- Sending ---

async function send() {
  if (sending) return;
  sending = true;
  try {
    do await sendSome(waiting().slice(0, AT_ONCE)); while (waiting().length > 0);
    reached = true;
  } catch {
    reached = false;
    setTimeout(send, AGAIN);
  } finally {
    sending = false;
    show();
  }
}

async function sendSome(some) {
  const acts = some.map(({ name, at, bad, ...one }) => ({ ...one, ago: Math.max(0, Date.now() - at) }));
  const answer = await fetch(address, {
    method: "POST",
    headers: { "Content-Type": "application/json", "X-CSRFToken": csrf },
    body: JSON.stringify({ acts }),
    redirect: "manual",
    signal: AbortSignal.timeout(PATIENCE),
  });
  letIn = !(answer.type === "opaqueredirect" || [401, 403].includes(answer.status));
  if (answer.status === 400 && some.length > 0) return unreadable(some);
  if (!answer.ok) throw new Error(answer.status);
  hear(await answer.json(), some);
}

// One act that cannot be read must not hold up the others.
async function unreadable(some) {
  if (some.length > 1) for (const one of some) await sendSome([one]);
  else {
    drop([some[0].name]);
    stop("One scan could not be read by the server and was left out. Look at the box again.");
  }
}

function hear(said, some) {
  const answers = new Map(said.answers.map((one) => [one.id, one]));
  drop(some.map((one) => one.name));
  ({ hand, last } = said);
  wave(said.wave);
  for (const one of some) answered(one, answers.get(one.id));
  if (String(said.plan) !== plan && waiting().length === 0) location.reload();
}

function answered(sent, answer) {
  if (answer?.done) {
    if (sent.act === "take") taken(hand);
    return;
  }
  if (sent.act === "take") later = [];
  stop(answer?.said ?? "This did not count. Look at the box again.", answer?.asks ? { ...sent, version: answer.asks } : null);
}

function taken(now) {
  good(now ? `${now.code} is in hand.` : "");
  show();
  for (const text of later.splice(0)) scanned(text);
}

// --- Marks and sounds ---

let sounds = null;

function sound(notes, shape) {
  try {
    sounds ??= new AudioContext();
    notes.forEach(([pitch, from, long]) => {
      const tone = sounds.createOscillator();
      const volume = sounds.createGain();
      tone.type = shape;
      tone.frequency.value = pitch;
      volume.gain.value = LOUD;
      tone.connect(volume).connect(sounds.destination);
      tone.start(sounds.currentTime + from);
      tone.stop(sounds.currentTime + from + long);
    });
  } catch { /* a tablet without sound still shows the mark */ }
}

let asks = null; // an act that waits for somebody to look at the slip

function mark(kind, text) {
  $("mark").className = `mark-box ${kind}`;
  $("mark").textContent = text;
}

function good(text) {
  asks = null;
  mark("good", text);
  sound([[1046, 0, 0.08]], "sine");
}

function finished(text) {
  mark("good", text);
  sound([[784, 0, 0.1], [1175, 0.12, 0.18]], "sine");
}

function stop(text, again = null) {
  asks = again;
  mark("stop", text);
  sound([[196, 0, 0.22], [147, 0.28, 0.34]], "square");
  show();
}

// --- Scans ---

const LETTERS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";

// ISO/IEC 7064, MOD 37,36: the check character that every box code ends with.
function fits(code) {
  let carry = 36;
  for (const letter of code.slice(0, -1)) carry = (((carry + LETTERS.indexOf(letter)) % 36 || 36) * 2) % 37;
  return (carry + LETTERS.indexOf(code.at(-1))) % 36 === 1;
}

function boxCode(text) {
  const code = text.replace(/\/\s*\d{1,6}$/, "").replace(/[\s-]/g, "");
  return /^[0-9A-Z]*\d{10,}[0-9A-Z]$/.test(code) && fits(code) ? code : null;
}

let before = { text: "", at: 0 }; // until somebody does anything else

function scan(text) {
  const plain = text.trim().toUpperCase();
  const at = Date.now();
  if (plain === "") return;
  if (plain === before.text && at - before.at < SAME) return mark("", "The same code again at once: it counts as one scan.");
  before = { text: plain, at };
  scanned(plain);
}

function scanned(text) {
  if (asked()) return putLater(text);
  const now = box();
  const item = (isOpen(now) && now.lines.find((line) => line.code === text)) || items[text];
  if (!isOpen(now)) return item ? stop(`Scan the box first, then ${item.name}.`) : take(text);
  if (now.wrong) return stop(`Take ${now.wrong} out first.`);
  if (item) return add(now, item);
  const code = boxCode(text);
  if (code === null) return unknown(text);
  if (code === now.code) return close(now);
  if (lacking(now).length === 0 && now.weighing === null) {
    close(now);
    return take(text);
  }
  return stop(`${now.code} is in hand: close it, or put it back first.`);
}

function putLater(text) {
  if (later.length >= MOST_LATER) return stop("Too many scans at once. Wait until the box is shown.");
  later.push(text);
  return mark("", "This scan waits for its box.");
}

function unknown(text) {
  const shown = text.length > 40 ? `${text.slice(0, 40)}…` : text;
  stop(`“${shown}” is neither a box nor an item of this month. Scan it again, or type it as it is printed.`);
}

function take(text) {
  if (boxCode(text) === null) return unknown(text);
  mark("", "Asking for this box …");
  return act("take", 0, { code: text });
}

function add(now, item) {
  const line = now.lines.find((one) => one.item === item.item);
  const bad = !line || inside(now, line.item) >= line.want;
  act("add", now.serial, { item: item.item, count: 1, note: item.name, ...(bad && { bad }) });
  if (!line) return stop(`Wrong: ${item.name} does not belong in this box. Take it out.`);
  if (bad) return stop(`One too many: ${item.name}. Take it out.`);
  return putIn(line);
}

function putIn(line) {
  const now = box();
  const rest = lacking(now);
  if (rest.length > 0) return good(`${line.name}: ${inside(now, line.item)} of ${line.want}`);
  return finished(now.weighing ? "All is in. Weigh the box." : "All is in. Close the box.");
}

function tick(item) {
  const now = box();
  if (!isOpen(now)) return;
  if (now.wrong) return stop(`Take ${now.wrong} out first.`);
  const line = now.lines.find((one) => one.item === item);
  const left = line.want - inside(now, item);
  act(left > 0 ? "add" : "out", now.serial, { item, count: Math.max(left, 1), note: line.name });
  if (left > 0) putIn(line);
  else mark("", `${line.name} is taken out again.`);
}

// --- Closing ---

function tenths(text) {
  const found = /^\s*(\d{1,6})(?:[.,](\d))?\s*g?\s*$/i.exec(text);
  return found ? Number(found[1]) * 10 + Number(found[2] ?? 0) : null;
}

const grams = (weight) => (weight / 10).toLocaleString("en-GB", { maximumFractionDigits: 1 });

function close(now) {
  if (now.wrong) return stop(`Take ${now.wrong} out first.`);
  const rest = lacking(now);
  if (rest.length > 0) return stop(`Missing: ${rest.map((line) => `${line.want - inside(now, line.item)} × ${line.name}`).join(", ")}`);
  const weight = now.weighing ? tenths($("grams").value) : null;
  if (now.weighing) {
    const [from, to] = now.weighing;
    const between = `it must be ${grams(from)} to ${grams(to)} g`;
    if (weight === null) {
      $("grams").focus();
      return stop(`Type the weight in grams, such as ${grams(from)}: ${between}.`);
    }
    if (weight < from) return stop(`Too light by ${grams(from - weight)} g: ${between}. What is missing?`);
    if (weight > to) return stop(`Too heavy by ${grams(weight - to)} g: ${between}. What is too much?`);
  }
  act("close", now.serial, weight === null ? {} : { tenths: weight });
  $("grams").value = "";
  return finished(`${now.code} is closed.`);
}

function undo() {
  const now = box();
  if (asked()) return;
  const serial = now !== null && !now.left ? now.serial : last?.serial;
  if (serial === undefined) return;
  act("undo", serial);
  mark("", now !== null && now.wrong ? "It is taken out." : "Undone.");
}

function goods(kind, word) {
  const now = box();
  const many = Number($("gone-count").value);
  if (!isOpen(now) || !Number.isInteger(many) || many < 1) return stop("Write how many, such as 1.");
  const line = now.lines.find((one) => one.item === $("gone-item").value);
  act(kind, now.serial, { item: line.item, count: many });
  $("gone").open = false;
  $("gone-count").value = "1";
  return mark("", `${many} × ${line.name} is noted as ${word}.`);
}

// --- What is seen ---

let drawn = null; // serial of the box whose lines stand there

function show() {
  const now = box();
  const open = isOpen(now) && !asked();
  $("box").hidden = !open;
  $("leave").hidden = !open;
  $("taken-out").hidden = !(open && now.wrong);
  $("this-version").hidden = asks === null;
  $("this-version").textContent = asks ? `The slip says version ${asks.version}` : "";
  $("undo").disabled = Boolean(asked()) || !(open ? now.trail.length > 0 || now.wrong : (now && now.closed) || last);
  $("undo").textContent = open ? "Undo" : `Open ${now?.closed ? now.code : (last?.code ?? "the last box")} again`;
  waits();
  if (!open) drawn = null;
  else draw(now);
}

function draw(now) {
  $("box-code").textContent = now.code;
  $("box-whose").textContent = `${now.whose} (${now.reference})`;
  $("box-where").textContent = [now.where, now.carton].filter(Boolean).join(" · ");
  $("weighs").hidden = now.weighing === null;
  if (now.weighing) $("grams-hint").textContent = `From ${grams(now.weighing[0])} to ${grams(now.weighing[1])} g`;
  if (drawn !== now.serial) lay(now);
  drawn = now.serial;
  for (const button of $("lines").querySelectorAll("button")) {
    const line = now.lines.find((one) => one.item === button.dataset.item);
    const have = inside(now, line.item);
    button.setAttribute("aria-pressed", String(have >= line.want));
    button.querySelector(".tick-mark").textContent = have >= line.want ? "✓" : "";
    button.querySelector(".have").textContent = `${have} of ${line.want}`;
  }
}

function lay(now) {
  const part = (name, text = "") => {
    const made = document.createElement("span");
    made.className = name;
    made.textContent = text;
    return made;
  };
  const made = now.lines.map((line) => {
    const row = document.createElement("li");
    const button = document.createElement("button");
    button.type = "button";
    button.dataset.item = line.item;
    const name = part("name", line.name);
    name.append(" ", part("code", line.code));
    button.append(part("tick-mark"), name, part("have"));
    button.querySelector(".tick-mark").setAttribute("aria-hidden", "true");
    row.append(button);
    return row;
  });
  $("lines").replaceChildren(...made);
  const parcels = now.parcels.map((text) => Object.assign(document.createElement("li"), { textContent: text }));
  $("box-parcels").replaceChildren(...parcels);
  $("box-parcels").hidden = parcels.length === 0;
  $("gone-item").replaceChildren(...now.lines.map((line) => new Option(line.name, line.item)));
}

function wave(said) {
  if (!said) return;
  const time = (seconds) => new Date(seconds * 1000).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });
  $("wave-title").textContent = said.title;
  $("wave-done").textContent = `${said.done.toLocaleString("en-GB")} of ${said.boxes.toLocaleString("en-GB")}`;
  $("wave-left").textContent = said.left.toLocaleString("en-GB");
  $("wave-hourly").textContent = said.hourly ?? "–";
  $("wave-finish").textContent = said.finish ? time(said.finish) : said.left === 0 ? "now" : "–";
  $("wave-progress").max = Math.max(said.boxes, 1);
  $("wave-progress").value = said.done;
}

let toldAt = 0;

function waits() {
  const many = waiting().length;
  const scans = `${many} ${many === 1 ? "act waits" : "acts wait"} to be sent`;
  const kept = unkept.size > 0 ? " This browser keeps nothing: leave the page open." : "";
  const why = letIn ? "no network. Go on with the box in hand" : "nobody is signed in any more";
  $("waits").hidden = reached && letIn;
  $("waits").textContent = `${scans}: ${why}.${kept}`;
  if (!letIn) {
    const link = document.createElement("a");
    link.href = signIn;
    link.textContent = "Sign in again";
    $("waits").append(" ", link);
  }
  if (Date.now() - toldAt < 5000 || $("heard").textContent === (reached ? "" : scans)) return;
  toldAt = Date.now();
  $("heard").textContent = reached ? "" : scans;
}

// --- Hands and keys ---

const field = $("code");

function enter() {
  const text = field.value;
  field.value = "";
  scan(text);
}

$("scan").addEventListener("submit", (event) => {
  event.preventDefault();
  enter();
  field.focus();
});
field.addEventListener("keydown", (event) => {
  if (event.key !== "Tab" || event.shiftKey || field.value.trim() === "") return;
  event.preventDefault(); // some scanners end with Tab
  enter();
});
$("close").addEventListener("submit", (event) => {
  event.preventDefault();
  const now = box();
  if (!isOpen(now)) return;
  close(now);
  if (!isOpen(box())) field.focus();
});
$("lines").addEventListener("click", (event) => {
  const button = event.target.closest("button");
  if (button) tick(button.dataset.item);
});
$("taken-out").addEventListener("click", () => {
  const now = box();
  act("right", now.serial);
  mark("", "Go on.");
  field.focus();
});
$("this-version").addEventListener("click", () => {
  const { code, version } = asks;
  asks = null;
  act("take", 0, { code, version });
  field.focus();
});
$("undo").addEventListener("click", undo);
$("leave").addEventListener("click", () => {
  const now = box();
  act("leave", now.serial);
  mark("", `${now.code} is put back. Take out what is in it.`);
  field.focus();
});
$("damaged").addEventListener("click", () => goods("damaged", "damaged"));
$("missing").addEventListener("click", () => goods("missing", "missing"));
$("go").addEventListener("submit", (event) => {
  if (waiting().length === 0) return;
  event.preventDefault();
  stop("Acts wait to be sent. Sign out when they are.");
});
// A finger leaves the field, a scanner needs it; keys that move about stay where they are.
page.addEventListener("click", (event) => {
  if (!event.target.closest("#scan")) before = { text: "", at: 0 };
  if (event.detail > 0 && !event.target.closest("input, select, summary, a, .gone")) field.focus();
});
document.addEventListener("keydown", (event) => {
  const typing = event.target.closest?.("input, select, textarea");
  if (!typing && event.key.length === 1 && event.key !== " " && !event.ctrlKey && !event.metaKey && !event.altKey) field.focus();
});
window.addEventListener("online", send);
window.addEventListener("storage", show);
setInterval(() => { if (!document.hidden) send(); }, LOOK);
show();
send();
