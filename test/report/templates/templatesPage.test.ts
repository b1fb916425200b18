import { describe, expect, it } from 'vitest';
import { flattenShim } from '../../../src/core/shell/flattenShim.ts';
import type { LineShim } from '../../../src/core/shell/shimsOfRun.ts';
import { cutStrips } from '../../../src/report/templates/cutStrips.ts';
import { templatesPage } from '../../../src/report/templates/templatesPage.ts';

/** A shim of 40 mm on a half circle of a ball of 100 mm: 314 mm of line. */
function ballShim() {
  const feet = new Float64Array(3 * 158);
  const normals = new Float64Array(3 * 158);
  for (let p = 0; p < 158; p++) {
    const a = (Math.PI * p) / 157;
    normals.set([Math.cos(a), 0, Math.sin(a)], 3 * p);
    feet.set([100 * Math.cos(a), 0, 100 * Math.sin(a)], 3 * p);
  }
  return flattenShim({ feet, normals }, 40);
}

const line: LineShim = {
  between: ['front', 'back'],
  lengthMm: 314.16,
  widthMm: 40,
  isClosed: false,
  shim: ballShim(),
};
const options = {
  paper: 'a4',
  units: 'metric',
  job: 'Fish & <b>bird</b>',
  stripMm: 300,
  overlapMm: 10,
} as const;

describe('cutStrips', () => {
  const strips = cutStrips(line.shim, { mostMm: 120, overlapMm: 10, widthMm: 250, heightMm: 150 });

  it('covers the whole line, each strip from where the one before was cut', () => {
    expect(strips[0].fromMm).toBe(0);
    for (let n = 1; n < strips.length; n++) expect(strips[n].fromMm).toBe(strips[n - 1].toMm);
    expect(strips.at(-1)?.toMm).toBe(line.shim.alongMm[157]);
    for (const { fromMm, toMm } of strips) expect(toMm - fromMm).toBeLessThanOrEqual(120);
  });

  it('keeps lengths: edge on the rubber and rulings, to 0.01 mm', () => {
    for (const { inner, outer, fromMm, toMm, seam } of strips) {
      let length = 0;
      for (let i = 0; i + 3 < inner.length; i += 2) {
        length += Math.hypot(inner[i + 2] - inner[i], inner[i + 3] - inner[i + 1]);
      }
      const overlap = seam === null ? 0 : 10;
      expect(length).toBeGreaterThan(toMm - fromMm + overlap - 0.01);
      expect(length).toBeLessThan(toMm - fromMm + overlap + 2.01);
      expect(outer).toHaveLength(inner.length);
      for (let i = 0; i < inner.length; i += 2) {
        expect(Math.hypot(outer[i] - inner[i], outer[i + 1] - inner[i + 1])).toBeCloseTo(40, 2);
      }
    }
  });

  it('fits the paper it is given', () => {
    const small = cutStrips(line.shim, { mostMm: 300, overlapMm: 10, widthMm: 100, heightMm: 90 });
    for (const strip of small) {
      expect(strip.widthMm).toBeLessThanOrEqual(100);
      expect(strip.heightMm).toBeLessThanOrEqual(90);
    }
  });
});

describe('templatesPage', () => {
  const html = templatesPage([line], options);

  it('is in millimetres on the paper asked for, with a bar to check the print by', () => {
    expect(html).toContain('@page{size:297mm 210mm');
    expect(html).toContain('width="273mm" height="186mm" viewBox="0 0 273 186"');
    expect(html).toContain('width="100" height="1.2"');
    expect(templatesPage([line], { ...options, paper: 'letter' })).toContain('@page{size:279.4mm 215.9mm');
  });

  it('escapes what comes from the plan, and asks for nothing from outside', () => {
    expect(html).toContain('Fish &amp; &lt;b&gt;bird&lt;/b&gt;');
    expect(html).not.toContain('<b>bird');
    expect(html.replaceAll('http://www.w3.org/2000/svg', '')).not.toMatch(/https?:/);
  });

  it('draws the rubber’s edge of every strip in true length', () => {
    const path = /<path class="rubber" d="M([^"]*)"/.exec(html)?.[1] ?? '';
    const points = path.split('L').map((text) => text.split(' ').map(Number));
    let length = 0;
    for (let i = 1; i < points.length; i++) {
      length += Math.hypot(points[i][0] - points[i - 1][0], points[i][1] - points[i - 1][1]);
    }
    const [first] = cutStrips(line.shim, { mostMm: 290, overlapMm: 10, widthMm: 273, heightMm: 154 });
    let exact = 0;
    for (let i = 0; i + 3 < first.inner.length; i += 2) {
      exact += Math.hypot(first.inner[i + 2] - first.inner[i], first.inner[i + 3] - first.inner[i + 1]);
    }
    expect(length).toBeCloseTo(exact, 1);
  });

  it('says so when there is no line', () => {
    expect(templatesPage([], options)).toContain('no shim to cut');
  });
});
