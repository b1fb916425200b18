import { BufferAttribute, BufferGeometry, Mesh, type Object3D, ShaderMaterial } from 'three';
import type { SurfacePicture } from '../../jobs/protocol.ts';
import type { BodyInk } from '../surface/BodyInk.ts';
import { HATCH_FRAGMENT, HATCH_VERTEX } from '../surface/hatchShader.ts';

/** Triangles of the rubber set off by crossed strokes in accent: the face that a click would take. */
export class FacePatch {
  private readonly mesh: Mesh<BufferGeometry, ShaderMaterial>;

  constructor(parent: Object3D, ink: BodyInk) {
    this.mesh = new Mesh(
      new BufferGeometry(),
      new ShaderMaterial({
        transparent: true,
        depthWrite: false,
        polygonOffset: true,
        polygonOffsetFactor: -1,
        polygonOffsetUnits: -2,
        uniforms: {
          resolution: ink.frame.resolution,
          pixelRatio: ink.frame.pixelRatio,
          accent: ink.accent,
        },
        vertexShader: /* glsl */ `
          ${HATCH_VERTEX}
          void main() {
            placeAnchor();
            gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
          }
        `,
        fragmentShader: /* glsl */ `
          uniform vec3 accent;
          ${HATCH_FRAGMENT}
          void main() {
            float strokes = max(stroke(hatchPx(), vec2(1.0, 0.0), 8.0, 1.4), stroke(hatchPx(), vec2(0.0, 1.0), 8.0, 1.4));
            gl_FragColor = vec4(accent, max(0.22, strokes));
            #include <colorspace_fragment>
          }
        `,
      }),
    );
    this.mesh.frustumCulled = false;
    this.mesh.renderOrder = 4;
    this.mesh.visible = false;
    parent.add(this.mesh);
  }

  setTris(surface: SurfacePicture, tris: readonly number[]): void {
    const corners = new Float32Array(9 * tris.length);
    tris.forEach((t, n) => {
      for (let c = 0; c < 3; c++) {
        const v = 3 * surface.indices[3 * t + c];
        for (let k = 0; k < 3; k++) corners[9 * n + 3 * c + k] = surface.positions[v + k];
      }
    });
    this.mesh.geometry.dispose();
    this.mesh.geometry = new BufferGeometry();
    this.mesh.geometry.setAttribute('position', new BufferAttribute(corners, 3));
    this.mesh.visible = tris.length > 0;
  }

  clear(): void {
    this.mesh.visible = false;
  }

  dispose(): void {
    this.mesh.removeFromParent();
    this.mesh.geometry.dispose();
    this.mesh.material.dispose();
  }
}
