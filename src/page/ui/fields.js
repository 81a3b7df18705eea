// Inputs bound to places of the case.
import { freshId, h, replace, say, siteWords } from './dom.js';
import { chosen, shown, shownValue, storedValue } from './units.js';

const onMidline = new Set(['nasal_bridge', 'upper_lip', 'chin', 'forehead', 'occiput']);

/// Options of the wearer's side for a site: none is chosen for the user.
export function offerSides(select, site) {
  const before = select.value;
  const sides = onMidline.has(site) ? ['midline'] : ['', 'left', 'right'];
  replace(
    select,
    sides.map((side) =>
      h('option', { value: side, selected: side === before }, side === '' ? 'which side?' : side),
    ),
  );
}

// A site with its side, of an injury or a dressing.
export class SitePicker {
  constructor(sites, whose) {
    const pick = (what, props, options) =>
      h('select', { 'aria-label': `${what} of the ${whose}`, ...props }, options);
    this.site = pick(
      'Site',
      { onchange: () => this.offer() },
      sites.map((each) => h('option', { value: each }, siteWords({ site: each }))),
    );
    this.side = pick('Side', { onchange: () => say(this.missing, '') });
    this.missing = h('span', { role: 'status', class: 'help' });
    this.nodes = [this.site, this.side, this.missing];
    this.offer();
  }
  offer() {
    offerSides(this.side, this.site.value);
    say(this.missing, '');
  }
  /// Nothing, said in words, while the side is not chosen.
  get value() {
    const side = this.side.value;
    if (side === '') {
      say(this.missing, 'Say which side of the wearer first.');
      this.side.focus();
      return null;
    }
    return { site: this.site.value, ...(side === 'midline' ? {} : { side }) };
  }
}

// Each input knows how to show the case's value again, after undo or another file.
export class Bound {
  constructor(store) {
    this.store = store;
    this.refreshers = [];
    store.listen((why) => this.refresh(why));
  }
  refresh() {
    for (const each of this.refreshers) each();
  }
  whenever(refresh) {
    this.refreshers.push(refresh);
    refresh();
  }
  /// refresh(value) anew only when the value has changed.
  whenChanged(value, refresh) {
    let before;
    this.whenever(() => {
      const now = value();
      const text = JSON.stringify(now);
      if (text === before) return;
      before = text;
      refresh(now);
    });
  }

  labelled(label, input, help) {
    const id = freshId('field');
    input.id = id;
    const about = help ? h('p', { class: 'help', id: `${id}-help` }, help) : null;
    if (about) input.setAttribute('aria-describedby', about.id);
    return h('div', { class: 'field' }, h('label', { for: id }, label), input, about);
  }

  /// empty: what the case holds when nothing is typed.
  text(path, label, { help, empty, maxlength }) {
    const input = h('input', {
      type: 'text',
      maxlength,
      onchange: () => {
        this.store.set(path, input.value.trim() || empty);
        show();
      },
    });
    const show = () => (input.value = this.store.get(path) ?? '');
    this.whenever(show);
    return this.labelled(label, input, help);
  }

  /// kind: of the unit shown (load, gas, length), or none. usual: in the unit of the case. inCm: where
  /// the case may hold the same length in cm.
  number(path, { label, unit = '', kind, min, max, step = 'any', help, usual, inCm }) {
    const name = h('span', {});
    const input = h('input', {
      type: 'number',
      step,
      onchange: () => {
        const value =
          input.value === ''
            ? undefined
            : kind
              ? storedValue(kind, input.valueAsNumber)
              : input.valueAsNumber;
        if (inCm && this.store.get(inCm) !== undefined)
          this.store.setAll([
            [path, value],
            [inCm, undefined],
          ]);
        else this.store.set(path, value);
      },
    });
    const tidy = (value) => (kind ? Number(shownValue(kind, value).toFixed(3)) : value);
    this.whenever(() => {
      const cm = inCm ? this.store.get(inCm) : undefined;
      const value = this.store.get(path) ?? (cm === undefined ? undefined : 10 * cm);
      say(name, `${label}${kind || unit ? ` (${kind ? chosen[kind] : unit})` : ''}`);
      const low = kind && min !== undefined ? shownValue(kind, min) : min;
      const high = kind && max !== undefined ? shownValue(kind, max) : max;
      if (low !== undefined) input.min = low;
      if (high !== undefined) input.max = high;
      input.value = value === undefined ? '' : tidy(value);
      input.placeholder = usual === undefined ? '' : tidy(usual);
    });
    const field = this.labelled('', input, help);
    replace(field.querySelector('label'), name);
    return field;
  }

  slider(path, { label, unit = '', kind, min, max, step, usual, help }) {
    const output = h('output', { class: 'reading' });
    const input = h('input', {
      type: 'range',
      min,
      max,
      step,
      oninput: () => {
        this.store.set(path, input.valueAsNumber);
        show();
      },
    });
    const show = () => {
      const given = this.store.get(path);
      const value = given ?? (typeof usual === 'function' ? usual() : usual);
      const text = kind ? shown(kind, value) : `${Number(value).toFixed(step < 1 ? 1 : 0)} ${unit}`;
      say(output, text);
      input.setAttribute('aria-valuetext', text);
      if (document.activeElement !== input || input.valueAsNumber !== value) input.value = value;
    };
    this.whenever(show);
    const field = this.labelled(label, input, help);
    field.classList.add('slider');
    field.insertBefore(output, input);
    return field;
  }

  /// options: [[value, words]]; an undefined value takes the key away.
  choice(path, label, options, help) {
    const input = h(
      'select',
      { onchange: () => this.store.set(path, options[input.selectedIndex][0]) },
      options.map(([, words]) => h('option', {}, words)),
    );
    this.whenever(() => {
      const value = this.store.get(path);
      const at = options.findIndex(([each]) => each === value);
      input.selectedIndex = at >= 0 ? at : 0;
    });
    return this.labelled(label, input, help);
  }

  /// yes, no or not said.
  question(path, words) {
    const name = freshId('question');
    const answers = [
      [true, 'Yes'],
      [false, 'No'],
      [undefined, 'Not checked'],
    ];
    const radios = answers.map(([value, label]) => {
      const radio = h('input', {
        type: 'radio',
        name,
        onchange: () => this.store.set(path, value),
      });
      this.whenever(() => (radio.checked = this.store.get(path) === value));
      return h('label', { class: 'pill' }, radio, h('span', {}, label));
    });
    return h(
      'fieldset',
      { class: 'question' },
      h('legend', {}, words),
      h('div', { class: 'pills' }, radios),
    );
  }

  check(path, words, { on = true, help } = {}) {
    const input = h('input', {
      type: 'checkbox',
      onchange: () => this.store.set(path, input.checked ? on : undefined),
    });
    this.whenever(() => (input.checked = this.store.get(path) === on));
    return h(
      'label',
      { class: 'check' },
      input,
      h('span', {}, words, help ? h('span', { class: 'help' }, ` ${help}`) : null),
    );
  }

  /// Members of a list by their name: checked is in it.
  many(path, legend, options) {
    const boxes = options.map(([value, words]) => {
      const input = h('input', {
        type: 'checkbox',
        onchange: () => {
          const rest = (this.store.get(path) ?? []).filter((each) => each !== value);
          const list = input.checked ? [...rest, value] : rest;
          this.store.set(path, list.length > 0 ? list : undefined);
        },
      });
      this.whenever(() => (input.checked = (this.store.get(path) ?? []).includes(value)));
      return h('label', { class: 'check' }, input, h('span', {}, words));
    });
    return h('fieldset', {}, h('legend', {}, legend), boxes);
  }

  /// The entries of a list in words, each with a button that takes it out.
  entries(path, { words, verb = 'Take out' }) {
    const list = h('ul', { class: 'plain' });
    this.whenChanged(
      () => this.store.get(path) ?? [],
      (all) => {
        const without = (k) => {
          const rest = all.filter((_, m) => m !== k);
          this.store.set(path, rest.length > 0 ? rest : undefined);
        };
        const button = (each, k) =>
          h(
            'button',
            {
              type: 'button',
              class: 'small',
              'aria-label': `${verb}: ${words(each)}`,
              onclick: () => without(k),
            },
            verb,
          );
        replace(
          list,
          all.map((each, k) => h('li', {}, `${words(each)} `, button(each, k))),
        );
      },
    );
    return list;
  }

  /// Shows the content only while the test holds; made anew never.
  when(test, content) {
    const node = h('div', {}, content);
    this.whenever(() => (node.hidden = !test()));
    return node;
  }
}
