// The options of one patch: to read, and for managers to choose otherwise.
import {el} from './elements.js';
import {send} from './send.js';

function words(option) {
  return [el('b', {}, option.choice),
          option.chosen ? el('small', {}, ' in the plan') : null,
          option.advised ? el('small', {}, ' advised') : null,
          ...option.lines.map((line) => el('p', {}, line))];
}

function shape(option) {
  return `option${option.chosen ? ' chosen' : ''}${option.possible ? '' : ' impossible'}`;
}

function optionList(row) {
  return el('ul', {class: 'options'}, row.options.map((option) =>
      el('li', {class: shape(option)}, words(option))));
}

function optionCards(row) {
  return el('div', {class: 'options', role: 'radiogroup', 'aria-label': `Options for ${row.heading}`},
            row.options.map((option) => el('label', {class: shape(option)},
                el('input', {type: 'radio', name: `choice-${row.patch}`, value: option.word,
                             required: true, checked: option.chosen, disabled: !option.possible}),
                words(option))));
}

/** `crew` are the names that come to mind; `again` draws the page anew. */
function chooseForm(row, crew, again) {
  const wrong = el('p', {class: 'stop', role: 'alert'});
  const names = el('datalist', {id: `crew-${row.patch}`}, crew.map((name) => el('option', {value: name})));
  const who = el('input', {id: `who-${row.patch}`, maxlength: '120', autocomplete: 'off',
                           list: names.id, value: row.who});
  const why = el('input', {id: `why-${row.patch}`, maxlength: '400', autocomplete: 'off',
                           value: row.why});
  const act = (address, body) => send(address, {patch: row.patch, ...body}).then(again)
      .catch((problem) => { wrong.textContent = problem.message; });
  const save = (event) => {
    event.preventDefault();
    const choice = new FormData(event.target).get(`choice-${row.patch}`);
    act('/api/choose', {choice, who: who.value.trim(), why: why.value.trim()});
  };
  const form = el('form', {class: 'choose', onsubmit: save}, optionCards(row), names,
                  el('p', {class: 'field'}, el('label', {for: who.id}, 'Who does it'), who),
                  el('p', {class: 'field'}, el('label', {for: why.id}, 'Why'), why), wrong,
                  el('p', {class: 'acts'},
                     el('button', {type: 'submit'}, 'Save the choice'),
                     row.by_person ? el('button', {type: 'button', onclick: () => act('/api/follow-plan')},
                                        'Follow the plan again') : null));
  // Fresh content waits until what was entered is saved.
  form.addEventListener('input', () => { form.dataset.edited = 'true'; });
  return form;
}

export function optionsOf(row, crew, manager) {
  if (row.options.length === 0) return [];
  return [el('h4', {}, `Options for ${row.heading} `, el('small', {}, row.chosen_by)),
          manager.may ? chooseForm(row, crew, manager.again) : optionList(row)];
}
