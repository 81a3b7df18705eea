// What surrounds the steps: the head of the page and the stage with the face.
import { h, say } from './dom.js';
import { views } from './face_view.js';
import { chosen, choices } from './units.js';

/* global EMBEDDED_FILES */

export function header(app) {
  app.caseName = h('span', { class: 'case' });
  app.undo = h('button', { type: 'button', onclick: () => app.active.undo() }, 'Undo');
  app.redo = h('button', { type: 'button', onclick: () => app.active.redo() }, 'Redo');
  const file = h('input', {
    type: 'file',
    multiple: true,
    hidden: true,
    'aria-label': 'Files to open',
    onchange: () => {
      app.take(file.files);
      file.value = '';
    },
  });
  const unit = (kind, label) =>
    h(
      'select',
      {
        'aria-label': label,
        onchange: (event) => {
          chosen[kind] = event.target.value;
          app.bound.refresh();
          app.redraw();
          for (const job of Object.values(app.jobs)) job.inUnits();
          if (app.store.keeping) app.store.keep(true);
        },
      },
      choices[kind].map((each) => h('option', { selected: each === chosen[kind] }, each)),
    );
  // The system's choice is followed while it is not overruled here.
  const system = window.matchMedia('(prefers-color-scheme: dark)');
  const theme = h(
    'select',
    { 'aria-label': 'Light or dark', onchange: () => paint() },
    ['as the system', 'light', 'dark'].map((each) => h('option', {}, each)),
  );
  const paint = () => {
    const ofSystem = system.matches ? 'dark' : 'light';
    document.documentElement.dataset.theme =
      theme.value === 'as the system' ? ofSystem : theme.value;
  };
  system.addEventListener('change', paint);
  paint();
  const keep = h('input', {
    type: 'checkbox',
    checked: app.store.keeping,
    onchange: () => app.store.keep(keep.checked),
  });
  app.store.onKept = (words) => {
    keep.checked = app.store.keeping;
    app.tell(words);
  };
  const present = h(
    'button',
    {
      type: 'button',
      'aria-pressed': 'false',
      onclick: () => {
        const on = document.documentElement.classList.toggle('present');
        present.setAttribute('aria-pressed', String(on));
      },
    },
    'Classroom',
  );
  const demos = Object.keys(EMBEDDED_FILES).filter((path) => path.startsWith('demo/cases/'));
  const demo = h(
    'select',
    {
      'aria-label': 'Open a demonstration case',
      onchange: () => {
        if (demo.value) app.openCase(demo.value, JSON.parse(EMBEDDED_FILES[demo.value]));
        demo.value = '';
      },
    },
    h('option', { value: '' }, 'Demonstrations (invented)'),
    demos.map((path) => h('option', { value: path }, JSON.parse(EMBEDDED_FILES[path]).name)),
  );
  return h(
    'header',
    { class: 'top' },
    h('h1', { class: 'name' }, 'rimload'),
    app.caseName,
    h(
      'span',
      { class: 'row file-tools' },
      h('button', { type: 'button', onclick: () => app.beginNew() }, 'New case'),
      demo,
      file,
      h('button', { type: 'button', onclick: () => file.click() }, 'Open …'),
      h('button', { type: 'button', onclick: () => app.save() }, 'Save case'),
      app.undo,
      app.redo,
      h(
        'label',
        { class: 'check keep keep-tool' },
        keep,
        h(
          'span',
          {},
          'Keep in this browser',
          h('span', { class: 'help' }, ' whoever uses this computer next can see it'),
        ),
      ),
    ),
    h(
      'details',
      { class: 'menu' },
      h('summary', {}, 'Units and look'),
      h(
        'div',
        { class: 'menu-body' },
        h('label', {}, 'Pressure on the skin ', unit('load', 'Unit of pressure on the skin')),
        h('label', {}, 'Gas ', unit('gas', 'Unit of gas pressure')),
        h('label', {}, 'Lengths ', unit('length', 'Unit of length')),
        h('label', {}, 'Colours ', theme),
        present,
      ),
    ),
  );
}

/// What a printer gets of a step: the case, and the face as it is turned now.
export function printHead(app) {
  const name = h('h2', {});
  const when = h('p', { class: 'help' });
  const canvas = h('canvas', { 'aria-hidden': 'true' });
  window.addEventListener('beforeprint', () => {
    say(name, app.active.get('name') ?? '');
    say(when, `Estimated with rimload, printed ${new Date().toLocaleString()}.`);
    app.view.copyTo(canvas);
  });
  return h('div', { class: 'print-only' }, name, when, canvas);
}

export function stage(app) {
  const canvas = h('canvas', {
    width: '176',
    height: '14',
    role: 'img',
    'aria-label': 'Scale of colours',
  });
  app.scaleEnd = h('span', {});
  app.scale = canvas;
  app.stale = h('span', { class: 'help', role: 'status' });
  app.siteChoice = h('select', {
    'aria-label': 'Turn the face to a site',
    onchange: () => {
      const place = app.turns[app.siteChoice.value];
      if (place) app.view.turnTo(place.at());
    },
  });
  const buttons = Object.entries(views).map(([name, pose]) =>
    h(
      'button',
      { type: 'button', class: 'small', onclick: () => app.view.turn({ ...pose }) },
      name,
    ),
  );
  return h(
    'section',
    { class: 'stage', 'aria-label': 'The face' },
    h(
      'div',
      { class: 'tools' },
      buttons,
      h(
        'button',
        {
          type: 'button',
          class: 'small',
          'aria-label': 'Nearer',
          onclick: () => app.view.zoom(0.85),
        },
        '+',
      ),
      h(
        'button',
        {
          type: 'button',
          class: 'small',
          'aria-label': 'Farther',
          onclick: () => app.view.zoom(1.18),
        },
        '−',
      ),
      h('button', { type: 'button', class: 'small', onclick: () => app.view.reset() }, 'reset'),
      app.siteChoice,
      h(
        'label',
        { class: 'check' },
        h('input', {
          type: 'checkbox',
          onchange: (event) => app.view.showPlaces(event.target.checked),
        }),
        h('span', {}, 'Dressing places'),
      ),
      app.stale,
    ),
    app.view.node,
    h(
      'div',
      { class: 'scale' },
      h('span', {}, '0'),
      canvas,
      app.scaleEnd,
      h(
        'span',
        { class: 'help' },
        'contact pressure on the skin; stripes: gas can pass; arrows: where it blows',
      ),
    ),
  );
}
