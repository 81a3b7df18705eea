// What the command line offers and the page as well: pictures of the estimate, how many draws.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { after, before, test } from 'node:test';
import { looked, openBrowser, openPage, step } from './browser.mjs';

let browser;
before(async () => {
  browser = await openBrowser();
});
after(async () => browser?.close());

test('the three pictures of the estimate can be had from the page', async () => {
  const { page, context, faults } = await openPage(browser);
  await step(page, 'What to expect');
  await page.getByRole('button', { name: 'Pictures to save' }).click();
  for (const name of ['front.png', 'left.png', 'right.png']) {
    const button = page.getByRole('button', { name: `Save ${name}` });
    await button.waitFor({ timeout: 240000 });
    const download = page.waitForEvent('download');
    await button.click();
    const bytes = readFileSync(await (await download).path());
    assert.equal(bytes.subarray(1, 4).toString(), 'PNG', name);
    assert.ok(bytes.length > 50000, `${name}: ${bytes.length} bytes`);
  }
  assert.deepEqual(faults, []);
  await context.close();
});

test('draws begin as on the command line and can be chosen', async () => {
  const { page, context, faults } = await openPage(browser);
  // What is asked of the engine, without waiting for its answer.
  const asked = [];
  await page.exposeFunction('heard', (request) => {
    if ('bands' in request || 'draws' in request) asked.push(request);
  });
  await page.evaluate(() => {
    window.rimload.engines.long.run = async (request) => {
      await window.heard(request);
      return { end: 2, complaint: 'not asked in earnest', printed: '', files: {}, took_ms: 0 };
    };
  });
  const last = async (button) => {
    const n = asked.length;
    await page.getByRole('button', { name: button }).click();
    while (asked.length === n) await page.waitForTimeout(20);
    return asked[n];
  };
  const draws = page.getByLabel(/^Draws of what can’t be known/);
  for (const [title, usual, button, key] of [
    ['What to expect', 60, 'How sure is it?', 'bands'],
    ['Which size', 100, 'Work it out', 'draws'],
    ['What was seen', 300, 'Work it out', 'draws'],
  ]) {
    await step(page, title);
    await looked(page);
    assert.equal((await last(button))[key], usual, title);
    await draws.fill('40');
    assert.equal((await last(button))[key], 40, title);
    await draws.fill('');
    assert.equal((await last(button))[key], usual, title);
    await draws.fill('1e9');
    assert.ok((await last(button))[key] <= 2000, title);
  }
  assert.deepEqual(faults, []);
  await context.close();
});
