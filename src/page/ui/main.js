// The page: steps at the left, the face in the middle, what to expect beside it.
import { faceStep, lacking, safetyStep, unnamed } from './ask.js';
import { maskStep } from './ask_mask.js';
import { wayStep } from './ask_way.js';
import { h, replace, say, unbroken } from './dom.js';
import { jsonOf, pictureUrl, startEngines } from './engine.js';
import { enlargeable } from './enlarge.js';
import { FaceView } from './face_view.js';
import { Bound } from './fields.js';
import { askForMissing, canBeShown, takeFiles } from './files.js';
import { Findings, hardest, isContact, spotsOf } from './findings.js';
import { header, printHead, stage } from './frame.js';
import { saveFile } from './jobs.js';
import { Practice } from './practice.js';
import { makeJobs, moreNode } from './questions.js';
import { ScanMarker } from './scan.js';
import { Sheet } from './sheet.js';
import { Store } from './store.js';
import { chosen, shownValue } from './units.js';

/* global EMBEDDED_FILES */
// As a demonstration has it, but nothing of the safety gate is answered before somebody asked.
function newCase() {
  const json = JSON.parse(EMBEDDED_FILES['demo/cases/first-fit.json']);
  for (const key of ['safety', 'about']) delete json[key];
  return { ...json, name: unnamed };
}
const newCasePath = 'demo/cases/new-case.json';

class App {
  /// store: with the case that was kept, or none.
  constructor(engines, store) {
    this.engines = engines;
    this.store = store;
    this.lessonStore = new Store(EMBEDDED_FILES);
    this.active = this.store;
    this.taking = 0; // files being read
    this.looks = 0; // answered so far
    const restored = store.path !== '';
    if (!restored) this.store.open(newCasePath, newCase());
    // First the look is asked for, then the forms follow while the engine works.
    this.store.listen((why) => this.changed(why));
    this.bound = new Bound(this.store);
    this.view = new FaceView({ onPick: (at) => this.practice.pick(at) });
    this.findings = new Findings();
    this.lay();
    this.lessonStore.listen(() => this.look());
    this.go(restored ? 'findings' : 'safety');
    if (restored) this.tell(askForMissing(store, store.json).join(' '));
    this.look();
  }

  // --- what is on the page -------------------------------------------------------------------

  lay() {
    this.scan = new ScanMarker(this);
    const ask = {
      tension: (which) => this.tensions?.[`${which}_left`],
      guide: (node) => this.showGuide(node),
      measure: (node) => this.showMeasure(node),
      scan: this.scan.node,
    };
    this.practice = new Practice(this);
    this.sheet = new Sheet(this);
    this.jobs = makeJobs(this);
    this.pages = [
      { key: 'safety', title: 'Before it goes on', node: () => safetyStep(this.bound, this.store) },
      { key: 'face', title: 'Face', node: () => faceStep(this.bound, this.store, ask) },
      {
        key: 'mask',
        title: 'Mask and settings',
        node: () => maskStep(this.bound, this.store, ask),
      },
      { key: 'way', title: 'In the way', node: () => wayStep(this.bound, this.store) },
      { key: 'findings', title: 'What to expect', node: () => moreNode(this) },
      { key: 'sheet', title: 'Sheet', wide: true, node: () => this.sheet.node },
      {
        key: 'straps',
        title: 'How tight',
        gap: true,
        wide: true,
        node: () => this.jobs.straps.node,
      },
      { key: 'sizes', title: 'Which size', wide: true, node: () => this.jobs.sizes.node },
      { key: 'dressing', title: 'Dressings', wide: true, node: () => this.jobs.dressing.node },
      { key: 'section', title: 'Inside the skin', wide: true, node: () => this.jobs.section.node },
      { key: 'seen', title: 'What was seen', wide: true, node: () => this.jobs.seen.node },
      { key: 'practice', title: 'Practice', gap: true, node: () => this.practice.node },
    ];
    for (const page of this.pages) {
      page.button = h('button', { type: 'button', onclick: () => this.go(page.key) }, page.title);
    }
    this.panel = h('section', { class: 'panel', 'aria-labelledby': 'panel-title' });
    this.side = h('div', { class: 'side' }, this.findings.node);
    this.main = h('main', { id: 'main' }, this.panel, printHead(this), stage(this), this.side);
    this.toast = h('p', {
      class: 'note no-print',
      role: 'status',
      'aria-live': 'polite',
      hidden: true,
    });
    this.trueSize = h('div', { class: 'true-size' });
    document.body.append(this.trueSize);
    replace(
      document.getElementById('app'),
      h('a', { class: 'skip', href: '#main' }, 'To the main part'),
      header(this),
      this.toast,
      h(
        'nav',
        { class: 'steps', 'aria-label': 'Steps' },
        h(
          'ol',
          {},
          this.pages.map((page) => h('li', { class: page.gap ? 'gap' : '' }, page.button)),
        ),
      ),
      this.main,
    );
    this.dropFiles();
    document.addEventListener('keydown', (event) => {
      if (!(event.ctrlKey || event.metaKey)) return;
      const key = event.key.toLowerCase();
      // What is being typed is taken back letter by letter, as everywhere.
      const typing = event.target.matches?.('input[type=text], input[type=number], textarea');
      if (typing && (key === 'z' || key === 'y')) return;
      if (key === 'z' && !event.shiftKey) this.active.undo();
      else if (key === 'y' || (key === 'z' && event.shiftKey)) this.active.redo();
      else if (key === 's') this.save();
      else return;
      event.preventDefault();
    });
  }

  go(key) {
    const at = this.pages.findIndex((page) => page.key === key);
    const page = this.pages[at];
    const left = this.page?.key === 'practice' && key !== 'practice';
    if (this.view.scan) {
      this.view.showScan(null);
      this.redraw();
    }
    this.page = page;
    for (const each of this.pages) {
      if (each === page) each.button.setAttribute('aria-current', 'step');
      else each.button.removeAttribute('aria-current');
    }
    if (left) this.practice.list();
    page.built ??= [page.node()].flat();
    this.main.classList.toggle('wide', Boolean(page.wide));
    const before = this.pages[at - 1];
    const after = this.pages[at + 1];
    replace(
      this.panel,
      h('h2', { id: 'panel-title', tabindex: '-1' }, page.title),
      page.built,
      page.key === 'practice'
        ? null
        : h(
            'div',
            { class: 'next no-print' },
            before
              ? h(
                  'button',
                  { type: 'button', onclick: () => this.go(before.key) },
                  `Back: ${before.title}`,
                )
              : h('span', {}),
            after
              ? h(
                  'button',
                  { type: 'button', class: 'main', onclick: () => this.go(after.key) },
                  `On: ${after.title}`,
                )
              : null,
          ),
    );
    this.panel.scrollTop = 0;
    for (const job of Object.values(this.jobs)) job.age();
    if (this.laidOnce) document.getElementById('panel-title').focus({ preventScroll: true });
    this.laidOnce = true;
  }

  /// offers: what may be done about it (words, the values to set, the step to go to then).
  tell(text, offers = []) {
    const buttons = offers.map(({ words, values, then }) =>
      h(
        'button',
        {
          type: 'button',
          class: 'small',
          onclick: () => {
            this.store.setAll(values);
            this.go(then);
          },
        },
        words,
      ),
    );
    if (buttons.length > 0 || this.toast.textContent !== text)
      replace(this.toast, text === '' ? null : `${text} `, buttons);
    this.toast.hidden = text === '';
  }

  // --- following the hand --------------------------------------------------------------------

  changed() {
    this.undo.disabled = this.store.past.length === 0;
    this.redo.disabled = this.store.future.length === 0;
    this.tell('');
    this.look();
  }

  // One look at a time; whatever changed meanwhile is looked at once more, the newest only. Soon
  // after another look a hand is taken to move: the picture is quicker and coarser until it rests.
  async look({ atRest = false } = {}) {
    if (this.looking) {
      this.again = true;
      return;
    }
    this.looking = true;
    const store = this.active;
    this.undo.disabled = store.past.length === 0;
    this.redo.disabled = store.future.length === 0;
    say(this.caseName, store.get('name') ?? '');
    const asked = performance.now();
    const moving = !atRest && asked - (this.sawAt ?? -Infinity) < 300;
    const lacks = lacking(store);
    const answer = lacks
      ? { end: 2, complaint: lacks }
      : await this.engines.live.run({ command: 'look', case: store.path, moving }, store.caseFiles);
    this.looking = false;
    const { again } = this;
    this.again = false;
    try {
      if (store === this.active) this.saw(answer, asked, moving);
    } finally {
      if (again) this.look();
    }
  }

  saw(answer, asked, moving) {
    // What was still to be told is of another case.
    clearTimeout(this.tableLater);
    clearTimeout(this.wholeLater);
    this.tableLater = 0;
    const seen = ++this.looks;
    if (answer.end !== 0) {
      this.fault(answer.complaint);
      replace(this.stale, 'The picture is of the last case that could be worked out.');
      return;
    }
    say(this.stale, '');
    const { files } = answer;
    const scene = jsonOf(files['scene.json']);
    this.view.show(scene, files['lines.bin'], files['field.bin'], files['skin.bin']);
    this.sawAt = performance.now();
    document.documentElement.dataset.lookMs = String(Math.round(this.sawAt - asked));
    document.documentElement.dataset.engineMs = String(Math.round(answer.took_ms));
    this.drawScale(scene);
    // The picture first; the table when it is on the screen and the hand rests.
    this.tableLater = setTimeout(
      () => (moving ? this.look({ atRest: true }) : this.askNumbers(seen)),
      120,
    );
  }

  // No number of the case before stays, neither beside the fault nor on the face.
  fault(complaint) {
    this.result = null;
    this.findings.fault(complaint);
    this.view.mark([]);
    replace(this.siteChoice, h('option', { value: '' }, 'Turn to …'));
  }

  /// seen: the look whose numbers these are.
  async askNumbers(seen) {
    const store = this.active;
    const answer = await this.engines.live.run({ command: 'tell' }, {});
    if (seen !== this.looks) return; // another answer came meanwhile
    this.tableLater = 0;
    if (store !== this.active) return;
    if (answer.end !== 0) {
      this.fault(answer.complaint);
      return;
    }
    this.result = jsonOf(answer.files['result.json']);
    this.tensions = this.result.inputs.straps.tension_N;
    this.printed = answer.printed;
    this.whole = false;
    if (store === this.store) this.askWholeSoon(seen);
    this.view.setPlaces(jsonOf(answer.files['places.json']));
    this.redraw();
  }

  // Stress in muscle takes a second: the other engine adds it when the hand rests and nothing else
  // was asked of it.
  askWholeSoon(seen) {
    this.wholeLater = setTimeout(() => {
      if (this.engines.long.busy) this.askWholeSoon(seen);
      else this.askWhole(seen);
    }, 800);
  }

  async askWhole(seen) {
    const { path, caseFiles } = this.store;
    const request = { command: 'fit', case: path, pictures: false };
    const answer = await this.engines.long.run(request, caseFiles);
    if (seen !== this.looks || this.active !== this.store || answer.end !== 0) return;
    this.result = jsonOf(answer.files['result.json']);
    this.printed = answer.printed;
    this.whole = true;
    this.redraw();
  }

  redraw() {
    if (!this.result) return;
    replace(this.scaleEnd, `${shownValue('load', 100).toFixed(0)} ${chosen.load} and more`);
    const inLesson = this.active === this.lessonStore;
    replace(this.side, inLesson ? this.practice.side : this.findings.node);
    if (inLesson) {
      this.offerTurns(this.practice.places);
      this.practice.looked(this.result);
      return;
    }
    this.findings.show(this.result, this.printed, this.whole);
    const spots = spotsOf(this.result);
    if (!this.view.scan) this.view.mark(spots); // else the marks are the scan's
    const names = hardest(this.result).filter((site) => isContact(site));
    this.offerTurns(
      spots.map(({ text, key, at }) => ({
        words: `${text}: ${key.split('/')[0].replaceAll('_', ' ')}`,
        at: () => at,
      })),
    );
    const sites = [...new Set(names.map((site) => site.name))].filter((name) => name !== 'eyelid');
    const now = this.sectionSite.value;
    replace(
      this.sectionSite,
      sites.map((name) =>
        h('option', { value: name, selected: name === now }, name.replaceAll('_', ' ')),
      ),
    );
  }

  // Places that the face can be turned to, in this order: { words, at() }.
  offerTurns(places) {
    this.turns = places;
    replace(
      this.siteChoice,
      h('option', { value: '' }, 'Turn to …'),
      places.map(({ words }, k) => h('option', { value: String(k) }, words)),
    );
  }

  drawScale(scene) {
    if (this.scaleDrawn) return;
    this.scaleDrawn = true;
    const pen = this.scale.getContext('2d');
    const step = this.scale.width / scene.colours.length;
    scene.colours.forEach((colour, k) => {
      pen.fillStyle = colour;
      pen.fillRect(k * step, 0, step + 1, this.scale.height);
    });
  }

  enterLesson(lesson) {
    this.view.showHeat(false);
    this.view.mark([]);
    this.view.join([]);
    this.result = null;
    this.offerTurns([]);
    this.active = this.lessonStore;
    this.lessonStore.past = [];
    this.lessonStore.future = [];
    this.lessonStore.path = '';
    this.lessonStore.open(`demo/cases/lesson-${lesson.key}.json`, lesson.case);
  }
  leaveLesson() {
    if (this.active !== this.lessonStore) return;
    this.active = this.store;
    this.view.showHeat(true);
    this.view.join([]);
    this.look();
  }

  // --- files ---------------------------------------------------------------------------------

  beginNew() {
    this.store.open(newCasePath, newCase());
    this.go('safety');
  }

  save() {
    // The one that is named at the head of the page: in a lesson, the lesson's.
    saveFile(this.active.path.split('/').at(-1), this.active.text, 'application/json');
  }

  dropFiles() {
    const { body } = document;
    for (const name of ['dragenter', 'dragover']) {
      body.addEventListener(name, (event) => {
        event.preventDefault();
        body.classList.add('drop');
      });
    }
    body.addEventListener('dragleave', (event) => {
      if (!event.relatedTarget) body.classList.remove('drop');
    });
    body.addEventListener('drop', (event) => {
      event.preventDefault();
      body.classList.remove('drop');
      this.take(event.dataTransfer.files);
    });
  }

  async take(list) {
    ++this.taking;
    try {
      await this.takeAll(list);
    } finally {
      --this.taking;
    }
  }

  // In place of the user's own case, which undo brings back; a lesson is left for it, seen to be left.
  openCase(path, json) {
    this.store.open(path, json);
    if (this.page.key === 'practice') this.go('findings');
  }

  async takeAll(list) {
    const { said, offers } = await takeFiles(this, list);
    this.bound.refresh();
    this.tell(said.join(' '), offers);
  }

  // A sheet of A4, alone on its paper.
  printPicture(url) {
    const image = h('img', { alt: '', src: url });
    replace(this.trueSize, image);
    document.body.classList.add('true-size-on');
    image.onload = () => window.print();
    window.addEventListener(
      'afterprint',
      () => {
        document.body.classList.remove('true-size-on');
        replace(this.trueSize);
      },
      { once: true },
    );
  }

  async showGuide(node) {
    replace(node, h('p', { class: 'help' }, 'Drawing …'));
    const answer = await this.engines.long.run({ command: 'measure', guide: true, file: '' }, {});
    if (answer.end !== 0) {
      replace(node, h('p', { class: 'warn' }, answer.complaint.trim()));
      return;
    }
    const name = Object.keys(answer.files).find((each) => each.endsWith('.png'));
    replace(
      node,
      enlargeable(pictureUrl(name, answer.files[name]), 'Where each dimension is taken, by number'),
    );
  }

  async showMeasure(node) {
    replace(node, 'Working …');
    const answer = await this.engines.long.run(
      { command: 'measure', file: this.store.path },
      this.store.caseFiles,
    );
    replace(node, answer.end === 0 ? unbroken(answer.printed) : answer.complaint.trim());
  }
}

// What was kept by another version of the page may be more than its forms can show.
async function storeOfLastTime(engines) {
  const store = new Store(EMBEDDED_FILES);
  if (store.restore() && (await canBeShown({ engines, store }, store.text))) return store;
  return new Store(EMBEDDED_FILES);
}

startEngines()
  .then(async (engines) => {
    window.rimload = new App(engines, await storeOfLastTime(engines));
  })
  .catch((error) => {
    replace(
      document.getElementById('app'),
      h(
        'p',
        { role: 'alert', class: 'verdict bad' },
        `The engine could not start in this browser: ${error.message}`,
      ),
    );
  });
