// Looks at a page in a browser and tells its frame what is wrong: whether it pans
// sideways, a text of a picture lies over a line or another text or leaves its
// picture, a heading skips a level, a picture is not described by its figures; and
// what axe-core finds, where that is there.

// lines returns what kind of line runs through the middle of a box on the page,
// sampled across it; nothing where none does.
function lines(svg, box) {
  for (const el of svg.querySelectorAll('line, path, circle, ellipse, rect')) {
    if (el.closest('pattern, defs') || getComputedStyle(el).stroke === 'none' || el.matches('.lead')) continue;
    const around = el.getBoundingClientRect();
    if (around.right < box.left || around.left > box.right || around.bottom < box.top || around.top > box.bottom) continue;
    const into = el.getScreenCTM()?.inverse();
    if (!into) continue;
    const hit = (x, y) => el.isPointInStroke(new DOMPoint(x, y).matrixTransform(into));
    const name = `${el.tagName} ${el.getAttribute('class') || ''}`.trim();
    const top = box.top + 0.35 * box.height, bottom = box.top + 0.65 * box.height; // where the letters are
    for (let i = 1; i < 12; i++) { // what runs across, then what runs down
      for (let y = top; y < bottom; y += 0.4) if (hit(box.left + box.width * i / 12, y)) return name;
    }
    for (let x = box.left + 1; x < box.right - 1; x += 0.4) {
      for (let i = 0; i < 3; i++) if (hit(x, top + (bottom - top) * i / 2)) return name;
    }
  }
  return '';
}
window.addEventListener('load', async () => {
  const bad = [];
  const wide = document.scrollingElement.scrollWidth, room = document.documentElement.clientWidth;
  if (wide > room) bad.push(`pans sideways: ${wide} px in ${room}`);
  if (document.querySelectorAll('main').length !== 1) bad.push('not one main');
  let last = 0;
  for (const h of document.querySelectorAll('h1,h2,h3,h4,h5')) {
    const n = +h.tagName[1];
    if (n > last + 1) bad.push(`heading ${h.textContent} skips from ${last} to ${n}`);
    last = n;
  }
  for (const svg of document.querySelectorAll('svg')) {
    const name = svg.querySelector('title')?.textContent, desc = svg.querySelector('desc')?.textContent || '';
    if (!name || !/\d/.test(desc)) bad.push(`${name}: its description holds no figure`);
    const r = svg.getBoundingClientRect();
    if (r.width === 0) continue;
    const boxes = [...svg.querySelectorAll('text')].map(t => [t.textContent, t.getBoundingClientRect()]);
    const slack = 0.02 * r.width;
    boxes.forEach(([t, b], i) => {
      if (b.left < r.left - slack || b.right > r.right + slack || b.top < r.top - slack || b.bottom > r.bottom + slack) bad.push(`${name}: “${t}” leaves the picture`);
      const over = lines(svg, b);
      if (over) bad.push(`${name}: “${t}” lies over a ${over}`);
      for (const [u, c] of boxes.slice(i + 1)) {
        const w = Math.min(b.right, c.right) - Math.max(b.left, c.left), h = Math.min(b.bottom, c.bottom) - Math.max(b.top, c.top);
        if (w > 1 && h > 0.35 * Math.min(b.height, c.height)) bad.push(`${name}: “${t}” lies over “${u}”`);
      }
    });
  }
  const found = window.axe ? await axe.run(document, {resultTypes: ['violations']}) : {violations: []};
  for (const v of found.violations) bad.push(`axe ${v.id}: ${v.help}: ${v.nodes.slice(0, 3).map(n => n.html.slice(0, 120)).join(' | ')}`);
  parent.postMessage(`${innerWidth} px: ` + (bad.length ? [...new Set(bad)].join('\n') : 'nothing'), '*');
});
