import { BufferAttribute, BufferGeometry, Color, type Object3D, Points, ShaderMaterial } from 'three';
import type { OverlayFrame } from './fatLineMaterial.ts';

/**
 * How a control point is drawn: as a ring on paper, filled (selected), small and faint (where a click would set one),
 * as a small faint ring (behind the mould), or not at all.
 */
export const POINT_STATE = { ring: 0, filled: 1, ghost: 2, hidden: 3, gone: 4 } as const;
export type PointState = (typeof POINT_STATE)[keyof typeof POINT_STATE];

export interface PointMark {
  readonly point: readonly [number, number, number];
  readonly state: PointState;
}

/** Outer radius on the screen, CSS pixels. */
const RADIUS_PX = 7;

/**
 * Circles of constant size on the screen. They are drawn whole or not at all: what hides them is asked per point by the
 * owner, since a depth test would leave half discs on every slanted surface.
 */
export class PointMarks {
  private readonly points: Points<BufferGeometry, ShaderMaterial>;

  constructor(parent: Object3D, frame: OverlayFrame, order: number) {
    const material = new ShaderMaterial({
      transparent: true,
      depthWrite: false,
      depthTest: false,
      uniforms: {
        pixelRatio: frame.pixelRatio,
        ring: { value: new Color() },
        paper: { value: new Color() },
        radius: { value: RADIUS_PX },
      },
      vertexShader: VERTEX,
      fragmentShader: FRAGMENT,
    });
    this.points = new Points(new BufferGeometry(), material);
    this.points.frustumCulled = false;
    this.points.renderOrder = order;
    parent.add(this.points);
    this.setMarks([]);
  }

  setMarks(marks: readonly PointMark[]): void {
    const positions = new Float32Array(3 * marks.length);
    const states = new Float32Array(marks.length);
    marks.forEach((mark, i) => {
      positions.set(mark.point, 3 * i);
      states[i] = mark.state;
    });
    this.points.geometry.dispose();
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new BufferAttribute(positions, 3));
    geometry.setAttribute('state', new BufferAttribute(states, 1));
    this.points.geometry = geometry;
    this.points.visible = marks.length > 0;
  }

  /** Changes how the points are drawn, not where they are. */
  setStates(states: readonly PointState[]): void {
    const attribute = this.points.geometry.getAttribute('state') as BufferAttribute;
    states.forEach((state, i) => {
      attribute.setX(i, state);
    });
    attribute.needsUpdate = true;
  }

  setTint(ringHex: string, paperHex: string): void {
    this.points.material.uniforms['ring'].value.set(ringHex);
    this.points.material.uniforms['paper'].value.set(paperHex);
  }

  dispose(): void {
    this.points.removeFromParent();
    this.points.geometry.dispose();
    this.points.material.dispose();
  }
}

const VERTEX = /* glsl */ `
attribute float state;
uniform float pixelRatio;
uniform float radius;
varying float vState;
varying float vRadius;

void main() {
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
  vState = state;
  vRadius = radius * (state > 1.5 ? 0.6 : state > 0.5 ? 1.15 : 1.0) * pixelRatio;
  gl_PointSize = 2.0 * vRadius + 2.0;
  // Left out: put behind the eye.
  if (state > 3.5) gl_Position = vec4(0.0, 0.0, -2.0, 1.0);
}
`;

const FRAGMENT = /* glsl */ `
uniform vec3 ring;
uniform vec3 paper;
uniform float pixelRatio;
varying float vState;
varying float vRadius;

void main() {
  float away = length(gl_PointCoord - 0.5) * (2.0 * vRadius + 2.0);
  float cover = clamp(vRadius + 0.5 - away, 0.0, 1.0);
  if (cover <= 0.0) discard;
  bool isHidden = vState > 2.5;
  float rim = clamp(away - (vRadius - (isHidden ? 1.2 : 2.2) * pixelRatio) + 0.5, 0.0, 1.0);
  if (isHidden) cover *= rim;
  vec3 inner = vState > 0.5 ? ring : paper;
  gl_FragColor = vec4(mix(inner, ring, rim), cover * (vState > 1.5 ? 0.6 : 1.0));
  #include <colorspace_fragment>
}
`;
