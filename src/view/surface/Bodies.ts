import { type BufferGeometry, Group, type Matrix4, Mesh, type Object3D, type ShaderMaterial } from 'three';
import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { PlanGeometry, RubberPicture, SurfacePicture } from '../../jobs/protocol.ts';
import type { ViewBox, ViewShow, ViewTheme } from '../viewTypes.ts';
import { Body, type BodyMap } from './Body.ts';
import { type BodyInk, setInkTheme } from './BodyInk.ts';
import type { SharedLight } from './clayMaterial.ts';
import { ShadeJob } from './ShadeJob.ts';
import { Slides } from './Slides.ts';
import { makeTouchMaterial } from './touchMaterial.ts';

interface PieceBodies {
  readonly group: Group;
  readonly rubber: Body;
  readonly shell: Body;
  /** The shell's part inside the rubber, drawn over the rubber; its geometry is the shell's. */
  readonly touch: Mesh<BufferGeometry, ShaderMaterial>;
  pull: Vec3;
  /** The rubber does not go along with its shell. */
  staysBehind: boolean;
}

/** Pieces that cover less than this share of the rubber's facets leave some of it bare (base, keep-clear areas). */
const WHOLE_SHARE = 0.985;

/** A patch of a map smaller than this share of the rubber's diagonal bears no line round it. Own choice. */
const SPECK_SHARE = 0.025;

/** Filler lies on the rubber that it is part of, and must win against it. */
const FILLER_OFFSET_FACTOR = -1;
const FILLER_OFFSET_UNITS = -4;
/** After the lines on the surface: what is drawn through other bodies lies over all of them. */
const TOUCH_ORDER = 8;

/** All that is made of clay and plaster: the whole rubber, its surface by piece, and the shells. */
export class Bodies {
  private readonly root = new Group();
  private readonly whole: Body;
  private readonly pieces: PieceBodies[] = [];
  private pieceCount = 0;
  private rubberPicture: RubberPicture | null = null;
  private hasShell: readonly boolean[] = [];
  /** Corners of all the pieces' facets together. */
  private pieceCorners = 0;
  private box: ViewBox | null = null;
  private readonly slides = new Slides();
  private readonly filler: Body;
  private hasFiller = false;
  private areShellsShown = false;
  private readonly rubberShade: ShadeJob;
  private readonly shellShade: ShadeJob;

  constructor(
    parent: Object3D,
    private readonly light: SharedLight,
    private readonly ink: BodyInk,
    onChange: () => void,
  ) {
    parent.add(this.root);
    this.whole = new Body(light, ink, 'plain');
    this.filler = new Body(light, ink, 'dots');
    this.filler.mesh.material.polygonOffsetFactor = FILLER_OFFSET_FACTOR;
    this.filler.mesh.material.polygonOffsetUnits = FILLER_OFFSET_UNITS;
    this.filler.mesh.visible = false;
    this.root.add(this.whole.mesh, this.filler.mesh);
    this.rubberShade = new ShadeJob(
      () => [this.whole, this.filler, ...this.pieces.map((piece) => piece.rubber)],
      onChange,
    );
    this.shellShade = new ShadeJob(() => this.pieces.map((piece) => piece.shell), onChange);
    // Every kind of clay is in the scene from the start, so that the graphics card can be made ready for it.
    this.pieces.push(this.newPiece());
  }

  /** Box of the whole rubber, or null while there is none. */
  get bounds(): ViewBox | null {
    return this.box;
  }

  get rubber(): RubberPicture | null {
    return this.rubberPicture;
  }

  /** Where each piece stands away from its place, mm. */
  get offsets(): Vec3[] {
    return this.offsetsAt((piece) => this.slides.nowMm(piece));
  }

  /** Where each piece will stand when it has slid as far as it was told to, mm. */
  get goalOffsets(): Vec3[] {
    return this.offsetsAt((piece) => this.slides.goalMm(piece));
  }

  /** True when every piece stands, or is on the way to, where it belongs. */
  get isClosed(): boolean {
    for (let i = 0; i < this.pieceCount; i++) if (this.slides.goalMm(i) !== 0) return false;
    return true;
  }

  /** How far the farthest piece slides, mm. */
  get farthestMm(): number {
    let far = 0;
    for (let i = 0; i < this.pieceCount; i++)
      far = Math.max(far, Math.abs(this.slides.goalMm(i)), Math.abs(this.slides.nowMm(i)));
    return far;
  }

  /** True when the rubber changed. */
  setGeometry(geometry: PlanGeometry): boolean {
    let isNewRubber = false;
    if (geometry.rubber !== null && this.whole.setSurface(geometry.rubber)) {
      isNewRubber = true;
      this.rubberPicture = geometry.rubber;
      this.box = geometry.rubber.box;
      this.rubberShade.clear();
      this.rubberShade.start([geometry.rubber]);
      this.shellShade.clear();
    }
    this.hasFiller = geometry.filler !== null;
    if (geometry.filler !== null) this.filler.setSurface(geometry.filler);
    this.pieceCount = geometry.pieces.length;
    this.slides.hold(this.pieceCount);
    while (this.pieces.length < this.pieceCount) this.pieces.push(this.newPiece());
    geometry.pieces.forEach((picture, i) => {
      const piece = this.pieces[i];
      const isTurned = piece.pull.some((x, k) => x !== picture.pull[k]);
      piece.pull = picture.pull;
      const isOtherRubber = piece.rubber.setSurface(picture.rubber);
      const isOtherShell = picture.shell !== null && piece.shell.setSurface(picture.shell);
      // Numbers come before the undercuts: what was drawn for the same surface and pull stays until they are there.
      if (picture.undercut !== null || isOtherRubber || isTurned) piece.rubber.setLocks(picture.undercut);
      if (picture.touch !== null || isOtherShell || isTurned) piece.shell.setTouch(picture.touch);
    });
    this.hasShell = geometry.pieces.map((piece) => piece.shell !== null);
    this.pieceCorners = geometry.pieces.reduce((sum, piece) => sum + piece.rubber.indices.length, 0);
    this.place();
    return isNewRubber;
  }

  clear(): void {
    this.rubberShade.clear();
    this.shellShade.clear();
    for (const piece of this.pieces) {
      piece.rubber.dispose();
      piece.shell.dispose();
      piece.touch.material.dispose();
      piece.group.removeFromParent();
    }
    this.pieces.length = 0;
    this.pieceCount = 0;
    this.rubberPicture = null;
    this.hasFiller = false;
    this.filler.mesh.visible = false;
    this.hasShell = [];
    this.box = null;
    this.whole.mesh.visible = false;
  }

  /** Draws all of it moved; null: in its place. The places that everything else asks for stay those of the answer. */
  setMove(move: Matrix4 | null): void {
    this.root.matrixAutoUpdate = false;
    if (move === null) this.root.matrix.identity();
    else this.root.matrix.copy(move);
    this.root.matrixWorldNeedsUpdate = true;
  }

  /** All pieces slide so far. `isAtOnce`: without a glide. */
  setApart(mm: number, isAtOnce: boolean): void {
    this.slides.setAll(mm, isAtOnce);
    this.place();
  }

  /** One piece slides so far; the others stay where they are. */
  setApartOf(piece: number, mm: number, isAtOnce: boolean): void {
    this.slides.setOne(piece, mm, isAtOnce);
    this.place();
  }

  /** Lays a map over the rubber of the pieces, by their order; null takes it off. True when any bears another than before. */
  setMap(maps: readonly BodyMap[] | null): boolean {
    let isOther = false;
    for (const [i, piece] of this.pieces.entries()) {
      if (piece.rubber.setMap(maps?.[i] ?? null)) isOther = true;
    }
    return isOther;
  }

  /** Leaves specks out of the map's lines, in steps of a few milliseconds. */
  *quietMap(borders: readonly number[]): Generator<void> {
    const { box } = this;
    if (box === null) return;
    const across = Math.hypot(...box.max.map((x, k) => x - box.min[k]));
    for (const piece of this.pieces.slice(0, this.pieceCount))
      yield* piece.rubber.quietMap(borders, SPECK_SHARE * across);
  }

  /** One step of sliding pieces; true while there is more to go. */
  advance(elapsedSeconds: number): boolean {
    if (this.slides.isStill) return false;
    this.slides.advance(elapsedSeconds);
    this.place();
    return !this.slides.isStill;
  }

  /** Decides which surfaces are seen, and gives them their tints. */
  dress(show: ViewShow, theme: ViewTheme): void {
    const areShells = show.shells && this.hasShell.some(Boolean);
    this.areShellsShown = areShells;
    setInkTheme(this.ink, theme);
    this.ink.areLocksShown.value = show.undercuts ? 1 : 0;
    const isBare = this.pieceCount === 0;
    // What the pieces leave bare (base, areas kept clear) is seen on the rubber beneath them.
    const hasGaps =
      this.rubberPicture !== null &&
      this.pieceCorners < WHOLE_SHARE * this.rubberPicture.indices.length &&
      this.isClosed;
    this.whole.mesh.visible = this.rubberPicture !== null && show.rubber && (areShells || isBare || hasGaps);
    this.whole.setTint(areShells ? theme.rubber : theme.clay);
    // Under the pieces' own surfaces the whole one must step back, or the two would fight.
    const isUnder = hasGaps || (areShells && show.undercuts && this.farthestMm > 0);
    this.whole.mesh.material.polygonOffsetFactor = isUnder ? 3 : 1.5;
    this.whole.mesh.material.polygonOffsetUnits = isUnder ? 8 : 2;
    // The rubber's skin, slid apart by piece, leaves no place for the filler under it.
    this.filler.mesh.visible =
      this.hasFiller && show.filler && show.rubber && (areShells || (this.isClosed && !isBare));
    this.filler.setTint(theme.rubber);
    this.pieces.forEach((piece, i) => {
      const isThere = i < this.pieceCount;
      const tint = theme.pieces.length > 0 ? theme.pieces[i % theme.pieces.length] : theme.clay;
      const isShell = isThere && areShells && this.hasShell[i];
      piece.shell.mesh.visible = isShell;
      piece.touch.visible = isShell && piece.shell.touchPicture !== null;
      // Behind shells slid away the rubber stays, hatched where it locks.
      const isBehind = isShell && show.rubber && show.undercuts && this.farthestMm > 0;
      piece.rubber.mesh.visible = isThere && (isShell ? isBehind : areShells || show.rubber);
      piece.shell.setTint(tint);
      piece.rubber.setTint(isBehind ? theme.rubber : tint);
      piece.staysBehind = isBehind;
    });
    this.buildSeen();
    this.place();
  }

  /** Surface and place of each piece of rubber that is in sight, as pieces. */
  get seenPieces(): { readonly surface: SurfacePicture; readonly offset: Vec3 }[] {
    const { offsets } = this;
    return this.pieces.flatMap(({ rubber }, i) =>
      rubber.mesh.visible && rubber.surfacePicture !== null
        ? [{ surface: rubber.surfacePicture, offset: offsets[i] }]
        : [],
    );
  }

  get hasShellsOver(): boolean {
    return this.areShellsShown;
  }

  dispose(): void {
    this.clear();
    this.whole.dispose();
    this.filler.dispose();
    this.root.removeFromParent();
  }

  private newPiece(): PieceBodies {
    const group = new Group();
    const rubber = new Body(this.light, this.ink, 'locks');
    const shell = new Body(this.light, this.ink, 'touch');
    const touch = new Mesh(shell.mesh.geometry, makeTouchMaterial(this.light, this.ink));
    touch.frustumCulled = false;
    touch.renderOrder = TOUCH_ORDER;
    touch.visible = false;
    group.add(rubber.mesh, shell.mesh, touch);
    this.root.add(group);
    return { group, rubber, shell, touch, pull: [0, 0, 1], staysBehind: false };
  }

  /** Builds what came into sight since; the former body's shade is near enough until the new one's is made. */
  private buildSeen(): void {
    if (this.whole.mesh.visible && this.whole.build()) this.rubberShade.shade(this.whole);
    if (this.filler.mesh.visible && this.filler.build()) this.rubberShade.shade(this.filler);
    let areShellsNew = false;
    for (const { rubber, shell } of this.pieces) {
      if (rubber.mesh.visible && rubber.build()) this.rubberShade.shade(rubber);
      if (shell.mesh.visible && shell.build()) {
        this.shellShade.shade(shell);
        areShellsNew = true;
      }
    }
    for (const { shell, touch } of this.pieces) {
      touch.geometry = shell.mesh.geometry;
      touch.material.uniforms['softMm'].value = shell.mesh.material.uniforms['softMm'].value;
    }
    if (!areShellsNew) return;
    this.shellShade.start(
      this.pieces.flatMap(({ shell }) =>
        shell.mesh.visible && shell.surfacePicture !== null ? [shell.surfacePicture] : [],
      ),
    );
  }

  private place(): void {
    this.offsets.forEach(([x, y, z], i) => {
      const { group, rubber, shell, touch, staysBehind } = this.pieces[i];
      group.position.set(x, y, z);
      if (staysBehind) rubber.mesh.position.set(-x, -y, -z);
      else rubber.mesh.position.set(0, 0, 0);
      shell.mesh.material.uniforms['slideMm'].value = this.slides.nowMm(i);
      touch.material.uniforms['slideMm'].value = this.slides.nowMm(i);
    });
  }

  private offsetsAt(slideMm: (piece: number) => number): Vec3[] {
    return this.pieces.slice(0, this.pieceCount).map(({ pull }, i) => {
      const mm = slideMm(i);
      return [pull[0] * mm, pull[1] * mm, pull[2] * mm];
    });
  }
}
