// Which page is shown, and that it shows what the shed knows now.
import {el} from './elements.js';
import {overviewPage} from './overview.js';
import {greenPage} from './green.js';
import {repairsPage} from './repairs.js';
import {devicesPage, showMe, signInPage} from './door.js';

const LOOK_AGAIN_MS = 20000;
const main = document.getElementById('page');
const gone = document.getElementById('gone');
const incomplete = document.getElementById('incomplete');
const menu = document.getElementById('menu');
const pages = document.getElementById('pages');

let shown = '';      // address and version of what is on the screen
let asked = 0;       // the newest question; answers to older ones are dropped
let timer = null;

/** "#/greens/North/N7" as {page, green, patch}; "-" stands for "on no green". */
function route() {
  const [page, green, patch] = location.hash.replace(/^#\/?/, '').split('/').map((part) => {
    try {
      return decodeURIComponent(part);
    } catch {
      return '';
    }
  });
  const known = ['overview', 'greens', 'repairs', 'devices'].includes(page) ? page : 'overview';
  return {page: known, green: green === '-' ? '' : green, patch};
}

class NotThere extends Error {}
class NotLetIn extends Error {}

async function ask(address) {
  const response = await fetch(address, {headers: {Accept: 'application/json'}, cache: 'no-cache'});
  if (response.status === 401) throw new NotLetIn();
  if (response.status === 404) throw new NotThere();
  if (!response.ok) {
    const body = await response.json().catch(() => ({}));
    throw new Error(body.reason || 'The shed answered with an error.');
  }
  return response.json();
}

async function dataFor(where) {
  if (where.page === 'devices') return {page: await ask('/api/overview'), devices: await ask('/api/devices')};
  if (where.page === 'repairs') return {page: await ask('/api/repairs')};
  const overview = where.page === 'overview' || where.green === undefined
      ? await ask('/api/overview') : null;
  if (where.page === 'overview') return {page: overview};
  const green = where.green ?? overview.top.greens[0];
  if (green === undefined) return {page: overview, empty: true};
  const page = await ask(`/api/greens/${encodeURIComponent(green)}`);
  const patch = where.patch
      ? await ask(`/api/patch?patch=${encodeURIComponent(where.patch)}`) : null;
  return {page, patch, green};
}

function showTop(top, where) {
  document.getElementById('course').textContent = top.course;
  document.getElementById('day').textContent = top.day;
  document.getElementById('short-day').textContent = top.short_day;
  document.getElementById('opening').textContent = top.opening;
  document.title = `${top.course}: ${where.page[0].toUpperCase()}${where.page.slice(1)}`;
  incomplete.hidden = !top.incomplete;
  incomplete.textContent = top.incomplete;
  for (const page of pages.querySelectorAll('a')) {
    if (page.dataset.page === where.page) page.setAttribute('aria-current', 'page');
    else page.removeAttribute('aria-current');
  }
}

export function emptyCourse() {
  return el('section', {class: 'card empty'},
            el('h1', {}, 'No greens here yet'),
            el('p', {}, 'This page will show how much of each green is bare, what closes in time ' +
                        'for opening day, and what to mend today.'),
            el('p', {class: 'second'}, 'Bring in the greens’ outlines from a GeoJSON file on ' +
                                       'this machine, or exchange with a tablet that has them:'),
            el('p', {}, el('code', {}, 'swardwalk-server import --data DIR course.geojson')));
}

function render(where, data) {
  if (data.empty) return emptyCourse();
  if (data.devices) return devicesPage(data.devices, lookAnew);
  if (where.page === 'repairs') {
    return repairsPage(data.page, where, {may: data.me.role === 'manager', again: lookAnew});
  }
  if (where.page === 'greens') return greenPage(data.page, data.patch, {...where, green: data.green});
  return data.page.greens.length === 0 && data.page.top.greens.length === 0
      ? emptyCourse() : overviewPage(data.page);
}

/** Keeps the keyboard where it was when fresh content takes the place of old. */
function replace(content, sameAddress) {
  const focused = sameAddress && main.contains(document.activeElement)
      ? document.activeElement.getAttribute('data-key') : null;
  const [x, y] = [window.scrollX, window.scrollY];
  const lists = sameAddress ? [...main.querySelectorAll('[data-scrolls]')].map((list) => list.scrollTop) : [];
  const open = sameAddress
      ? [...main.querySelectorAll('details[open][data-key]')].map((one) => one.dataset.key) : [];
  main.replaceChildren(content);
  content.dispatchEvent(new CustomEvent('shown'));
  if (!sameAddress) {
    window.scrollTo(0, 0);
    return;
  }
  for (const key of open) {
    const details = main.querySelector(`details[data-key="${CSS.escape(key)}"]`);
    if (details) details.open = true;
  }
  main.querySelectorAll('[data-scrolls]').forEach((list, i) => { list.scrollTop = lists[i] ?? 0; });
  window.scrollTo(x, y);
  if (focused) main.querySelector(`[data-key="${CSS.escape(focused)}"]`)?.focus();
}

/** What is on the screen is old whatever its version says. */
function lookAnew() {
  shown = '';
  return look();
}

function askToSignIn() {
  if (shown === 'sign-in') return;
  shown = 'sign-in';
  document.getElementById('me').replaceChildren();
  replace(signInPage(lookAnew), false);
}

function lookLater() {
  clearTimeout(timer);
  timer = setTimeout(look, LOOK_AGAIN_MS);
}

async function look() {
  clearTimeout(timer);
  const mine = ++asked;
  const where = route();
  const address = location.hash;
  try {
    const me = await ask('/api/me');
    const data = {...await dataFor(where), me};
    if (mine !== asked) return;
    gone.hidden = true;
    showMe(me, lookAnew);
    showTop(data.page.top, where);
    const now = `${address} ${data.page.top.version}`;
    if (now !== shown && (!data.devices || !shown.startsWith(`${address} `))) {
      const sameAddress = shown.startsWith(`${address} `);
      if (sameAddress && main.querySelector('[data-edited]')) return lookLater();
      shown = now;
      replace(render(where, data), sameAddress);
    }
  } catch (problem) {
    if (mine !== asked) return;
    if (problem instanceof NotLetIn) {
      gone.hidden = true;
      askToSignIn();
    } else if (problem instanceof NotThere) {
      shown = '';
      replace(el('section', {class: 'card empty'}, el('h1', {}, 'Not here'),
                 el('p', {}, 'There is no such green or patch. It may have been joined or ' +
                             'corrected on a tablet.'),
                 el('a', {href: '#/overview', class: 'big'}, 'Open the overview')), false);
    } else {
      gone.hidden = false;
      gone.textContent = problem instanceof TypeError
          ? 'The shed does not answer. What you see may be old; nothing is lost. ' +
            'This page looks again by itself.'
          : problem.message;
    }
  }
  lookLater();
}

function showMenu(open) {
  menu.setAttribute('aria-expanded', open);
  pages.classList.toggle('open', open);
}

menu.addEventListener('click', () => showMenu(menu.getAttribute('aria-expanded') !== 'true'));
pages.addEventListener('click', () => showMenu(false));
document.getElementById('to-page').addEventListener('click', () => main.focus());
window.addEventListener('hashchange', look);
document.addEventListener('visibilitychange', () => { if (!document.hidden) look(); });
look();
