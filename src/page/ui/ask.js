// The first steps in which a case is made: what is asked before it goes on, and the face.
import { h, replace, say, siteWords } from './dom.js';
import { SitePicker } from './fields.js';

/* global SHARED_TEXTS */
const { cautions, guide, faces, schema } = SHARED_TEXTS;
export const privacy =
  'This page works out everything on this computer. It opens no connection, sends nothing, and keeps nothing unless you save a file or tick “Keep in this browser”; what is kept there, whoever uses this computer next can see.';
export const unnamed = 'New case'; // its name until it is given one
export const option = (value) => [value, value.replaceAll('_', ' ')];
const properties = schema.properties;

let read = { text: null, catalogue: null }; // the last one, asked for at every change
export const catalogueOf = (store) => {
  const text = fileBeside(store, store.get('cushion/catalogue'));
  if (text === read.text) return read.catalogue;
  read = { text, catalogue: null };
  try {
    if (text) read.catalogue = JSON.parse(text);
  } catch {
    // The engine says what is wrong with it.
  }
  return read.catalogue;
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
  return (
    store.files[clean.join('/')] ??
    Object.entries(store.files).find(([key]) => key.split('/').at(-1) === name)?.[1] ??
    null
  );
}

const yes = (key) => cautions.cautions.find((each) => each.key === key).yes;
/// The safety gate: as asked, as printed, the answer that calls for the caution. The engine gives the
/// cautions of the first five; the others are common practice, no source.
export const gate = [
  {
    key: 'vomiting_likely',
    words: 'Vomiting, or likely to vomit?',
    short: 'Vomiting likely',
    caution: yes('vomiting'),
  },
  {
    key: 'airway_unprotected',
    words: 'Is the airway unprotected?',
    short: 'Airway unprotected',
    caution: yes('airway_unprotected'),
  },
  {
    key: 'altered_mental_state',
    words: 'Altered mental state?',
    short: 'Altered mental state',
    caution: yes('altered_mental_state'),
  },
  {
    key: 'facial_injury_or_surgery',
    words: 'Facial injury or recent face surgery?',
    short: 'Facial injury or surgery',
    caution: yes('facial_injury_or_surgery'),
  },
  {
    key: 'cannot_remove_mask',
    words: 'Unable to take the mask off alone?',
    short: 'Can’t take the mask off alone',
    caution: yes('cannot_remove_mask'),
  },
  {
    key: 'implant_near_magnets',
    words: 'Implant or metal that magnets can affect, in the wearer or someone close?',
    short: 'Implant or metal near magnets',
    caution: 'Keep every mask and strap with magnets away: choose one without.',
    own: true,
  },
  {
    key: 'acute_failure',
    words: 'Acute respiratory failure?',
    short: 'Acute respiratory failure',
    caution:
      'Acute failure: the mask goes on where someone watches all the time and can do more at once. Agree beforehand what is done if it does not help.',
    own: true,
  },
  {
    key: 'watched',
    words: 'Does someone watch all the time?',
    short: 'Someone watches all the time',
    bad: false,
    caution:
      'Nobody watches all the time: the wearer must be able to take the mask off and to call, or someone stays. Set the alarms so that they are heard.',
    own: true,
  },
  {
    key: 'skin_checked',
    words: 'Was the skin under mask and straps looked at?',
    short: 'Skin looked at',
    bad: false,
    caution: 'Look at the skin under mask and straps before the mask goes on.',
    own: true,
  },
];
/// safety: the answers of a case.
export const gateCautions = (safety) => gate.filter(({ key, bad = true }) => safety?.[key] === bad);

function injuries(bound, store) {
  const at = new SitePicker(properties.injured_skin.items.properties.site.enum, 'injury');
  const list = bound.entries('injured_skin', { words: siteWords });
  return h(
    'fieldset',
    {},
    h('legend', {}, 'Skin that is broken, or red and does not blanch'),
    h(
      'p',
      { class: 'help' },
      'It is an injury already: take the load off and call for help with the skin, whatever an estimate says.',
    ),
    list,
    h(
      'div',
      { class: 'row' },
      at.nodes,
      h(
        'button',
        {
          type: 'button',
          class: 'small',
          onclick: () => {
            const place = at.value;
            if (place) store.set('injured_skin', [...(store.get('injured_skin') ?? []), place]);
          },
        },
        'Add site',
      ),
    ),
  );
}

export function safetyStep(bound, store) {
  const questions = gate.map(({ key, words, bad = true, caution }) => {
    const warning = h('p', { class: 'warn', role: 'status' });
    bound.whenever(() => say(warning, store.get(`safety/${key}`) === bad ? caution : ''));
    return h('div', {}, bound.question(`safety/${key}`, words), warning);
  });
  return [
    h(
      'p',
      {},
      'Ask before the mask goes on. A question left open is printed as not checked. Common practice, no source; local policy and licensed practice come first.',
    ),
    h('p', { class: 'privacy' }, privacy),
    bound.text('name', 'Name of the case, such as the bed', {
      help: 'Stands at the head of the sheet.',
      empty: unnamed,
      maxlength: 120,
    }),
    questions,
    injuries(bound, store),
  ];
}

const giveOne = 'Give at least one measurement: until then no face of the wearer is estimated.';
/// What the case lacks before anything can be worked out, or ''.
export function lacking(store) {
  const taken = store.get('face/measurements');
  return taken && !Object.keys(taken).some((key) => /_(mm|cm)$/.test(key)) ? giveOne : '';
}

function measurements(bound, store, ask) {
  // By the numbers of the picture and of what the engine says.
  const field = ({ measure, title, how }) =>
    bound.number(`face/measurements/${measure}_mm`, {
      label: `${guide.entries.findIndex((each) => each.measure === measure) + 1}. ${title}`,
      kind: 'length',
      min: 1,
      max: 400,
      help: how,
      inCm: `face/measurements/${measure}_cm`,
    });
  const short = guide.entries.slice(0, 3).map(field);
  const more = guide.entries.slice(3).map(field);
  const picture = h('div', { class: 'picture' });
  const words = h('pre', {
    class: 'words',
    role: 'group',
    tabindex: '0',
    'aria-label': 'What the measurements say',
  });
  return [
    h('p', {}, guide.subtitle),
    h('p', { class: 'warn' }, guide.caution),
    bound.when(() => lacking(store) !== '', h('p', { class: 'note', role: 'status' }, giveOne)),
    bound.choice('face/measurements/sex', 'Sex', [
      [undefined, 'not said'],
      option('female'),
      option('male'),
    ]),
    bound.number('face/measurements/age_years', { label: 'Age', unit: 'years', min: 0, max: 120 }),
    short,
    h('details', {}, h('summary', {}, 'More measurements narrow the answer'), more),
    h(
      'div',
      { class: 'row' },
      h('button', { type: 'button', onclick: () => ask.guide(picture) }, 'Show how to measure'),
      h('button', { type: 'button', onclick: () => ask.measure(words) }, 'What do they say?'),
    ),
    words,
    picture,
  ];
}

export function faceStep(bound, store, ask) {
  const kind = () =>
    store.get('face/measurements')
      ? 'measurements'
      : store.get('face/scan')
        ? 'scan'
        : store.get('face/file')
          ? 'file'
          : 'model';
  // Chosen, but the case has none yet; as long as it has the face that it had then.
  let wanted = { kind: null, face: null };
  const shown = () => (wanted.kind && wanted.face === store.get('face') ? wanted.kind : kind());
  const choose = h(
    'select',
    {
      onchange: () => {
        const { value } = choose;
        if (value === 'measurements') store.set('face', { measurements: {} });
        else if (value === 'model') store.set('face', { model: 'reference' });
        wanted = {
          kind: value === 'scan' || value === 'file' ? value : null,
          face: store.get('face'),
        };
        bound.refresh();
      },
    },
    h('option', { value: 'model' }, 'A model face'),
    h('option', { value: 'measurements' }, 'Measured on the wearer'),
    h('option', { value: 'scan' }, 'A scan of the wearer'),
    h('option', { value: 'file' }, 'A face file'),
  );
  bound.whenever(() => (choose.value = shown()));
  const fileInUse = h('p', { class: 'note', role: 'status' });
  bound.whenever(() => {
    const file = store.get('face/file');
    say(fileInUse, file ? `In use: ${file}` : 'None is in use.');
  });
  return [
    bound.labelled('Where the face comes from', choose),
    bound.when(
      () => shown() === 'model',
      bound.choice(
        'face/model',
        'Model',
        faces.map(({ name, title }) => [name, title]),
        'Computed from published means of adults up to about 60 years; not official head forms.',
      ),
    ),
    bound.when(() => shown() === 'measurements', measurements(bound, store, ask)),
    bound.when(() => shown() === 'scan', ask.scan),
    bound.when(
      () => shown() === 'file',
      [
        h(
          'p',
          {},
          'Open the face file with “Open …” at the top, then choose “Use the face of …”. Until then the face stays as it was.',
        ),
        fileInUse,
      ],
    ),
  ];
}
