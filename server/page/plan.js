// The plan of a green: pan, zoom and keys are Leaflet's, everything drawn is ours.
import {el} from './elements.js';
import {fillOf, pattern, svg, symbolOf} from './symbols.js';

/* global L */
const GROUND = {stroke: true, color: '#3B4A43', weight: 1.5, fillOpacity: 1, interactive: false};
const SYMBOL_PX = 50;
const LABEL_PX = 40;
/** On a plan narrower than this, on a phone, symbols are smaller. */
const NARROW_PX = 500;
const SMALLER = 0.7;

const at = ([east, north]) => [north, east];
const rings = (shape) => shape.map((polygon) => polygon.map((ring) => ring.map(at)));

/** Fills with dots and stripes for outlines; the symbols bring their own. */
function patternsFor(frame) {
  const defs = svg('defs');
  for (const kind of ['bare', 'hungry', 'dug', 'washed']) {
    for (const look of ['sown', 'up']) defs.append(pattern(`plan-${kind}-${look}`, kind, look));
  }
  frame.append(svg('svg', {class: 'plan-patterns', width: 0, height: 0, 'aria-hidden': 'true'}, defs));
}

function drawGround(map, plan) {
  for (const shape of plan.surrounds) {
    L.polygon(rings(shape), {...GROUND, color: '#B9BEAE', fillColor: '#E9EDDD'}).addTo(map);
  }
  if (plan.outline.length) L.polygon(rings(plan.outline), {...GROUND, fillColor: '#D3E3C4'}).addTo(map);
  if (plan.walk) {
    L.polyline(plan.walk.track.map(at), {color: '#3B4A43', weight: 2, dashArray: '0 6',
                                         lineCap: 'round', interactive: false}).addTo(map);
  }
}

/** A mark's name is left out where there is no room for it. */
function drawMark(map, mark) {
  const box = el('span', {class: 'mark-box'}, el('span', {class: 'mark-name'}, mark.name));
  L.marker(at(mark.at), {interactive: false, keyboard: false, icon: L.divIcon({
    className: 'plan-mark', iconSize: [12, 12], html: box})}).addTo(map);
  return {place: mark, box, reach: 8, mark: true, half: 4 + mark.name.length * 4};
}

function drawPatch(map, place, patch, chosen, choose) {
  const closed = patch.closed;
  if (place.shape.length) {
    L.polygon(rings(place.shape), {
      color: closed ? '#3B4A43' : '#10201A', weight: closed ? 1 : 2.5, fill: true,
      fillColor: fillOf(patch.symbol, `plan-${patch.symbol.kind}-${patch.symbol.look}`),
      fillOpacity: closed ? 0 : 0.7, lineJoin: 'round'})
      .on('click', () => choose(patch.patch)).addTo(map);
  }
  if (!place.at) return null;
  const box = el('span', {class: 'patch-mark'}, symbolOf(patch.symbol),
                 el('b', {class: 'patch-label'}, patch.label));
  const marker = L.marker(at(place.at), {
    title: `${patch.heading}, ${patch.kind}. ${patch.answer}`, zIndexOffset: chosen ? 1000 : patch.symbol.late ? 500 : 0,
    icon: L.divIcon({html: box, iconSize: [SYMBOL_PX, SYMBOL_PX],
                     className: `patch-icon${chosen ? ' chosen' : ''}${closed ? ' closed' : ''}`})});
  marker.on('click', () => choose(patch.patch));
  marker.on('keypress', (event) => { if (event.originalEvent.key === 'Enter') choose(patch.patch); });
  marker.addTo(map);
  return {place, box, reach: patch.symbol.late ? 25 : patch.symbol.share_closed !== null ? 21 : 16};
}

/** Labels stand right of their symbol; left, below, then above where they would touch. */
function placeLabels(map, drawn) {
  const {x: width, y: height} = map.getSize();
  const scale = width < NARROW_PX ? SMALLER : 1;
  map.getContainer().classList.toggle('small', scale < 1);
  const points = drawn.map(({place}) => map.latLngToContainerPoint(at(place.at)));
  const reaches = drawn.map(({reach, mark}) => mark ? reach : reach * scale);
  const taken = points.map(({x, y}, i) => boxAt(x, y, reaches[i], reaches[i]));
  drawn.forEach(({box, mark, half = LABEL_PX / 2}, i) => {
    const reach = reaches[i];
    const {x, y} = points[i];
    const places = {right: boxAt(x + reach + half, y, half, 10), left: boxAt(x - reach - half, y, half, 10),
                    below: boxAt(x, y + reach + 10, half, 10), above: boxAt(x, y - reach - 10, half, 10)};
    const free = Object.keys(places).find((name) =>
        places[name].left >= 0 && places[name].right <= width &&
        places[name].top >= 0 && places[name].bottom <= height &&
        taken.every((other, j) => j === i || !touches(places[name], other)));
    const name = free || (mark ? 'nowhere' : 'right');
    if (places[name]) taken.push(places[name]);
    box.className = `${mark ? 'mark-box' : 'patch-mark'} ${name}`;
    box.style.setProperty('--reach', `${reach}px`);
  });
}

const boxAt = (x, y, w, h) => ({left: x - w, right: x + w, top: y - h, bottom: y + h});
const touches = (a, b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

function scaleBar(map, scales) {
  const bar = el('span', {class: 'bar'});
  const words = el('span', {});
  const fit = () => {
    const metres_px = map.latLngToContainerPoint([0, 1]).x - map.latLngToContainerPoint([0, 0]).x;
    const fitting = scales.filter((scale) => scale.length_m * metres_px <= 120);
    const scale = fitting[fitting.length - 1] || scales[0];
    bar.style.width = `${scale.length_m * metres_px}px`;
    words.textContent = scale.text;
  };
  map.on('zoomend resize', fit);
  fit();
  return el('div', {class: 'scale'}, bar, words);
}

function northArrow() {
  return el('div', {class: 'north'},
            svg('svg', {viewBox: '0 0 20 34', width: 20, height: 34, 'aria-hidden': 'true'},
                svg('path', {d: 'M10 0 17 12H11V34H9V12H3Z', fill: '#10201A'})),
            'north');
}

function zoomButtons(map, whole) {
  const button = (text, action) => el('button', {type: 'button', onclick: action}, text);
  return el('div', {class: 'zoom'}, button('Nearer', () => map.zoomIn(1)),
            button('Wider', () => map.zoomOut(1)), button('Whole green', whole));
}

/** Draws into `frame`, which must be on the page already. */
export function drawPlan(frame, page, chosen, choose) {
  const plan = page.plan;
  patternsFor(frame);
  const canvas = el('div', {class: 'plan-canvas'});
  frame.append(canvas);
  const map = L.map(canvas, {crs: L.CRS.Simple, zoomControl: false, attributionControl: false,
                             zoomAnimation: false, fadeAnimation: false, markerZoomAnimation: false,
                             inertia: false, zoomSnap: 0.25, zoomDelta: 1, minZoom: -4, maxZoom: 9});
  const [west, south, east, north] = plan.bounds;
  const few = Math.max(east - west, north - south) < 2 ? 5 : 0;
  const whole = () => map.fitBounds([[south - few, west - few], [north + few, east + few]],
                                    {paddingTopLeft: [24, 24], paddingBottomRight: [24, 92]});
  whole();
  drawGround(map, plan);
  const places = new Map(plan.places.map((place) => [place.patch, place]));
  const drawn = page.patches.slice().reverse()
      .map((patch) => places.has(patch.patch)
          ? drawPatch(map, places.get(patch.patch), patch, patch.patch === chosen, choose) : null)
      .filter(Boolean);
  drawn.push(...plan.marks.map((mark) => drawMark(map, mark)));
  const labels = () => placeLabels(map, drawn);
  map.on('zoomend resize', labels);
  labels();
  frame.append(northArrow(), scaleBar(map, plan.scales), zoomButtons(map, whole));
  if (plan.walk) frame.append(el('p', {class: 'walk-words'}, plan.walk.words));
}
