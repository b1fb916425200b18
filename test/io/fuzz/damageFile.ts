import { concat, encode } from '../sampleFiles.ts';

type Random = () => number;

/** What was done, for a message, and the bytes after it. */
export interface Damaged {
  readonly how: string;
  readonly bytes: Uint8Array;
}

/** Words that take the place of a number, or stand where none should. */
const WORDS = [
  '',
  '0',
  '-1',
  '1',
  '7',
  '.5',
  'e9',
  'nan',
  'inf',
  '-inf',
  'Infinity',
  '1e30',
  '-1e30',
  '1e38',
  '1e308',
  '1e400',
  '4294967295',
  '4294967296',
  '18446744073709551615',
  '-2147483648',
  '99999999999999999999999999',
  '0x10',
  '1,5',
  'null',
  '"',
  '[',
  '{}',
  ']',
  '<mesh>',
  '<!--',
  '/>',
  '&x;',
  '\\\n',
  '\n',
  '\r',
  '\0',
  'list',
  'end_header\n',
  'endsolid',
  'facet',
  'f 1 2 3\n',
  'v 1 2\n',
  '../',
  '<script>alert(1)</script>',
];

/** Numbers that a binary file holds where a sound one does not. */
const FLOATS = [
  Number.NaN,
  Number.POSITIVE_INFINITY,
  Number.NEGATIVE_INFINITY,
  1e30,
  -1e30,
  3.4e38,
  -0,
  1e-45,
];
const COUNTS = [0xffffffff, 0x7fffffff, 0x80000000, 0, 1, 0xffff, 0x10000000, 3];

const pick = <Item>(random: Random, items: readonly Item[]): Item =>
  items[Math.floor(random() * items.length)];

/** A place in the file, nearer its head more often. */
const placeIn = (random: Random, length: number): number => Math.floor(random() ** 2 * length);

/** One way of damage: the file's new bytes. Each works on any bytes, text or not. */
const WAYS: Readonly<Record<string, (bytes: Uint8Array, random: Random) => Uint8Array>> = {
  'bits flipped': (bytes, random) => {
    const out = bytes.slice();
    for (let n = Math.floor(8 * random()); n >= 0; n--) {
      out[placeIn(random, out.length)] ^= 1 << Math.floor(8 * random());
    }
    return out;
  },
  'two stretches swapped': (bytes, random) => {
    const size = 1 + Math.floor(random() * Math.min(64, bytes.length / 4));
    const a = Math.floor(random() * (bytes.length - 2 * size));
    const b = a + size + Math.floor(random() * (bytes.length - a - 2 * size));
    const out = bytes.slice();
    out.set(bytes.subarray(b, b + size), a);
    out.set(bytes.subarray(a, a + size), b);
    return out;
  },
  'a stretch repeated': (bytes, random) => {
    const at = placeIn(random, bytes.length);
    const stretch = bytes.subarray(at, at + 1 + Math.floor(random() * 200));
    const times = 1 + Math.floor(random() * 5);
    return concat(bytes.subarray(0, at), ...Array.from({ length: times }, () => stretch), bytes.subarray(at));
  },
  'a stretch taken out': (bytes, random) => {
    const at = placeIn(random, bytes.length);
    return concat(
      bytes.subarray(0, at),
      bytes.subarray(at + 1 + Math.floor(random() * pick(random, [1, 8, 200, 2000]))),
    );
  },
  'cut off': (bytes, random) => bytes.slice(0, Math.floor(random() * bytes.length)),
  'a word put in': (bytes, random) => {
    const at = placeIn(random, bytes.length);
    const taken = Math.floor(random() * 4);
    return concat(bytes.subarray(0, at), encode(pick(random, WORDS)), bytes.subarray(at + taken));
  },
  'a written number replaced': (bytes, random) => {
    const isOfNumber = (byte: number | undefined): boolean =>
      byte !== undefined && ((byte >= 0x30 && byte <= 0x39) || byte === 0x2e || byte === 0x2d);
    const start = placeIn(random, bytes.length);
    let from = start;
    while (from < bytes.length && !isOfNumber(bytes[from])) from++;
    while (from > 0 && isOfNumber(bytes[from - 1])) from--;
    let to = from;
    while (isOfNumber(bytes[to])) to++;
    return concat(bytes.subarray(0, from), encode(pick(random, WORDS)), bytes.subarray(to));
  },
  'a float replaced': (bytes, random) =>
    written(bytes, 4, random, (view, at) => view.setFloat32(at, pick(random, FLOATS), random() < 0.8)),
  'a double replaced': (bytes, random) =>
    written(bytes, 8, random, (view, at) => view.setFloat64(at, pick(random, FLOATS), random() < 0.8)),
  'a count replaced': (bytes, random) =>
    written(bytes, 4, random, (view, at) => view.setUint32(at, pick(random, COUNTS), random() < 0.8)),
  'bytes of any kind put in': (bytes, random) => {
    const at = placeIn(random, bytes.length);
    const put = Uint8Array.from({ length: 1 + Math.floor(random() * 40) }, () => 256 * random());
    return concat(bytes.subarray(0, at), put, bytes.subarray(at + (random() < 0.5 ? put.length : 0)));
  },
};

/** One to three ways of damage, one after the other. */
export function damageFile(bytes: Uint8Array, random: Random): Damaged {
  const names: string[] = [];
  let out = bytes;
  for (let n = Math.floor(3 * random()); n >= 0 && out.length > 8; n--) {
    const way = pick(random, Object.keys(WAYS));
    names.push(way);
    out = WAYS[way](out, random);
  }
  return { how: names.join(', '), bytes: out };
}

function written(
  bytes: Uint8Array,
  size: number,
  random: Random,
  write: (view: DataView, at: number) => void,
): Uint8Array {
  if (bytes.length < size) return bytes;
  const out = bytes.slice();
  write(new DataView(out.buffer), placeIn(random, out.length - size + 1));
  return out;
}
