// Faults as the engine writes them (file: /place/in/the/case: what is wrong), in the words of the ward.

const labels = {
  '/name': 'Name of the case',
  '/settings/inspiratory_cmH2O': 'Inspiratory pressure',
  '/settings/expiratory_cmH2O': 'Expiratory pressure',
  '/settings/cpap_cmH2O': 'CPAP',
  '/cushion/catalogue': 'Catalogue of cushions',
  '/cushion/name': 'Cushion',
  '/cushion/size': 'Size of the cushion',
  '/dressings/catalogue': 'Catalogue of dressings',
  '/face/file': 'Face file',
  '/face/scan/file': 'Scan',
  '/hours_planned': 'Hours planned',
  '/skin/hours_worn': 'Hours worn',
  '/skin/check_every_h': 'Local policy: check at least every',
};
const unit = /_(cmH2O|mmHg|mm|cm|deg|Fr|h|N|L_min|years|percent)$/;

// '/injured_skin/0/side' as 'Injured skin, 1, side'.
function placeWords(pointer) {
  if (labels[pointer]) return labels[pointer];
  const parts = pointer.split('/').slice(1);
  const words = parts.map((part) =>
    /^\d+$/.test(part) ? String(Number(part) + 1) : part.replace(unit, '').replaceAll('_', ' '),
  );
  const text = words.join(', ');
  return text[0].toUpperCase() + text.slice(1);
}

/// caseFile: the file whose name needs no saying.
export function faultWords(text, caseFile) {
  return text
    .trim()
    .split('\n')
    .map((line) => {
      const parts = /^(?:([^:]+\.(?:json|csv)): )?(?:(\/[^\s:]+): )?(.*)$/.exec(line);
      const [, file, pointer, message] = parts;
      const name = file && file !== caseFile ? file.split('/').at(-1) : null;
      const words = message
        .replace('for one pressure all through give cpap_cmH2O', 'for one pressure choose CPAP')
        .replace(/'[^'/ ]*\/([^'/]+\/)*([^'/]+)'/g, "'$2'");
      return [name, pointer ? placeWords(pointer) : null, words].filter(Boolean).join(': ');
    })
    .join('\n');
}
