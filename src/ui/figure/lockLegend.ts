import { html, nothing, type TemplateResult } from 'lit';
import { formatLength, type UnitSystem } from '../../core/units.ts';
import type { PiecePicture } from '../../jobs/protocol.ts';
import { sayLevels } from './depthLevels.ts';
import { depthSwatch, giveSwatch, givingSwatch, hatchSwatch } from './hatchSwatch.ts';
import { LOCK_WORDS, lockKinds } from './lockKinds.ts';

/** Items of the legend for what locks: each hatching that occurs, the lines of depth, and the rubber's give. */
export function lockLegend(
  pieces: readonly PiecePicture[],
  levelsMm: readonly number[],
  giveMm: number,
  units: UnitSystem,
): readonly (TemplateResult | typeof nothing)[] {
  const kinds = lockKinds(pieces);
  if (kinds.length === 0) return [html`<li>nothing locks</li>`];
  return [
    ...kinds.map((kind) => html`<li>${hatchSwatch(kind)} ${LOCK_WORDS[kind]}</li>`),
    levelsMm.length > 0 ? html`<li>${depthSwatch} locks by ${sayLevels(levelsMm, units)}</li>` : nothing,
    giveMm > 0
      ? html`<li>${givingSwatch} ${giveSwatch} the rubber gives ${formatLength(giveMm, units)}</li>`
      : nothing,
  ];
}
