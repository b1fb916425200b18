import { Group, type Object3D } from 'three';
import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { PlanGeometry, SurfacePicture } from '../../jobs/protocol.ts';
import type { ViewBox, ViewShow, ViewTheme } from '../viewTypes.ts';
import { Body } from './Body.ts';
import type { SharedLight } from './clayMaterial.ts';
import type { DepthMaps } from './DepthMaps.ts';
import { ShadeJob } from './ShadeJob.ts';

interface PieceBodies {
  readonly group: Group;
  readonly rubber: Body;
  readonly shell: Body;
  pull: Vec3;
}

/** Pieces that cover less than this share of the rubber's facets leave some of it bare (base, keep-clear areas). */
const WHOLE_SHARE = 0.985;

/** All that is made of clay and plaster: the whole rubber, its surface by piece, and the shells. */
export class Bodies {
  private readonly root = new Group();
  private readonly whole: Body;
  private readonly pieces: PieceBodies[] = [];
  private pieceCount = 0;
  private rubberPicture: SurfacePicture | null = null;
  private hasShell: readonly boolean[] = [];
  /** Corners of all the pieces' facets together. */
  private pieceCorners = 0;
  private box: ViewBox | null = null;
  private apartMm = 0;
  private areShellsShown = false;
  private readonly rubberShade: ShadeJob;
  private readonly shellShade: ShadeJob;

  constructor(
    parent: Object3D,
    private readonly light: SharedLight,
    private readonly onChange: () => void,
  ) {
    parent.add(this.root);
    this.whole = new Body(light);
    this.root.add(this.whole.mesh);
    this.rubberShade = new ShadeJob((maps) => this.shadeRubber(maps));
    this.shellShade = new ShadeJob((maps) => this.shadeShells(maps));
  }

  /** Box of the whole rubber, or null while there is none. */
  get bounds(): ViewBox | null {
    return this.box;
  }

  get rubber(): SurfacePicture | null {
    return this.rubberPicture;
  }

  /** Where each piece stands away from its place, mm. */
  get offsets(): Vec3[] {
    return this.pieces
      .slice(0, this.pieceCount)
      .map(({ pull }) => [pull[0] * this.apartMm, pull[1] * this.apartMm, pull[2] * this.apartMm]);
  }

  /** True when the rubber changed. */
  setGeometry(geometry: PlanGeometry): boolean {
    let isNewRubber = false;
    if (geometry.rubber !== null && this.whole.setSurface(geometry.rubber)) {
      isNewRubber = true;
      this.rubberPicture = geometry.rubber;
      this.box = boxOf(geometry.rubber.positions);
      this.rubberShade.clear();
      this.rubberShade.start([geometry.rubber]);
      this.shellShade.clear();
    }
    this.pieceCount = geometry.pieces.length;
    while (this.pieces.length < this.pieceCount) this.pieces.push(this.newPiece());
    geometry.pieces.forEach((picture, i) => {
      const piece = this.pieces[i];
      piece.pull = picture.pull;
      piece.rubber.setSurface(picture.rubber);
      if (picture.shell !== null) piece.shell.setSurface(picture.shell);
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
      piece.group.removeFromParent();
    }
    this.pieces.length = 0;
    this.pieceCount = 0;
    this.rubberPicture = null;
    this.hasShell = [];
    this.box = null;
    this.whole.mesh.visible = false;
  }

  setApart(mm: number): void {
    this.apartMm = mm;
    this.place();
  }

  /** Decides which surfaces are seen, and gives them their tints. */
  dress(show: ViewShow, theme: ViewTheme): void {
    const areShells = show.shells && this.hasShell.some(Boolean);
    this.areShellsShown = areShells;
    const isBare = this.pieceCount === 0;
    // What the pieces leave bare (base, areas kept clear) is seen on the rubber beneath them.
    const hasGaps =
      this.rubberPicture !== null &&
      this.pieceCorners < WHOLE_SHARE * this.rubberPicture.indices.length &&
      this.apartMm === 0;
    this.whole.mesh.visible = this.rubberPicture !== null && show.rubber && (areShells || isBare || hasGaps);
    this.whole.setTint(areShells ? theme.rubber : theme.clay);
    // Under the pieces' own surfaces the whole one must step back, or the two would fight.
    this.whole.mesh.material.polygonOffsetFactor = areShells || isBare ? 1.5 : 3;
    this.whole.mesh.material.polygonOffsetUnits = areShells || isBare ? 2 : 8;
    this.pieces.forEach((piece, i) => {
      const isThere = i < this.pieceCount;
      const tint = theme.pieces.length > 0 ? theme.pieces[i % theme.pieces.length] : theme.clay;
      const isShell = isThere && areShells && this.hasShell[i];
      piece.shell.mesh.visible = isShell;
      piece.rubber.mesh.visible = isThere && !isShell && (areShells || show.rubber);
      piece.shell.setTint(tint);
      piece.rubber.setTint(tint);
    });
    this.buildSeen();
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
    this.root.removeFromParent();
  }

  private newPiece(): PieceBodies {
    const group = new Group();
    const rubber = new Body(this.light);
    const shell = new Body(this.light);
    group.add(rubber.mesh, shell.mesh);
    this.root.add(group);
    return { group, rubber, shell, pull: [0, 0, 1] };
  }

  /** Builds what came into sight since; the former body's shade is near enough until the new one's is made. */
  private buildSeen(): void {
    if (this.whole.mesh.visible) this.whole.build(this.rubberShade.maps);
    let areShellsNew = false;
    for (const { rubber, shell } of this.pieces) {
      if (rubber.mesh.visible) rubber.build(this.rubberShade.maps);
      if (shell.mesh.visible && shell.build(this.shellShade.maps)) areShellsNew = true;
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
      this.pieces[i].group.position.set(x, y, z);
    });
  }

  private shadeRubber(maps: DepthMaps): void {
    this.whole.shadeBy(maps);
    for (const piece of this.pieces) piece.rubber.shadeBy(maps);
    this.onChange();
  }

  private shadeShells(maps: DepthMaps): void {
    for (const piece of this.pieces) piece.shell.shadeBy(maps);
    this.onChange();
  }
}

function boxOf(positions: Float32Array): ViewBox {
  const min: [number, number, number] = [Infinity, Infinity, Infinity];
  const max: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < positions.length; i++) {
    const k = i % 3;
    if (positions[i] < min[k]) min[k] = positions[i];
    if (positions[i] > max[k]) max[k] = positions[i];
  }
  return { min, max };
}
