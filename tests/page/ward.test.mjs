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
