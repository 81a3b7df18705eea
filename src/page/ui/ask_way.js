// The step that says what is in the way: hair, tube, teeth, mouth, the skin itself, dressings worn.
import { fileBeside, option } from './ask.js';
import { h, replace, siteWords } from './dom.js';
import { SitePicker } from './fields.js';

/* global SHARED_TEXTS */
const { properties } = SHARED_TEXTS.schema;

// An object that is there or not, by a tick.
function optional(bound, store, path, words, start, content) {
  const input = h('input', {
    type: 'checkbox',
    onchange: () => store.set(path, input.checked ? start : undefined),
  });
  bound.whenever(() => (input.checked = store.get(path) !== undefined));
  return h(
    'div',
    {},
    h('label', { class: 'check' }, input, h('span', {}, words)),
    bound.when(() => store.get(path) !== undefined, content),
  );
}

function worn(bound, store) {
  const list = bound.entries('dressings/worn', {
    words: (each) => `${each.dressing}, ${siteWords(each)}`,
    verb: 'Take off',
  });
  const sites = properties.dressings.properties.worn.items.properties.site.enum;
  const at = new SitePicker(sites, 'dressing');
  const kind = h('select', { 'aria-label': 'Dressing' });
  bound.whenever(() => {
    const text = fileBeside(
      store,
      store.get('dressings/catalogue') ?? '../catalogue/demo-dressings.json',
    );
    const names = text ? JSON.parse(text).dressings.map((each) => each.name) : [];
    if (kind.childElementCount !== names.length)
      replace(
        kind,
        names.map((each) => h('option', { value: each }, each)),
      );
  });
  return h(
    'fieldset',
    {},
    h('legend', {}, 'Dressings worn'),
    list,
    h(
      'div',
      { class: 'row' },
      kind,
      at.nodes,
      h(
        'button',
        {
          type: 'button',
          class: 'small',
          onclick: () => {
            const place = at.value;
            if (!place) return;
            const item = { ...place, dressing: kind.value };
            const catalogue =
              store.get('dressings/catalogue') ?? '../catalogue/demo-dressings.json';
            store.set('dressings', {
              catalogue,
              worn: [...(store.get('dressings/worn') ?? []), item],
            });
          },
        },
        'Put on',
      ),
    ),
  );
}

export function wayStep(bound, store) {
  const beard = properties.beard.properties;
  return [
    optional(
      bound,
      store,
      'beard',
      'Beard or stubble where the rim lies',
      { region: 'full', hair_mm: 4, density: 'short' },
      [
        bound.choice('beard/region', 'Where', beard.region.enum.map(option)),
        bound.slider('beard/hair_mm', {
          label: 'Length of the hair',
          kind: 'length',
          min: 0,
          max: 30,
          step: 0.5,
          usual: 4,
        }),
        bound.choice('beard/density', 'How dense', beard.density.enum.map(option)),
        bound.check('beard/shaved_under_rim', 'A strip is shaved where the rim lies'),
      ],
    ),
    optional(
      bound,
      store,
      'tube',
      'Feeding tube that leaves beneath the rim',
      { kind: 'nasogastric', side: 'left', size_Fr: 12 },
      [
        bound.choice('tube/kind', 'Kind', properties.tube.properties.kind.enum.map(option)),
        bound.choice('tube/side', 'Wearer’s side', ['left', 'right'].map(option)),
        bound.slider('tube/size_Fr', {
          label: 'Size',
          unit: 'Fr',
          min: 4,
          max: 24,
          step: 1,
          usual: 12,
        }),
      ],
    ),
    bound.choice('dentures', 'Dentures', [
      [undefined, 'own teeth, or not said'],
      ...properties.dentures.enum.map(option),
    ]),
    bound.choice('mouth', 'Mouth', [
      [undefined, 'closed (usual)'],
      ['open_at_rest', 'open at rest'],
      ['mouth_breather', 'mouth breather'],
    ]),
    bound.choice('skin/moisture', 'Skin', [
      [undefined, 'dry (usual)'],
      ['moist', 'moist'],
      ['wet', 'wet'],
    ]),
    bound.many('skin/modifiers', 'What makes the skin bear less', [
      ['poor_perfusion', 'Poor perfusion'],
      ['oedema', 'Oedema'],
      ['fragile_skin', 'Fragile skin'],
    ]),
    bound.number('skin/hours_worn', {
      label: 'Hours worn since the skin was last off-loaded',
      unit: 'h',
      min: 0,
      max: 72,
      usual: '0',
    }),
    bound.number('skin/check_every_h', {
      label: 'Local policy: check at least every',
      unit: 'h',
      min: 0.25,
      max: 24,
    }),
    worn(bound, store),
  ];
}
