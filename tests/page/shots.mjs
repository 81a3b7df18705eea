// Screenshots of every state of the page, to be looked at: node shots.mjs FOLDER
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { looked, openBrowser, openPage } from './browser.mjs';

const folder = process.argv[2] ?? 'shots';
mkdirSync(folder, { recursive: true });
const browser = await openBrowser();
const { page, faults, requests } = await openPage(browser);
const shot = (name) => page.screenshot({ path: join(folder, `${name}.png`) });
const step = (title) =>
  page
    .getByRole('navigation', { name: 'Steps' })
    .getByRole('button', { name: title, exact: true })
    .click();
console.log('look', await page.evaluate(() => ({ ...document.documentElement.dataset })));
await shot('01-safety');
for (const [name, title] of [
  ['02-face', 'Face'],
  ['03-mask', 'Mask and settings'],
  ['04-way', 'In the way'],
  ['05-expect', 'What to expect'],
]) {
  await step(title);
  await shot(name);
}
for (const [name, title, button] of [
  ['06-sheet', 'Sheet', 'Make the sheet'],
  ['07-straps', 'How tight', 'Work it out'],
  ['08-sizes', 'Which size', 'Work it out'],
  ['09-dressing', 'Dressings', 'Work it out'],
  ['10-section', 'Inside the skin', 'Work it out'],
]) {
  await step(title);
  const began = Date.now();
  if (title === 'Which size') await page.getByLabel('Draws of what can’t be known').fill('0');
  await page.getByRole('button', { name: button }).click();
  await page.locator('.job-out pre, .sheet:not([hidden])').first().waitFor({ timeout: 300000 });
  console.log(title, Date.now() - began, 'ms');
  await shot(name);
}
await step('Practice');
await shot('11-lessons');
await page.locator('.lessons button').first().click();
await looked(page);
await shot('12-lesson');
const box = await page.locator('.face-canvas').boundingBox();
await page.mouse.click(box.x + box.width / 2, box.y + box.height * 0.35);
await page.mouse.click(box.x + box.width * 0.6, box.y + box.height * 0.6);
await page.getByRole('button', { name: 'Show the answer' }).click();
await page.waitForTimeout(300);
await shot('13-answer');
await page.emulateMedia({ colorScheme: 'dark' });
await step('Mask and settings');
await looked(page);
await shot('14-dark');
await page.emulateMedia({ colorScheme: 'light' });
await page.getByText('Units and look').click();
await shot('15-menu');
await page.getByRole('button', { name: 'Classroom' }).click();
await page.getByText('Units and look').click();
await step('What to expect');
await page.waitForTimeout(300);
await shot('16-classroom');
console.log({ faults, requests });
await browser.close();
