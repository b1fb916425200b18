import type { Checkpoint } from '../core/checkpoint.ts';
import { MeshError } from '../core/errors.ts';
import type { ScanNote } from '../core/PlanResult.ts';
import type { LengthUnit } from '../core/plan/PlanDocument.ts';
import { joinPlaced, MOST_TRIS, type PlacedMesh } from './joinPlaced.ts';
import { MOST_PARTS, Model3mf, type Object3mf, type Use3mf } from './Model3mf.ts';
import type { OpenedMesh } from './OpenedMesh.ts';
import { nested, type Placement, UNPLACED } from './Placement.ts';
import { quoteText } from './quoteText.ts';
import { sayLooks } from './readObj.ts';
import { XmlReader } from './XmlReader.ts';
import { ZipArchive } from './ZipArchive.ts';

/** The relation from the package to its model (3MF core 1.3, 2.1 "3D Payload"); other companies' versions end alike. */
const MODEL_RELATION = /\/3dmodel$/i;
const RELATIONS = '_rels/.rels';
/** Where the model lies by custom, for packages whose relations were lost. */
const USUAL_MODEL = '3D/3dmodel.model';

/**
 * What an archive may unpack to: a model's text shrinks to a fifth or a tenth, a bomb to a thousandth. Small files are let
 * through to the first bound, large ones never beyond the second. Own choice, bytes.
 */
const FREE_BYTES = 8e6;
const MOST_SHARE = 50;
const MOST_BYTES = 4e9;

/** Objects made of objects, deeper than any program nests them. Own choice. */
const MOST_DEPTH = 32;

/** By the model's unit (3MF core 1.3, 3.4 "Model"): the unit read here, and how many of it one is. */
const UNITS: ReadonlyMap<string, readonly [LengthUnit, number]> = new Map([
  ['micron', ['mm', 1e-3]],
  ['millimeter', ['mm', 1]],
  ['centimeter', ['cm', 1]],
  ['inch', ['in', 1]],
  ['foot', ['ft', 1]],
  ['meter', ['m', 1]],
]);

/**
 * Reads a 3MF package: its model, the models that this refers to, and of their objects all that the build holds, each where
 * it stands there, objects made of others taken apart. Without a build, every object that no other uses.
 *
 * Positions come in the unit that the model names (microns as millimetres). Supports are passed over with a note; so are
 * materials. Sizes and check sums of the archive are compared. At most `MOST_SHARE` times the file's bytes are unpacked.
 * Throws MeshError; and the abort reason at a checkpoint.
 */
export async function read3mf(bytes: Uint8Array, checkpoint: Checkpoint): Promise<OpenedMesh> {
  const most = Math.min(MOST_BYTES, Math.max(FREE_BYTES, MOST_SHARE * bytes.length));
  const archive = new ZipArchive(bytes, most);
  const reading = checkpoint.within(0, 0.9, 'reading the file');
  const first = await findModel(archive, reading);
  const root = await readModel(archive, first, reading);
  const unit = UNITS.get(root.unit);
  if (unit === undefined) {
    throw new MeshError(
      'bad-value',
      `The model's unit is ${quoteText(root.unit)}; micron, millimeter, centimeter, inch, foot and meter are known. Export the scan again.`,
    );
  }
  const objects = await gatherObjects(archive, root, first, reading);
  const [name, scale] = unit;
  const assembly = new Assembly(objects);
  const outer: Placement = UNPLACED.map((x) => x * scale);
  const uses = root.items.length > 0 ? root.items : usesOfAll(root.objects);
  for (const use of uses) assembly.add(use, outer, 0);
  const { placed, supports } = assembly;
  if (!placed.some(({ mesh }) => mesh.indices.length > 0)) refuseNoFaces(supports);
  const mesh = await joinPlaced(placed, checkpoint.within(0.9, 1, 'putting the parts together'));
  const notes: ScanNote[] = [];
  if (placed.length > 1) {
    notes.push({
      code: 'several-solids',
      text: `The file holds ${placed.length} objects; they were taken together, where they stand in it.`,
      count: placed.length,
    });
  }
  if (supports > 0) {
    notes.push({
      code: 'supports-dropped',
      text: `${supports} objects that only hold up others while these are printed were passed over.`,
      count: supports,
    });
  }
  if (root.items.length === 0) {
    notes.push({
      code: 'no-build',
      text: 'The file does not say which of its objects are to be built; all were taken.',
    });
  }
  if (root.hasLooks) notes.push({ code: 'looks-passed-over', text: sayLooks(['materials']) });
  return { mesh, format: '3MF', unit: name, notes };
}

/** The name of the model part, by the package's relations. */
async function findModel(archive: ZipArchive, checkpoint: Checkpoint): Promise<string> {
  let found: string | undefined;
  if (archive.has(RELATIONS)) {
    const xml = new XmlReader(RELATIONS, {
      opened({ name, attributes }) {
        const isRelation = name === 'Relationship' || name.endsWith(':Relationship');
        if (isRelation && MODEL_RELATION.test(attributes['Type'] ?? '')) found ??= attributes['Target'];
      },
      closed() {},
    });
    await archive.read(RELATIONS, (piece) => xml.take(piece), checkpoint.within(0, 0.02, 'reading the file'));
    xml.finish();
  }
  found ??= archive.has(USUAL_MODEL) ? USUAL_MODEL : undefined;
  if (found === undefined) {
    throw new MeshError(
      'unknown-format',
      'The file is a zip archive without a 3D model in it (byte 0), so it is no 3MF. Export the scan as 3MF, or unpack the archive and open what is in it.',
      { byte: 0 },
    );
  }
  return found.replace(/^\//, '');
}

async function readModel(archive: ZipArchive, part: string, checkpoint: Checkpoint): Promise<Model3mf> {
  const model = new Model3mf(part);
  const xml = new XmlReader(part, model);
  await archive.read(part, (piece) => xml.take(piece), checkpoint);
  xml.finish();
  return model;
}

/** All objects by their keys: those of the first model and of each part that a used one names. */
async function gatherObjects(
  archive: ZipArchive,
  root: Model3mf,
  first: string,
  checkpoint: Checkpoint,
): Promise<ReadonlyMap<string, Object3mf>> {
  const objects = new Map<string, Object3mf>();
  const isRead = new Set([first.toLowerCase()]);
  const models = [root];
  for (let model = models.pop(); model !== undefined; model = models.pop()) {
    for (const object of model.objects) {
      if (objects.has(object.key)) {
        throw new MeshError(
          'bad-value',
          `Two objects of the 3MF have the same number, ${quoteText(object.key)} (line ${object.line}). Export the scan again.`,
          { line: object.line },
        );
      }
      objects.set(object.key, object);
    }
    const uses = [...model.items, ...model.objects.flatMap(({ components }) => components)];
    for (const { part } of uses) {
      const key = part.toLowerCase();
      if (isRead.has(key)) continue;
      isRead.add(key);
      models.push(await readModel(archive, part, checkpoint));
    }
  }
  return objects;
}

/** For a model without a build: each object that is no component of another, where it stands. */
function usesOfAll(objects: readonly Object3mf[]): Use3mf[] {
  const isUsed = new Set(objects.flatMap(({ components }) => components.map(({ key }) => key)));
  return objects
    .filter(({ key }) => !isUsed.has(key))
    .map(({ key, line }) => ({ key, part: '', placement: UNPLACED, line }));
}

/** Takes objects that are made of objects apart. */
class Assembly {
  readonly placed: PlacedMesh[] = [];
  supports = 0;
  private tris = 0;
  private uses = 0;

  constructor(private readonly objects: ReadonlyMap<string, Object3mf>) {}

  add(use: Use3mf, outer: Placement, depth: number): void {
    const object = this.objects.get(use.key);
    const name = `object ${quoteText(use.key.slice(use.key.indexOf('#') + 1))}`;
    if (object === undefined) {
      throw new MeshError(
        'index-out-of-range',
        `Line ${use.line} of the model uses ${name}, which the file does not have. Export the scan again.`,
        { line: use.line },
      );
    }
    if (depth > MOST_DEPTH) {
      throw new MeshError(
        'bad-value',
        `Line ${use.line} of the model: objects are made of objects more than ${MOST_DEPTH} deep, or of themselves. Export the scan again.`,
        { line: use.line },
      );
    }
    this.uses++;
    if (object.isSupport) {
      this.supports++;
      return;
    }
    const placement = nested(outer, use.placement);
    if (object.mesh) {
      this.tris += object.mesh.indices.length / 3;
      this.placed.push({ mesh: object.mesh, placement, name });
    }
    if (this.uses > MOST_PARTS || this.tris > MOST_TRIS) {
      throw new MeshError(
        'too-large',
        `The 3MF puts together more than ${this.uses > MOST_PARTS ? `${MOST_PARTS} parts` : `${MOST_TRIS} triangles`}. Export the scan as one mesh with fewer triangles.`,
      );
    }
    for (const component of object.components) this.add(component, placement, depth + 1);
  }
}

function refuseNoFaces(supports: number): never {
  throw new MeshError(
    'no-faces',
    supports > 0
      ? 'The 3MF holds supports alone, and nothing that they hold up. Export the scan again.'
      : 'The build of the 3MF holds no triangles. Export the scan again, as a mesh.',
  );
}
