// Units as shown; inside the case file each key carries its own.

const kinds = {
  load: { mmHg: { per: 1, digits: 0 }, kPa: { per: 0.133322387415, digits: 1 } },
  gas: { cmH2O: { per: 1, digits: 1 }, hPa: { per: 0.980665, digits: 1 } },
  length: { mm: { per: 1, digits: 1 }, in: { per: 1 / 25.4, digits: 2 } },
};
export const chosen = { load: 'mmHg', gas: 'cmH2O', length: 'mm' };
export const choices = Object.fromEntries(
  Object.entries(kinds).map(([kind, units]) => [kind, Object.keys(units)]),
);

export const shownValue = (kind, value) => value * kinds[kind][chosen[kind]].per;
export const storedValue = (kind, shown) => shown / kinds[kind][chosen[kind]].per;

// '63 mmHg'; the value in the unit of the file (mmHg, cmH2O, mm).
export function shown(kind, value, digits) {
  if (value === null || value === undefined || !Number.isFinite(value)) return 'not known';
  const { digits: usual } = kinds[kind][chosen[kind]];
  return `${shownValue(kind, value).toFixed(digits ?? usual)} ${chosen[kind]}`;
}
export const flow = (value) =>
  value === null || value === undefined
    ? 'not known'
    : `${value.toFixed(value < 10 ? 1 : 0)} L/min`;
