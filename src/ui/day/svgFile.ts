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

/** What speaks to the page and its keys only. */
const PAGE_ONLY = ['class', 'role', 'tabindex', 'aria-label', 'aria-checked', 'data-step'] as const;

/** Height of a line of the key below the picture, and the least width that a key fits in, px. */
const KEY_LINE = 22;
const LEAST_WIDTH = 620;

const SVG = 'http://www.w3.org/2000/svg';

/**
 * The text of an SVG file that looks as a drawing does on the page: the looks that style sheets gave are written into each
 * element, `paper` (a CSS colour) lies behind it, `over` is laid over it, and `key` stands below it, one line an entry.
 * Reads the page's styles once an element.
 */
export function svgFile(
  drawn: SVGSVGElement,
  over: SVGSVGElement | null,
  paper: string,
  key: readonly string[],
): string {
  const copy = copyWithLooks(drawn);
  if (over) copy.append(...copyWithLooks(over).childNodes);
  const width = Math.max(Number(drawn.getAttribute('width')), LEAST_WIDTH);
  const height = Number(drawn.getAttribute('height'));
  const whole = height + KEY_LINE * key.length + KEY_LINE / 2;
  setAll(copy, { xmlns: SVG, width, height: whole, viewBox: `0 0 ${width} ${whole}` });
  copy.prepend(create('rect', { width, height: whole, fill: paper }));
  const { color, fontFamily } = getComputedStyle(drawn);
  for (const [i, words] of key.entries()) {
    const y = height + KEY_LINE * (i + 1);
    const line = create('text', { x: 8, y, 'font-size': 14, 'font-family': fontFamily, fill: color });
    line.textContent = words;
    copy.append(line);
  }
  return new XMLSerializer().serializeToString(copy);
}

function copyWithLooks(drawn: SVGSVGElement): Element {
  const copy = document.importNode(drawn, true);
  const originals = [drawn, ...drawn.querySelectorAll('*')];
  const copies = [copy, ...copy.querySelectorAll('*')];
  for (const [i, original] of originals.entries()) {
    const style = getComputedStyle(original);
    for (const name of LOOKS) copies[i].setAttribute(name, style.getPropertyValue(name));
    for (const name of PAGE_ONLY) copies[i].removeAttribute(name);
  }
  return copy;
}

function create(name: string, attributes: Readonly<Record<string, string | number>>): Element {
  const element = document.createElementNS(SVG, name);
  setAll(element, attributes);
  return element;
}

function setAll(element: Element, attributes: Readonly<Record<string, string | number>>): void {
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(value));
}
