// What comes out of a printer: templates at true size, tables that fit the paper, the estimate itself.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { looked, openBrowser, openPage, step } from './browser.mjs';

let browser;
before(async () => {
  browser = await openBrowser();
});
after(async () => browser?.close());

async function printed(page) {
  const file = join(mkdtempSync(join(tmpdir(), 'rimload-print-')), 'page.pdf');
  writeFileSync(file, await page.pdf({ preferCSSPageSize: true, printBackground: true }));
  return file;
}
const textOf = (file) =>
  execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8', maxBuffer: 1 << 26 });

// The first page as grey values, ten pixels a millimetre.
function raster(file) {
  const bytes = execFileSync('pdftoppm', ['-r', '254', '-gray', '-f', '1', '-l', '1', file], {
    maxBuffer: 1 << 28,
  });
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(bytes.subarray(0, 40).toString('latin1'));
  const [width, height] = head.slice(1).map(Number);
  return { width, height, values: bytes.subarray(head[0].length) };
}
// The longest run of ink in the rows from one to another [mm], as [from, to] in mm.
function longestRun({ width, values }, from_mm, to_mm) {
  let best = [0, 0];
  for (let y = Math.round(10 * from_mm); y < 10 * to_mm; ++y) {
    for (let x = 0, begun = -1; x < width; ++x) {
      const ink = values[y * width + x] < 128;
      if (ink && begun < 0) begun = x;
      if (begun >= 0 && (!ink || x === width - 1)) {
        if (x - begun > best[1] - best[0]) best = [begun, x];
        begun = -1;
      }
    }
  }
  return best.map((each) => each / 10);
}

// Every word of the paper lies within its margins of 12 mm.
function assertFits(file) {
  const words = execFileSync('pdftotext', ['-bbox', file, '-'], {
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  const points = 72 / 25.4;
  for (const [, right, word] of words.matchAll(/<word [^>]*xMax="([\d.]+)"[^>]*>([^<]*)</g))
    assert.ok(Number(right) < (210 - 12) * points + 1, `${word} ends at ${right / points} mm`);
}
async function openTables(page) {
  await page
    .locator('.job-out details')
    .evaluateAll((all) => all.forEach((each) => (each.open = true)));
}
// Headings in words, numbers rounded.
async function assertReadable(page) {
  const cells = await page.locator('.job-table').locator('th, td').allInnerTexts();
  assert.ok(cells.length > 20);
  for (const cell of cells) {
    assert.doesNotMatch(cell, /_|undefined|NaN/);
    assert.doesNotMatch(cell, /\d\.\d{3}/);
  }
}

test('what to expect prints as its table and its picture, not as buttons', async () => {
  const { page, context, faults } = await openPage(browser);
  await step(page, 'What to expect');
  const file = await printed(page);
  const text = textOf(file);
  for (const words of ['New case', 'nasal bridge', 'not a medical device'])
    assert.ok(text.includes(words), words);
  for (const words of ['As the face swells', 'On: Sheet', 'from below'])
    assert.ok(!text.includes(words), words);
  assertFits(file);
  // The face, drawn: skin and pressure are no paper.
  const { width, values } = raster(file);
  let inked = 0;
  for (let y = 400; y < 1200; y += 10)
    for (let x = 0; x < width; x += 10) if (values[y * width + x] < 240) ++inked;
  assert.ok(inked > 1500, `${inked} of 16800 samples are inked`);
  assert.deepEqual(faults, []);
  await context.close();
});

test('tables of jobs are in words and in the units chosen, fit the paper, and are saved in full', async () => {
  const { page, context, faults } = await openPage(browser);
  const done = async (title) => {
    await step(page, title);
    await page.getByRole('button', { name: 'Work it out' }).click();
    await page.locator('.job-out pre').waitFor({ timeout: 240000 });
    await openTables(page);
    await assertReadable(page);
  };
  await page.getByText('Units and look').click();
  const unit = (name) => page.getByLabel('Unit of pressure on the skin').selectOption(name);
  await done('How tight');
  const heads = await page.locator('.job-table').getByRole('columnheader').allInnerTexts();
  for (const words of [
    'Upper straps, each (N)',
    'Least contact above gas (cmH2O)',
    'Leak over the breath (L/min)',
    'Nasal bridge (mmHg)',
    'Cheek (either side) (mmHg)',
  ])
    assert.ok(heads.includes(words), `${words} in ${heads}`);
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save strap-window.csv' }).click();
  const saved = readFileSync(await (await download).path(), 'utf8');
  assert.match(saved, /^sweep,upper_N,/);
  assert.match(saved, /\d\.\d{10}/);
  // The bridge's readings against those of the file, in the other unit.
  await unit('kPa');
  const part = page.locator('.job-table', { hasText: 'Nasal bridge (kPa)' });
  const names = await part.getByRole('columnheader').allInnerTexts();
  const at = names.indexOf('Nasal bridge (kPa)') + 1;
  const shown = await part.locator(`tbody tr > :nth-child(${at})`).allInnerTexts();
  const [head, ...rows] = saved
    .trim()
    .split(/\r?\n/)
    .map((line) => line.split(','));
  const own = rows.map((row) => row[head.indexOf('nasal_bridge_mmHg')]);
  assert.deepEqual(
    shown,
    own.map((each) => (each === '' ? '' : (Number(each) * 0.133322387415).toFixed(1))),
  );
  assertFits(await printed(page));
  await unit('mmHg');
  await step(page, 'Which size');
  await page.getByLabel('Draws of what can’t be known').fill('2');
  await done('Which size');
  await page
    .getByRole('columnheader', {
      name: 'Worst site reads: middle (10 to 90 %) of the draws (mmHg)',
    })
    .waitFor();
  assertFits(await printed(page));
  await done('Inside the skin');
  assertFits(await printed(page));
  assert.deepEqual(faults, []);
  await context.close();
});

test('what was seen is a table in words', async () => {
  const { page, context, faults } = await openPage(browser);
  await step(page, 'What was seen');
  await page.getByLabel('Leak on the ventilator, without the vent (L/min)').fill('9');
  await page.getByRole('button', { name: 'Add what was seen' }).click();
  await looked(page);
  await page.getByRole('button', { name: 'Work it out' }).click();
  await page.locator('.job-out pre').waitFor({ timeout: 240000 });
  await openTables(page);
  await assertReadable(page);
  const row = page.locator('.job-table').getByRole('row', { name: /^just sealed tension/ });
  assert.match(await row.innerText(), /\d\.\d \(\d\.\d to \d\.\d\) N/);
  assert.deepEqual(faults, []);
  await context.close();
});

test('a template prints at true size: its bar of 50 mm is 50 mm long, on one sheet', async () => {
  const { page, context, faults } = await openPage(browser);
  await page.evaluate(() => {
    window.print = () => {
      window.asked = true;
    };
  });
  await step(page, 'Dressings');
  await page.getByRole('button', { name: 'Work it out' }).click();
  await page.getByRole('button', { name: 'Print at true size' }).first().click({ timeout: 240000 });
  await page.waitForFunction(() => window.asked);
  await openTables(page);
  await assertReadable(page);
  const file = await printed(page);
  assert.match(execFileSync('pdfinfo', [file], { encoding: 'utf8' }), /Pages:\s+1\n/);
  const picture = raster(file);
  assert.ok(Math.abs(picture.width - 2100) < 4 && Math.abs(picture.height - 2970) < 4);
  const [from, to] = longestRun(picture, 36, 44);
  assert.ok(Math.abs(to - from - 50) < 0.25, `the bar is ${to - from} mm long`);
  assert.ok(Math.abs(from - 12) < 0.5, `the bar begins at ${from} mm`);
  await page.evaluate(() => window.dispatchEvent(new Event('afterprint')));
  assert.equal(await page.evaluate(() => document.body.className), '', 'the page is itself again');
  const job = textOf(await printed(page));
  assert.ok(!job.includes('Cut template'), 'within margins it would come out too small');
  assert.deepEqual(faults, []);
  await context.close();
});
