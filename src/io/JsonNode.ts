import { MeshError } from '../core/errors.ts';

/** A value inside a JSON document from outside, with the path to it ("meshes[2].primitives"), so that what is wrong can be said. */
export class JsonNode {
  constructor(
    readonly value: unknown,
    readonly path: string,
  ) {}

  get isAbsent(): boolean {
    return this.value === undefined;
  }

  /** The value under a key; absent when there is none, or when this is absent. Throws MeshError bad-value on what is no object. */
  get(key: string): JsonNode {
    const path = this.path === '' ? key : `${this.path}.${key}`;
    if (this.value === undefined) return new JsonNode(undefined, path);
    if (typeof this.value !== 'object' || this.value === null || Array.isArray(this.value))
      this.refuse('an object');
    return new JsonNode(
      Object.hasOwn(this.value, key) ? (this.value as Record<string, unknown>)[key] : undefined,
      path,
    );
  }

  keys(): string[] {
    if (this.value === undefined) return [];
    if (typeof this.value !== 'object' || this.value === null || Array.isArray(this.value))
      this.refuse('an object');
    return Object.keys(this.value);
  }

  /** The items of a list; none when it is absent. */
  list(): JsonNode[] {
    if (this.value === undefined) return [];
    if (!Array.isArray(this.value)) this.refuse('a list');
    return this.value.map((item: unknown, i) => new JsonNode(item, `${this.path}[${i}]`));
  }

  /** How many items the list has, 0 when it is absent. */
  get length(): number {
    if (this.value === undefined) return 0;
    if (!Array.isArray(this.value)) this.refuse('a list');
    return this.value.length;
  }

  /** An item of a list by its number. */
  at(index: number): JsonNode {
    return new JsonNode(Array.isArray(this.value) ? this.value[index] : undefined, `${this.path}[${index}]`);
  }

  text(fallback?: string): string {
    if (this.value === undefined && fallback !== undefined) return fallback;
    if (typeof this.value !== 'string') this.refuse('a text');
    return this.value;
  }

  /** A finite number. */
  number(fallback?: number): number {
    if (this.value === undefined && fallback !== undefined) return fallback;
    if (typeof this.value !== 'number' || !Number.isFinite(this.value)) this.refuse('a number');
    return this.value;
  }

  /** A whole number of at least 0, and below `limit`. */
  count(fallback?: number, limit = Number.MAX_SAFE_INTEGER): number {
    const value = this.number(fallback);
    if (!Number.isInteger(value) || value < 0) this.refuse('a whole number of at least 0');
    if (value >= limit) {
      throw new MeshError(
        'index-out-of-range',
        `In the file's JSON, ${this.path} is ${value}; there are ${limit}, numbered from 0. Export the scan again.`,
      );
    }
    return value;
  }

  /** So many finite numbers. */
  numbers(size: number, fallback: readonly number[]): readonly number[] {
    if (this.value === undefined) return fallback;
    const items = this.list();
    if (items.length !== size) this.refuse(`a list of ${size} numbers`);
    return items.map((item) => item.number());
  }

  refuse(wanted: string): never {
    throw new MeshError(
      'bad-value',
      `In the file's JSON, ${this.path === '' ? 'the whole' : this.path} is not ${wanted}. Export the scan again.`,
    );
  }
}
