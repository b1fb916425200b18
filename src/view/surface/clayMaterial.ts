import { Color, DoubleSide, ShaderMaterial, Vector3, Vector4 } from 'three';
import { type BodyInk, MOST_GONE, MOST_LEVELS } from './BodyInk.ts';
import { HATCH_FRAGMENT, HATCH_VERTEX } from './hatchShader.ts';
import { MAP_FRAGMENT, MAP_VERTEX } from './mapShader.ts';

/**
 * Light that all bodies share. Directions are world, toward the light; they are set for each frame from the camera,
 * since a drawing is lit from over the draughtsman's left shoulder whichever side one looks at.
 */
export interface SharedLight {
  readonly key: { readonly value: Vector3 };
  readonly fill: { readonly value: Vector3 };
  /** Cutting plane in the frame of the body: kept where xyz . p <= w. Zero normal and w = 1: nothing is cut. */
  readonly cut: { readonly value: Vector4 };
}

export const newSharedLight = (): SharedLight => ({
  key: { value: new Vector3(0, -1, 0) },
  fill: { value: new Vector3(1, 0, 0) },
  cut: { value: new Vector4(0, 0, 0, 1) },
});

/**
 * What is drawn on the clay besides its light: nothing; what locks (attributes `lockShares`, `lockDepth`); what is inside
 * the rubber at the present slide (attribute `touch`); dots, as for filler.
 */
export type ClayMarks = 'plain' | 'locks' | 'touch' | 'dots';

const DEFINE_OF: Readonly<Record<ClayMarks, string | null>> = {
  plain: null,
  locks: 'LOCKS',
  touch: 'TOUCH',
  dots: 'DOTS',
};

/**
 * Unglazed clay: no highlight at all; a wide soft key light that the body's own hollows keep out, light from the sky
 * and from the paper below weighed by how open the spot is, and a weak light from the other side.
 * Needs attributes position, normal, and `aperture` (mean open direction and openness, see DepthMaps.sample).
 */
export function makeClayMaterial(light: SharedLight, ink: BodyInk, marks: ClayMarks): ShaderMaterial {
  const define = DEFINE_OF[marks];
  return new ShaderMaterial({
    side: DoubleSide,
    defines: define === null ? {} : { [define]: '' },
    uniforms: {
      tint: { value: new Color() },
      keyDirection: light.key,
      fillDirection: light.fill,
      cutPlane: light.cut,
      resolution: ink.frame.resolution,
      pixelRatio: ink.frame.pixelRatio,
      graphite: ink.graphite,
      accent: ink.accent,
      areLocksShown: ink.areLocksShown,
      giveMm: ink.giveMm,
      levelsMm: ink.levelsMm,
      levelCount: ink.levelCount,
      gonePlanes: ink.gonePlanes,
      goneCount: ink.goneCount,
      paper: ink.paper,
      ...ink.map,
      slideMm: { value: 0 },
      softMm: { value: 1 },
    },
    vertexShader: VERTEX,
    fragmentShader: FRAGMENT,
    // The bodies step back a hair, so that lines, cut faces and the rubber under a shell do not fight with them.
    polygonOffset: true,
    polygonOffsetFactor: 1,
    polygonOffsetUnits: 1,
  });
}

/**
 * How far inside the rubber a vertex is along its slide, mm: positive inside. Held within the size of a triangle, so that
 * between a vertex that touches and one that never does the border lies in their middle.
 */
export const TOUCH_VERTEX = /* glsl */ `
attribute vec2 touch;
uniform float slideMm;
uniform float softMm;
varying float vTouch;

float touchMm() {
  return clamp(min(slideMm - touch.x, touch.y - slideMm), -softMm, softMm);
}
`;

/** Strokes both ways, in accent: what is inside the rubber. Needs HATCH_FRAGMENT. */
export const TOUCH_FRAGMENT = /* glsl */ `
uniform float slideMm;
varying float vTouch;

float touchStrokes(vec2 px) {
  const float h = 0.70710678;
  return max(stroke(px, vec2(h, -h), 7.0, 1.2), stroke(px, vec2(h, h), 7.0, 1.2));
}
`;

const VERTEX = /* glsl */ `
attribute vec4 aperture;
varying vec3 vNormal;
varying vec3 vEye;
varying vec4 vAperture;
varying vec3 vBody;
${HATCH_VERTEX}
#ifdef LOCKS
attribute vec4 lockShares;
attribute float lockDepth;
${MAP_VERTEX}
varying vec4 vShares;
varying float vDepth;
#endif
#ifdef TOUCH
${TOUCH_VERTEX}
#endif

void main() {
  vEye = cameraPosition - (modelMatrix * vec4(position, 1.0)).xyz;
  vNormal = mat3(modelMatrix) * normal;
  // Turned along with the body, which is tried in other standings.
  vAperture = vec4(mat3(modelMatrix) * aperture.xyz, aperture.w);
  vBody = position;
  placeAnchor();
  #ifdef LOCKS
  vShares = lockShares;
  vDepth = lockDepth;
  vMap = map;
  #endif
  #ifdef TOUCH
  vTouch = touchMm();
  #endif
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}
`;

const LOCKS_FRAGMENT = /* glsl */ `
uniform float areLocksShown;
uniform float giveMm;
uniform float levelsMm[${MOST_LEVELS}];
uniform int levelCount;
varying vec4 vShares;
varying float vDepth;

// The strokes of each kind: facing away /, overshadowed by rubber \\, by another piece \\ broken, by the board level.
float lockStrokes(vec2 px, bool isWithinGive) {
  const float h = 0.70710678;
  float most = max(max(vShares.x, vShares.y), max(vShares.z, vShares.w));
  vec2 across = vShares.x == most ? vec2(h, -h) : vShares.w == most ? vec2(0.0, 1.0) : vec2(h, h);
  // Where the rubber yields every other stroke is left out.
  float spacing = isWithinGive ? 12.0 : 6.0;
  float line = stroke(px, across, spacing, 1.1);
  bool isBroken = vShares.z == most && vShares.z > vShares.y;
  if (isBroken && mod(dot(px, vec2(h, -h)), 9.0) > 5.5) line = 0.0;
  return line;
}

vec3 drawLocks(vec3 lit, vec3 tint, vec3 graphite, vec3 accent) {
  float share = dot(vShares, vec4(1.0));
  // Slopes are taken before any branch: in one that only some pixels of a quad take they are undefined.
  float shareSlope = fwidth(share);
  float depthSlope = fwidth(vDepth);
  if (areLocksShown < 0.5 || share <= 0.0) return lit;
  float edge = shareSlope > 1e-5 ? contour(share, 0.5, shareSlope, 1.3) : 0.0;
  vec3 drawn = lit;
  if (share > 0.5) {
    // Paper shows through where it is hatched, or the strokes would drown in the shade that undercuts mostly lie in.
    drawn = mix(lit, mix(tint, vec3(1.0), 0.45), 0.62);
    drawn = mix(drawn, graphite, 0.88 * lockStrokes(hatchPx(), vDepth <= giveMm));
    // Near the border the depth is that of few corners, and where it rises too steeply its lines would run together.
    float inside = smoothstep(0.55, 0.75, share);
    float before = 0.0;
    for (int i = 0; i < ${MOST_LEVELS}; i++) {
      if (i >= levelCount) break;
      float apartPx = (levelsMm[i] - before) / max(depthSlope, 1e-7) / pixelRatio;
      before = levelsMm[i];
      float line = contour(vDepth, levelsMm[i], depthSlope, 1.5) * inside * smoothstep(2.5, 5.0, apartPx);
      drawn = mix(drawn, graphite, line);
    }
    if (giveMm > 0.0) drawn = mix(drawn, accent, contour(vDepth, giveMm, depthSlope, 2.0) * inside);
  }
  return mix(drawn, graphite, edge);
}
`;

const FRAGMENT = /* glsl */ `
uniform vec3 tint;
uniform vec3 graphite;
uniform vec3 accent;
uniform vec3 keyDirection;
uniform vec3 fillDirection;
uniform vec4 cutPlane;
uniform vec4 gonePlanes[${MOST_GONE}];
uniform int goneCount;
uniform vec3 paper;
varying vec3 vNormal;
varying vec3 vEye;
varying vec4 vAperture;
varying vec3 vBody;
${HATCH_FRAGMENT}
#ifdef LOCKS
${LOCKS_FRAGMENT}
${MAP_FRAGMENT}
#endif
#ifdef TOUCH
${TOUCH_FRAGMENT}
#endif

// How far past the nearest of the planes of what is going, mm; below 0: it stays.
float goneMm() {
  float over = -1e9;
  for (int i = 0; i < ${MOST_GONE}; i++) {
    if (i >= goneCount) break;
    over = max(over, dot(gonePlanes[i].xyz, vBody) - gonePlanes[i].w);
  }
  return over;
}

// What is going: faded into the paper and struck through, its border in accent.
vec3 drawGone(vec3 lit, float over, float slope) {
  vec3 drawn = lit;
  if (over > 0.0) {
    drawn = mix(lit, paper, 0.72);
    drawn = mix(drawn, graphite, 0.45 * stroke(hatchPx(), vec2(0.70710678, -0.70710678), 8.0, 1.0));
  }
  return goneCount > 0 ? mix(drawn, accent, contour(over, 0.0, slope, 2.2)) : drawn;
}

void main() {
  if (dot(cutPlane.xyz, vBody) > cutPlane.w) discard;
  float over = goneMm();
  float overSlope = fwidth(over);
  vec3 normal = normalize(vNormal);
  // The inside, seen through a cut or from under the board, is flat shade: it is not the subject.
  if (!gl_FrontFacing) {
    float inside = 0.20 + 0.10 * max(0.0, dot(-normal, keyDirection));
    gl_FragColor = vec4(drawGone(tint * inside, over, overSlope), 1.0);
    #include <colorspace_fragment>
    return;
  }
  vec3 open = normalize(vAperture.xyz + normal * 0.02);
  float openness = clamp(vAperture.w, 0.0, 1.0);
  #ifdef TOUCH
  // A shell's openness is that of the closed shell; slid off the rubber, light comes into its hollow.
  float slid = smoothstep(0.0, 15.0, slideMm);
  openness = max(openness, 0.6 * slid);
  open = normalize(mix(open, normal, 0.7 * slid));
  #endif

  // The key light comes through if it lies within the cone of free sky (cosine of its half angle: 1 - openness).
  float lip = 1.0 - openness;
  float reach = smoothstep(lip - 0.55, lip + 0.30, dot(open, keyDirection));
  float facing = dot(normal, keyDirection);
  // Rough clay scatters: the light wraps a little round the edge and is flatter than a cosine in its middle.
  float key = pow(clamp((facing + 0.16) / 1.16, 0.0, 1.0), 0.95) * mix(reach, 1.0, 0.10);
  float fill = clamp((dot(normal, fillDirection) + 0.2) / 1.2, 0.0, 1.0);

  // Light from above is white; the paper below throws some back, warm with the tint. Hollows keep some by inner bounce.
  float sky = 0.5 + 0.5 * mix(normal.z, open.z, 0.5);
  float hollow = openness * openness * (1.6 - 0.6 * openness);
  float ambient = mix(0.09, 0.25, sky) * mix(hollow, 1.0, 0.10);
  vec3 bounce = mix(tint, vec3(1.0), 0.55);
  float direct = 0.92 * key + 0.07 * fill * openness;
  vec3 lit = tint * (ambient * bounce + vec3(direct));

  // Toward its outline the form turns a little darker, as a pencil would set it off from the paper.
  float turning = abs(dot(normal, normalize(vEye)));
  lit *= mix(0.62, 1.0, smoothstep(0.0, 0.34, turning));
  #ifdef LOCKS
  lit = drawLocks(lit, tint, graphite, accent);
  lit = drawMap(lit, tint, graphite, accent);
  #endif
  #ifdef TOUCH
  float touchSlope = fwidth(vTouch);
  if (vTouch > 0.0) {
    lit = mix(lit, mix(tint, vec3(1.0), 0.3), 0.45);
    lit = mix(lit, accent, touchStrokes(hatchPx()));
  }
  if (slideMm > 0.0 && touchSlope > 1e-6) lit = mix(lit, accent, contour(vTouch, 0.0, touchSlope, 2.0));
  #endif
  #ifdef DOTS
  lit = mix(lit, graphite, 0.8 * dots(hatchPx(), 6.0, 0.95));
  #endif
  gl_FragColor = vec4(drawGone(lit, over, overSlope), 1.0);
  #include <colorspace_fragment>
}
`;
