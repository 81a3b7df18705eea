// The questions that take longer, one panel each, and those about the estimate in hand.
import { privacy } from './ask.js';
import { freshId, h, replace, unbroken } from './dom.js';
import { pictureUrl } from './engine.js';
import { enlargeable } from './enlarge.js';
import { JobPanel, saveFile, Waiting } from './jobs.js';
import { seenForm } from './seen.js';

/* global SHARED_TEXTS */
const rule = SHARED_TEXTS.schema.properties.sizes.properties;

// By what the ranking goes; what is left alone is this project's convention.
function rankingRule(bound) {
  const { rank_by, strap_step_mm, seals_in_share, tie_share } = rule;
  const words = {
    worst_reading: 'the lowest reading at the worst site',
    leak: 'the least leak',
    window: 'the widest strap window',
  };
  const number = (key, label, { minimum, maximum }, usual, kind) =>
    bound.number(`sizes/${key}`, { label, min: minimum, max: maximum, usual, kind });
  return h(
    'details',
    {},
    h('summary', {}, 'By what rule'),
    bound.choice(
      'sizes/rank_by',
      'Of those that fit, first comes',
      rank_by.enum.map((each, k) => [k === 0 ? undefined : each, words[each]]),
    ),
    number('strap_step_mm', 'Straps tighter than just sealed by', strap_step_mm, 5, 'length'),
    number('seals_in_share', 'Fits if it seals in this share of draws', seals_in_share, 0.9),
    number('tie_share', 'A tie where this share of draws turns the order', tie_share, 0.2),
    h('p', { class: 'help' }, 'What is left empty is a convention of this project.'),
  );
}

// How many draws of what can't be known; at first as many as the command line takes.
function drawsField({ usual, min, max, about }) {
  const input = h('input', { type: 'number', min, max, value: usual });
  input.id = freshId('draws');
  return {
    node: h(
      'div',
      { class: 'field' },
      h('label', { for: input.id }, `Draws of what can’t be known (${min} to ${max})`),
      input,
      h('p', { class: 'help' }, about),
    ),
    // An empty field asks for the usual number.
    get value() {
      const given = Math.round(input.valueAsNumber);
      return Number.isFinite(given) ? Math.max(min, Math.min(max, given)) : usual;
    },
  };
}

export function makeJobs(app) {
  const sizeDraws = drawsField({
    usual: 100,
    min: 0,
    max: 1000,
    about: '100 as on the command line. 20 take a fifth of the time, with rougher bands; 0: none.',
  });
  const seenDraws = drawsField({
    usual: 300,
    min: 20,
    max: 2000,
    about: '300 as on the command line. Fewer are quicker and rougher.',
  });
  const site = h('select', { id: 'section-site' });
  app.sectionSite = site;
  return {
    straps: new JobPanel({
      app,
      title: 'How tight',
      about:
        'Sweeps the straps from slack to far too tight, both phases: the lowest tension that seals, and from where a site is pressed too hard.',
      request: () => ({ command: 'straps' }),
      alt: () =>
        'Pressure by site and leak against strap tension, the window shaded; the table holds the same numbers.',
    }),
    sizes: new JobPanel({
      app,
      title: 'Which size',
      about:
        'Tries every cushion of the catalogue on this face, each at its own just-sealed straps and one step tighter, and ranks them.',
      caution: 'A ranking of estimates: look at the face with the mask on before you trust it.',
      inputs: [sizeDraws.node, rankingRule(app.bound)],
      request: () => ({ command: 'sizes', draws: sizeDraws.value }),
      alt: () => 'All cushions side by side with their bands; the table holds the same numbers.',
    }),
    seen: new JobPanel({
      app,
      title: 'What was seen',
      about:
        'Leak, finger check and skin as seen at the bedside weigh on what the estimate can’t know: tension, margin and leak before and after.',
      caution:
        'Redness that does not blanch, or broken skin, is an injury: take the load off, change the interface, call for help with the skin.',
      inputs: [seenForm(app.bound, app.store), seenDraws.node],
      request: () => ({ command: 'seen', draws: seenDraws.value }),
    }),
    dressing: new JobPanel({
      app,
      title: 'Dressings',
      about:
        'Tries every dressing of the catalogue at every place that needs one, with the mask solved anew on top of it, and makes templates to cut.',
      caution:
        'Trials on dressings disagree; none is a possible answer. Never cover injured skin and carry on.',
      request: () => ({ command: 'dressing' }),
      alt: (name) =>
        name.startsWith('template')
          ? 'Template to cut, to be printed at true size'
          : 'The face before and after with the dressing, side by side',
    }),
    section: new JobPanel({
      app,
      title: 'Inside the skin',
      about:
        'A slice through skin and fat where a site is pressed hardest: the strain inside, and the pressure on the bone.',
      inputs: h('div', { class: 'field' }, h('label', { for: 'section-site' }, 'Site'), site),
      request: () => ({ command: 'section', site: site.value || 'nasal_bridge' }),
      alt: () =>
        'Slice through cushion, skin, fat and bone with its strain; the table holds the same numbers.',
    }),
  };
}

export function moreNode(app) {
  const out = h('div', {});
  const waiting = new Waiting(app);
  const bandDraws = drawsField({
    usual: 60,
    min: 10,
    max: 1000,
    about: 'For “How sure is it?”. More take longer and move the bands less.',
  });
  const urls = [];
  const saveButton = (name, bytes, type) =>
    h(
      'button',
      { type: 'button', class: 'small', onclick: () => saveFile(name, bytes, type) },
      `Save ${name}`,
    );
  const pictures = (files) =>
    Object.entries(files)
      .filter(([name]) => name.endsWith('.png'))
      .map(([name, bytes]) => {
        const url = pictureUrl(name, bytes);
        urls.push(url);
        const alt = `The face with the pressure of the mask, ${name.replace('.png', '')}`;
        return h(
          'figure',
          {},
          enlargeable(url, alt),
          h('figcaption', {}, saveButton(name, bytes, 'image/png')),
        );
      });
  const ask = async (words, request) => {
    const answer = await waiting.run({ pictures: false, ...request });
    for (const url of urls.splice(0)) URL.revokeObjectURL(url);
    if (answer.end !== 0) {
      replace(out, h('p', { class: 'verdict bad', role: 'alert' }, answer.complaint.trim()));
      return;
    }
    replace(
      out,
      h('h3', {}, words),
      request.pictures ? pictures(answer.files) : null,
      h(
        'pre',
        { class: 'words', role: 'group', tabindex: '0', 'aria-label': words },
        unbroken(answer.printed),
      ),
      saveButton('result.json', answer.files['result.json'], 'application/json'),
    );
  };
  const question = (title, words, request) =>
    h('button', { type: 'button', onclick: () => ask(words, request()) }, title);
  return h(
    'div',
    {},
    h(
      'p',
      { class: 'no-print' },
      'The face and the numbers follow every change of the case. Three questions take longer:',
    ),
    h(
      'div',
      { class: 'row no-print' },
      question('As the face swells', 'With swelling and stress in muscle', () => ({
        command: 'fit',
      })),
      question('How sure is it?', 'How sure it is', () => ({
        command: 'fit',
        bands: bandDraws.value,
      })),
      question('Pictures to save', 'Pictures of the estimate', () => ({
        command: 'fit',
        pictures: true,
      })),
      waiting.stop,
    ),
    h('div', { class: 'no-print' }, bandDraws.node),
    waiting.node,
    out,
    h('p', { class: 'privacy' }, privacy),
  );
}
