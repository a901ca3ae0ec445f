// What the driver runs inside the workbench's page, to find places that only the page knows.

/** Runs in the page: the middle of the first visible occurrence of a text in the editor, or undefined. */
export function whereIs(text) {
  for (const line of document.querySelectorAll('.editor-instance .view-line')) {
    const nodes = [];
    const walker = document.createTreeWalker(line, NodeFilter.SHOW_TEXT);
    while (walker.nextNode()) nodes.push(walker.currentNode);
    // The editor draws blanks as non-breaking ones.
    const whole = nodes
      .map(node => node.data)
      .join('')
      .replaceAll('\u00a0', ' ');
    const start = whole.indexOf(text);
    if (start < 0) continue;
    const middle = start + Math.floor(text.length / 2);
    let offset = 0;
    for (const node of nodes) {
      if (middle < offset + node.data.length) {
        const range = document.createRange();
        range.setStart(node, middle - offset);
        range.setEnd(node, middle - offset + 1);
        const box = range.getBoundingClientRect();
        return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
      }
      offset += node.data.length;
    }
  }
  return undefined;
}

/** Runs in the page: the editor's line at the height of the cursor, as it is drawn. */
export function lineAtCursor() {
  const cursor = document.querySelector('.editor-instance .cursors-layer .cursor').getBoundingClientRect();
  const middle = cursor.y + cursor.height / 2;
  for (const line of document.querySelectorAll('.editor-instance .view-line')) {
    const box = line.getBoundingClientRect();
    if (box.top <= middle && middle < box.bottom) return line.textContent;
  }
  return '';
}
