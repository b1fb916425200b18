import {
  BufferAttribute,
  BufferGeometry,
  Color,
  DoubleSide,
  Group,
  Mesh,
  type Object3D,
  ShaderMaterial,
  ShapeUtils,
  Vector2,
} from 'three';
import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { SectionPicture } from '../../jobs/protocol.ts';
import { darkerOf } from '../darkerOf.ts';
import { FatLine } from '../overlay/FatLine.ts';
import { makeFatLineMaterial, type OverlayFrame, UNCUT } from '../overlay/fatLineMaterial.ts';
import type { ViewTheme } from '../viewTypes.ts';
import { ringsToShapes } from './ringsToShapes.ts';

const OUTLINE_PX = 1.1;
/** Between coats: thin and pale, or the outlines of a shell seen small would cover the tints they part. */
const COAT_OUTLINE_PX = 0.7;
const COAT_OUTLINE_OPACITY = 0.5;
/** Distance of the strokes that mark the rubber as cut, CSS pixels; drawn to half or double as one zooms. */
const HATCH_PX = 9;

/** The faces of the cut: each area filled on the plane, outlined in ink, the rubber hatched. */
export class SectionCaps {
  private readonly root = new Group();
  private readonly fills: { mesh: Mesh<BufferGeometry, ShaderMaterial>; coat: number; group: number }[] = [];
  private readonly outlines: FatLine[] = [];
  /** One a piece, so that caps slide with their pieces; index 0 holds what stays. */
  private readonly groups: Group[] = [];

  constructor(
    parent: Object3D,
    private readonly frame: OverlayFrame,
    private readonly order: number,
  ) {
    parent.add(this.root);
  }

  setPicture(picture: SectionPicture | null, theme: ViewTheme): void {
    this.clear();
    if (picture === null) return;
    const paths: Float32Array[][] = [];
    for (const area of picture.areas) {
      const group = area.coat < 0 ? 0 : Math.max(0, area.piece) + 1;
      while (this.groups.length <= group) {
        const made = new Group();
        this.groups.push(made);
        this.root.add(made);
      }
      const geometry = fillGeometry(picture, area.rings);
      const mesh = new Mesh(geometry, makeFillMaterial(this.frame, area.coat < 0));
      mesh.frustumCulled = false;
      this.groups[group].add(mesh);
      this.fills.push({ mesh, coat: area.coat, group });
      paths[group] ??= [];
      for (const ring of area.rings) paths[group].push(ringPath(picture, ring));
    }
    this.groups.forEach((group, i) => {
      const material = makeFatLineMaterial(this.frame, UNCUT, {
        widthPx: i === 0 ? OUTLINE_PX : COAT_OUTLINE_PX,
        dashPx: null,
        opacity: i === 0 ? 1 : COAT_OUTLINE_OPACITY,
        part: 'front',
        liftPx: 1.5,
      });
      const outline = new FatLine(group, [material], this.order);
      outline.setPaths(paths[i] ?? []);
      this.outlines.push(outline);
    });
    this.setTheme(theme);
  }

  setTheme(theme: ViewTheme): void {
    const dark = darkerOf(theme.ink, theme.paper);
    for (const { mesh, coat } of this.fills) {
      const tints = theme.coats;
      const tint = coat < 0 || tints.length === 0 ? theme.rubber : tints[Math.min(coat, tints.length - 1)];
      mesh.material.uniforms['tint'].value.set(tint);
      mesh.material.uniforms['ink'].value.set(dark);
    }
    for (const outline of this.outlines) outline.setTint(dark);
  }

  /** Moves each piece's part of the cut; the rubber stays. */
  setOffsets(offsets: readonly Vec3[]): void {
    this.groups.forEach((group, i) => {
      const [x, y, z] = (i > 0 ? offsets[i - 1] : undefined) ?? [0, 0, 0];
      group.position.set(x, y, z);
    });
  }

  clear(): void {
    for (const { mesh } of this.fills) {
      mesh.geometry.dispose();
      mesh.material.dispose();
    }
    for (const outline of this.outlines) outline.dispose();
    for (const group of this.groups) group.removeFromParent();
    this.fills.length = 0;
    this.outlines.length = 0;
    this.groups.length = 0;
  }

  dispose(): void {
    this.clear();
    this.root.removeFromParent();
  }
}

function fillGeometry(picture: SectionPicture, rings: readonly Float32Array[]): BufferGeometry {
  const positions: number[] = [];
  const plane: number[] = [];
  const indices: number[] = [];
  for (const { outline, holes } of ringsToShapes(rings)) {
    const base = plane.length / 2;
    for (const ring of [outline, ...holes]) {
      for (let i = 0; i < ring.length; i += 2) {
        plane.push(ring[i], ring[i + 1]);
        positions.push(...placed(picture, ring[i], ring[i + 1]));
      }
    }
    for (const face of ShapeUtils.triangulateShape(toVectors(outline), holes.map(toVectors))) {
      for (const corner of face) indices.push(base + corner);
    }
  }
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(new Float32Array(positions), 3));
  geometry.setAttribute('plane', new BufferAttribute(new Float32Array(plane), 2));
  geometry.setIndex(indices);
  return geometry;
}

function toVectors(ring: Float32Array): Vector2[] {
  const out: Vector2[] = [];
  for (let i = 0; i < ring.length; i += 2) out.push(new Vector2(ring[i], ring[i + 1]));
  return out;
}

function ringPath(picture: SectionPicture, ring: Float32Array): Float32Array {
  const n = ring.length / 2;
  const out = new Float32Array(3 * (n + 1));
  for (let i = 0; i <= n; i++) {
    const at = (i % n) * 2;
    out.set(placed(picture, ring[at], ring[at + 1]), 3 * i);
  }
  return out;
}

function placed({ origin, uAxis, vAxis }: SectionPicture, u: number, v: number): [number, number, number] {
  return [
    origin[0] + u * uAxis[0] + v * vAxis[0],
    origin[1] + u * uAxis[1] + v * vAxis[1],
    origin[2] + u * uAxis[2] + v * vAxis[2],
  ];
}

function makeFillMaterial(frame: OverlayFrame, isHatched: boolean): ShaderMaterial {
  return new ShaderMaterial({
    side: DoubleSide,
    uniforms: {
      tint: { value: new Color() },
      ink: { value: new Color() },
      mmPerPixel: frame.mmPerPixel,
      hatch: { value: isHatched ? HATCH_PX : 0 },
    },
    vertexShader: /* glsl */ `
      attribute vec2 plane;
      varying vec2 vPlane;
      void main() {
        vPlane = plane;
        gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
      }
    `,
    fragmentShader: /* glsl */ `
      uniform vec3 tint;
      uniform vec3 ink;
      uniform float mmPerPixel;
      uniform float hatch;
      varying vec2 vPlane;
      void main() {
        vec3 colour = tint;
        if (hatch > 0.0) {
          // The spacing steps by powers of two, so that strokes stay put on the cut while one zooms a little.
          float spacing = exp2(floor(log2(hatch * mmPerPixel) + 0.5));
          float across = (vPlane.x + vPlane.y) * 0.70710678 / spacing;
          float soft = fwidth(across);
          float away = abs(fract(across) - 0.5);
          float stroke = 1.0 - smoothstep(0.45 * soft, 1.2 * soft, away);
          colour = mix(tint, ink, 0.55 * stroke);
        }
        gl_FragColor = vec4(colour, 1.0);
        #include <colorspace_fragment>
      }
    `,
  });
}
