import type { PaintInks } from '../figure/sketch/paintSketch.ts';

/** Colours of the tokens as a canvas takes them, as they hold on light paper; words keep a halo of the paper that is printed on. */
export function readPrintInks(root: HTMLElement): PaintInks & { dispose(): void } {
  const probe = document.createElement('span');
  probe.hidden = true;
  probe.style.colorScheme = 'light';
  root.append(probe);
  const known = new Map<string, string>();
  return {
    face: getComputedStyle(root).fontFamily,
    colour(ink) {
      if (ink.startsWith('#')) return ink;
      const token = ink === 'on-plaster' ? '--ink' : ink === '--paper' ? '--paper-print' : ink;
      const kept = known.get(token);
      if (kept) return kept;
      probe.style.color = `var(${token})`;
      const colour = getComputedStyle(probe).color;
      known.set(token, colour);
      return colour;
    },
    dispose: () => probe.remove(),
  };
}
