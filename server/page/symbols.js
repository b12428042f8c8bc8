// Patches as they are drawn everywhere: kind by shape, letter and colour, state by the way
// it is filled, share closed and late as rings.

const SVG = 'http://www.w3.org/2000/svg';
const INK = '#10201A';
const FILLS = {bare: '#E69F00', hungry: '#F0E442', dug: '#D55E00', washed: '#0072B2'};
const LETTERS = {bare: INK, hungry: INK, dug: INK, washed: '#FFFFFF'};
const SHAPES = {
  bare: 'M-10 0A10 10 0 1 0 10 0A10 10 0 1 0-10 0Z',
  hungry: 'M-9.5-9.5H9.5V9.5H-9.5Z',
  dug: 'M0-13 13 10H-13Z',
  washed: 'M-11 0A10 10 0 0 1-1-10C7-10 11-4 16 0C11 4 7 10-1 10A10 10 0 0 1-11 0Z',
};
let patterns = 0;

export function svg(tag, attributes = {}, ...children) {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.append(...children);
  return element;
}

/** A pattern element for a kind that was sown (dots) or is up (stripes). */
export function pattern(id, kind, look) {
  const ground = svg('rect', {width: 6, height: 6, fill: '#FFFFFF'});
  const drawn = look === 'sown'
      ? [svg('circle', {cx: 1.5, cy: 1.5, r: 1.1, fill: FILLS[kind]}),
         svg('circle', {cx: 4.5, cy: 4.5, r: 1.1, fill: FILLS[kind]})]
      : [svg('rect', {width: 2.6, height: 6, fill: FILLS[kind]})];
  return svg('pattern', {id, width: 6, height: 6, patternUnits: 'userSpaceOnUse',
                         patternTransform: look === 'sown' ? '' : 'rotate(45)'},
             ground, ...drawn);
}

/** What a patch of this kind and state is filled with; patterns need their own id. */
export function fillOf(symbol, patternId) {
  if (symbol.look === 'closed') return 'none';
  if (symbol.look === 'sown' || symbol.look === 'up') return `url(#${patternId})`;
  return FILLS[symbol.kind];
}

function shapeOf(symbol, patternId) {
  const closed = symbol.look === 'closed';
  return svg('path', {d: SHAPES[symbol.kind], fill: closed ? '#FFFFFF' : fillOf(symbol, patternId),
                      stroke: closed ? '#3B4A43' : INK, 'stroke-width': closed ? 1.2 : 2.5,
                      'stroke-linejoin': 'round'});
}

function letterOf(symbol) {
  const patterned = symbol.look === 'sown' || symbol.look === 'up';
  const colour = symbol.look === 'closed' ? '#3B4A43' : patterned ? INK : LETTERS[symbol.kind];
  const letter = svg('text', {x: symbol.kind === 'washed' ? -0.5 : 0,
                              y: symbol.kind === 'dug' ? 7.5 : 4.7, 'text-anchor': 'middle',
                              'font-family': 'B612', 'font-weight': 'bold', 'font-size': 13,
                              fill: colour});
  if (patterned) {
    letter.setAttribute('stroke', '#FFFFFF');
    letter.setAttribute('stroke-width', 3.5);
    letter.setAttribute('paint-order', 'stroke');
    letter.setAttribute('stroke-linejoin', 'round');
  }
  letter.textContent = symbol.letter;
  return letter;
}

/** An arc from 12 o'clock; a whole circle has no arc of its own. */
function arc(radius, share) {
  if (share >= 0.999) return `M0 ${-radius}A${radius} ${radius} 0 1 1-0.01 ${-radius}`;
  const angle = 2 * Math.PI * Math.max(share, 0);
  const x = radius * Math.sin(angle);
  const y = -radius * Math.cos(angle);
  return `M0 ${-radius}A${radius} ${radius} 0 ${share > 0.5 ? 1 : 0} 1 ${x} ${y}`;
}

/** The whole symbol with its rings: 50 px. Its words are the caller's to give. */
export function symbolOf(symbol, size = 50) {
  const id = `fill-${++patterns}`;
  const drawn = svg('svg', {viewBox: '-25 -25 50 50', width: size, height: size,
                            'aria-hidden': 'true', class: 'symbol'});
  if (symbol.look === 'sown' || symbol.look === 'up') {
    drawn.append(svg('defs', {}, pattern(id, symbol.kind, symbol.look)));
  }
  if (symbol.late) {
    drawn.append(svg('circle', {r: 22.5, fill: '#FFFFFF', stroke: '#9B1C1C', 'stroke-width': 2.5}));
  }
  if (symbol.share_closed !== null) {
    drawn.append(svg('circle', {r: 19.5, fill: '#FFFFFF'}),
                 svg('circle', {r: 17.5, fill: 'none', stroke: '#B9BEAE', 'stroke-width': 4}),
                 svg('path', {d: arc(17.5, symbol.share_closed), fill: 'none', stroke: '#0A5A3A',
                              'stroke-width': 4}));
  }
  drawn.append(shapeOf(symbol, id), letterOf(symbol));
  return drawn;
}

/** Without rings, cut close: beside counts and in tables. */
export function smallSymbol(symbol) {
  const drawn = symbolOf({...symbol, late: false, share_closed: null});
  drawn.setAttribute('viewBox', '-14 -15 32 28');
  drawn.setAttribute('width', 32);
  drawn.setAttribute('height', 28);
  return drawn;
}
