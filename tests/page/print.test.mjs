// What comes out of a printer: templates at true size, tables that fit the paper, the estimate itself.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { openBrowser, openPage, step } from './browser.mjs';

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
  const file = await printed(page);
  assert.match(execFileSync('pdfinfo', [file], { encoding: 'utf8' }), /Pages:\s+1\n/);
  const picture = raster(file);
  assert.ok(Math.abs(picture.width - 2100) < 4 && Math.abs(picture.height - 2970) < 4);
  const [from, to] = longestRun(picture, 36, 44);
  assert.ok(Math.abs(to - from - 50) < 0.25, `the bar is ${to - from} mm long`);
  assert.ok(Math.abs(from - 12) < 0.5, `the bar begins at ${from} mm`);
  await page.evaluate(() => window.dispatchEvent(new Event('afterprint')));
  assert.equal(await page.evaluate(() => document.body.className), '', 'the page is itself again');
  assert.deepEqual(faults, []);
  await context.close();
});
