// What was seen at the bedside, one observation after the other, for the case to be weighed by.
import { freshId, h, say, siteWords } from './dom.js';
import { offerSides } from './fields.js';

/* global SHARED_TEXTS */
const observed = SHARED_TEXTS.schema.properties.seen.items.properties;
const states = {
  unchanged: 'unchanged',
  red_blanches: 'red, blanches when pressed',
  red_does_not_blanch: 'red, does not blanch: an injury',
  broken: 'broken: an injury',
};
const fingers = {
  two_fingers: 'two fingers pass',
  one_finger: 'one finger passes',
  none: 'no finger passes',
};

function wordsFor({ straps, leak_L_min, finger, skin, skin_after_h }) {
  return [
    straps?.change_mm
      ? `straps ${Math.abs(straps.change_mm)} mm ${straps.change_mm > 0 ? 'shorter' : 'longer'}`
      : 'straps as in the case',
    leak_L_min === undefined ? null : `leak ${leak_L_min} L/min`,
    finger ? fingers[finger] : null,
    skin
      ? `after ${skin_after_h} h ${skin.map((each) => `${siteWords(each)} ${states[each.state]}`).join(', ')}`
      : null,
  ]
    .filter(Boolean)
    .join('; ');
}

export function seenForm(bound, store) {
  const field = (label, input) => {
    input.id = freshId('seen');
    return h('div', { class: 'field' }, h('label', { for: input.id }, label), input);
  };
  const number = (min, max) => h('input', { type: 'number', min, max, step: 'any' });
  const options = (entries) =>
    h(
      'select',
      {},
      h('option', { value: '' }, 'not looked at'),
      entries.map(([value, words]) => h('option', { value }, words)),
    );
  const change = number(-60, 60);
  const leak = number(0, 200);
  const finger = options(Object.entries(fingers));
  const hours = number(0, 72);
  const site = options(
    observed.skin.items.properties.site.enum.map((each) => [each, siteWords({ site: each })]),
  );
  const side = h('select', {});
  const missing = h('p', { role: 'status', class: 'help' });
  const offer = () => {
    offerSides(side, site.value);
    say(missing, '');
  };
  site.addEventListener('change', offer);
  const state = h(
    'select',
    {},
    Object.entries(states).map(([value, words]) => h('option', { value }, words)),
  );
  const list = bound.entries('seen', { words: wordsFor });
  const add = () => {
    const one = {};
    if (change.value !== '' && change.valueAsNumber !== 0)
      one.straps = { change_mm: change.valueAsNumber };
    if (leak.value !== '') one.leak_L_min = leak.valueAsNumber;
    if (finger.value !== '') one.finger = finger.value;
    if (site.value !== '' && side.value === '') {
      say(missing, 'Say which side of the wearer first.');
      side.focus();
      return;
    }
    if (site.value !== '') {
      one.skin_after_h = hours.value === '' ? 0 : hours.valueAsNumber;
      one.skin = [
        {
          site: site.value,
          ...(side.value === 'midline' ? {} : { side: side.value }),
          state: state.value,
        },
      ];
    }
    if (Object.keys(one).length === 0) return;
    store.set('seen', [...(store.get('seen') ?? []), one]);
    for (const input of [change, leak, hours]) input.value = '';
    finger.selectedIndex = site.selectedIndex = 0;
    offer();
  };
  offer();
  return h(
    'fieldset',
    {},
    h('legend', {}, 'Seen at the bedside'),
    list,
    h(
      'div',
      { class: 'answer-grid' },
      field('Straps shorter than in the case (mm; negative: let out)', change),
      field('Leak on the ventilator, without the vent (L/min)', leak),
      field('Finger check beneath a strap', finger),
      field('Skin looked at after (h)', hours),
      field('Site of skin', site),
      field('Its side', side),
      field('What it looked like', state),
    ),
    h('button', { type: 'button', onclick: add }, 'Add what was seen'),
    missing,
  );
}
