// How long the page takes from a move of a strap's slider to the picture, drawn, while a hand drags:
// the next move comes when the last one is seen. node speed.mjs
import { looked, openBrowser, openPage } from './browser.mjs';

const n = 60;
const browser = await openBrowser();
const { page } = await openPage(browser);
await page
  .getByRole('navigation', { name: 'Steps' })
  .getByRole('button', { name: 'Mask and settings', exact: true })
  .click();
const slider = page.getByLabel('Upper pair, each strap');
await slider.waitFor();
await looked(page);
const took = await slider.evaluate(async (input, moves) => {
  const { view } = window.rimload;
  const show = view.show.bind(view);
  let seen;
  view.show = (...given) => {
    show(...given);
    const gl = view.renderer.getContext();
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4)); // waits for the picture
    seen?.();
  };
  const all = { picture: [], engine: [] };
  for (let k = 0; k < moves; ++k) {
    const began = performance.now();
    const drawn = new Promise((settle) => (seen = settle));
    input.valueAsNumber = 3.4 + 0.1 * (k % 20);
    input.dispatchEvent(new Event('input', { bubbles: true }));
    await drawn;
    all.picture.push(performance.now() - began);
    all.engine.push(Number(document.documentElement.dataset.engineMs));
    await new Promise(requestAnimationFrame); // as the next move of a hand comes with a frame
  }
  return all;
}, n);
await browser.close();
for (const [what, values] of Object.entries(took)) {
  values.sort((a, b) => a - b);
  const at = (share) => values[Math.floor(share * n)].toFixed(0);
  console.log(`input to ${what}: median ${at(0.5)} ms, nine in ten within ${at(0.9)} ms`);
}
