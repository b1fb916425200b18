/**
 * The demo's shape: a carp leaping from a rock, for a fountain, on a turned and grooved plinth. A shape of our own, made up
 * of simple solids joined smoothly; millimetres, z up, the plinth's wall runs through z = 0 and on below it.
 */

/** Signed size of the field at a point: negative inside; about a distance near the surface. */
export type ShapeField = (x: number, y: number, z: number) => number;

type Point = readonly [number, number, number];

/** The spine from the tail's root to the snout. The small sway in y keeps the two sides from being mirror images. */
const SPINE: readonly Point[] = [
  [-62, -10, 104],
  [-47, -6, 86],
  [-22, 2, 76],
  [8, 7, 84],
  [29, 6, 112],
  [33, 0, 148],
  [22, -6, 186],
  [0, -8, 221],
  [-24, -7, 246],
];
const SPINE_STEPS = 120;

/** Half depth (belly to back) and half width of the body along the spine, from tail root to snout. */
const HALF_DEPTH = [11, 12.5, 19, 29, 37, 40, 39, 33, 20];
const HALF_WIDTH = [8.5, 10, 15, 22, 27.5, 30, 30, 26, 17];

const SCALES_AROUND = 20;
const SCALE_HEIGHT_MM = 1.9;

/** Builds the field. The returned function keeps no state between calls. */
export function makeFishShape(): ShapeField {
  const spine = sampleSpine();
  const tail = spine.frameAt(0);
  const snout = spine.frameAt(1);
  const breast = spine.frameAt(0.675);
  const belly = spine.frameAt(0.43);
  const gill = 0.735;

  return (x, y, z) => {
    const base = baseField(x, y, z);
    // Far from the fish its own shape cannot matter; this is only to save time.
    if (z < 20) return base;
    const at = spine.locate(x, y, z);
    const { s, up, side, beyond } = at;
    const depth = spine.along(HALF_DEPTH, s);
    const width = spine.along(HALF_WIDTH, s);

    // Body: an ellipse carried along the spine, rounded off beyond its ends.
    const endRound = beyond > 0 ? (s > 0.5 ? 13 : 9) : 1;
    let body = ellipsoidDistance(up, side, beyond, depth, width, endRound);
    const angle = Math.atan2(side / width, up / depth);
    if (body < 12) {
      const inScales = smoothStep(0.04, 0.12, s) * (1 - smoothStep(gill - 0.035, gill - 0.01, s));
      if (inScales > 0) body -= SCALE_HEIGHT_MM * inScales * scaleHeight(spine.rowAt(s), angle);
      // Gill cover: a step that swings back at the cheek, and a second, finer groove on the cheek.
      const swing = 0.035 * Math.cos(2 * angle);
      body += 2.6 * bump((s - gill - swing) / 0.014) - 1.4 * bump((s - gill - swing - 0.03) / 0.03);
      body += 1.3 * bump((s - gill - 0.085 - swing * 0.7) / 0.009) * smoothStep(0.35, 0.7, Math.abs(angle));
    }

    // Back fin: from behind the head to the tail's third, with raked rays.
    const finHeight = 27 * Math.sqrt(Math.max(0, smoothStep(0.17, 0.36, s) * (1 - smoothStep(0.6, 0.7, s))));
    const rays = 0.8 * Math.cos(2 * Math.PI * (spine.length * s * 0.13 - up * 0.035));
    const finTop = depth - 8 + finHeight * (1 + 0.09 * Math.cos(2 * Math.PI * spine.length * s * 0.065));
    let fin = roundMax(Math.abs(side) - (4.4 + rays * smoothStep(depth, depth + 8, up)), up - finTop, 3);
    fin = Math.max(fin, -up);
    if (finHeight < 0.5) fin = 50;
    let fish = smoothMin(body, fin, 5);

    // Tail: two lobes, cupped, with rays that fan out from the root.
    {
      const dx = x - tail.at[0];
      const dy = y - tail.at[1];
      const dz = z - tail.at[2];
      const back = -(dx * tail.along[0] + dy * tail.along[1] + dz * tail.along[2]);
      const across = dx * tail.up[0] + dy * tail.up[1] + dz * tail.up[2];
      const off = dx * tail.side[0] + dy * tail.side[1] + dz * tail.side[2];
      const lobe = 1 + 0.12 * Math.sign(across);
      const aside = Math.abs(across) / lobe;
      const outline = smoothMin(
        taperedSegment(back, aside, -6, 3, 26, 17, 11, 10),
        taperedSegment(back, aside, 18, 13, 45, 31, 11, 5),
        6,
      );
      const fan = Math.atan2(across, back + 22);
      const cup = off - 0.006 * (across * across) + 0.1 * back;
      const thick = 5.4 - 0.02 * back + 0.9 * Math.cos(fan * 34) * smoothStep(4, 20, back);
      fish = smoothMin(fish, roundMax(Math.abs(cup) - thick, outline, 4), 7);
    }

    // Breast and belly fins, one of each on either side, swept back and drooping.
    const flip = side < 0 ? -1 : 1;
    fish = smoothMin(fish, sideFin(breast, x, y, z, flip, 2.15, 47, 15), 6);
    fish = smoothMin(fish, sideFin(belly, x, y, z, flip, 2.5, 30, 11), 5);

    // Head: lips, barbels, eyes, and the mouth through which the water comes.
    {
      const dx = x - snout.at[0];
      const dy = y - snout.at[1];
      const dz = z - snout.at[2];
      const ahead = dx * snout.along[0] + dy * snout.along[1] + dz * snout.along[2];
      const rise = dx * snout.up[0] + dy * snout.up[1] + dz * snout.up[2];
      const aside = dx * snout.side[0] + dy * snout.side[1] + dz * snout.side[2];
      const ring = Math.hypot(rise / 1.15, aside);
      const lips = Math.hypot(ring - 12.5, ahead - 10) - 5.2;
      fish = smoothMin(fish, lips, 5);
      const barbel = taperedSegment3(rise, Math.abs(aside), ahead, [-9, 14, 7], [-21, 23, -16], 4, 3.4);
      fish = smoothMin(fish, barbel, 3);
      const eyeRise = rise - 11;
      const eyeAside = Math.abs(aside) - 21.5;
      const eyeAhead = ahead + 20;
      const eye = Math.hypot(eyeRise, eyeAside, eyeAhead);
      fish = smoothMin(fish, eye - 8.6, 2.5);
      // A ring cut round the eyeball, as a lid.
      const lid = Math.hypot(Math.hypot(eyeRise, eyeAhead) - 7.6, eyeAside - 3) - 1.5;
      fish = smoothMax(fish, -lid, 1.5);
      const mouth = Math.hypot(rise / 1.2, aside, Math.max(0, Math.abs(ahead - 2) - 14)) - 9.2;
      fish = smoothMax(fish, -mouth, 3.5);
    }
    return smoothMin(base, fish, 6);
  };
}

/** Rock on the turned plinth. */
function baseField(x: number, y: number, z: number): number {
  const r = Math.hypot(x, y);
  // Plinth: a drum with a hollow, a roll and a step, turned about z.
  let plinth = roundMax(r - 78, z - 17, 3);
  plinth = smoothMin(plinth, Math.hypot(r - 70, z - 20) - 6.5, 2);
  plinth = smoothMax(plinth, -(Math.hypot(r - 79.5, z - 8.5) - 4.6), 1.5);
  let rock = 1e9;
  for (const [cx, cy, cz, ax, ay, az] of BOULDERS) {
    rock = smoothMin(rock, ellipsoidDistance(x - cx, y - cy, z - cz, ax, ay, az), 5);
  }
  if (rock < 15) {
    // Beds of the rock: tilted, uneven ledges with crisp upper edges, broken by slow swells.
    const swell =
      Math.sin(x * 0.071 + 1.3) * Math.sin(y * 0.083 - 0.4) +
      Math.sin(x * 0.043 - y * 0.059 + z * 0.05 + 2.1);
    const bed = (z + 0.28 * x - 0.2 * y + 3.2 * swell) / 11;
    const ledge = bed - Math.floor(bed);
    rock -= 2.3 * (smoothStep(0, 0.22, ledge) - smoothStep(0.45, 1, ledge)) + 0.9 * swell;
  }
  return smoothMin(plinth, Math.max(rock, -z), 3);
}

/** Centre and half axes of each boulder, mm. */
const BOULDERS: readonly (readonly [number, number, number, number, number, number])[] = [
  [0, 0, 24, 52, 48, 30],
  [-6, 2, 48, 34, 31, 30],
  [-40, -12, 32, 23, 25, 24],
  [30, 22, 30, 26, 24, 24],
  [28, -26, 28, 25, 22, 20],
  [-26, 34, 26, 24, 20, 20],
  [6, -44, 22, 20, 17, 15],
  [10, 4, 56, 21, 23, 22],
];

/**
 * A fin to the side of the body: a leaf of even thickness with rays, from the spine at `at` outward at `angleRad`
 * from the back, swept toward the tail.
 */
function sideFin(
  frame: Frame,
  x: number,
  y: number,
  z: number,
  flip: number,
  angleRad: number,
  reach: number,
  breadth: number,
): number {
  const { depth, width } = frame;
  const c = Math.cos(angleRad);
  const n = Math.sin(angleRad) * flip;
  const dx = x - frame.at[0];
  const dy = y - frame.at[1];
  const dz = z - frame.at[2];
  const ahead = dx * frame.along[0] + dy * frame.along[1] + dz * frame.along[2];
  const rise = dx * frame.up[0] + dy * frame.up[1] + dz * frame.up[2];
  const aside = dx * frame.side[0] + dy * frame.side[1] + dz * frame.side[2];
  const root = Math.hypot(c * depth, n * width) - 6;
  const out = rise * c + aside * n - root;
  const across = -rise * Math.abs(n) + aside * c * flip;
  // The leaf's axis leans back toward the tail; its blade curls down as it goes out.
  const lean = 0.82;
  const on = out * Math.cos(lean) - ahead * Math.sin(lean);
  const wide = out * Math.sin(lean) + ahead * Math.cos(lean);
  const curl = across + 0.0045 * on * on;
  const outline = taperedSegment(on, Math.abs(wide - 0.05 * on), 2, 0, reach, 0, breadth * 0.7, breadth);
  const fan = Math.atan2(wide, on + 14);
  const thick = 4.2 + 0.8 * Math.cos(fan * 30) * smoothStep(4, 16, on);
  return roundMax(Math.abs(curl) - thick, outline, 3.5);
}

interface Frame {
  readonly at: Point;
  /** Toward the snout. */
  readonly along: Point;
  /** Toward the back. */
  readonly up: Point;
  readonly side: Point;
  /** Half depth and half width of the body there. */
  readonly depth: number;
  readonly width: number;
}

interface Spine {
  readonly length: number;
  locate(x: number, y: number, z: number): { s: number; up: number; side: number; beyond: number };
  frameAt(s: number): Frame;
  along(values: readonly number[], s: number): number;
  /** Row of scales at s: rows are as long as scales are broad, so that they shrink toward the tail. */
  rowAt(s: number): number;
}

function sampleSpine(): Spine {
  const points: Point[] = [];
  for (let i = 0; i <= SPINE_STEPS; i++) points.push(catmullRom(SPINE, i / SPINE_STEPS));
  const flat = new Float64Array(points.flat());
  let length = 0;
  for (let i = 0; i < SPINE_STEPS; i++) length += distance(points[i], points[i + 1]);

  const along = (values: readonly number[], s: number): number => catmullRomValue(values, s);
  const frameAt = (s: number): Frame => {
    const clamped = Math.min(1, Math.max(0, s));
    const before = catmullRom(SPINE, Math.max(0, clamped - 0.01));
    const after = catmullRom(SPINE, Math.min(1, clamped + 0.01));
    const forward = unit([after[0] - before[0], after[1] - before[1], after[2] - before[2]]);
    // The back stays in the plane of the bend: square to the spine and to y as far as can be.
    const up = unit(cross([0, 1, 0], forward));
    return {
      at: catmullRom(SPINE, clamped),
      along: forward,
      up,
      side: cross(forward, up),
      depth: along(HALF_DEPTH, clamped),
      width: along(HALF_WIDTH, clamped),
    };
  };
  const rows = new Float64Array(SPINE_STEPS + 1);
  for (let i = 0; i < SPINE_STEPS; i++) {
    const s = (i + 0.5) / SPINE_STEPS;
    const girth = Math.PI * (along(HALF_DEPTH, s) + along(HALF_WIDTH, s));
    rows[i + 1] = rows[i] + distance(points[i], points[i + 1]) / ((girth / SCALES_AROUND) * 0.62);
  }
  const frames: Frame[] = [];
  for (let i = 0; i <= SPINE_STEPS; i++) frames.push(frameAt(i / SPINE_STEPS));

  return {
    length,
    frameAt,
    along,
    rowAt: (s) => {
      const t = Math.min(SPINE_STEPS - 1e-9, Math.max(0, s * SPINE_STEPS));
      const i = Math.floor(t);
      return rows[i] + (rows[i + 1] - rows[i]) * (t - i);
    },
    locate: (x, y, z) => {
      let best = Infinity;
      let bestAt = 0;
      for (let i = 0; i < SPINE_STEPS; i++) {
        const a = i * 3;
        const ex = flat[a + 3] - flat[a];
        const ey = flat[a + 4] - flat[a + 1];
        const ez = flat[a + 5] - flat[a + 2];
        const px = x - flat[a];
        const py = y - flat[a + 1];
        const pz = z - flat[a + 2];
        let t = (px * ex + py * ey + pz * ez) / (ex * ex + ey * ey + ez * ez);
        t = Math.min(1, Math.max(0, t));
        const qx = px - t * ex;
        const qy = py - t * ey;
        const qz = pz - t * ez;
        const d = qx * qx + qy * qy + qz * qz;
        if (d < best) {
          best = d;
          bestAt = i + t;
        }
      }
      const i = Math.min(SPINE_STEPS - 1, Math.floor(bestAt));
      const w = bestAt - i;
      const f0 = frames[i];
      const f1 = frames[i + 1];
      const cx = flat[i * 3] + (flat[i * 3 + 3] - flat[i * 3]) * w;
      const cy = flat[i * 3 + 1] + (flat[i * 3 + 4] - flat[i * 3 + 1]) * w;
      const cz = flat[i * 3 + 2] + (flat[i * 3 + 5] - flat[i * 3 + 2]) * w;
      const dx = x - cx;
      const dy = y - cy;
      const dz = z - cz;
      const dot = (k: 'up' | 'side' | 'along'): number =>
        dx * (f0[k][0] + (f1[k][0] - f0[k][0]) * w) +
        dy * (f0[k][1] + (f1[k][1] - f0[k][1]) * w) +
        dz * (f0[k][2] + (f1[k][2] - f0[k][2]) * w);
      const ahead = dot('along');
      const beyond = bestAt <= 0 ? Math.max(0, -ahead) : bestAt >= SPINE_STEPS ? Math.max(0, ahead) : 0;
      return { s: bestAt / SPINE_STEPS, up: dot('up'), side: dot('side'), beyond };
    },
  };
}

/** 0..1: how far a scale stands out here; scales overlap like tiles, their free round edge toward the tail. */
function scaleHeight(row: number, angleRad: number): number {
  const around = (angleRad / (2 * Math.PI)) * SCALES_AROUND;
  let most = 0;
  const first = Math.floor(row);
  for (let r = first; r <= first + 2; r++) {
    const shift = (((r % 2) + 2) % 2) * 0.5;
    const da = around - shift - Math.round(around - shift);
    // Measured toward the tail from the scale's middle; rows rise toward the head.
    const back = r - row;
    const q = Math.hypot(da / 0.54, back > 0 ? back / 1.25 : back);
    const edge = 1 - smoothStep(0.84, 1, q);
    const height = (0.3 + 0.7 * Math.max(0, back / 1.25)) * edge;
    if (height > most) most = height;
  }
  return most;
}

/** About the distance to an ellipsoid at the origin: exact on its surface, first order near it. */
function ellipsoidDistance(x: number, y: number, z: number, ax: number, ay: number, az: number): number {
  const [ux, uy, uz] = [x / ax, y / ay, z / az];
  const k0 = Math.sqrt(ux * ux + uy * uy + uz * uz);
  const k1 = Math.sqrt((ux / ax) ** 2 + (uy / ay) ** 2 + (uz / az) ** 2);
  return k1 === 0 ? -Math.min(ax, ay, az) : (k0 * (k0 - 1)) / k1;
}

/** In the plane: a segment with a radius that runs from ra to rb. */
function taperedSegment(
  x: number,
  y: number,
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  ra: number,
  rb: number,
): number {
  return taperedSegment3(x, y, 0, [x0, y0, 0], [x1, y1, 0], ra, rb);
}

function taperedSegment3(
  x: number,
  y: number,
  z: number,
  a: Point,
  b: Point,
  ra: number,
  rb: number,
): number {
  const ex = b[0] - a[0];
  const ey = b[1] - a[1];
  const ez = b[2] - a[2];
  let t = ((x - a[0]) * ex + (y - a[1]) * ey + (z - a[2]) * ez) / (ex * ex + ey * ey + ez * ez);
  t = Math.min(1, Math.max(0, t));
  return Math.hypot(x - a[0] - t * ex, y - a[1] - t * ey, z - a[2] - t * ez) - (ra + (rb - ra) * t);
}

function smoothMin(a: number, b: number, k: number): number {
  const h = Math.max(0, k - Math.abs(a - b)) / k;
  return Math.min(a, b) - h * h * k * 0.25;
}

function smoothMax(a: number, b: number, k: number): number {
  return -smoothMin(-a, -b, k);
}

/** The greater of two distances with its edge rounded to radius r. */
function roundMax(a: number, b: number, r: number): number {
  const u = Math.max(0, a + r);
  const w = Math.max(0, b + r);
  return Math.min(Math.max(a + r, b + r), 0) + Math.hypot(u, w) - r;
}

function smoothStep(from: number, to: number, x: number): number {
  const t = Math.min(1, Math.max(0, (x - from) / (to - from)));
  return t * t * (3 - 2 * t);
}

/** A smooth hump of height 1 over -1..1. */
function bump(x: number): number {
  const t = 1 - x * x;
  return t <= 0 ? 0 : t * t;
}

function catmullRom(points: readonly Point[], s: number): Point {
  return [
    catmullRomValue(
      points.map((p) => p[0]),
      s,
    ),
    catmullRomValue(
      points.map((p) => p[1]),
      s,
    ),
    catmullRomValue(
      points.map((p) => p[2]),
      s,
    ),
  ];
}

function catmullRomValue(values: readonly number[], s: number): number {
  const last = values.length - 1;
  const t = Math.min(1, Math.max(0, s)) * last;
  const i = Math.min(last - 1, Math.floor(t));
  const u = t - i;
  const p1 = values[i];
  const p2 = values[i + 1];
  const p0 = i > 0 ? values[i - 1] : 2 * p1 - p2;
  const p3 = i + 2 <= last ? values[i + 2] : 2 * p2 - p1;
  return p1 + 0.5 * u * (p2 - p0 + u * (2 * p0 - 5 * p1 + 4 * p2 - p3 + u * (3 * (p1 - p2) + p3 - p0)));
}

function distance(a: Point, b: Point): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

function unit(p: Point): Point {
  const length = Math.hypot(p[0], p[1], p[2]);
  return [p[0] / length, p[1] / length, p[2] / length];
}

function cross(a: Point, b: Point): Point {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}
