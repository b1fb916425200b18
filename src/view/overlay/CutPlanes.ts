import {
  BufferAttribute,
  BufferGeometry,
  DoubleSide,
  Group,
  Mesh,
  MeshBasicMaterial,
  type Object3D,
} from 'three';
import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { ViewBox, ViewTheme } from '../viewTypes.ts';
import { FatLine } from './FatLine.ts';
import { type FatLineLook, makeFatLineMaterial, type OverlayFrame, UNCUT } from './fatLineMaterial.ts';
import { type DrawnPlane, planeInBox } from './planeInBox.ts';

const EDGE: FatLineLook = { widthPx: 1.8, dashPx: null, opacity: 1, part: 'front', liftPx: 0 };
const HIDDEN: FatLineLook = { widthPx: 1.2, dashPx: [5, 4], opacity: 0.6, part: 'hidden', liftPx: 0 };
const TICK: FatLineLook = { widthPx: 1.1, dashPx: null, opacity: 1, part: 'front', liftPx: 0 };
const FILL_OPACITY = 0.08;
/** The edge is hatched by so many short strokes all round, so long as this share of the box's diagonal. Own choice. */
const TICKS = 64;
const TICK_SHARE = 0.022;

/** Planes that cut: a thin outline with a faint fill; short strokes along the outline point to the side that goes. */
export class CutPlanes {
  private readonly root = new Group();
  private readonly fill: Mesh<BufferGeometry, MeshBasicMaterial>;
  private readonly edge: FatLine;
  private readonly ticks: FatLine;

  constructor(parent: Object3D, frame: OverlayFrame) {
    parent.add(this.root);
    this.fill = new Mesh(
      new BufferGeometry(),
      new MeshBasicMaterial({
        transparent: true,
        opacity: FILL_OPACITY,
        side: DoubleSide,
        depthWrite: false,
      }),
    );
    this.fill.frustumCulled = false;
    this.fill.renderOrder = 6;
    this.root.add(this.fill);
    this.edge = new FatLine(
      this.root,
      [makeFatLineMaterial(frame, UNCUT, HIDDEN), makeFatLineMaterial(frame, UNCUT, EDGE)],
      7,
    );
    this.ticks = new FatLine(this.root, [makeFatLineMaterial(frame, UNCUT, TICK)], 7);
    this.setPlanes([], null);
  }

  /** @param box what the planes are drawn in; null: nothing is drawn */
  setPlanes(planes: readonly DrawnPlane[], box: ViewBox | null): void {
    const drawn = box === null ? [] : planes.map((plane) => ({ plane, ring: planeInBox(plane, box) }));
    const seen = drawn.filter(({ ring }) => ring.length > 0);
    const corners: number[] = [];
    for (const { ring } of seen) {
      for (let i = 2; i < ring.length; i++) corners.push(...ring[0], ...ring[i - 1], ...ring[i]);
    }
    this.fill.geometry.dispose();
    this.fill.geometry = new BufferGeometry();
    this.fill.geometry.setAttribute('position', new BufferAttribute(Float32Array.from(corners), 3));
    this.fill.visible = seen.length > 0;
    this.edge.setPaths(seen.map(({ ring }) => [...ring, ring[0]].flat()));
    const reachMm =
      box === null
        ? 0
        : TICK_SHARE * Math.hypot(box.max[0] - box.min[0], box.max[1] - box.min[1], box.max[2] - box.min[2]);
    this.ticks.setPaths(seen.flatMap(({ plane, ring }) => tickPaths(ring, plane.normal, reachMm)));
  }

  setTheme(theme: ViewTheme): void {
    this.fill.material.color.set(theme.accent);
    this.edge.setTint(theme.accent);
    this.ticks.setTint(theme.accent);
  }

  dispose(): void {
    this.edge.dispose();
    this.ticks.dispose();
    this.fill.geometry.dispose();
    this.fill.material.dispose();
    this.root.removeFromParent();
  }
}

/** Strokes from the outline to the side that goes, slanted along the edge as hatching is. */
function tickPaths(ring: readonly Vec3[], normal: Vec3, reachMm: number): number[][] {
  let roundMm = 0;
  const sides = ring.map((a, i) => {
    const b = ring[(i + 1) % ring.length];
    const lengthMm = Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]);
    roundMm += lengthMm;
    return { a, b, lengthMm };
  });
  const stepMm = roundMm / TICKS;
  return sides.flatMap(({ a, b, lengthMm }) => {
    const count = Math.max(1, Math.round(lengthMm / stepMm));
    return Array.from({ length: count }, (_, n) => {
      const share = (n + 0.5) / count;
      const out: number[] = [];
      for (let k = 0; k < 3; k++) out.push(a[k] + share * (b[k] - a[k]));
      for (let k = 0; k < 3; k++) {
        const along = lengthMm > 0 ? (b[k] - a[k]) / lengthMm : 0;
        out.push(out[k] + reachMm * (0.8 * normal[k] + 0.6 * along));
      }
      return out;
    });
  });
}
