import { BufferAttribute, BufferGeometry, Mesh, type ShaderMaterial } from 'three';
import type { SurfacePicture } from '../../jobs/protocol.ts';
import { makeClayMaterial, type SharedLight } from './clayMaterial.ts';
import { creaseNormals, type ShadedSurface } from './creaseNormals.ts';
import type { DepthMaps } from './DepthMaps.ts';
import { smoothAperture } from './smoothAperture.ts';

/** Enough to take the maps' steps out of the shade, few enough to leave a lip its shadow. */
const SMOOTHING_PASSES = 2;

/** One surface of clay: the rubber, a piece's part of it, or a shell. */
export class Body {
  readonly mesh: Mesh<BufferGeometry, ShaderMaterial>;
  private surface: ShadedSurface | null = null;
  private picture: SurfacePicture | null = null;
  private isBuilt = false;

  constructor(light: SharedLight) {
    this.mesh = new Mesh(new BufferGeometry(), makeClayMaterial(light));
    // Bodies are the whole picture; testing them against the frustum gains nothing.
    this.mesh.frustumCulled = false;
  }

  /** What is or will be shown. */
  get surfacePicture(): SurfacePicture | null {
    return this.picture;
  }

  /** Takes a surface, to be built when it is first seen; true when it differs from the one before. */
  setSurface(picture: SurfacePicture): boolean {
    if (this.picture !== null && hasSameSurface(this.picture, picture)) return false;
    this.picture = picture;
    this.isBuilt = false;
    return true;
  }

  /** Builds what `setSurface` took, if that is still to do; true when it was. A body out of sight costs nothing so. */
  build(maps: DepthMaps | null): boolean {
    if (this.isBuilt || this.picture === null) return false;
    this.isBuilt = true;
    this.surface = creaseNormals(this.picture.positions, this.picture.indices);
    const { positions, normals, indices } = this.surface;
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new BufferAttribute(positions, 3));
    geometry.setAttribute('normal', new BufferAttribute(normals, 3));
    geometry.setAttribute('aperture', new BufferAttribute(openAperture(normals), 4, true));
    geometry.setIndex(new BufferAttribute(indices, 1));
    this.mesh.geometry.dispose();
    this.mesh.geometry = geometry;
    if (maps !== null) this.shadeBy(maps);
    return true;
  }

  /** Takes over the shade of hollows from the maps of the body it belongs to. */
  shadeBy(maps: DepthMaps): void {
    if (this.surface === null || !this.isBuilt) return;
    const attribute = this.mesh.geometry.getAttribute('aperture') as BufferAttribute;
    const aperture = maps.sample(this.surface.positions, this.surface.normals);
    smoothAperture(aperture, this.surface.indices, SMOOTHING_PASSES);
    attribute.copyArray(aperture);
    attribute.needsUpdate = true;
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

/** Until the maps are made every spot counts as open along its normal. */
function openAperture(normals: Float32Array): Int8Array {
  const n = normals.length / 3;
  const out = new Int8Array(4 * n);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < 3; k++) out[4 * i + k] = Math.round(normals[3 * i + k] * 127);
    out[4 * i + 3] = 127;
  }
  return out;
}

function hasSameSurface(a: SurfacePicture, b: SurfacePicture): boolean {
  return isSameArray(a.positions, b.positions) && isSameArray(a.indices, b.indices);
}

/** Compares bit by bit as whole numbers, which is quickest and right for what one worker made twice. */
function isSameArray(a: Float32Array | Uint32Array, b: Float32Array | Uint32Array): boolean {
  if (a === b) return true;
  if (a.length !== b.length) return false;
  const x = new Int32Array(a.buffer, a.byteOffset, a.length);
  const y = new Int32Array(b.buffer, b.byteOffset, b.length);
  for (let i = 0; i < x.length; i++) if (x[i] !== y[i]) return false;
  return true;
}
