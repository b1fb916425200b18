import { expect, it } from 'vitest';
import { solidFiles } from '../../src/cli/solidFiles.ts';
import type { PieceSolid } from '../../src/core/shell/pieceSolids.ts';
import { box } from '../fixtures/shapes.ts';

const piece = (id: string, name: string): PieceSolid => ({
  id,
  name,
  mesh: box(1, 1, 1),
  volumeMm3: 1,
  plannedMm3: 1,
});

it.each([
  ['A', 'front', 'piece-A-front.stl'],
  ['A', 'upper front, left', 'piece-A-upper-front-left.stl'],
  ['B', '../../etc/passwd', 'piece-B-etc-passwd.stl'],
  ['C', 'a\\b:c*?"<>|\n', 'piece-C-a-b-c.stl'],
  ['D', 'Rückseite', 'piece-D-Rückseite.stl'],
  ['E', '...', 'piece-E.stl'],
  ['F', 'x'.repeat(300), `piece-F-${'x'.repeat(40)}.stl`],
])('piece %s, "%s": %s', (id, name, file) => {
  expect(Object.keys(solidFiles([piece(id, name)]))).toEqual([file]);
});

it('names that come out the same, also but for capitals, stay apart', () => {
  const files = Object.keys(solidFiles([piece('A', 'left!'), piece('A', 'left?'), piece('A', 'LEFT')]));
  expect(files).toEqual(['piece-A-left.stl', 'piece-A-left-2.stl', 'piece-A-LEFT-3.stl']);
});
