import type { Checkpoint } from '../core/checkpoint.ts';
import { MeshError } from '../core/errors.ts';
import type { TriMesh } from '../core/mesh/TriMesh.ts';
import type { ScanNote } from '../core/PlanResult.ts';
import { GltfBuffers, refusePacked } from './GltfBuffers.ts';
import { gltfPlacement } from './gltfPlacement.ts';
import { JsonNode } from './JsonNode.ts';
import { joinPlaced, type PlacedMesh } from './joinPlaced.ts';
import type { OpenedMesh } from './OpenedMesh.ts';
import { nested, UNPLACED } from './Placement.ts';
import { quoteText } from './quoteText.ts';
import { sayLooks } from './readObj.ts';
import { sniffGltf } from './sniffGltf.ts';
import { splitGlb } from './splitGlb.ts';

/** Ways in which a primitive's corners make triangles (glTF 2.0 specification, 3.7.2.1); lower numbers are points and lines. */
const TRIANGLES = 4;
const STRIP = 5;
const FAN = 6;

const DRACO = 'KHR_draco_mesh_compression';

/** Extensions that a file may demand without changing its shape: looks, lights, names, and quantised numbers, which are read. */
const HARMLESS =
  /^(KHR_mesh_quantization|KHR_materials_\w+|KHR_texture_\w+|EXT_texture_\w+|KHR_lights_\w+|EXT_lights_\w+|KHR_xmp\w*|KHR_node_visibility|MSFT_texture_\w+)$/;

/**
 * Reads glTF 2.0 in one file: GLB, or its text form with the numbers in it. All meshes of the scene that the file shows first,
 * each where its nodes put it; triangles, strips and fans, with indices or without; sparse and quantised numbers.
 *
 * glTF is in metres and has y up; positions come in that unit and those axes. Materials, normals, cameras, animations, poses
 * and shape keys are passed over, points and lines with a note. Nothing is fetched: a shape that lies in another file, and
 * one that is packed, are refused.
 * Throws MeshError; and the abort reason at a checkpoint.
 */
export async function readGltf(bytes: Uint8Array, checkpoint: Checkpoint): Promise<OpenedMesh> {
  const isBinary = sniffGltf(bytes) !== 'text';
  const parts = isBinary ? splitGlb(bytes) : { json: bytes, jsonAt: 0, binary: undefined };
  const root = new JsonNode(parseJson(parts.json, parts.jsonAt), '');
  refuseVersion(root);
  const reader = new Reader(root, new GltfBuffers(root, parts.binary, bytes.length));
  const placed = await reader.readScene(checkpoint.within(0, 0.8, 'reading the file'));
  const mesh = await joinPlaced(placed, checkpoint.within(0.8, 1, 'putting the parts together'));
  return { mesh, format: isBinary ? 'GLB' : 'glTF', unit: 'm', notes: reader.notes() };
}

function parseJson(json: Uint8Array, at: number): unknown {
  try {
    return JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(json));
  } catch {
    throw new MeshError(
      'bad-header',
      `The JSON that describes the file (${json.length} bytes from byte ${at}) is not sound. The file is damaged; copy or export the scan again.`,
      { byte: at },
    );
  }
}

function refuseVersion(root: JsonNode): void {
  const version = root.get('asset').get('version').text();
  if (!/^2(\.|$)/.test(version)) {
    throw new MeshError(
      'unknown-format',
      `The file is glTF of version ${quoteText(version)}; version 2 is read here. Export it anew.`,
    );
  }
  for (const extension of root.get('extensionsRequired').list()) {
    const name = extension.text();
    if (name === DRACO || name.endsWith('_meshopt_compression')) refusePacked(name);
    if (!HARMLESS.test(name)) {
      throw new MeshError(
        'unknown-format',
        `The file cannot be read right without ${quoteText(name)}, which is not known here. Export it as plain GLB.`,
      );
    }
  }
}

class Reader {
  private readonly meshes = new Map<number, readonly TriMesh[]>();
  private readonly looks = new Set<string>();
  private readonly counts = { pointsAndLines: 0, skins: 0, morphs: 0, shown: 0 };

  constructor(
    private readonly root: JsonNode,
    private readonly buffers: GltfBuffers,
  ) {}

  async readScene(checkpoint: Checkpoint): Promise<PlacedMesh[]> {
    const nodes = this.root.get('nodes');
    const meshes = this.root.get('meshes');
    const placed: PlacedMesh[] = [];
    const isSeen = new Uint8Array(nodes.length);
    const stack = this.firstNodes().map((index) => ({ index, outer: UNPLACED }));
    let seen = 0;
    while (stack.length > 0) {
      const { index, outer } = stack.pop()!;
      const node = nodes.at(index);
      // Nodes form trees (3.5.2); one that is met again would make a file of a few lines endless.
      if (isSeen[index] !== 0) node.refuse('the child of one node alone, as it must be');
      isSeen[index] = 1;
      const placement = nested(outer, gltfPlacement(node));
      if (!node.get('mesh').isAbsent) {
        for (const mesh of this.readMesh(node.get('mesh').count(undefined, meshes.length))) {
          placed.push({ mesh, placement, name: node.path });
        }
        if (!node.get('skin').isAbsent) this.counts.skins++;
      }
      for (const child of node.get('children').list().reverse()) {
        stack.push({ index: child.count(undefined, nodes.length), outer: placement });
      }
      seen++;
      if (checkpoint.due()) await checkpoint.pause(seen / nodes.length);
    }
    if (!placed.some(({ mesh }) => mesh.indices.length > 0)) this.refuseNoFaces();
    return placed;
  }

  notes(): ScanNote[] {
    const { counts, looks, root } = this;
    const notes: ScanNote[] = [];
    const tell = (code: string, count: number, text: string): void => {
      if (count > 0) notes.push({ code, text, count });
    };
    tell(
      'lines-dropped',
      counts.pointsAndLines,
      `${counts.pointsAndLines} parts of loose points or lines were passed over.`,
    );
    tell(
      'pose-passed-over',
      counts.skins + counts.morphs,
      `${counts.skins + counts.morphs} parts can be posed or reshaped; they were taken as modelled, not as posed.`,
    );
    const left = root.get('meshes').length - this.meshes.size;
    tell('not-shown', left, `${left} meshes that the file's scene does not show were passed over.`);
    if (root.get('materials').length > 0) looks.add('materials');
    if (root.get('textures').length > 0) looks.add('textures');
    if (looks.size > 0) {
      const said = ['materials', 'textures', 'normals'].filter((look) => looks.has(look));
      notes.push({ code: 'looks-passed-over', text: sayLooks(said) });
    }
    return notes;
  }

  /** The nodes that the file's scene begins with; without scenes, all that hang on no other. Last first: it is a stack. */
  private firstNodes(): number[] {
    const { root } = this;
    const nodes = root.get('nodes');
    const scenes = root.get('scenes');
    if (scenes.length > 0) {
      const scene = scenes.at(root.get('scene').count(0, scenes.length));
      const first = scene.get('nodes').list();
      return first.map((node) => node.count(undefined, nodes.length)).reverse();
    }
    const isChild = new Uint8Array(nodes.length);
    for (const node of nodes.list()) {
      for (const child of node.get('children').list()) isChild[child.count(undefined, nodes.length)] = 1;
    }
    return Array.from(isChild.keys())
      .filter((index) => isChild[index] === 0)
      .reverse();
  }

  /** The parts of a mesh that are made of triangles, read once. */
  private readMesh(index: number): readonly TriMesh[] {
    let parts = this.meshes.get(index);
    if (parts === undefined) {
      const mesh = this.root.get('meshes').at(index);
      parts = mesh
        .get('primitives')
        .list()
        .flatMap((primitive) => this.readPrimitive(primitive) ?? []);
      this.meshes.set(index, parts);
    }
    return parts;
  }

  private readPrimitive(primitive: JsonNode): TriMesh | undefined {
    const mode = primitive.get('mode').count(TRIANGLES, FAN + 1);
    const attributes = primitive.get('attributes');
    if (mode < TRIANGLES) {
      this.counts.pointsAndLines++;
      return undefined;
    }
    const accessor = attributes.get('POSITION');
    // The specification lets a client pass over what has no positions (3.7.2.1).
    if (accessor.isAbsent) return undefined;
    if (!attributes.get('NORMAL').isAbsent) this.looks.add('normals');
    if (primitive.get('targets').length > 0) this.counts.morphs++;
    if (!primitive.get('extensions').get(DRACO).isAbsent && this.isOnlyPacked(accessor)) refusePacked(DRACO);
    const positions = this.buffers.readPoints(accessor);
    const vertCount = positions.length / 3;
    const corners = primitive.get('indices').isAbsent
      ? Uint32Array.from({ length: vertCount }, (_, i) => i)
      : this.buffers.readIndices(primitive.get('indices'), vertCount);
    if (mode === TRIANGLES && corners.length % 3 !== 0) {
      throw new MeshError(
        'count-mismatch',
        `${primitive.path} has ${corners.length} corners, which is no number of whole triangles. Export the scan again.`,
        { index: Math.floor(corners.length / 3) },
      );
    }
    return { positions, indices: mode === TRIANGLES ? corners : unroll(corners, mode) };
  }

  /** A packed part may carry its numbers unpacked besides. */
  private isOnlyPacked(index: JsonNode): boolean {
    const accessors = this.root.get('accessors');
    return accessors.at(index.count(undefined, accessors.length)).get('bufferView').isAbsent;
  }

  private refuseNoFaces(): never {
    const { pointsAndLines } = this.counts;
    throw new MeshError(
      'no-faces',
      pointsAndLines > 0
        ? 'The file holds points or lines and no faces: it is a point cloud, not a surface. Make a mesh of it in the scanning program and export that.'
        : "The file's scene shows no mesh of triangles. Export the scan again, as a mesh.",
    );
  }
}

/** Triangles of a strip or a fan, wound as the specification says (3.7.2.1). */
function unroll(corners: Uint32Array, mode: number): Uint32Array {
  const count = Math.max(0, corners.length - 2);
  const indices = new Uint32Array(3 * count);
  for (let t = 0; t < count; t++) {
    if (mode === STRIP) {
      indices[3 * t] = corners[t];
      indices[3 * t + 1] = corners[t + 1 + (t % 2)];
      indices[3 * t + 2] = corners[t + 2 - (t % 2)];
    } else {
      indices[3 * t] = corners[t + 1];
      indices[3 * t + 1] = corners[t + 2];
      indices[3 * t + 2] = corners[0];
    }
  }
  return indices;
}
