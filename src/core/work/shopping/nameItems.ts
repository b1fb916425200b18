import type { PlanDocument } from '../../plan/PlanDocument.ts';
import type { PartToBuy } from './partsToBuy.ts';

/**
 * The name under which each part is bought, by its key: its own, with its system's name where two systems have one of
 * that name.
 */
export function nameItems(parts: readonly PartToBuy[]): Map<string, string> {
  const counts = new Map<string, number>();
  for (const { name } of parts) counts.set(name, (counts.get(name) ?? 0) + 1);
  return new Map(
    parts.map((part) => [part.key, (counts.get(part.name) ?? 0) > 1 ? qualifiedName(part) : part.name]),
  );
}

/**
 * What of each part lies in the shop, g as bought, by its key; parts that the stock list does not name are missing. The
 * list may name a part alone or with its system, "powder (Casting plaster)". A bare name that several systems have
 * means the first.
 */
export function stockOfParts(
  stock: PlanDocument['stock'],
  parts: readonly PartToBuy[],
): ReadonlyMap<string, number> {
  const found = new Map<string, number>();
  for (const { item, massG } of stock) {
    const part =
      parts.find((one) => qualifiedName(one) === item) ?? parts.find((one) => one.name === item) ?? null;
    if (part !== null) found.set(part.key, (found.get(part.key) ?? 0) + massG);
  }
  return found;
}

function qualifiedName({ name, system }: PartToBuy): string {
  return `${name} (${system.name})`;
}
