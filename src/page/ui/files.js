// Files from the computer: cases, and what cases name.
import { fileBeside } from './ask.js';
import { faultWords } from './faults.js';

const underCheck = 'check/opened.json';
const most = 100e6;

const missing = / not open in the page/;
// A value of another kind than the forms can show.
const shape = / is not (a list|an object|text|a number|a whole number|true or false)/;

/// The engine's faults of a file, one a line; none of a sound one.
export async function faultsOf(app, text) {
  const answer = await app.engines.live.run(
    { command: 'check', files: [underCheck] },
    { ...app.store.files, [underCheck]: text },
  );
  if (answer.end === 0) return [];
  const lines = `${answer.printed}${answer.complaint}`.trim().split('\n');
  return lines.filter((line) => line !== '' && !/^\d+ faults?$/.test(line));
}
const inWords = (faults) =>
  faults.map((each) => faultWords(each, underCheck).replace(/\.$/, '')).join('; ');

/// Whether the forms can show it; what the forms themselves put in may still be at fault.
export async function canBeShown(app, text) {
  return (await faultsOf(app, text)).every((each) => !shape.test(each));
}

/// What a case names and the page does not have.
export function namedButMissing(store, json) {
  return [
    json.cushion?.catalogue,
    json.dressings?.catalogue,
    json.face?.file,
    json.face?.scan?.file,
  ].filter((path) => path && !fileBeside(store, path));
}
export const askForMissing = (store, json) =>
  namedButMissing(store, json).map((path) => `The case names ${path}: open that file too.`);

// What may be done with a file that a case can name: the words of a button, and the change.
const uses = {
  rimload_catalogue: (name, json) => ({
    words: `Use the cushions of ${name}`,
    then: 'mask',
    values: [
      [
        'cushion',
        { catalogue: name, name: json.cushions[0].name, size: json.cushions[0].sizes[0].size },
      ],
      ['straps', undefined],
    ],
  }),
  rimload_face: (name) => ({
    words: `Use the face of ${name}`,
    then: 'face',
    values: [['face', { file: name }]],
  }),
  rimload_measurements: (name, { rimload_measurements: _, ...measurements }) => ({
    words: `Use the measurements of ${name}`,
    then: 'face',
    values: [['face', { measurements }]],
  }),
  rimload_dressings: (name) => ({
    words: `Use the dressings of ${name}`,
    then: 'way',
    values: [['dressings', { catalogue: name }]],
  }),
};

/// A case opens if the engine finds it sound; anything else lies ready for cases that name it, with the
/// offer to use it in the case in hand. Gives what is to be said, and the offers.
export async function takeFiles(app, list) {
  const { store } = app;
  const said = [];
  const offers = [];
  const cases = [];
  for (const file of [...list]) {
    const { name } = file;
    if (file.size > most) {
      said.push(`${name} has ${(file.size / 1e6).toFixed(0)} MB; at most 100 are read.`);
      continue;
    }
    if (app.scan?.takes?.(file)) {
      await app.scan.open(file);
      continue;
    }
    if (!name.toLowerCase().endsWith('.json')) {
      store.lay(name, new Uint8Array(await file.arrayBuffer()));
      said.push(`${name} lies ready for a case that names it.`);
      continue;
    }
    const text = await file.text();
    let json;
    try {
      json = JSON.parse(text);
    } catch (error) {
      said.push(`${name} is no JSON: ${error.message}.`);
      continue;
    }
    if (json && typeof json === 'object' && 'rimload_case' in json) {
      cases.push({ name, json, text });
      continue;
    }
    const faults = await faultsOf(app, text);
    if (faults.length > 0) {
      said.push(`${name} is not taken: ${inWords(faults)}.`);
      continue;
    }
    store.lay(name, text);
    const kind = Object.keys(uses).find((each) => each in json);
    if (kind) offers.push(uses[kind](name, json));
    said.push(`${name} lies ready for a case that names it.`);
  }
  let opened = null; // after the files it may name
  for (const { name, json, text } of cases) {
    const faults = (await faultsOf(app, text)).filter((each) => !missing.test(each));
    if (faults.length > 0)
      said.push(`${name} is not opened: ${inWords(faults)}. The case in hand is as it was.`);
    else opened = { name, json };
  }
  if (opened) {
    app.openCase(opened.name, opened.json);
    said.push(...askForMissing(store, opened.json));
  } else {
    app.look();
  }
  return { said, offers: opened ? [] : offers };
}
