import { Color, Scene, SRGBColorSpace, Vector2, WebGLRenderer, WebGLRenderTarget } from 'three';
import { CameraRig } from './camera/CameraRig.ts';
import { cameraBasis } from './camera/cameraBasis.ts';
import { mmPerPixelAt } from './camera/OrbitState.ts';
import { encodePicture } from './encodePicture.ts';
import { newOverlayFrame } from './overlay/fatLineMaterial.ts';
import { newSharedLight } from './surface/clayMaterial.ts';
import type { ViewBox } from './viewTypes.ts';

/** More device pixels than this a CSS pixel cost time and show nothing. */
const PIXEL_RATIO_MAX = 2;
const SNAPSHOT_PIXEL_RATIO = 2;
/** Samples of a pixel in a saved picture: smooth edges, as on the screen. */
const SNAPSHOT_SAMPLES = 4;
/** A frame that comes late (slow graphics, sleeping tab) moves the camera by no more than this. */
const STEP_MAX_SECONDS = 0.25;
const STEP_FIRST_SECONDS = 1 / 60;

/** True when the user asked the system for less motion: nothing glides then. */
export const wantsLessMotion = (): boolean => matchMedia('(prefers-reduced-motion: reduce)').matches;

export interface StageEvents {
  /** The host has another size. */
  resized(): void;
  /** So much time has gone by since the last frame: moves what moves by itself; true while there is more to move. */
  advancing(elapsedSeconds: number): boolean;
  /** A frame is about to be drawn; the camera stands where it will be drawn from. */
  framing(): void;
  /** A frame was drawn. */
  framed(): void;
  contextLost(): void;
  contextRestored(): void;
}

/** Canvas, renderer, camera and the loop that draws only on request. */
export class Stage {
  readonly scene = new Scene();
  readonly rig = new CameraRig(wantsLessMotion);
  readonly light = newSharedLight();
  readonly overlay = newOverlayFrame();
  readonly canvas: HTMLCanvasElement;
  private readonly renderer: WebGLRenderer;
  private readonly paper = new Color();
  private readonly watcher: ResizeObserver;
  private readonly stop = new AbortController();
  private frame = 0;
  private lastMs = 0;
  /** Passed by the graphics card when it has done all that it was given. */
  private fence: WebGLSync | null = null;
  private readonly canvasSize = new Vector2();
  private isLost = false;
  private box: ViewBox | null = null;

  constructor(
    private readonly host: HTMLElement,
    private readonly events: StageEvents,
  ) {
    this.renderer = new WebGLRenderer({ antialias: true, powerPreference: 'high-performance' });
    this.canvas = this.renderer.domElement;
    this.canvas.style.cssText = 'position:absolute;inset:0;display:block;width:100%;height:100%;outline:none';
    host.append(this.canvas);
    const options = { signal: this.stop.signal };
    this.canvas.addEventListener(
      'webglcontextlost',
      (event) => {
        event.preventDefault();
        this.isLost = true;
        this.fence = null;
        events.contextLost();
      },
      options,
    );
    this.canvas.addEventListener(
      'webglcontextrestored',
      () => {
        this.isLost = false;
        events.contextRestored();
        this.requestFrame();
      },
      options,
    );
    this.watcher = new ResizeObserver(() => this.measure());
    this.watcher.observe(host);
    this.measure();
  }

  setPaper(hex: string): void {
    // As the scene's background, since a clear colour is forgotten when the context is lost.
    this.paper.set(hex);
    this.scene.background = this.paper;
  }

  /** What near and far planes must hold; null: nothing. */
  setBox(box: ViewBox | null): void {
    this.box = box;
  }

  requestFrame(): void {
    if (this.frame === 0 && !this.isLost && !this.stop.signal.aborted) {
      this.frame = requestAnimationFrame((ms) => this.tick(ms));
    }
  }

  /**
   * Has the graphics card make ready, beside everything else, what it will draw the present scene by. Each question that waits
   * for the card is asked here, while it has nothing to draw yet.
   */
  async warmUp(): Promise<void> {
    const { renderer } = this;
    await nextTask();
    if (this.isLost || this.stop.signal.aborted) return;
    renderer.capabilities.getMaxAnisotropy();
    const compiled = renderer.compileAsync(this.scene, this.rig.camera);
    this.raiseFence();
    await compiled;
    while (this.isCardBusy) await nextTask();
    for (const program of renderer.info.programs ?? []) {
      if (this.isLost || this.stop.signal.aborted) return;
      program.getUniforms();
      await nextTask();
    }
  }

  /**
   * PNG of the present picture, at so many pixels a CSS pixel. What is to be seen on it is what stands when this is called; the
   * page does not wait for the graphics meanwhile.
   */
  async snapshot(pixelRatio = SNAPSHOT_PIXEL_RATIO): Promise<Blob> {
    if (this.isLost) throw new Error('The graphics card has let go of the picture; try again.');
    const { width, height } = this.rig.viewport;
    const target = new WebGLRenderTarget(
      Math.max(1, Math.round(width * pixelRatio)),
      Math.max(1, Math.round(height * pixelRatio)),
      { samples: SNAPSHOT_SAMPLES, colorSpace: SRGBColorSpace },
    );
    try {
      this.draw(target, pixelRatio);
      const rgba = new Uint8Array(4 * target.width * target.height);
      await this.renderer.readRenderTargetPixelsAsync(target, 0, 0, target.width, target.height, rgba);
      return await encodePicture(rgba, target.width);
    } finally {
      target.dispose();
    }
  }

  dispose(): void {
    this.stop.abort();
    cancelAnimationFrame(this.frame);
    this.watcher.disconnect();
    this.renderer.dispose();
    this.canvas.remove();
  }

  /**
   * True as long as the graphics card is at its work. Nothing is asked of it meanwhile: the page would stand still until
   * it is done, which on a machine that draws by its processor takes long.
   */
  private get isCardBusy(): boolean {
    const gl = this.renderer.getContext() as WebGL2RenderingContext;
    if (this.fence === null) return false;
    if (gl.getSyncParameter(this.fence, gl.SYNC_STATUS) !== gl.SIGNALED) return true;
    gl.deleteSync(this.fence);
    this.fence = null;
    return false;
  }

  private raiseFence(): void {
    const gl = this.renderer.getContext() as WebGL2RenderingContext;
    if (this.fence !== null) gl.deleteSync(this.fence);
    this.fence = gl.fenceSync(gl.SYNC_GPU_COMMANDS_COMPLETE, 0);
    gl.flush();
  }

  /** The host's size, for all that is reckoned from the picture; the canvas follows at the next frame (`fitCanvas`). */
  private measure(): void {
    const width = Math.max(1, this.host.clientWidth);
    const height = Math.max(1, this.host.clientHeight);
    const before = this.rig.viewport;
    this.rig.setViewport({ width, height });
    if (before.width !== width || before.height !== height) this.events.resized();
    this.requestFrame();
  }

  /** Gives the canvas the size of the viewport. That clears it: only just before a frame is drawn. */
  private fitCanvas(): void {
    const { width, height } = this.rig.viewport;
    const pixelRatio = Math.min(PIXEL_RATIO_MAX, window.devicePixelRatio || 1);
    const now = this.renderer.getSize(this.canvasSize);
    if (now.x === width && now.y === height && this.renderer.getPixelRatio() === pixelRatio) return;
    this.renderer.setPixelRatio(pixelRatio);
    this.renderer.setSize(width, height, false);
  }

  private tick(ms: number): void {
    this.frame = 0;
    if (this.isCardBusy) {
      this.requestFrame();
      return;
    }
    this.fitCanvas();
    const elapsed = this.lastMs === 0 ? STEP_FIRST_SECONDS : (ms - this.lastMs) / 1000;
    const step = Math.min(STEP_MAX_SECONDS, elapsed);
    const isCameraMoving = this.rig.advance(step);
    const isMoving = this.events.advancing(step) || isCameraMoving;
    this.draw();
    this.raiseFence();
    this.lastMs = isMoving ? ms : 0;
    if (isMoving) this.requestFrame();
    this.events.framed();
  }

  private draw(target: WebGLRenderTarget | null = null, pixelRatio = this.renderer.getPixelRatio()): void {
    const { rig, light, overlay, renderer } = this;
    const [min, max] = this.box === null ? [ORIGIN, ORIGIN] : [this.box.min, this.box.max];
    const centre = [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2, (min[2] + max[2]) / 2] as const;
    const radius = Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]) / 2;
    rig.apply(centre, Math.max(1, radius));
    const { right, up, back } = cameraBasis(rig.state.azimuthRad, rig.state.polarRad);
    // From the upper left over the shoulder, as drawings are shaded; the fill from the lower right, half behind.
    const mix = (r: number, u: number, b: number) =>
      [0, 1, 2].map((k) => r * right[k] + u * up[k] + b * back[k]) as [number, number, number];
    light.key.value.set(...mix(-0.62, 0.6, 0.52)).normalize();
    light.fill.value.set(...mix(0.85, -0.1, 0.35)).normalize();
    if (target === null) renderer.getDrawingBufferSize(overlay.resolution.value);
    else overlay.resolution.value.set(target.width, target.height);
    overlay.pixelRatio.value = pixelRatio;
    overlay.mmPerPixel.value = mmPerPixelAt(rig.state.distanceMm, rig.viewport);
    this.events.framing();
    renderer.setRenderTarget(target);
    renderer.render(this.scene, rig.camera);
    renderer.setRenderTarget(null);
  }
}

const nextTask = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));

const ORIGIN = [0, 0, 0] as const;
