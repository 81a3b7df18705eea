// A picture beside the text that can be seen in full: its words are readable then.
import { h } from './dom.js';

export function enlargeable(url, alt) {
  const dialog = h(
    'dialog',
    { class: 'enlarged', 'aria-label': alt },
    h(
      'form',
      { method: 'dialog' },
      h('button', { type: 'submit' }, 'Close'),
      h('span', { class: 'help' }, 'Escape closes it too.'),
    ),
    h(
      'div',
      { class: 'scroll', tabindex: '0', role: 'group', 'aria-label': alt },
      h('img', { src: url, alt }),
    ),
  );
  return h(
    'div',
    { class: 'enlargeable' },
    h('img', { src: url, alt }),
    h(
      'button',
      { type: 'button', class: 'small no-print', onclick: () => dialog.showModal() },
      'Enlarge the picture',
    ),
    dialog,
  );
}
