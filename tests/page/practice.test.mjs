// Practice: what a lesson hides and tells, and that it tells what the engine finds.
import assert from 'node:assert/strict';
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { looked, openBrowser, openPage, root, step } from './browser.mjs';

let browser;
before(async () => {
  browser = await openBrowser();
});
after(async () => browser?.close());

const folder = join(root, 'src/page/lessons');
const names = readdirSync(folder);
const lesson = (name) => JSON.parse(readFileSync(join(folder, name), 'utf8'));

async function openLesson(which) {
  const opened = await openPage(browser);
  await step(opened.page, 'Practice');
  const { title } = lesson(names.find((name) => name.includes(which)));
  await opened.page.locator('.lessons').getByRole('button', { name: title }).click();
  await looked(opened.page);
  return opened;
}
const reveal = (page) => page.getByRole('button', { name: 'Show the answer' }).click();
const point = (page, at) => page.evaluate((p) => window.rimload.practice.pick(p), at);

test('practice hides the answer, measures the guesses and shows it', async () => {
  const { page, context, faults } = await openPage(browser);
  await step(page, 'Practice');
  const all = page.locator('.lessons button');
  assert.equal(await all.count(), names.length);
  await all.first().click();
  await looked(page);
  assert.equal(
    await page.getByRole('table', { name: /Pressure by site/ }).count(),
    0,
    'no table before the answer',
  );
  assert.equal(await page.evaluate(() => window.rimload.view.heat), 0);
  const box = await page.locator('.face-canvas').boundingBox();
  await page.mouse.click(box.x + box.width / 2, box.y + box.height * 0.35);
  await page.mouse.click(box.x + box.width * 0.6, box.y + box.height * 0.6);
  await page.getByText('Both marks are set').waitFor();
  await page.getByLabel('Upper pair, each strap').fill('8');
  await looked(page);
  await reveal(page);
  const text = await page.locator('.side').innerText();
  assert.match(text, /Presses hardest: .*mmHg/);
  assert.equal(text.match(/your mark lies \d+ mm away/g).length, 2);
  assert.equal(await page.evaluate(() => window.rimload.view.heat), 1);
  assert.deepEqual(faults, []);
  await context.close();
});

test('the sliders say what is solved, after what is tried instead and after undo', async () => {
  const { page, context, faults } = await openLesson('over-tight');
  const slider = page.getByLabel('Upper pair, each strap');
  const shown = async () => [
    await slider.inputValue(),
    await slider.getAttribute('aria-valuetext'),
    await page.evaluate(() => String(window.rimload.lessonStore.get('straps/tension_N/upper'))),
  ];
  assert.deepEqual(await shown(), ['9', '9.0 N', '9']);
  await reveal(page);
  await page.getByRole('button', { name: /^Try: / }).click();
  await looked(page);
  assert.deepEqual(await shown(), ['4', '4.0 N', '4']);
  await page.locator('.side').getByRole('button', { name: 'Undo' }).click();
  await looked(page);
  assert.deepEqual(await shown(), ['9', '9.0 N', '9']);
  await slider.fill('6.5');
  await looked(page);
  assert.deepEqual(await shown(), ['6.5', '6.5 N', '6.5']);
  assert.deepEqual(faults, []);
  await context.close();
});

test('where both sides leak alike a mark on either side is right', async () => {
  const { page, context, faults } = await openLesson('too-small');
  const segments = await page.evaluate(() => window.rimload.result.phases.at(-1).leak.segments);
  for (const side of ['left', 'right']) {
    const { at_mm } = segments.find((each) => each.site === 'cheek' && each.side === side);
    await page.getByRole('radio', { name: 'Leaks first' }).check();
    await point(page, at_mm);
    await reveal(page);
    const text = await page.locator('.side').innerText();
    assert.match(text, /Leaks most: cheek \(either side\); your mark lies 0 mm away/, side);
    await page.getByRole('button', { name: 'Other cases' }).click();
    await page.locator('.lessons button').nth(2).click();
    await looked(page);
  }
  assert.deepEqual(faults, []);
  await context.close();
});

test('a leak on one side alone is not forgiven on the other', async () => {
  const { page, context } = await openLesson('tube');
  const [{ at_mm: at }] = await page.evaluate(
    () => window.rimload.result.phases.at(-1).leak.segments,
  );
  await page.getByRole('radio', { name: 'Leaks first' }).check();
  await point(page, [-at[0], at[1], at[2]]);
  await reveal(page);
  const text = await page.locator('.side').innerText();
  const off = /Leaks most: cheek \(left\); your mark lies (\d+) mm away/.exec(text);
  assert.ok(Math.abs(Number(off[1]) - 2 * at[0]) < 1, text);
  await context.close();
});

test('without a pointer every site can be named, also one that the rim hardly touches', async () => {
  const { page, context, faults } = await openLesson('too-large');
  const touched = await page.evaluate(() =>
    window.rimload.result.phases
      .flatMap(({ sites }) => sites)
      .filter(({ name, sensor_mmHg }) => name === 'cheekbone' && sensor_mmHg >= 1),
  );
  assert.deepEqual(touched, [], 'the rim stands off there');
  const leak = page.getByLabel('Leaks first, by name');
  const offered = await leak.locator('option').allInnerTexts();
  assert.equal(offered.length, 15);
  for (const each of ['cheekbone (left)', 'upper lip', 'nose side (right)'])
    assert.ok(offered.includes(each), each);
  await page.getByLabel('Presses hardest, by name').selectOption({ label: 'chin' });
  await leak.selectOption({ label: 'cheek (right)' });
  await page.getByText('Both marks are set').waitFor();
  // The mark lies beneath the rim where it passes the cheek.
  const { at, nearest } = await page.evaluate(() => {
    const { practice, view } = window.rimload;
    const { at: mark } = practice.guess.leak;
    const off = (p) => Math.hypot(p[0] - mark[0], p[1] - mark[1], p[2] - mark[2]);
    return { at: mark, nearest: Math.min(...view.laid.rim.map(([inner]) => off(inner))) };
  });
  assert.ok(at[0] < -15 && nearest < 0.01, `${at}, ${nearest} mm from the rim`);
  await reveal(page);
  const text = await page.locator('.side').innerText();
  assert.match(text, /Presses hardest: nasal bridge.*; you said chin\./);
  assert.match(text, /Leaks most: .*; as you said\./);
  assert.deepEqual(faults, []);
  await context.close();
});

test('the rim lies above the skin all round while the answer is hidden', async () => {
  const { page, context } = await openLesson('over-tight');
  // Of the crown's line as drawn, the least height over the skin.
  const least = () =>
    page.evaluate(() => {
      const { view } = window.rimload;
      const line = view.things.group.children.find(({ type }) => type === 'LineLoop');
      const { position } = line.geometry.attributes;
      return Math.min(
        ...view.laid.rim.map(([inner, , outer], k) => {
          const foot = [0, 1, 2].map((i) => (inner[i] + outer[i]) / 2);
          const away = Math.hypot(foot[0], foot[2] + 92);
          const dx = position.getX(k) - foot[0];
          const dz = position.getZ(k) - foot[2];
          return (dx * foot[0] + dz * (foot[2] + 92)) / away;
        }),
      );
    });
  assert.ok((await least()) > 2, `${await least()} mm`);
  await reveal(page);
  assert.ok((await least()) < 0, 'pressed, it lies within the skin as drawn');
  await context.close();
});

test('a lesson offers no places of the own case, and another case leaves it in sight', async () => {
  const { page, context, faults } = await openLesson('over-tight');
  const turns = await page.getByLabel('Turn the face to a site').locator('option').allInnerTexts();
  assert.ok(turns.length === 15 && !turns.some((each) => /^\d|^L:/.test(each)), turns.join());
  await page.getByLabel('Turn the face to a site').selectOption({ label: 'cheek (left)' });
  assert.ok((await page.evaluate(() => window.rimload.view.pose.yaw)) > 5);
  const own = await page.evaluate(() => window.rimload.store.get('name'));
  await page.getByLabel('Open a demonstration case').selectOption({ index: 2 });
  await looked(page);
  await page.getByRole('heading', { name: 'What to expect' }).first().waitFor();
  const opened = await page.locator('header .case').innerText();
  assert.ok(opened !== own && !opened.startsWith('Practice'), opened);
  await page.getByRole('button', { name: 'Undo' }).click();
  await looked(page);
  assert.equal(await page.locator('header .case').innerText(), own);
  assert.deepEqual(faults, []);
  await context.close();
});

test('a dressing that is on is drawn on the face', async () => {
  const { page, context, faults } = await openLesson('dressing-too-thick');
  // As the engine tells of it: along its border on the chart, 34 by 20 mm over the bridge.
  const drawn = await page.evaluate(() => {
    const { view } = window.rimload;
    const outline = Array.from({ length: 24 }, (_, k) => {
      const turn = (k * Math.PI) / 12;
      return [17 * Math.cos(turn), -10 + 10 * Math.sin(turn)];
    });
    view.laid = { ...view.laid, worn: [{ outline_chart_mm: outline, thickness_mm: 4 }] };
    view.layThings();
    return view.things.group.children
      .filter(({ name }) => name === 'dressing')
      .map(({ geometry, material }) => {
        geometry.computeBoundingBox();
        const { min, max } = geometry.boundingBox;
        return { min: min.toArray(), max: max.toArray(), opacity: material.opacity };
      });
  });
  assert.equal(drawn.length, 2, 'its top and its edge');
  const [top] = drawn;
  assert.ok(Math.abs(top.max[1] - 0) < 3 && Math.abs(top.min[1] + 20) < 3, JSON.stringify(top));
  assert.ok(Math.abs(top.max[0] + top.min[0]) < 0.5, 'even on both sides');
  assert.ok(top.opacity > 0.9);
  assert.deepEqual(faults, []);
  await context.close();
});

// What the words of a lesson say, one claim after the other, against what the engine finds.
test('each lesson claims what the engine finds', async () => {
  const { page, context } = await openPage(browser);
  const solved = async (name, given, change) => {
    await page.evaluate(
      ([path, json, patch]) => {
        window.rimload.store.open(path, json);
        if (patch) window.rimload.store.merge(patch);
      },
      [`demo/cases/${name}`, given, change],
    );
    await looked(page);
    return page.evaluate(() => window.rimload.result);
  };
  const sites = ({ phases }) => phases.flatMap((phase) => phase.sites);
  const value = (result, of) =>
    of === 'leak'
      ? result.breath_mean_leak_L_min
      : Math.max(
          ...sites(result)
            .filter((site) => site.name === of)
            .map((site) => site.sensor_mmHg ?? 0),
        );
  const within = (x, [low, high], words) =>
    assert.ok(x >= low && x <= high, `${words}: ${x}, claimed ${low} to ${high}`);
  for (const name of names) {
    const { case: given, instead, claims } = lesson(name);
    assert.ok(claims.length >= 3, `${name} claims something`);
    const before = await solved(name, given);
    const total = before.phases.at(-1).leak.total_L_min;
    const leaking = (site) =>
      before.phases
        .at(-1)
        .leak.segments.filter((each) => each.site === site)
        .reduce((sum, each) => sum + each.flow_L_min, 0);
    for (const claim of claims) {
      const words = `${name}: ${JSON.stringify(claim)}`;
      const { change = instead.change, of, hardest, leaks_at, too_near } = claim;
      if (hardest) {
        const order = [...new Set(sites(before).map((site) => site.name))]
          .filter((site) => !/^(ear_top|occiput|strap|tube|eyelid)/.test(site))
          .sort((a, b) => value(before, b) - value(before, a));
        assert.deepEqual(order.slice(0, hardest.length), hardest, words);
      } else if (leaks_at) {
        for (const site of leaks_at)
          assert.ok(leaking(site) > 0.1 * total, `${words}: ${leaking(site)} of ${total}`);
        const told = leaks_at.reduce((sum, site) => sum + leaking(site), 0);
        assert.ok(told > 0.7 * total, `${words}: these make ${told} of ${total}`);
      } else {
        const changed = await solved(name, given, change);
        if (too_near) {
          const { clearances } = claim.change ? changed : before;
          assert.ok(
            clearances.some((each) => each.what === too_near && each.too_near),
            words,
          );
        } else if (claim.at) within(value(before, of), claim.at, words);
        else if (claim.changed) within(value(changed, of), claim.changed, words);
        else within(value(changed, of) / value(before, of), claim.share, words);
      }
    }
  }
  await context.close();
});
