// The longer questions: strap window, sizes, dressings, the slice, how sure. Each is asked on purpose.
import { lacking } from './ask.js';
import { h, readCsv, replace, unbroken } from './dom.js';
import { pictureUrl, textOf } from './engine.js';
import { enlargeable } from './enlarge.js';
import { jobTables } from './job_tables.js';

export function saveFile(name, content, type = 'application/octet-stream') {
  const url = URL.createObjectURL(new Blob([content], { type }));
  const link = h('a', { href: url, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 10000);
}

const typeFor = (name) =>
  ({ json: 'application/json', csv: 'text/csv', png: 'image/png', svg: 'image/svg+xml' })[
    name.split('.').at(-1)
  ];

// How far a long question is: a bar once the engine tells of parts, the seconds meanwhile.
export class Waiting {
  constructor(app) {
    this.app = app;
    this.said = h('p', { role: 'status', 'aria-live': 'polite', class: 'help' });
    this.bar = h('progress', { 'aria-label': 'Parts of the work done', hidden: true });
    this.stop = h(
      'button',
      { type: 'button', hidden: true, onclick: () => app.engines.long.stop() },
      'Stop',
    );
    this.node = h('div', { class: 'waiting' }, this.said, this.bar);
  }

  say(words) {
    replace(this.said, words);
  }

  async run(request) {
    const { store, engines } = this.app;
    const lacks = lacking(store);
    if (lacks) return { end: 2, printed: '', complaint: lacks, files: {} };
    const began = performance.now();
    const seconds = () => Math.round((performance.now() - began) / 1000);
    let left = '';
    const tick = setInterval(() => this.say(`Working for ${seconds()} s${left} …`), 500);
    this.say('Working …');
    this.said.setAttribute('aria-busy', 'true'); // seconds are not read aloud
    this.stop.hidden = false;
    const answer = await engines.long.run(
      { case: store.path, ...request },
      store.caseFiles,
      (done, all) => {
        this.bar.hidden = false;
        this.bar.max = all;
        this.bar.value = done;
        const more = Math.ceil(((performance.now() - began) / 1000) * (all / done - 1));
        left = done < all ? `, about ${more} s more` : '';
      },
    );
    clearInterval(tick);
    this.bar.hidden = true;
    this.stop.hidden = true;
    this.said.removeAttribute('aria-busy');
    this.say(answer.end === 0 ? `Took ${(answer.took_ms / 1000).toFixed(1)} s.` : '');
    return answer;
  }
}

/// request: (inputs) => request without the case; alt: words for each picture by its name.
export class JobPanel {
  constructor({ title, about, caution, inputs = [], request, alt, app }) {
    Object.assign(this, { request, alt, app, title });
    this.out = h('div', { class: 'job-out' });
    this.waiting = new Waiting(app);
    this.go = h(
      'button',
      { type: 'button', class: 'main', onclick: () => this.run() },
      'Work it out',
    );
    this.node = h(
      'div',
      {},
      h('p', {}, about),
      caution ? h('p', { class: 'warn' }, caution) : null,
      inputs,
      h('div', { class: 'row' }, this.go, this.waiting.stop),
      this.waiting.node,
      this.out,
    );
    this.urls = [];
  }

  async run() {
    this.go.disabled = true;
    const asked = this.app.store.text;
    const answer = await this.waiting.run(this.request());
    this.go.disabled = false;
    for (const url of this.urls.splice(0)) URL.revokeObjectURL(url);
    if (answer.end !== 0) {
      replace(this.out, h('p', { class: 'verdict bad', role: 'alert' }, answer.complaint.trim()));
      return answer;
    }
    this.show(answer);
    this.asked = asked;
    return answer;
  }

  // Says so when the case has changed since.
  age() {
    if (this.asked && this.asked !== this.app.store.text)
      this.waiting.say('The case has changed since: work it out again.');
  }

  show(answer) {
    this.lay = []; // what follows the units chosen
    const pictures = [];
    const tables = [];
    for (const [name, bytes] of Object.entries(answer.files)) {
      const save = h(
        'button',
        { type: 'button', class: 'small', onclick: () => saveFile(name, bytes, typeFor(name)) },
        `Save ${name}`,
      );
      if (name.endsWith('.png') || name.endsWith('.svg')) {
        const url = pictureUrl(name, bytes);
        this.urls.push(url);
        const sheet = name.endsWith('.svg')
          ? h(
              'button',
              { type: 'button', class: 'small', onclick: () => this.app.printPicture(url) },
              'Print at true size',
            )
          : null;
        pictures.push(
          // Within margins a template would come out too small: it prints by its own button only.
          h(
            'figure',
            { class: sheet ? 'no-print' : null },
            enlargeable(url, this.alt?.(name) ?? name),
            h('figcaption', {}, save, sheet),
          ),
        );
      } else if (name.endsWith('.csv')) {
        const rows = readCsv(textOf(bytes));
        const laid = h('div', {});
        this.lay.push(() => replace(laid, jobTables(name, rows)));
        tables.push(h('details', {}, h('summary', {}, `Table: ${name}`), save, laid));
      } else {
        tables.push(h('p', {}, save));
      }
    }
    replace(
      this.out,
      h(
        'pre',
        { class: 'words', tabindex: '0', 'aria-label': `${this.title} in words` },
        unbroken(answer.printed),
      ),
      pictures,
      tables,
    );
    this.inUnits();
  }

  /// Tables anew, in the units that are chosen now.
  inUnits() {
    for (const each of this.lay ?? []) each();
  }
}
