// The sheet that goes on the chart: one sheet of paper, two sides, nothing that was not asked or worked out.
import { gate, gateCautions, lacking } from './ask.js';
import { h, replace, say, siteWords, table, unbroken } from './dom.js';
import { jsonOf, pictureUrl } from './engine.js';
import { hardest, keyOf, settingsWords, stopsOf, verdictNodes } from './findings.js';
import { flow, shown } from './units.js';

const words = (value) =>
  value === undefined || value === null ? 'not said' : String(value).replaceAll('_', ' ');
const answer = (value) => (value === true ? 'yes' : value === false ? 'no' : 'not checked');

function inputsTable({ inputs }) {
  const { face, cushion, settings, straps } = inputs;
  const pressure =
    settings.cpap_cmH2O !== undefined
      ? `CPAP ${shown('gas', settings.cpap_cmH2O)}`
      : `inspiratory ${shown('gas', settings.inspiratory_cmH2O)}, expiratory ${shown('gas', settings.expiratory_cmH2O)}`;
  const tension = Object.entries(straps.tension_N)
    .map(([name, value]) => `${words(name)} ${value.toFixed(1)} N`)
    .join(', ');
  return table(
    'What was estimated',
    ['Item', 'As given'],
    [
      ['Face', `${face.title || face.name}${face.symmetry_assumed ? ', symmetry assumed' : ''}`],
      [
        'Mask',
        `${cushion.name}, size ${cushion.size} (${words(cushion.type)})${cushion.vented ? ', vented' : ', not vented'}`,
      ],
      ['Pressure', pressure],
      ['Straps', `${tension}${straps.setting ? ` (${words(straps.setting)})` : ''}`],
      [
        'Hours planned',
        `${inputs.hours_planned} h, ${words(inputs.posture)}, circuit ${words(inputs.circuit)}`,
      ],
      [
        'In the way',
        [
          inputs.beard ? `hair ${shown('length', inputs.beard.hair_mm)}` : null,
          inputs.tube
            ? `${words(inputs.tube.kind)} tube ${inputs.tube.size_Fr} Fr, ${inputs.tube.side}`
            : null,
          inputs.dentures && inputs.dentures !== 'not_said'
            ? `dentures ${words(inputs.dentures)}`
            : null,
          inputs.mouth !== 'closed' ? `mouth ${words(inputs.mouth)}` : null,
        ]
          .filter(Boolean)
          .join('; ') || 'nothing said',
      ],
    ],
  );
}

function skinTable(result) {
  const skin = new Map((result.skin?.sites ?? []).map((each) => [keyOf(each), each]));
  const rows = hardest(result)
    .slice(0, 9)
    .map((site) => {
      const tolerance = skin.get(keyOf(site));
      const check = tolerance?.check;
      return [
        siteWords(site),
        shown('load', site.sensor_mmHg),
        tolerance?.concern ?? '–',
        check?.act === 'check'
          ? `first in ${check.next_h} h, then every ${check.every_h} h`
          : words(check?.act),
      ];
    });
  return table(
    'Skin: pressure as a 1 cm² sensor reads it, the highest over the phases',
    ['Site', 'Pressure', 'Concern', 'Check and relieve'],
    rows,
  );
}

// What was answered with a caution, a line each; what nobody asked, in one.
function cautionLines(result, safety) {
  const open = result.cautions.filter((each) => !each.checked).map((each) => each.text);
  const own = gateCautions(safety).filter((each) => each.own);
  const lines = [
    ...stopsOf(result).map((each) => each.text),
    ...own.map((each) => each.caution),
    open.length > 0
      ? `Not checked: ${open.map((each) => each.replace(/: not checked\.$/, '')).join('; ')}.`
      : null,
  ];
  return lines.filter(Boolean).map((each) => h('p', { class: 'warn' }, each));
}

export class Sheet {
  constructor(app) {
    this.app = app;
    this.state = h('p', { class: 'help', role: 'status', 'aria-live': 'polite' });
    this.paper = h('article', {
      class: 'sheet',
      'aria-label': 'Sheet for the chart',
      hidden: true,
    });
    this.print = h(
      'button',
      { type: 'button', disabled: true, onclick: () => window.print() },
      'Print',
    );
    this.make = h(
      'button',
      { type: 'button', class: 'main', onclick: () => this.work() },
      'Make the sheet',
    );
    // In the sheet's place when an old one would be printed.
    this.old = h('p', { class: 'warn', role: 'status' });
    app.store.listen(() => this.age());
    this.node = h(
      'div',
      {},
      h(
        'div',
        { class: 'no-print' },
        h(
          'p',
          {},
          'The whole estimate with its picture on one sheet, two sides, and room to write down what you see. Nothing is sent or stored; printing and saving are yours.',
        ),
        h('div', { class: 'row' }, this.make, this.print),
        this.state,
      ),
      this.old,
      this.paper,
    );
  }

  // A sheet of another case than the one in hand is not printed.
  age() {
    if (this.asked === undefined) return;
    const old = this.asked !== this.app.store.text;
    say(this.old, old ? 'The case has changed since this sheet was made: make it anew.' : '');
    this.paper.classList.toggle('aged', old);
    this.print.disabled = old;
  }

  async work() {
    const { engines, store } = this.app;
    const lacks = lacking(store);
    if (lacks) {
      replace(this.state, lacks);
      return;
    }
    const asked = store.text;
    this.make.disabled = true;
    replace(this.state, 'Working …');
    const { end, complaint, printed, files } = await engines.long.run(
      { command: 'fit', case: store.path },
      store.caseFiles,
    );
    this.make.disabled = false;
    if (end !== 0) {
      replace(this.state, complaint.trim());
      return;
    }
    replace(this.state, '');
    if (this.url) URL.revokeObjectURL(this.url);
    this.url = pictureUrl('front.png', files['front.png']);
    this.asked = asked;
    this.lay(jsonOf(files['result.json']), printed, JSON.parse(asked).safety);
    this.paper.hidden = false;
    this.age();
  }

  /// safety: the answers that the case held.
  lay(result, printed, safety) {
    const { inputs } = result;
    const now = new Date();
    const settings = settingsWords(result);
    const blank = ['', '', '', '', ''];
    replace(
      this.paper,
      h('h3', {}, inputs.name),
      h(
        'p',
        { class: 'help' },
        `Estimated ${now.toLocaleString()} with rimload, model ${result.model_version}. ${result.notice}`,
      ),
      verdictNodes(result),
      cautionLines(result, safety),
      h(
        'div',
        { class: 'columns' },
        h(
          'div',
          {},
          inputsTable(result),
          table(
            'Asked before it goes on',
            ['Question', 'Answer'],
            gate.map(({ key, short }) => [short, answer(safety?.[key])]),
          ),
        ),
        h(
          'figure',
          {},
          h('img', {
            src: this.url,
            alt: 'The face from the front with the pressure of the mask; the table says the same in numbers.',
          }),
        ),
      ),
      skinTable(result),
      h('h4', { class: 'other-side' }, 'In words'),
      h('pre', { class: 'words' }, unbroken(printed)),
      settings.length > 0
        ? [
            h('h4', {}, 'Alarms and settings'),
            h(
              'ul',
              {},
              settings.map((each) => h('li', {}, each)),
            ),
          ]
        : null,
      h(
        'div',
        { class: 'lines' },
        table(
          'What was seen (skin, leak on the ventilator, straps changed)',
          ['Time', 'Skin', 'Leak', 'Straps', 'Name'],
          Array(9).fill(blank),
        ),
      ),
      h(
        'p',
        { class: 'help' },
        `Leak over the breath ${flow(result.breath_mean_leak_L_min)}; a vent’s own flow is not counted. Local policy and licensed practice come first.`,
      ),
    );
  }
}
