import type { DescribedIssue } from './describeIssue.ts';

/** No list of a plan may be longer (a line has 2000 points at most), and no object have more keys. */
const MOST_ITEMS = 2000;
/** A plan's values lie nine deep. */
const MOST_DEPTH = 16;

interface Place {
  readonly value: unknown;
  readonly path: readonly string[];
}

/**
 * What is larger than anything in a plan, or null: looked for before the schema is, which would try every item of a list
 * before it told that there are too many. Keys that every object has by birth are told too, since the schema takes them for
 * its own.
 */
export function findOversize(json: unknown): DescribedIssue | null {
  const places: Place[] = [{ value: json, path: [] }];
  for (let place = places.pop(); place !== undefined; place = places.pop()) {
    const { value, path } = place;
    if (typeof value !== 'object' || value === null) continue;
    const field = path.join('.');
    if (path.length > MOST_DEPTH) return { field, text: 'lies deeper than anything in a plan' };
    if (Array.isArray(value) && value.length > MOST_ITEMS) {
      return { field, text: `has ${value.length} items, more than any list of a plan` };
    }
    const keys = Object.keys(value);
    if (keys.length > MOST_ITEMS)
      return { field, text: `has ${keys.length} keys, more than any part of a plan` };
    for (const key of keys) {
      const inside = [...path, key];
      if (key in Object.prototype) return { field: inside.join('.'), text: 'is no key that is known here' };
      places.push({ value: Reflect.get(value, key), path: inside });
    }
  }
  return null;
}
