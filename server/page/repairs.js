// What to mend with how much, what it comes to, what to order, what to take care of.
import {amount, amountCells, el, greenAddress, link} from './elements.js';
import {optionsOf} from './choose.js';
import {smallSymbol} from './symbols.js';

const MATERIALS = [['seed', 'seed', 'seed_lot'], ['fill', 'fill', 'fill_name'],
                   ['feed', 'feed', 'feed_name'], ['turf', 'turf', 'turf_name']];

function used(page) {
  return MATERIALS.filter(([key]) => page.units[key]);
}

function details(row, page, manager) {
  const names = MATERIALS.map(([key, word, name]) => row[name] && row[key]
      ? el('li', {}, `${word}: ${row[name]}, `, amount(row[key])) : null);
  return el('div', {class: 'why'},
            row.warnings.map((warning) => el('p', {class: 'advice watch'}, warning)),
            row.tasks.map((task) => el('p', {class: 'advice'}, task)),
            names.some(Boolean) ? el('ul', {class: 'names'}, names) : null,
            optionsOf(row, page.crew, manager));
}

/** A button that shows and hides `panel`. */
function unfolding(row, panel) {
  const toggle = el('button', {type: 'button', class: 'plain', 'aria-expanded': 'false',
                               'aria-label': `Options for ${row.heading}`,
                               'data-key': `options-${row.patch}`,
                               onclick: () => {
                                 panel.hidden = !panel.hidden;
                                 toggle.setAttribute('aria-expanded', String(!panel.hidden));
                                 toggle.textContent = panel.hidden ? 'options' : 'fold';
                               }}, 'options');
  return toggle;
}

function planRow(row, page, green, columns, manager) {
  const cells = columns.flatMap(([key]) => amountCells(row[key]));
  const panel = el('tr', {class: 'panel', hidden: true},
                   el('td', {colspan: 4 + columns.length * 2}, details(row, page, manager)));
  return [el('tr', {},
             el('th', {scope: 'row', class: 'patch'}, smallSymbol(row.symbol),
                link(row.label, greenAddress(green, row.patch))),
             el('td', {class: 'choice'}, el('b', {}, row.choice),
                el('p', {class: `reason ${row.weight}`}, row.reason),
                row.who ? el('p', {class: 'second'}, `For ${row.who}`) : null),
             el('td', {class: 'covered'}, row.covered),
             el('td', {class: 'amounts'}, columns.map(([key, word]) => row[key]
                 ? el('span', {}, amount(row[key]), el('small', {}, ` ${word}`)) : null)),
             cells, el('td', {class: 'right toggle'}, unfolding(row, panel))),
          panel];
}

function leftRow(row, page, group, manager) {
  const panel = el('div', {class: 'panel', hidden: true}, details(row, page, manager));
  return el('li', {}, el('div', {}, smallSymbol(row.symbol), link(row.label, greenAddress(group.green, row.patch)),
                         el('span', {}, row.reason), unfolding(row, panel)), panel);
}

function greenRows(group, page, columns, manager) {
  const width = 4 + columns.length * 2;
  const rows = [el('tr', {class: 'group', id: `green-${group.green}`},
                   el('th', {colspan: width, scope: 'rowgroup'}, group.title, ' ',
                      el('small', {}, group.words)))];
  for (const row of group.todo) rows.push(...planRow(row, page, group.green, columns, manager));
  if (group.left.length) {
    rows.push(el('tr', {class: 'left-alone'}, el('td', {colspan: width},
        el('details', {'data-key': `left-${group.green}`}, el('summary', {}, group.left_words),
           el('ul', {}, group.left.map((row) => leftRow(row, page, group, manager)))))));
  }
  return rows;
}

function planSection(page, groups, manager) {
  const columns = used(page);
  return el('section', {class: 'card repairs-card'},
            el('h1', {}, page.headline),
            groups.length === 0
                ? el('p', {}, 'What the crew marks on its round stands here after the next exchange.')
                : el('table', {class: 'repairs'},
                     el('thead', {}, el('tr', {}, ['patch', 'choice and why', 'covered'].map((head) =>
                         el('th', {scope: 'col'}, head)), columns.map(([key, word]) =>
                         el('th', {scope: 'col', colspan: 2, class: 'right'}, `${word}, ${page.units[key]}`)),
                         el('td', {}))),
                     el('tbody', {}, groups.flatMap((group) => greenRows(group, page, columns, manager)))));
}

function workSection(work) {
  if (work.length === 0) return null;
  return el('section', {class: 'card'}, el('h2', {}, 'Who does what'),
            work.map(({green, text}) => el('p', {}, el('b', {}, green), ` ${text}`)));
}

function loadsSection(loads) {
  if (loads.length === 0) return null;
  return el('section', {class: 'card'}, el('h2', {}, 'Cart loads'),
            el('table', {class: 'loads'}, el('tbody', {}, loads.map((load) => el('tr', {},
                el('th', {scope: 'row'}, load.title), el('td', {}, load.green, el('small', {class: 'line'}, load.labels)),
                el('td', {class: 'right'}, amount(load.weight)))))));
}

function totalsSection(totals) {
  const rows = [];
  let green = null;
  for (const total of totals) {
    rows.push(el('tr', {class: total.green === green ? null : 'first'},
                 el('th', {scope: 'row'}, total.green === green ? '' : total.green),
                 el('td', {}, total.material), amountCells(total.amount, true)));
    green = total.green;
  }
  return el('section', {class: 'card'}, el('h2', {}, 'Totals'),
            totals.length ? el('table', {class: 'totals'}, el('tbody', {}, rows))
                          : el('p', {class: 'second'}, 'No material is needed.'));
}

function orderSection(order) {
  return el('section', {class: 'card'}, el('h2', {}, 'Order'),
            order.length === 0 ? el('p', {class: 'second'}, 'Nothing to order.')
                : el('table', {class: 'order'},
                     el('thead', {}, el('tr', {}, el('td', {}),
                        el('th', {scope: 'col', class: 'right'}, 'needed'),
                        el('th', {scope: 'col', class: 'right'}, 'order'))),
                     el('tbody', {}, order.map((line) => el('tr', {},
                        el('th', {scope: 'row'}, line.material, el('small', {class: 'line'}, line.stock)),
                        el('td', {class: 'right'}, amount(line.needed)),
                        el('td', {class: `right ${line.to_order ? '' : 'good'}`}, el('b', {}, line.text),
                           el('small', {class: 'line'}, line.left_over)))))));
}

function notesSection(notes) {
  if (notes.length === 0) return null;
  return el('section', {class: 'card'}, el('h2', {}, 'To know'),
            notes.map((note) => el('p', {class: 'second'}, note)));
}

function careSection(cautions) {
  if (cautions.length === 0) return null;
  return el('section', {class: 'card'}, el('h2', {}, 'Take care'),
            cautions.map((caution) => el('p', {class: 'second care'}, caution.text,
                                         caution.source ? el('small', {}, ` ${caution.source}`) : null)));
}

function nitrogenSection(greens) {
  if (greens.length === 0) return null;
  return el('section', {class: 'card'}, el('h2', {}, 'Nitrogen'),
            greens.map(({green, text, warnings, feeding, hungry}) => el('div', {class: 'nitrogen'}, el('b', {}, green),
                text ? el('p', {class: 'second'}, text) : null,
                warnings.map((words) => el('p', {class: 'second watch'}, words)),
                feeding ? el('p', {class: 'second'}, feeding) : null,
                hungry.map((words) => el('p', {class: 'second'}, words)))));
}

/** `manager`: {may, again}, whether who looks may choose, and what draws the page anew. */
export function repairsPage(page, where, manager) {
  // One green's repairs come first when it was asked for; the others stay below it.
  const groups = where.green === undefined ? page.greens
      : [...page.greens.filter((group) => group.green === where.green),
         ...page.greens.filter((group) => group.green !== where.green)];
  return el('div', {class: 'repairs-page'}, planSection(page, groups, manager),
            el('div', {class: 'beside'}, workSection(page.work), totalsSection(page.totals),
               loadsSection(page.loads), orderSection(page.order), nitrogenSection(page.nitrogen),
               notesSection(page.notes), careSection(page.cautions)));
}
