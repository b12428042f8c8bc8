// The most urgent thing, a card for each green, and what came since yesterday.
import {amount, chart, el, greenAddress, greenTitle, link, repairsAddress} from './elements.js';
import {smallSymbol, symbolOf} from './symbols.js';

function urgentSection(urgent) {
  const symbols = urgent.patches.map(({symbol, label}) =>
      el('span', {class: 'labelled'}, symbolOf(symbol), el('b', {}, label)));
  return el('section', {class: 'card urgent', 'aria-label': 'Most urgent'},
            symbols.length ? el('div', {class: 'symbols'}, symbols) : null,
            el('div', {class: 'sentence'}, el('h1', {}, urgent.sentence),
               urgent.second ? el('p', {}, urgent.second) : null),
            urgent.action ? link(urgent.action.text, repairsAddress(urgent.action.green), 'big') : null);
}

function kindCounts(kinds) {
  return el('ul', {class: 'kinds'}, kinds.map(({symbol, word, count}) =>
      el('li', {'aria-label': `${count} ${word}`}, smallSymbol(symbol), el('b', {}, count))));
}

function greenCard(green) {
  return el('article', {class: 'card green-card'},
            el('h2', {}, link(greenTitle(green.green), greenAddress(green.green), 'name')),
            el('p', {class: 'size plain'}, amount(green.area)),
            el('p', {class: `answer ${green.weight}`}, green.answer),
            el('p', {class: 'chance'}, green.chance),
            el('p', {class: 'second of'}, green.chance_of),
            chart(green.chart),
            el('p', {class: 'bare'}, shareText(green.bare_share), amount(green.bare)),
            el('div', {class: 'open'}, green.kinds.length ? kindCounts(green.kinds) : null,
               el('p', {class: 'ends'}, el('span', {}, green.open),
                  el('span', {class: green.late_weight}, green.late)),
               green.sown ? el('p', {class: 'ends'}, el('span', {}, 'Sown:'),
                               el('span', {class: green.sown_weight}, green.sown)) : null,
               green.look_next ? el('p', {class: 'second next'}, 'Measure next: ', green.look_next) : null));
}

/** "1.21 ± 0.08 % bare" with its figure bold. */
export function shareText(share) {
  return share ? el('span', {}, amount(share), el('small', {}, ' bare')) : null;
}

function newsSection(news) {
  return el('section', {class: 'card'}, el('h2', {}, 'New since yesterday'),
            news.length === 0
                ? el('p', {class: 'second'}, 'Nothing came in. Walk a green, then exchange at the shed.')
                : el('ul', {class: 'news'}, news.map(({count, what, weight}) =>
                    el('li', {class: weight}, el('b', {}, count), el('span', {}, what)))));
}

function rainSection(rain) {
  return el('section', {class: 'card'},
            el('div', {class: 'ends'}, el('h2', {}, 'Rain, 14 days'), rain ? amount(rain.total) : null),
            rain ? chart(rain.chart, `Rain of 14 days. ${rain.heaviest}`) : null,
            el('p', {class: 'second'}, rain ? rain.heaviest : 'No rain was written down in 14 days.'));
}

function walksSection(walks) {
  const rows = walks.map(({green, who, when, seen, note, weight}) =>
      el('tr', {}, el('th', {scope: 'row'}, green), el('td', {}, who),
         el('td', {class: when === 'never' ? 'watch' : null}, when), el('td', {class: 'right'}, seen),
         el('td', {class: `right ${weight}`}, note)));
  return el('section', {class: 'card'}, el('h2', {}, 'Who was out, what was not walked'),
            el('table', {class: 'walks'},
               el('thead', {}, el('tr', {}, ['green', 'last walk', 'when'].map((head) =>
                   el('th', {scope: 'col'}, head)), el('th', {scope: 'col', class: 'right'}, 'open seen'),
                   el('td', {}))),
               el('tbody', {}, rows)));
}

/** What to look at first, in walking order; the numbers are those of the walk. */
function roundSection(round) {
  if (round.stops.length === 0) return null;
  return el('section', {class: 'card round'},
            el('div', {class: 'ends'}, el('h2', {}, 'Look first'),
               el('span', {class: 'second'}, round.headline)),
            el('ol', {}, round.stops.map(({patch, label, green, why, weight}) =>
                el('li', {}, link(label, greenAddress(green, patch)), el('span', {class: weight}, why)))));
}

export function overviewPage(page) {
  return el('div', {class: 'overview'}, urgentSection(page.urgent),
            el('div', {class: 'greens'}, page.greens.map(greenCard)),
            page.top.greens.includes('')
                ? el('p', {class: 'card'}, 'Some patches lie on no green. ',
                     link('Look at them', greenAddress('')))
                : null,
            roundSection(page.round),
            el('div', {class: 'below'}, newsSection(page.news), rainSection(page.rain),
               walksSection(page.walks)));
}
