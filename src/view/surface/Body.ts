import { BufferAttribute, BufferGeometry, Mesh, type ShaderMaterial, Sphere, Vector3 } from 'three';
import type { ShadedSurface } from '../../core/picture/creaseNormals.ts';
import type { ShadedPicture, TouchPicture, UndercutPicture } from '../../jobs/protocol.ts';
import type { BodyInk } from './BodyInk.ts';
import { type ClayMarks, makeClayMaterial, type SharedLight } from './clayMaterial.ts';
import type { DepthMaps } from './DepthMaps.ts';
import { LOCK_KINDS, lockAttributes } from './lockAttributes.ts';
import { mapAttribute } from './mapAttribute.ts';
import { quietLines } from './quietLines.ts';
import { smoothAperture } from './smoothAperture.ts';

/** Enough to take the maps' steps out of the shade, few enough to leave a lip its shadow. */
const SMOOTHING_PASSES = 2;
/** Stands for 'never' among slides, mm: infinity is not safe in a shader. */
const NEVER_MM = 1e9;
/** Vertices whose shade is looked up between two looks at the clock: about 2 ms. */
const STEP_VERTS = 4000;
/** Triangles looked at for the mean length of a side. */
const SAMPLED_TRIANGLES = 2000;

/** Values of a map at the corners of a surface's triangles, and between what limits endless ones are held. */
export interface BodyMap {
  readonly corners: Float32Array;
  readonly least: number;
  readonly most: number;
}

/** One surface of clay: the rubber, a piece's part of it, or a shell. */
export class Body {
  readonly mesh: Mesh<BufferGeometry, ShaderMaterial>;
  private surface: ShadedSurface | null = null;
  private picture: ShadedPicture | null = null;
  private isBuilt = false;
  private locks: UndercutPicture | null = null;
  private touch: TouchPicture | null = null;
  private map: BodyMap | null = null;
  /** Values that the map's lines go by, by corner; null until they are worked out. */
  private lines: Float32Array | null = null;

  constructor(
    light: SharedLight,
    ink: BodyInk,
    private readonly marks: ClayMarks,
  ) {
    this.mesh = new Mesh(emptyGeometry(), makeClayMaterial(light, ink, marks));
    // Bodies are the whole picture; testing them against the frustum gains nothing.
    this.mesh.frustumCulled = false;
  }

  /** What is or will be shown. */
  get surfacePicture(): ShadedPicture | null {
    return this.picture;
  }

  /** Takes a surface, to be built when it is first seen; true when it differs from the one before. */
  setSurface(picture: ShadedPicture): boolean {
    if (this.picture?.key === picture.key) return false;
    this.picture = picture;
    this.isBuilt = false;
    this.locks = null;
    this.touch = null;
    this.map = null;
    this.lines = null;
    return true;
  }

  /** What locks on the surface taken last, for a body made with marks 'locks'; null: nothing is known. */
  setLocks(locks: UndercutPicture | null): void {
    if (locks === this.locks) return;
    this.locks = locks;
    if (this.isBuilt) this.markLocks();
  }

  /** Where the surface taken last touches, for a body made with marks 'touch'; null: nothing is known. */
  setTouch(touch: TouchPicture | null): void {
    if (touch === this.touch) return;
    this.touch = touch;
    if (this.isBuilt) this.markTouch();
  }

  /** A map over the surface taken last, for a body made with marks 'locks'; null: none. True when it is another. */
  setMap(map: BodyMap | null): boolean {
    if (map?.corners === this.map?.corners && map?.least === this.map?.least && map?.most === this.map?.most)
      return false;
    this.map = map;
    this.lines = null;
    if (this.isBuilt) this.markMap();
    return true;
  }

  /** Rules the map by lines that leave out specks smaller than `smallestMm`, in steps of a few milliseconds. */
  *quietMap(borders: readonly number[], smallestMm: number): Generator<void> {
    const { map, picture } = this;
    if (map === null || picture === null || map.corners.length !== picture.indices.length) return;
    const { positions, indices } = picture;
    const values = new Float32Array(positions.length / 3).fill(Number.NaN);
    for (let c = 0; c < indices.length; c++) values[indices[c]] = map.corners[c];
    yield;
    const quiet = yield* quietLines(values, positions, indices, borders, smallestMm);
    // Another map may have come meanwhile.
    if (this.map !== map || this.picture !== picture) return;
    this.lines = Float32Array.from(indices, (vertex) => quiet[vertex]);
    yield;
    if (this.isBuilt) this.markMap();
  }

  get touchPicture(): TouchPicture | null {
    return this.touch;
  }

  /** Builds what `setSurface` took, if that is still to do; true when it was. A body out of sight costs nothing so. */
  build(): boolean {
    if (this.isBuilt || this.picture === null) return false;
    this.isBuilt = true;
    this.surface = this.picture.shaded;
    const { positions, normals, indices } = this.surface;
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new BufferAttribute(positions, 3));
    geometry.setAttribute('normal', new BufferAttribute(normals, 3));
    geometry.setAttribute('aperture', new BufferAttribute(openAperture(normals), 4, true));
    geometry.setIndex(new BufferAttribute(indices, 1));
    // Else three would go through all corners for it, and it is only asked for the order of drawing.
    geometry.boundingSphere = new Sphere(new Vector3(), Number.POSITIVE_INFINITY);
    this.mesh.geometry.dispose();
    this.mesh.geometry = geometry;
    if (this.marks === 'locks') {
      this.markLocks();
      this.markMap();
    }
    if (this.marks === 'touch') this.markTouch();
    return true;
  }

  /** Takes over the shade of hollows from the maps of the body it belongs to, in steps of a few milliseconds. */
  *shadeBy(maps: DepthMaps): Generator<void> {
    const { surface } = this;
    if (surface === null || !this.isBuilt) return;
    const { geometry } = this.mesh;
    const { positions, normals, indices } = surface;
    const aperture = new Int8Array((4 * positions.length) / 3);
    for (let from = 0; from < positions.length / 3; from += STEP_VERTS) {
      maps.sample(positions, normals, aperture, from, Math.min(from + STEP_VERTS, positions.length / 3));
      yield;
    }
    yield* smoothAperture(aperture, indices, SMOOTHING_PASSES);
    // Another surface may have come meanwhile.
    if (this.surface !== surface || this.mesh.geometry !== geometry) return;
    const attribute = geometry.getAttribute('aperture') as BufferAttribute;
    attribute.copyArray(aperture);
    attribute.needsUpdate = true;
  }

  setTint(hex: string): void {
    this.mesh.material.uniforms['tint'].value.set(hex);
  }

  private markLocks(): void {
    if (this.surface === null || this.picture === null) return;
    const count = this.surface.positions.length / 3;
    const { shares, depthMm } =
      this.locks === null
        ? { shares: new Uint8Array(LOCK_KINDS * count), depthMm: new Float32Array(count) }
        : lockAttributes(this.locks, this.surface.indices, this.picture.indices, count);
    this.mesh.geometry.setAttribute('lockShares', new BufferAttribute(shares, LOCK_KINDS, true));
    this.mesh.geometry.setAttribute('lockDepth', new BufferAttribute(depthMm, 1));
  }

  private markMap(): void {
    const { surface, map } = this;
    if (surface === null) return;
    if (map === null || map.corners.length !== surface.indices.length) {
      this.mesh.geometry.deleteAttribute('map');
      return;
    }
    const count = surface.positions.length / 3;
    const values = mapAttribute(map.corners, surface.indices, count, map.least, map.most, this.lines);
    this.mesh.geometry.setAttribute('map', new BufferAttribute(values, 3));
  }

  private markTouch(): void {
    if (this.surface === null || this.picture === null) return;
    const corners = this.surface.indices;
    const sources = this.picture.indices;
    const spans = new Float32Array((2 * this.surface.positions.length) / 3).fill(NEVER_MM);
    if (this.touch !== null) {
      const { fromMm, toMm } = this.touch;
      for (let c = 0; c < corners.length; c++) {
        spans[2 * corners[c]] = Math.min(NEVER_MM, fromMm[sources[c]]);
        spans[2 * corners[c] + 1] = Math.min(NEVER_MM, toMm[sources[c]]);
      }
    }
    this.mesh.geometry.setAttribute('touch', new BufferAttribute(spans, 2));
    this.mesh.material.uniforms['softMm'].value = meanSideMm(this.surface);
  }

  dispose(): void {
    this.mesh.removeFromParent();
    this.mesh.geometry.dispose();
    this.mesh.material.dispose();
  }
}

/** Without corners, but of the kind that is drawn later: by that the graphics card is made ready (`Stage.warmUp`). */
function emptyGeometry(): BufferGeometry {
  const geometry = new BufferGeometry();
  for (const name of ['position', 'normal']) {
    geometry.setAttribute(name, new BufferAttribute(new Float32Array(0), 3));
  }
  return geometry;
}

/** Until the maps are made every spot counts as open along its normal. */
function openAperture(normals: Float32Array): Int8Array {
  const n = normals.length / 3;
  const out = new Int8Array(4 * n);
  for (let i = 0; i < n; i++) {
    out[4 * i] = Math.round(normals[3 * i] * 127);
    out[4 * i + 1] = Math.round(normals[3 * i + 1] * 127);
    out[4 * i + 2] = Math.round(normals[3 * i + 2] * 127);
    out[4 * i + 3] = 127;
  }
  return out;
}

function meanSideMm({ positions, indices }: ShadedSurface): number {
  const triCount = indices.length / 3;
  const step = Math.max(1, Math.floor(triCount / SAMPLED_TRIANGLES));
  let sum = 0;
  let count = 0;
  for (let t = 0; t < triCount; t += step) {
    const a = 3 * indices[3 * t];
    const b = 3 * indices[3 * t + 1];
    sum += Math.hypot(
      positions[b] - positions[a],
      positions[b + 1] - positions[a + 1],
      positions[b + 2] - positions[a + 2],
    );
    count++;
  }
  return count > 0 && sum > 0 ? sum / count : 1;
}
