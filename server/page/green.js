// One green: its plan, its patches with the late ones first, and the one that is chosen.
import {amount, chart, el, greenAddress, greenTitle, link, repairsAddress} from './elements.js';
import {shareText} from './overview.js';
import {drawPlan} from './plan.js';
import {symbolOf} from './symbols.js';

function otherGreens(page, where) {
  if (page.top.greens.length < 2) return null;
  return el('nav', {class: 'other-greens', 'aria-label': 'Greens'}, page.top.greens.map((green) =>
      el('a', {href: greenAddress(green), 'aria-current': green === where.green ? 'page' : null},
         greenTitle(green))));
}

function headLine(page) {
  const head = page.head;
  if (!head) return el('div', {class: 'green-head'}, el('h1', {}, page.title));
  return el('div', {class: 'green-head'},
            el('h1', {}, page.title),
            el('p', {class: 'second'}, amount(head.area), head.species ? `, ${head.species}` : ''),
            el('p', {}, shareText(head.bare_share)),
            el('p', {class: head.weight}, el('b', {}, head.ready || head.answer)));
}

function planSection(page, where, choose) {
  const frame = el('div', {class: 'plan', id: 'plan', role: 'group',
                           'aria-label': `Plan of ${page.title}`});
  const section = el('section', {class: 'card plan-card'}, headLine(page));
  if (!page.plan) {
    section.append(el('p', {class: 'empty-plan'}, 'Nothing here has a place yet. Bring in the ' +
                                                  'green’s outline, or walk it with a tablet.'));
    return {section, draw: () => {}};
  }
  section.append(frame);
  return {section, draw: () => drawPlan(frame, page, where.patch, choose)};
}

function row(patch, where) {
  const chosen = patch.patch === where.patch;
  return el('li', {},
            el('a', {href: greenAddress(where.green, patch.patch), class: 'patch-row',
                     'aria-current': chosen ? 'true' : null, 'data-key': `row-${patch.patch}`},
               symbolOf(patch.symbol),
               el('span', {class: 'label'}, el('b', {}, patch.label),
                  el('span', {class: 'unseen'}, `, ${patch.kind}`)),
               amount(patch.area),
               el('span', {class: `answer ${patch.weight}`}, patch.answer),
               el('span', {class: 'second'}, patch.second)));
}

function listSection(page, where) {
  const open = page.patches.filter((patch) => !patch.closed);
  const closed = page.patches.filter((patch) => patch.closed);
  return el('section', {class: 'card list-card'},
            el('div', {class: 'list-head'}, el('h2', {}, page.open),
               open.length ? el('p', {class: 'second'}, page.order) : null),
            page.patches.length === 0
                ? el('p', {class: 'empty-list'}, 'No patches on this green yet. Mark the first one ' +
                                                 'on a tablet, then exchange at the shed.')
                : el('ul', {class: 'patches', 'data-scrolls': true}, open.map((patch) => row(patch, where)),
                     closed.map((patch) => row(patch, where))),
            page.head ? el('p', {class: 'ends list-foot'}, 'Bare in all', amount(page.head.bare)) : null);
}

function lifeTable(life) {
  return el('table', {class: 'life'}, el('tbody', {}, life.map(({date, what, amount: size, note, weight}) =>
      el('tr', {}, el('th', {scope: 'row'}, date),
         el('td', {class: weight}, what, note ? el('small', {}, ` ${note}`) : null),
         el('td', {class: 'right'}, amount(size))))));
}

// A picture may not have come yet: the tablet that took it brings it with an exchange.
function photo({address, small, text}) {
  const picture = el('img', {src: small, alt: `Photo of ${text}`, loading: 'lazy'});
  const open = el('a', {href: address, target: '_blank', rel: 'noopener'}, picture);
  picture.addEventListener('error', () => open.replaceWith(
      el('p', {class: 'photo-missing second'}, 'Not here yet: its tablet brings it with an exchange.')));
  return el('figure', {}, open, el('figcaption', {class: 'second'}, text));
}

function patchSection(patch, where) {
  if (!patch) {
    return el('section', {class: 'card patch-card unchosen'},
              el('div', {class: 'patch-body'},
                 el('p', {class: 'second'}, 'Choose a patch in the list or on the plan: its answer, ' +
                                            'its chart and its life stand here.')));
  }
  const body = el('div', {class: 'patch-body', 'data-scrolls': true},
                  el('div', {class: 'patch-head'}, symbolOf(patch.symbol),
                     el('h2', {}, `${patch.label}, ${patch.kind} `, el('small', {}, patch.chapter)),
                     link('Close', greenAddress(where.green))),
                  el('p', {class: `answer ${patch.weight}`}, patch.answer),
                  el('p', {class: 'size'}, amount(patch.area), patch.share ? `, ${patch.share}` : ''),
                  el('p', {class: 'second'}, patch.why),
                  chart(patch.chart),
                  patch.photos.length ? el('div', {class: 'photos'}, patch.photos.map(photo)) : null,
                  patch.life.length ? el('h3', {}, 'Its life') : null,
                  patch.life.length ? lifeTable(patch.life) : null);
  return el('section', {class: 'card patch-card'}, body, patch.repair
      ? el('div', {class: 'patch-foot'},
           el('p', {class: 'second'}, el('b', {}, patch.repair.choice), '. ', patch.repair.reason),
           link(patch.repair.action, repairsAddress(where.green), 'big'))
      : null);
}

export function greenPage(page, patch, where) {
  const choose = (id) => { location.hash = greenAddress(where.green, id); };
  const plan = planSection(page, where, choose);
  const content = el('div', {class: `green-page${patch ? ' with-patch' : ''}`},
                     otherGreens(page, where), plan.section, listSection(page, where),
                     patchSection(patch, where));
  // The plan needs its size on the screen.
  content.addEventListener('shown', plan.draw);
  return content;
}
