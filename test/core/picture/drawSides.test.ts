import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../src/core/checkpoint.ts';
import type { Vec3 } from '../../../src/core/mesh/TriMesh.ts';
import { drawSides, ELEVATION_DEG } from '../../../src/core/picture/drawSides.ts';
import { BARE_TINT, GRAPHITE, PIECE_TINTS, RUST } from '../../../src/core/picture/pictureInks.ts';
import type { SidePicture, SideSubject } from '../../../src/core/picture/SidePicture.ts';
import { AZIMUTH_DEG, axesOf, SIDES, type Side } from '../../../src/core/picture/SideView.ts';
import { openHalfSphere } from '../../fixtures/shapes.ts';

const RADIUS = 50;
const WIDTH = 480;

/** A half sphere parted by the plane y = 0: piece 0 in front (y below 0), piece 1 behind. */
function ball(turnDeg = 0): SideSubject {
  const { positions: flat, indices } = openHalfSphere(RADIUS, 24);
  const regionOf = (t: number): number => {
    const y = [0, 1, 2].reduce((sum, k) => sum + flat[3 * indices[3 * t + k] + 1], 0);
    return y < 0 ? 0 : 1;
  };
  const triRegion = Int32Array.from({ length: indices.length / 3 }, (_, t) => regionOf(t));
  const line = Array.from({ length: 91 }, (_, n) => {
    const a = (n * Math.PI) / 90;
    return [RADIUS * Math.cos(a), 0, RADIUS * Math.sin(a)];
  }).flat();
  const tilt = Math.SQRT1_2 * RADIUS;
  const probes: { number: number; pointMm: Vec3 }[] = [
    { number: 1, pointMm: [0, -tilt, tilt] },
    { number: 2, pointMm: [0, RADIUS * Math.cos(0.1), RADIUS * Math.sin(0.1)] },
  ];
  const turn = turned(turnDeg);
  return {
    positions: turn(flat),
    indices,
    triRegion,
    lines: [turn(Float64Array.from(line))],
    probes: probes.map(({ number, pointMm }) => ({
      number,
      pointMm: Array.from(turn(Float64Array.from(pointMm))) as unknown as Vec3,
    })),
  };
}

/** Turns points about z, counter-clockwise from above. */
function turned(deg: number): (points: Float64Array) => Float64Array {
  const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
  return (points) => {
    const out = points.slice();
    for (let i = 0; i < out.length; i += 3) {
      out[i] = c * points[i] - s * points[i + 1];
      out[i + 1] = s * points[i] + c * points[i + 1];
    }
    return out;
  };
}

type BySide = Record<Side, SidePicture>;

const draw = async (subject: SideSubject): Promise<BySide> => {
  const pictures = await drawSides(subject, WIDTH, new Checkpoint());
  return Object.fromEntries(pictures.map((picture) => [picture.side, picture])) as BySide;
};

const pixel = (picture: SidePicture, x: number, y: number): number[] => {
  const n = 3 * (Math.floor(y) * picture.widthPx + Math.floor(x));
  return Array.from(picture.rgb.subarray(n, n + 3));
};
/** Pixels whose colour is nearest to this one of the inks and tints. */
const countLike = ({ rgb }: SidePicture, colour: readonly number[], within: number): number => {
  let count = 0;
  for (let n = 0; n < rgb.length; n += 3) {
    if (colour.every((value, k) => Math.abs(rgb[n + k] - value) <= within)) count++;
  }
  return count;
};
const countInked = ({ rgb }: SidePicture): number => {
  let count = 0;
  for (let n = 0; n < rgb.length; n += 3) if (Math.min(rgb[n], rgb[n + 1], rgb[n + 2]) < 250) count++;
  return count;
};

describe('drawSides', () => {
  /** The ball as it stands, drawn once for all. */
  let drawn: BySide;
  beforeAll(async () => {
    drawn = await draw(ball());
  });

  it('covers the area that a half sphere shows: half of the great circle, and half the board’s ellipse under it', () => {
    const pictures = drawn;
    // Seen from above by e: half a disc of radius R, and half of an ellipse with axes R and R sin e.
    const shareOfDisc = 0.5 + 0.5 * Math.sin((ELEVATION_DEG * Math.PI) / 180);
    const trueMm2 = Math.PI * RADIUS ** 2 * shareOfDisc;
    for (const side of SIDES) {
      const { mmPerPx } = pictures[side];
      const drawnMm2 = countInked(pictures[side]) * mmPerPx ** 2;
      // The outline is drawn half outside, and each pixel on the rim counts: two pixels of the outline's length.
      const rimMm2 = 2 * mmPerPx * (Math.PI + 2) * RADIUS;
      expect(Math.abs(drawnMm2 - trueMm2)).toBeLessThan(rimMm2);
      expect(mmPerPx).toBeCloseTo((2 * RADIUS) / (WIDTH - 2 * Math.ceil(0.04 * WIDTH)), 6);
    }
  });

  it('shows the front piece from the front and the back piece from behind, both from the sides', () => {
    const pictures = drawn;
    const named = (side: Side): number[] =>
      pictures[side].labels.filter((label) => label.kind === 'piece').map((label) => label.number);
    expect(named('right')).toEqual([0, 1]);
    expect(named('left')).toEqual([0, 1]);
    expect(named('front')).toContain(0);
    expect(named('back')).toContain(1);
    const [right0, right1] = pictures.right.labels.filter((label) => label.kind === 'piece');
    // From the right (+x) the front (-y) lies to the left.
    expect(right0.xPx).toBeLessThan(WIDTH / 2);
    expect(right1.xPx).toBeGreaterThan(WIDTH / 2);
    const [left0] = pictures.left.labels.filter((label) => label.kind === 'piece');
    expect(left0.xPx).toBeGreaterThan(WIDTH / 2);
  });

  it('numbers the probes where they are seen and nowhere else', () => {
    const pictures = drawn;
    const probes = (side: Side) => pictures[side].labels.filter((label) => label.kind === 'probe');
    expect(probes('front').map((label) => label.number)).toEqual([1]);
    expect(probes('back').map((label) => label.number)).toContain(2);
    const [first] = probes('front');
    const { up } = axesOf(AZIMUTH_DEG.front, ELEVATION_DEG);
    const tilt = Math.SQRT1_2 * RADIUS;
    const lowest = -RADIUS * Math.sin((ELEVATION_DEG * Math.PI) / 180);
    const upMm = up[1] * -tilt + up[2] * tilt - lowest;
    const { heightPx, mmPerPx } = pictures.front;
    expect(first.xPx).toBeCloseTo(WIDTH / 2, 0);
    expect(first.yPx).toBeCloseTo(heightPx - Math.ceil(0.04 * WIDTH) - upMm / mmPerPx, 0);
  });

  it('draws the line in rust down the middle of the sides, where it is seen', () => {
    const { right, front } = drawn;
    const { up } = axesOf(AZIMUTH_DEG.right, ELEVATION_DEG);
    const a = Math.PI / 6;
    const upMm = up[0] * RADIUS * Math.cos(a) + up[2] * RADIUS * Math.sin(a);
    const lowest = -RADIUS * Math.sin((ELEVATION_DEG * Math.PI) / 180);
    const yPx = right.heightPx - Math.ceil(0.04 * WIDTH) - (upMm - lowest) / right.mmPerPx;
    expect(pixel(right, WIDTH / 2, yPx)).toEqual([...RUST]);
    expect(countLike(right, GRAPHITE, 4)).toBeGreaterThan(100);
    expect(countLike(front, RUST, 4)).toBeGreaterThan(0);
  });

  it('a mould turned by a quarter is seen from the right as it was from the front', async () => {
    const [plain, turned90] = [drawn, await draw(ball(90))];
    expect(turned90.right.labels.map(({ kind, number }) => [kind, number])).toEqual(
      plain.front.labels.map(({ kind, number }) => [kind, number]),
    );
    let off = 0;
    for (let n = 0; n < plain.front.rgb.length; n++) {
      if (Math.abs(plain.front.rgb[n] - turned90.right.rgb[n]) > 2) off++;
    }
    // Rounding moves a pixel of an edge here and there; nothing else differs.
    expect(off / plain.front.rgb.length).toBeLessThan(0.002);
  });

  it('does not depend on the order of the triangles', async () => {
    const subject = ball();
    const count = subject.triRegion.length;
    const order = Array.from({ length: count }, (_, t) => count - 1 - t);
    const reversed = {
      ...subject,
      indices: Uint32Array.from(order.flatMap((t) => Array.from(subject.indices.subarray(3 * t, 3 * t + 3)))),
      triRegion: Int32Array.from(order.map((t) => subject.triRegion[t])),
    };
    const [one, other] = [drawn, await draw(reversed)];
    let off = 0;
    for (let n = 0; n < one.left.rgb.length; n++)
      if (Math.abs(one.left.rgb[n] - other.left.rgb[n]) > 2) off++;
    expect(off / one.left.rgb.length).toBeLessThan(0.002);
  });

  it('a surface without pieces is drawn bare', async () => {
    const subject = ball();
    const { front } = await draw({ ...subject, triRegion: subject.triRegion.slice().fill(-1), lines: [] });
    expect(front.labels.filter((label) => label.kind === 'piece')).toEqual([]);
    expect(countLike(front, RUST, 8)).toBe(0);
    // Every pixel inside has the bare tint's ratio of blue to red, whatever its brightness.
    const [red, , blue] = pixel(front, WIDTH / 2, front.heightPx / 2);
    expect(blue / red).toBeCloseTo(BARE_TINT[2] / BARE_TINT[0], 1);
  });

  it('ends with the abort reason when cancelled', async () => {
    const abort = new AbortController();
    abort.abort(new DOMException('enough', 'AbortError'));
    const cp = new Checkpoint(() => {}, abort.signal);
    await expect(drawSides(ball(), WIDTH, cp)).rejects.toMatchObject({ name: 'AbortError' });
  });
});

describe('pictureInks', () => {
  it('are those of the page in daylight', () => {
    const css = readFileSync(new URL('../../../src/ui/tokens.css', import.meta.url), 'utf8');
    const token = (name: string): string =>
      new RegExp(`--${name}: light-dark\\((#[0-9a-f]{6})`).exec(css)?.[1] ?? 'missing';
    const hex = (rgb: readonly number[]): string =>
      `#${rgb.map((value) => value.toString(16).padStart(2, '0')).join('')}`;
    PIECE_TINTS.forEach((tint, n) => {
      expect(hex(tint)).toBe(token(`piece-${n}`));
    });
    expect(hex(BARE_TINT)).toBe(token('clay'));
    expect(hex(GRAPHITE)).toBe(token('line'));
    expect(hex(RUST)).toBe(token('accent'));
  });
});
