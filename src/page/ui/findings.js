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

export function verdict(result) {
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

const concernWords = { low: 'low', moderate: 'moderate', high: 'high' };

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
      tolerance ? (concernWords[tolerance.concern] ?? tolerance.concern ?? '–') : '–',
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
    this.verdict = h('p', { class: 'verdict', role: 'status', 'aria-live': 'polite' });
    this.cautions = h('div', {});
    this.body = h('div', {});
    this.words = h('pre', { class: 'words', tabindex: '0', 'aria-label': 'The finding in words' });
    this.node = h(
      'section',
      { class: 'findings', 'aria-labelledby': 'findings-title' },
      h('h2', { id: 'findings-title' }, 'What to expect'),
      this.verdict,
      this.cautions,
      this.body,
      h('details', { open: true }, h('summary', {}, 'In words'), this.words),
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
    // Numbers of another case would be read as this one's.
    for (const node of [this.cautions, this.body, this.words]) replace(node);
  }

  show(result, printed) {
    const { kind, text } = verdict(result);
    this.verdict.className = `verdict ${kind}`;
    replace(this.verdict, text);
    const stops = result.cautions.filter((each) => each.stop && each.checked);
    replace(
      this.cautions,
      stops.map((each) => h('p', { class: 'warn' }, each.text)),
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
      this.body,
      table(
        'Each phase of the breath',
        ['Phase', 'Leak', 'Least contact above gas', 'Where'],
        phaseRows(result),
      ),
      h(
        'div',
        { class: 'scroll', tabindex: '0', role: 'group', 'aria-label': 'Pressure by site' },
        table(
          'Pressure by site, the highest over the phases, as a 1 cm² sensor would read',
          ['Site', 'Pressure', 'Hours', 'Concern', 'Check every'],
          siteRows(result, spots),
        ),
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
    replace(this.words, unbroken(printed));
  }
}
