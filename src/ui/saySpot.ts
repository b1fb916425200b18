import type { SpotResult } from '../core/PlanResult.ts';

/** What holds the shell at a spot, in words. */
export function saySpot({ kind, by }: Pick<SpotResult, 'kind' | 'by'>): string {
  if (kind === 'facing-away') return 'faces away';
  switch (by) {
    case 'rubber':
      return 'behind rubber';
    case 'piece':
      return 'behind a piece';
    case 'board':
      return 'behind the board';
  }
}
