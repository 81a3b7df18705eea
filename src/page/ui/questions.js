// The questions that take longer, one panel each, and those about the estimate in hand.
import { h, replace, unbroken } from './dom.js';
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
  const number = (key, label, { minimum, maximum }, usual, unit) =>
    bound.number(`sizes/${key}`, { label, min: minimum, max: maximum, usual, unit });
  return h(
    'details',
    {},
    h('summary', {}, 'By what rule'),
    bound.choice(
      'sizes/rank_by',
      'Of those that fit, first comes',
      rank_by.enum.map((each, k) => [k === 0 ? undefined : each, words[each]]),
    ),
    number('strap_step_mm', 'Straps tighter than just sealed by', strap_step_mm, '5', 'mm'),
    number('seals_in_share', 'Fits if it seals in this share of draws', seals_in_share, '0.9'),
    number('tie_share', 'A tie where this share of draws turns the order', tie_share, '0.2'),
    h('p', { class: 'help' }, 'What is left empty is a convention of this project.'),
  );
}

export function makeJobs(app) {
  const draws = h('input', { type: 'number', min: 0, max: 400, value: 30, id: 'draws' });
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
      inputs: [
        h(
          'div',
          { class: 'field' },
          h('label', { for: 'draws' }, 'Draws of what can’t be known (0: none; more takes longer)'),
          draws,
        ),
        rankingRule(app.bound),
      ],
      request: () => ({
        command: 'sizes',
        draws: Math.max(0, Math.min(400, Math.round(draws.valueAsNumber || 0))),
      }),
      alt: () => 'All cushions side by side with their bands; the table holds the same numbers.',
    }),
    seen: new JobPanel({
      app,
      title: 'What was seen',
      about:
        'Leak, finger check and skin as seen at the bedside weigh on what the estimate can’t know: tension, margin and leak before and after.',
      caution:
        'Redness that does not blanch, or broken skin, is an injury: take the load off, change the interface, call for help with the skin.',
      inputs: seenForm(app.bound, app.store),
      request: () => ({ command: 'seen', draws: 100 }),
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
  const ask = async (words, request) => {
    const answer = await waiting.run({ pictures: false, ...request });
    if (answer.end !== 0) {
      replace(out, h('p', { class: 'verdict bad', role: 'alert' }, answer.complaint.trim()));
      return;
    }
    replace(
      out,
      h('h3', {}, words),
      h(
        'pre',
        { class: 'words', role: 'group', tabindex: '0', 'aria-label': words },
        unbroken(answer.printed),
      ),
      h(
        'button',
        {
          type: 'button',
          class: 'small',
          onclick: () => saveFile('result.json', answer.files['result.json'], 'application/json'),
        },
        'Save result.json',
      ),
    );
  };
  return h(
    'div',
    {},
    h(
      'p',
      { class: 'no-print' },
      'The face and the numbers follow every change of the case. Two questions take longer:',
    ),
    h(
      'div',
      { class: 'row no-print' },
      h(
        'button',
        {
          type: 'button',
          onclick: () => ask('With swelling and stress in muscle', { command: 'fit' }),
        },
        'As the face swells',
      ),
      h(
        'button',
        { type: 'button', onclick: () => ask('How sure it is', { command: 'fit', bands: 60 }) },
        'How sure is it?',
      ),
      waiting.stop,
    ),
    waiting.node,
    out,
    h(
      'p',
      { class: 'privacy' },
      'This page works out everything on this computer. It opens no connection, sends nothing, and keeps nothing unless you save a file or tick “Keep in this browser”.',
    ),
  );
}
