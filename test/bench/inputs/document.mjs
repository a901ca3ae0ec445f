// A generated document with the places where a benchmark may edit, hover and complete.

/**
 * Takes the marks out of a text. `«12»` is a number whose last digit an edit may change without making it wrong,
 * `‹name›` is worth a hover, and `¦` alone on a line is where a new line may be typed.
 */
export function readDocument(marked) {
  const numbers = [];
  const hovers = [];
  const gaps = [];
  const lines = [];
  for (const written of marked.split('\n')) {
    if (written.trim() === '¦') {
      gaps.push({ line: lines.length, character: 0 });
      continue;
    }
    lines.push(readLine(written, lines.length, numbers, hovers));
  }
  return { text: lines.join('\n'), lines: lines.length, numbers, hovers, gaps };
}

function readLine(written, line, numbers, hovers) {
  let plain = '';
  let open = 0;
  for (const character of written) {
    if (character === '«' || character === '‹') open = plain.length;
    else if (character === '»') numbers.push({ line, start: open, character: plain.length - 1, digit: plain.at(-1) });
    else if (character === '›') hovers.push({ line, character: Math.floor((open + plain.length) / 2) });
    else plain += character;
  }
  return plain;
}

/** Lines to fill a document up with: paragraphs of invented remarks. */
export function remarks(random, count, prefix) {
  const subjects = [
    'The cabin drive',
    'The upper station',
    'The supply line',
    'The container',
    'The commissioning crew',
  ];
  const verbs = ['was measured', 'is expected', 'had to be moved', 'was agreed', 'is to be checked again'];
  const ends = ['before the winter season', 'after the second test run', 'with the network owner', 'at full load'];
  return Array.from({ length: count }, () => {
    return `${prefix}${random.of(subjects)} ${random.of(verbs)} ${random.of(ends)}.`;
  });
}
