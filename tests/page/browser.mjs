// A browser for the tests: the system's Chromium, the built page, and no way out.
import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

export const root = resolve(dirname(fileURLToPath(import.meta.url)), '../..');
// The page's packages lie beside its sources.
const require = createRequire(join(root, 'src/page/package.json'));
const { chromium } = require('playwright-core');
export const axeSource = require('axe-core').source;

export const pageFile = resolve(process.env.RIMLOAD_PAGE ?? join(root, 'build/page/rimload.html'));
export const program = resolve(process.env.RIMLOAD_BINARY ?? join(root, 'build/gcc/bin/rimload'));

export function chromiumPath() {
  const found = ['/usr/bin/chromium', '/usr/bin/chromium-browser'].find(existsSync);
  if (!found) throw new Error('no Chromium in /usr/bin');
  return found;
}

export async function openBrowser() {
  return chromium.launch({
    executablePath: chromiumPath(),
    args: [
      '--no-sandbox',
      '--enable-unsafe-swiftshader',
      '--use-gl=angle',
      '--use-angle=swiftshader',
    ],
  });
}

/// A fresh page with the built file open. `requests` holds every address that was asked for,
/// `faults` everything that the page complained of.
export async function openPage(browser, options = {}) {
  const context = await browser.newContext({
    viewport: { width: 1366, height: 768 },
    acceptDownloads: true,
    ...options,
  });
  const page = await context.newPage();
  const requests = [];
  const faults = [];
  page.on('request', (request) => requests.push(request.url()));
  page.on('pageerror', (error) => faults.push(String(error)));
  page.on('console', (message) => {
    if (message.type() === 'error') faults.push(message.text());
  });
  await page.goto(pathToFileURL(pageFile).href);
  await looked(page);
  return { page, context, requests, faults };
}

/// Waits until the last change is on the screen; tells what is still under way if it never is.
export async function looked(page) {
  const underWay = () => {
    const { looking, again, tableLater, taking } = window.rimload;
    return { looking, again, tableLater, taking };
  };
  try {
    // Not by animation frames: a busy machine may draw none for long.
    await page.waitForFunction(
      () => {
        const app = window.rimload;
        return app && !app.looking && !app.again && !app.tableLater && !app.taking;
      },
      undefined,
      { timeout: 60000, polling: 50 },
    );
  } catch (error) {
    const state = await page.evaluate(underWay).catch(String);
    throw new Error(`${error.message} Under way: ${JSON.stringify(state)}`);
  }
}

/// Goes to a step by its title.
export const step = (page, title) =>
  page
    .getByRole('navigation', { name: 'Steps' })
    .getByRole('button', { name: title, exact: true })
    .click();

/// Changes the case as a form would, and waits for the picture.
export async function setCase(page, path, value) {
  await page.evaluate(([p, v]) => window.rimload.active.set(p, v ?? undefined), [path, value]);
  await looked(page);
}
