// Elements made in one call: h('p', { class: 'x', onclick }, 'text', child).

const asProperty = new Set([
  'checked',
  'value',
  'disabled',
  'hidden',
  'open',
  'selected',
  'indeterminate',
]);

export function h(tag, props = {}, ...children) {
  const node = document.createElement(tag);
  for (const [key, value] of Object.entries(props)) {
    if (value === undefined || value === null || value === false) continue;
    if (key.startsWith('on')) node.addEventListener(key.slice(2), value);
    else if (asProperty.has(key)) node[key] = value;
    else node.setAttribute(key, value === true ? '' : value);
  }
  node.append(...present(children));
  return node;
}
const present = (children) =>
  children
    .flat(Infinity)
    .filter((child) => child !== null && child !== undefined && child !== false);

let count = 0;
export const freshId = (stem) => `${stem}-${++count}`;

export function replace(node, ...children) {
  node.replaceChildren(...present(children));
  return node;
}

// Words that are there already are left alone: a change costs a layout.
export function say(node, words) {
  if (node.textContent !== words) node.textContent = words;
}

// Lays a style on an element; a style attribute in the text would offend the page's policy.
export function styled(node, style) {
  Object.assign(node.style, style);
  return node;
}

// The engine breaks its lines for a terminal; here a line of its own begins without two spaces, and
// what result.json holds beside stands in the tables.
export const unbroken = (text) =>
  text.replace(/\n {2,}(?=\S)/g, ' ').replace(/^More is in result\.json; .*\n/m, '');

// Words like 'nasal bridge (left)' from a site's key and side.
export function siteWords({ name, site, side }) {
  const words = (name ?? site).replaceAll('_', ' ');
  return side && side !== 'midline' ? `${words} (${side})` : words;
}

export function table(caption, head, rows, props = {}) {
  return h(
    'table',
    props,
    h('caption', {}, caption),
    h(
      'thead',
      {},
      h(
        'tr',
        {},
        head.map((each) => h('th', { scope: 'col' }, each)),
      ),
    ),
    h(
      'tbody',
      {},
      rows.map((row) =>
        h(
          'tr',
          {},
          row.map((cell, k) => (k === 0 ? h('th', { scope: 'row' }, cell) : h('td', {}, cell))),
        ),
      ),
    ),
  );
}

// The tables that jobs write: no commas in quotes but those of RFC 4180.
export function readCsv(text) {
  const rows = [];
  for (const line of text.split(/\r?\n/)) {
    if (line === '') continue;
    const cells = [];
    const pattern = /("(?:[^"]|"")*"|[^,]*)(,|$)/g;
    for (let match; (match = pattern.exec(line)); ) {
      cells.push(match[1].startsWith('"') ? match[1].slice(1, -1).replaceAll('""', '"') : match[1]);
      if (match[2] === '') break;
    }
    rows.push(cells);
  }
  return rows;
}
