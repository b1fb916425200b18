import type { ViewTheme } from '../../view/viewTypes.ts';

/** As many tints as the tokens define; more pieces or coats take them again from the first. */
const TINT_COUNT = 6;

/**
 * The view's colours out of the tokens, as they hold under `scheme`. A probe is laid in the page because custom
 * properties come back as written: only a real property is resolved.
 */
export function readTheme(root: HTMLElement, scheme: 'light' | 'dark' | 'inherit' = 'inherit'): ViewTheme {
  const probe = document.createElement('span');
  probe.hidden = true;
  if (scheme !== 'inherit') probe.style.colorScheme = scheme;
  root.append(probe);
  const read = (token: string): string => {
    probe.style.color = `var(--${token})`;
    return toHex(getComputedStyle(probe).color);
  };
  const tints = (stem: string) => Array.from({ length: TINT_COUNT }, (_, i) => read(`${stem}-${i}`));
  const theme: ViewTheme = {
    paper: read('paper'),
    ink: read('ink'),
    inkSoft: read('ink-soft'),
    accent: read('accent'),
    clay: read('clay'),
    pieces: tints('piece'),
    coats: tints('coat'),
    rubber: read('rubber'),
  };
  probe.remove();
  return theme;
}

/** "rgb(246, 243, 235)" -> "#f6f3eb". */
export function toHex(rgb: string): string {
  const parts = rgb.match(/[\d.]+/g)?.slice(0, 3) ?? ['0', '0', '0'];
  return `#${parts.map((p) => Math.round(Number(p)).toString(16).padStart(2, '0')).join('')}`;
}
