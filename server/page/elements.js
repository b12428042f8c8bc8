// Makes elements. Texts come ready from the shed: nothing here formats a number.

/** An element with attributes ("on…" are listeners, null ones are left out) and children. */
export function el(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith('on')) element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, value === true ? '' : value);
  }
  element.append(...children.flat().filter((child) => child !== null && child !== undefined));
  return element;
}

/** A number with its doubt and unit, which are smaller and lighter than the figure. */
export function amount(written) {
  if (!written) return el('span', {class: 'amount'});
  const rest = [written.doubt, written.unit].filter(Boolean).join(' ');
  return el('span', {class: 'amount'}, el('b', {}, written.figure), rest ? ' ' : '',
            rest ? el('small', {}, rest) : null);
}

/** Two cells of a table, so that figures and doubts each stand below each other. */
export function amountCells(written, withUnit = false) {
  const rest = written ? [written.doubt, withUnit ? written.unit : ''].filter(Boolean).join(' ') : '';
  return [el('td', {class: 'figure'}, written ? el('b', {}, written.figure) : ''),
          el('td', {class: 'doubt'}, rest)];
}

/** A chart that the shed drew, with words for those who do not see it where it
 *  brings none of its own. */
export function chart(svg, words = '') {
  if (!svg) return null;
  const drawn = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  if (drawn.nodeName !== 'svg') return null;
  drawn.setAttribute('role', 'img');
  if (words) drawn.setAttribute('aria-label', words);
  return el('div', {class: 'chart'}, document.adoptNode(drawn));
}

export function link(text, href, className = '') {
  return el('a', {href, class: className || null}, text);
}

export function greenAddress(green, patch = '') {
  const parts = ['#/greens', encodeURIComponent(green || '-')];
  if (patch) parts.push(encodeURIComponent(patch));
  return parts.join('/');
}

export function repairsAddress(green) {
  return `#/repairs/${encodeURIComponent(green || '-')}`;
}

export function greenTitle(green) {
  return green || 'On no green';
}
