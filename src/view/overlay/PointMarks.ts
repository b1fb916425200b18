import { BufferAttribute, BufferGeometry, Color, type Object3D, Points, ShaderMaterial } from 'three';
import type { OverlayFrame } from './fatLineMaterial.ts';

/** How a control point is drawn: as a ring on paper, filled (selected), or small and faint (where a click would set one). */
export const POINT_STATE = { ring: 0, filled: 1, ghost: 2 } as const;
export type PointState = (typeof POINT_STATE)[keyof typeof POINT_STATE];

export interface PointMark {
  readonly point: readonly [number, number, number];
  readonly state: PointState;
}

/** Outer radius on the screen, CSS pixels. */
const RADIUS_PX = 7;
/** Brought toward the eye by this, so that a ring on a surface seen aslant is not half swallowed by it. */
const LIFT_PX = 14;

/** Circles of constant size on the screen. */
export class PointMarks {
  private readonly points: Points<BufferGeometry, ShaderMaterial>;

  constructor(parent: Object3D, frame: OverlayFrame, order: number) {
    const material = new ShaderMaterial({
      transparent: true,
      depthWrite: false,
      uniforms: {
        pixelRatio: frame.pixelRatio,
        mmPerPixel: frame.mmPerPixel,
        ring: { value: new Color() },
        paper: { value: new Color() },
        radius: { value: RADIUS_PX },
        lift: { value: LIFT_PX },
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
uniform float mmPerPixel;
uniform float radius;
uniform float lift;
varying float vState;
varying float vRadius;

void main() {
  vec4 view = modelViewMatrix * vec4(position, 1.0);
  view.xyz *= 1.0 - lift * mmPerPixel / max(length(view.xyz), 1e-6);
  gl_Position = projectionMatrix * view;
  vState = state;
  vRadius = radius * (state > 1.5 ? 0.6 : state > 0.5 ? 1.15 : 1.0) * pixelRatio;
  gl_PointSize = 2.0 * vRadius + 2.0;
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
  float rim = clamp(away - (vRadius - 2.2 * pixelRatio) + 0.5, 0.0, 1.0);
  vec3 inner = vState > 0.5 ? ring : paper;
  gl_FragColor = vec4(mix(inner, ring, rim), cover * (vState > 1.5 ? 0.6 : 1.0));
  #include <colorspace_fragment>
}
`;
