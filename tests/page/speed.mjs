// How long the page takes from a change of the straps to the picture, drawn, while a hand drags: the
// next change comes when the last one is seen. node speed.mjs
import { openBrowser, openPage } from './browser.mjs';

const n = 30;
const browser = await openBrowser();
const { page } = await openPage(browser);
await page.evaluate(() => {
  const { view } = window.rimload;
  const show = view.show.bind(view);
  view.show = (...given) => {
    show(...given);
    const gl = view.renderer.getContext();
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4)); // waits for the picture
  };
});
const took = { picture: [], engine: [] };
for (let k = 0; k < n; ++k) {
  await page.evaluate(
    (tension) => {
      delete document.documentElement.dataset.lookMs;
      window.rimload.store.set('straps', {
        tension_N: { upper: tension, lower: 3.6 },
      });
    },
    3.4 + 0.02 * k,
  );
  await page.waitForFunction(() => document.documentElement.dataset.lookMs);
  const { lookMs, engineMs } = await page.evaluate(() => ({
    ...document.documentElement.dataset,
  }));
  took.picture.push(Number(lookMs));
  took.engine.push(Number(engineMs));
}
await browser.close();
for (const [what, values] of Object.entries(took)) {
  values.sort((a, b) => a - b);
  console.log(
    `input to ${what}: median ${values[n / 2]} ms, nine in ten within ${values[Math.floor(0.9 * n)]} ms`,
  );
}
