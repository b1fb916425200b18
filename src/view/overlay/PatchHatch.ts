import {
  BufferAttribute,
  BufferGeometry,
  Color,
  DoubleSide,
  GreaterDepth,
  LessEqualDepth,
  Mesh,
  type Object3D,
  ShaderMaterial,
} from 'three';
import { HATCH_FRAGMENT, HATCH_VERTEX } from '../surface/hatchShader.ts';
import type { OverlayFrame, SharedCut } from './fatLineMaterial.ts';
import type { FoundFill } from './foundLooks.ts';

/** Each filling as a term of the shader. */
const FILLS: Readonly<Record<Exclude<FoundFill, null>, string>> = {
  rising: 'stroke(px, vec2(h, -h), 7.0, 1.2)',
  falling: 'stroke(px, vec2(h, h), 7.0, 1.2)',
  level: 'stroke(px, vec2(0.0, 1.0), 6.0, 1.2)',
  upright: 'stroke(px, vec2(1.0, 0.0), 6.0, 1.2)',
  dots: 'dots(px, 6.0, 1.1)',
};

/** Loose triangles filled with strokes or dots over whatever they lie on, seen from both sides. */
export class PatchHatch {
  private readonly mesh: Mesh<BufferGeometry, ShaderMaterial>;

  /** `part` 'hidden': only where something stands before them, faintly. */
  constructor(
    parent: Object3D,
    frame: OverlayFrame,
    cut: SharedCut,
    fill: Exclude<FoundFill, null>,
    part: 'front' | 'hidden',
  ) {
    this.mesh = new Mesh(
      new BufferGeometry(),
      new ShaderMaterial({
        side: DoubleSide,
        transparent: true,
        depthWrite: false,
        depthFunc: part === 'front' ? LessEqualDepth : GreaterDepth,
        polygonOffset: true,
        polygonOffsetFactor: -1,
        polygonOffsetUnits: -2,
        uniforms: {
          resolution: frame.resolution,
          pixelRatio: frame.pixelRatio,
          cutPlane: cut,
          tint: { value: new Color() },
          opacity: { value: part === 'front' ? 1 : 0.45 },
        },
        vertexShader: VERTEX,
        fragmentShader: fragmentOf(FILLS[fill]),
      }),
    );
    this.mesh.frustumCulled = false;
    this.mesh.renderOrder = 6;
    this.mesh.visible = false;
    parent.add(this.mesh);
  }

  /** @param patches loose triangles, each n x 9, mm */
  setTris(patches: readonly Float32Array[]): void {
    const length = patches.reduce((sum, patch) => sum + patch.length, 0);
    this.mesh.visible = length > 0;
    this.mesh.geometry.dispose();
    this.mesh.geometry = new BufferGeometry();
    const positions = new Float32Array(length);
    let at = 0;
    for (const patch of patches) {
      positions.set(patch, at);
      at += patch.length;
    }
    this.mesh.geometry.setAttribute('position', new BufferAttribute(positions, 3));
  }

  setTint(hex: string): void {
    this.mesh.material.uniforms['tint'].value.set(hex);
  }

  dispose(): void {
    this.mesh.removeFromParent();
    this.mesh.geometry.dispose();
    this.mesh.material.dispose();
  }
}

const VERTEX = /* glsl */ `
varying vec3 vBody;
${HATCH_VERTEX}

void main() {
  vBody = position;
  placeAnchor();
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}
`;

const fragmentOf = (fill: string): string => /* glsl */ `
uniform vec3 tint;
uniform float opacity;
uniform vec4 cutPlane;
varying vec3 vBody;
${HATCH_FRAGMENT}

void main() {
  if (dot(cutPlane.xyz, vBody) > cutPlane.w) discard;
  const float h = 0.70710678;
  vec2 px = hatchPx();
  float drawn = ${fill};
  if (drawn <= 0.0) discard;
  gl_FragColor = vec4(tint, drawn * opacity);
  #include <colorspace_fragment>
}
`;
