// WCAG 2.2 AA as far as axe-core can tell, in every state of the page, light and dark, wide and narrow.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { axeSource, looked, openBrowser, openPage } from './browser.mjs';

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
