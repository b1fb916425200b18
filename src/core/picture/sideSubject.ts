import type { PlanRun } from '../computePlan.ts';
import type { SideSubject } from './SidePicture.ts';

/** What the sides show of a run: the body that the shell is laid on in its pieces, the lines between them, the spots for the pin. */
export function sideSubject({ parting, result }: Pick<PlanRun, 'parting' | 'result'>): SideSubject {
  const { cut, chains } = parting;
  return {
    positions: cut.positions,
    indices: cut.indices,
    triRegion: cut.cutTriRegion,
    lines: chains.map((chain) => chain.points),
    probes: result.probes,
  };
}
