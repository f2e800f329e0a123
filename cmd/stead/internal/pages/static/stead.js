// The little script: it only makes quicker what works without it. News of changes, search as you type, and a form that
// cannot be sent while there is no line.
'use strict';

const main = () => document.getElementById('main');
const news = document.getElementById('news');
let dirty = !!document.querySelector('[data-typed]'); // something was typed that was not sent, or not taken
let stale = false;    // the page has changed since
let fetching = null;  // a page that is on its way
let source = null;    // the line for news
let cut = false;      // there was no line when one was last wanted

// say shows a sentence at the top, with a link that shows the page anew, or leads on; none takes it away.
function say(words, link, to) {
  news.replaceChildren();
  if (!words) return;
  const p = document.createElement('p');
  p.append(words);
  if (link) {
    const a = document.createElement('a');
    a.href = to || location.href;
    a.textContent = link;
    p.append(a);
  }
  news.append(p);
}

// undo puts beside what was said how to take it back.
function undo(words, back) {
  const b = document.createElement('button');
  b.className = 'link';
  b.textContent = words;
  b.addEventListener('click', back);
  news.firstChild.append(b);
}

// take puts another state of this very page in the place of what is shown, and keeps the focus where it was and the word of
// what was just done.
function take(html) {
  const page = new DOMParser().parseFromString(html, 'text/html');
  const fresh = page.getElementById('main');
  if (!fresh) return anew();
  const focus = document.activeElement && document.activeElement.id;
  const open = [...document.querySelectorAll('details[open][id]')].map(d => d.id);
  const done = main().querySelector('.word.done');
  main().replaceWith(fresh);
  if (done && !fresh.querySelector('.word.done')) fresh.prepend(done);
  const thumb = document.querySelector('.thumb'), other = page.querySelector('.thumb');
  if (thumb && other) thumb.replaceWith(other);
  else if (thumb) thumb.remove();
  else if (other) fresh.after(other);
  document.title = page.title;
  Object.assign(document.body.dataset, page.body.dataset);
  for (const id of open) document.getElementById(id)?.setAttribute('open', '');
  if (focus) document.getElementById(focus)?.focus({ preventScroll: true });
  stale = dirty = false;
  steps();
  camera();
  say('');
}

// renew asks for this page again; what was typed is not thrown away for it.
async function renew() {
  stale = true;
  if (dirty) return say('This has changed since you opened it. What you typed is kept until you leave.', 'Show it anew');
  if (document.hidden) return;
  fetching?.abort();
  fetching = new AbortController();
  try {
    const answer = await fetch(location.href, { signal: fetching.signal, headers: { Accept: 'text/html', 'Stead-Renews': 'yes' } });
    if (answer.redirected || !answer.ok) return anew();
    const html = await answer.text();
    if (dirty) return renew();
    take(html);
  } catch (e) {
    if (e.name !== 'AbortError') offline();
  }
}

// anew asks for this page as a link to it does: a reload would send again the form that it answers.
function anew() { location.replace(location.pathname + location.search); }

function offline() {
  cut = true;
  const words = 'There is no line to the workshop. What you see is from ' + document.body.dataset.clock + '.';
  if (dirty) say(words + ' What you typed stays here: send it when there is one.');
  else say(words, 'Try again');
}

// News come as server-sent events. A line that was cut is made anew with the state that is shown now, and the workshop says
// on it whether that has changed since: that the line is back is no change to whoever is typing.
function listen() {
  const { live, state } = document.body.dataset;
  if (!live || !window.EventSource) return;
  source?.close();
  const line = source = new EventSource('/live?on=' + encodeURIComponent(live) + '&state=' + state);
  line.onmessage = renew;
  line.onopen = back;
  line.onerror = () => {
    const refused = line.readyState === EventSource.CLOSED;
    line.close();
    offline();
    setTimeout(() => { if (source === line) listen(); }, refused ? 30000 : 2000);
  };
}

// back is called when there is a line, perhaps again.
function back() {
  if (!cut) return;
  cut = false;
  say('');
  if (stale || !dirty) renew();
}

function leave() {
  source?.close();
  source = null;
}

document.addEventListener('input', e => {
  if (e.target.closest('form[method=post]')) dirty = true;
  const search = e.target.closest('form[data-search]');
  if (search) seek(search);
});

// A file that is too large is not sent first, to be told so then.
document.addEventListener('change', e => {
  const { most, larger } = e.target.dataset;
  if (most) e.target.setCustomValidity([...e.target.files].some(f => f.size > +most) ? larger : '');
});

// A second tap on a button is no second form; without a line nothing is sent, so that nothing typed is lost. Where there was
// none a moment ago it is tried first.
document.addEventListener('submit', e => {
  const form = e.target;
  if (form.method !== 'post') return;
  if (!navigator.onLine) {
    e.preventDefault();
    return offline();
  }
  if (cut && !form.dataset.tried) {
    e.preventDefault();
    fetch('/static/stead.js', { method: 'HEAD', cache: 'no-store' }).then(() => {
      form.dataset.tried = 'yes';
      form.requestSubmit(e.submitter);
    }, offline);
    return;
  }
  delete form.dataset.tried;
  if (form.dataset.sent) return e.preventDefault();
  form.dataset.sent = 'yes';
  dirty = false;
  setTimeout(() => form.dataset.sent && say('Being sent …'), 1000);
  if (form.elements.progress) watch('progress-' + form.elements.progress.value);
  setTimeout(() => delete form.dataset.sent, 5000);
});
// A list that is being loaded tells how far it is, until its answer comes.
function watch(topic) {
  const source = new EventSource('/live?on=' + encodeURIComponent(topic));
  source.onmessage = e => {
    const [, read, about] = e.data.split(' ');
    say(read + (+about > +read ? ' of about ' + about : '') + ' lines are read …');
  };
  addEventListener('pagehide', () => source.close());
}

addEventListener('pageshow', e => {
  document.querySelectorAll('form[data-sent]').forEach(f => delete f.dataset.sent);
  if (e.persisted) say('');
});
addEventListener('offline', offline);
addEventListener('online', () => source ? listen() : back());
addEventListener('pagehide', leave);
addEventListener('pageshow', e => { if (e.persisted) listen(); });
document.addEventListener('visibilitychange', () => { if (!document.hidden && stale) renew(); });

// Search as you type: the same page as the button gives, of which only the element that data-search names is taken.
let waiting = 0, seeking = null;
function seek(form) {
  clearTimeout(waiting);
  waiting = setTimeout(async () => {
    const url = new URL(form.action || location.href);
    url.search = new URLSearchParams(new FormData(form)).toString();
    seeking?.abort();
    seeking = new AbortController();
    try {
      const typing = new URL(url);
      typing.searchParams.set('typing', 'yes');
      const answer = await fetch(typing, { signal: seeking.signal, headers: { 'Stead-Renews': 'yes' } });
      if (!answer.ok || answer.redirected) return;
      const found = new DOMParser().parseFromString(await answer.text(), 'text/html').getElementById(form.dataset.search);
      if (found) document.getElementById(form.dataset.search).replaceWith(found);
      history.replaceState(null, '', url);
    } catch (e) {
      if (e.name !== 'AbortError') offline();
    }
  }, 120);
}

// Large steps beside a figure: the field alone works without them.
function steps() {
  for (const box of document.querySelectorAll('[data-step]:not([data-ready])')) {
    const field = box.querySelector('input');
    const button = (words, sign) => {
      const b = document.createElement('button');
      b.type = 'button';
      b.textContent = sign > 0 ? '+' : '\u2212';
      b.setAttribute('aria-label', words);
      b.addEventListener('click', () => {
        const was = parseFloat(field.value.replace(',', '.')) || 0, step = /[.,]/.test(field.value) ? 0.1 : +box.dataset.step || 1;
        field.value = Math.max(0, Math.round((was + sign * step) * 100) / 100);
        field.dispatchEvent(new Event('input', { bubbles: true }));
      });
      return b;
    };
    box.prepend(button('less', -1));
    box.append(button('more', 1));
    box.dataset.ready = 'yes';
  }
}

// A scanner types what it reads like a keyboard, and ends with Enter. Into a field it is told from a hand by its speed, on
// the whole, since single keys of one that comes by radio may lag; where nothing can be typed only a scanner types, however
// slow. Wherever the cursor is, what bears the code is shown: a line of this very page, where it counts, else its own page; a
// bin is chosen where the page asks for one, and a page of lines is not left for what is not among them. In a search field
// the browser does that itself. A field that asks for a code keeps it; one into which it fell by chance is as it was before.
const quick = 80, pause = 500, fewest = 4; // milliseconds from key to key, those that part two codes, and keys of a code
let scan = null, read = Promise.resolve(); // what is being scanned, and what was: one after the other, as it was scanned
let unpacked = null; // the line of which something was scanned last

document.addEventListener('keydown', e => {
  if (e.ctrlKey || e.altKey || e.metaKey || e.isComposing || !document.querySelector('main.book')) return scan = null;
  if (e.key === 'Shift') return;
  if (scan && e.timeStamp - scan.at > pause) scan = null;
  if (e.key.length === 1) {
    if (!scan) {
      const field = e.target.matches('textarea, input:not([type=radio], [type=checkbox], [type=file])') ? e.target : null;
      if (!field && e.key === ' ') return;
      scan = { text: '', field, was: field?.value, dirty, from: e.timeStamp };
    }
    if (!scan.field && e.key === ' ') e.preventDefault(); // else it scrolls
    scan.text += e.key;
    scan.at = e.timeStamp;
    return;
  }
  const done = scan;
  scan = null;
  if (e.key !== 'Enter' || !done || done.text.length < fewest || done.field?.form?.method === 'get') return;
  const byHand = done.field && e.timeStamp - done.from > quick * done.text.length, forCode = done.field && 'code' in done.field.dataset;
  if (byHand && !forCode) return;
  e.preventDefault();
  if (!forCode) read = read.then(() => found(done));
  else if (!byHand) done.field.value = done.text;
  else onward(done.field);
}, true);

// onward is where Enter leads out of a field for a code into which a hand typed, or a scanner as slow as one: to the next
// field, so that no form goes half filled in; out of the last one to the button that sends it, for what a slow scanner read is
// not yet meant to be sent.
function onward(field) {
  const fields = [...field.form.elements].filter(e => e.matches('input:not([type=hidden]), select, textarea') && e.checkVisibility());
  const next = fields[fields.indexOf(field) + 1];
  (next || [...field.form.elements].find(e => e.type === 'submit') || field).focus();
}

const scanned = code => '/scan?code=' + encodeURIComponent(code);

// found goes where a scanned code leads. What nothing bears is left in the field in which it stands.
async function found({ text, field, was, dirty: before }) {
  let answer, name;
  try {
    answer = await fetch(scanned(text), { headers: { Accept: 'text/html' } });
    name = new DOMParser().parseFromString(await answer.text(), 'text/html').querySelector('h1')?.textContent;
  } catch {
    return offline();
  }
  const to = new URL(answer.url);
  if (!answer.redirected && field) return;
  if (field) {
    field.value = was;
    dirty = before;
  }
  const lines = [...document.querySelectorAll('[data-scan="' + CSS.escape(to.pathname + to.search) + '"]')];
  const line = lines.find(l => came(l) < +l.dataset.awaits) || lines[0];
  const bin = to.searchParams.get('bin');
  const asks = document.querySelector('form[method=get] [data-code]');
  const kept = dirty ? ' What you typed is kept until you leave.' : '';
  if (line) count(line);
  else if (asks && to.pathname.startsWith('/parts/')) {
    asks.value = text;
    asks.form.requestSubmit();
  } else if (bin && document.querySelector('select[name^=bin]')) stow(bin);
  else if (document.querySelector('[data-scan]')) say((answer.redirected ? name + ' is not on this list.' : 'Nothing bears the code “' + text + '”.') + kept, 'Show what it is', to.href);
  else if (dirty) say('“' + text + '” was scanned.' + kept, 'Show what it is', to.href);
  else location.href = to.href;
}

const came = line => +line.querySelector('[data-counts]')?.value || 0;

// count shows the line of what was scanned, and counts it there by as much as its supplier sells as one.
function count(line) {
  say('');
  unpacked = line;
  line.scrollIntoView({ block: 'center' });
  const field = line.querySelector('[data-counts]');
  (field ? line : line.querySelector('input, summary'))?.focus({ preventScroll: true });
  if (!field) return;
  const name = line.querySelector('h2').textContent;
  if ([...field.form.elements].some(e => e.checked && (e.name === 'all' || line.contains(e)))) return say(name + ': it is ticked that all came. Take the tick away to count with the scanner.');
  const was = field.value, pack = +field.dataset.counts, n = came(line) + pack, most = +line.dataset.awaits;
  const put = value => {
    field.value = value;
    field.dispatchEvent(new Event('input', { bubbles: true }));
  };
  put(n);
  field.closest('details').open = true;
  say(name + ': ' + n + ' of ' + most + ' scanned' + (pack > 1 ? ', a pack of ' + pack + ' counted.' : '.') + (n > most ? ' That is more than is to come: say whether you keep it.' : ''));
  if (pack > 1) undo('Take it back', () => (put(was), say(name + ': ' + (+was || 0) + ' of ' + most + ' scanned.')));
}

// stow chooses the bin whose label was scanned: of the line of which something was scanned last, else of all the rest.
function stow(bin) {
  const of = unpacked?.isConnected && unpacked.querySelector('select[name^=bin-]');
  const bins = of || document.querySelector('select[name=bin]');
  if (!bins) return say('Scan a part of the parcel first, then the bin into which it goes.');
  if (![...bins.options].some(o => o.value === bin)) return say('The bin ' + bin + ' is newer than this page.', 'Show it anew');
  if (bins.closest('details')) bins.closest('details').open = true;
  bins.value = bin;
  bins.dispatchEvent(new Event('input', { bubbles: true }));
  if (!of) bins.focus();
  bins.scrollIntoView({ block: 'center' });
  if (of) say(unpacked.querySelector('h2').textContent + ' goes into ' + bin + '.');
}

// The tablet's camera, where the browser can read bars by itself.
const formats = ['code_128', 'qr_code', 'ean_13', 'ean_8', 'upc_a', 'itf', 'data_matrix', 'code_39'];
async function look(box, button) {
  const known = await BarcodeDetector.getSupportedFormats();
  const detector = new BarcodeDetector({ formats: formats.filter(f => known.includes(f)) });
  let stream;
  try {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } });
  } catch {
    return say('The camera cannot be used: allow it for this page in the browser, or type what stands under the bars.');
  }
  const video = document.createElement('video');
  video.playsInline = video.muted = true;
  video.srcObject = stream;
  video.setAttribute('aria-label', 'What the camera sees');
  button.replaceWith(video);
  addEventListener('pagehide', () => stream.getTracks().forEach(t => t.stop()));
  video.play().catch(() => {});
  while (stream.active) {
    const codes = await detector.detect(video).catch(() => []); // until there is a picture there is nothing to read
    if (codes.length) {
      stream.getTracks().forEach(t => t.stop());
      video.replaceWith(button);
      return found({ text: codes[0].rawValue, field: null, dirty });
    }
    await new Promise(done => setTimeout(done, 150));
  }
}

function camera() {
  for (const box of document.querySelectorAll('[data-camera]:not([data-ready])')) {
    if (!('BarcodeDetector' in window) || !navigator.mediaDevices) return;
    const button = document.createElement('button');
    button.type = 'button';
    button.className = 'second';
    button.textContent = 'Use the camera';
    button.addEventListener('click', () => look(box, button));
    box.append(button);
    box.dataset.ready = 'yes';
  }
}

steps();
camera();
listen();
