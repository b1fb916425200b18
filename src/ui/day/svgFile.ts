/** What an element's look is made of; everything else is geometry, which the element says itself. */
const LOOKS = [
  'fill',
  'stroke',
  'stroke-width',
  'stroke-dasharray',
  'stroke-linejoin',
  'paint-order',
  'font-family',
  'font-size',
  'font-weight',
] as const;

/** Height of a line of the key below the picture, px. */
const KEY_LINE = 22;

/**
 * The text of an SVG file that looks as the drawing does on the page: the looks that style sheets gave are written into
 * each element, and `key` stands below it, one line an entry. Reads the page's styles once an element.
 */
export function svgFile(drawn: SVGSVGElement, key: readonly string[]): string {
  const copy = drawn.cloneNode(true) as SVGSVGElement;
  const originals = [drawn, ...drawn.querySelectorAll('*')];
  const copies = [copy, ...copy.querySelectorAll('*')];
  for (const [i, original] of originals.entries()) {
    const style = getComputedStyle(original);
    for (const name of LOOKS) copies[i].setAttribute(name, style.getPropertyValue(name));
    for (const name of ['class', 'role', 'tabindex', 'aria-label', 'aria-checked', 'data-step', 'data-row'])
      copies[i].removeAttribute(name);
  }
  const width = Math.max(Number(drawn.getAttribute('width')), 200);
  const height = Number(drawn.getAttribute('height'));
  const whole = height + KEY_LINE * key.length + KEY_LINE / 2;
  copy.setAttribute('width', String(width));
  copy.setAttribute('height', String(whole));
  copy.setAttribute('viewBox', `0 0 ${width} ${whole}`);
  copy.setAttribute('xmlns', 'http://www.w3.org/2000/svg');
  const paper = copy.ownerDocument.createElementNS('http://www.w3.org/2000/svg', 'rect');
  paper.setAttribute('width', String(width));
  paper.setAttribute('height', String(whole));
  paper.setAttribute('fill', getComputedStyle(drawn).getPropertyValue('--paper-print').trim() || '#ffffff');
  copy.prepend(paper);
  for (const [i, words] of key.entries()) {
    const line = copy.ownerDocument.createElementNS('http://www.w3.org/2000/svg', 'text');
    line.setAttribute('x', '8');
    line.setAttribute('y', String(height + KEY_LINE * (i + 1)));
    line.setAttribute('font-size', '14');
    line.setAttribute('font-family', getComputedStyle(drawn).fontFamily);
    line.textContent = words;
    copy.append(line);
  }
  return new XMLSerializer().serializeToString(copy);
}
