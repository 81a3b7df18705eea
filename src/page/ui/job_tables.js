// The tables that jobs write, for reading: headings in words, numbers rounded and in the units chosen,
// in parts no wider than paper. The saved file keeps every column and every digit.
import { h, siteWords, table } from './dom.js';
import { chosen, shownValue } from './units.js';

const mostColumns = 9;
const widths = { why: 3, flags: 3, left_out: 3, assumed: 3, straps_of_both_press: 3 }; // in columns

// Of each file its caption and the columns that every part repeats.
const files = {
  'strap-window.csv': ['Seal, leak and pressure against strap tension', ['upper_N', 'lower_N']],
  'sizes.csv': ['Every cushion, ranked', ['rank', 'cushion', 'size']],
  'rotation.csv': ['Two cushions in turn', ['first', 'first_size', 'second', 'second_size']],
  'dressings.csv': ['Every dressing at every place', ['places', 'dressing']],
  'section.csv': ['Pressure along the slice', ['from_mm', 'to_mm']],
  'seen.csv': ['Before and after what was seen', ['quantity']],
};

const words = {
  sweep: 'Straps',
  upper_N: 'Upper straps, each',
  lower_N: 'Lower straps, each',
  travel_mm: 'Strap taken in from slack',
  seated: 'Seats',
  least_margin_cmH2O: 'Least contact above gas',
  weakest_site: 'Where it is least',
  leak_mean_L_min: 'Leak over the breath',
  leak_L_min: 'Leak over the breath',
  sealing_N: 'Just seals at, each strap',
  window_upper_N: 'Too tight from, each strap',
  worst_mmHg: 'Worst site reads',
  worst_site: 'Worst site',
  left_out: 'Left out, why',
  dressing_places: 'Places for a dressing',
  too_near: 'Too near to',
  seals_share: 'Seals in this share of draws',
  assumed: 'Assumed of the cushion',
  first: 'One',
  first_size: 'Its size',
  first_worst_mmHg: 'Worst site of the one reads',
  first_worst_site: 'Worst site of the one',
  first_loads_mm2: 'Skin that the one loads',
  second: 'Other',
  second_size: 'Size of the other',
  second_worst_mmHg: 'Worst site of the other reads',
  second_worst_site: 'Worst site of the other',
  second_loads_mm2: 'Skin that the other loads',
  both_load_mm2: 'Skin that both load',
  share_of_smaller: 'Share of the smaller',
  shared_most_at: 'Shared most at',
  straps_of_both_press: 'Straps of both press',
  places: 'Place',
  case_tension_N: 'Straps as in the case',
  case_leak_L_min: 'Leak with them',
  case_sensor_mmHg: 'Sensor reads with them',
  sealed_tension_N: 'Just seals at, each strap',
  sensor_mmHg: 'Sensor reads just sealed',
  peak_mmHg: 'Peak',
  shear_kPa: 'Shear',
  contact_mm2: 'Area in contact',
  skin_compression: 'Skin compressed by',
  skin_shear: 'Skin sheared by',
  fat_compression: 'Fat compressed by',
  fat_shear: 'Fat sheared by',
  bone_mmHg: 'Pressure on the bone',
  next_door: 'Next door',
  next_door_bare_mmHg: 'There, bare',
  next_door_mmHg: 'There, dressed',
  flags: 'Mind',
  from_mm: 'From',
  to_mm: 'To',
  rim_kPa: 'Rim on the skin',
  skin_kPa: 'Skin',
  bone_kPa: 'Bone',
  bone_shear_kPa: 'Shear on the bone',
  worst: 'Worst site reads',
  leak: 'Leak over the breath',
  sealing: 'Just seals at',
};
const cells = {
  sweep: { equal: 'all alike', split: 'upper against lower' },
};

// Units as the files have them: how a number is shown.
const units = {
  mmHg: (x) => quantity('load', x),
  kPa: (x) => quantity('load', x / 0.133322387415),
  cmH2O: (x) => quantity('gas', x),
  mm: (x) => quantity('length', x),
  N: (x) => [x.toFixed(1), 'N'],
  L_min: (x) => [x.toFixed(1), 'L/min'],
  mm2: (x) => [x.toFixed(0), 'mm²'],
  shear: (x) => [x.toFixed(2), 'kPa'],
  share: (x) => [(100 * x).toFixed(0), '%'],
  count: (x) => [x.toFixed(0), ''],
};
function quantity(kind, x) {
  const digits = { mmHg: 0, in: 2 }[chosen[kind]] ?? 1;
  return [shownValue(kind, x).toFixed(digits), chosen[kind]];
}
const unitOf = (key) => {
  if (/shear_kPa$/.test(key)) return 'shear';
  if (/share|_compression$|_shear$/.test(key)) return 'share';
  return /_(mmHg|kPa|cmH2O|mm2|mm|N|L_min)$/.exec(key)?.[1] ?? null;
};

// '-0' is 0, and what is no number stays as it is.
function cellOf(text, unit) {
  if (text === '' || text === undefined) return '';
  const x = Number(text);
  if (Number.isNaN(x)) return text.replaceAll('_', ' ');
  if (!units[unit]) return text;
  return units[unit](x)[0].replace(/^-(0(\.0+)?)$/, '$1');
}

function wordsOf(key) {
  if (words[key]) return words[key];
  const stem = key.replace(/_(mmHg|kPa|cmH2O|mm2|mm|N|L_min)$/, '');
  const leak = /^leak_(.*)$/.exec(stem);
  if (leak) return `Leak, ${leak[1]}`;
  const [, site, side] = /^(.*)_(left|right)$/.exec(stem) ?? [];
  const plain = siteWords({ site: site ?? stem, side });
  return plain[0].toUpperCase() + plain.slice(1);
}

// A column: { key, head, unit, at(row): text }. Bands of three become one, sides that read alike one.
function columnsOf(head, rows) {
  const columns = [];
  const cell = (key) => (row) => row[head.indexOf(key)];
  // Each row its own unit; numbers without one are shares or counts.
  const unitIn = cell('unit');
  const own = head.includes('unit')
    ? (row) => {
        if (unitIn(row) !== '1') return unitIn(row).replace('/', '_');
        return /share$/.test(row[0]) ? 'share' : 'count';
      }
    : null;
  for (const key of head) {
    if (key === 'unit' || /_p(50|90)(_|$)/.test(key)) continue;
    const band = /^(.*)_p10(_.*)?$/.exec(key);
    if (band) {
      const [, stem, end = ''] = band;
      const three = ['50', '10', '90'].map((p) => cell(`${stem}_p${p}${end}`));
      const unit = unitOf(key);
      columns.push({
        key,
        head: `${words[stem] ?? wordsOf(stem)}: middle (10 to 90 %) of the draws`,
        unit,
        at: (row) => {
          const of = own ? own(row) : unit;
          const [middle, low, high] = three.map((each) => cellOf(each(row), of));
          if (middle === '') return '';
          const range = low === '' ? '' : ` (${low} to ${high})`;
          return `${middle}${range}${own ? ` ${unitWords(of)}` : ''}`.trim();
        },
      });
      continue;
    }
    const unit = unitOf(key);
    columns.push({
      key,
      head: wordsOf(key),
      unit,
      at: (row) => cells[key]?.[cell(key)(row)] ?? cellOf(cell(key)(row), unit),
    });
  }
  const alike = (one, other) => rows.every((row) => one.at(row) === other.at(row));
  return columns.filter((column) => {
    if (rows.every((row) => /^(0(\.0+)?)?$/.test(column.at(row))) && column.unit !== 'L_min')
      return false; // nothing in it
    const twin = columns.find(({ key }) => key === column.key.replace('_right_', '_left_'));
    if (twin && twin !== column && alike(twin, column)) {
      twin.head = twin.head.replace('(left)', '(either side)');
      return false;
    }
    return true;
  });
}
const unitWords = (unit) => (units[unit] ? units[unit](0)[1] : '');

// As many columns a part as fit beside those that each repeats.
function partsOf(columns, keys) {
  const repeated = columns.filter(({ key }) => keys.includes(key));
  const parts = [];
  let room = 0;
  for (const column of columns) {
    if (keys.includes(column.key)) continue;
    const width = widths[column.key] ?? 1;
    if (room < width) {
      parts.push([...repeated]);
      room = mostColumns - repeated.length;
    }
    parts.at(-1).push(column);
    room -= width;
  }
  return parts;
}

/// rows: of a file as read, its head first.
export function jobTables(name, [head, ...rows]) {
  const [caption, keys] = files[name] ?? [name, head.slice(0, 1)];
  const parts = partsOf(columnsOf(head, rows), keys);
  return parts.map((columns, k) =>
    h(
      'div',
      { class: 'scroll', tabindex: '0', role: 'group', 'aria-label': caption },
      table(
        parts.length > 1 ? `${caption}, part ${k + 1} of ${parts.length}` : caption,
        columns.map(({ head: title, unit }) => (unit ? `${title} (${unitWords(unit)})` : title)),
        rows.map((row) => columns.map((column) => column.at(row))),
        { class: 'job-table' },
      ),
    ),
  );
}
