// The view for a room (Classroom), and what a pointer needs: all within reach, cautions kept.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { looked, openBrowser, openPage, step } from './browser.mjs';

let browser;
before(async () => {
  browser = await openBrowser();
});
after(async () => browser?.close());

async function classroom(page) {
  await page.getByText('Units and look').click();
  await page.getByRole('button', { name: 'Classroom' }).click();
  await page.getByText('Units and look').click();
  await looked(page);
}

for (const viewport of [
  { width: 1366, height: 768 },
  { width: 1920, height: 1080 },
]) {
  test(`the view for a room keeps cautions, steps and undo in reach, ${viewport.width} wide`, async () => {
    const { page, context, faults } = await openPage(browser, { viewport });
    await classroom(page);
    await step(page, 'What to expect');
    const side = page.locator('.side');
    for (const words of ['not a medical device', 'Compare pressure with what sealing needs'])
      assert.ok(await side.locator('.help', { hasText: words }).isVisible(), words);
    const inReach = async (node, name) => {
      const box = await node.boundingBox();
      assert.ok(
        box && box.x >= 0 && box.x + box.width <= viewport.width && box.y + box.height <= 250,
        `${name}: ${JSON.stringify(box)}`,
      );
    };
    const steps = page.getByRole('navigation', { name: 'Steps' }).getByRole('button');
    for (let k = 0; k < (await steps.count()); ++k)
      await inReach(steps.nth(k), await steps.nth(k).innerText());
    for (const name of ['Undo', 'Redo', 'Open …'])
      await inReach(page.getByRole('button', { name }), name);
    const clipped = await side.evaluate((node) =>
      [...node.querySelectorAll('td, th')]
        .filter((cell) => cell.offsetParent)
        .filter((cell) => {
          const words = document.createRange();
          words.selectNodeContents(cell);
          return (
            words.getBoundingClientRect().right >
            node.getBoundingClientRect().left + node.clientWidth + 0.5
          );
        })
        .map((cell) => cell.textContent),
    );
    assert.deepEqual(clipped, []);
    const face = await page.locator('.face-canvas').boundingBox();
    assert.ok(face.height > 0.4 * viewport.height, `the face is ${face.height} px high`);
    await step(page, 'Practice');
    await page.locator('.lessons button').first().click();
    await looked(page);
    assert.ok(await page.getByText('Hidden until you ask for it.').isVisible());
    assert.deepEqual(faults, []);
    await context.close();
  });
}

test('a pointer brings the face back to where it began, zoom and all', async () => {
  const { page, context } = await openPage(browser);
  const pose = () => page.evaluate(() => ({ ...window.rimload.view.pose }));
  const first = await pose();
  await page.getByRole('button', { name: 'Nearer' }).click();
  await page.getByRole('button', { name: 'wearer’s left' }).click();
  assert.notDeepEqual(await pose(), first);
  await page.getByRole('button', { name: 'reset', exact: true }).click();
  assert.deepEqual(await pose(), first);
  await context.close();
});

test('what is to be hit is at least 24 px high and wide', async () => {
  const { page, context } = await openPage(browser);
  const steps = page.getByRole('navigation', { name: 'Steps' }).getByRole('button');
  for (let k = 0; k < (await steps.count()); ++k) {
    await steps.nth(k).click();
    const small = await page.evaluate(() =>
      [...document.querySelectorAll('button, select, summary, .check, .pill, input[type=range]')]
        .filter((node) => node.checkVisibility() && !node.closest('.skip'))
        .map((node) => [node, node.getBoundingClientRect()])
        .filter(([, { width, height }]) => width > 0 && (width < 24 || height < 24))
        .map(([node, { width, height }]) => `${node.textContent}: ${width} by ${height}`),
    );
    assert.deepEqual(small, [], await steps.nth(k).innerText());
  }
  await context.close();
});

test('the picture of how to measure can be read, by the numbers of the fields', async () => {
  const { page, context, faults } = await openPage(browser);
  await step(page, 'Face');
  await page
    .getByLabel('Where the face comes from')
    .selectOption({ label: 'Measured on the wearer' });
  await page.getByLabel('1. Bridge to below the lower lip (mm)').waitFor();
  await page.getByText('More measurements narrow the answer').click();
  await page.getByLabel('4. Face length (mm)').waitFor();
  await page.getByRole('button', { name: 'Show how to measure' }).click();
  await page.getByRole('button', { name: 'Enlarge the picture' }).click({ timeout: 60000 });
  const dialog = page.getByRole('dialog', { name: 'Where each dimension is taken' });
  const { shown, natural, inside } = await dialog.evaluate((node) => {
    const image = node.querySelector('img');
    const box = node.getBoundingClientRect();
    return {
      shown: image.getBoundingClientRect().width,
      natural: image.naturalWidth,
      inside: box.left >= 0 && box.right <= innerWidth && box.bottom <= innerHeight,
    };
  });
  assert.ok(shown >= natural && shown > 1000, `${shown} of ${natural} px`);
  assert.ok(inside);
  await page.keyboard.press('Escape');
  await dialog.waitFor({ state: 'hidden' });
  assert.ok(
    await page
      .getByRole('button', { name: 'Enlarge the picture' })
      .evaluate((node) => node === document.activeElement),
    'the focus is back',
  );
  assert.deepEqual(faults, []);
  await context.close();
});
