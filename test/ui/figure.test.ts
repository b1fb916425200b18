import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../src/core/mesh/TriMesh.ts';
import { azimuthDeg, sayPull } from '../../src/ui/azimuth.ts';
import { captionOf, viewpointOf } from '../../src/ui/captions.ts';
import { pullOf } from '../../src/ui/chart/pullDisc.ts';
import { layOutOverlay, type OverlayInput } from '../../src/ui/figure/overlayLayout.ts';
import { pieceSpots } from '../../src/ui/pieceSpots.ts';
import { sectionDistanceMm, sectionPlane } from '../../src/ui/sectionPlane.ts';
import { rubberPicture } from '../fixtures/rubberPicture.ts';

const box = { min: [-50, -40, 0] as Vec3, max: [50, 40, 200] as Vec3 };

/**
 * A camera that stands at `azimuth` and looks down by `pitch` (radians), two pixels a millimetre, the board's middle at
 * (500, 500). Own projection, so that layout is held against something that is not the view.
 */
function camera(azimuth: number, pitch: number, perspectiveMm = Number.POSITIVE_INFINITY) {
  const right: Vec3 = [-Math.sin(azimuth), Math.cos(azimuth), 0];
  const toEye: Vec3 = [
    Math.cos(azimuth) * Math.cos(pitch),
    Math.sin(azimuth) * Math.cos(pitch),
    Math.sin(pitch),
  ];
  const up: Vec3 = [
    -Math.cos(azimuth) * Math.sin(pitch),
    -Math.sin(azimuth) * Math.sin(pitch),
    Math.cos(pitch),
  ];
  const dot = (a: Vec3, b: Vec3) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  return (p: Vec3) => {
    const near = 2 / (1 - dot(p, toEye) / perspectiveMm);
    return { x: 500 + near * dot(p, right), y: 500 - near * dot(p, up), visible: dot(p, toEye) > 0 };
  };
}

const FRONT = -Math.PI / 2;

function input(project: OverlayInput['project']): OverlayInput {
  return {
    widthPx: 1000,
    heightPx: 640,
    box,
    mmPerPixel: 0.5,
    project,
    sayLength: (mm) => `${mm.toFixed(1)} mm`,
    barLengthsMm: [1, 10, 50, 100],
    pieces: [
      { name: 'A', pull: [-1, 0, 0], spots: [[-50, -10, 100]], lines: ['A', '±'] },
      { name: 'B', pull: [1, 0, 0], spots: [[50, -10, 100]], lines: ['B', '±'] },
    ],
  };
}

describe('layOutOverlay', () => {
  it('keeps labels and notes clear of ringed numbers', () => {
    const plain = {
      ...input(camera(FRONT, 0)),
      labels: [
        { at: [0, -10, 100] as Vec3, text: '8' },
        { at: [40, -10, 20] as Vec3, text: '9' },
      ],
    };
    expect(layOutOverlay(plain).labels.map(({ text }) => text)).toEqual(['8', '9']);
    const [note] = layOutOverlay(plain).notes;
    // One ring beside the first label, 15 mm off at two pixels a millimetre; one on the first note's words.
    const rings = [
      { x: 520, y: 300 },
      { x: note.at.x - 40, y: note.at.y },
    ];
    const clear = layOutOverlay({ ...plain, rings });
    expect(clear.labels.map(({ text }) => text)).toEqual(['9']);
    const moved = clear.notes[0];
    expect(moved.lines).toEqual(note.lines);
    expect(moved.at.y - rings[1].y).toBeGreaterThan(11 + 14);
  });

  it('measures the height beside the mould, from board to top', () => {
    const { height } = layOutOverlay(input(camera(FRONT, 0)));
    expect(height?.text).toBe('200.0 mm');
    expect(height?.bottom.y).toBeCloseTo(500, 9);
    expect(height?.top.y).toBeCloseTo(100, 9);
    expect(height?.x).toBeLessThan(400);
  });

  it('gives no height that is seen end-on', () => {
    expect(layOutOverlay(input(camera(FRONT, Math.PI / 2))).height).toBeNull();
  });

  it('leads the notes out to both sides, clear of the mould', () => {
    const { notes } = layOutOverlay(input(camera(FRONT, 0)));
    expect(notes.map((n) => n.side)).toEqual(['left', 'right']);
    expect(notes[0].at.x).toBeLessThan(400);
    expect(notes[1].at.x).toBeGreaterThan(600);
  });

  it('says nothing of a piece whose every spot is hidden', () => {
    const hidden = input(camera(FRONT, 0));
    const { notes } = layOutOverlay({
      ...hidden,
      project: (p) => ({ ...hidden.project(p), visible: false }),
    });
    expect(notes).toEqual([]);
  });

  it('draws the pulls the way they go, and as rings when they are end-on', () => {
    const front = layOutOverlay(input(camera(FRONT, 0.2))).pulls;
    expect(front.map((p) => p.kind)).toEqual(['arrow', 'arrow']);
    expect(front[0].to.x).toBeLessThan(front[0].from.x);
    expect(front[1].to.x).toBeGreaterThan(front[1].from.x);
    const side = layOutOverlay(input(camera(0, 0.2, 1500))).pulls;
    expect(side.map((p) => p.kind)).toEqual(['away', 'toward']);
  });

  it('has a scale bar that is as long as it says', () => {
    const { bar } = layOutOverlay(input(camera(FRONT, 0)));
    expect(bar?.text).toBe('50 mm');
    expect(bar?.lengthPx).toBeCloseTo(100, 9);
  });

  it('keeps words off a phone', () => {
    const narrow = layOutOverlay({ ...input(camera(FRONT, 0)), widthPx: 380 });
    expect(narrow.notes).toEqual([]);
    expect(narrow.pulls).toEqual([]);
  });
});

describe('captionOf', () => {
  it.each([
    [FRONT, 'the front'],
    [Math.PI / 2, 'the back'],
    [0, 'the right'],
    [Math.PI, 'the left'],
    [-0.75 * Math.PI, 'the left front'],
    [-0.25 * Math.PI, 'the right front'],
  ])('names the side that the camera stands on (%f rad: %s)', (azimuth, side) => {
    const project = camera(azimuth, 0.3);
    const view = viewpointOf(project([0, 0, 0]), project([1, 0, 0]), project([0, 1, 0]));
    expect(captionOf('parting', view).text).toBe(`Parting line and undercuts, seen from ${side}`);
    expect(view?.downShare).toBeCloseTo(Math.sin(0.3), 9);
  });

  it('says when it is seen from above or cut open', () => {
    const project = camera(FRONT, Math.PI / 2);
    const view = viewpointOf(project([0, 0, 0]), project([1, 0, 0]), project([0, 1, 0]));
    expect(captionOf('coats', view, 'cut')).toEqual({
      number: 'Fig. 3',
      text: 'Coats over the rubber, cut open, seen from above',
    });
  });
});

describe('azimuth', () => {
  it('goes there and back', () => {
    for (const deg of [0, 5, 90, 182.5, 359]) expect(azimuthDeg(pullOf(deg, 0))).toBeCloseTo(deg, 6);
  });

  it('says the side as seen from the front', () => {
    expect(sayPull([1, 0, 0])).toBe('right');
    expect(sayPull([0, -1, 0])).toBe('front');
    expect(sayPull([-Math.SQRT1_2, Math.SQRT1_2, 0])).toBe('back left');
    expect(sayPull([0, 0, 1])).toBe('up');
  });
});

describe('sectionPlane', () => {
  it('runs from front to back, left to right and board to top, and takes the near side away', () => {
    for (const [axis, k, sign] of [
      ['across', 1, -1],
      ['along', 0, 1],
      ['level', 2, 1],
    ] as const) {
      const plane = sectionPlane(axis, 0.25, box);
      const place = sign * plane.offsetMm;
      expect(plane.normal[k]).toBe(sign);
      expect(place).toBeCloseTo(box.min[k] + (0.01 + 0.98 * 0.25) * (box.max[k] - box.min[k]), 9);
      expect(sectionDistanceMm(axis, 0.25, box)).toBeCloseTo(place - box.min[k], 9);
    }
  });
});

describe('pieceSpots', () => {
  it('lie inside the piece and spread by area, not by count of triangles', () => {
    // One large triangle at x = 100 and a hundred small ones at x = 0: nearly all spots belong to the large one.
    const positions = [100, 0, 0, 100, 100, 0, 100, 0, 100];
    const indices = [0, 1, 2];
    for (let i = 0; i < 100; i++) {
      const at = positions.length / 3;
      positions.push(0, i, 0, 0, i + 0.1, 0, 0, i, 0.1);
      indices.push(at, at + 1, at + 2);
    }
    const piece = {
      id: 'A',
      pull: [1, 0, 0] as Vec3,
      rubber: rubberPicture({
        positions: Float32Array.from(positions),
        indices: Uint32Array.from(indices),
      }),
      shell: null,
      undercut: null,
      touch: null,
    };
    const spots = pieceSpots(piece);
    expect(spots.length).toBeGreaterThan(8);
    expect(spots.every(([x]) => Math.abs(x - 100) < 1e-4)).toBe(true);
  });
});
