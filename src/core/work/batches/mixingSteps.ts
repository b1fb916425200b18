import type { Additive, MaterialSystem, Reinforcement } from '../../material/MaterialSystem.ts';
import type { BatchStep } from '../../PlanResult.ts';
import { sayBoth } from '../../sayBoth.ts';
import { formatArea, type UnitSystem } from '../../units.ts';
import type { Weighing } from './weighBatch.ts';

const MM2_PER_M2 = 1e6;

/**
 * What goes into the bucket, in the order of the system's mixing rule; what the rule does not name follows it, the
 * reinforcement goes in last. What weighs nothing is left out. `areaMm2` is what the batch covers, for sheets.
 */
export function mixingSteps(system: MaterialSystem, weighing: Weighing, areaMm2: number): BatchStep[] {
  const { reinforcement, additives, mixing } = system;
  const rank = (name: string): number => {
    if (name === reinforcement?.name) return mixing.order.length + 1;
    const place = mixing.order.indexOf(name);
    return place < 0 ? mixing.order.length : place;
  };
  return weighing.weights
    .filter((weight) => weight.massG > 0)
    .sort((a, b) => rank(a.name) - rank(b.name))
    .map(({ name, massG, scale }) => ({
      item: name,
      massG,
      scale: scale.name,
      ...sayBoth('say', (units) =>
        reinforcement !== null && name === reinforcement.name
          ? sayReinforcement(reinforcement, mixing.reinforcementMixS, massG, areaMm2, units)
          : saySolution(additives.find((additive) => additive.name === name)?.solution ?? null),
      ),
    }));
}

/** "40 g in 480 g of water makes 520 g"; empty for what is added as it is. In grams either way: it is weighed out. */
export function saySolution(solution: Additive['solution']): string {
  if (solution === null) return '';
  const { activeG, waterG } = solution;
  return `${plain(activeG)} g in ${plain(waterG)} g of water makes ${plain(activeG + waterG)} g`;
}

function sayReinforcement(
  reinforcement: Reinforcement,
  mixS: number | null,
  massG: number,
  areaMm2: number,
  units: UnitSystem,
): string {
  if (reinforcement.form === 'chopped') {
    return mixS === null
      ? 'stir in last, up to the very edge'
      : `stir in last, for no more than ${plain(mixS)} s, up to the very edge`;
  }
  const { arealGPerM2 } = reinforcement;
  if (arealGPerM2 === null) return 'lay in, do not stir';
  const sheetMm2 = (massG / arealGPerM2) * MM2_PER_M2;
  const layers = areaMm2 > 0 ? sheetMm2 / areaMm2 : 0;
  const asLayers = layers > 0 ? `, about ${layers.toFixed(1)} layers over the batch’s area` : '';
  return `lay in, do not stir: ${formatArea(sheetMm2, units)}${asLayers}`;
}

/** A number as it is typed: no more digits than it needs. */
function plain(value: number): string {
  return String(Math.round(value * 100) / 100);
}
