// Signing in, and the managers' page of devices.
import {el} from './elements.js';
import {send} from './send.js';

function field(id, label, attributes) {
  return el('p', {class: 'field'}, el('label', {for: id}, label), el('input', {id, required: true, ...attributes}));
}

/** A form that calls `done` when somebody signed in. */
export function signInPage(done) {
  const wrong = el('p', {class: 'stop', role: 'alert'});
  const name = field('sign-in-name', 'Name', {autocomplete: 'username', maxlength: '120'});
  const password = field('sign-in-password', 'Password',
                         {type: 'password', autocomplete: 'current-password', maxlength: '256'});
  const enter = async (event) => {
    event.preventDefault();
    wrong.textContent = '';
    try {
      await send('/sign-in', {name: name.querySelector('input').value,
                              password: password.querySelector('input').value});
      done();
    } catch (problem) {
      wrong.textContent = problem.message;
    }
  };
  return el('section', {class: 'card empty'}, el('h1', {}, 'Sign in'),
            el('form', {class: 'sign-in', onsubmit: enter}, name, password, wrong,
               el('button', {type: 'submit', class: 'big'}, 'Sign in')),
            el('p', {class: 'second'}, 'Managers enter people at the shed’s own machine:'),
            el('p', {}, el('code', {}, 'swardwalk-server people --data DIR add NAME --role manager')));
}

/** Shows who is signed in, and the way out; `changed` is called after it. */
export function showMe(me, changed) {
  const place = document.getElementById('me');
  document.getElementById('devices-link').hidden = me.role !== 'manager';
  if (!me.name) return place.replaceChildren();
  const out = (address) => async () => {
    await send(address).catch(() => {});
    changed();
  };
  return place.replaceChildren(
      el('span', {}, `${me.name} (${me.role})`),
      el('button', {type: 'button', class: 'plain', onclick: out('/sign-out')}, 'Sign out'),
      el('button', {type: 'button', class: 'plain', onclick: out('/sign-out-everywhere')},
         'Sign out everywhere'));
}

function picture(svg) {
  const drawn = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  if (drawn.nodeName !== 'svg') return null;
  drawn.setAttribute('role', 'img');
  drawn.setAttribute('aria-label', 'Pairing code as a picture');
  return el('div', {class: 'pairing-picture'}, document.adoptNode(drawn));
}

function invitation(code) {
  return el('div', {class: 'invitation'}, code.picture ? picture(code.picture) : null,
            el('dl', {}, el('dt', {}, 'Code, for one device'), el('dd', {class: 'code'}, code.code),
               el('dt', {}, 'Good until'), el('dd', {}, code.ends),
               el('dt', {}, 'Address'), el('dd', {}, code.address),
               code.fingerprint ? el('dt', {}, 'Fingerprint') : null,
               code.fingerprint ? el('dd', {class: 'digits'}, code.fingerprint) : null));
}

function deviceRow(device, act) {
  return el('tr', {}, el('th', {scope: 'row'}, device.name, ' ', el('small', {}, device.short)),
            el('td', {}, device.state), el('td', {}, device.seen),
            el('td', {class: 'right'},
               device.waits ? el('button', {type: 'button', onclick: act('/api/accept', device)},
                                 'Accept') : null,
               device.may_shut_out
                   ? el('button', {type: 'button', onclick: act('/api/shut-out', device)},
                        'Shut out') : null));
}

/** Which devices exchange with the shed; `again` draws the page anew. */
export function devicesPage(page, again) {
  const shown = el('div', {});
  const wrong = el('p', {class: 'stop', role: 'alert'});
  const tell = (problem) => { wrong.textContent = problem.message; };
  const act = (address, device) => () =>
      send(address, {origin: device.origin}).then(again).catch(tell);
  const invite = () => send('/api/pairing')
      .then((code) => shown.replaceChildren(invitation(code))).catch(tell);
  return el('section', {class: 'card'}, el('h1', {}, 'Devices'), wrong,
            el('p', {}, el('button', {type: 'button', onclick: invite}, 'Show a pairing code')), shown,
            page.devices.length === 0
                ? el('p', {class: 'second'}, 'None yet. A tablet is paired with a code.')
                : el('table', {},
                     el('thead', {}, el('tr', {}, ['Device', 'State', 'Last here'].map(
                         (title) => el('th', {scope: 'col'}, title)), el('td', {}))),
                     el('tbody', {}, page.devices.map((device) => deviceRow(device, act)))),
            el('p', {class: 'second'}, 'What a device delivered before it was shut out stays; what ' +
                                       'it writes later waits until it is accepted.'));
}
