import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { PlanError } from '../../../src/core/errors.ts';
import { parsePlan } from '../../../src/core/plan/parsePlan.ts';
import { planSchema } from '../../../src/core/plan/planSchema.ts';
import { serialisePlan } from '../../../src/core/plan/serialisePlan.ts';
import { fullPlan, pathsOfSchema, placesOf } from './fullPlan.ts';

/** What took the place of a value, and whether that can never be right. */
interface Wrong {
  readonly what: string;
  readonly value: unknown;
  readonly isSure: boolean;
}

/** Longest answer to the largest plan of these, ms of the clock or the processor, whichever is less. */
const MOST_MS = 2000;
/** A list longer than any that a plan may hold. */
const MANY = 2001;
const REMOVED = Symbol('removed');
const DEEP: unknown = JSON.parse(`${'['.repeat(5000)}${']'.repeat(5000)}`);

/** What a value of each type must never be taken for, and what may be right by luck. */
function wrongsFor(value: unknown): Wrong[] {
  const sure = (what: string, wrong: unknown): Wrong => ({ what, value: wrong, isSure: true });
  const maybe = (what: string, other: unknown): Wrong => ({ what, value: other, isSure: false });
  const always = [
    sure('NaN', Number.NaN),
    sure('Infinity', Number.POSITIVE_INFINITY),
    sure('-Infinity', Number.NEGATIVE_INFINITY),
    sure('1e308', 1e308),
    sure('-1e308', -1e308),
    sure('a function', () => 0),
    sure('a deep list', DEEP),
    maybe('null', null),
  ];
  if (typeof value === 'number') {
    return [
      ...always,
      sure('text', '1'),
      sure('true', true),
      sure('an object', {}),
      maybe('-1', -1),
      maybe('0', 0),
      maybe('1e9', 1e9),
      maybe('0.5', 0.5),
    ];
  }
  if (typeof value === 'string') {
    return [
      ...always,
      sure('a number', 3),
      sure('true', true),
      sure('an object', {}),
      sure('a long text', 'x'.repeat(1e6)),
      maybe('no text', ''),
      maybe('markup', '<img src=x onerror=alert(1)>'),
      maybe('a list', []),
    ];
  }
  if (typeof value === 'boolean') return [...always, sure('text', 'true'), sure('1', 1), sure('a list', [])];
  if (Array.isArray(value)) {
    return [
      ...always,
      sure('an object', {}),
      sure('true', true),
      sure(
        'many',
        Array.from({ length: MANY }, () => value[0]),
      ),
      maybe('no item', []),
      maybe('text', 'all'),
      sure('a hole', new Array(3)),
    ];
  }
  return [...always, sure('text', 'x'), sure('a list', []), sure('a number', 3)];
}

/** A copy with the value at a place replaced. */
function replaced(document: unknown, keys: readonly string[], value: unknown): unknown {
  const [key, ...rest] = keys;
  const inner = rest.length === 0 ? value : replaced(Reflect.get(document as object, key), rest, value);
  if (Array.isArray(document)) {
    return document.flatMap((item, i) => (String(i) !== key ? [item] : inner === REMOVED ? [] : [inner]));
  }
  const copy = { ...(document as object) };
  if (inner === REMOVED) Reflect.deleteProperty(copy, key);
  // By definition, since "__proto__" cannot be set as others are.
  else
    Object.defineProperty(copy, key, { value: inner, enumerable: true, configurable: true, writable: true });
  return copy;
}

/** Null for a plan that can be kept and read again; else what was said, and of which field. Any other outcome fails. */
function refusalOf(json: unknown, what: string): PlanError | null {
  const from = performance.now();
  const cpuFrom = process.cpuUsage();
  try {
    const plan = parsePlan(json);
    expect(parsePlan(JSON.parse(serialisePlan(plan))), what).toEqual(plan);
    return null;
  } catch (error) {
    if (!(error instanceof PlanError)) throw error;
    expect(error.message, what).toMatch(/^[\x20-\x7e\p{L}\p{M}\p{N}\p{P}\p{S}]{20,700}\.$/u);
    return error;
  } finally {
    const { user, system } = process.cpuUsage(cpuFrom);
    expect(Math.min(performance.now() - from, (user + system) / 1000), what).toBeLessThan(MOST_MS);
  }
}

/** One field is the other, or holds it: a rule between two fields may be told at either. */
function isRelated(field: string, place: string): boolean {
  const [a, b] = [field.split('.'), place.split('.')];
  const shared = Math.min(a.length, b.length);
  return a.slice(0, shared).join('.') === b.slice(0, shared).join('.');
}

const valueAt = (document: unknown, keys: readonly string[]): unknown =>
  keys.reduce((at, key) => (at as Record<string, unknown>)[key], document);

const full = JSON.parse(JSON.stringify(fullPlan()));

describe('the full plan', () => {
  it('is one', () => {
    expect(refusalOf(full, 'the full plan')).toBeNull();
  });

  it('has something at every place that the schema knows, so that what follows tries every field', () => {
    const isOfTable = /\.basis\.[^.]+/g;
    const present = new Set(
      placesOf(full).map((keys) =>
        keys
          .join('.')
          .replace(isOfTable, '.basis.*')
          .replace(/\.\d+(?=\.|$)/g, '.*'),
      ),
    );
    const known = pathsOfSchema(planSchema);
    expect(known.length).toBeGreaterThan(300);
    expect(known.filter((path) => !present.has(path))).toEqual([]);
  });
});

describe('every field of the plan', () => {
  const places = placesOf(full);

  it('missing: refused by its name', () => {
    const wrong: string[] = [];
    for (const keys of places) {
      const place = keys.join('.');
      const refusal = refusalOf(replaced(full, keys, REMOVED), place);
      const isOfList = Array.isArray(valueAt(full, keys.slice(0, -1))) || keys.at(-2) === 'basis';
      // A list with one item less may do; one that needs it says so.
      const isRight = isOfList
        ? refusal === null || isMeant(refusal, keys.slice(0, -1))
        : refusal?.field === place && (place === 'schema' || refusal.message.includes('is missing'));
      if (!isRight) wrong.push(`${place}: ${refusal?.message ?? 'taken'}`);
    }
    expect(wrong).toEqual([]);
  });

  it('of another type, not finite, out of range, too many: refused at that place, or a plan that can be kept', () => {
    const wrong: string[] = [];
    let refused = 0;
    for (const keys of places) {
      for (const { what, value, isSure } of wrongsFor(valueAt(full, keys))) {
        const title = `${keys.join('.')} = ${what}`;
        const refusal = refusalOf(replaced(full, keys, value), title);
        if (refusal !== null) refused++;
        if (refusal === null ? isSure : !isMeant(refusal, keys)) {
          wrong.push(`${title}: ${refusal?.message ?? 'taken'}`);
        }
      }
    }
    expect(wrong).toEqual([]);
    expect(refused).toBeGreaterThan(10 * places.length);
  });

  it('unknown keys are refused by name in every object, also those that every object has by birth', () => {
    const wrong: string[] = [];
    const objects = [[], ...places].filter((keys) => {
      const value = valueAt(full, keys);
      return typeof value === 'object' && value !== null && !Array.isArray(value);
    });
    for (const keys of objects) {
      for (const key of ['colour', '__proto__', 'constructor', 'toString', 'hasOwnProperty']) {
        const place = [...keys, key].join('.');
        const refusal = refusalOf(replaced(full, [...keys, key], 3), place);
        if (refusal?.field !== place) wrong.push(`${place}: ${refusal?.message ?? 'taken'}`);
      }
      for (const key of ['k'.repeat(1e6), '\u001b[31m\u202e<script>']) {
        const title = `${keys.join('.')}, ${key.length} characters`;
        if (refusalOf(replaced(full, [...keys, key], 3), title) === null) wrong.push(`${title}: taken`);
      }
    }
    expect(wrong).toEqual([]);
  });

  function isMeant({ field = '' }: PlanError, keys: readonly string[]): boolean {
    // Names and ids answer to one another within one system; a dose lies between two others.
    const system = keys.slice(0, keys[0] === 'otherMaterials' ? 2 : 1).join('.');
    return (
      isRelated(field, keys.join('.')) ||
      (/material|rubber|filler/i.test(keys[0]) && isRelated(field, system))
    );
  }
});

describe('versions', () => {
  it.each(['scute-plan/6', 'scute-plan/999999'])('%s: a later one, said', (schema) => {
    expect(refusalOf({ ...full, schema }, schema)).toMatchObject({ code: 'newer-plan', field: 'schema' });
    // A later version may hold anything.
    expect(refusalOf({ schema, more: [1] }, schema)).toMatchObject({ code: 'newer-plan', field: 'schema' });
  });

  it.each([
    'scute-plan/0',
    'scute-plan/-1',
    'scute-plan/4.5',
    'scute-plan/9999999',
    'scute-plan/',
    '',
    'x',
    4,
    null,
    {},
  ])('%j: none at all, said', (schema) => {
    expect(refusalOf({ ...full, schema }, String(schema))).toMatchObject({
      code: 'bad-plan',
      field: 'schema',
    });
  });

  it('a plan of the first version, every field wrong: brought over or refused in words', () => {
    const first = JSON.parse(
      readFileSync(new URL('../../fixtures/fish-plan-1.scute.json', import.meta.url), 'utf8'),
    );
    expect(refusalOf(first, 'the first plan')).toBeNull();
    for (const keys of placesOf(first)) {
      const place = keys.join('.');
      for (const { what, value } of [
        ...wrongsFor(valueAt(first, keys)),
        { what: 'missing', value: REMOVED },
      ]) {
        refusalOf(replaced(first, keys, value), `${place} = ${what}`);
      }
    }
  });
});
