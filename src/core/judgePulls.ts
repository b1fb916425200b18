import { outerDistanceMm } from './assembleResult.ts';
import type { Checkpoint } from './checkpoint.ts';
import { type JudgedSurface, rememberJudged, toldOfPattern } from './judgedSurface.ts';
import type { Ground } from './layGround.ts';
import type { PryingResult, PullsResult } from './PlanResult.ts';
import { bestPulls } from './parting/pulls/bestPulls.ts';
import { chartPulls } from './parting/pulls/chartPulls.ts';
import { directionGrid, GRID_STEP_DEG } from './parting/pulls/directionGrid.ts';
import { labelFaces } from './parting/pulls/labelFaces.ts';
import type { PullChart } from './parting/pulls/PullChart.ts';
import { pryPieces } from './parting/pulls/pryPieces.ts';
import { type SimpleSurface, simplifySurface } from './parting/pulls/simplifySurface.ts';
import { type FaceSweep, sweepFaces } from './parting/pulls/sweepFaces.ts';
import { regionOfVerts } from './parting/regionOfVerts.ts';
import { SurfaceContext } from './parting/SurfaceContext.ts';
import { measureUndercut } from './parting/undercut/measureUndercut.ts';
import type { UndercutStep } from './parting/undercut/UndercutStep.ts';
import type { PlanDocument } from './plan/PlanDocument.ts';
import type { StepCache } from './StepCache.ts';

/** The shell's reach into its neighbours' way is taken in steps of this, so that a coat made thicker keeps the undercuts. */
const REACH_STEP_MM = 4;

/** Everything about the pulls of one ground, remembered by what it reads. `rung` tells the bare ground's steps from the filled one's. */
export class PullJudge {
  constructor(
    private readonly rung: string,
    private readonly plan: PlanDocument,
    private readonly ground: Ground,
    private readonly cache: StepCache,
  ) {}

  /** True when the undercuts, and the pulls beside them, are known already. */
  get isKnown(): boolean {
    return this.cache.has(`undercut ${this.rung}`, this.key) && this.cache.has('pulls', this.key);
  }

  /** What locks each piece, told by the triangles of the ground's own cut. */
  async undercut(cp: Checkpoint): Promise<UndercutStep> {
    const { rubberGiveMm: giveMm } = this.plan.parting;
    return this.cache.remember(`undercut ${this.rung}`, this.key, async () => {
      const { surface, cut, chains, brushed } = await this.judged(
        cp.within(0, 0.4, 'brushing the rubber on'),
      );
      const step = await measureUndercut(
        {
          surface,
          cut,
          chains,
          pulls: this.pulls,
          giveMm,
          shellMm: this.reachMm,
          standsOnBoard: surface.standsOnBoard,
        },
        cp.within(brushed ? 0.4 : 0, 1, 'looking for undercuts'),
      );
      return brushed ? toldOfPattern(step, brushed) : step;
    });
  }

  /** The best pull of each piece by itself and all that clear it; and whether a small turn frees it where none does. */
  async waysOff(
    cp: Checkpoint,
  ): Promise<{ readonly pulls: readonly PullsResult[]; readonly prying: readonly PryingResult[] }> {
    return this.cache.remember('pulls', this.key, async () => {
      const judged = await this.judged(cp);
      const { simple, sweep } = await this.sweep(judged, cp.within(0, 0.6, 'looking along every direction'));
      const { rubberGiveMm: giveMm } = this.plan.parting;
      const labels = this.labels(judged, simple);
      const pulls = await bestPulls(
        {
          mesh: simple.scan.mesh,
          labels,
          pulls: this.pulls,
          giveMm,
          standsOnBoard: judged.surface.standsOnBoard,
          directions: this.directions,
          stepDeg: GRID_STEP_DEG,
          sweep,
        },
        cp.within(0.6, 0.85, 'finding the best pulls'),
      );
      const prying = await pryPieces(
        {
          surface: new SurfaceContext(simple.scan),
          labels,
          chains: judged.chains,
          names: this.ground.parting.pieces.map((piece) => piece.name),
          pulls: this.pulls,
          found: pulls,
          giveMm,
          pixelMm: sweep.pixelMm,
          shellMm: this.reachMm,
        },
        cp.within(0.85, 1, 'trying to tip the pieces'),
      );
      return { pulls, prying };
    });
  }

  /** How bad each direction is, for the whole mould or one piece. */
  async chart(of: PullChart['of'], cp: Checkpoint): Promise<PullChart> {
    const judged = await this.judged(cp);
    const { simple, sweep } = await this.sweep(judged, cp.within(0, 0.95, 'looking along every direction'));
    return chartPulls({
      mesh: simple.scan.mesh,
      labels: this.labels(judged, simple),
      of,
      directions: this.directions,
      stepDeg: GRID_STEP_DEG,
      sweep,
      standsOnBoard: judged.surface.standsOnBoard,
    });
  }

  private get pulls() {
    return this.ground.parting.pieces.map((piece) => piece.pull);
  }

  private get reachMm(): number {
    return Math.ceil(outerDistanceMm(this.plan) / REACH_STEP_MM) * REACH_STEP_MM;
  }

  private get directions(): Float32Array {
    return directionGrid(this.ground.surface.standsOnBoard, GRID_STEP_DEG);
  }

  /** Names all that undercuts and pulls are made from. */
  private get key(): string {
    const { scan, parting } = this.plan;
    return JSON.stringify([
      this.reachMm,
      this.ground.partingKey,
      parting.rubberGiveMm,
      scan.is,
      scan.is === 'pattern' && scan.rubberMm,
    ]);
  }

  private judged(cp: Checkpoint): Promise<JudgedSurface> {
    return rememberJudged(this.plan, this.ground, this.cache, cp);
  }

  private sweep(
    { surface, surfaceKey }: JudgedSurface,
    cp: Checkpoint,
  ): Promise<{ readonly simple: SimpleSurface; readonly sweep: FaceSweep }> {
    return this.cache.remember('sweep', surfaceKey, async () => {
      await cp.pause(0);
      const simple = await simplifySurface(surface);
      const { standsOnBoard } = surface;
      return { simple, sweep: await sweepFaces(simple.scan.mesh, this.directions, cp, standsOnBoard) };
    });
  }

  private labels({ surface, cut }: JudgedSurface, simple: SimpleSurface): Int32Array {
    return labelFaces(simple, surface, cut, regionOfVerts(surface, cut));
  }
}
