import { MeshError } from '../core/errors.ts';
import type { TriMesh } from '../core/mesh/TriMesh.ts';
import { GrowingList } from './GrowingList.ts';
import { type Placement, UNPLACED } from './Placement.ts';
import { quoteText } from './quoteText.ts';
import type { XmlListener, XmlTag } from './XmlReader.ts';

/** One object put somewhere: by the build, or as a component of another. */
export interface Use3mf {
  /** Part of the archive and number of the object, as `objectKey` joins them. */
  readonly key: string;
  readonly part: string;
  readonly placement: Placement;
  readonly line: number;
}

export interface Object3mf {
  readonly key: string;
  readonly line: number;
  /** Holds up what is printed, and is no part of it. */
  readonly isSupport: boolean;
  readonly mesh: TriMesh | undefined;
  readonly components: readonly Use3mf[];
}

/** Extensions that a model may demand without changing its surface, by the namespaces that they are named by. */
const HARMLESS_EXTENSIONS = /\/3dmanufacturing\/(material|production|trianglesets|core)\//;

/** How many placed parts a file may ask for. Own choice. */
export const MOST_PARTS = 100_000;

export const objectKey = (part: string, id: string): string => `${part.toLowerCase()}#${id}`;

/**
 * Listens to the XML of a 3MF model part (3MF core specification 1.3, chapters 3 and 4; the path attribute is the production
 * extension's) and keeps its objects and what the build uses of them. Elements with another prefix than the model's own
 * belong to extensions and are passed over.
 * Throws MeshError: bad-value, count-mismatch, index-out-of-range, not-finite, unknown-format.
 */
export class Model3mf implements XmlListener {
  readonly objects: Object3mf[] = [];
  readonly items: Use3mf[] = [];
  unit = 'millimeter';
  hasLooks = false;
  private prefix: string | undefined;
  private id: string | undefined;
  private line = 0;
  private isSupport = false;
  private positions = newPositions();
  private indices = newIndices();
  private hasMesh = false;
  private isInMesh = false;
  private components: Use3mf[] = [];

  constructor(private readonly part: string) {}

  opened(tag: XmlTag): void {
    const { name } = tag;
    if (this.prefix === undefined) {
      this.openModel(tag);
      return;
    }
    const word = this.wordOf(name);
    switch (word) {
      case 'vertex':
        if (this.isInMesh) this.addVertex(tag);
        break;
      case 'triangle':
        if (this.isInMesh) this.addTriangle(tag);
        break;
      case 'mesh':
        this.isInMesh = this.id !== undefined;
        this.hasMesh = this.isInMesh;
        break;
      case 'object':
        this.openObject(tag);
        break;
      case 'component':
        if (this.id === undefined) break;
        this.components.push(this.useOf(tag));
        this.refuseMany(this.components.length);
        break;
      case 'item':
        this.items.push(this.useOf(tag));
        this.refuseMany(this.items.length);
        break;
      case 'basematerials':
        this.hasLooks = true;
        break;
    }
  }

  closed(name: string): void {
    const word = this.wordOf(name);
    if (word === 'mesh') this.isInMesh = false;
    else if (word === 'object') this.closeObject();
  }

  private wordOf(name: string): string {
    const prefix = this.prefix ?? '';
    return name.startsWith(prefix) ? name.slice(prefix.length) : '';
  }

  private openModel(tag: XmlTag): void {
    const at = tag.name.indexOf(':') + 1;
    if (tag.name.slice(at) !== 'model') {
      throw new MeshError(
        'unknown-format',
        `${quoteText(this.part)} in the archive is no 3D model: it begins with ${quoteText(tag.name)}. Export the scan again as 3MF.`,
        { line: tag.line },
      );
    }
    this.prefix = tag.name.slice(0, at);
    this.unit = tag.attributes['unit'] ?? this.unit;
    for (const prefix of (tag.attributes['requiredextensions'] ?? '').split(/\s+/).filter(Boolean)) {
      const name = tag.attributes[`xmlns:${prefix}`] ?? prefix;
      if (!HARMLESS_EXTENSIONS.test(name)) {
        throw new MeshError(
          'unknown-format',
          `The 3MF cannot be read right without an extension that is not known here (${quoteText(name)}). Export it as a plain mesh.`,
          { line: tag.line },
        );
      }
    }
  }

  private openObject(tag: XmlTag): void {
    this.id = this.attribute(tag, 'id');
    this.line = tag.line;
    const type = tag.attributes['type'] ?? 'model';
    this.isSupport = type === 'support' || type === 'solidsupport';
    this.hasMesh = false;
    this.positions = newPositions();
    this.indices = newIndices();
    this.components = [];
  }

  private closeObject(): void {
    if (this.id === undefined) return;
    const key = objectKey(this.part, this.id);
    const mesh = this.hasMesh
      ? { positions: this.positions.take(), indices: this.indices.take() }
      : undefined;
    if (mesh) this.checkIndices(mesh);
    this.objects.push({ key, line: this.line, isSupport: this.isSupport, mesh, components: this.components });
    this.id = undefined;
  }

  private checkIndices({ positions, indices }: TriMesh): void {
    const vertCount = positions.length / 3;
    const wrong = indices.findIndex((vert) => vert >= vertCount);
    if (wrong < 0) return;
    throw new MeshError(
      'index-out-of-range',
      `Triangle ${Math.floor(wrong / 3)} of object ${quoteText(this.id ?? '')} (line ${this.line} of ${quoteText(this.part)}) names vertex ${indices[wrong]}; ` +
        `the object has ${vertCount}, numbered from 0. Export the scan again.`,
      { line: this.line, index: Math.floor(wrong / 3) },
    );
  }

  private addVertex(tag: XmlTag): void {
    const { attributes } = tag;
    const x = numberOf(attributes['x']);
    const y = numberOf(attributes['y']);
    const z = numberOf(attributes['z']);
    // NaN and infinities times 0 are NaN; a finite number times 0 is 0.
    if ((x + y + z) * 0 !== 0) this.refuseNumber(tag, ['x', 'y', 'z']);
    this.positions.push3(x + 0, y + 0, z + 0);
  }

  private addTriangle(tag: XmlTag): void {
    const { attributes } = tag;
    const a = numberOf(attributes['v1']);
    const b = numberOf(attributes['v2']);
    const c = numberOf(attributes['v3']);
    if (!(isIndex(a) && isIndex(b) && isIndex(c))) this.refuseNumber(tag, ['v1', 'v2', 'v3']);
    this.indices.push3(a, b, c);
  }

  private useOf(tag: XmlTag): Use3mf {
    // The path is the production extension's, whatever prefix it has here.
    const pathKey = Object.keys(tag.attributes).find((key) => /^[^:]+:path$/.test(key));
    const part = pathKey === undefined ? this.part : tag.attributes[pathKey].replace(/^\//, '');
    return {
      key: objectKey(part, this.attribute(tag, 'objectid')),
      part,
      placement: this.placementOf(tag),
      line: tag.line,
    };
  }

  /** Twelve numbers, the matrix's rows of three for row vectors (core specification 3.3 "3D Matrices"): columns here. */
  private placementOf(tag: XmlTag): Placement {
    const text = tag.attributes['transform'];
    if (text === undefined) return UNPLACED;
    const m = text.trim().split(/\s+/).map(numberOf);
    if (m.length !== 12 || m.some((x) => !Number.isFinite(x))) {
      throw new MeshError(
        'bad-value',
        `Line ${tag.line} of ${quoteText(this.part)}: a transform of 12 numbers was expected, ${quoteText(text)} stands there. Export the scan again.`,
        { line: tag.line },
      );
    }
    return [m[0], m[3], m[6], m[9], m[1], m[4], m[7], m[10], m[2], m[5], m[8], m[11]];
  }

  private attribute(tag: XmlTag, key: string): string {
    const value = tag.attributes[key];
    if (value === undefined) {
      throw new MeshError(
        'bad-value',
        `Line ${tag.line} of ${quoteText(this.part)}: ${quoteText(tag.name)} has no ${quoteText(key)}. Export the scan again.`,
        { line: tag.line },
      );
    }
    return value;
  }

  private refuseMany(count: number): void {
    if (count <= MOST_PARTS) return;
    throw new MeshError(
      'too-large',
      `The 3MF puts together more than ${MOST_PARTS} parts. Export the scan as one mesh with fewer triangles.`,
    );
  }

  private refuseNumber(tag: XmlTag, keys: readonly string[]): never {
    const isVertex = keys[0] === 'x';
    const index = (isVertex ? this.positions : this.indices).length / 3;
    const wrong = keys.find((key) => {
      const value = numberOf(tag.attributes[key]);
      return isVertex ? !Number.isFinite(value) : !isIndex(value);
    });
    const text = tag.attributes[wrong ?? keys[0]] ?? '';
    const isWord = /^\s*[+-]?(nan|inf)/i.test(text) || Math.abs(numberOf(text)) === Infinity;
    throw new MeshError(
      isVertex && isWord ? 'not-finite' : 'bad-value',
      `Line ${tag.line} of ${quoteText(this.part)}: ${isVertex ? 'vertex' : 'triangle'} ${index} has ${quoteText(text)} as its ${wrong}, which is ` +
        `${isVertex ? 'not a finite number' : 'not the number of a vertex'}. Export the scan again.`,
      { line: tag.line, index },
    );
  }
}

const newPositions = (): GrowingList<Float64Array> => new GrowingList((length) => new Float64Array(length));
const newIndices = (): GrowingList<Uint32Array> => new GrowingList((length) => new Uint32Array(length));

/** The number in an attribute; NaN when there is none. */
function numberOf(text: string | undefined): number {
  // An empty text would be read as 0.
  return text === undefined || text.trim() === '' ? Number.NaN : Number(text);
}

function isIndex(value: number): boolean {
  return Number.isInteger(value) && value >= 0 && value < 0xffffffff;
}
