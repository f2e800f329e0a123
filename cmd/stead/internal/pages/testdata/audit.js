// What is to be measured on every page, whatever is on it. It gives a list of sentences, empty where all is well.
(() => {
  const wrong = [];
  const seen = e => e.checkVisibility({ checkOpacity: false, checkVisibilityCSS: true }) && e.getClientRects().length > 0;
  const name = e => (e.outerHTML.slice(0, 120) + ' …').replace(/\s+/g, ' ');

  // No sideways scroll (WCAG 2.2, 1.4.10 at 320 px; here at the width that the page has).
  const wide = document.documentElement.scrollWidth - innerWidth;
  if (wide > 0) {
    const out = [...document.querySelectorAll('main *')].filter(e => seen(e) && e.getBoundingClientRect().right > innerWidth + 1).slice(0, 3);
    wrong.push(`it scrolls sideways by ${wide} px: ${out.map(name).join(' | ')}`);
  }

  // Targets of 48 px (WCAG 2.2, 2.5.8 asks for 24). A radio button or a box is as large as its label; the marks on the
  // drawing of the bike stand as close as the parts do, with the list of the same places beside them.
  for (const e of document.querySelectorAll('a[href], button, input:not([type=hidden]), select, textarea, summary')) {
    if (!seen(e) || e.closest('.places') || e.closest('.skip') || e.matches('.skip')) continue;
    const label = e.matches('[type=radio], [type=checkbox]') ? document.querySelector(`label[for="${CSS.escape(e.id)}"]`) : null;
    const box = (label || e).getBoundingClientRect();
    if (box.height < 47.5 || box.width < 47.5) wrong.push(`a target of ${Math.round(box.width)} × ${Math.round(box.height)} px: ${name(e)}`);
  }

  // A link lies over no other one, and among words it is broken as they are and makes their lines no higher.
  const links = [...document.querySelectorAll('main a[href]')].filter(e => seen(e) && !e.closest('.places, svg'));
  const over = (a, b) => Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 12 && Math.min(a.right, b.right) - Math.max(a.left, b.left) > 4;
  links.forEach((e, i) => { const next = links[i + 1]; if (next && !e.contains(next) && [...e.getClientRects()].some(a => [...next.getClientRects()].some(b => over(a, b)))) wrong.push(`two links lie over each other: ${name(e)} | ${name(next)}`); });
  for (const e of links) {
    const among = [e.previousSibling, e.nextSibling].some(n => n && n.nodeType === Node.TEXT_NODE && n.data.trim());
    if (among && getComputedStyle(e).display !== 'inline') wrong.push(`a link among words is not broken as they are: ${name(e)}`);
  }

  // What stands in a row of a table stands on one line of letters.
  for (const row of document.querySelectorAll('main tbody tr')) {
    const first = [...row.cells].filter(c => seen(c) && getComputedStyle(c).display === 'table-cell' && c.textContent.trim() && !c.querySelector('svg, input, button')).map(c => { const r = document.createRange(); r.selectNodeContents(c); return [...r.getClientRects()].filter(b => b.height < 40)[0]; }).filter(Boolean).map(b => b.top + b.height / 2);
    if (Math.max(...first) - Math.min(...first) > 5) wrong.push(`a row does not stand on one line, but ${Math.round(Math.max(...first) - Math.min(...first))} px apart: ${name(row)}`);
  }

  // What is read and tabbed to stands in the order in which it is seen (1.3.2, 2.4.3): nothing jumps the queue, and no style
  // turns it round.
  for (const e of document.querySelectorAll('body *')) {
    const style = getComputedStyle(e);
    if (e.tabIndex > 0) wrong.push(`it jumps the queue: ${name(e)}`);
    if (style.order !== '0' || /reverse/.test(style.flexDirection + style.flexWrap)) wrong.push(`it is seen elsewhere than it stands: ${name(e)}`);
  }

  // Contrast of every text with what is behind it (WCAG 2.2, 1.4.3; relative luminance as it defines that).
  const parse = c => { const m = c.match(/[\d.]+/g); return m ? m.map(Number) : [0, 0, 0, 0]; };
  const luminance = c => { const f = c.slice(0, 3).map(v => v / 255).map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4); return 0.2126 * f[0] + 0.7152 * f[1] + 0.0722 * f[2]; };
  const ratio = (a, b) => { const [x, y] = [luminance(a), luminance(b)].sort((p, q) => q - p); return (x + 0.05) / (y + 0.05); };
  const behind = e => { for (; e; e = e.parentElement) { const c = parse(getComputedStyle(e).backgroundColor); if (c.length < 4 || c[3] > 0) return c; } return [255, 255, 255]; };
  // The formula's ends are given in the standard: 21:1 and 1:1; #767676 on white is the lightest grey of 4.5:1.
  if (ratio([0, 0, 0], [255, 255, 255]) !== 21 || ratio([9, 9, 9], [9, 9, 9]) !== 1 || Math.abs(ratio([0x76, 0x76, 0x76], [255, 255, 255]) - 4.54) > 0.005) wrong.push('the formula of contrast is not that of WCAG');
  const told = new Set();
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const e = walk.currentNode.parentElement;
    if (!walk.currentNode.data.trim() || !seen(e) || e.closest('svg, script, .hide, .skip')) continue;
    const r = ratio(parse(getComputedStyle(e).color), behind(e));
    const key = getComputedStyle(e).color + behind(e);
    if (r < 4.5 && !told.has(key)) { told.add(key); wrong.push(`contrast ${r.toFixed(2)}: ${name(e)}`); }
  }

  // What the subject says stands by itself here, and begins as a sentence does.
  for (const e of document.querySelectorAll('.word.done, .word > p:first-child, p.wrong, .told, .told > li')) {
    if (e.matches('ul') || !/^\p{Ll}/u.test(e.textContent.trim())) continue;
    if (getComputedStyle(e, '::first-letter').textTransform !== 'uppercase') wrong.push(`a sentence begins with a small letter: ${name(e)}`);
  }

  // One heading of the first rank, a language, a title; headings leave out no rank.
  if (document.querySelectorAll('h1').length !== 1) wrong.push(`it has ${document.querySelectorAll('h1').length} headings of the first rank`);
  let rank = 1;
  for (const h of document.querySelectorAll('h1, h2, h3, h4')) { const r = +h.tagName[1]; if (r > rank + 1) wrong.push(`a heading leaves out a rank: ${name(h)}`); rank = r; }
  if (!document.documentElement.lang || !document.title) wrong.push('it has no language or no title');
  for (const f of document.querySelectorAll('fieldset')) if (!f.querySelector(':scope > legend')?.textContent.trim()) wrong.push(`choices without a legend: ${name(f)}`);
  const ids = [...document.querySelectorAll('[id]')].map(e => e.id);
  for (const id of new Set(ids.filter((id, i) => ids.indexOf(id) !== i))) wrong.push(`two things are called ${id}`);
  for (const e of document.querySelectorAll('[aria-describedby], label[for]')) { const id = e.getAttribute('aria-describedby') || e.getAttribute('for'); if (!document.getElementById(id)) wrong.push(`nothing is called ${id}: ${name(e)}`); }
  return wrong;
})()
