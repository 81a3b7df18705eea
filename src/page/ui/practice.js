// Practice: guess where it presses and leaks before the picture says so, set the straps, then compare.
import { h, replace, say, siteWords } from './dom.js';
import { verdict } from './findings.js';
import {
  allSites,
  distance,
  leakPlaces,
  placeOf,
  placeWords,
  pressedPlace,
} from './practice_truth.js';
import { flow, shown } from './units.js';

/* global EMBEDDED_FILES */
export const lessons = Object.entries(EMBEDDED_FILES)
  .filter(([path]) => path.includes('/lessons/'))
  .map(([path, text]) => ({ path, ...JSON.parse(text) }));

const aims = { press: 'Presses hardest', leak: 'Leaks first' };
const flat = (places) => places.flatMap(({ at }) => at);

const nearestOf = (at, places) =>
  flat(places).reduce((best, each) => (distance(at, each) < distance(at, best) ? each : best));

// What a mark is worth: by the site if that was named, else how far it lies from the nearest place.
function held(guess, places) {
  if (!guess) return 'you set no mark';
  if (!guess.site) {
    const off = shown('length', distance(guess.at, nearestOf(guess.at, places)), 0);
    return `your mark lies ${off} away`;
  }
  const right = places.some(({ site, sides }) => site === guess.site && sides.includes(guess.side));
  return right ? 'as you said' : `you said ${siteWords(guess)}`;
}

function leakWords(result, leaks, guess) {
  if (leaks.length === 0) return 'It does not seat.';
  const [first, ...more] = leaks;
  const also = [...new Set(more.map(placeWords))].filter((each) => each !== placeWords(first));
  const where =
    first.value === null
      ? `Leaks nowhere; the seal is weakest at: ${placeWords(first)}`
      : `Leaks most: ${placeWords(first)}${also.length > 0 ? `; also ${also.join(', ')}` : ''}`;
  return `${where}; ${held(guess, leaks)}. Leak over the breath ${flow(result.breath_mean_leak_L_min)}.`;
}

export class Practice {
  constructor(app) {
    this.app = app;
    this.node = h('div', {});
    this.answer = h('div', { 'aria-live': 'polite' });
    this.side = h(
      'section',
      { class: 'findings', 'aria-labelledby': 'answer-title' },
      h('h2', { id: 'answer-title' }, 'The answer'),
      this.answer,
    );
    app.lessonStore.listen(() => this.followStraps?.());
    this.list();
  }

  get busy() {
    return this.lesson !== null && !this.shown;
  }

  list() {
    this.lesson = null;
    this.app.leaveLesson();
    replace(
      this.node,
      h(
        'p',
        {},
        'Each case hides where it presses and leaks. Say what you expect, set the straps, then look. All cases are invented.',
      ),
      h(
        'ol',
        { class: 'lessons' },
        lessons.map((lesson) =>
          h(
            'li',
            {},
            h('button', { type: 'button', onclick: () => this.begin(lesson) }, lesson.title),
          ),
        ),
      ),
    );
    this.node.querySelector('button')?.focus({ preventScroll: true });
  }

  begin(lesson) {
    this.lesson = lesson;
    this.shown = false;
    this.guess = {};
    this.aim = 'press';
    this.app.enterLesson(lesson);
    this.status = h('p', { role: 'status', 'aria-live': 'polite', class: 'note' });
    this.aims = Object.entries(aims).map(([aim, words]) => {
      const input = h('input', {
        type: 'radio',
        name: 'aim',
        checked: aim === this.aim,
        onchange: () => {
          this.aim = aim;
          this.say();
        },
      });
      return h('label', { class: 'pill' }, input, h('span', {}, words));
    });
    const byName = this.sitesByName();
    this.straps = h('div', {});
    replace(this.answer, h('p', { class: 'help' }, 'Hidden until you ask for it.'));
    replace(
      this.node,
      h('h3', { tabindex: '-1' }, lesson.title),
      h('p', {}, lesson.story),
      h(
        'fieldset',
        {},
        h('legend', {}, '1. Point at the face'),
        h('div', { class: 'pills' }, this.aims),
        this.status,
        byName,
      ),
      h('fieldset', {}, h('legend', {}, '2. Set the straps'), this.straps),
      h(
        'div',
        { class: 'row' },
        h(
          'button',
          { type: 'button', class: 'main', onclick: () => this.reveal() },
          'Show the answer',
        ),
        h('button', { type: 'button', onclick: () => this.list() }, 'Other cases'),
      ),
    );
    this.node.querySelector('h3').focus({ preventScroll: true });
    this.laySliders();
    this.say();
  }

  laySliders() {
    const { lessonStore } = this.app;
    const pair = (which) => {
      const given = lessonStore.get('straps/tension_N');
      return typeof given === 'object' ? given[which] : (given ?? 3);
    };
    const shows = [];
    replace(
      this.straps,
      ['upper', 'lower'].map((which) => {
        const output = h('output', { class: 'reading' });
        const input = h('input', {
          type: 'range',
          min: 0,
          max: 12,
          step: 0.1,
          oninput: () => {
            const { valueAsNumber } = input;
            lessonStore.set('straps', {
              tension_N: { upper: pair('upper'), lower: pair('lower'), [which]: valueAsNumber },
            });
          },
        });
        shows.push(() => {
          const text = `${pair(which).toFixed(1)} N`;
          say(output, text);
          input.setAttribute('aria-valuetext', text);
          if (input.valueAsNumber !== pair(which)) input.value = pair(which);
        });
        const field = this.app.bound.labelled(
          `${which === 'upper' ? 'Upper' : 'Lower'} pair, each strap`,
          input,
        );
        field.classList.add('slider');
        field.insertBefore(output, input);
        return field;
      }),
    );
    // Whatever changes the straps: a slider, what is tried instead, undo.
    this.followStraps = () => shows.forEach((show) => show());
    this.followStraps();
  }

  // Without a pointer: the same by the site's name, of every site that a rim can press.
  sitesByName() {
    this.chosen = {};
    return Object.entries(aims).map(([aim, words]) => {
      const select = h(
        'select',
        {
          onchange: () => {
            const site = allSites[select.value];
            const at = site && placeOf(site, this.app.view.laid?.rim ?? []);
            this.guessed(aim, site ? { ...site, at } : undefined);
          },
        },
        h('option', { value: '' }, 'as marked on the face'),
        allSites.map((site, k) => h('option', { value: String(k) }, siteWords(site))),
      );
      this.chosen[aim] = select;
      return this.app.bound.labelled(`${words}, by name`, select);
    });
  }

  pick(at) {
    const { aim } = this;
    if (!this.busy) return;
    this.chosen[aim].value = '';
    if (aim === 'press' && !this.guess.leak) {
      this.aim = 'leak';
      this.aims[1].querySelector('input').checked = true;
    }
    this.guessed(aim, { at });
  }

  // Where, and by which site if it was chosen by its name.
  guessed(aim, guess) {
    if (!this.busy) return;
    this.guess[aim] = guess;
    this.say();
    this.mark();
  }

  mark() {
    const spots = [];
    if (this.guess.press) spots.push({ at: this.guess.press.at, text: 'P?', kind: 'guess' });
    if (this.guess.leak) spots.push({ at: this.guess.leak.at, text: 'L?', kind: 'guess' });
    this.app.view.mark(spots);
  }

  say() {
    const todo = [
      !this.guess.press && 'where it presses hardest',
      !this.guess.leak && 'where it leaks first',
    ].filter(Boolean);
    replace(
      this.status,
      todo.length > 0
        ? `Still to point at: ${todo.join(', and ')}. A click on the face places the mark.`
        : 'Both marks are set. Move them with another click, then set the straps.',
    );
  }

  /// Called with every look at the lesson's case.
  looked(result) {
    this.result = result;
    if (!this.lesson) return;
    if (this.shown) this.compare();
  }

  /// Where the face can be turned to: every site, so that the list gives nothing away.
  get places() {
    return allSites.map((site) => ({
      words: siteWords(site),
      at: () => placeOf(site, this.app.view.laid?.rim ?? []),
    }));
  }

  reveal() {
    if (!this.result) return;
    this.shown = true;
    this.app.view.showHeat(true);
    this.compare();
  }

  compare() {
    const { result, guess, lesson } = this;
    const pressed = pressedPlace(result);
    const leaks = leakPlaces(result);
    const spots = [];
    const pairs = [];
    for (const [key, text, places] of [
      ['press', 'P', pressed ? [pressed] : []],
      ['leak', 'L', leaks],
    ]) {
      for (const at of flat(places)) spots.push({ at, text, kind: key === 'leak' ? 'leak' : '' });
      if (!guess[key]) continue;
      const { at } = guess[key];
      spots.push({ at, text: `${text}?`, kind: 'guess' });
      if (places.length > 0) pairs.push([at, nearestOf(at, places)]);
    }
    this.app.view.mark(spots);
    this.app.view.join(pairs);
    const { kind, text } = verdict(result);
    replace(
      this.answer,
      h('p', { class: `verdict ${kind}` }, `With your straps: ${text}.`),
      h(
        'ul',
        {},
        h(
          'li',
          {},
          pressed
            ? `Presses hardest: ${placeWords(pressed)}, ${shown('load', pressed.value)} (${pressed.phase}); ${held(guess.press, [pressed])}.`
            : 'Presses nowhere.',
        ),
        h('li', {}, leakWords(result, leaks, guess.leak)),
      ),
      h('p', {}, h('strong', {}, 'Why: '), lesson.why),
      h(
        'div',
        { class: 'row' },
        h(
          'button',
          { type: 'button', onclick: () => this.app.lessonStore.merge(lesson.instead.change) },
          `Try: ${lesson.instead.words}`,
        ),
        h('button', { type: 'button', onclick: () => this.app.lessonStore.undo() }, 'Undo'),
      ),
      h(
        'p',
        { class: 'help' },
        'Move the straps on and watch. An estimate for teaching, not a medical device: what the skin shows comes first.',
      ),
    );
  }
}
