import { describe, expect, it } from 'vitest';
import type { TriMesh } from '../../../../src/core/mesh/TriMesh.ts';
import {
  asTwist,
  type ContactVectors,
  contactVectors,
} from '../../../../src/core/parting/pulls/contactTwists.ts';
import { measureFaces } from '../../../../src/core/parting/pulls/FaceMeasures.ts';
import { leastClosing } from '../../../../src/core/parting/pulls/leastClosing.ts';
import { minNormPoint } from '../../../../src/core/parting/pulls/minNormPoint.ts';
import { seededRandom } from '../../../fixtures/seededRandom.ts';
import { box, moved, octasphere, torus } from '../../../fixtures/shapes.ts';

function contactsOf(mesh: TriMesh, isOwn: (x: number, y: number, z: number) => boolean): ContactVectors {
  const { middles, normals, areaMm2 } = measureFaces(mesh);
  return contactVectors(middles, normals, areaMm2, (t) =>
    isOwn(middles[3 * t], middles[3 * t + 1], middles[3 * t + 2]),
  );
}

/** The opening under a twist, from its meaning: the speed of each contact along its normal. */
function openingOf({ vectors }: ContactVectors, twist: ArrayLike<number>): number {
  let least = Infinity;
  for (let i = 0; i < vectors.length; i += 6) {
    let speed = 0;
    for (let k = 0; k < 6; k++) speed += twist[k] * vectors[i + k];
    least = Math.min(least, speed);
  }
  return least;
}

describe('leastClosing', () => {
  it('is no worse than any of 3000 random twists polished by small steps, seeds 1 to 10', () => {
    for (let seed = 1; seed <= 10; seed++) {
      const random = seededRandom(seed);
      const count = 6 + 4 * seed;
      const vectors = Float64Array.from(
        { length: 6 * count },
        (_, i) => 2 * random() - 1 + (i % 6 === 2 ? 0.15 * (seed % 4) : 0),
      );
      const contacts: ContactVectors = { vectors, originMm: [0, 0, 0], scaleMm: 1 };
      const found = leastClosing(vectors);
      expect(found.opening).toBe(openingOf(contacts, found.twist));
      expect(Math.max(...found.twist.map(Math.abs))).toBe(1);
      let best = -Infinity;
      const scaledToOne = (t: number[]): number[] => {
        const most = Math.max(...t.map(Math.abs));
        return t.map((x) => x / most);
      };
      for (let n = 0; n < 150; n++) {
        let twist = scaledToOne(Array.from({ length: 6 }, () => 2 * random() - 1));
        let opening = openingOf(contacts, twist);
        for (let k = 0; k < 20; k++) {
          const next = scaledToOne(twist.map((x) => x + (0.3 / (k + 1)) * (2 * random() - 1)));
          const nextOpening = openingOf(contacts, next);
          if (nextOpening > opening) {
            twist = next;
            opening = nextOpening;
          }
        }
        best = Math.max(best, opening);
      }
      expect(found.opening, `seed ${seed}`).toBeGreaterThanOrEqual(best - 1e-9);
    }
  });

  it('a tub without its lid opens, as the nearest point of the hull says too', () => {
    // Five faces of a box, walls leaning in by the scale of its height: seen from outside all but the foot.
    const mesh = box(40, 30, 20);
    const positions = mesh.positions.map((x, i) =>
      i % 3 !== 2 && mesh.positions[i - (i % 3) + 2] > 0 ? 15 + 0.8 * (x - 15) : x,
    );
    const contacts = contactsOf({ positions, indices: mesh.indices }, (_x, _y, z) => z > 0);
    expect(leastClosing(contacts.vectors).opening).toBeGreaterThan(0.05);
    expect(minNormPoint(contacts.vectors, 6).norm).toBeGreaterThan(0.05);
  });

  it('a hemisphere stands at 0 by its rim: the hull reaches the origin, and lifting it closes nothing', () => {
    const contacts = contactsOf(octasphere(30, 20), (_x, _y, z) => z > 0);
    // Faces at the rim lean by up to 2 degrees, so that the ideal 0 is met to the sine of that.
    expect(minNormPoint(contacts.vectors, 6).norm).toBeLessThan(0.04);
    const found = leastClosing(contacts.vectors);
    expect(found.opening).toBeGreaterThan(-1e-9);
    expect(found.opening).toBeLessThan(0.04);
  });

  it('a sphere wherever it is covered slides when it turns, and does not open', () => {
    const contacts = contactsOf(moved(octasphere(30, 16), [100, 20, -7]), () => true);
    const found = leastClosing(contacts.vectors);
    // Flat faces of 6 degrees: their middles lie off the normal through the centre by a part of the sine of that.
    expect(Math.abs(found.opening)).toBeLessThan(0.03);
    const { turn, shiftMm, originMm } = asTwist(found.twist, contacts);
    expect(Math.hypot(...turn) * 30).toBeGreaterThan(0.9);
    // The centre of the ball stays where it is.
    const arm = [100 - originMm[0], 20 - originMm[1], -7 - originMm[2]];
    const centre = [
      turn[1] * arm[2] - turn[2] * arm[1] + shiftMm[0],
      turn[2] * arm[0] - turn[0] * arm[2] + shiftMm[1],
      turn[0] * arm[1] - turn[1] * arm[0] + shiftMm[2],
    ];
    expect(Math.hypot(...centre)).toBeLessThan(0.05);
  });

  it('a plug in a ring groove slides round the axis and no other way', () => {
    // The outer three quarters of the tube over a third of the ring: no straight way out (the groove bends round it).
    const mesh = torus(40, 12, 72, 24);
    const contacts = contactsOf(mesh, (x, y, z) => {
      const angle = Math.atan2(y, x);
      return Math.abs(angle) < 1 && Math.hypot(x, y) - 40 > -9 && Math.abs(z) <= 12;
    });
    const found = leastClosing(contacts.vectors);
    expect(Math.abs(found.opening)).toBeLessThan(0.03);
    const { turn, shiftMm, originMm } = asTwist(found.twist, contacts);
    const size = Math.hypot(...turn);
    expect(Math.abs(turn[2]) / size).toBeGreaterThan(0.999);
    // Points on the ring's axis stay: v + w x (0 - origin) is 0 across the axis.
    expect(Math.abs(shiftMm[0] + turn[2] * originMm[1]) / (size * 40)).toBeLessThan(0.05);
    expect(Math.abs(shiftMm[1] - turn[2] * originMm[0]) / (size * 40)).toBeLessThan(0.05);
  });

  it('a nut on a screw turns along the thread: the pitch comes out', () => {
    // A rod of wavy section that winds up: r = 20 + 3 cos(angle - 2 pi z / 15), a right-handed thread of 15 mm a turn.
    const rings = 60;
    const sides = 60;
    const positions: number[] = [];
    const indices: number[] = [];
    for (let i = 0; i <= rings; i++) {
      for (let j = 0; j < sides; j++) {
        const z = (40 * i) / rings;
        const angle = (2 * Math.PI * j) / sides;
        const r = 20 + 3 * Math.cos(angle - (2 * Math.PI * z) / 15);
        positions.push(r * Math.cos(angle), r * Math.sin(angle), z);
        if (i === rings) continue;
        const at = i * sides + j;
        const next = i * sides + ((j + 1) % sides);
        indices.push(at, next, next + sides, at, next + sides, at + sides);
      }
    }
    const screw = { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
    const contacts = contactsOf(screw, () => true);
    const found = leastClosing(contacts.vectors);
    expect(Math.abs(found.opening)).toBeLessThan(0.03);
    const { turn, shiftMm } = asTwist(found.twist, contacts);
    expect(Math.abs(turn[2]) / Math.hypot(...turn)).toBeGreaterThan(0.999);
    const pitchMm =
      ((turn[0] * shiftMm[0] + turn[1] * shiftMm[1] + turn[2] * shiftMm[2]) / Math.hypot(...turn) ** 2) *
      2 *
      Math.PI;
    expect(Math.abs(pitchMm - 15)).toBeLessThan(0.5);
  });

  it('a box covered all round is held against every twist', () => {
    const contacts = contactsOf(box(40, 30, 20), () => true);
    expect(leastClosing(contacts.vectors).opening).toBeLessThan(-0.1);
  });
});
