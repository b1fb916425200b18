import { describe, expect, test, vi } from 'vitest';
import type { Vec3 } from '../../../src/core/mesh/TriMesh.ts';
import type { SurfacePicture } from '../../../src/jobs/protocol.ts';
import { cameraBasis, dot } from '../../../src/view/camera/cameraBasis.ts';
import { FacetTable } from '../../../src/view/tools/FacetTable.ts';
import { isHandleHit, mmAlong } from '../../../src/view/tools/handle.ts';
import type { ToolPlace } from '../../../src/view/tools/PointerTool.ts';
import { SlideTool } from '../../../src/view/tools/SlideTool.ts';
import { TurnTool } from '../../../src/view/tools/TurnTool.ts';

const placeAt = (xPx: number, yPx: number, isTouch = false): ToolPlace => ({
  xPx,
  yPx,
  isTouch,
  hit: null,
  ray: { origin: [0, 0, 0], direction: [0, 1, 0] },
});

/** A vector turned about a unit axis. Source: Rodrigues' formula. */
function turnAbout(v: Vec3, axis: Vec3, angleRad: number): Vec3 {
  const c = Math.cos(angleRad);
  const s = Math.sin(angleRad);
  const cross = [
    axis[1] * v[2] - axis[2] * v[1],
    axis[2] * v[0] - axis[0] * v[2],
    axis[0] * v[1] - axis[1] * v[0],
  ];
  const along = dot(axis, v) * (1 - c);
  return [0, 1, 2].map((k) => v[k] * c + cross[k] * s + axis[k] * along) as [number, number, number];
}

describe('TurnTool', () => {
  const axes = cameraBasis(-1.1, 1.2);

  test.each([
    ['to the right', 40, 0],
    ['down', 0, 40],
    ['slantwise', -30, 25],
  ])('dragged %s, the side that faces the eye follows the pointer', (_, dx, dy) => {
    const turned = vi.fn();
    const tool = new TurnTool({ axes: () => axes, turned, released: () => {} });
    expect(tool.down(placeAt(100, 100))).toBe(true);
    tool.move(placeAt(100 + dx, 100 + dy));
    const [axis, angleRad] = turned.mock.calls[0] as [Vec3, number];
    // 500 pixels are half a turn.
    expect(angleRad).toBeCloseTo((Math.hypot(dx, dy) * Math.PI) / 500, 12);
    const after = turnAbout(axes.back, axis, angleRad);
    const way = Math.hypot(dx, dy);
    expect(dot(after, axes.right)).toBeCloseTo((Math.sin(angleRad) * dx) / way, 12);
    expect(dot(after, axes.up)).toBeCloseTo((-Math.sin(angleRad) * dy) / way, 12);
  });

  test('arrows turn by one degree, with Shift by fifteen, and say that they are exact', () => {
    const turned = vi.fn();
    const released = vi.fn();
    const tool = new TurnTool({ axes: () => axes, turned, released });
    expect(tool.key({ key: 'ArrowRight', isShift: false })).toBe(true);
    expect(tool.key({ key: 'ArrowUp', isShift: true })).toBe(true);
    expect(tool.key({ key: 'x', isShift: false })).toBe(false);
    expect(turned.mock.calls[0]).toEqual([[0, 0, 1], Math.PI / 180]);
    expect(turned.mock.calls[1]).toEqual([axes.right, (-15 * Math.PI) / 180]);
    expect(released.mock.calls).toEqual([[false], [false]]);
  });
});

describe('SlideTool', () => {
  /** A drawing seen from the front, two pixels a millimetre: x to the right, z up, y away from the eye. */
  const project = ([x, , z]: Vec3) => ({ x: 200 + 2 * x, y: 200 - 2 * z, visible: true });
  const toolFor = (axis: Vec3, slid = vi.fn()) => ({
    slid,
    tool: new SlideTool({
      project,
      mmPerPixel: () => 0.5,
      handle: () => ({ at: [0, 0, 10], axis }),
      stepMm: 1,
      longStepMm: 10,
      slid,
    }),
  });

  test('takes the press on its handle alone; a finger may miss by more', () => {
    const { tool } = toolFor([0, 0, 1]);
    expect(tool.down(placeAt(225, 180))).toBe(false);
    expect(tool.down(placeAt(225, 180, true))).toBe(true);
    expect(isHandleHit({ x: 0, y: 0 }, { x: 22, y: 0 }, true)).toBe(true);
  });

  test('slides by what the pointer goes along the axis, and says when it is let go', () => {
    const { tool, slid } = toolFor([0, 0, 1]);
    tool.down(placeAt(200, 180));
    tool.move(placeAt(260, 160));
    tool.up();
    const [[mm, isDone], last] = slid.mock.calls;
    expect(mm).toBeCloseTo(10, 9);
    expect(isDone).toBe(false);
    expect(last[0]).toBeCloseTo(10, 9);
    expect(last[1]).toBe(true);
  });

  test('an axis seen at half its length slides twice as far; seen end on, up is along it', () => {
    expect(mmAlong({ x: 10, y: 0 }, { x: 0.5, y: 0 }, 2)).toBeCloseTo(40, 12);
    expect(mmAlong({ x: 7, y: -10 }, { x: 0.01, y: 0.02 }, 2)).toBeCloseTo(20, 12);
  });

  test('arrows slide the way they point on the screen, and leave the others to the camera', () => {
    const { tool, slid } = toolFor([-1, 0, 0]);
    expect(tool.key({ key: 'ArrowRight', isShift: false })).toBe(true);
    expect(tool.key({ key: 'ArrowLeft', isShift: true })).toBe(true);
    expect(tool.key({ key: 'ArrowUp', isShift: false })).toBe(false);
    expect(slid.mock.calls).toEqual([
      [-1, true],
      [10, true],
    ]);
  });
});

describe('FacetTable', () => {
  /** A block 100 x 60 x 40 whose sides are grids of 2 mm squares, its underside roughened by `noiseMm`. */
  function block(noiseMm: number): SurfacePicture {
    const positions: number[] = [];
    const indices: number[] = [];
    let seed = 12345;
    const noise = () => {
      seed = (1103515245 * seed + 12345) % 2 ** 31;
      return noiseMm * (seed / 2 ** 30 - 1);
    };
    const side = (at: (u: number, v: number) => Vec3, us: number, vs: number) => {
      const first = positions.length / 3;
      for (let v = 0; v <= vs; v++) for (let u = 0; u <= us; u++) positions.push(...at(2 * u, 2 * v));
      for (let v = 0; v < vs; v++) {
        for (let u = 0; u < us; u++) {
          const a = first + v * (us + 1) + u;
          indices.push(a, a + 1, a + us + 2, a, a + us + 2, a + us + 1);
        }
      }
    };
    side((u, v) => [u, v, 40], 50, 30);
    side((u, v) => [u, 60 - v, noise()], 50, 30);
    side((u, v) => [u, 0, v], 50, 20);
    side((u, v) => [100, u, v], 30, 20);
    return { positions: Float32Array.from(positions), indices: Uint32Array.from(indices) };
  }

  test('a rough underside is one face: its plane is level to a tenth of a degree and holds all of it', () => {
    const surface = block(0.2);
    const underside = 2 * 50 * 30;
    const tri = underside + 700;
    const v = 3 * surface.indices[3 * tri];
    const at = [0, 1, 2].map((k) => surface.positions[v + k]) as unknown as Vec3;
    const face = new FacetTable(surface).fitFace(at, tri);
    expect(face).not.toBeNull();
    expect(face?.normal[2]).toBeLessThan(-Math.cos((0.1 * Math.PI) / 180));
    // Facets that the noise tips by more than 20 degrees (0.4 mm over 2 mm is 11) are none: all of it counts.
    expect(face?.areaMm2).toBeGreaterThan(100 * 60);
    expect(face?.areaMm2).toBeLessThan(100 * 60 * 1.05);
    expect(Math.abs(face?.middleMm[2] ?? 9)).toBeLessThan(0.05);
  });

  test('near an edge the other side does not bend the plane', () => {
    const surface = block(0);
    const face = new FacetTable(surface).fitFace([0.5, 0.5, 40], 0);
    expect(face?.normal).toEqual([0, 0, 1]);
    expect(face?.areaMm2).toBeCloseTo(100 * 60, 2);
  });

  test('a surface without area has no face', () => {
    const flat = { positions: new Float32Array(9), indices: Uint32Array.of(0, 1, 2) };
    expect(new FacetTable(flat).fitFace([0, 0, 0], 0)).toBeNull();
  });
});
