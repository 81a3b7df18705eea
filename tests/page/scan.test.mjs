// A scan in the page: files that are whole and that are not, and points that somebody has looked at.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { looked, openBrowser, openPage, program, step } from './browser.mjs';

let browser;
const folder = mkdtempSync(join(tmpdir(), 'rimload-scan-'));
const faceFile = join(folder, 'wearer.ply');
before(async () => {
  browser = await openBrowser();
  execFileSync(program, ['face', 'adult-male', '--out', faceFile, '--spacing', '2']);
});
after(async () => browser?.close());

async function scanStep() {
  const opened = await openPage(browser);
  await step(opened.page, 'Face');
  await opened.page
    .getByLabel('Where the face comes from')
    .selectOption({ label: 'A scan of the wearer' });
  return opened;
}
async function drop(page, name, bytes) {
  const data = await page.evaluateHandle(
    ([n, text]) => {
      const transfer = new DataTransfer();
      const content = Uint8Array.from(atob(text), (each) => each.charCodeAt(0));
      transfer.items.add(new File([content], n));
      return transfer;
    },
    [name, Buffer.from(bytes).toString('base64')],
  );
  await page.dispatchEvent('body', 'drop', { dataTransfer: data });
  await looked(page);
}
const use = (page) => page.getByRole('button', { name: 'Use these points' });

test('proposed points are used only once somebody has looked at them, each doubtful one by itself', async () => {
  const { page, context, faults } = await scanStep();
  await drop(page, 'wearer.ply', readFileSync(faceFile)); // lands in the step it is dropped on
  await page.getByRole('button', { name: 'Propose points' }).click();
  const words = page.locator('pre.words', { hasText: 'A face is found' });
  await words.waitFor({ timeout: 120000 });
  // One numbering: each line of the words has its mark and its row.
  const said = (await words.innerText()).match(/^\d+ \w+/gm);
  assert.equal(said.length, 11);
  const marks = await page.locator('.marks .mark').allInnerTexts();
  assert.deepEqual(
    marks,
    said.map((_, k) => String(k + 1)),
  );
  assert.match(said[10], /11 menton/);
  await page.getByRole('radio', { name: '11 underside of the chin' }).waitFor();
  assert.ok(await use(page).isDisabled(), 'nobody has looked yet');
  const all = page.getByLabel('I have looked at each point on the scan');
  await all.check();
  assert.ok(await use(page).isDisabled(), 'the doubtful points are not ticked');
  const doubts = page.getByLabel(/^Look closely: /);
  const n = await doubts.count();
  assert.ok(n >= 4 && n < 11, `${n} doubtful points`);
  // One is moved by hand, one is left out, the others are ticked.
  const menton = page.getByLabel('Coordinates of 11,');
  const [x, y, z] = (await menton.inputValue()).split(' ').map(Number);
  await menton.fill(`${x} ${y + 1} ${z}`);
  await menton.blur();
  await page.getByLabel('Coordinates of 10,').fill('');
  await page.getByLabel('Coordinates of 10,').blur();
  assert.equal(await doubts.count(), n - 2);
  for (let k = 0; k < n - 2; ++k) {
    assert.ok(await use(page).isDisabled());
    await doubts.nth(k).check();
  }
  await use(page).click();
  await looked(page);
  const { file, landmarks } = await page.evaluate(() => window.rimload.store.get('face/scan'));
  assert.equal(file, 'wearer.ply');
  assert.equal(landmarks.length, 10);
  assert.ok(!landmarks.some(({ name, side }) => name === 'cheilion' && side === 'right'));
  assert.match(await page.locator('.findings .verdict').innerText(), /Seals|Leaks/);
  assert.deepEqual(faults, []);
  await context.close();
});

test('points set by hand need no more than to be four', async () => {
  const { page, context, faults } = await scanStep();
  await drop(page, 'wearer.ply', readFileSync(faceFile));
  for (const [k, at] of [
    [1, '0 0 0'],
    [2, '0 -42 28'],
    [6, '47 -6 -28'],
  ]) {
    await page.getByLabel(`Coordinates of ${k},`).fill(at);
    await page.getByLabel(`Coordinates of ${k},`).blur();
    assert.ok(await use(page).isDisabled());
  }
  await page.getByLabel('Coordinates of 7,').fill('-47 -6 -28');
  await page.getByLabel('Coordinates of 7,').blur();
  assert.ok(await use(page).isEnabled());
  assert.deepEqual(faults, []);
  await context.close();
});

test('a scan that is cut short or of another kind is refused in plain words', async () => {
  const { page, context, faults } = await scanStep();
  const whole = 'OFF\n4 4 0\n0 0 0\n1 0 0\n0 1 0\n0 0 1\n3 0 1 2\n3 0 1 3\n3 0 2 3\n3 1 2 3\n';
  const ply = readFileSync(faceFile);
  const stl = Buffer.alloc(300);
  stl.writeUInt32LE(100, 80);
  for (const [name, bytes, words] of [
    ['short.off', whole.slice(0, -9), /ends before everything that it announces/],
    ['shorter.off', whole.slice(0, 20), /ends before everything that it announces/],
    ['wild.off', whole.replace('3 1 2 3', '3 1 2 7'), /names a corner that is not there/],
    ['short.ply', ply.subarray(0, ply.length / 2), /cut short|ends before/],
    ['short.stl', stl, /is no STL file, or it is cut short or damaged/],
    ['tiny.stl', 'solid', /can’t be read/],
    ['none.obj', 'nothing', /no triangles are in it/],
  ]) {
    await drop(page, name, bytes);
    const state = page.getByRole('status').filter({ hasText: `${name} can’t be read` });
    await state.waitFor();
    const text = await state.innerText();
    assert.match(text, words);
    assert.doesNotMatch(text, /DataView|undefined|NaN/);
  }
  await drop(page, 'whole.off', whole);
  await page.getByText('0 of at least 4 points are set').waitFor();
  assert.deepEqual(faults, []);
  await context.close();
});
