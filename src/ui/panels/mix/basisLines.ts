import { html, nothing } from 'lit';
import type { Basis, MaterialSystem } from '../../../core/material/MaterialSystem.ts';
import { basisOf, sayBasis } from '../../../session/materialBasis.ts';

const KINDS: Readonly<Record<Basis['kind'], string>> = {
  published: 'published',
  'common-practice': 'common practice',
  'from-memory': 'from memory',
  yours: 'yours',
};

/** In a word or two, for under a field; the whole of it stands in `basisLines`. */
export function basisHint(system: MaterialSystem, path: string): string {
  const basis = basisOf(system, path);
  return basis ? KINDS[basis.kind] : 'no basis given';
}

/** Where a group's values come from, in full: values of one basis are named together. */
export function basisLines(
  system: MaterialSystem,
  values: readonly (readonly [path: string, label: string])[],
) {
  const bySaid = new Map<string, string[]>();
  for (const [path, label] of values) {
    const basis = basisOf(system, path);
    const said = basis ? sayBasis(basis) : 'no basis given';
    bySaid.set(said, [...(bySaid.get(said) ?? []), label]);
  }
  if (bySaid.size === 0) return nothing;
  return html`<ul class="basis" aria-label="Where these values come from">
    ${[...bySaid].map(([said, labels]) => html`<li>${sayList(labels)}: ${said}</li>`)}
  </ul>`;
}

function sayList(labels: readonly string[]): string {
  const text = labels.join(', ');
  return text.charAt(0).toUpperCase() + text.slice(1);
}
