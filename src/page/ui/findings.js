// What the engine found, in numbers and in words, beside the face.
import { h, replace, siteWords, table, unbroken } from './dom.js';
import { flow, shown } from './units.js';

/* global SHARED_TEXTS */
const { published } = SHARED_TEXTS;
const notContact = new Set(['ear_top', 'occiput', 'strap_cheek']);
export const isContact = (site) => !notContact.has(site.name) && !site.name.startsWith('tube');
export const keyOf = (site) => `${site.name ?? site.site}/${site.side}`;

// Every site at its hardest over the phases.
export function hardest(result) {
  const sites = new Map();
  for (const phase of result.phases) {
    for (const site of phase.sites ?? []) {
      const before = sites.get(keyOf(site));
      if (!before || site.sensor_mmHg > before.sensor_mmHg)
        sites.set(keyOf(site), { ...site, phase: phase.name });
    }
  }
  return [...sites.values()]
    .filter((site) => site.sensor_mmHg >= 1)
    .sort((a, b) => b.sensor_mmHg - a.sensor_mmHg);
}
export const worstSite = (result) =>
  hardest(result).find((site) => isContact(site) && site.name !== 'eyelid') ?? null;

// Where gas would pass first: the weakest place in the phase of highest gas pressure.
export function firstLeak(result) {
  const phase = result.phases.at(-1);
  return phase.seal
    ? {
        at_mm: phase.seal.weakest_at_mm,
        site: phase.seal.weakest_site,
        side: phase.seal.weakest_side,
      }
    : null;
}

const concerns = ['low', 'raised', 'high', 'injury']; // mildest first
const signs = { good: '✓', fair: '!', bad: '✕', plain: '–' };
export const stopsOf = (result) => result.cautions.filter((each) => each.stop && each.checked);

function sealLine(result) {
  const loose = result.phases.find((phase) => !phase.equilibrium.seated);
  if (loose) return { kind: 'bad', text: `Does not seat: ${loose.equilibrium.reason}` };
  const mean = result.breath_mean_leak_L_min;
  const { leak_limit_L_min: limit, leak_target_L_min: target } = result.inputs;
  if (mean > limit)
    return {
      kind: 'bad',
      text: `Leaks ${flow(mean)} over the breath, above the limit of ${flow(limit)}`,
    };
  if (mean > target)
    return {
      kind: 'fair',
      text: `Leaks ${flow(mean)} over the breath; target ${flow(target)}, limit ${flow(limit)}`,
    };
  if (mean > 0.05)
    return {
      kind: 'good',
      text: `Leaks ${flow(mean)} over the breath, within the target of ${flow(target)}`,
    };
  return { kind: 'good', text: 'Seals all round in every phase' };
}

function skinLine(result) {
  const sites = result.skin?.sites ?? [];
  if (sites.length === 0) return { kind: 'plain', text: 'Nothing is estimated of the skin' };
  const rank = (site) => concerns.indexOf(site.concern);
  const worst = sites.reduce((one, other) => (rank(other) > rank(one) ? other : one));
  const alike = sites.filter((site) => site.concern === worst.concern).length - 1;
  const pressure = hardest(result).find((site) => keyOf(site) === keyOf(worst))?.sensor_mmHg;
  const where = [
    siteWords(worst),
    pressure === undefined ? null : shown('load', pressure),
    alike > 0 ? `and ${alike} more site${alike > 1 ? 's' : ''}` : null,
  ]
    .filter(Boolean)
    .join(', ');
  const act = worst.check?.words?.[0]?.replace(/\.$/, '');
  if (worst.concern === 'low')
    return { kind: 'good', text: 'Concern low at every site; look at the skin all the same' };
  return {
    kind: worst.concern === 'raised' ? 'fair' : 'bad',
    text: `${worst.concern === 'injury' ? 'Injured' : `Concern ${worst.concern}`}: ${where}${act ? `. ${act}` : ''}`,
  };
}

/// Seal and skin, a line each. Seal alone calls nothing good.
export function verdictLines(result) {
  const skin = skinLine(result);
  const seal = sealLine(result);
  const allowed = skin.kind === 'good' && stopsOf(result).length === 0;
  const calm = (line) => (line.kind === 'good' && !allowed ? { ...line, kind: 'plain' } : line);
  return [
    { about: 'Seal', ...calm(seal) },
    { about: 'Skin', ...calm(skin) },
  ];
}
export const verdictNodes = (result) =>
  verdictLines(result).map(({ about, kind, text }) =>
    h(
      'p',
      { class: `line ${kind}` },
      h('span', { class: 'sign', 'aria-hidden': 'true' }, `${signs[kind]} `),
      `${about}: ${text}`,
    ),
  );
/// Both in one sentence, with the graver kind.
export function verdict(result) {
  const [seal, skin] = verdictLines(result);
  const kind = ['bad', 'fair', 'plain'].find((each) => [seal.kind, skin.kind].includes(each));
  return { kind: kind ?? 'good', text: `${seal.text}. Skin: ${skin.text}` };
}

/// Alarms and settings as they are taught, or nothing where the engine does not say.
export const settingsWords = (result) =>
  ['alarms', 'low_alarm', 'high_alarm', 'starts']
    .map((key) => result.settings_check?.[key])
    .filter(Boolean);

function phaseRows(result) {
  return result.phases.map((phase) => {
    if (!phase.equilibrium.seated) return [phase.name, 'does not seat', '', ''];
    const { seal, leak } = phase;
    return [
      phase.name,
      flow(leak.total_L_min),
      shown('gas', seal.weakest_margin_cmH2O),
      siteWords({ site: seal.weakest_site, side: seal.weakest_side }),
    ];
  });
}

function siteRows(result, spots) {
  const skin = new Map((result.skin?.sites ?? []).map((each) => [keyOf(each), each]));
  return hardest(result).map((site) => {
    const tolerance = skin.get(keyOf(site));
    const spot = spots.findIndex((each) => each.key === keyOf(site));
    const hours = tolerance?.curves.find((each) => each.verdict === 'hours');
    return [
      h(
        'span',
        {},
        spot >= 0
          ? h('span', { class: 'mark inline', 'aria-hidden': 'true' }, String(spot + 1))
          : null,
        siteWords(site),
      ),
      shown('load', site.sensor_mmHg),
      hours?.hours
        ? `${hours.hours.typical_h === null ? 'no limit given' : `${hours.hours.typical_h.toFixed(1)} h`}`
        : '–',
      tolerance?.concern ?? '–',
      tolerance?.check?.act === 'check'
        ? `${tolerance.check.every_h} h`
        : (tolerance?.check?.act ?? '–').replaceAll('_', ' '),
    ];
  });
}

/// The marks on the face: the hardest pressed sites by number, then the first leak.
export function spotsOf(result) {
  const sites = hardest(result)
    .filter((site) => isContact(site) && site.sensor_at_mm && site.name !== 'eyelid')
    .slice(0, 6);
  const spots = sites.map((site, k) => ({
    key: keyOf(site),
    at: site.sensor_at_mm,
    text: String(k + 1),
  }));
  const leak = firstLeak(result);
  if (leak?.at_mm) spots.push({ key: 'leak', at: leak.at_mm, text: 'L', kind: 'leak' });
  return spots;
}

export class Findings {
  constructor() {
    this.verdict = h('div', { class: 'verdict', role: 'status', 'aria-live': 'polite' });
    this.cautions = h('div', {});
    this.phases = h('div', {});
    // These stay themselves, so that the focus stays where it is.
    this.sites = h('div', {
      class: 'scroll',
      tabindex: '0',
      role: 'group',
      'aria-label': 'Pressure by site',
    });
    this.about = h('div', {});
    this.settings = h('div', {});
    this.alarms = h('details', {}, h('summary', {}, 'Alarms and settings'), this.settings);
    this.words = h('pre', {
      class: 'words',
      role: 'group',
      tabindex: '0',
      'aria-label': 'The finding in words',
    });
    this.inWords = h('details', { open: true }, h('summary', {}, 'In words'), this.words);
    this.numbers = h('div', {}, this.phases, this.sites, this.about, this.alarms, this.inWords);
    this.node = h(
      'section',
      { class: 'findings', 'aria-labelledby': 'findings-title' },
      h('h2', { id: 'findings-title' }, 'What to expect'),
      this.verdict,
      this.cautions,
      this.numbers,
      h(
        'p',
        { class: 'help' },
        'An estimate for planning and teaching, not a medical device. Look at the skin and at the wearer; local policy and licensed practice come first.',
      ),
    );
  }

  fault(complaint) {
    this.verdict.className = 'verdict bad';
    replace(this.verdict, complaint.trim());
    this.told = null;
    // Numbers of another case would be read as this one's.
    this.numbers.hidden = true;
    for (const node of [
      this.cautions,
      this.phases,
      this.sites,
      this.about,
      this.settings,
      this.words,
    ])
      replace(node);
  }

  /// whole: the fit as on the sheet, with stress in muscle.
  show(result, printed, whole = false) {
    this.numbers.hidden = false;
    this.verdict.className = 'verdict lines';
    const lines = JSON.stringify(verdictLines(result));
    if (lines !== this.told) replace(this.verdict, verdictNodes(result)); // else it would be read aloud anew
    this.told = lines;
    replace(
      this.cautions,
      stopsOf(result).map((each) => h('p', { class: 'warn' }, each.text)),
      result.inputs.face.child
        ? h(
            'p',
            { class: 'warn' },
            'A child: tissue data and tolerance curves are of adults, so hours are withheld and pressures serve to compare sizes only.',
          )
        : null,
    );
    const spots = spotsOf(result);
    replace(
      this.phases,
      table(
        'Each phase of the breath',
        ['Phase', 'Leak', 'Least contact above gas', 'Where'],
        phaseRows(result),
      ),
    );
    replace(
      this.sites,
      table(
        'Pressure by site, the highest over the phases, as a 1 cm² sensor would read',
        ['Site', 'Pressure', 'Hours', 'Concern', 'Check every'],
        siteRows(result, spots),
      ),
    );
    replace(
      this.about,
      h(
        'p',
        { class: whole ? 'help' : 'note' },
        whole
          ? 'Hours, concern and checks as on the sheet, with stress in muscle.'
          : 'Without stress in muscle, which takes a moment more. With it, as on the sheet, concern can be higher and checks more often.',
      ),
      h(
        'p',
        { class: 'help' },
        `Compare pressure with what sealing needs, ${shown('load', result.inputs.sealing_need_mmHg)}, and with what was measured under other masks: `,
        published.rows
          .map(
            (row) =>
              `${siteWords({ site: row.site })} ${shown('load', row.mean_mmHg)} (SD ${shown('load', row.sd_mmHg)}), ${row.n} wearers, ${row.what} (${row.source})`,
          )
          .join('; '),
        '. 32 mmHg is a figure from the nail fold, no threshold.',
      ),
      h(
        'p',
        { class: 'help' },
        'Hours: typical value of the first named curve that gives any; none was measured on a face, and no limit is not evidence of safety. ',
        'Concern compares the cautious ends of all curves with the hours planned. L marks where gas would pass first.',
      ),
    );
    const settings = settingsWords(result);
    this.alarms.hidden = settings.length === 0;
    replace(
      this.settings,
      settings.map((each) => h('p', {}, each)),
    );
    replace(this.words, unbroken(printed));
  }
}
