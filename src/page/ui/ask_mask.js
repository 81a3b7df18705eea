// The step that sets mask, pressure and straps.
import { catalogueOf, option } from './ask.js';
import { h, replace, say } from './dom.js';

/* global SHARED_TEXTS */
const { properties } = SHARED_TEXTS.schema;

function cushionChoice(bound, store) {
  const select = h('select', {
    onchange: () => {
      const [name, size] = JSON.parse(select.value);
      const catalogue = store.get('cushion/catalogue');
      const word = wordFits(store, name);
      store.setAll([
        ['cushion', { catalogue, name, size }],
        ...(word ? [] : [['straps', undefined]]),
      ]);
    },
  });
  const all = () => catalogueOf(store)?.cushions ?? [];
  const shown = () => [
    store.get('cushion'),
    all().map(({ name, type, sizes }) => [name, type, sizes.map(({ size }) => size)]),
  ];
  bound.whenChanged(shown, () => {
    replace(
      select,
      all().map((cushion) =>
        h(
          'optgroup',
          { label: `${cushion.name} (${cushion.type.replaceAll('_', ' ')})` },
          cushion.sizes.map(({ size }) =>
            h(
              'option',
              {
                value: JSON.stringify([cushion.name, size]),
                selected:
                  cushion.name === store.get('cushion/name') && size === store.get('cushion/size'),
              },
              `${cushion.name} ${size}`,
            ),
          ),
        ),
      ),
    );
  });
  return bound.labelled(
    'Cushion and size',
    select,
    'Invented for demonstration. A catalogue of your own is used once you open it with “Open …” and choose “Use the cushions”.',
  );
}
const typeOf = (store, name) =>
  catalogueOf(store)?.cushions.find((each) => each.name === name)?.type;
// Words for straps differ between nasal and other masks.
function wordFits(store, name) {
  const word = store.get('straps/setting');
  if (!word) return typeof store.get('straps/tension_N') !== 'object';
  return ['loose', 'appropriate', 'tight'].includes(word) === (typeOf(store, name) === 'nasal');
}

function straps(bound, store, ask) {
  const asNumbers = () => store.get('straps/tension_N') !== undefined;
  const pair = (which) => {
    const given = store.get('straps/tension_N');
    return typeof given === 'number'
      ? given
      : (given?.[which] ?? given?.[`${which}_left`] ?? ask.tension(which));
  };
  const setPair = (which, value) =>
    store.set('straps', {
      tension_N: { upper: pair('upper'), lower: pair('lower'), [which]: value },
    });
  const slide = (which) => {
    const output = h('output', { class: 'reading' });
    const input = h('input', {
      type: 'range',
      min: 0,
      max: 12,
      step: 0.1,
      oninput: () => setPair(which, input.valueAsNumber),
    });
    bound.whenever(() => {
      const value = Number(pair(which) ?? 3);
      say(output, `${value.toFixed(1)} N`);
      input.setAttribute('aria-valuetext', `${value.toFixed(1)} newtons a strap`);
      if (input.valueAsNumber !== value) input.value = value;
    });
    const field = bound.labelled(
      `${which === 'upper' ? 'Upper' : 'Lower'} pair, each strap`,
      input,
    );
    field.classList.add('slider');
    field.insertBefore(output, input);
    return field;
  };
  const word = h('select', {
    onchange: () =>
      store.set(
        'straps',
        word.value === 'numbers'
          ? { tension_N: { upper: pair('upper') ?? 3, lower: pair('lower') ?? 3 } }
          : { setting: word.value },
      ),
  });
  const isNasal = () => typeOf(store, store.get('cushion/name')) === 'nasal';
  bound.whenChanged(
    () => [isNasal(), asNumbers(), store.get('straps/setting')],
    ([nasal, byHand, setting]) => {
      const words = nasal
        ? [
            ['loose', 'Loose (published, 1 N in all)'],
            ['appropriate', 'Appropriate (3.4 N in all)'],
            ['tight', 'Tight (5.9 N in all)'],
          ]
        : [
            ['below_window', 'Below the window'],
            ['in_window', 'In the window: just seals'],
            ['above_window', 'Above the window: too tight'],
          ];
      const now = byHand ? 'numbers' : (setting ?? (nasal ? 'appropriate' : 'in_window'));
      replace(
        word,
        [...words, ['numbers', 'By hand, in newtons']].map(([value, text]) =>
          h('option', { value, selected: value === now }, text),
        ),
      );
    },
  );
  return h(
    'fieldset',
    {},
    h('legend', {}, 'Straps'),
    bound.labelled('How tight', word),
    slide('upper'),
    slide('lower'),
    h(
      'p',
      { class: 'help' },
      'Moving a slider sets the straps by hand. A finger slides flat beneath each strap without force (common practice, no source).',
    ),
  );
}

export function maskStep(bound, store, ask) {
  const bilevel = () => store.get('settings/cpap_cmH2O') === undefined;
  const mode = h(
    'select',
    {
      onchange: () => {
        const { oxygen_fraction } = store.get('settings') ?? {};
        const rest = oxygen_fraction === undefined ? {} : { oxygen_fraction };
        store.set(
          'settings',
          mode.value === 'cpap'
            ? { cpap_cmH2O: 8, ...rest }
            : { inspiratory_cmH2O: 14, expiratory_cmH2O: 6, ...rest },
        );
      },
    },
    h('option', { value: 'bilevel' }, 'Bilevel'),
    h('option', { value: 'cpap' }, 'CPAP'),
  );
  bound.whenever(() => (mode.value = bilevel() ? 'bilevel' : 'cpap'));
  const gas = (path, label, usual) =>
    bound.slider(path, { label, kind: 'gas', min: 3, max: 40, step: 0.5, usual });
  const offset = (key, label, unit) =>
    bound.slider(`placement/${key}`, { label, ...unit, min: -10, max: 10, step: 0.5, usual: 0 });
  const length = { kind: 'length' };
  const angle = { unit: '°' };
  return [
    cushionChoice(bound, store),
    bound.labelled('Pressure', mode),
    bound.when(() => !bilevel(), gas('settings/cpap_cmH2O', 'CPAP', 8)),
    bound.when(bilevel, [
      gas('settings/inspiratory_cmH2O', 'Inspiratory', 14),
      gas('settings/expiratory_cmH2O', 'Expiratory', 6),
    ]),
    straps(bound, store, ask),
    bound.number('hours_planned', {
      label: 'Hours planned',
      unit: 'h',
      min: 0,
      max: 72,
      usual: '8',
    }),
    bound.choice('circuit', 'Circuit', [
      [undefined, 'not named'],
      ...properties.circuit.enum.map(option),
    ]),
    bound.choice('posture', 'Posture', [
      [undefined, 'semi recumbent (usual)'],
      ...properties.posture.enum.filter((each) => each !== 'semi_recumbent').map(option),
    ]),
    h(
      'details',
      {},
      h('summary', {}, 'Set aside from its usual place'),
      offset('shift_left_mm', 'To the wearer’s left', length),
      offset('shift_up_mm', 'Up', length),
      offset('push_in_mm', 'Into the face', length),
      offset('turn_down_deg', 'Looking down', angle),
      offset('turn_left_deg', 'Looking to the wearer’s left', angle),
      offset('raise_left_deg', 'Left side raised', angle),
    ),
  ];
}
