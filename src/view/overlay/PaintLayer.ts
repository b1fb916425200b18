import {
  BufferAttribute,
  BufferGeometry,
  Color,
  DoubleSide,
  Mesh,
  type Object3D,
  ShaderMaterial,
} from 'three';
import type { SurfacePicture } from '../../jobs/protocol.ts';
import { HATCH_FRAGMENT, HATCH_VERTEX } from '../surface/hatchShader.ts';
import type { ViewTheme } from '../viewTypes.ts';
import type { OverlayFrame, SharedCut } from './fatLineMaterial.ts';
import { type PaintedArea, type PaintedPatch, paintedPatch } from './paintedPatch.ts';

/** Areas painted on the rubber: paler than it, with dots, and an outline. Drawn over the rubber itself. */
export class PaintLayer {
  private readonly mesh: Mesh<BufferGeometry, ShaderMaterial>;
  private drawn: { readonly rubber: SurfacePicture | null; readonly areas: readonly PaintedArea[] } = {
    rubber: null,
    areas: [],
  };

  constructor(
    private readonly parent: Object3D,
    frame: OverlayFrame,
    cut: SharedCut,
  ) {
    const material = new ShaderMaterial({
      side: DoubleSide,
      transparent: true,
      depthWrite: false,
      uniforms: {
        resolution: frame.resolution,
        pixelRatio: frame.pixelRatio,
        cutPlane: cut,
        paper: { value: new Color() },
        graphite: { value: new Color() },
      },
      vertexShader: VERTEX,
      fragmentShader: FRAGMENT,
      // In front of the rubber that it lies on, whose own body stands a hair back.
      polygonOffset: true,
      polygonOffsetFactor: -1,
      polygonOffsetUnits: -1,
    });
    this.mesh = new Mesh(new BufferGeometry(), material);
    this.mesh.frustumCulled = false;
    this.mesh.renderOrder = 5;
    this.mesh.visible = false;
    parent.add(this.mesh);
  }

  setTheme({ paper, ink }: ViewTheme): void {
    this.mesh.material.uniforms['paper'].value.set(paper);
    this.mesh.material.uniforms['graphite'].value.set(ink);
  }

  /** Lays the areas on a surface; the same ones on the same surface are not laid again. */
  lay(rubber: SurfacePicture | null, areas: readonly PaintedArea[]): void {
    if (this.drawn.rubber === rubber && this.drawn.areas === areas) return;
    this.drawn = { rubber, areas };
    const patch = rubber && areas.length > 0 ? paintedPatch(rubber, areas) : null;
    this.mesh.geometry.dispose();
    this.mesh.geometry = geometryOf(patch);
    this.mesh.visible = patch !== null && patch.reachMm.length > 0;
  }

  dispose(): void {
    this.parent.remove(this.mesh);
    this.mesh.geometry.dispose();
    this.mesh.material.dispose();
  }
}

function geometryOf(patch: PaintedPatch | null): BufferGeometry {
  const geometry = new BufferGeometry();
  if (patch === null) return geometry;
  geometry.setAttribute('position', new BufferAttribute(patch.positions, 3));
  geometry.setAttribute('reach', new BufferAttribute(patch.reachMm, 1));
  return geometry;
}

const VERTEX = /* glsl */ `
attribute float reach;
varying float vReach;
varying vec3 vBody;
${HATCH_VERTEX}

void main() {
  vReach = reach;
  vBody = position;
  placeAnchor();
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}
`;

const FRAGMENT = /* glsl */ `
uniform vec3 paper;
uniform vec3 graphite;
uniform vec4 cutPlane;
varying float vReach;
varying vec3 vBody;
${HATCH_FRAGMENT}

void main() {
  float slope = fwidth(vReach);
  if (dot(cutPlane.xyz, vBody) > cutPlane.w) discard;
  float line = contour(vReach, 0.0, slope, 2.0);
  float inside = vReach > 0.0 ? 1.0 : 0.0;
  if (inside + line <= 0.0) discard;
  float dotted = inside * dots(hatchPx(), 8.0, 1.3);
  float drawn = max(line, dotted);
  gl_FragColor = vec4(mix(paper, graphite, drawn), max(drawn, 0.55 * inside));
  #include <colorspace_fragment>
}
`;
