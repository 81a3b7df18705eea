// What a lesson's answer is held against: where the estimate has the hardest pressed skin and the leak.
import { firstLeak, hardest, isContact, worstSite } from './findings.js';
import { siteWords } from './dom.js';

/* global SHARED_TEXTS */
const alike = 0.02; // two sides whose numbers differ by less read alike
const least = 0.05; // L/min; less is no leak

export const distance = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
const near = (a, b) => Math.abs(a - b) <= alike * Math.max(Math.abs(a), Math.abs(b));
const other = { left: 'right', right: 'left' };
const midline = new Set(['nasal_bridge', 'upper_lip', 'chin', 'forehead']);

// Sites that a rim can press, each side for itself.
const sites = [...new Set(SHARED_TEXTS.landmarks.map(([site]) => site))];
export const allSites = sites
  .flatMap((site) =>
    (midline.has(site) ? ['midline'] : ['left', 'right']).map((side) => ({ site, side })),
  )
  .sort((a, b) => siteWords(a).localeCompare(siteWords(b)));

// The site of a point, as the engine has it: that of the nearest landmark.
function siteAt(p) {
  let [best, site] = [Infinity, ''];
  for (const [name, , ...at] of SHARED_TEXTS.landmarks) {
    const d = distance(at, p);
    if (d < best) [best, site] = [d, name];
  }
  const side = midline.has(site) ? 'midline' : p[0] > 0 ? 'left' : 'right';
  return `${site}/${side}`;
}

/// Where the rim passes a site, in the middle of its course over it; where it does not pass, the
/// middle of the site's landmarks. rim: rows of inner border, crown and outer border on the skin.
export function placeOf({ site, side }, rim) {
  const key = `${site}/${side}`;
  const passing = rim.map(([inner]) => inner).filter((p) => siteAt(p) === key);
  const points =
    passing.length > 0
      ? passing
      : SHARED_TEXTS.landmarks
          .map(([name, of, ...at]) => ({ name, of, at }))
          .filter(({ name, of }) => name === site && (midline.has(site) || of === side))
          .map(({ at }) => at);
  const middle = [0, 1, 2].map((k) => points.reduce((sum, p) => sum + p[k], 0) / points.length);
  return points.reduce((best, p) => (distance(p, middle) < distance(best, middle) ? p : best));
}

/// A place of the answer: { site, sides, at: [points], value }; both sides where they read alike.
const joined = (one, twin) => ({
  site: one.site,
  sides: twin ? [one.side, twin.side] : [one.side],
  at: twin ? [one.at, twin.at] : [one.at],
  value: one.value,
});

export function pressedPlace(result) {
  const worst = worstSite(result);
  if (!worst) return null;
  const placed = ({ name, side, sensor_at_mm, sensor_mmHg }) => ({
    site: name,
    side,
    at: sensor_at_mm,
    value: sensor_mmHg,
  });
  const twin = hardest(result).find(
    ({ name, side, sensor_mmHg }) =>
      name === worst.name && side === other[worst.side] && near(sensor_mmHg, worst.sensor_mmHg),
  );
  return { ...joined(placed(worst), twin && placed(twin)), phase: worst.phase };
}

// Nothing tells the two sides of the face apart.
function even(result) {
  const sites = hardest(result).filter(isContact);
  return (
    !result.inputs.tube &&
    sites.every(
      ({ name, side, sensor_mmHg }) =>
        side === 'midline' ||
        sites.some(
          (each) =>
            each.name === name && each.side === other[side] && near(each.sensor_mmHg, sensor_mmHg),
        ),
    )
  );
}

/// Where gas passes in the phase of highest gas pressure, the largest flow first; when none does, where
/// the seal is weakest (value: null).
export function leakPlaces(result) {
  const { seal, leak } = result.phases.at(-1);
  if (!seal) return [];
  const passing = (leak?.segments ?? [])
    .filter(({ flow_L_min }) => flow_L_min >= least)
    .map(({ site, side, at_mm, flow_L_min }) => ({ site, side, at: at_mm, value: flow_L_min }))
    .sort((a, b) => b.value - a.value);
  if (passing.length === 0) {
    const { at_mm: at, site, side } = firstLeak(result);
    const twin = even(result) &&
      Math.abs(at[0]) > 3 && { side: other[side], at: [-at[0], at[1], at[2]] };
    return [{ ...joined({ site, side, at }, twin || null), value: null }];
  }
  const places = [];
  while (passing.length > 0) {
    const one = passing.shift();
    const k = passing.findIndex(
      (each) =>
        each.site === one.site &&
        near(each.value, one.value) &&
        distance([-each.at[0], each.at[1], each.at[2]], one.at) < 3,
    );
    places.push(joined(one, k >= 0 ? passing.splice(k, 1)[0] : null));
  }
  return places;
}

/// 'cheek (either side)'
export const placeWords = ({ site, sides }) =>
  sides.length === 2 && sides[0] !== sides[1]
    ? `${siteWords({ site })} (either side)`
    : siteWords({ site, side: sides[0] });
