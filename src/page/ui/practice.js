// Practice: guess where it presses and leaks before the picture says so, set the straps, then compare.
import { h, replace, siteWords } from './dom.js';
import { firstLeak, hardest, isContact, verdict, worstSite } from './findings.js';
import { flow, shown } from './units.js';

/* global EMBEDDED_FILES */
export const lessons = Object.entries(EMBEDDED_FILES)
  .filter(([path]) => path.includes('/lessons/'))
  .map(([path, text]) => ({ path, ...JSON.parse(text) }));

const distance = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

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
    this.aims = ['press', 'leak'].map((aim) => {
      const input = h('input', {
        type: 'radio',
        name: 'aim',
        checked: aim === this.aim,
        onchange: () => {
          this.aim = aim;
          this.say();
        },
      });
      return h(
        'label',
        { class: 'pill' },
        input,
        h('span', {}, aim === 'press' ? 'Presses hardest' : 'Leaks first'),
      );
    });
    this.byName = h('div', {});
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
        this.byName,
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
    replace(
      this.straps,
      ['upper', 'lower'].map((which) => {
        const output = h('output', { class: 'reading' }, `${pair(which).toFixed(1)} N`);
        const input = h('input', {
          type: 'range',
          min: 0,
          max: 12,
          step: 0.1,
          value: pair(which),
          oninput: () => {
            lessonStore.set('straps', {
              tension_N: {
                upper: pair('upper'),
                lower: pair('lower'),
                [which]: input.valueAsNumber,
              },
            });
            replace(output, `${input.valueAsNumber.toFixed(1)} N`);
          },
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
  }

  // For the keyboard: the same choice by the site's name.
  offerSites(result) {
    const sites = hardest(result)
      .filter((site) => isContact(site) && site.sensor_at_mm)
      .sort((a, b) => `${a.name}${a.side}`.localeCompare(`${b.name}${b.side}`));
    const select = h(
      'select',
      { 'aria-label': 'Site by its name' },
      h('option', { value: '' }, 'or choose a site by name'),
      sites.map((site, k) => h('option', { value: String(k) }, siteWords(site))),
    );
    select.addEventListener('change', () => {
      if (select.value !== '') this.pick(sites[Number(select.value)].sensor_at_mm);
    });
    replace(this.byName, select);
  }

  pick(at) {
    if (!this.busy) return;
    this.guess[this.aim] = at;
    if (this.aim === 'press' && !this.guess.leak) {
      this.aim = 'leak';
      this.aims[1].querySelector('input').checked = true;
    }
    this.say();
    this.mark();
  }

  mark() {
    const spots = [];
    if (this.guess.press) spots.push({ at: this.guess.press, text: 'P?', kind: 'guess' });
    if (this.guess.leak) spots.push({ at: this.guess.leak, text: 'L?', kind: 'guess' });
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
    else if (this.byName.childElementCount === 0) this.offerSites(result);
  }

  reveal() {
    if (!this.result) return;
    this.shown = true;
    this.app.view.showHeat(true);
    this.compare();
  }

  compare() {
    const { result, guess, lesson } = this;
    const worst = worstSite(result);
    const leak = firstLeak(result);
    const off = (at, truth) =>
      at && truth
        ? `your mark lies ${shown('length', distance(at, truth), 0)} away`
        : 'you set no mark';
    const spots = [];
    const pairs = [];
    for (const [key, text, truth] of [
      ['press', 'P', worst?.sensor_at_mm],
      ['leak', 'L', leak?.at_mm],
    ]) {
      if (truth) spots.push({ at: truth, text, kind: key === 'leak' ? 'leak' : '' });
      if (guess[key]) spots.push({ at: guess[key], text: `${text}?`, kind: 'guess' });
      if (guess[key] && truth) pairs.push([guess[key], truth]);
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
          worst
            ? `Presses hardest: ${siteWords(worst)}, ${shown('load', worst.sensor_mmHg)} (${worst.phase}); ${off(guess.press, worst.sensor_at_mm)}.`
            : 'Presses nowhere.',
        ),
        h(
          'li',
          {},
          leak
            ? `Leaks first: ${siteWords(leak)}; ${off(guess.leak, leak.at_mm)}. Leak over the breath ${flow(result.breath_mean_leak_L_min)}.`
            : 'It does not seat.',
        ),
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
