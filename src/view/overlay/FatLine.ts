import {
  BufferAttribute,
  InstancedBufferAttribute,
  InstancedBufferGeometry,
  Mesh,
  type Object3D,
  type ShaderMaterial,
} from 'three';

/** Corners of the strip that each segment is stretched from: across -1..1, along 0..1. */
const STRIP = new Float32Array([-1, 0, 0, 1, 0, 0, 1, 1, 0, -1, 1, 0]);
const STRIP_INDEX = new Uint16Array([0, 1, 2, 0, 2, 3]);

/** A set of polylines drawn with one or more materials (its seen part, its hidden part). */
export class FatLine {
  private readonly meshes: Mesh<InstancedBufferGeometry, ShaderMaterial>[] = [];
  private geometry = new InstancedBufferGeometry();

  /** `order` is the order of drawing; higher comes later, over the rest. */
  constructor(
    parent: Object3D,
    private readonly materials: readonly ShaderMaterial[],
    order: number,
  ) {
    for (const material of materials) {
      const mesh = new Mesh(this.geometry, material);
      mesh.frustumCulled = false;
      mesh.renderOrder = order;
      parent.add(mesh);
      this.meshes.push(mesh);
    }
    this.setPaths([]);
  }

  /** @param paths polylines, each n x 3, mm; a closed one repeats its first point at the end */
  setPaths(paths: readonly ArrayLike<number>[]): void {
    const segments = paths.reduce((sum, path) => sum + Math.max(0, path.length / 3 - 1), 0);
    const from = new Float32Array(3 * segments);
    const to = new Float32Array(3 * segments);
    const along = new Float32Array(2 * segments);
    let at = 0;
    for (const path of paths) {
      let run = 0;
      for (let i = 0; i + 5 < path.length; i += 3) {
        for (let k = 0; k < 3; k++) {
          from[3 * at + k] = path[i + k];
          to[3 * at + k] = path[i + 3 + k];
        }
        along[2 * at] = run;
        run += Math.hypot(path[i + 3] - path[i], path[i + 4] - path[i + 1], path[i + 5] - path[i + 2]);
        along[2 * at + 1] = run;
        at++;
      }
    }
    // A new geometry each time: three does not let instanced attributes change their length.
    this.geometry.dispose();
    const geometry = new InstancedBufferGeometry();
    geometry.setAttribute('position', new BufferAttribute(STRIP, 3));
    geometry.setIndex(new BufferAttribute(STRIP_INDEX, 1));
    geometry.setAttribute('from', new InstancedBufferAttribute(from, 3));
    geometry.setAttribute('to', new InstancedBufferAttribute(to, 3));
    geometry.setAttribute('along', new InstancedBufferAttribute(along, 2));
    geometry.instanceCount = segments;
    this.geometry = geometry;
    for (const mesh of this.meshes) {
      mesh.geometry = geometry;
      mesh.visible = segments > 0;
    }
  }

  setTint(hex: string): void {
    for (const material of this.materials) material.uniforms['tint'].value.set(hex);
  }

  dispose(): void {
    for (const mesh of this.meshes) mesh.removeFromParent();
    for (const material of this.materials) material.dispose();
    this.geometry.dispose();
  }
}
