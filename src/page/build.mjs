// Joins engine, scripts, styles and the demonstration's files into one page that needs nothing else.
// node build.mjs ENGINE_FOLDER OUT.html
import { createHash } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { build } from 'esbuild';

const here = dirname(fileURLToPath(import.meta.url));
const root = resolve(here, '../..');
const [engineFolder, out] = process.argv.slice(2);
if (!engineFolder || !out) {
  console.error('usage: node build.mjs ENGINE_FOLDER OUT.html');
  process.exit(2);
}
const limit = 4 * 1024 * 1024;

async function bundled(entry, define = {}) {
  const result = await build({
    entryPoints: [entry],
    bundle: true,
    minify: true,
    write: false,
    format: 'iife',
    target: 'es2020',
    charset: 'utf8',
    legalComments: 'none',
    define,
    alias: { 'rimload-engine': resolve(engineFolder, 'engine.js') },
    logLevel: 'warning',
  });
  return result.outputFiles[0].text;
}

function folder(path, ending) {
  return readdirSync(join(root, path))
    .filter((name) => name.endsWith(ending))
    .sort()
    .map((name) => `${path}/${name}`);
}

// What the page knows without being given it: the demonstration and the texts that it shares with
// the command line.
function embeddedFiles() {
  const names = [...folder('demo/cases', '.json'), ...folder('src/page/lessons', '.json')];
  names.push('demo/catalogue/demo-cushions.json', 'demo/catalogue/demo-dressings.json');
  return Object.fromEntries(names.map((name) => [name, readFileSync(join(root, name), 'utf8')]));
}
function sharedTexts() {
  const json = (path) => JSON.parse(readFileSync(join(root, path), 'utf8'));
  return {
    schema: json('src/case/schema/case.schema.json'),
    measurements: json('src/case/schema/measurements.schema.json'),
    cautions: json('src/fit/data/cautions.json'),
    published: json('src/report/data/published-pressure.json'),
    guide: json('src/report/data/measuring-guide.json'),
    faces: folderNames('face-models'),
    landmarks: sitedLandmarks(json('geometry/data/landmark-sites.json').sites),
  };
}
// Of the reference face, which is symmetric, each with the site that it belongs to:
// [site, side, x, y, z].
function sitedLandmarks(sites) {
  const path = join(root, 'face-models/reference/landmarks.json');
  const { landmarks } = JSON.parse(readFileSync(path, 'utf8'));
  const siteOf = (name) => Object.keys(sites).find((site) => sites[site].includes(name));
  return landmarks.flatMap(({ name, side, x_mm, y_mm, z_mm }) => {
    const one = [siteOf(name), side, x_mm, y_mm, z_mm];
    return side === 'left' ? [one, [siteOf(name), 'right', -x_mm, y_mm, z_mm]] : [one];
  });
}
function folderNames(path) {
  return readdirSync(join(root, path), { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name)
    .sort()
    .map((name) => {
      const face = JSON.parse(readFileSync(join(root, path, name, 'landmarks.json'), 'utf8'));
      return { name, title: face.title };
    });
}

// In a script element nothing may look like its end.
const safe = (text) => text.replace(/<\/(script)/gi, '<\\/$1').replace(/<!--/g, '<\\!--');
const sha = (text) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;

const worker = await bundled(join(here, 'ui/worker.js'));
const app = safe(
  await bundled(join(here, 'ui/main.js'), {
    WORKER_SOURCE: JSON.stringify(worker),
    EMBEDDED_FILES: JSON.stringify(embeddedFiles()),
    SHARED_TEXTS: JSON.stringify(sharedTexts()),
  }),
);
const styles = readFileSync(join(here, 'ui/style.css'), 'utf8');
const wasm = gzipSync(readFileSync(join(engineFolder, 'engine.wasm')), { level: 9 }).toString(
  'base64',
);
const policy = [
  "default-src 'none'",
  `script-src ${sha(app)} 'wasm-unsafe-eval' blob:`,
  'worker-src blob:',
  `style-src ${sha(styles)}`,
  'img-src blob: data:',
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');
const page = readFileSync(join(here, 'ui/page.html'), 'utf8')
  .replace('{{policy}}', () => policy)
  .replace('{{styles}}', () => styles)
  .replace('{{wasm}}', () => wasm)
  .replace('{{app}}', () => app);
if (Buffer.byteLength(page) > limit) {
  console.error(`the page has ${Buffer.byteLength(page)} bytes; at most ${limit} are allowed`);
  process.exit(1);
}
mkdirSync(dirname(resolve(out)), { recursive: true });
writeFileSync(out, page);
console.log(`${out}: ${(Buffer.byteLength(page) / 1024 / 1024).toFixed(2)} MB`);
