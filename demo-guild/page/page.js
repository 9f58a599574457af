// The page of the demo guild: three phones of an invented home and the clock above them.
//
// It decides how things look and where focus goes, and keeps what a person has typed until it was
// taken. It decides nothing of the trade: commands, suggestions, answers and refusals come from the
// bot through the server (GET /page/home once, then frames on /page/live). It never reads this
// computer's clock for a time that people see: times are the home's. Text from outside enters the
// document as text nodes only.
'use strict';

// ---- Limits -------------------------------------------------------------------------------

const KEPT_MESSAGES_PER_CHANNEL = 300;
const ANSWER_WAIT_MS = 8000;            // the server says "failed" after 3 s; this is for a lost line
const WORKING_NOTE_MS = 60000;
const SUGGEST_PAUSE_MS = 120;
const BUZZ_MS = 900;
const CLOCK_GUESS_MAX_MS = 2500;        // how long the page carries the clock on without a frame
const FILE_BYTES_MAX = 1024 * 1024;
const SPOKEN_CHARS_MAX = 300;
const SPOKEN_MS = 10000;                // so long it stands there to be read out
const RECONNECT_MS = [500, 1000, 2000, 4000];
const STICK_TO_END_PX = 60;
const SHORT_CHOICE_CHARS = 14;            // suggestions up to this long stand side by side
const SPEEDS = [1, 60, 600];
const MINUTE_MS = 60000;
const CALLED = '@loftwatch';              // a line that begins so is read by the bot
const TOLD_MS = 6000;
const IN_USE_MS = 4000;                   // so long after a tap the card that was tapped stays in sight

// What each role opens most, first in the list of what can be logged. A chat client learns that; this page is new every time.
const OFTEN = {
  aide: ['round', 'handcheck', 'alarm', 'due', 'lookfirst', 'filter', 'clean', 'duty', 'help'],
  nurse: ['due', 'handcheck', 'place', 'release', 'setting', 'alarm', 'handover', 'duty', 'help'],
  supervisor: ['due', 'handover', 'team', 'timeline', 'match', 'hold', 'agency', 'report', 'help'],
  upkeep: ['due', 'clean', 'filter', 'surface', 'mix', 'return', 'service', 'stock', 'match', 'zones', 'pull', 'help'],
  admin: ['facility show', 'facility policy', 'fleet list', 'fleet cost', 'help'],
};

// Numbers of the platform's published interface.
const OPTION = { SUB: 1, GROUP: 2, TEXT: 3, INTEGER: 4, BOOLEAN: 5, USER: 6, CHANNEL: 7, ROLE: 8, MENTIONABLE: 9, NUMBER: 10, FILE: 11 };
const PART = { ROW: 1, BUTTON: 2, MENU: 3, USERS: 5, ROLES: 6, MENTIONABLES: 7, CHANNELS: 8, SECTION: 9, TEXT: 10, RULE: 14, BOX: 17 };
const BUTTON_LOOK = { 1: 'strong', 2: 'plain', 3: 'good', 4: 'grave', 5: 'plain' };

// ---- What the page knows ------------------------------------------------------------------

const home = {
  name: '', people: new Map(), roles: new Map(), channels: new Map(), names: new Map(),
  commands: [], messages: new Map(), botUp: null,
  clock: { now: 0, rate: 0, zone: 'UTC', next: null, held: false }, clockReceived: 0, speed: 60,
};
const phones = [];
let activePhone = null;                 // the one last touched; it is read aloud
const unread = new Map();               // "person|channel" -> { count, called }
const drafts = new Map();               // "person|sheet" -> what was typed and not yet taken
const lines = new Map();                // person -> the line they have begun
const recent = new Map();               // person -> command names, newest first
const sent = new Map();                 // "person|/command" -> what its sheet held when it was sent last
const sentForms = new Map();            // person -> { form, draft, opener } sent last and not answered yet
const askedBy = new Map();              // message id -> { person, name or form and opener, draft } of what it answers

// ---- Small helpers ------------------------------------------------------------------------

const byId = (id) => document.getElementById(id);
const slug = (text) => String(text).trim().toLowerCase().replace(/\s+/g, '-');
const channelLabel = (channel) => (channel ? channel.name.replace(/-/g, ' ') : 'a channel');
const sentenceCase = (text) => text.charAt(0).toUpperCase() + text.slice(1);
const optionLabel = (name) => sentenceCase(name.replace(/[-_]/g, ' '));
let counter = 0;
const fresh = (prefix) => `${prefix}-${++counter}`;

/** Makes an element. `attrs`: `class`, `test`, `on` (listeners), anything else an attribute; false and null are left out. */
function el(tag, attrs = {}, ...children) {
  const node = document.createElement(tag);
  for (const [key, value] of Object.entries(attrs)) {
    if (value === false || value === null || value === undefined) continue;
    if (key === 'on') for (const [event, run] of Object.entries(value)) node.addEventListener(event, run);
    else if (key === 'test') node.dataset.test = value;
    else node.setAttribute(key, value === true ? '' : value);
  }
  node.append(...children.filter((child) => child !== null && child !== undefined && child !== false));
  return node;
}

/** Shows or hides a sentence of trouble. */
function say(node, text) {
  node.textContent = text || '';
  node.hidden = !text;
}

/** A link target from a message, or null where it is not plain http(s). */
function safeUrl(text) {
  try {
    const url = new URL(text, location.href);
    return url.protocol === 'http:' || url.protocol === 'https:' ? url.href : null;
  } catch { return null; }
}

/** Text in the person's language where the registration carries one. */
function localized(thing, key, person) {
  const table = thing[`${key}_localizations`];
  return (table && person && table[person.locale]) || thing[key] || '';
}

/** Says it to who listens. A sentence of its own each time: one that takes another's place may never be read. */
function speak(text) {
  const said = el('p', {}, text.slice(0, SPOKEN_CHARS_MAX));
  byId('spoken').append(said);
  setTimeout(() => said.remove(), SPOKEN_MS);
}

// ---- Time ---------------------------------------------------------------------------------

/** The home's time now, in ms: the last frame carried on at the clock's rate. */
function demoNow() {
  const passed = Math.min(performance.now() - home.clockReceived, CLOCK_GUESS_MAX_MS);
  // While the chat is waited for it runs no faster than this computer's.
  return home.clock.now + passed * (home.clock.held ? Math.min(1, home.clock.rate) : home.clock.rate);
}

const formats = new Map();
function timeText(ms, options, locale = 'en-US') {
  const key = JSON.stringify([locale, home.clock.zone, options]);
  if (!formats.has(key)) formats.set(key, new Intl.DateTimeFormat(locale, { timeZone: home.clock.zone, ...options }));
  return formats.get(key).format(ms);
}
const CLOCK_FACE = { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' };
const LONG_DAY = { weekday: 'long', month: 'long', day: 'numeric' };
const SHORT_DAY = { weekday: 'short', month: 'short', day: 'numeric', year: 'numeric' };
const STAMP_STYLES = {
  t: CLOCK_FACE,
  T: { ...CLOCK_FACE, second: '2-digit' },
  d: { year: 'numeric', month: '2-digit', day: '2-digit' },
  D: { year: 'numeric', month: 'long', day: 'numeric' },
  f: { year: 'numeric', month: 'long', day: 'numeric', ...CLOCK_FACE },
  F: { weekday: 'long', year: 'numeric', month: 'long', day: 'numeric', ...CLOCK_FACE },
};

function awayText(ms, locale, style = 'long') {
  const units = [['day', 86400000], ['hour', 3600000], ['minute', MINUTE_MS], ['second', 1000]];
  const away = ms - demoNow();
  const [unit, size] = units.find(([, length]) => Math.abs(away) >= length) || units[3];
  return new Intl.RelativeTimeFormat(locale, { numeric: 'auto', style }).format(Math.round(away / size), unit);
}

function stampText(ms, style, locale) {
  return style === 'R' ? awayText(ms, locale) : timeText(ms, STAMP_STYLES[style] || STAMP_STYLES.f, locale);
}

// ---- Message text: the platform's markdown subset, built as nodes -------------------------

/** Turns message text into nodes. `view` is { person, openCommand(name), openChannel(id) }. */
function markdown(text, view) {
  const out = document.createDocumentFragment();
  const lines = text.split('\n');
  let paragraph = null;
  for (let i = 0; i < lines.length; i += 1) {
    const line = lines[i];
    const fence = line.match(/^```(.*)$/);
    const heading = line.match(/^(#{1,3}) +(.+)$/);
    const small = line.match(/^-# +(.+)$/);
    if (fence) {
      paragraph = null;
      const oneLine = fence[1].match(/^(.*)```\s*$/);
      const code = oneLine ? [oneLine[1]] : [];
      if (!oneLine) {
        if (fence[1] && !/^[\w+-]*$/.test(fence[1])) code.push(fence[1]);
        for (i += 1; i < lines.length && !/```\s*$/.test(lines[i]); i += 1) code.push(lines[i]);
        if (i < lines.length && lines[i].trim() !== '```') code.push(lines[i].replace(/```\s*$/, ''));
      }
      out.append(el('pre', {}, el('code', {}, code.join('\n'))));
    } else if (heading) {
      paragraph = null;
      out.append(el('p', { class: `h h${heading[1].length}`, role: 'heading', 'aria-level': 3 }, inline(heading[2], view)));
    } else if (small) {
      paragraph = null;
      out.append(el('p', { class: 'small' }, inline(small[1], view)));
    } else if (/^>>> /.test(line)) {
      out.append(el('blockquote', {}, markdown([line.slice(4), ...lines.slice(i + 1)].join('\n'), view)));
      return out;
    } else if (/^> ?/.test(line) && line.startsWith('>')) {
      paragraph = null;
      const quoted = [];
      for (; i < lines.length && /^>( |$)/.test(lines[i]); i += 1) quoted.push(lines[i].replace(/^> ?/, ''));
      if (quoted.length === 0) { out.append(el('p', {}, inline(line, view))); continue; }
      i -= 1;
      out.append(el('blockquote', {}, markdown(quoted.join('\n'), view)));
    } else if (LIST_LINE.test(line)) {
      paragraph = null;
      const items = [];
      for (; i < lines.length && LIST_LINE.test(lines[i]); i += 1) items.push(lines[i].match(LIST_LINE));
      i -= 1;
      out.append(list(items, view));
    } else if (line.trim() === '') {
      paragraph = null;
    } else if (paragraph) {
      paragraph.append(el('br'), inline(line, view));
    } else {
      paragraph = el('p', {}, inline(line, view));
      out.append(paragraph);
    }
  }
  return out;
}

const LIST_LINE = /^( *)([-*]|\d{1,4}\.) +(.+)$/;

function list(items, view) {
  const depth = items[0][1].length;
  const ordered = /\d/.test(items[0][2]);
  const node = el(ordered ? 'ol' : 'ul', ordered ? { start: parseInt(items[0][2], 10) } : {});
  for (let i = 0; i < items.length; i += 1) {
    const item = el('li', {}, inline(items[i][3], view));
    const inner = [];
    while (i + 1 < items.length && items[i + 1][1].length > depth) inner.push(items[i += 1]);
    if (inner.length) item.append(list(inner, view));
    node.append(item);
  }
  return node;
}

const INLINE = new RegExp([
  /\\([\\*_~`|<>#\-.!()[\]@/])/,                 // 1 escaped sign
  /(`+)([\s\S]*?[^`])\2(?!`)/,                    // 2,3 code
  /\*\*([\s\S]+?)\*\*(?!\*)/,                     // 4 bold
  /__([\s\S]+?)__/,                               // 5 underlined
  /~~([\s\S]+?)~~/,                               // 6 struck
  /\|\|([\s\S]+?)\|\|/,                           // 7 covered
  /\*(?=\S)([^*]+?)\*/,                           // 8 italic
  /\b_(?=\S)([^_]+?)_\b/,                         // 9 italic
  /<t:(-?\d{1,14})(?::([tTdDfFR]))?>/,            // 10,11 time
  /<(@&|@!?|#)(\d{1,20})>/,                       // 12,13 mention
  /<\/([^:<>\n]{1,100}):\d{1,20}>/,               // 14 command
  /\[([^\]\n]+)\]\(<?(https?:\/\/[^\s)>]+)>?\)/,  // 15,16 named link
  /<?(https?:\/\/[^\s<>]+[^\s<>.,;:!?)])>?/,      // 17 bare link
  /\b([A-Z]{1,4}-\d{1,6}(?: \([^()\n]{1,12}\))?)/, // 18 a label, kept on one line
].map((part) => part.source).join('|'), 'g');

function inline(text, view) {
  const out = document.createDocumentFragment();
  let from = 0;
  for (const m of text.matchAll(INLINE)) {
    if (m.index > from) out.append(text.slice(from, m.index));
    from = m.index + m[0].length;
    out.append(inlineNode(m, view));
  }
  if (from < text.length) out.append(text.slice(from));
  return out;
}

function inlineNode(m, view) {
  if (m[1] !== undefined) return m[1];
  if (m[3] !== undefined) return el('code', {}, m[3].trim() || m[3]);
  if (m[4] !== undefined) return el('strong', {}, inline(m[4], view));
  if (m[5] !== undefined) return el('u', {}, inline(m[5], view));
  if (m[6] !== undefined) return el('s', {}, inline(m[6], view));
  if (m[7] !== undefined) return el('details', { class: 'covered' }, el('summary', {}, 'show'), inline(m[7], view));
  if (m[8] !== undefined) return el('em', {}, inline(m[8], view));
  if (m[9] !== undefined) return el('em', {}, inline(m[9], view));
  if (m[10] !== undefined) {
    const ms = Number(m[10]) * 1000;
    if (Math.abs(ms) > 8.64e15) return m[0];
    const style = m[11] || 'f';
    const locale = view.person.locale;
    return el('time', { class: 'stamp-time', datetime: new Date(ms).toISOString(), title: stampText(ms, 'F', locale), 'data-ms': ms, 'data-style': style, 'data-locale': locale }, stampText(ms, style, locale));
  }
  if (m[12] !== undefined) return mention(m[12], m[13], view);
  if (m[14] !== undefined) return el('button', { type: 'button', class: 'inline-command', on: { click: () => view.openCommand(m[14]) } }, `/${m[14]}`);
  if (m[18] !== undefined) return el('span', { class: 'unbroken' }, m[18]);
  const url = safeUrl(m[16] || m[17]);
  return url ? el('a', { href: url, target: '_blank', rel: 'noopener noreferrer' }, m[15] || m[17]) : m[0];
}

function mention(kind, id, view) {
  if (kind === '#') {
    const channel = home.channels.get(id);
    if (!channel || !channel.readers.includes(view.person.id)) return el('span', { class: 'mention' }, channelLabel(channel));
    return el('button', { type: 'button', class: 'inline-command', on: { click: () => view.openChannel(id) } }, channelLabel(channel));
  }
  if (kind === '@&') {
    const mine = view.person.roles.includes(id);
    return el('span', { class: mine ? 'mention mine' : 'mention' }, (home.roles.get(id) || { name: 'a role' }).name);
  }
  return el('span', { class: id === view.person.id ? 'mention mine' : 'mention' }, home.names.get(id) || 'someone');
}

// ---- Commands -----------------------------------------------------------------------------

/** What can be run, subcommands each by themselves: { path, name, description, options }. */
function runnable(person) {
  const out = [];
  const add = (path, thing) => {
    const inner = (thing.options || []).filter((o) => o.type === OPTION.SUB || o.type === OPTION.GROUP);
    if (inner.length) for (const o of inner) add([...path, { name: o.name, type: o.type }], o);
    else out.push({ path, name: path.map((p) => p.name).join(' '), description: localized(thing, 'description', person), options: thing.options || [] });
  };
  for (const command of home.commands) if ((command.type || 1) === 1) add([{ name: command.name }], command);
  return [...out.filter((c) => c.path.length === 1), ...out.filter((c) => c.path.length > 1)];   // families last
}

/** The options as the platform nests them under subcommands. */
function nested(path, options) {
  return path.slice(1).reduceRight((inner, step) => [{ name: step.name, type: step.type, options: inner }], options);
}

// ---- A phone ------------------------------------------------------------------------------

class Phone {
  constructor(n, personId) {
    this.n = n;
    this.lastChannel = new Map();       // person -> channel
    this.rows = new Map();              // message id -> row of the open channel
    this.folders = new Map();           // channel -> its button
    this.sheet = null;
    this.owed = [];                     // what to forget once a put-off answer comes
    this.build();
    this.setPerson(personId);
  }

  get person() { return home.people.get(this.personId); }

  build() {
    const pick = fresh('person');
    this.picker = el('select', { id: pick, test: 'person-switch', on: { change: () => { this.setPerson(this.picker.value); } } });
    this.role = el('span', { class: 'role' });
    this.channels = el('div', { class: 'folders', role: 'group' });
    this.log = el('div', { class: 'log', role: 'log', 'aria-live': 'off', tabindex: '0', test: 'log', on: { scroll: () => this.scrolled() } });
    this.pinned = true;                 // the newest entry stays in sight
    this.top = 0;
    new ResizeObserver(() => { if (this.pinned) this.toEnd(); }).observe(this.log);
    this.below = el('button', { type: 'button', class: 'below', hidden: true, on: { click: () => this.toEnd() } });
    this.working = el('p', { class: 'working', role: 'status', test: 'working', hidden: true });
    this.note = el('p', { class: 'working', role: 'status', test: 'note', hidden: true });
    this.trouble = el('p', { class: 'trouble', role: 'alert', test: 'trouble', hidden: true });
    this.nowAt = el('span', { class: 'at', 'aria-hidden': 'true' });
    this.line = el('input', { class: 'line', type: 'text', maxlength: '2000', autocomplete: 'off', test: 'say', on: { input: () => this.typed() } });
    this.write = el('button', { type: 'submit', class: 'write plain', test: 'write', hidden: true });
    this.logButton = el('button', { type: 'button', class: 'log-button strong', test: 'log-button', 'aria-haspopup': 'dialog', on: { click: () => this.openCommands('') } });
    this.sheetSpace = el('div', { class: 'sheet-space', hidden: true, on: { click: (e) => { if (e.target === this.sheetSpace) this.closeSheet(); } } });
    this.heading = el('h2', { class: 'unseen' });
    this.holder = el('label', { for: pick, class: 'holder-label' });
    this.inside = el('div', { class: 'inside' }, this.heading,
      el('div', { class: 'holder' }, this.holder, this.picker, this.role),
      this.channels,
      el('div', { class: 'paper' },
        this.log, this.below, this.working, this.note, this.trouble,
        el('form', { class: 'compose', on: { submit: (e) => { e.preventDefault(); this.sendLine(); } } }, this.nowAt, this.line, this.write)),
      this.logButton);
    this.el = el('section', { class: 'phone', test: `phone-${this.n}`, on: { focusin: () => { activePhone = this; }, pointerdown: () => { activePhone = this; } } }, this.inside, this.sheetSpace);
    this.tab = el('button', { type: 'button', test: `tab-${this.n}`, on: { click: () => showPhone(this) } });
  }

  /** A sentence of the page in the language of whoever holds the phone. */
  words(english, filled) { return inWords(this.person, english, filled); }

  /** The words of the frame, which change with whoever holds the phone. */
  label() {
    this.el.lang = speaksSpanish(this.person) ? 'es' : 'en';
    this.holder.textContent = this.words('Phone of');
    this.channels.setAttribute('aria-label', this.words('Channels'));
    this.below.textContent = this.words('New entries below');
    this.write.textContent = this.words('Write');
    this.logButton.textContent = this.words('Log something');
    this.line.setAttribute('placeholder', this.words('{} LW-07 beeping, or /', CALLED));
    this.line.setAttribute('aria-label', this.words('Write a line. What begins with {} is read by loftwatch; a slash opens the list of what you can log.', CALLED));
    this.heading.textContent = this.words("{}'s phone", this.person.name);
    this.role.textContent = this.words(this.person.role);
    this.el.setAttribute('aria-label', `${this.heading.textContent}, ${this.role.textContent}`);
  }

  setPerson(id) {
    if (this.sheet) this.closeSheet();
    if (this.personId) lines.set(this.personId, this.line.value);
    this.personId = id;
    this.putLine(lines.get(id) || '');
    const people = [...home.people.values()];
    this.picker.replaceChildren(...[...new Set(people.map((p) => p.role))].map((role) =>
      el('optgroup', { label: this.words(role) }, ...people.filter((p) => p.role === role).map((p) => el('option', { value: p.id }, p.name)))));
    this.picker.value = id;
    this.label();
    this.working.hidden = true;
    say(this.trouble, '');
    const readable = this.readable();
    const last = readable.find((c) => c.id === this.lastChannel.get(id));
    this.setChannel((last || ownChannel(this.person) || { id: null }).id);
  }

  readable() { return [...home.channels.values()].filter((c) => c.readers.includes(this.personId)); }

  setChannel(id) {
    this.channelId = id;
    this.lastChannel.set(this.personId, id);
    unread.delete(`${this.personId}|${id}`);
    say(this.trouble, '');
    this.drawLog();
    drawMarks();
  }

  /** A channel's button. It stays the same one, since a tap on a button that is replaced under the finger is lost. */
  folder(channel) {
    if (!this.folders.has(channel.id)) {
      this.folders.set(channel.id, el('button', { type: 'button', test: `channel-${channel.name}`, on: { click: () => this.setChannel(channel.id) } }));
    }
    return this.folders.get(channel.id);
  }

  drawChannels() {
    const readable = this.readable();
    for (const [id, folder] of this.folders) if (!readable.some((c) => c.id === id)) { folder.remove(); this.folders.delete(id); }
    readable.forEach((c, i) => {
      const mark = unread.get(`${this.personId}|${c.id}`);
      const open = c.id === this.channelId;
      const folder = this.folder(c);
      if (this.channels.children[i] !== folder) this.channels.insertBefore(folder, this.channels.children[i] || null);
      folder.className = open ? 'folder open' : 'folder';
      folder.setAttribute('aria-pressed', String(open));
      folder.replaceChildren(channelLabel(c),
        mark ? el('span', { class: mark.called ? 'mark called' : 'mark', test: 'unread' }, mark.called ? this.words('calls you') : String(mark.count), mark.called ? '' : el('span', { class: 'unseen' }, this.words(' new'))) : '');
    });
    const marks = this.readable().map((c) => unread.get(`${this.personId}|${c.id}`)).filter(Boolean);
    const count = marks.reduce((sum, m) => sum + m.count, 0);
    const called = marks.some((m) => m.called) || this.calledUnseen;
    this.tab.replaceChildren(this.person.name.split(' ')[0], el('small', {}, this.words(this.person.role)),
      (count || called) ? el('span', { class: called ? 'mark called' : 'mark' }, called ? this.words('calls you') : this.words('{} new', String(count))) : '');
  }

  // -- The log

  drawLog() {
    this.rows.clear();
    this.lastDay = null;
    this.log.replaceChildren();
    this.below.hidden = true;
    for (const message of home.messages.get(this.channelId) || []) if (this.sees(message)) this.append(message);
    if (!this.rows.size) this.log.append(el('p', { class: 'blank' }, this.words(this.channelId ? 'Nothing is written here yet.' : 'This person reads no channel.')));
    this.log.setAttribute('aria-label', this.words('Entries in {}', channelLabel(home.channels.get(this.channelId))));
    this.toEnd();
  }

  /** Draws the open channel anew for somebody who reads it: what they have before them stays there. */
  redrawLog() {
    const { pinned } = this;
    const { scrollTop } = this.log;
    const focused = this.log.contains(document.activeElement) ? this.placeOf(document.activeElement) : null;
    const top = [...this.rows].find(([, row]) => row.offsetTop + row.offsetHeight > scrollTop);
    const inset = top ? scrollTop - top[1].offsetTop : 0;
    const newest = [...this.rows.keys()].pop();
    this.drawLog();
    const row = top && this.rows.get(top[0]);
    if (!pinned && row) {
      this.pinned = false;
      this.log.scrollTop = row.offsetTop + inset;
      this.below.hidden = [...this.rows.keys()].pop() === newest;
    }
    const again = this.inPlace(focused);
    if (again) again.focus({ preventScroll: true });
  }

  sees(message) { return !message.ephemeral_for || message.ephemeral_for === this.personId; }

  append(message) {
    const blank = this.log.querySelector('.blank');
    if (blank) blank.remove();
    const day = timeText(message.at, LONG_DAY, this.person.locale);
    if (day !== this.lastDay) this.log.append(el('p', { class: 'day' }, el('span', {}, day)));
    this.lastDay = day;
    const row = this.row(message);
    this.rows.set(message.id, row);
    this.log.append(row);
    return row;
  }

  add(message) {
    // What others get must not push away the card that somebody is tapping: its buttons would stand under their thumb.
    const busy = this.cardInUse() && !message.ephemeral_for && message.author.id !== this.personId;
    const follow = !busy && (this.pinned || message.author.id === this.personId || message.ephemeral_for);
    if (message.ephemeral_for) this.inUse = null;      // the answer itself is what is wanted now
    const row = this.append(message);
    row.classList.add('fresh');
    if (!follow) { this.pinned = false; this.below.hidden = false; }
    else if (row.offsetHeight > this.log.clientHeight) { this.pinned = false; this.log.scrollTop = row.offsetTop; }   // read from its head
    else this.toEnd();
    if (activePhone === this) speak(`${message.author.name}: ${row.querySelector('.text').textContent}`);
    if (message.author.bot) this.answered();
  }

  replace(message) {
    const old = this.rows.get(message.id);
    if (!old) return;
    const stuck = this.pinned;
    const focused = old.contains(document.activeElement) ? this.placeOf(document.activeElement) : null;
    const row = this.row(message);
    row.classList.add('fresh');
    old.replaceWith(row);
    this.rows.set(message.id, row);
    if (focused) this.inPlace(focused).focus({ preventScroll: true });
    const used = this.cardInUse() === row;
    if (used) this.inUse.until = performance.now() + IN_USE_MS;
    if (stuck) this.toEnd();
    if (used && (row.offsetTop < this.log.scrollTop || row.offsetTop + row.offsetHeight > this.log.scrollTop + this.log.clientHeight)) {
      this.pinned = false;                // what was asked for is above what came since
      this.log.scrollTop = Math.min(row.offsetTop, Math.max(0, row.offsetTop + row.offsetHeight - this.log.clientHeight));
    } else if (!stuck && focused) row.scrollIntoView({ block: row.offsetHeight > this.log.clientHeight ? 'end' : 'nearest' });   // the next question of a card in use
    if (activePhone === this) speak(`Changed. ${row.querySelector('.text').textContent}`);
    if (message.author.bot) this.answered();
  }

  /** What was put off is answered: its note goes, and what was typed for it need not be kept. */
  answered() {
    this.working.hidden = true;
    for (const forget of this.owed.splice(0)) forget();
  }

  /** Where something of an entry stands, so that it is found again when the entry was drawn anew. */
  placeOf(node) {
    const row = node.closest('[data-id]');
    return row && { id: row.dataset.id, test: node.dataset.test };
  }

  /** What stands there now: the same again, else the first button of the entry, else the entry. */
  inPlace(place) {
    const row = place && this.rows.get(place.id);
    if (!row) return null;
    const same = place.test && row.querySelector(`[data-test="${CSS.escape(place.test)}"]:not(:disabled)`);
    return same || row.querySelector('.parts button:not(:disabled)') || row;
  }

  remove(id) {
    const row = this.rows.get(id);
    if (row) row.remove();
    this.rows.delete(id);
  }

  row(message) {
    const view = { person: this.person, openCommand: (name) => this.openNamed(name), openChannel: (id) => this.setChannel(id) };
    const author = home.people.get(message.author.id);
    const mine = callsPerson(message, this.person);
    const calls = whomCalled(message, this.person);
    const marks = [message.ephemeral_for && this.words('only you see this'), message.edited && this.words('changed {}', timeText(message.edited, CLOCK_FACE))].filter(Boolean);
    const trouble = el('p', { class: 'trouble', role: 'alert', hidden: true });
    const parts = el('div', { class: 'parts' }, ...(message.components || []).map((part) => this.part(part, message, view, trouble)));
    const empty = ![message.content, ...(message.components || []), ...(message.embeds || []), ...(message.attachments || [])].some(Boolean);
    const classes = ['entry', message.author.bot ? 'of-bot' : 'of-person', message.ephemeral_for && 'private', mine && 'mine'].filter(Boolean);
    return el('article', { class: classes.join(' '), tabindex: '-1', test: 'message', 'data-id': message.id },
      el('time', { class: 'at', datetime: new Date(message.at).toISOString() }, timeText(message.at, CLOCK_FACE)),
      el('div', { class: 'body' },
        el('p', { class: 'head' },
          el('span', { class: 'who' }, message.author.name), author ? el('span', { class: 'role' }, this.words(author.role)) : '',
          mine ? el('span', { class: 'ping', test: 'ping' }, calls ? this.words('calls you: {}', calls) : this.words('calls you')) : calls ? el('span', { class: 'ping other' }, this.words('calls {}', calls)) : ''),
        message.reply_to_command ? el('p', { class: 'asked' }, this.words('after '), el('code', {}, message.reply_to_command), this.again(message))
          : askedBy.has(message.id) ? el('p', { class: 'asked' }, this.again(message)) : '',
        el('div', { class: 'text' }, empty ? el('p', { class: 'marks' }, this.words('working on it …')) : markdown(message.content || '', view)),
        ...(message.embeds || []).map((card) => this.card(card, view)),
        ...(message.attachments || []).map((file) => this.attachment(file)),
        parts.childElementCount ? parts : '',
        trouble,
        marks.length ? el('p', { class: 'marks' }, marks.join(' · ')) : ''));
  }

  /** Opens what an answer belongs to with what was typed for it: a refused line need not be typed twice. */
  again(message) {
    const asked = askedBy.get(message.id);
    if (!asked || asked.person !== this.personId) return '';
    // What has a next step on it was taken: only what was refused is filled in again.
    if ((message.components || []).length) return '';
    const command = !asked.form && runnable(this.person).find((c) => c.name === asked.name);
    if (!command && !asked.form) return '';
    const open = () => {
      drafts.set(asked.form ? formKey(this.personId, asked.form) : `${this.personId}|/${command.name}`, asked.draft);
      // A form is sent once: the button that opened it opens a new one.
      if (asked.form) ask(asked.opener, this, { failed: (why) => say(this.trouble, why) });
      else this.openCommand(command, []);
    };
    return el('button', { type: 'button', class: 'inline-command again', test: 'again', on: { click: open } }, this.words('fill in again'));
  }

  /** The platform's framed card inside a message. */
  card(card, view) {
    const words = (text, tag, of) => (text ? el(tag, { class: of }, markdown(text, view)) : '');
    return el('div', { class: 'box text' }, words(card.title, 'strong'), words(card.description, 'div'),
      ...(card.fields || []).map((f) => el('div', {}, words(f.name, 'strong'), words(f.value, 'div'))),
      words(card.footer && card.footer.text, 'div', 'small'));
  }

  attachment(file) {
    const url = safeUrl(file.url);
    if (!url) return el('p', { class: 'file' }, file.name);
    if (!/\.(png|jpe?g|gif|webp)$/i.test(file.name)) {
      return el('p', { class: 'file' }, el('a', { href: url, target: '_blank', rel: 'noopener noreferrer', test: 'attachment' }, file.name), ` ${sizeText(file.size)}`);
    }
    const stay = () => { if (this.pinned) this.toEnd(); };
    const size = file.width && file.height ? { width: file.width, height: file.height } : {};
    const picture = el('img', { src: url, alt: file.text || `Picture: ${file.name}`, loading: 'eager', ...size, on: { load: stay } });
    const link = el('a', { href: url, target: '_blank', rel: 'noopener noreferrer', test: 'attachment' }, picture);
    if (!file.text) return el('figure', { class: 'picture' }, link);
    // What opens the words is in the language of the phone, as they are.
    const opens = el('summary', {}, this.words('the picture in words'));
    return el('figure', { class: 'picture' }, link,
      el('details', { test: 'in-words', on: { toggle: stay } }, opens, el('p', {}, file.text)));
  }

  part(part, message, view, trouble) {
    const inner = () => (part.components || []).map((p) => this.part(p, message, view, trouble));
    switch (part.type) {
      case PART.ROW: return el('div', { class: 'part-row' }, ...inner());
      case PART.BUTTON: return this.button(part, message, trouble);
      case PART.MENU: case PART.USERS: case PART.ROLES: case PART.MENTIONABLES: case PART.CHANNELS: return this.menu(part, message);
      case PART.TEXT: return el('div', { class: 'text' }, markdown(part.content || '', view));
      case PART.RULE: return el('hr');
      case PART.BOX: return el('div', { class: 'box' }, ...inner());
      case PART.SECTION: return el('div', { class: 'box' }, ...inner(), part.accessory ? this.part(part.accessory, message, view, trouble) : '');
      default: return el('p', { class: 'marks' }, 'A part of this entry cannot be shown here.');
    }
  }

  button(part, message, trouble) {
    const emoji = part.emoji && !part.emoji.id && part.emoji.name ? part.emoji.name : '';
    const label = [emoji, part.label].filter(Boolean).join(' ') || 'open';
    const attrs = { class: BUTTON_LOOK[part.style] || 'plain', test: `button-${slug(part.label || label)}` };
    if (part.url) return el('a', { ...attrs, class: 'plain button', href: safeUrl(part.url), target: '_blank', rel: 'noopener noreferrer' }, label);
    const node = el('button', { ...attrs, type: 'button', disabled: Boolean(part.disabled), on: { click: () => {
      if (node.getAttribute('aria-busy')) return;
      node.setAttribute('aria-busy', 'true');
      const calm = () => node.removeAttribute('aria-busy');
      ask({ do: 'tap', message: message.id, custom_id: part.custom_id }, this, { done: calm, waiting: calm, failed: (why) => { calm(); this.tellRow(message.id, trouble, why); } });
    } } }, label);
    return node;
  }

  /** Trouble with an entry's button or menu is said in that entry, even when it was redrawn meanwhile. */
  tellRow(id, trouble, why) {
    const row = this.rows.get(id);
    const place = trouble && trouble.isConnected ? trouble : row && row.querySelector('.body > .trouble');
    const stuck = this.pinned;
    say(place || this.trouble, why);
    if (stuck) this.toEnd();
  }

  menu(part, message) {
    const chosen = (part.options || []).filter((o) => o.default).map((o) => o.label).join(', ');
    const label = chosen || part.placeholder || this.words('Choose');
    return el('button', { type: 'button', class: 'menu plain', 'aria-haspopup': 'dialog', disabled: Boolean(part.disabled), test: `menu-${slug(label)}`, on: { click: () => this.openMenu(part, label, message) } }, label);
  }

  atEnd() { return this.log.scrollHeight - this.log.scrollTop - this.log.clientHeight < STICK_TO_END_PX; }
  /** Only going back up lets go of the newest entry: a picture that grows below must not. */
  scrolled() {
    const { scrollTop } = this.log;
    this.pinned = this.atEnd() || (this.pinned && scrollTop >= this.top);
    this.top = scrollTop;
    if (this.pinned) this.below.hidden = true;
  }

  toEnd() { this.log.scrollTop = this.log.scrollHeight; this.pinned = true; this.below.hidden = true; }

  buzz() {
    this.el.classList.remove('buzz');
    void this.el.offsetWidth;           // lets the same animation start again
    this.el.classList.add('buzz');
    setTimeout(() => this.el.classList.remove('buzz'), BUZZ_MS);
  }

  /** Something new is done on this phone: what went wrong before is past, and the card it is done on stays in sight. */
  begins(message) {
    say(this.trouble, '');
    for (const trouble of this.log.querySelectorAll('.trouble:not([hidden])')) say(trouble, '');
    this.inUse = message ? { id: message, until: performance.now() + IN_USE_MS } : null;
  }

  /** The card that was tapped a moment ago, while it is there. */
  cardInUse() { return this.inUse && performance.now() < this.inUse.until ? this.rows.get(this.inUse.id) : null; }

  /** A word on what just happened, which goes by itself. */
  tell(text) {
    say(this.note, text);
    clearTimeout(this.told);
    this.told = setTimeout(() => say(this.note, ''), TOLD_MS);
  }

  // -- Plain lines

  typed() {
    this.write.hidden = this.line.value.trim() === '';
    if (!this.line.value.startsWith('/')) return;
    const text = this.line.value.slice(1);
    this.putLine('');
    this.openCommands(text, { typing: true });
  }

  putLine(text) {
    this.line.value = text;
    this.write.hidden = text.trim() === '';
  }

  sendLine() {
    const text = this.line.value.trim();
    if (!text) return;
    // One that came back from the list belongs there, not to the colleagues.
    if (text.startsWith('/')) { this.typed(); return; }
    const who = this.personId;
    this.putLine('');
    if (!text.toLowerCase().startsWith(CALLED)) this.tell(this.words('For your colleagues. loftwatch reads only what begins with {}.', CALLED));
    ask({ do: 'say', text }, this, { failed: (why) => {
      const begun = this.personId === who ? this.line.value : lines.get(who);
      if (!begun) {
        if (this.personId === who) this.putLine(text); else lines.set(who, text);
        say(this.trouble, why);
      } else say(this.trouble, `${why} Not written: ${text}`);
    } });
  }

  // -- Sheets

  /** Opens a sheet with a form. `key` names its draft; `fields` are Field objects; `send(values)` gives the frame. */
  openSheet({ title, about, body, submit: sends, test, onSubmit, firstFocus, keep }) {
    const submit = sends && this.words(sends);
    if (this.sheet) this.closeSheet({ refocus: false });
    const from = document.activeElement && this.el.contains(document.activeElement) ? document.activeElement : this.logButton;
    const place = this.placeOf(from);
    const id = fresh('sheet');
    const trouble = el('p', { class: 'trouble', role: 'alert', test: 'sheet-trouble', hidden: true });
    const run = submit ? el('button', { type: 'submit', class: 'strong run', test: 'run' }, submit) : null;
    const submitted = (e) => { e.preventDefault(); if (onSubmit && !(run && run.getAttribute('aria-busy'))) onSubmit(this.sheet); };
    const dialog = el('div', { class: 'sheet', role: 'dialog', 'aria-modal': 'true', 'aria-labelledby': id, tabindex: '-1', test, on: { keydown: (e) => trapTab(e, dialog) } },
      el('form', { novalidate: true, on: { submit: submitted } },
        el('div', { class: 'sheet-head' },
          el('h3', { id }, title),
          el('button', { type: 'button', class: 'plain close', test: 'close', on: { click: () => this.closeSheet() } }, this.words('Close'))),
        about ? el('p', { class: 'about' }, about) : '',
        el('div', { class: 'sheet-body' }, body),
        el('div', { class: 'sheet-foot' }, trouble, run)));
    const phone = this;
    this.sheet = {
      dialog, from, place, keep, sending: false,
      busy(on) { this.sending = on; if (!run) return; if (on) run.setAttribute('aria-busy', 'true'); else run.removeAttribute('aria-busy'); run.textContent = on ? phone.words('Sending …') : submit; },
      /** Says what went wrong in the sheet, or on the phone where the sheet was closed meanwhile. */
      tell(why) {
        this.busy(false);
        say(phone.sheet === this ? trouble : phone.trouble, why);
      },
    };
    this.sheetSpace.replaceChildren(dialog);
    this.sheetSpace.hidden = false;
    this.inside.inert = true;
    this.el.classList.add('has-sheet');
    activePhone = this;
    (firstFocus || dialog).focus();
    return this.sheet;
  }

  closeSheet({ refocus = true, forget = false } = {}) {
    const sheet = this.sheet;
    if (!sheet) return;
    if (sheet.keep) sheet.keep(forget);
    this.sheet = null;
    this.sheetSpace.hidden = true;
    this.sheetSpace.replaceChildren();
    this.inside.inert = false;
    this.el.classList.remove('has-sheet');
    if (refocus) (sheet.from.isConnected ? sheet.from : this.inPlace(sheet.place) || this.logButton).focus({ preventScroll: true });
  }

  /** Sends what a sheet holds; it stays open, typing kept, until it was taken. `over` is told once no answer can come any more. */
  sendSheet(frame, over = () => {}) {
    const sheet = this.sheet;
    if (sheet.sending) return;          // a second tap on the way to the answer is the same choice
    sheet.tell('');
    sheet.busy(true);
    const taken = () => { over(); if (this.sheet === sheet) this.closeSheet({ forget: true }); else if (sheet.keep) sheet.keep(true); };
    const later = () => { if (this.sheet === sheet) this.closeSheet(); if (sheet.keep) this.owed.push(() => sheet.keep(true)); };
    ask(frame, this, { done: taken, waiting: later, failed: (why) => { over(); sheet.tell(why); }, formOpened: () => { if (this.sheet === sheet) this.closeSheet({ forget: true }); } });
  }

  /** The list of what can be logged. Whoever is typing types on in it. */
  openCommands(text, { typing = false } = {}) {
    if (!this.channelId) { say(this.trouble, this.words('This person reads no channel to log in.')); return; }
    const listing = el('div', { class: 'commands', role: 'list' });
    const find = el('input', { type: 'search', autocomplete: 'off', 'aria-label': this.words('Find in the list'), placeholder: this.words('Find: hand, alarm, filter …'), test: 'find-command', on: { input: () => draw() } });
    find.value = text;
    let shown = [];
    let chosen = false;
    const choose = (command) => { chosen = true; this.openCommand(command, restWords(find.value, command)); };
    // What was begun in the line goes back there when nothing was chosen for it.
    const keep = () => { if (typing && !chosen && find.value.trim()) this.putLine(`/${find.value}`); };
    const item = (command) => el('div', { role: 'listitem' }, el('button', { type: 'button', class: 'command', test: `command-${slug(command.name)}`, on: { click: () => choose(command) } },
      el('span', { class: 'command-name' }, `/${command.name}`), el('span', { class: 'command-about' }, command.description)));
    const draw = () => {
      // Each time, since what can be done may come, or change, while the list is open.
      const all = runnable(this.person);
      const known = (names) => names.map((name) => all.find((c) => c.name === name)).filter(Boolean);
      const late = known(recent.get(this.personId) || []);
      const often = known(OFTEN[this.person.role] || []).filter((c) => !late.includes(c));
      const had = listing.contains(document.activeElement) && document.activeElement.dataset.test;
      shown = matching(all, find.value);
      const plain = find.value.trim() === '';
      const part = (head, commands) => (plain && commands.length ? [el('p', { class: 'list-head' }, head), ...commands.map(item)] : []);
      const rest = shown.filter((c) => !plain || !(late.includes(c) || often.includes(c)));
      listing.replaceChildren(...part(this.words('Lately'), late), ...part(this.words('Often used as {}', this.words(this.person.role)), often),
        ...(plain && (late.length || often.length) ? [el('p', { class: 'list-head' }, this.words('Everything else'))] : []), ...rest.map(item));
      if (had) (listing.querySelector(`[data-test="${CSS.escape(had)}"]`) || find).focus();
      if (shown.length) return;
      listing.append(el('p', { class: 'blank' }, all.length ? this.words('Nothing in the list is called that.') : 'loftwatch has not said yet what it can do. Wait a moment.'));
      if (all.length) listing.append(el('button', { type: 'button', class: 'plain', test: 'write-instead', on: { click: () => this.writeTo(find.value) } }, this.words('Write it in your own words')));
    };
    draw();
    this.openSheet({ title: this.words('Log something'), body: el('div', {}, find, listing), test: 'command-list', firstFocus: typing || text || finePointer() ? find : null,
      keep, onSubmit: () => { if (shown.length) choose(shown[0]); } });
    find.setSelectionRange(text.length, text.length);
    this.sheet.redraw = draw;
    this.sheet.dialog.addEventListener('keydown', (e) => {
      if (e.key !== 'ArrowDown' && e.key !== 'ArrowUp') return;
      const stops = [find, ...listing.querySelectorAll('button')];
      const at = stops.indexOf(document.activeElement);
      if (at < 0) return;
      e.preventDefault();
      stops[Math.max(0, Math.min(stops.length - 1, at + (e.key === 'ArrowDown' ? 1 : -1)))].focus();
    });
  }

  /** Puts a line to loftwatch into the next free line, to be read over and sent. */
  writeTo(text) {
    this.closeSheet({ refocus: false });
    this.putLine(`${CALLED} ${text.trim().replace(/^\//, '')}`);
    this.line.focus();
  }

  openNamed(name) {
    const command = runnable(this.person).find((c) => c.name === name);
    if (command) this.openCommand(command, []);
    else this.openCommands(name);
  }

  openCommand(command, words) {
    if (!command.options.length) {
      if (words.length) this.tell(this.words('There is no place here for: {}', words.join(' ')));
      this.runBare(command);
      return;
    }
    const key = `${this.personId}|/${command.name}`;
    const draft = drafts.get(key) || {};
    const fields = command.options.map((option) => new Field(option, this, draft[option.name]));
    const frameOptions = () => fields.filter((f) => f.option.type !== OPTION.FILE).map((f) => f.value()).filter(Boolean);
    for (const f of fields) f.request = (focused) => ({
      do: 'complete', name: command.path[0].name,
      options: nested(command.path, [...frameOptions().filter((o) => o.name !== f.option.name), { name: f.option.name, type: f.option.type, value: focused, focused: true }]),
    });
    const needed = fields.filter((f) => f.option.required);
    const optional = fields.filter((f) => !f.option.required);
    const takers = takesWords(fields, (f) => f.option);
    words.forEach((word, i) => { if (takers[i]) takers[i].set(word); });
    const lost = words.filter((word, i) => !takers[i] || !takers[i].filled()).join(' ');
    for (const f of needed) f.next = () => needed.find((g) => !g.filled());
    const more = el('details', { class: 'more', test: 'more', open: !needed.length || optional.some((f) => f.filled()) }, el('summary', {}, this.words(needed.length ? 'more' : 'if you like'), el('span', { class: 'hint' }, optional.map((f) => f.label.toLowerCase()).join(', '))), ...optional.map((f) => f.el));
    const startOver = () => { this.closeSheet({ forget: true }); this.openCommand(command, []); };
    const before = fields.some((f) => f.filled()) && !words.length
      ? el('p', { class: 'before' }, this.words('Kept from before. '), el('button', { type: 'button', class: 'inline-command', test: 'start-over', on: { click: startOver } }, this.words('Start over'))) : '';
    const body = el('div', {}, before, ...needed.map((f) => f.el), optional.length ? more : '');
    const first = needed.find((f) => !f.filled()) || needed[0] || optional[0];
    const sheet = this.openSheet({
      title: `/${command.name}`, about: command.description, body, submit: 'Send', test: `sheet-${slug(command.name)}`,
      firstFocus: finePointer() ? first.focusable() : null,
      keep: keeper(key, () => Object.fromEntries(fields.map((f) => [f.option.name, f.draft()]))),
      onSubmit: () => {
        let bad = null;
        for (const f of fields) { const ok = f.check(); if (!ok && !bad) bad = f; }
        if (bad) { if (optional.includes(bad)) more.open = true; bad.focusable().focus(); return; }
        const file = fields.map((f) => f.file && f.file()).find(Boolean);
        const options = nested(command.path, frameOptions());
        sent.set(key, Object.fromEntries(fields.map((f) => [f.option.name, f.draft()])));
        this.sendSheet({ do: 'command', name: command.path[0].name, options, ...(file ? { file } : {}) });
        recent.set(this.personId, [command.name, ...(recent.get(this.personId) || []).filter((n) => n !== command.name)].slice(0, 3));
      },
    });
    for (const f of fields) f.sheet = sheet;
    if (lost) sheet.tell(this.words('There is no place here for: {}', lost));
    const asks = needed.find((f) => f.option.autocomplete && !f.filled()) || (!needed.length && optional.find((f) => f.option.autocomplete));
    // One that has the focus has asked by itself.
    if (asks && asks.focusable() !== document.activeElement) asks.suggest();
  }

  /** A command without options runs at once. */
  runBare(command) {
    if (this.sheet) this.closeSheet();
    say(this.trouble, '');
    ask({ do: 'command', name: command.path[0].name, options: nested(command.path, []) }, this, { failed: (why) => say(this.trouble, why) });
  }

  openForm(form, opener) {
    const key = formKey(this.personId, form);
    const draft = drafts.get(key) || {};
    const inputs = form.fields.map((f) => {
      const id = fresh('form');
      const input = el(f.long ? 'textarea' : 'input', { id, test: `field-${slug(f.custom_id)}`, placeholder: f.placeholder, maxlength: f.max_length, 'aria-describedby': `${id}-t`, autocomplete: 'off', rows: f.long ? 4 : null, type: f.long ? null : 'text' });
      input.value = draft[f.custom_id] ?? f.value ?? '';
      const trouble = el('p', { class: 'trouble', id: `${id}-t`, hidden: true });
      if (f.long) input.addEventListener('keydown', (e) => { if (e.key === 'Enter' && (e.ctrlKey || e.metaKey)) { e.preventDefault(); input.form.requestSubmit(); } });
      return { f, input, trouble, el: el('div', { class: 'field' }, el('label', { for: id }, f.label, f.required ? '' : el('span', { class: 'quiet' }, this.words(' (if you like)'))), input, trouble) };
    });
    const values = () => Object.fromEntries(inputs.map((i) => [i.f.custom_id, i.input.value]));
    this.openSheet({
      title: form.title, body: el('div', {}, ...inputs.map((i) => i.el)), submit: 'Send', test: 'form-sheet', firstFocus: inputs[0] && inputs[0].input,
      keep: keeper(key, values),
      onSubmit: () => {
        let bad = null;
        for (const i of inputs) {
          const length = i.input.value.trim().length;
          const why = i.f.required && !length ? `${i.f.label}: please fill this in.` : i.f.min_length && length && length < i.f.min_length ? `${i.f.label}: at least ${i.f.min_length} letters.` : '';
          say(i.trouble, why);
          i.input.setAttribute('aria-invalid', String(Boolean(why)));
          if (why && !bad) bad = i;
        }
        if (bad) { bad.input.focus(); return; }
        const who = this.personId;
        const mine = { form, draft: values(), opener };
        sentForms.set(who, mine);
        // A refusal comes before the end of its submit; a private answer after that is to something else.
        this.sendSheet({ do: 'submit', custom_id: form.custom_id, fields: values() }, () => { if (sentForms.get(who) === mine) sentForms.delete(who); });
        this.begins(opener && opener.message);
      },
    });
  }

  openMenu(part, label, message) {
    const options = menuOptions(part);
    const min = part.min_values ?? 1;
    const max = part.max_values ?? 1;
    const frame = (values) => ({ do: 'choose', message: message.id, custom_id: part.custom_id, values });
    const words = (o) => [el('span', { class: 'command-name' }, o.label), o.description ? el('span', { class: 'command-about' }, o.description) : ''];
    if (max === 1 && min === 1) {
      const body = el('div', { class: 'commands' }, ...options.map((o) => el('button', { type: 'button', class: 'command', test: `option-${slug(o.label)}`, on: { click: () => this.sendSheet(frame([o.value])) } }, ...words(o))));
      this.openSheet({ title: label, body, test: 'menu-sheet', firstFocus: finePointer() ? body.firstElementChild : null });
      return;
    }
    const boxes = options.map((o) => ({ o, box: el('input', { type: 'checkbox', checked: Boolean(o.default), test: `option-${slug(o.label)}` }) }));
    const body = el('div', { class: 'commands' }, ...boxes.map(({ o, box }) => el('label', { class: 'command tick' }, box, el('span', {}, ...words(o)))));
    this.openSheet({ title: label, body, submit: 'Use these', test: 'menu-sheet', onSubmit: (sheet) => {
      const values = boxes.filter(({ box }) => box.checked).map(({ o }) => o.value);
      if (values.length < min) sheet.tell(`Choose at least ${min}.`);
      else if (values.length > max) sheet.tell(`Choose at most ${max}.`);
      else this.sendSheet(frame(values));
    } });
  }
}

function sizeText(bytes) {
  if (!Number.isFinite(bytes)) return '';
  return bytes < 1024 ? `${bytes} bytes` : `${(bytes / 1024).toFixed(bytes < 10240 ? 1 : 0)} KB`;
}

function menuOptions(part) {
  const named = (things) => [...things.values()].map((t) => ({ label: t.name, value: t.id }));
  switch (part.type) {
    case PART.USERS: return named(home.people);
    case PART.ROLES: return named(home.roles);
    case PART.MENTIONABLES: return [...named(home.roles), ...named(home.people)];
    case PART.CHANNELS: return [...home.channels.values()].map((c) => ({ label: channelLabel(c), value: c.id }));
    default: return part.options || [];
  }
}

/** Keeps what a sheet holds under its key, and forgets only what it kept or began with: what was typed anew meanwhile stays. */
function keeper(key, held) {
  let kept = drafts.get(key);
  return (forget) => {
    if (!forget) { kept = held(); drafts.set(key, kept); } else if (drafts.get(key) === kept) drafts.delete(key);
  };
}

/** Commands that answer to the words typed, best first. */
function matching(all, text) {
  const words = text.trim().toLowerCase().replace(/^\//, '');
  if (!words) return all;
  const rank = (c) => (c.name === words || words.startsWith(`${c.name} `) ? 0 : c.name.startsWith(words) ? 1 : c.name.includes(words) ? 2 : c.description.toLowerCase().includes(words) ? 3 : 4);
  return all.map((c) => [rank(c), c]).filter(([r]) => r < 4).sort((a, b) => a[0] - b[0]).map(([, c]) => c);
}

/** What takes the words typed after a command's name: its needed options, or the first that takes a text if it needs none. */
function takesWords(things, option = (thing) => thing) {
  const needed = things.filter((t) => option(t).required);
  if (needed.length) return needed;
  const texts = things.filter((t) => option(t).type === OPTION.TEXT);
  return [texts.find((t) => !(option(t).choices || []).length) || texts[0]].filter(Boolean);
}

/** What was typed after the command's name, cut for the options that take it: the last takes the rest. */
function restWords(text, command) {
  const typed = text.trim().replace(/^\//, '');
  if (!typed.toLowerCase().startsWith(`${command.name} `)) return [];
  const words = typed.slice(command.name.length).trim().split(/\s+/);
  const takers = Math.max(1, takesWords(command.options).length);
  return words.length <= takers ? words : [...words.slice(0, takers - 1), words.slice(takers - 1).join(' ')];
}

/** Whether typing is likely at hand: on a touch screen, focusing a field would cover half the sheet. */
function finePointer() { return matchMedia('(pointer: fine)').matches; }

function trapTab(event, dialog) {
  if (event.key !== 'Tab') return;
  const stops = [...dialog.querySelectorAll('button, input, select, textarea, summary, a[href]')].filter((n) => !n.disabled && n.offsetParent !== null && n.tabIndex >= 0);
  if (!stops.length) return;
  const first = stops[0];
  const last = stops[stops.length - 1];
  if (event.shiftKey && (document.activeElement === first || document.activeElement === dialog)) { event.preventDefault(); last.focus(); }
  else if (!event.shiftKey && document.activeElement === last) { event.preventDefault(); first.focus(); }
}

// ---- One option of a command --------------------------------------------------------------

class Field {
  /** `draft` is what `draft()` gave when the sheet was last closed. */
  constructor(option, phone, draft) {
    this.option = option;
    this.phone = phone;
    this.id = fresh('field');
    this.trouble = el('p', { class: 'trouble', id: `${this.id}-t`, hidden: true });
    this.label = optionLabel(localized(option, 'name', phone.person));
    const hint = localized(option, 'description', phone.person);
    this.el = el('div', { class: 'field', test: `field-box-${option.name}` });
    const head = [el('span', { class: 'label-name' }, this.label), hint ? el('span', { class: 'hint' }, hint) : ''];
    const choices = option.type === OPTION.BOOLEAN ? ['yes', 'no'].map((word) => ({ name: phone.words(word), value: word === 'yes' })) : option.choices;
    if (choices && choices.length) this.asChips(head, choices);
    else if (option.type === OPTION.FILE) this.asFile(head);
    else if ([OPTION.USER, OPTION.CHANNEL, OPTION.ROLE, OPTION.MENTIONABLE].includes(option.type)) this.asPicker(head);
    else this.asText(head);
    this.el.append(this.trouble);
    if (draft !== undefined) this.set(draft.text, draft.raw, draft.name);
  }

  asChips(head, choices) {
    const name = fresh('chips');
    const all = this.option.required ? choices : [{ name: this.phone.words('leave out'), value: null }, ...choices];
    this.radios = all.map((choice) => ({ choice, input: el('input', { type: 'radio', name, class: 'unseen', value: String(choice.value), checked: choice.value === null, on: { change: () => this.check() } }) }));
    this.el.append(el('fieldset', { class: 'chips', test: `field-${this.option.name}`, 'aria-describedby': `${this.id}-t` }, el('legend', {}, ...head),
      el('div', { class: 'chip-list' }, ...this.radios.map(({ choice, input }) => el('label', { class: choice.value === null ? 'chip out' : 'chip', test: `choice-${slug(choice.name)}` }, input, el('span', {}, localized(choice, 'name', this.phone.person)))))));
    const picked = () => this.radios.find((r) => r.input.checked);
    this.read = () => { const r = picked(); return r && r.choice.value !== null ? r.choice.value : null; };
    this.set = (text) => { const r = this.radios.find(({ choice }) => choice.value !== null && (String(choice.value) === String(text) || choice.name === text || localized(choice, 'name', this.phone.person) === text)); if (r) r.input.checked = true; };
    this.draft = () => { const v = this.read(); return { text: v === null ? '' : String(v) }; };
    this.focusable = () => (picked() || this.radios[0]).input;
  }

  asPicker(head) {
    const { type } = this.option;
    const things = [
      ...(type === OPTION.ROLE || type === OPTION.MENTIONABLE ? home.roles.values() : []),
      ...(type === OPTION.USER || type === OPTION.MENTIONABLE ? home.people.values() : []),
      ...(type === OPTION.CHANNEL ? [...home.channels.values()].map((c) => ({ id: c.id, name: channelLabel(c) })) : []),
    ];
    this.input = el('select', { id: this.id, test: `field-${this.option.name}`, 'aria-describedby': `${this.id}-t`, on: { change: () => this.check() } }, el('option', { value: '' }, this.phone.words(this.option.required ? 'choose' : 'leave out')), ...things.map((t) => el('option', { value: t.id }, t.name)));
    this.el.append(el('label', { for: this.id }, ...head), this.input);
    this.read = () => this.input.value || null;
    this.set = (text) => { this.input.value = [...this.input.options].find((o) => o.value === text || o.textContent === text)?.value || ''; };
    this.draft = () => ({ text: this.input.value });
    this.focusable = () => this.input;
  }

  asFile(head) {
    this.picked = el('input', { type: 'file', id: this.id, test: `file-${this.option.name}`, on: { change: () => this.take() } });
    this.input = el('textarea', { rows: 5, spellcheck: 'false', 'aria-label': `${this.label}: or paste the text here`, placeholder: 'or paste the text here', test: `field-${this.option.name}` });
    this.name = '';
    this.el.append(el('label', { for: this.id }, ...head), this.picked, this.input);
    this.read = () => this.input.value || null;
    this.set = (text, raw, name) => { this.input.value = text; this.name = name || ''; };
    this.draft = () => ({ text: this.input.value, name: this.name });
    this.file = () => (this.read() ? { option: this.option.name, name: this.name || `${this.option.name}.csv`, text: this.input.value } : null);
    this.focusable = () => this.input;
  }

  async take() {
    const [file] = this.picked.files;
    if (!file) return;
    if (file.size > FILE_BYTES_MAX) { say(this.trouble, 'That file is larger than 1 MB. Send it in parts.'); return; }
    try { this.input.value = await file.text(); this.name = file.name; say(this.trouble, ''); } catch { say(this.trouble, 'That file could not be read. Choose it again.'); }
  }

  asText(head) {
    const numeric = this.option.type === OPTION.INTEGER ? 'numeric' : this.option.type === OPTION.NUMBER ? 'decimal' : null;
    const completes = Boolean(this.option.autocomplete);
    this.input = el('input', { id: this.id, type: 'text', inputmode: numeric, autocomplete: 'off', autocapitalize: 'off', spellcheck: 'false', maxlength: this.option.max_length, 'aria-describedby': `${this.id}-t`, 'aria-required': String(Boolean(this.option.required)), test: `field-${this.option.name}`,
      ...(completes ? { role: 'combobox', 'aria-expanded': 'false', 'aria-autocomplete': 'list', 'aria-controls': `${this.id}-l` } : {}) });
    this.el.append(el('label', { for: this.id }, ...head), this.input);
    this.raw = null;                    // the value behind a suggestion that was tapped
    this.read = () => (this.raw !== null ? this.raw : this.input.value.trim() || null);
    this.set = (text, raw) => { this.input.value = text; this.raw = raw ?? null; };
    this.draft = () => ({ text: this.input.value, raw: this.raw });
    this.focusable = () => this.input;
    this.input.addEventListener('input', () => { this.raw = null; say(this.trouble, ''); });
    if (!completes) return;
    this.list = el('div', { class: 'suggestions', id: `${this.id}-l`, role: 'listbox', 'aria-label': `${this.label}: suggestions`, hidden: true });
    this.note = el('p', { class: 'hint', role: 'status' });
    this.el.append(this.list, this.note);
    this.at = -1;
    let pause = null;
    this.input.addEventListener('focus', () => { if (this.list.hidden) this.suggest(); });
    this.input.addEventListener('input', () => { clearTimeout(pause); pause = setTimeout(() => this.suggest(), SUGGEST_PAUSE_MS); });
    this.input.addEventListener('keydown', (e) => this.key(e));
  }

  /** Asks for suggestions for what is typed; a suggestion already taken counts as nothing typed. */
  suggest(again = true) {
    const typed = this.raw !== null ? '' : this.input.value;
    const asked = this.asked = fresh('suggest');
    ask(this.request(typed), this.phone, {
      choices: (choices) => { if (this.asked === asked) this.offer(choices); },
      failed: () => {
        if (this.asked !== asked) return;
        // A computer that is slow for a moment answers the second time, and nobody has to type a letter for it.
        if (again) { this.suggest(false); return; }
        this.offer([]);
        this.note.textContent = 'No suggestions came. You can type it.';
      },
    });
  }

  offer(choices) {
    this.at = -1;
    this.list.replaceChildren(...choices.map((choice) => el('div', { role: 'option', id: fresh('choice'), class: 'suggestion', 'aria-selected': 'false', test: `suggestion-${slug(String(choice.value))}`,
      on: { pointerdown: (e) => e.preventDefault(), click: () => this.takeChoice(choice) } }, choice.name)));
    this.choices = choices;
    this.list.classList.toggle('short', choices.every((choice) => choice.name.length <= SHORT_CHOICE_CHARS));
    this.open(choices.length > 0);
    this.note.textContent = choices.length || !this.input.value ? '' : 'No suggestion fits. You can send what you typed.';
  }

  open(on) {
    this.list.hidden = !on;
    this.input.setAttribute('aria-expanded', String(on));
    if (!on) this.input.removeAttribute('aria-activedescendant');
  }

  takeChoice(choice) {
    this.asked = null;
    this.set(choice.name, choice.value);
    this.open(false);
    say(this.trouble, '');
    const next = this.next && this.next();
    if (!next) { const run = this.sheet && this.sheet.dialog.querySelector('.run'); if (run) run.focus(); return; }
    if (finePointer()) next.focusable().focus();
    else { if (next.list) next.suggest(); next.el.scrollIntoView({ block: 'nearest' }); }
  }

  key(e) {
    if (e.key === 'Escape' && !this.list.hidden && this.at >= 0) { e.stopPropagation(); this.mark(-1); return; }
    if (this.list.hidden || !this.choices.length) return;
    if (e.key === 'ArrowDown') { e.preventDefault(); this.mark(Math.min(this.at + 1, this.choices.length - 1)); }
    else if (e.key === 'ArrowUp') { e.preventDefault(); this.mark(Math.max(this.at - 1, -1)); }
    else if (e.key === 'Enter' && this.at >= 0) { e.preventDefault(); this.takeChoice(this.choices[this.at]); }
  }

  mark(at) {
    this.at = at;
    [...this.list.children].forEach((node, i) => {
      node.setAttribute('aria-selected', String(i === at));
      if (i === at) { node.scrollIntoView({ block: 'nearest' }); this.input.setAttribute('aria-activedescendant', node.id); }
    });
    if (at < 0) this.input.removeAttribute('aria-activedescendant');
  }

  filled() { return this.read() !== null; }

  /** This option as the platform sends it, or null when it was left out. */
  value() {
    const read = this.read();
    if (read === null) return null;
    const { name, type } = this.option;
    const number = type === OPTION.INTEGER || type === OPTION.NUMBER;
    if (number && !Number.isFinite(Number(String(read).replace(',', '.')))) return null;   // check() says so before anything is sent
    return { name, type, value: number ? Number(String(read).replace(',', '.')) : type === OPTION.BOOLEAN ? read === true : type === OPTION.TEXT ? String(read) : read };
  }

  /** Says what is wrong beside the field; true when nothing is. */
  check() {
    const read = this.read();
    const { required, type, min_value: min, max_value: max, min_length: shortest } = this.option;
    let why = '';
    if (read === null) why = required ? `${this.label}: this is still needed.` : '';
    else if (type === OPTION.INTEGER || type === OPTION.NUMBER) {
      const n = Number(String(read).replace(',', '.'));
      if (!Number.isFinite(n) || (type === OPTION.INTEGER && !Number.isInteger(n))) why = `${this.label} must be a ${type === OPTION.INTEGER ? 'whole number' : 'number'}.`;
      else if (min !== undefined && min !== null && n < min) why = `${this.label} must be at least ${min}.`;
      else if (max !== undefined && max !== null && n > max) why = `${this.label} must be at most ${max}.`;
    } else if (shortest && String(read).length < shortest) why = `${this.label} needs at least ${shortest} letters.`;
    say(this.trouble, why);
    if (this.input) this.input.setAttribute('aria-invalid', String(Boolean(why)));
    return !why;
  }
}

// ---- The line to the server ---------------------------------------------------------------

let socket = null;
let tries = 0;
let loaded = false;
let early = [];                         // frames that came while /page/home was on its way
const pending = new Map();              // nonce -> { phone, person, on, timer }
// Every page hears every answer, so a nonce must be this page's own.
const ownPrefix = `p${Math.floor(Math.random() * 1e12).toString(36)}`;

function connect() {
  socket = new WebSocket(`${location.protocol === 'https:' ? 'wss' : 'ws'}://${location.host}/page/live`);
  socket.addEventListener('open', load);
  socket.addEventListener('message', (e) => {
    let frame;
    try { frame = JSON.parse(e.data); } catch { return; }
    if (loaded) take(frame); else early.push(frame);
  });
  socket.addEventListener('close', lost);
}

function lost() {
  loaded = false;
  early = [];
  say(byId('line-trouble'), 'The line to the home dropped. Trying again; what you typed is kept.');
  for (const nonce of [...pending.keys()]) settle(nonce, 'failed', 'The line dropped before an answer came. Look whether it was written, then try again.');
  setTimeout(connect, RECONNECT_MS[Math.min(tries, RECONNECT_MS.length - 1)]);
  tries += 1;
}

async function load() {
  const mine = socket;
  try {
    const answer = await fetch('/page/home');
    if (!answer.ok) throw new Error(String(answer.status));
    const data = await answer.json();
    if (mine !== socket) return;
    start(data);
  } catch { mine.close(); return; }
  tries = 0;
  loaded = true;
  say(byId('line-trouble'), '');
  for (const frame of early.splice(0)) take(frame);
}

/** Sends a frame for a phone. `on` may hold done, failed(why), waiting, choices(list), formOpened. */
function ask(frame, phone, on) {
  if (phone && frame.do !== 'complete') phone.begins(frame.message);
  const nonce = fresh(ownPrefix);
  const full = { ...frame, nonce, ...(phone ? { person: phone.personId, channel: phone.channelId } : {}) };
  if (!socket || socket.readyState !== WebSocket.OPEN || !loaded) {
    if (on.failed) on.failed('There is no line to the home just now. Nothing was sent; try again in a moment.');
    return;
  }
  const timer = setTimeout(() => settle(nonce, 'failed', 'No answer came. Look whether it was written, then try again.'), ANSWER_WAIT_MS);
  pending.set(nonce, { frame, phone, person: full.person, channel: full.channel, on, timer, quiet: frame.do === 'say' || frame.do === 'clock' });
  socket.send(JSON.stringify(full));
}

function settle(nonce, how, what) {
  const wait = pending.get(nonce);
  if (!wait) return;
  pending.delete(nonce);
  clearTimeout(wait.timer);
  if (wait.phone && how !== 'choices') wait.phone.working.hidden = true;
  // A plain line and the clock need no answer: a missing one is only silence.
  if (how === 'failed' && wait.quiet && what.startsWith('No answer came')) return;
  if (wait.on[how]) wait.on[how](what);
}

function take(frame) {
  switch (frame.t) {
    case 'message': arrived(frame.message); break;
    case 'edit': changed(frame.message); break;
    case 'gone': gone(frame.channel_id, frame.id); break;
    case 'form': formArrived(frame); break;
    case 'choices': settle(frame.nonce, 'choices', frame.choices || []); break;
    case 'done': settle(frame.nonce, 'done'); break;
    case 'waiting': waiting(frame.nonce); break;
    case 'failed': settle(frame.nonce, 'failed', frame.why || 'That did not work. Try again.'); break;
    case 'commands': home.commands = frame.commands || []; drawTry(); drawLists(); break;
    case 'clock': tick(frame.clock); break;
    case 'bot': home.botUp = frame.up; drawClock(); drawTry(); break;
    default: break;                     // a newer server may say more than this page knows
  }
}

function waiting(nonce) {
  const wait = pending.get(nonce);
  if (!wait || !wait.phone) return;
  clearTimeout(wait.timer);
  if (wait.on.waiting) wait.on.waiting();
  const { phone } = wait;
  phone.working.textContent = 'loftwatch is working on it …';
  phone.working.hidden = false;
  wait.timer = setTimeout(() => { pending.delete(nonce); phone.working.hidden = true; }, WORKING_NOTE_MS);
}

function arrived(message) {
  learn(message);
  rememberAsked(message);
  const list = home.messages.get(message.channel_id) || [];
  if (list.some((m) => m.id === message.id)) { changed(message); return; }
  list.push(message);
  if (list.length > KEPT_MESSAGES_PER_CHANNEL) {
    const dropped = list.shift();
    for (const phone of phones) if (phone.channelId === message.channel_id) phone.remove(dropped.id);
  }
  home.messages.set(message.channel_id, list);
  for (const phone of phones) if (phone.channelId === message.channel_id && phone.sees(message)) phone.add(message);
  markUnread(message);
}

function changed(message) {
  learn(message);
  const list = home.messages.get(message.channel_id) || [];
  const at = list.findIndex((m) => m.id === message.id);
  if (at < 0) return;
  list[at] = message;
  for (const phone of phones) if (phone.channelId === message.channel_id) phone.replace(message);
}

function gone(channelId, id) {
  home.messages.set(channelId, (home.messages.get(channelId) || []).filter((m) => m.id !== id));
  for (const phone of phones) if (phone.channelId === channelId) phone.remove(id);
}

const formKey = (personId, form) => `${personId}|form|${form.custom_id}`;

/** Ties a private answer to what was typed for it on this page. One that has buttons goes on from it and needs no second try. */
function rememberAsked(message) {
  const line = message.reply_to_command;
  const person = message.ephemeral_for;
  if (!person) return;
  const goesOn = (message.components || []).length > 0;
  const form = sentForms.get(person);
  if (!line && form) {
    sentForms.delete(person);
    if (!goesOn) askedBy.set(message.id, { person, ...form });
  }
  if (!line || goesOn) return;
  const named = [...sent.keys()].filter((key) => key.startsWith(`${person}|`)).map((key) => key.slice(person.length + 2));
  const name = named.filter((n) => line === `/${n}` || line.startsWith(`/${n} `)).sort((a, b) => b.length - a.length)[0];
  if (name) askedBy.set(message.id, { person, name, draft: sent.get(`${person}|/${name}`) });
}

function learn(message) { home.names.set(message.author.id, message.author.name); }

/** Whether an entry calls somebody: by name or by role, as the platform let it. Who is only named is not called. */
function callsPerson(message, person) {
  return (message.mentions || []).includes(person.id) || (message.mention_roles || []).some((id) => person.roles.includes(id));
}

/** Whom an entry calls, in words: where this person is among them, only the roles by which they are. */
function whomCalled(message, person) {
  const mine = callsPerson(message, person);
  const people = mine || !message.author.bot ? [] : (message.mentions || []).map((id) => home.names.get(id) || 'someone');
  const roles = (message.mention_roles || []).filter((id) => !mine || person.roles.includes(id)).map((id) => (home.roles.get(id) || { name: 'a role' }).name);
  return [...people, ...roles].join(', ');
}

/** Marks a new entry for everyone who reads it and is not looking, and buzzes the phones it calls. */
function markUnread(message) {
  const channel = home.channels.get(message.channel_id);
  if (!channel) return;
  for (const id of channel.readers) {
    const person = home.people.get(id);
    if (!person || id === message.author.id || (message.ephemeral_for && message.ephemeral_for !== id)) continue;
    const called = callsPerson(message, person) && !message.silent;
    const looking = phones.some((p) => p.personId === id && p.channelId === channel.id);
    if (!looking) {
      const key = `${id}|${channel.id}`;
      const mark = unread.get(key) || { count: 0, called: false };
      unread.set(key, { count: mark.count + 1, called: mark.called || called });
    }
    if (!called) continue;
    for (const phone of phones) if (phone.personId === id) {
      phone.buzz();
      if (!phone.el.classList.contains('shown')) phone.calledUnseen = true;
      if (phone !== activePhone) speak(`${person.name}'s phone: called in ${channelLabel(channel)}.`);
    }
  }
  drawMarks();
}

/** A form comes before its interaction is done: it goes to the phone that last asked for that person, if this page has it. */
function formArrived(frame) {
  const asked = [...pending.values()].reverse().find((w) => w.phone && w.person === frame.person && w.channel === frame.channel_id && w.phone.personId === frame.person);
  if (!asked) return;
  if (asked.on.formOpened) asked.on.formOpened();
  asked.phone.openForm(frame.form, asked.frame);
}

// ---- The clock ----------------------------------------------------------------------------

function tick(clock) {
  if (clock.zone !== home.clock.zone && !knownZone(clock.zone)) clock = { ...clock, zone: 'UTC' };
  home.clock = clock;
  home.clockReceived = performance.now();
  if (clock.rate > 0) home.speed = clock.rate;
  drawClock();
}

function knownZone(zone) {
  try { return Boolean(new Intl.DateTimeFormat('en-US', { timeZone: zone })); } catch { return false; }
}

function buildClock() {
  const send = (what) => () => {
    say(byId('clock-trouble'), '');
    ask({ do: 'clock', ...what() }, null, { failed: (why) => say(byId('clock-trouble'), why) });
  };
  const run = el('button', { type: 'button', id: 'clock-run', class: 'strong', test: 'clock-run', on: { click: send(() => ({ rate: home.clock.rate > 0 ? 0 : home.speed })) } }, 'Run');
  const speeds = el('div', { class: 'speeds', role: 'group', 'aria-label': 'Speed' }, ...SPEEDS.map((rate) =>
    el('button', { type: 'button', class: 'plain', 'data-rate': rate, test: `speed-${rate}`, 'aria-label': rate === 1 ? 'real time' : `${rate} times as fast`, on: { click: () => { home.speed = rate; send(() => ({ rate }))(); drawClock(); } } }, `${rate}×`)));
  const step = (label, test, what) => el('button', { type: 'button', class: 'plain', test, on: { click: send(() => what) } }, label);
  byId('clock-hands').replaceChildren(run, el('div', { class: 'clock-steps' }, speeds,
    step('+1 min', 'step-1', { step_ms: MINUTE_MS }), step('+5 min', 'step-5', { step_ms: 5 * MINUTE_MS }),
    step('to the next thing', 'to-next', { to: 'next' }), step('to the next shift', 'to-shift', { to: 'shift' })));
}

function drawClock() {
  const now = demoNow();
  const put = (node, text) => { if (node.textContent !== text) node.textContent = text; };
  put(byId('clock-now'), timeText(now, CLOCK_FACE));
  byId('clock-now').setAttribute('datetime', new Date(now).toISOString());
  put(byId('clock-date'), `${timeText(now, SHORT_DAY)}, ${home.clock.zone.split('/').pop().replace(/_/g, ' ')} time`);
  put(byId('clock-next'), nextText(now));
  document.body.classList.toggle('held', Boolean(home.clock.held));
  const running = home.clock.rate > 0;
  put(byId('clock-run'), running ? 'Pause' : 'Run');
  document.body.classList.toggle('running', running);
  for (const button of document.querySelectorAll('.speeds button')) button.setAttribute('aria-pressed', String(Number(button.dataset.rate) === home.speed));
  for (const phone of phones) put(phone.nowAt, timeText(now, CLOCK_FACE));
  for (const node of document.querySelectorAll('time[data-style="R"]')) put(node, stampText(Number(node.dataset.ms), 'R', node.dataset.locale));
}

function nextText(now) {
  if (home.botUp === false) return 'loftwatch is not connected';
  if (home.clock.held) return 'slower: each call is posted before time goes on, and a channel takes about one a second. Open alarms call every few minutes; take them, and it runs again';
  const { next } = home.clock;
  if (next === null || next === undefined) return 'loftwatch has nothing waiting';
  if (next <= now) return 'loftwatch is waking now';
  const sameDay = timeText(next, LONG_DAY) === timeText(now, LONG_DAY);
  return `loftwatch wakes ${sameDay ? 'at' : `${timeText(next, { weekday: 'short' })} at`} ${timeText(next, CLOCK_FACE)}, ${awayText(next, 'en-US', 'short')}`;
}

// ---- Try this -----------------------------------------------------------------------------

/** The channel a phone opens with: the one named after the person's role, else where they work. */
function ownChannel(person) {
  const named = [...home.channels.values()].find((c) => c.readers.includes(person.id) && c.name.includes(person.role));
  return named || unitChannel(person);
}

/** The channel where a person works: the first that is not for the whole home, or the first one they read. */
function unitChannel(person) {
  const readable = [...home.channels.values()].filter((c) => c.readers.includes(person.id));
  return readable.find((c) => !/^(all|everyone|general)\b/i.test(c.name)) || readable[0];
}

const TRIES = [
  { label: 'Log a hand check', name: 'handcheck', then: 'Pick a surface and how much air you felt, then Send. The answer is written on the aide’s phone.' },
  { label: 'Start a round', name: 'round', run: true, then: 'Each tap on the aide’s phone logs one bed and brings the next.' },
  { label: 'Raise an alarm and leave it', name: 'alarm', then: 'Send it, answer nothing, then tap +5 min and watch whose phone is called.' },
];

function buildTry() {
  byId('try-list').replaceChildren(...TRIES.map((item) =>
    el('button', { type: 'button', class: 'plain', test: `try-${item.name}`, on: { click: () => tryIt(item) } }, item.label)));
}

function drawTry() {
  const known = runnable(null).map((c) => c.name);
  [...byId('try-list').children].forEach((button, i) => { button.disabled = !known.includes(TRIES[i].name); });
  if (!known.length) byId('try-next').textContent = 'loftwatch is getting ready …';
  else if (!byId('try-next').dataset.used) byId('try-next').textContent = 'Tap one: it begins on a phone below.';
}

function tryIt(item) {
  const phone = phones.find((p) => p.person.role === 'aide') || phones[0];
  const command = phone && runnable(phone.person).find((c) => c.name === item.name);
  if (!command) return;
  showPhone(phone);
  const channel = unitChannel(phone.person);
  if (channel && channel.id !== phone.channelId) phone.setChannel(channel.id);
  if (item.run && !command.options.some((o) => o.required)) phone.runBare(command);
  else phone.openCommand(command, []);
  byId('try-next').dataset.used = 'yes';
  byId('try-next').textContent = item.then;
}

// ---- The whole page -----------------------------------------------------------------------

function showPhone(phone) {
  for (const p of phones) {
    p.el.classList.toggle('shown', p === phone);
    p.tab.setAttribute('aria-pressed', String(p === phone));
  }
  phone.calledUnseen = false;
  activePhone = phone;
  phone.toEnd();
  drawMarks();
}

/** Draws the open lists of commands anew. */
function drawLists() { for (const { sheet } of phones) if (sheet && sheet.redraw) sheet.redraw(); }

function drawMarks() { for (const phone of phones) phone.drawChannels(); }

/** A channel's entries as they are now, after those before them that the page has still: the server gives only the last. */
function goingOn(known, list) {
  const from = list.length ? known.findIndex((m) => m.id === list[0].id) : -1;
  return [...known.slice(0, Math.max(0, from)), ...list].slice(-KEPT_MESSAGES_PER_CHANNEL);
}

/** What was written while there was no line: all that is not known and newer than what is. */
function missed(known, list) {
  const newest = known.length ? BigInt(known[known.length - 1].id) : 0n;
  return list.filter((m) => BigInt(m.id) > newest);
}

/** Takes the whole home, at first and after the line came back; people keep their places. */
function start(data) {
  home.name = data.guild.name;
  home.people = new Map(data.people.map((p) => [p.id, p]));
  home.roles = new Map(data.roles.map((r) => [r.id, r]));
  home.channels = new Map(data.channels.map((c) => [c.id, c]));
  home.commands = data.commands || [];
  if (data.bot) { home.botUp = data.bot.up ?? null; home.names.set(data.bot.id, data.bot.name); }
  const before = home.messages;
  home.messages = new Map(Object.entries(data.messages || {}).map(([id, list]) => [id, goingOn(before.get(id) || [], list)]));
  for (const person of data.people) home.names.set(person.id, person.name);
  for (const list of home.messages.values()) list.forEach(learn);
  byId('home-name').textContent = home.name;
  document.title = `${home.name}: loftwatch at work`;
  if (!phones.length) { buildClock(); buildTry(); }
  tick(data.clock);
  if (!phones.length) {
    data.phones.filter((id) => home.people.has(id)).forEach((id, i) => phones.push(new Phone(i + 1, id)));
    byId('phones').replaceChildren(...phones.map((p) => p.el));
    byId('tabs').replaceChildren(...phones.map((p) => p.tab));
    if (phones.length) showPhone(phones[0]);
  } else {
    for (const phone of phones) {
      if (!home.people.has(phone.personId)) phone.setPerson(home.people.keys().next().value);
      else if (!home.channels.has(phone.channelId)) phone.setPerson(phone.personId);
      else phone.redrawLog();
    }
    for (const [id, list] of home.messages) for (const message of missed(before.get(id) || [], list)) markUnread(message);
  }
  drawTry();
  drawMarks();
  drawClock();
  drawLists();
}

document.addEventListener('keydown', (e) => {
  if (e.key !== 'Escape') return;
  const phone = phones.find((p) => p.sheet && p.el.contains(document.activeElement)) || (activePhone && activePhone.sheet ? activePhone : null);
  if (phone) { e.preventDefault(); phone.closeSheet(); }
});
setInterval(() => { if (phones.length) drawClock(); }, 250);
connect();
