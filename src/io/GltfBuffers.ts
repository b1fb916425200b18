import { MeshError } from '../core/errors.ts';
import type { JsonNode } from './JsonNode.ts';
import { quoteText } from './quoteText.ts';

/** Extensions that pack a file's numbers; what they pack is not read here. */
const PACKED_BY = ['EXT_meshopt_compression', 'KHR_meshopt_compression'];

/** Bytes of a component by its type number (glTF 2.0 specification, 3.6.2.2 "Accessor Data Types"). */
const COMPONENT_BYTES: ReadonlyMap<number, number> = new Map([
  [5120, 1],
  [5121, 1],
  [5122, 2],
  [5123, 2],
  [5125, 4],
  [5126, 4],
]);

/** By component type: the number that stands for 1 in a normalised accessor. */
const NORMAL_ONE: ReadonlyMap<number, number> = new Map([
  [5120, 127],
  [5121, 255],
  [5122, 32767],
  [5123, 65535],
]);

/**
 * Rows (points, corners) that a file may ask for: one for each of its bytes, as many as it can hold when none is asked for
 * twice, and this many freely, since parts that share their points ask for them each. Own choice: 120 MB of points.
 */
const FREE_ROWS = 5e6;

/** Rows of components somewhere in the file's bytes, known to fit in them. */
interface Rows {
  readonly view: DataView;
  /** Where the rows begin in `view`. */
  readonly at: number;
  readonly stride: number;
  readonly componentType: number;
  readonly componentBytes: number;
}

/** The numbers of a glTF: its buffers, the views on them, and the accessors that give them a type. */
export class GltfBuffers {
  private readonly opened = new Map<number, Uint8Array>();
  private rowsAsked = 0;

  /** `binary` is the GLB's own buffer; `fileBytes` bounds what a file may promise. */
  constructor(
    private readonly root: JsonNode,
    private readonly binary: Uint8Array | undefined,
    private readonly fileBytes: number,
  ) {}

  /** Points, n x 3. Throws MeshError for all that the file gets wrong: not-finite among it. */
  readPoints(index: JsonNode): Float64Array {
    const accessor = this.accessor(index, 'VEC3');
    const count = this.countOf(accessor);
    const out = new Float64Array(3 * count);
    const type = accessor.get('componentType').count();
    const isNormalised = accessor.get('normalized').value === true;
    if (!accessor.get('bufferView').isAbsent) {
      const rows = this.rows(accessor, accessor.get('bufferView'), type, 3, count);
      for (let i = 0; i < count; i++) readPoint(rows, i, out, i, isNormalised, accessor.path);
    }
    const sparse = this.sparse(accessor, type, 3, count);
    if (sparse) {
      for (let i = 0; i < sparse.count; i++) {
        const place = readInteger(sparse.places, i);
        if (place >= count) refuseSparse(accessor, place, count);
        readPoint(sparse.values, i, out, place, isNormalised, accessor.path);
      }
    }
    return out;
  }

  /** Numbers of vertices, each below `limit`. Throws MeshError index-out-of-range and others. */
  readIndices(index: JsonNode, limit: number): Uint32Array {
    const accessor = this.accessor(index, 'SCALAR');
    const count = this.countOf(accessor);
    const type = accessor.get('componentType').count();
    if (type !== 5121 && type !== 5123 && type !== 5125) {
      accessor.get('componentType').refuse('5121, 5123 or 5125, as indices have');
    }
    const out = new Uint32Array(count);
    if (!accessor.get('bufferView').isAbsent) {
      const rows = this.rows(accessor, accessor.get('bufferView'), type, 1, count);
      for (let i = 0; i < count; i++) out[i] = readInteger(rows, i);
    }
    const sparse = this.sparse(accessor, type, 1, count);
    if (sparse) {
      for (let i = 0; i < sparse.count; i++) {
        const place = readInteger(sparse.places, i);
        if (place >= count) refuseSparse(accessor, place, count);
        out[place] = readInteger(sparse.values, i);
      }
    }
    const wrong = out.findIndex((vert) => vert >= limit);
    if (wrong >= 0) {
      throw new MeshError(
        'index-out-of-range',
        `Index ${wrong} of ${accessor.path} names vertex ${out[wrong]}; its part has ${limit}, numbered from 0. Export the scan again.`,
        { index: wrong },
      );
    }
    return out;
  }

  private accessor(index: JsonNode, wantedType: string): JsonNode {
    const accessors = this.root.get('accessors');
    const accessor = accessors.at(index.count(undefined, accessors.length));
    if (accessor.get('type').text() !== wantedType) accessor.get('type').refuse(`"${wantedType}"`);
    return accessor;
  }

  /** A row takes at least a byte of the file, or (sparse) stays zero: then the file's size is bound enough for a sane one. */
  private countOf(accessor: JsonNode): number {
    const count = accessor.get('count').count();
    if (count > this.fileBytes) {
      throw new MeshError(
        'truncated',
        `${accessor.path} promises ${count} values, more than the file's ${this.fileBytes} bytes can hold. Copy or export the scan again.`,
        { byte: this.fileBytes },
      );
    }
    this.rowsAsked += count;
    const most = Math.max(FREE_ROWS, this.fileBytes);
    if (this.rowsAsked > most) {
      throw new MeshError(
        'too-large',
        `The parts of the file ask for more than ${most} points and corners out of ${this.fileBytes} bytes, many of them the same. Export the scan as one mesh.`,
      );
    }
    return count;
  }

  private rows(owner: JsonNode, viewIndex: JsonNode, type: number, width: number, count: number): Rows {
    const componentBytes = COMPONENT_BYTES.get(type);
    if (componentBytes === undefined)
      return owner.get('componentType').refuse('one of the types that glTF has');
    const views = this.root.get('bufferViews');
    const view = views.at(viewIndex.count(undefined, views.length));
    for (const name of PACKED_BY) {
      if (!view.get('extensions').get(name).isAbsent) refusePacked(name);
    }
    const bytes = this.buffer(view.get('buffer'));
    const viewAt = view.get('byteOffset').count(0);
    const viewBytes = view.get('byteLength').count();
    const stride = view.get('byteStride').count(width * componentBytes);
    const at = owner.get('byteOffset').count(0);
    const needed = count === 0 ? 0 : stride * (count - 1) + width * componentBytes;
    if (stride < width * componentBytes || viewAt + viewBytes > bytes.length || at + needed > viewBytes) {
      throw new MeshError(
        'truncated',
        `${owner.path} needs ${at + needed} bytes of ${view.path}, which has ${viewBytes} from byte ${viewAt} of a buffer of ` +
          `${bytes.length}. The file is damaged; copy or export the scan again.`,
      );
    }
    return {
      view: new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength),
      at: viewAt + at,
      stride,
      componentType: type,
      componentBytes,
    };
  }

  /** Values that stand in for some of an accessor's (3.6.2.3 "Sparse Accessors"). */
  private sparse(accessor: JsonNode, type: number, width: number, count: number) {
    const sparse = accessor.get('sparse');
    if (sparse.isAbsent) return undefined;
    const own = sparse.get('count').count(undefined, count + 1);
    const places = sparse.get('indices');
    const values = sparse.get('values');
    return {
      count: own,
      places: this.rows(places, places.get('bufferView'), places.get('componentType').count(), 1, own),
      values: this.rows(values, values.get('bufferView'), type, width, own),
    };
  }

  private buffer(index: JsonNode): Uint8Array {
    const buffers = this.root.get('buffers');
    const number = index.count(undefined, buffers.length);
    let bytes = this.opened.get(number);
    if (bytes === undefined) {
      const buffer = buffers.at(number);
      const uri = buffer.get('uri');
      if (!uri.isAbsent) bytes = decodeDataUri(uri);
      else if (number === 0 && this.binary !== undefined) bytes = this.binary;
      else {
        throw new MeshError(
          'truncated',
          `The numbers of ${buffer.path} are not in the file. It was cut off, or its parts were packed; export the scan again as a plain GLB.`,
        );
      }
      this.opened.set(number, bytes);
    }
    return bytes;
  }
}

/** The bytes of a "data:" address in base64. Any other address names another file, and nothing is fetched here. */
function decodeDataUri(uri: JsonNode): Uint8Array {
  const text = uri.text();
  const head = /^data:[^,]*;base64,/i.exec(text.slice(0, 256));
  if (head === null) {
    throw new MeshError(
      'unknown-format',
      `The shape lies in another file, ${quoteText(text)} (${uri.path}), which is not opened from here. Export the scan as GLB, which is one file.`,
    );
  }
  let decoded: string;
  try {
    decoded = atob(text.slice(head[0].length));
  } catch {
    return uri.refuse('sound base64');
  }
  const bytes = new Uint8Array(decoded.length);
  for (let i = 0; i < bytes.length; i++) bytes[i] = decoded.charCodeAt(i);
  return bytes;
}

function readComponent({ view, componentType }: Rows, at: number): number {
  switch (componentType) {
    case 5120:
      return view.getInt8(at);
    case 5121:
      return view.getUint8(at);
    case 5122:
      return view.getInt16(at, true);
    case 5123:
      return view.getUint16(at, true);
    case 5125:
      return view.getUint32(at, true);
    default:
      return view.getFloat32(at, true);
  }
}

function readInteger(rows: Rows, row: number): number {
  return readComponent(rows, rows.at + rows.stride * row);
}

function readPoint(
  rows: Rows,
  row: number,
  out: Float64Array,
  to: number,
  isNormalised: boolean,
  path: string,
): void {
  const one = isNormalised ? NORMAL_ONE.get(rows.componentType) : undefined;
  for (let k = 0; k < 3; k++) {
    const value = readComponent(rows, rows.at + rows.stride * row + k * rows.componentBytes);
    if (!Number.isFinite(value)) {
      throw new MeshError(
        'not-finite',
        `Point ${to} of ${path} has ${value} as its ${'xyz'[k]}, which is not a finite number. Export the scan again, or delete that part of it.`,
        { index: to },
      );
    }
    // Normalised numbers (3.11 "Accessor data types" of the specification): -128 stands for -1 too. Adding 0 turns -0 into 0.
    out[3 * to + k] = (one === undefined ? value : Math.max(-1, value / one)) + 0;
  }
}

function refuseSparse(accessor: JsonNode, place: number, count: number): never {
  throw new MeshError(
    'index-out-of-range',
    `A stand-in value of ${accessor.path} is for value ${place}; there are ${count}, numbered from 0. Export the scan again.`,
    { index: place },
  );
}

/** Throws MeshError unknown-format: the shape is packed in a way that is not read. */
export function refusePacked(extension: string): never {
  throw new MeshError(
    'unknown-format',
    `The shape in the file is packed (${quoteText(extension)}), which is not read here. Export it again without compression.`,
  );
}
