// WCAG 2.2 AA as far as axe-core can tell, in every state of the page, light and dark, wide and narrow.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { axeSource, looked, openBrowser, openPage, setCase } from './browser.mjs';

let browser;
before(async () => {
  browser = await openBrowser();
});
after(async () => browser?.close());

async function violations(page) {
  await page
    .evaluate((source) => {
      if (!window.axe) new Function(source)();
    }, axeSource)
    .catch(() => page.addScriptTag({ content: axeSource }));
  return page.evaluate(async () => {
    const { violations: found } = await window.axe.run(document, {
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'],
    });
    return found.map(
      ({ id, nodes }) => `${id}: ${nodes.map((node) => node.html.slice(0, 120)).join(' | ')}`,
    );
  });
}

const jobs = {
  Sheet: 'Make the sheet',
  'How tight': 'Work it out',
  'Inside the skin': 'Work it out',
};
// Those that take longer, once.
const longJobs = ['Which size', 'Dressings', 'What was seen'];

for (const colorScheme of ['light', 'dark']) {
  for (const viewport of [
    { width: 1366, height: 768 },
    { width: 820, height: 1180 },
  ]) {
    test(`no violation in any step, ${colorScheme}, ${viewport.width} wide`, async () => {
      // The tester's script is let past the page's policy; the page's own are not.
      const { page, context } = await openPage(browser, {
        colorScheme,
        viewport,
        bypassCSP: true,
      });
      const steps = page.getByRole('navigation', { name: 'Steps' }).getByRole('button');
      for (let k = 0; k < (await steps.count()); ++k) {
        const title = await steps.nth(k).innerText();
        await steps.nth(k).click();
        assert.deepEqual(await violations(page), [], title);
        if (jobs[title]) {
          await page.getByRole('button', { name: jobs[title] }).click();
          await page
            .locator('.job-out pre, .sheet:not([hidden])')
            .first()
            .waitFor({ timeout: 120000 });
          assert.deepEqual(await violations(page), [], `${title}, worked out`);
        }
      }
      await page.locator('.lessons button').first().click();
      await looked(page);
      assert.deepEqual(await violations(page), [], 'a lesson');
      await page.getByRole('button', { name: 'Show the answer' }).click();
      assert.deepEqual(await violations(page), [], 'its answer');
      await context.close();
    });
  }
}

test('no violation with a fault, measurements, a scan, offers, the menu, the classroom and the longer jobs', async () => {
  const { page, context } = await openPage(browser, { bypassCSP: true });
  const sound = async (state) => assert.deepEqual(await violations(page), [], state);
  const step = (title) =>
    page
      .getByRole('navigation', { name: 'Steps' })
      .getByRole('button', { name: title, exact: true })
      .click();
  await setCase(page, '/settings/expiratory_cmH2O', 15);
  await sound('a fault');
  await setCase(page, '/settings/expiratory_cmH2O', 6);
  await setCase(page, '/injured_skin', [{ site: 'nasal_bridge' }]);
  await sound('an injury');
  await step('Face');
  const from = page.getByLabel('Where the face comes from');
  for (const label of ['Measured on the wearer', 'A scan of the wearer', 'A face file']) {
    await from.selectOption({ label });
    await looked(page);
    await sound(label);
  }
  await from.selectOption({ label: 'A model face' });
  await page.setInputFiles('header input[type=file]', {
    name: 'seen.json',
    mimeType: 'application/json',
    buffer: Buffer.from('{"rimload_measurements": 1, "nose_breadth_mm": 36}'),
  });
  await page.getByRole('button', { name: /^Use the measurements/ }).waitFor();
  await sound('an offer');
  await setCase(page, '/seen', [{ leak_L_min: 9 }]);
  for (const title of longJobs) {
    await step(title);
    const draws = page.getByLabel(/^Draws of what can’t be known/);
    if (await draws.isVisible()) await draws.fill('20');
    await page.locator('.panel').getByRole('button', { name: 'Work it out' }).click();
    await page.locator('.panel .job-out pre').first().waitFor({ timeout: 180000 });
    await sound(`${title}, worked out`);
  }
  await step('Sheet');
  await page.getByRole('button', { name: 'Make the sheet' }).click();
  await page.locator('.sheet:not([hidden])').waitFor({ timeout: 120000 });
  await setCase(page, '/hours_planned', 6);
  await sound('an old sheet');
  await step('What to expect');
  await page.getByText('Units and look').click();
  await sound('the menu');
  await page.getByRole('button', { name: 'Classroom' }).click();
  await page.getByText('Units and look').click();
  await sound('the classroom');
  await context.close();
});
