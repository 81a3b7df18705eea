// What the page shows of a case that nobody asked about, that is at fault, or that changed since.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { looked, openBrowser, openPage, root, setCase } from './browser.mjs';

let browser;
before(async () => {
  browser = await openBrowser();
});
after(async () => browser?.close());

const step = (page, title) =>
  page
    .getByRole('navigation', { name: 'Steps' })
    .getByRole('button', { name: title, exact: true })
    .click();
const held = (page, path) => page.evaluate((at) => window.rimload.store.get(at), path);
const demoCase = (name) => join(root, 'demo/cases', `${name}.json`);
const findings = (page) => page.locator('.findings');

async function makeSheet(page) {
  await step(page, 'Sheet');
  await page.getByRole('button', { name: 'Make the sheet' }).click();
  await page.locator('.sheet:not([hidden]) h3').waitFor({ timeout: 120000 });
  return page.getByRole('article', { name: 'Sheet for the chart' });
}

test('no question of the safety gate is answered before somebody asked, and each case has its own name', async () => {
  const { page, context, faults } = await openPage(browser);
  const questions = page.locator('fieldset.question');
  for (const chosen of await questions.locator('label:has(input:checked)').allInnerTexts())
    assert.equal(chosen.trim(), 'Not checked');
  assert.equal(await held(page, 'safety'), undefined);
  await page.getByLabel('Name of the case').fill('Bed 12');
  await page.getByLabel('Name of the case').blur();
  await looked(page);
  await page.locator('header .case', { hasText: 'Bed 12' }).waitFor();
  const sheet = await makeSheet(page);
  assert.equal(await sheet.locator('h3').innerText(), 'Bed 12');
  const gate = await sheet.getByRole('table', { name: 'Asked before it goes on' }).innerText();
  assert.doesNotMatch(gate, /\b(yes|no)$/m);
  await page.getByRole('button', { name: 'New case' }).click();
  await looked(page);
  await page.locator('header .case', { hasText: 'New case' }).waitFor();
  await page.getByRole('heading', { name: 'Before it goes on' }).waitFor();
  await page.getByRole('button', { name: 'Undo' }).click();
  await looked(page);
  assert.equal(await held(page, 'name'), 'Bed 12');
  assert.deepEqual(faults, []);
  await context.close();
});

test('a fault is not painted over by the numbers of the setting before', async () => {
  const { page, context } = await openPage(browser);
  await step(page, 'Mask and settings');
  for (const pause of [40, 90, 150]) {
    await setCase(page, '/settings/expiratory_cmH2O', 6);
    await findings(page).getByRole('table').first().waitFor();
    await page.getByLabel('Expiratory').evaluate(async (input, ms) => {
      for (const value of [10, 12, 13, 13.5, 15]) {
        input.value = value;
        input.dispatchEvent(new Event('input', { bubbles: true }));
        await new Promise((done) => setTimeout(done, ms));
      }
    }, pause);
    await looked(page);
    await page.waitForTimeout(1500); // whatever is late would come now
    assert.match(await findings(page).innerText(), /not above the expiratory pressure/);
    assert.equal(await findings(page).getByRole('table').count(), 0);
    assert.equal(await page.evaluate(() => window.rimload.result), null);
    assert.equal(await page.locator('.marks .mark').count(), 0);
  }
  await context.close();
});

const lines = (page) => page.locator('.findings .line');
async function openCase(page, name) {
  await page.setInputFiles('header input[type=file]', demoCase(name));
  await looked(page);
}

test('seal alone calls nothing good: the skin has a line of its own', async () => {
  const { page, context } = await openPage(browser);
  const good = page.locator('.findings .verdict.good, .findings .line.good');
  for (const [name, skin] of [
    ['first-fit', /Skin: Concern high: nasal bridge, 87 mmHg/],
    ['tight-straps-small-face', /Skin: Concern high: nasal bridge/],
    ['injured-skin', /Skin: Injured: nasal bridge/],
  ]) {
    await openCase(page, name);
    assert.match(await lines(page).nth(0).innerText(), /Seal: (Seals|Leaks)/, name);
    assert.match(await lines(page).nth(1).innerText(), skin, name);
    assert.equal(await good.count(), 0, name);
  }
  // A stop of the safety gate takes the colour too, whatever seal and skin are.
  await openCase(page, 'nasal-cpap');
  const kinds = (safety) =>
    page.evaluate((answers) => {
      const { findings, result, printed } = window.rimload;
      const skin = {
        ...result.skin,
        sites: result.skin.sites.map((each) => ({ ...each, concern: 'low' })),
      };
      const cautions = answers ? [{ key: 'vomiting', text: 'x', stop: true, checked: true }] : [];
      findings.show({ ...result, skin, cautions }, printed);
      return [...findings.node.querySelectorAll('.line')].map((each) => each.className);
    }, safety);
  assert.ok(
    (await kinds(false)).every((each) => each === 'line good'),
    'low concern and sealed',
  );
  assert.ok(!(await kinds(true)).includes('line good'));
  await context.close();
});

test('the table beside the face comes to the checks of the sheet, and says so until then', async () => {
  const { page, context } = await openPage(browser);
  const row = page
    .getByRole('table', { name: /Pressure by site/ })
    .getByRole('row', { name: /chin/ });
  const about = page.locator('.findings .note');
  assert.match(await about.innerText(), /Without stress in muscle/);
  await page.getByText('as on the sheet, with stress in muscle').waitFor({ timeout: 60000 });
  const live = (await row.innerText()).split('\t').at(-1);
  const sheet = await makeSheet(page);
  const there = await sheet.getByRole('row', { name: /^chin/ }).last().innerText();
  assert.equal(there.split('\t').at(-1), `first in ${live}, then every ${live}`);
  assert.equal(live, '2 h');
  await context.close();
});

test('a sheet of another case is neither printed nor taken for this one’s', async () => {
  const { page, context } = await openPage(browser);
  const sheet = await makeSheet(page);
  const print = page.getByRole('button', { name: 'Print', exact: true });
  assert.ok(await print.isEnabled());
  await setCase(page, '/hours_planned', 12);
  assert.ok(await print.isDisabled());
  await page.getByText('The case has changed since this sheet was made').waitFor();
  await page.emulateMedia({ media: 'print' });
  assert.ok(await sheet.isHidden());
  await page.emulateMedia({ media: 'screen' });
  await page.getByRole('button', { name: 'Undo' }).click();
  await looked(page);
  assert.ok(await print.isEnabled());
  await setCase(page, '/hours_planned', 12);
  await page.getByRole('button', { name: 'Make the sheet' }).click();
  await sheet.getByText('12 h, semi recumbent').waitFor({ timeout: 120000 });
  assert.ok(await print.isEnabled());
  await context.close();
});

test('every question of the gate cautions, and stands on the sheet', async () => {
  const { page, context } = await openPage(browser);
  const questions = page.locator('fieldset.question');
  assert.equal(await questions.count(), 9);
  for (let k = 0; k < 9; ++k) {
    const pill = questions.nth(k).getByLabel(k < 7 ? 'Yes' : 'No', { exact: true });
    await pill.check();
    assert.notEqual(await questions.nth(k).locator('xpath=../p').innerText(), '', `question ${k}`);
    await questions
      .nth(k)
      .getByLabel(k < 7 ? 'No' : 'Yes', { exact: true })
      .check();
    assert.equal(await questions.nth(k).locator('xpath=../p').textContent(), '', `question ${k}`);
    await pill.check();
  }
  await looked(page);
  const sheet = await makeSheet(page);
  const gate = sheet.getByRole('table', { name: 'Asked before it goes on' });
  assert.equal(await gate.locator('tbody tr').count(), 9);
  assert.match(await gate.innerText(), /Acute respiratory failure\s+yes/);
  assert.match(await gate.innerText(), /Someone watches all the time\s+no/);
  await sheet.getByText('Nobody watches all the time', { exact: false }).waitFor();
  await context.close();
});

test('alarms and settings stand in the findings and on the sheet where the engine tells them', async () => {
  const { page, context } = await openPage(browser);
  await makeSheet(page);
  const told = {
    low_alarm_cmH2O: 5,
    high_alarm_cmH2O: 15,
    usual_start: true,
    alarms: 'One taught rule sets the low alarm 5.',
    low_alarm: 'What sets it off low.',
    high_alarm: 'What sets it off high.',
    starts: 'Teaching starts at 10 over 5.',
  };
  await page.evaluate((settings_check) => {
    const { findings, sheet, result, printed } = window.rimload;
    findings.show({ ...result, settings_check }, printed);
    sheet.lay({ ...result, settings_check }, printed, {});
  }, told);
  for (const words of [told.alarms, told.low_alarm, told.high_alarm, told.starts]) {
    await page.getByRole('article').getByText(words).waitFor();
    assert.equal(
      await page
        .locator('.findings details', { hasText: 'Alarms and settings' })
        .getByText(words)
        .count(),
      1,
    );
  }
  await page.evaluate(() => {
    const { findings, result, printed } = window.rimload;
    const { settings_check: left, ...rest } = result;
    findings.show(rest, printed);
  });
  assert.equal(
    await page.locator('.findings details:visible', { hasText: 'Alarms and settings' }).count(),
    0,
  );
  await context.close();
});

test('on a tablet nothing lies over the findings, and a narrow screen shows menu and scale', async () => {
  for (const [width, height] of [
    [820, 1180],
    [1180, 820],
    [1000, 600],
    [320, 640],
  ]) {
    const { page, context } = await openPage(browser, { viewport: { width, height } });
    await step(page, 'Mask and settings');
    const cell = page
      .getByRole('table', { name: /Pressure by site/ })
      .getByRole('cell')
      .first();
    await cell.scrollIntoViewIfNeeded();
    for (const place of [cell, page.locator('.findings .line').last()]) {
      await place.scrollIntoViewIfNeeded();
      const seen = await place.evaluate((node) => {
        const { left, top, width: w, height: high } = node.getBoundingClientRect();
        const hit = document.elementFromPoint(left + w / 2, top + high / 2);
        return node.contains(hit);
      });
      assert.ok(seen, `covered at ${width}`);
    }
    await page.getByText('Units and look').click();
    for (const name of ['.menu-body', '.scale canvas', '.findings']) {
      const { x, width: wide } = await page.locator(name).first().boundingBox();
      assert.ok(x >= 0 && x + wide <= width, `${name} at ${x} of ${width}`);
    }
    const [face, found] = await Promise.all(
      ['.stage', '.side'].map((name) => page.locator(name).boundingBox()),
    );
    assert.ok(face.y + face.height <= found.y + 1, `the face ends before the findings at ${width}`);
    assert.ok(
      await page.locator('.scale').evaluate((node) => {
        const stage = node.closest('.stage').getBoundingClientRect();
        return node.getBoundingClientRect().bottom <= stage.bottom + 1;
      }),
      `the scale is in sight at ${width}`,
    );
    assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), width);
    await context.close();
  }
});

test('a sheet with every caution and nothing else asked takes two sides', async () => {
  const { page, context } = await openPage(browser);
  await setCase(page, '/safety', {
    implant_near_magnets: true,
    acute_failure: true,
    watched: false,
    skin_checked: false,
  });
  const sheet = await makeSheet(page);
  const open = sheet.locator('.warn', { hasText: 'Not checked' });
  assert.match(await open.innerText(), /^Not checked: Vomiting.*; Whether the airway is protected/);
  const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
  assert.equal(pdf.match(/\/Type\s*\/Page\b/g).length, 2);
  await context.close();
});

const give = (page, name, json) =>
  page.setInputFiles('header input[type=file]', {
    name,
    mimeType: 'application/json',
    buffer: Buffer.from(typeof json === 'string' ? json : JSON.stringify(json)),
  });
const firstFit = (change) => ({
  ...JSON.parse(readFileSync(demoCase('first-fit'), 'utf8')),
  name: 'Given',
  ...change,
});

test('a case that the forms can’t show is refused in words, and the one in hand stays', async () => {
  const { page, context, faults } = await openPage(browser);
  for (const name of ['Face', 'Mask and settings', 'In the way', 'What was seen'])
    await step(page, name);
  const before = await page.evaluate(() => window.rimload.store.text);
  const dressings = '../catalogue/demo-dressings.json';
  for (const [change, words] of [
    [{ seen: {} }, /Seen: object is not a list/],
    [{ skin: { modifiers: 5 } }, /Skin, modifiers: 5 is not a list/],
    [{ dressings: { catalogue: dressings, worn: 5 } }, /Dressings, worn: 5 is not a list/],
    [{ cushion: { catalogue: 5, name: 'a', size: 'b' } }, /Catalogue of cushions: 5 is not text/],
    [{ injured_skin: [null] }, /Injured skin, 1: null is not an object/],
    [
      { settings: { inspiratory_cmH2O: 4, expiratory_cmH2O: 60 } },
      /Expiratory pressure: 60 cmH2O is out of/,
    ],
  ]) {
    await give(page, 'given.json', firstFit(change));
    await looked(page);
    const said = await page.locator('#app > .note').innerText();
    assert.match(said, words);
    assert.match(said, /given\.json is not opened/);
    assert.doesNotMatch(said, /\/|opened\.json/, 'no path');
    assert.equal(await page.evaluate(() => window.rimload.store.text), before);
  }
  await give(page, 'ward.json', { rimload_catalogue: 1, cushions: 5 });
  await page.getByText('ward.json is not taken', { exact: false }).waitFor();
  // One that only lacks a file opens, and takes the file when it comes.
  const catalogue = JSON.parse(
    readFileSync(join(root, 'demo/catalogue/demo-cushions.json'), 'utf8'),
  );
  await give(
    page,
    'given.json',
    firstFit({ cushion: { catalogue: 'ward.json', name: 'demo-oronasal', size: 'M' } }),
  );
  await page.getByText('The case names ward.json: open that file too.').waitFor();
  await step(page, 'Face');
  await looked(page);
  await give(page, 'ward.json', catalogue);
  await looked(page);
  await lines(page).first().waitFor();
  assert.deepEqual(faults, []);
  await context.close();
});

test('what is wrong is said in the words of the ward', async () => {
  const { page, context } = await openPage(browser);
  await setCase(page, '/settings/expiratory_cmH2O', 15);
  const said = await page.locator('.findings .verdict').innerText();
  assert.match(said, /^Inspiratory pressure: 14 cmH2O is not above/);
  assert.doesNotMatch(said, /json|\/settings|_cmH2O/);
  await context.close();
});

test('Ctrl+Z while typing takes back letters, not the case', async () => {
  const { page, context } = await openPage(browser);
  await setCase(page, '/hours_planned', 11);
  const name = page.getByLabel('Name of the case');
  await name.focus();
  await name.press('End');
  await name.pressSequentially(' x');
  await page.keyboard.press('Control+z');
  await looked(page);
  assert.equal(await held(page, 'hours_planned'), 11);
  assert.notEqual(await name.inputValue(), 'New case x');
  await page.locator('.face-canvas').focus();
  await page.keyboard.press('Control+z');
  await looked(page);
  assert.equal(await held(page, 'hours_planned'), 8);
  await context.close();
});

test('a catalogue, a face or measurements that are opened can be used at a click', async () => {
  const { page, context, faults } = await openPage(browser);
  const catalogue = JSON.parse(
    readFileSync(join(root, 'demo/catalogue/demo-cushions.json'), 'utf8'),
  );
  const own = { ...catalogue, cushions: [{ ...catalogue.cushions[0], name: 'ward-mask' }] };
  await give(page, 'ward.json', own);
  await page.getByRole('button', { name: 'Use the cushions of ward.json' }).click();
  await looked(page);
  await page.getByRole('heading', { name: 'Mask and settings' }).waitFor();
  assert.equal(await held(page, 'cushion/name'), 'ward-mask');
  assert.deepEqual(
    await page
      .getByLabel('Cushion and size')
      .locator('option')
      .allInnerTexts()
      .then((all) => all.every((each) => each.startsWith('ward-mask'))),
    true,
  );
  await lines(page).first().waitFor();
  // A face: the step stays where it was chosen until one is opened.
  await step(page, 'Face');
  const from = page.getByLabel('Where the face comes from');
  await from.selectOption({ label: 'A face file' });
  await looked(page);
  assert.equal(await from.inputValue(), 'file');
  await page.getByText('None is in use.').waitFor();
  await give(
    page,
    'face.json',
    readFileSync(join(root, 'face-models/small/landmarks.json'), 'utf8'),
  );
  await page.getByRole('button', { name: 'Use the face of face.json' }).click();
  await looked(page);
  assert.equal(await from.inputValue(), 'file');
  assert.deepEqual(await held(page, 'face'), { file: 'face.json' });
  await lines(page).first().waitFor();
  await give(page, 'seen.json', { rimload_measurements: 1, nose_breadth_mm: 36 });
  await page.getByRole('button', { name: 'Use the measurements of seen.json' }).click();
  await looked(page);
  assert.equal(await from.inputValue(), 'measurements');
  assert.equal(await page.getByLabel('Nose breadth (mm)').inputValue(), '36');
  // A choice that led to nothing does not outlive the case.
  await from.selectOption({ label: 'A scan of the wearer' });
  assert.equal(await from.inputValue(), 'scan');
  await openCase(page, 'measured-wearer');
  assert.equal(await from.inputValue(), 'measurements');
  await from.selectOption({ label: 'A scan of the wearer' });
  await page.getByRole('button', { name: 'Undo' }).click();
  await looked(page);
  assert.equal(await from.inputValue(), 'measurements');
  // Under the name of one that the page brought: the user's own is meant.
  await give(page, 'demo-cushions.json', {
    ...own,
    cushions: [{ ...own.cushions[0], name: 'mended' }],
  });
  await page.getByRole('button', { name: 'Use the cushions of demo-cushions.json' }).click();
  await looked(page);
  assert.equal(await page.evaluate(() => window.rimload.result.inputs.cushion.name), 'mended');
  assert.deepEqual(faults, []);
  await context.close();
});

test('no measurement is invented, and the form stays when the last is taken out', async () => {
  const { page, context } = await openPage(browser);
  await step(page, 'Face');
  const from = page.getByLabel('Where the face comes from');
  await from.selectOption({ label: 'Measured on the wearer' });
  await looked(page);
  for (const input of await page.locator('.panel input[type=number]').all())
    assert.equal(await input.inputValue(), '');
  assert.match(
    await page.locator('.findings .verdict').innerText(),
    /Give at least one measurement/,
  );
  await step(page, 'Sheet');
  await page.getByRole('button', { name: 'Make the sheet' }).click();
  await page.locator('.panel').getByText('Give at least one measurement').waitFor();
  await step(page, 'Face');
  const nose = page.getByLabel('Nose breadth (mm)');
  await nose.fill('36');
  await nose.blur();
  await looked(page);
  await lines(page).first().waitFor();
  await nose.fill('');
  await nose.blur();
  await looked(page);
  assert.equal(await from.inputValue(), 'measurements');
  assert.ok(await nose.isVisible());
  assert.match(
    await page.locator('.findings .verdict').innerText(),
    /Give at least one measurement/,
  );
  // A case in centimetres is shown and changed as what it is.
  await openCase(page, 'measured-wearer');
  const mouth = page.getByLabel('Mouth breadth (mm)');
  assert.equal(await mouth.inputValue(), '49');
  await mouth.fill('51');
  await mouth.blur();
  await looked(page);
  assert.equal(await held(page, 'face/measurements/lip_length_cm'), undefined);
  assert.equal(await held(page, 'face/measurements/lip_length_mm'), 51);
  await lines(page).first().waitFor();
  await context.close();
});

test('a side is offered where there is one, and asked for before anything is added', async () => {
  const { page, context } = await openPage(browser);
  const site = page.getByLabel('Site of the injury');
  const side = page.getByLabel('Side of the injury');
  await site.selectOption('chin');
  assert.deepEqual(await side.locator('option').allInnerTexts(), ['midline']);
  await site.selectOption('cheek');
  assert.deepEqual(await side.locator('option').allInnerTexts(), ['which side?', 'left', 'right']);
  await page.getByRole('button', { name: 'Add site' }).click();
  await page.getByText('Say which side of the wearer first.').waitFor();
  assert.equal(await held(page, 'injured_skin'), undefined);
  // What the page takes for the midline is what the engine does.
  for (const each of await site.locator('option').evaluateAll((all) => all.map((o) => o.value))) {
    await site.selectOption(each);
    if (await side.locator('option[value=left]').count()) await side.selectOption('left');
    await page.getByRole('button', { name: 'Add site' }).click();
  }
  await looked(page);
  assert.equal((await held(page, 'injured_skin')).length, await site.locator('option').count());
  await lines(page).first().waitFor();
  await step(page, 'What was seen');
  await page.getByLabel('Site of skin').selectOption('cheek');
  await page.getByRole('button', { name: 'Add what was seen' }).click();
  assert.equal(await held(page, 'seen'), undefined);
  await page.getByLabel('Its side').selectOption('right');
  await page.getByRole('button', { name: 'Add what was seen' }).click();
  assert.equal((await held(page, 'seen'))[0].skin[0].side, 'right');
  await context.close();
});

test('lengths follow the unit in sliders too', async () => {
  const { page, context } = await openPage(browser);
  await setCase(page, '/placement/shift_up_mm', 5);
  await setCase(page, '/beard', { region: 'full', hair_mm: 4, density: 'short' });
  await page.getByText('Units and look').click();
  await page.getByLabel('Unit of length').selectOption('in');
  await step(page, 'Mask and settings');
  await page.getByText('Set aside from its usual place').click();
  const reading = (label) => page.getByLabel(label, { exact: true }).locator('xpath=../output');
  assert.equal(await reading('Up').innerText(), '0.20 in');
  assert.equal(
    await page.getByLabel('Up', { exact: true }).getAttribute('aria-valuetext'),
    '0.20 in',
  );
  await step(page, 'In the way');
  assert.equal(await reading('Length of the hair').innerText(), '0.16 in');
  await context.close();
});

test('what can’t be kept is said and unticked, units are kept, and the case goes on', async () => {
  const { page, context, faults } = await openPage(browser);
  for (const words of [/sends nothing/, /whoever uses this computer next can see/])
    await page.locator('.panel').getByText(words).waitFor();
  await page.locator('header').getByText('whoever uses this computer next can see it').waitFor();
  const keep = page.getByLabel('Keep in this browser');
  await page.getByText('Units and look').click();
  await page.getByLabel('Unit of length').selectOption('in');
  await keep.check();
  await setCase(page, '/name', 'Kept');
  assert.ok(
    (await page.evaluate(() => localStorage.getItem('rimload-kept-case').length)) < 4000,
    'what the page brings is not kept',
  );
  await page.reload();
  await looked(page);
  await page.getByText('Units and look').click();
  assert.equal(await page.getByLabel('Unit of length').inputValue(), 'in');
  await page.evaluate(() => {
    window.rimload.store.files['ward.json'] = 'x'.repeat(9e6);
  });
  await setCase(page, '/hours_planned', 5);
  await page.getByText('This browser does not keep the case').waitFor();
  assert.ok(!(await keep.isChecked()));
  assert.equal(await page.evaluate(() => localStorage.length), 0, 'no older case is left');
  assert.equal(await page.evaluate(() => window.rimload.result.inputs.hours_planned), 5);
  await keep.click();
  await page.getByText('This browser does not keep the case').waitFor();
  assert.ok(!(await keep.isChecked()));
  await page.evaluate(() => delete window.rimload.store.files['ward.json']);
  // A scan is bytes and is not kept.
  await setCase(page, '/face', { scan: { file: 'face.ply', landmarks: [] } });
  await keep.check();
  await page.getByText('The scan is not kept: open face.ply again').waitFor();
  // What can't be shown is not opened again.
  await page.evaluate(() => {
    const kept = JSON.parse(localStorage.getItem('rimload-kept-case'));
    kept.json.seen = {};
    localStorage.setItem('rimload-kept-case', JSON.stringify(kept));
  });
  await page.reload();
  await looked(page);
  assert.equal(await held(page, 'name'), 'New case');
  assert.deepEqual(faults, []);
  await context.close();
});
