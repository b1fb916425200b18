import { Matrix4, PerspectiveCamera } from 'three';
import { cameraBasis } from './cameraBasis.ts';
import { FIELD_OF_VIEW_RAD, type OrbitState, type Viewport } from './OrbitState.ts';

/** Time in which the camera closes 63 % of the way to its goal: a drag should feel held, a change of view should glide. */
const DRAG_SECONDS = 0.04;
const GLIDE_SECONDS = 0.11;

/** Below these the rest of a glide cannot be seen: a tenth of a pixel or so. */
const STILL_RAD = 3e-4;
const STILL_SHARE = 3e-4;

/** Holds where the camera is and where it is going, and moves it there frame by frame. */
export class CameraRig {
  readonly camera = new PerspectiveCamera((FIELD_OF_VIEW_RAD * 180) / Math.PI);
  private now: OrbitState = { target: [0, 0, 0], azimuthRad: -2, polarRad: 1.4, distanceMm: 1000 };
  private goal: OrbitState = this.now;
  private seconds = DRAG_SECONDS;
  private size: Viewport = { width: 1, height: 1 };
  private readonly matrix = new Matrix4();

  constructor(private readonly wantsLessMotion: () => boolean) {
    this.camera.matrixAutoUpdate = false;
  }

  get state(): OrbitState {
    return this.now;
  }

  get goalState(): OrbitState {
    return this.goal;
  }

  get viewport(): Viewport {
    return this.size;
  }

  setViewport(viewport: Viewport): void {
    this.size = viewport;
    this.camera.aspect = viewport.width / viewport.height;
  }

  /** 'follow': damped, for drags. 'glide': slower, for views. 'jump': at once; so are all when the user wants less motion. */
  moveTo(goal: OrbitState, manner: 'follow' | 'glide' | 'jump'): void {
    this.goal = goal;
    this.seconds = manner === 'glide' ? GLIDE_SECONDS : DRAG_SECONDS;
    if (manner === 'jump' || this.wantsLessMotion()) this.now = goal;
  }

  /** One step of the glide; true while there is more to go. */
  advance(elapsedSeconds: number): boolean {
    const { now, goal } = this;
    if (now === goal) return false;
    const share = 1 - Math.exp(-elapsedSeconds / this.seconds);
    const mix = (a: number, b: number): number => a + (b - a) * share;
    const next: OrbitState = {
      target: [
        mix(now.target[0], goal.target[0]),
        mix(now.target[1], goal.target[1]),
        mix(now.target[2], goal.target[2]),
      ],
      azimuthRad: mix(now.azimuthRad, goal.azimuthRad),
      polarRad: mix(now.polarRad, goal.polarRad),
      // Distances are mixed by their ratio, so that zooming in and out feel alike.
      distanceMm: Math.exp(mix(Math.log(now.distanceMm), Math.log(goal.distanceMm))),
    };
    const still =
      Math.abs(next.azimuthRad - goal.azimuthRad) < STILL_RAD &&
      Math.abs(next.polarRad - goal.polarRad) < STILL_RAD &&
      Math.abs(next.distanceMm / goal.distanceMm - 1) < STILL_SHARE &&
      Math.hypot(
        next.target[0] - goal.target[0],
        next.target[1] - goal.target[1],
        next.target[2] - goal.target[2],
      ) <
        STILL_SHARE * goal.distanceMm * 0.2;
    this.now = still ? goal : next;
    return !still;
  }

  /** Puts the three camera where the state says; near and far hold a ball of `radiusMm` about `centre`. */
  apply(centre: readonly [number, number, number], radiusMm: number): void {
    const { target, azimuthRad, polarRad, distanceMm } = this.now;
    const { right, up, back } = cameraBasis(azimuthRad, polarRad);
    const x = target[0] + back[0] * distanceMm;
    const y = target[1] + back[1] * distanceMm;
    const z = target[2] + back[2] * distanceMm;
    // biome-ignore format: one row of the matrix a line.
    this.matrix.set(
      right[0], up[0], back[0], x,
      right[1], up[1], back[1], y,
      right[2], up[2], back[2], z,
      0, 0, 0, 1,
    );
    this.camera.matrix.copy(this.matrix);
    this.camera.updateMatrixWorld(true);
    const depth = (x - centre[0]) * back[0] + (y - centre[1]) * back[1] + (z - centre[2]) * back[2];
    this.camera.far = Math.max(depth + radiusMm, 1);
    // A near plane too close to the eye costs depth precision, and lines would flicker on the surface.
    this.camera.near = Math.max(depth - radiusMm, this.camera.far / 500);
    this.camera.updateProjectionMatrix();
  }
}
