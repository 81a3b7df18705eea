// The steps in which a case is made: before it goes on, the face, mask and settings, what is in the way.
import { h, replace, siteWords } from './dom.js';

/* global SHARED_TEXTS */
const { cautions, guide, faces, schema } = SHARED_TEXTS;
const option = (value) => [value, value.replaceAll('_', ' ')];
const properties = schema.properties;

export const catalogueOf = (store) => {
  const text = fileBeside(store, store.get('cushion/catalogue'));
  try {
    return text ? JSON.parse(text) : null;
  } catch {
    return null;
  }
};
// As the engine finds it: beside the case, or by its name alone.
export function fileBeside(store, path) {
  if (!path) return null;
  const parts = [...store.path.split('/').slice(0, -1), ...path.split('/')];
  const clean = [];
  for (const part of parts) {
    if (part === '..') clean.pop();
    else if (part !== '.' && part !== '') clean.push(part);
  }
  const name = clean.at(-1);
  return store.files[clean.join('/')] ?? Object.entries(store.files).find(([key]) => key.split('/').at(-1) === name)?.[1] ?? null;
}

const gateWords = {
  vomiting_likely: 'Vomiting, or likely to vomit?',
  airway_unprotected: 'Is the airway unprotected?',
  altered_mental_state: 'Altered mental state?',
  facial_injury_or_surgery: 'Facial injury or recent face surgery?',
  cannot_remove_mask: 'Unable to take the mask off alone?',
  implant_near_magnets: 'Implant or metal that magnets can affect, in the wearer or someone close?',
  acute_failure: 'Acute respiratory failure?',
  watched: 'Does someone watch all the time?',
  skin_checked: 'Was the skin under mask and straps looked at?',
};
const gateKeys = {
  vomiting_likely: 'vomiting', airway_unprotected: 'airway_unprotected', altered_mental_state: 'altered_mental_state',
  facial_injury_or_surgery: 'facial_injury_or_surgery', cannot_remove_mask: 'cannot_remove_mask',
};

function injuries(bound, store) {
  const sites = properties.injured_skin.items.properties.site.enum;
  const site = h('select', { 'aria-label': 'Site of the injury' }, sites.map((each) => h('option', { value: each }, siteWords({ site: each }))));
  const side = h('select', { 'aria-label': 'Side of the injury' }, ['midline', 'left', 'right'].map((each) => h('option', { value: each }, each)));
  const list = h('ul', { class: 'plain' });
  bound.whenever(() => {
    const all = store.get('injured_skin') ?? [];
    replace(list, all.map((each, k) => h('li', {}, siteWords(each), ' ', h('button', {
      type: 'button', class: 'small', 'aria-label': `Take out ${siteWords(each)}`,
      onclick: () => {
        const rest = all.filter((_, m) => m !== k);
        store.set('injured_skin', rest.length > 0 ? rest : undefined);
      },
    }, 'Take out'))));
  });
  return h('fieldset', {},
    h('legend', {}, 'Skin that is broken, or red and does not blanch'),
    h('p', { class: 'help' }, 'It is an injury already: take the load off and call for help with the skin, whatever an estimate says.'),
    list,
    h('div', { class: 'row' }, site, side, h('button', {
      type: 'button', class: 'small',
      onclick: () => {
        const item = { site: site.value, ...(side.value === 'midline' ? {} : { side: side.value }) };
        store.set('injured_skin', [...(store.get('injured_skin') ?? []), item]);
      },
    }, 'Add site')));
}

export function safetyStep(bound, store) {
  const questions = Object.entries(gateWords).map(([key, words]) => {
    const warning = h('p', { class: 'warn', role: 'status' });
    const caution = cautions.cautions.find((each) => each.key === gateKeys[key]);
    bound.whenever(() => replace(warning, store.get(`safety/${key}`) === true && caution ? caution.yes : ''));
    return h('div', {}, bound.question(`safety/${key}`, words), warning);
  });
  return [
    h('p', {}, 'Ask before the mask goes on. A question left open is printed as not checked. Common practice, no source; local policy and licensed practice come first.'),
    questions, injuries(bound, store),
  ];
}

function measurements(bound, store, ask) {
  const field = ({ measure, title, how }) =>
    bound.number(`face/measurements/${measure}_mm`, { label: title, kind: 'length', min: 1, max: 400, help: how });
  const short = guide.entries.slice(0, 3).map(field);
  const more = guide.entries.slice(3).map(field);
  const picture = h('div', { class: 'picture' });
  const words = h('pre', { class: 'words', tabindex: '0', 'aria-label': 'What the measurements say' });
  return [
    h('p', {}, guide.subtitle),
    h('p', { class: 'warn' }, guide.caution),
    bound.choice('face/measurements/sex', 'Sex', [[undefined, 'not said'], option('female'), option('male')]),
    bound.number('face/measurements/age_years', { label: 'Age', unit: 'years', min: 0, max: 120 }),
    short,
    h('details', {}, h('summary', {}, 'More measurements narrow the answer'), more),
    h('div', { class: 'row' },
      h('button', { type: 'button', onclick: () => ask.guide(picture) }, 'Show how to measure'),
      h('button', { type: 'button', onclick: () => ask.measure(words) }, 'What do they say?')),
    words, picture,
  ];
}

export function faceStep(bound, store, ask) {
  const kind = () => (store.get('face/measurements') ? 'measurements' : store.get('face/scan') ? 'scan' : store.get('face/file') ? 'file' : 'model');
  const choose = h('select', {
    onchange: () => {
      if (choose.value === 'measurements') store.set('face', { measurements: { sellion_supramentale_mm: 92 } });
      else if (choose.value === 'model') store.set('face', { model: 'reference' });
      marking = choose.value === 'scan';
      bound.refresh();
    },
  },
  h('option', { value: 'model' }, 'A model face'), h('option', { value: 'measurements' }, 'Measured on the wearer'),
  h('option', { value: 'scan' }, 'A scan of the wearer'), h('option', { value: 'file' }, 'A face file (open its case file)'));
  let marking = false;
  const shown = () => (marking ? 'scan' : kind());
  bound.whenever(() => (choose.value = shown()));
  return [
    bound.labelled('Where the face comes from', choose),
    bound.when(() => shown() === 'model', bound.choice('face/model', 'Model', faces.map(({ name, title }) => [name, title]),
      'Computed from published means of adults up to about 60 years; not official head forms.')),
    bound.when(() => shown() === 'measurements', measurements(bound, store, ask)),
    bound.when(() => shown() === 'scan', ask.scan),
  ];
}

function cushionChoice(bound, store) {
  const select = h('select', {
    onchange: () => {
      const [name, size] = JSON.parse(select.value);
      const catalogue = store.get('cushion/catalogue');
      const word = wordFits(store, name);
      store.setAll([['cushion', { catalogue, name, size }], ...(word ? [] : [['straps', undefined]])]);
    },
  });
  bound.whenever(() => {
    const all = catalogueOf(store)?.cushions ?? [];
    replace(select, all.map((cushion) => h('optgroup', { label: `${cushion.name} (${cushion.type.replaceAll('_', ' ')})` },
      cushion.sizes.map(({ size }) => h('option', {
        value: JSON.stringify([cushion.name, size]),
        selected: cushion.name === store.get('cushion/name') && size === store.get('cushion/size'),
      }, `${cushion.name} ${size}`)))));
  });
  return bound.labelled('Cushion and size', select, 'Invented for demonstration unless you opened a catalogue of your own.');
}
const typeOf = (store, name) => catalogueOf(store)?.cushions.find((each) => each.name === name)?.type;
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
    return typeof given === 'number' ? given : (given?.[which] ?? given?.[`${which}_left`] ?? ask.tension(which));
  };
  const setPair = (which, value) =>
    store.set('straps', { tension_N: { upper: pair('upper'), lower: pair('lower'), [which]: value } });
  const slide = (which) => {
    const output = h('output', { class: 'reading' });
    const input = h('input', { type: 'range', min: 0, max: 12, step: 0.1, oninput: () => setPair(which, input.valueAsNumber) });
    bound.whenever(() => {
      const value = Number(pair(which) ?? 3);
      replace(output, `${value.toFixed(1)} N`);
      input.setAttribute('aria-valuetext', `${value.toFixed(1)} newtons a strap`);
      if (input.valueAsNumber !== value) input.value = value;
    });
    const field = bound.labelled(`${which === 'upper' ? 'Upper' : 'Lower'} pair, each strap`, input);
    field.classList.add('slider');
    field.insertBefore(output, input);
    return field;
  };
  const word = h('select', {
    onchange: () => store.set('straps', word.value === 'numbers' ? { tension_N: { upper: pair('upper') ?? 3, lower: pair('lower') ?? 3 } } : { setting: word.value }),
  });
  bound.whenever(() => {
    const nasal = typeOf(store, store.get('cushion/name')) === 'nasal';
    const words = nasal
      ? [['loose', 'Loose (published, 1 N in all)'], ['appropriate', 'Appropriate (3.4 N in all)'], ['tight', 'Tight (5.9 N in all)']]
      : [['below_window', 'Below the window'], ['in_window', 'In the window: just seals'], ['above_window', 'Above the window: too tight']];
    const now = asNumbers() ? 'numbers' : (store.get('straps/setting') ?? (nasal ? 'appropriate' : 'in_window'));
    replace(word, [...words, ['numbers', 'By hand, in newtons']].map(([value, text]) => h('option', { value, selected: value === now }, text)));
  });
  return h('fieldset', {}, h('legend', {}, 'Straps'),
    bound.labelled('How tight', word),
    slide('upper'), slide('lower'),
    h('p', { class: 'help' }, 'Moving a slider sets the straps by hand. A finger slides flat beneath each strap without force (common practice, no source).'));
}

export function maskStep(bound, store, ask) {
  const bilevel = () => store.get('settings/cpap_cmH2O') === undefined;
  const mode = h('select', {
    onchange: () => {
      const { oxygen_fraction } = store.get('settings') ?? {};
      const rest = oxygen_fraction === undefined ? {} : { oxygen_fraction };
      store.set('settings', mode.value === 'cpap' ? { cpap_cmH2O: 8, ...rest } : { inspiratory_cmH2O: 14, expiratory_cmH2O: 6, ...rest });
    },
  }, h('option', { value: 'bilevel' }, 'Bilevel'), h('option', { value: 'cpap' }, 'CPAP'));
  bound.whenever(() => (mode.value = bilevel() ? 'bilevel' : 'cpap'));
  const gas = (path, label, usual) => bound.slider(path, { label, kind: 'gas', min: 3, max: 40, step: 0.5, usual });
  const offset = (key, label, unit) => bound.slider(`placement/${key}`, { label, unit, min: -10, max: 10, step: 0.5, usual: 0 });
  return [
    cushionChoice(bound, store),
    bound.labelled('Pressure', mode),
    bound.when(() => !bilevel(), gas('settings/cpap_cmH2O', 'CPAP', 8)),
    bound.when(bilevel, [gas('settings/inspiratory_cmH2O', 'Inspiratory', 14), gas('settings/expiratory_cmH2O', 'Expiratory', 6)]),
    straps(bound, store, ask),
    bound.number('hours_planned', { label: 'Hours planned', unit: 'h', min: 0, max: 72, usual: '8' }),
    bound.choice('circuit', 'Circuit', [[undefined, 'not named'], ...properties.circuit.enum.map(option)]),
    bound.choice('posture', 'Posture', [[undefined, 'semi recumbent (usual)'], ...properties.posture.enum.filter((each) => each !== 'semi_recumbent').map(option)]),
    h('details', {}, h('summary', {}, 'Set aside from its usual place'),
      offset('shift_left_mm', 'To the wearer’s left', 'mm'), offset('shift_up_mm', 'Up', 'mm'), offset('push_in_mm', 'Into the face', 'mm'),
      offset('turn_down_deg', 'Looking down', '°'), offset('turn_left_deg', 'Looking to the wearer’s left', '°'), offset('raise_left_deg', 'Left side raised', '°')),
  ];
}

// An object that is there or not, by a tick.
function optional(bound, store, path, words, start, content) {
  const input = h('input', { type: 'checkbox', onchange: () => store.set(path, input.checked ? start : undefined) });
  bound.whenever(() => (input.checked = store.get(path) !== undefined));
  return h('div', {}, h('label', { class: 'check' }, input, h('span', {}, words)), bound.when(() => store.get(path) !== undefined, content));
}

function worn(bound, store) {
  const list = h('ul', { class: 'plain' });
  const sites = properties.dressings.properties.worn.items.properties.site.enum;
  const pick = (name, options) => h('select', { 'aria-label': name }, options.map((each) => h('option', { value: each }, each.replaceAll('_', ' '))));
  const site = pick('Site of the dressing', sites);
  const side = pick('Side of the dressing', ['midline', 'left', 'right']);
  const kind = h('select', { 'aria-label': 'Dressing' });
  bound.whenever(() => {
    const all = store.get('dressings/worn') ?? [];
    replace(list, all.map((each, k) => h('li', {}, `${each.dressing}, ${siteWords(each)} `, h('button', {
      type: 'button', class: 'small', 'aria-label': `Take off ${siteWords(each)}`,
      onclick: () => {
        const rest = all.filter((_, m) => m !== k);
        store.set('dressings/worn', rest.length > 0 ? rest : undefined);
      },
    }, 'Take off'))));
    const text = fileBeside(store, store.get('dressings/catalogue') ?? '../catalogue/demo-dressings.json');
    const names = text ? JSON.parse(text).dressings.map((each) => each.name) : [];
    if (kind.childElementCount !== names.length) replace(kind, names.map((each) => h('option', { value: each }, each)));
  });
  return h('fieldset', {}, h('legend', {}, 'Dressings worn'), list,
    h('div', { class: 'row' }, kind, site, side, h('button', {
      type: 'button', class: 'small',
      onclick: () => {
        const item = { site: site.value, ...(side.value === 'midline' ? {} : { side: side.value }), dressing: kind.value };
        const catalogue = store.get('dressings/catalogue') ?? '../catalogue/demo-dressings.json';
        store.set('dressings', { catalogue, worn: [...(store.get('dressings/worn') ?? []), item] });
      },
    }, 'Put on')));
}

export function wayStep(bound, store) {
  const beard = properties.beard.properties;
  return [
    optional(bound, store, 'beard', 'Beard or stubble where the rim lies', { region: 'full', hair_mm: 4, density: 'short' }, [
      bound.choice('beard/region', 'Where', beard.region.enum.map(option)),
      bound.slider('beard/hair_mm', { label: 'Length of the hair', unit: 'mm', min: 0, max: 30, step: 0.5, usual: 4 }),
      bound.choice('beard/density', 'How dense', beard.density.enum.map(option)),
      bound.check('beard/shaved_under_rim', 'A strip is shaved where the rim lies'),
    ]),
    optional(bound, store, 'tube', 'Feeding tube that leaves beneath the rim', { kind: 'nasogastric', side: 'left', size_Fr: 12 }, [
      bound.choice('tube/kind', 'Kind', properties.tube.properties.kind.enum.map(option)),
      bound.choice('tube/side', 'Wearer’s side', ['left', 'right'].map(option)),
      bound.slider('tube/size_Fr', { label: 'Size', unit: 'Fr', min: 4, max: 24, step: 1, usual: 12 }),
    ]),
    bound.choice('dentures', 'Dentures', [[undefined, 'own teeth, or not said'], ...properties.dentures.enum.map(option)]),
    bound.choice('mouth', 'Mouth', [[undefined, 'closed (usual)'], ['open_at_rest', 'open at rest'], ['mouth_breather', 'mouth breather']]),
    bound.choice('skin/moisture', 'Skin', [[undefined, 'dry (usual)'], ['moist', 'moist'], ['wet', 'wet']]),
    bound.many('skin/modifiers', 'What makes the skin bear less', [
      ['poor_perfusion', 'Poor perfusion'], ['oedema', 'Oedema'], ['fragile_skin', 'Fragile skin']]),
    bound.number('skin/hours_worn', { label: 'Hours worn since the skin was last off-loaded', unit: 'h', min: 0, max: 72, usual: '0' }),
    bound.number('skin/check_every_h', { label: 'Local policy: check at least every', unit: 'h', min: 0.25, max: 24 }),
    worn(bound, store),
  ];
}
