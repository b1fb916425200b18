import { Matrix4 } from 'three';
import type { Vec3 } from '../core/mesh/TriMesh.ts';
import type { LinePicture, PlanGeometry, SectionPicture } from '../jobs/protocol.ts';
import { ASPECT_ANGLES, FIRST_LOOK, nearestTurn } from './camera/aspectAngles.ts';
import { type CameraBasis, cameraBasis, dot } from './camera/cameraBasis.ts';
import { fitOrbit } from './camera/fitOrbit.ts';
import { offsetPoints, thinnedPoints } from './camera/fitPoints.ts';
import { anglesAround, outwardNormal } from './camera/lookOnto.ts';
import { orbited, panned, zoomedAt } from './camera/moveOrbit.ts';
import { distanceForHeight, mmPerPixelAt, type OrbitState } from './camera/OrbitState.ts';
import { pixelRay, projectPoint } from './camera/projectPoint.ts';
import { BrushRing } from './overlay/BrushRing.ts';
import { CutPlanes } from './overlay/CutPlanes.ts';
import { FacePatch } from './overlay/FacePatch.ts';
import { FoundOverlay } from './overlay/FoundOverlay.ts';
import { LineOverlay, type PointFate } from './overlay/LineOverlay.ts';
import { PaintLayer } from './overlay/PaintLayer.ts';
import { PieceBorders } from './overlay/PieceBorders.ts';
import type { PaintedArea } from './overlay/paintedPatch.ts';
import {
  type ControlPointRef,
  hitControlPoint,
  MOUSE_RADIUS_PX,
  TOUCH_RADIUS_PX,
} from './pointer/hitControlPoint.ts';
import { type HoverPlace, PointerControl } from './pointer/PointerControl.ts';
import { type RayHit, SurfacePicker } from './pointer/SurfacePicker.ts';
import { Stage, wantsLessMotion } from './Stage.ts';
import { SectionCaps } from './section/SectionCaps.ts';
import { Board } from './surface/Board.ts';
import { Bodies } from './surface/Bodies.ts';
import type { BodyMap } from './surface/Body.ts';
import { type BodyInk, MOST_GONE, MOST_LEVELS, newBodyInk } from './surface/BodyInk.ts';
import { setMapInk } from './surface/MapInk.ts';
import { workInSlices } from './surface/workInSlices.ts';
import { type BrushEvents, BrushTool } from './tools/BrushTool.ts';
import type { PointerTool, ToolKey, ToolPlace } from './tools/PointerTool.ts';
import {
  type Aspect,
  type LockLook,
  type MapLook,
  NO_TRIAL,
  type PointerMode,
  type ScreenPoint,
  type SurfaceHit,
  type Trial,
  type ViewBox,
  type ViewEvents,
  type ViewShow,
  type ViewTheme,
} from './viewTypes.ts';

const DEFAULT_SHOW: ViewShow = {
  rubber: true,
  shells: false,
  lines: true,
  points: true,
  marks: false,
  foundShown: null,
  undercuts: false,
  filler: true,
  highlightLine: undefined,
  highlightPoint: undefined,
};

/** Dragging across 500 pixels turns the mould half round. */
const ORBIT_RAD_PER_PX = Math.PI / 500;
/** The picture's height stays between these multiples of the mould's diagonal; nearer, the eye would enter the mould. */
const NEAREST_SHARE = 1 / 12;
const FARTHEST_SHARE = 6;
/** A rubber whose diagonal or middle differs from the former by more than this share is framed anew. */
const REFRAME_SHARE = 0.02;
/** Flown to, a spot stands in a picture as high as this share of the mould's diagonal, or lower if the user was nearer. */
const SPOT_HEIGHT_SHARE = 0.42;
/** A look onto a spot begins so far off the rubber, share of the diagonal, or the spot's own triangle would be in its way. */
const OFF_SHARE = 1e-3;
/** The normal of a spot is that of the rubber within this share of the diagonal. */
const SPOT_RADIUS_SHARE = 0.02;
const NO_OFFSET: Vec3 = [0, 0, 0];
/** Planes of cuts are drawn so far beyond the mould, share of its diagonal. */
const PLANE_MARGIN_SHARE = 0.06;
/** A point is hidden when the rubber stands in front of it by more than this share of the mould's diagonal. */
const HIDDEN_SHARE = 0.012;

/**
 * The mould standing on its board, drawn with three into a canvas that fills `host`. World frame = board frame: z up,
 * millimetres, board at z = 0. Draws only when something changed (there is no idle loop). `host` must have a size and
 * `position` other than static; the canvas is laid absolutely over it, and the ui's overlays go above the canvas.
 * The view listens to pointer and wheel on the canvas by itself; keys and buttons belong to the ui, which calls
 * `orbitBy`, `panBy`, `zoomBy`, `lookFrom`, `fit`.
 * Throws Error in the constructor when the browser gives no WebGL2.
 */
export class MouldView {
  private readonly stage: Stage;
  private readonly bodies: Bodies;
  private readonly board: Board;
  private readonly overlay: LineOverlay;
  private readonly found: FoundOverlay;
  private readonly borders: PieceBorders;
  private readonly caps: SectionCaps;
  private readonly ring: BrushRing;
  private readonly paint: PaintLayer;
  private painted: readonly PaintedArea[] = [];
  private readonly planes: CutPlanes;
  private readonly patch: FacePatch;
  private trial: Trial = NO_TRIAL;
  private readonly picker = new SurfacePicker();
  private readonly pointer: PointerControl;
  private show: ViewShow = DEFAULT_SHOW;
  private mode: PointerMode = 'look';
  private tool: PointerTool | null = null;
  private readonly ink: BodyInk;
  /** Where a control point being dragged was last on the rubber. */
  private lastHit: SurfaceHit | null = null;
  /** True until the user moves the camera: then a new size of the host frames the mould anew. */
  private isFramed = true;
  private fitPoints: Float32Array = new Float32Array(0);
  /** The look whose map is ruled already, or is being ruled. */
  private mapLook: MapLook | null = null;
  private stopQuieting: () => void = () => {};
  /** By piece; null where there is no shell. */
  private shellPoints: readonly (Float32Array | null)[] = [];
  private boardCorners: readonly number[] = [];

  constructor(
    host: HTMLElement,
    private theme: ViewTheme,
    private readonly events: Partial<ViewEvents> = {},
  ) {
    this.stage = new Stage(host, {
      resized: () => this.refitAfterResize(),
      advancing: (seconds) => this.advance(seconds),
      framing: () => this.overlay.hidePoints((point) => this.fateOf(point)),
      framed: () => this.events.framed?.(),
      contextLost: () => this.events.contextLost?.(),
      contextRestored: () => this.events.contextRestored?.(),
    });
    const { scene, light, overlay, canvas } = this.stage;
    this.board = new Board(scene, overlay, () => this.requestFrame());
    this.ink = newBodyInk(overlay);
    this.bodies = new Bodies(scene, light, this.ink, () => this.requestFrame());
    this.caps = new SectionCaps(scene, overlay, 5);
    this.planes = new CutPlanes(scene, overlay);
    this.patch = new FacePatch(scene, this.ink);
    this.overlay = new LineOverlay(scene, overlay, light.cut);
    this.found = new FoundOverlay(scene, overlay, light.cut);
    this.borders = new PieceBorders(scene, overlay, light.cut);
    this.ring = new BrushRing(scene, overlay, light.cut);
    this.paint = new PaintLayer(scene, overlay, light.cut);
    this.pointer = new PointerControl(canvas, {
      orbit: (dx, dy) => this.orbitBy(-dx * ORBIT_RAD_PER_PX, -dy * ORBIT_RAD_PER_PX),
      pan: (dx, dy) => this.panBy(dx, dy),
      zoom: (x, y, factor) => this.zoomAt(x, y, factor),
      findPoint: (x, y, isTouch) => this.findPoint(x, y, isTouch),
      tap: (x, y, isTouch) => this.tap(x, y, isTouch),
      toolDown: (x, y, isTouch) => this.tool?.down(this.placeAt(x, y, isTouch)) ?? false,
      toolMove: (x, y, isTouch) => this.tool?.move(this.placeAt(x, y, isTouch)),
      toolUp: (x, y, isTouch, isWanted) => this.tool?.up(this.placeAt(x, y, isTouch), isWanted),
      dragPoint: (ref, x, y, done) => this.dragPoint(ref, x, y, done),
      selectPoint: (ref) => this.events.pointSelected?.(ref.line, ref.point),
      hover: (place) => this.hover(place),
    });
    this.setTheme(theme);
    void this.stage.warmUp();
  }

  /** Recolours everything; nothing else changes. */
  setTheme(theme: ViewTheme): void {
    this.theme = theme;
    this.stage.setPaper(theme.paper);
    this.board.setTheme(theme);
    this.overlay.setTheme(theme);
    this.found.setTheme(theme);
    this.caps.setTheme(theme);
    this.ring.setTint(theme.accent);
    this.paint.setTheme(theme);
    this.planes.setTheme(theme);
    this.dress();
  }

  /**
   * Shows an answer. `geometry.rubber === null` keeps the rubber shown before. A rubber of clearly other size is
   * framed anew; otherwise the camera stays. Ends any draft, any point override left from a drag and, with a new
   * rubber, the section.
   */
  setAnswer(geometry: PlanGeometry): void {
    const before = this.bodies.bounds;
    const isNewRubber = this.bodies.setGeometry(geometry);
    this.overlay.setLines(geometry.lines);
    this.found.setMarks(geometry.marks);
    this.shellPoints = geometry.pieces.map((piece) => piece.shell && thinnedPoints(piece.shell.positions));
    const { rubber, bounds } = this.bodies;
    if (isNewRubber && rubber !== null && bounds !== null) {
      const boardCorners = this.board.layUnder(rubber, bounds);
      this.picker.setSurface(rubber);
      this.fitPoints = thinnedPoints(rubber.positions);
      this.boardCorners = boardCorners;
      this.setSection(null);
      this.patch.clear();
      this.drawTrial();
      if (before === null) this.moveFramed(FIRST_LOOK.azimuthRad, FIRST_LOOK.polarRad, false);
      else if (isOtherSize(before, bounds)) this.fit(false);
    }
    this.layPaint();
    this.dress();
  }

  /** Takes everything off the board. */
  clear(): void {
    this.bodies.clear();
    this.overlay.setLines([]);
    this.found.setMarks([]);
    this.picker.setSurface(null);
    this.board.setVisible(false);
    this.fitPoints = new Float32Array(0);
    this.stage.setBox(null);
    this.setSection(null);
  }

  /**
   * Slides each piece this many mm along its pull from where it belongs. 0: closed. Glides, unless the user wants less
   * motion. Parts of a shell that are inside the rubber on the way are hatched in accent.
   */
  setApart(mm: number): void {
    const before = this.bodies.goalOffsets;
    this.bodies.setApart(mm, wantsLessMotion());
    this.afterSlide(before);
  }

  /** Slides one piece (by its index) and leaves the others where they are; `setApart` later moves all of them again. */
  setApartOf(piece: number, mm: number): void {
    const before = this.bodies.goalOffsets;
    this.bodies.setApartOf(piece, mm, wantsLessMotion());
    this.afterSlide(before);
  }

  /** Lays a map over the rubber of the pieces, by their order, in bands; null takes it off. The same map again draws nothing anew. */
  setMap(maps: readonly BodyMap[] | null, look: MapLook | null): void {
    const isOther = this.bodies.setMap(maps);
    if (!isOther && look === this.mapLook) return;
    setMapInk(this.ink.map, maps === null ? null : look);
    this.requestFrame();
    if (look === this.mapLook) return;
    this.mapLook = look;
    this.stopQuieting();
    if (maps !== null && look !== null)
      this.stopQuieting = workInSlices(this.bodies.quietMap(look.borders), () => this.requestFrame());
  }

  /**
   * Where the ray through a place of the picture meets the rubber: once while it is closed (`piece` null), else once for each
   * piece where it stands now, nearest first, in the places of the closed mould. Empty until the picking tree stands: a pointer
   * that rests must not wait.
   */
  rubberAt(xPx: number, yPx: number): { readonly piece: number | null; readonly hit: SurfaceHit }[] {
    if (!this.picker.isReady || !this.show.rubber) return [];
    const { origin, direction } = this.rayAt(xPx, yPx);
    const { offsets, isClosed } = this.bodies;
    const places = isClosed ? [NO_OFFSET] : offsets;
    return places
      .flatMap((offset, i) => {
        const from: Vec3 = [origin[0] - offset[0], origin[1] - offset[1], origin[2] - offset[2]];
        const met = this.picker.pick(from, direction);
        return met?.surface
          ? [{ piece: isClosed ? null : i, hit: met.surface, distanceMm: met.distanceMm }]
          : [];
      })
      .sort((a, b) => a.distanceMm - b.distanceMm);
  }

  /** The ray through a place of the picture, board frame, `direction` unit. */
  rayAt(xPx: number, yPx: number): { readonly origin: Vec3; readonly direction: Vec3 } {
    const { rig } = this.stage;
    return pixelRay(rig.state, rig.viewport, xPx, yPx);
  }

  /** How deep the rubber yields, and at which depths lines run over what locks. */
  setLockLook({ giveMm, levelsMm }: LockLook): void {
    this.ink.giveMm.value = giveMm;
    const levels = levelsMm.slice(0, MOST_LEVELS);
    this.ink.levelCount.value = levels.length;
    this.ink.levelsMm.value.fill(0);
    levels.forEach((mm, i) => {
      this.ink.levelsMm.value[i] = mm;
    });
    this.requestFrame();
  }

  /** Changes what is drawn; keys left out keep their value. Starts as rubber and lines on, shells and marks off. */
  setShow(show: Partial<ViewShow>): void {
    const wereShells = this.show.shells;
    this.show = { ...this.show, ...show };
    this.dress();
    if (this.show.shells !== wereShells && this.isFramed) this.fit();
  }

  /** 'look': dragging orbits. 'draw': clicks on the rubber add points and control points can be dragged as well. */
  setMode(mode: PointerMode): void {
    this.mode = mode;
    if (mode === 'look') this.overlay.setGhost(null);
    this.stage.canvas.style.cursor = this.tool?.cursor ?? '';
    this.dress();
  }

  /** Puts a tool in the hand, or (null) lays it down; the one before is disposed of. It goes before control points and camera. */
  setTool(tool: PointerTool | null): void {
    if (tool === this.tool) return;
    this.tool?.dispose();
    this.tool = tool;
    this.stage.canvas.style.cursor = tool?.cursor ?? '';
    this.requestFrame();
  }

  /** Offers a key to the tool in hand; true when it used it. */
  pressKey(key: ToolKey): boolean {
    if (!this.tool?.key) return false;
    const { clientWidth, clientHeight } = this.stage.canvas;
    return this.tool.key(key, this.placeAt(clientWidth / 2, clientHeight / 2, false));
  }

  /**
   * Takes the brush in hand; its ring shows the radius on the rubber. Lay it down with `setTool(null)`.
   * @param events what the user does with it; `over` is the view's own.
   */
  takeBrush(radiusMm: () => number, events: Omit<BrushEvents, 'over'>): void {
    this.setTool(
      new BrushTool({
        ...events,
        over: (hit) => {
          this.ring.show(hit?.point ?? null, hit ? this.normalAt(hit) : undefined, radiusMm());
          this.requestFrame();
        },
      }),
    );
  }

  /** Areas drawn as painted on the closed rubber; the same list again is not laid anew. */
  setPaint(areas: readonly PaintedArea[]): void {
    if (this.painted === areas) return;
    this.painted = areas;
    this.layPaint();
    this.requestFrame();
  }

  /** True when draw mode can act now: a rubber is there, it is shown closed (apart 0) and without shells over it. */
  canDraw(): boolean {
    return (
      this.bodies.rubber !== null && this.show.rubber && this.bodies.isClosed && !this.bodies.hasShellsOver
    );
  }

  /**
   * The line being drawn, live. A draft with the id of a line of the answer stands in for it (same line index);
   * another id is a new line with index `lines.length`. null: none.
   */
  setDraft(line: LinePicture | null): void {
    this.overlay.setDraft(line);
    this.redrawLines();
  }

  /**
   * Cuts all bodies: the side that `plane.normal` points to is taken away, and the areas are laid filled on the cut
   * (coats in their tints with dark outlines, rubber hatched). null: whole again.
   */
  setSection(picture: SectionPicture | null): void {
    this.picker.setCut(picture?.plane ?? null);
    const cut = this.stage.light.cut.value;
    if (picture === null) cut.set(0, 0, 0, 1);
    else cut.set(...picture.plane.normal, picture.plane.offsetMm);
    this.caps.setPicture(picture, this.theme);
    this.dress();
  }

  /** Draws a standing or cuts that are being tried; nothing that is asked of the view (hits, bounds, places) moves with it. */
  setTrial(trial: Trial): void {
    if (trial === this.trial) return;
    this.trial = trial;
    this.drawTrial();
  }

  /** Sets triangles of the rubber off from the rest; none: nothing is. */
  setPatch(tris: readonly number[]): void {
    const { rubber } = this.bodies;
    if (rubber === null || tris.length === 0) this.patch.clear();
    else this.patch.setTris(rubber, tris);
    this.requestFrame();
  }

  /** The camera's axes in the board frame: right and up in the picture, and back to the eye. */
  axes(): CameraBasis {
    const { azimuthRad, polarRad } = this.stage.rig.state;
    return cameraBasis(azimuthRad, polarRad);
  }

  /** Turns the camera to one of the five views and frames the mould. Glides unless `animate` is false or the user wants less motion. */
  lookFrom(aspect: Aspect, animate = true): void {
    const { azimuthRad, polarRad } = ASPECT_ANGLES[aspect];
    this.moveFramed(nearestTurn(azimuthRad, this.stage.rig.state.azimuthRad), polarRad, animate);
  }

  /** Frames the mould from the present direction. */
  fit(animate = true): void {
    const { azimuthRad, polarRad } = this.stage.rig.goalState;
    this.moveFramed(azimuthRad, polarRad, animate);
  }

  /**
   * Turns the camera onto a spot of the rubber, so that it is seen, as square on as what stands around allows, and comes
   * near. Glides unless the user wants less motion.
   * @param normal outward, unit; left out: that of the rubber near the spot
   * @param piece index of the piece that the spot goes along with when its rubber is slid away
   */
  showSpot(atMm: Vec3, normal?: Vec3, piece?: number): void {
    const { bounds, rubber } = this.bodies;
    if (bounds === null || rubber === null) return;
    const diagonal = diagonalOf(bounds);
    const outward = normal ?? outwardNormal(rubber, atMm, SPOT_RADIUS_SHARE * diagonal);
    const off = OFF_SHARE * diagonal;
    const start: Vec3 = [atMm[0] + off * outward[0], atMm[1] + off * outward[1], atMm[2] + off * outward[2]];
    const choices = anglesAround(outward);
    const free = choices.find(({ toward }) => this.picker.pick(start, toward) === null) ?? choices[0];
    const { rig } = this.stage;
    const offset = this.bodies.hasShellsOver
      ? NO_OFFSET
      : (this.bodies.goalOffsets[piece ?? -1] ?? NO_OFFSET);
    this.moveByUser(
      {
        target: [atMm[0] + offset[0], atMm[1] + offset[1], atMm[2] + offset[2]],
        azimuthRad: nearestTurn(free.azimuthRad, rig.state.azimuthRad),
        polarRad: free.polarRad,
        distanceMm: Math.min(rig.goalState.distanceMm, distanceForHeight(SPOT_HEIGHT_SHARE * diagonal)),
      },
      'glide',
    );
  }

  /** Turns the camera about its target. Radians; positive azimuth moves the camera counter-clockwise seen from above, positive polar lowers it. */
  orbitBy(azimuthRad: number, polarRad: number): void {
    this.moveByUser(orbited(this.stage.rig.goalState, azimuthRad, polarRad));
  }

  /** Moves the picture by CSS pixels, right and down positive. */
  panBy(dxPx: number, dyPx: number): void {
    const { rig } = this.stage;
    this.moveByUser(panned(rig.goalState, rig.viewport, dxPx, dyPx));
  }

  /** Zooms about the middle; factor > 1 comes nearer. */
  zoomBy(factor: number): void {
    const { width, height } = this.stage.rig.viewport;
    this.zoomAt(width / 2, height / 2, factor);
  }

  /**
   * Where a point of the board frame stands in the picture.
   */
  project(point: Vec3): ScreenPoint {
    const { rig } = this.stage;
    const { x, y, depthMm } = projectPoint(rig.state, rig.viewport, point);
    const isInside = depthMm > 0 && x >= 0 && y >= 0 && x <= rig.viewport.width && y <= rig.viewport.height;
    return { x, y, visible: isInside && this.fateOf(point) === 'seen' };
  }

  /** Cosine between a direction and the one to the camera: above 0 for what faces the eye. */
  facing(normal: Vec3): number {
    const { azimuthRad, polarRad } = this.stage.rig.state;
    return dot(normal, cameraBasis(azimuthRad, polarRad).back);
  }

  /** mm on the plane through the camera's target for one CSS pixel, for scale bars; 0 while empty. */
  mmPerPixel(): number {
    if (this.bodies.bounds === null) return 0;
    return mmPerPixelAt(this.stage.rig.state.distanceMm, this.stage.rig.viewport);
  }

  /** Box of the whole rubber; null while empty. */
  bounds(): ViewBox | null {
    return this.bodies.bounds;
  }

  /** The present picture as PNG, without the ui's overlays: so many pixels wide, or two a CSS pixel. */
  snapshot(widthPx?: number): Promise<Blob> {
    return this.stage.snapshot(widthPx === undefined ? undefined : widthPx / this.stage.rig.viewport.width);
  }

  /** Asks for one more frame, e.g. after the host changed without a resize. */
  requestFrame(): void {
    this.stage.requestFrame();
  }

  /** Frees the graphics memory, takes the canvas out, stops listening. */
  dispose(): void {
    this.setTool(null);
    this.stopQuieting();
    this.pointer.dispose();
    this.overlay.dispose();
    this.found.dispose();
    this.borders.dispose();
    this.caps.dispose();
    this.ring.dispose();
    this.paint.dispose();
    this.planes.dispose();
    this.patch.dispose();
    this.bodies.dispose();
    this.board.dispose();
    this.stage.dispose();
  }

  private drawTrial(): void {
    const { move, boardMm, planes } = this.trial;
    const matrix = move === null ? null : matrixOf(move);
    this.bodies.setMove(matrix);
    this.overlay.setMove(matrix);
    this.found.setMove(matrix);
    this.board.lift(boardMm, move === null && boardMm === 0);
    const gone = [...planes];
    if (boardMm !== 0 || move !== null) gone.push({ normal: [0, 0, -1], offsetMm: -boardMm });
    this.ink.goneCount.value = Math.min(MOST_GONE, gone.length);
    gone.slice(0, MOST_GONE).forEach((plane, i) => {
      this.ink.gonePlanes.value[i].set(...inBody(plane, move));
    });
    const { bounds } = this.bodies;
    this.planes.setPlanes(planes, bounds && grownBox(bounds, PLANE_MARGIN_SHARE * diagonalOf(bounds)));
    this.stage.setBox(this.sceneBox());
    this.requestFrame();
  }

  private advance(elapsedSeconds: number): boolean {
    const before = this.bodies.offsets;
    const isMoving = this.bodies.advance(elapsedSeconds);
    if (isMoving) this.carry();
    else if (isElsewhere(before, this.bodies.offsets)) this.dress();
    return isMoving;
  }

  /** Pieces slid away would leave the paint in the air. */
  private layPaint(): void {
    this.paint.lay(
      this.bodies.isClosed && !this.bodies.hasShellsOver ? this.bodies.rubber : null,
      this.painted,
    );
  }

  private normalAt({ tri }: SurfaceHit): Vec3 {
    const { rubber } = this.bodies;
    if (rubber === null) return [0, 0, 1];
    const { positions: p, indices } = rubber;
    const [a, b, c] = [3 * indices[3 * tri], 3 * indices[3 * tri + 1], 3 * indices[3 * tri + 2]];
    const u = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const v = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const n: Vec3 = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const length = Math.hypot(...n);
    return length > 0 ? [n[0] / length, n[1] / length, n[2] / length] : [0, 0, 1];
  }

  private afterSlide(before: readonly Vec3[]): void {
    this.dress();
    if (isElsewhere(before, this.bodies.goalOffsets) && this.isFramed) this.fit();
  }

  /** What goes along with sliding pieces. */
  private carry(): void {
    this.caps.setOffsets(this.bodies.offsets);
    this.showBorders();
  }

  /** Brings everything that hangs on show, theme, apart and section into one state, and draws. */
  private dress(): void {
    this.bodies.dress(this.show, this.theme);
    this.layPaint();
    this.caps.setOffsets(this.bodies.offsets);
    this.stage.setBox(this.sceneBox());
    this.redrawLines();
  }

  private redrawLines(): void {
    this.showBorders();
    const { bounds } = this.bodies;
    this.found.redraw(this.show, bounds === null ? 0 : diagonalOf(bounds));
    this.overlay.redrawLines(this.areSplit() ? { ...this.show, lines: false } : this.show);
    this.redrawPoints();
  }

  /** Rubber slid apart carries the line on each piece; the line between them would hang in the air. */
  private areSplit(): boolean {
    const { bodies } = this;
    return bodies.farthestMm > 0 && !bodies.hasShellsOver && bodies.seenPieces.length > 0;
  }

  private showBorders(): void {
    const areShown = this.areSplit() && this.show.lines;
    this.borders.show(areShown ? this.bodies.seenPieces : [], this.theme.accent);
  }

  private redrawPoints(): void {
    this.overlay.redrawPoints(this.show, this.canDraw() && this.show.points);
    this.requestFrame();
  }

  /** Everything drawn, the board and the pieces slid apart included. */
  private sceneBox(): ViewBox | null {
    const { bounds } = this.bodies;
    if (bounds === null) return null;
    // The shells' thickness and the board's margin, generously; it only sets the near and far planes.
    // Turned on trial it may reach as far as it is long.
    const turning = this.trial.move === null ? 0 : diagonalOf(bounds);
    return grownBox(bounds, 0.35 * diagonalOf(bounds) + this.bodies.farthestMm + turning);
  }

  private moveFramed(azimuthRad: number, polarRad: number, animate: boolean): void {
    if (this.fitPoints.length === 0) return;
    const { rig } = this.stage;
    const offsets = this.bodies.isClosed ? [NO_OFFSET] : this.bodies.goalOffsets;
    const points = [...this.boardCorners, ...offsetPoints(this.fitPoints, offsets)];
    // The shells with their flanges stand out beyond the rubber; the caption above them needs its room too.
    if (this.bodies.hasShellsOver) {
      this.shellPoints.forEach((shell, n) => {
        if (shell === null) return;
        for (const x of offsetPoints(shell, [offsets[n] ?? NO_OFFSET])) points.push(x);
      });
    }
    rig.moveTo(fitOrbit(points, rig.viewport, azimuthRad, polarRad), animate ? 'glide' : 'jump');
    this.isFramed = true;
    this.requestFrame();
  }

  private moveByUser(state: OrbitState, manner: 'follow' | 'glide' = 'follow'): void {
    this.stage.rig.moveTo(state, manner);
    this.isFramed = false;
    this.requestFrame();
  }

  private zoomAt(xPx: number, yPx: number, factor: number): void {
    const { bounds } = this.bodies;
    if (bounds === null) return;
    const diagonal = diagonalOf(bounds);
    const { rig } = this.stage;
    const limits = [
      distanceForHeight(NEAREST_SHARE * diagonal),
      distanceForHeight(FARTHEST_SHARE * diagonal),
    ] as const;
    this.moveByUser(zoomedAt(rig.goalState, rig.viewport, xPx, yPx, factor, limits));
  }

  private refitAfterResize(): void {
    // Called once from within the stage's constructor, before there is anything to frame.
    if (this.isFramed && this.fitPoints.length > 0) this.fit(false);
  }

  private pickAt(xPx: number, yPx: number): RayHit | null {
    const { rig } = this.stage;
    const { origin, direction } = pixelRay(rig.state, rig.viewport, xPx, yPx);
    return this.picker.pick(origin, direction);
  }

  private isHidden(point: Vec3, xPx: number, yPx: number): boolean {
    const { bounds } = this.bodies;
    if (bounds === null || !this.show.rubber) return false;
    const { rig } = this.stage;
    const { origin, direction } = pixelRay(rig.state, rig.viewport, xPx, yPx);
    const hit = this.picker.pick(origin, direction);
    if (hit === null) return false;
    const awayMm = Math.hypot(point[0] - origin[0], point[1] - origin[1], point[2] - origin[2]);
    return hit.distanceMm < awayMm - HIDDEN_SHARE * diagonalOf(bounds);
  }

  /** What becomes of a point in the picture as it stands. */
  private fateOf(point: Vec3): PointFate {
    if (this.picker.isCutAway(point)) return 'gone';
    if (!this.picker.isReady) return 'seen';
    const { rig } = this.stage;
    const { x, y } = projectPoint(rig.state, rig.viewport, point);
    return this.isHidden(point, x, y) ? 'hidden' : 'seen';
  }

  private findPoint(xPx: number, yPx: number, isTouch: boolean): ControlPointRef | null {
    if (this.mode !== 'draw' || !this.show.lines || !this.canDraw()) return null;
    const points = this.overlay.controlPoints().map(({ ref, point }) => ({ ...ref, ...this.project(point) }));
    return hitControlPoint(points, xPx, yPx, isTouch ? TOUCH_RADIUS_PX : MOUSE_RADIUS_PX);
  }

  /**
   * Draw mode, for keys: takes hold of the spot in the middle of the picture, as a click there would. A control point
   * near it is selected; otherwise a point is added to the rubber. False when there is neither.
   */
  tapMiddle(): boolean {
    const { clientWidth, clientHeight } = this.stage.canvas;
    const x = clientWidth / 2;
    const y = clientHeight / 2;
    const ref = this.findPoint(x, y, false);
    if (ref !== null) {
      this.events.pointSelected?.(ref.line, ref.point);
      return true;
    }
    if (this.mode !== 'draw' || !this.canDraw()) return false;
    const hit = this.pickAt(x, y)?.surface;
    if (hit) this.events.pointAdded?.(hit);
    return hit !== undefined && hit !== null;
  }

  /** Draw mode, for keys: moves a control point to the spot in the middle of the picture. False off the rubber. */
  movePointToMiddle(lineIndex: number, pointIndex: number): boolean {
    if (this.mode !== 'draw' || !this.canDraw()) return false;
    const { clientWidth, clientHeight } = this.stage.canvas;
    const hit = this.pickAt(clientWidth / 2, clientHeight / 2)?.surface;
    if (!hit) return false;
    this.events.pointMoved?.(lineIndex, pointIndex, hit, true);
    return true;
  }

  /** What lies there is looked up when it is asked for, once. */
  private placeAt(xPx: number, yPx: number, isTouch: boolean): ToolPlace {
    const { rig } = this.stage;
    const ray = pixelRay(rig.state, rig.viewport, xPx, yPx);
    let found: SurfaceHit | null | undefined;
    const pick = () => this.picker.pick(ray.origin, ray.direction)?.surface ?? null;
    return {
      xPx,
      yPx,
      isTouch,
      ray,
      get hit() {
        if (found === undefined) found = pick();
        return found;
      },
    };
  }

  private tap(xPx: number, yPx: number, isTouch: boolean): void {
    if (this.tool?.tap) {
      this.tool.tap(this.placeAt(xPx, yPx, isTouch));
      return;
    }
    if (this.mode !== 'draw' || !this.canDraw()) return;
    const hit = this.pickAt(xPx, yPx)?.surface;
    if (hit) this.events.pointAdded?.(hit);
  }

  private dragPoint(ref: ControlPointRef, xPx: number, yPx: number, done: boolean): void {
    // Off the rubber the point stays at its last place on it.
    const hit = this.pickAt(xPx, yPx)?.surface ?? this.lastHit;
    this.lastHit = done ? null : hit;
    if (hit === null) return;
    this.overlay.movePoint(ref, hit.point);
    this.redrawPoints();
    this.events.pointMoved?.(ref.line, ref.point, hit, done);
  }

  private hover(place: HoverPlace | null): void {
    if (this.tool) {
      this.tool.hover?.(place && this.placeAt(place.x, place.y, false));
      this.stage.canvas.style.cursor = this.tool.cursor;
      return;
    }
    if (this.mode === 'look') this.events.pointed?.(place && { ...place, isTouch: place.isTouch ?? false });
    if (this.mode !== 'draw' || !this.canDraw()) return;
    const isOnPoint = place !== null && this.findPoint(place.x, place.y, false) !== null;
    const hit = place === null ? null : (this.pickAt(place.x, place.y)?.surface ?? null);
    this.stage.canvas.style.cursor = isOnPoint ? 'grab' : hit !== null ? 'crosshair' : '';
    this.overlay.setGhost(isOnPoint || hit === null ? null : hit.point);
    this.redrawPoints();
    this.events.hovered?.(hit);
  }
}

function diagonalOf({ min, max }: ViewBox): number {
  return Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
}

function grownBox({ min, max }: ViewBox, byMm: number): ViewBox {
  return {
    min: [min[0] - byMm, min[1] - byMm, min[2] - byMm],
    max: [max[0] + byMm, max[1] + byMm, max[2] + byMm],
  };
}

/** @param m row-major 3 x 4 */
function matrixOf(m: readonly number[]): Matrix4 {
  // biome-ignore format: one row of the matrix a line.
  return new Matrix4().set(
    m[0], m[1], m[2], m[3],
    m[4], m[5], m[6], m[7],
    m[8], m[9], m[10], m[11],
    0, 0, 0, 1,
  );
}

/** A plane of the world in the frame of a body moved by a rotation and shift: xyz . p > w is what goes. */
function inBody(
  { normal: n, offsetMm }: Trial['planes'][number],
  m: readonly number[] | null,
): [number, number, number, number] {
  if (m === null) return [n[0], n[1], n[2], offsetMm];
  return [
    m[0] * n[0] + m[4] * n[1] + m[8] * n[2],
    m[1] * n[0] + m[5] * n[1] + m[9] * n[2],
    m[2] * n[0] + m[6] * n[1] + m[10] * n[2],
    offsetMm - (n[0] * m[3] + n[1] * m[7] + n[2] * m[11]),
  ];
}

function isElsewhere(a: readonly Vec3[], b: readonly Vec3[]): boolean {
  return a.length !== b.length || a.some((offset, i) => offset.some((x, k) => x !== b[i][k]));
}

function isOtherSize(a: ViewBox, b: ViewBox): boolean {
  const limit = REFRAME_SHARE * diagonalOf(b);
  return [0, 1, 2].some(
    (k) => Math.abs(a.min[k] - b.min[k]) > limit || Math.abs(a.max[k] - b.max[k]) > limit,
  );
}
