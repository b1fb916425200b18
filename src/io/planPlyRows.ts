import { MeshError } from '../core/errors.ts';
import type { PlyElement, PlyHeader, PlyProperty } from './plyHeader.ts';
import { isPlyInteger, PLY_SCALAR_BYTES, type PlyScalar } from './plyScalar.ts';
import { quoteText } from './quoteText.ts';

/** What to do with one property of a row: pass it over, put it into x, y or z, or take its items as a face's corners. */
export type PlySlot = 'skip' | 'x' | 'y' | 'z' | 'corners';

export interface PlyColumn {
  readonly slot: PlySlot;
  readonly type: PlyScalar;
  readonly countType: PlyScalar | undefined;
  readonly typeBytes: number;
  readonly countBytes: number;
}

/** How the rows of one element are read. */
export interface PlyRows {
  readonly role: 'vertex' | 'face' | 'other';
  /** The element's name in quotes, safe to print. */
  readonly label: string;
  /** One-based line of the header where the element is declared. */
  readonly line: number;
  readonly count: number;
  readonly columns: readonly PlyColumn[];
  /** Bytes that a row of a binary file takes at least: all of it when it holds no list, with empty lists otherwise. */
  readonly leastBytes: number;
  readonly hasLists: boolean;
}

/** Names in use for the list of a face's corners; the first comes from the format's own paper, the second is as common. */
const CORNER_LISTS = ['vertex_indices', 'vertex_index'] as const;

/**
 * For each element in the order of its data, how its rows are read.
 *
 * Throws MeshError: bad-header (no x y z, no list of corners), no-vertices, unknown-format (triangle strips).
 * A file without faces passes: its vertices are read first, so that a file that was cut off is told from a point cloud.
 */
export function planPlyRows(header: PlyHeader): readonly PlyRows[] {
  const { elements } = header;
  const strips = elements.find(({ name, count }) => /^tri_?strips?$/i.test(name) && count > 0);
  if (strips !== undefined) {
    throw new MeshError(
      'unknown-format',
      `The PLY keeps its surface as triangle strips (header line ${strips.line}), which are not read here. ` +
        'Export it with plain faces.',
      { line: strips.line },
    );
  }
  const vertices = elements.find(({ name }) => name === 'vertex');
  if (vertices === undefined || vertices.count === 0) {
    throw new MeshError(
      'no-vertices',
      vertices === undefined
        ? 'The PLY header declares no element "vertex". Export the scan again, as a mesh.'
        : `The PLY holds no points: "element vertex 0" (header line ${vertices.line}). Export the scan again.`,
      vertices === undefined ? {} : { line: vertices.line },
    );
  }
  return elements.map(planElement);
}

function planElement(element: PlyElement): PlyRows {
  const { name, count, properties } = element;
  const role = name === 'vertex' || name === 'face' ? name : 'other';
  const corners = role === 'face' && count > 0 ? findCornerList(element) : undefined;
  if (role === 'vertex') for (const axis of ['x', 'y', 'z'] as const) requireAxis(element, axis);
  const columns = properties.map((property) => ({
    slot: slotOf(property, role, corners),
    type: property.type,
    countType: property.countType,
    typeBytes: PLY_SCALAR_BYTES[property.type],
    countBytes: property.countType === undefined ? 0 : PLY_SCALAR_BYTES[property.countType],
  }));
  return {
    role,
    label: quoteText(name),
    line: element.line,
    count,
    columns,
    leastBytes: columns.reduce((sum, { countBytes, typeBytes }) => sum + (countBytes || typeBytes), 0),
    hasLists: columns.some(({ countType }) => countType !== undefined),
  };
}

function slotOf(property: PlyProperty, role: PlyRows['role'], corners: PlyProperty | undefined): PlySlot {
  if (property === corners) return 'corners';
  const { name } = property;
  return role === 'vertex' && (name === 'x' || name === 'y' || name === 'z') ? name : 'skip';
}

function requireAxis(element: PlyElement, axis: string): void {
  const property = element.properties.find(({ name }) => name === axis);
  if (property !== undefined && property.countType === undefined) return;
  throw new MeshError(
    'bad-header',
    `The PLY's vertices (header line ${element.line}) have no plain property "${axis}". Export the scan again, with x, y and z.`,
    { line: element.line },
  );
}

function findCornerList(element: PlyElement): PlyProperty {
  for (const name of CORNER_LISTS) {
    const found = element.properties.find((property) => property.name === name);
    if (found?.countType !== undefined && isPlyInteger(found.type)) return found;
  }
  const names = element.properties.map(({ name }) => quoteText(name)).join(', ') || 'nothing';
  throw new MeshError(
    'bad-header',
    `The PLY's faces (header line ${element.line}) have no list of whole numbers named "vertex_indices" or ` +
      `"vertex_index", only ${names}. Export the scan again, as a mesh.`,
    { line: element.line },
  );
}

/** All rows of an element, for a message: "12 vertices", "1 faces", "3 rows of "camera"". */
export function nameRows(rows: PlyRows, count: number): string {
  if (rows.role === 'other') return `${count} rows of ${rows.label}`;
  return `${count} ${rows.role === 'vertex' ? 'vertices' : 'faces'}`;
}

/** One row of an element, for a message: "vertex 12", "row 3 of "camera"". */
export function nameRow(rows: PlyRows, row: number): string {
  return rows.role === 'other' ? `row ${row} of ${rows.label}` : `${rows.role} ${row}`;
}
