import { Color, DoubleSide, GreaterDepth, LessEqualDepth, ShaderMaterial, Vector2, Vector4 } from 'three';

/** What all overlays of a view share; set for each frame. */
export interface OverlayFrame {
  /** Drawing buffer, device pixels. */
  readonly resolution: { readonly value: Vector2 };
  readonly pixelRatio: { value: number };
  /** mm for a CSS pixel at the camera's target. */
  readonly mmPerPixel: { value: number };
}

export const newOverlayFrame = (): OverlayFrame => ({
  resolution: { value: new Vector2(1, 1) },
  pixelRatio: { value: 1 },
  mmPerPixel: { value: 1 },
});

export interface FatLineLook {
  readonly widthPx: number;
  /** CSS pixels of mark and gap; null: solid. */
  readonly dashPx: readonly [number, number] | null;
  readonly opacity: number;
  /** 'front': where nothing hides it. 'hidden': only where something does. */
  readonly part: 'front' | 'hidden';
  /** How far toward the eye the line is brought, CSS pixels, so that its whole width clears the surface it lies on. */
  readonly liftPx: number;
}

/**
 * Lines of constant width on the screen, with round ends, for instanced segments (attributes `from`, `to`, `along`).
 * The lift goes along the ray to the eye, so it changes what hides the line and never where the line is drawn.
 */
export function makeFatLineMaterial(frame: OverlayFrame, cut: SharedCut, look: FatLineLook): ShaderMaterial {
  return new ShaderMaterial({
    // The strip is turned along its segment, which may leave it either way round.
    side: DoubleSide,
    transparent: true,
    depthWrite: false,
    depthFunc: look.part === 'front' ? LessEqualDepth : GreaterDepth,
    uniforms: {
      resolution: frame.resolution,
      pixelRatio: frame.pixelRatio,
      mmPerPixel: frame.mmPerPixel,
      cutPlane: cut,
      tint: { value: new Color() },
      width: { value: look.widthPx },
      opacity: { value: look.opacity },
      lift: { value: look.liftPx },
      dash: { value: new Vector2(look.dashPx?.[0] ?? 1, look.dashPx?.[1] ?? 0) },
    },
    vertexShader: VERTEX,
    fragmentShader: FRAGMENT,
  });
}

/** Kept is where xyz . p <= w; shared by the bodies and the lines on them. */
export interface SharedCut {
  readonly value: Vector4;
}

/** Cut plane that cuts nothing, for overlays that stay whole. */
export const UNCUT: SharedCut = { value: new Vector4(0, 0, 0, 1) };

const VERTEX = /* glsl */ `
attribute vec3 from;
attribute vec3 to;
attribute vec2 along;
uniform vec2 resolution;
uniform float pixelRatio;
uniform float mmPerPixel;
uniform float width;
uniform float lift;
varying vec2 vPixel;
varying float vLength;
varying float vAlong;
varying vec3 vBody;

vec4 lifted(vec3 point) {
  vec4 view = modelViewMatrix * vec4(point, 1.0);
  view.xyz *= 1.0 - lift * mmPerPixel / max(length(view.xyz), 1e-6);
  return projectionMatrix * view;
}

void main() {
  vec4 a = lifted(from);
  vec4 b = lifted(to);
  vec2 aPx = a.xy / a.w * 0.5 * resolution;
  vec2 bPx = b.xy / b.w * 0.5 * resolution;
  vec2 run = bPx - aPx;
  vLength = length(run);
  vec2 direction = vLength > 1e-4 ? run / vLength : vec2(1.0, 0.0);
  vec2 side = vec2(-direction.y, direction.x);
  // Half the width and one pixel more for the soft edge.
  float reach = 0.5 * width * pixelRatio + 1.0;
  bool atEnd = position.y > 0.5;
  vec2 offset = direction * (atEnd ? reach : -reach) + side * position.x * reach;
  vec4 clip = atEnd ? b : a;
  clip.xy += offset / (0.5 * resolution) * clip.w;
  gl_Position = clip;
  vPixel = vec2(atEnd ? vLength + reach : -reach, position.x * reach);
  vAlong = (atEnd ? along.y : along.x) / mmPerPixel;
  vBody = atEnd ? to : from;
}
`;

const FRAGMENT = /* glsl */ `
uniform vec3 tint;
uniform float opacity;
uniform float width;
uniform float pixelRatio;
uniform vec2 dash;
uniform vec4 cutPlane;
varying vec2 vPixel;
varying float vLength;
varying float vAlong;
varying vec3 vBody;

void main() {
  if (dot(cutPlane.xyz, vBody) > cutPlane.w) discard;
  if (dash.y > 0.0 && mod(vAlong, dash.x + dash.y) > dash.x) discard;
  float past = max(max(-vPixel.x, vPixel.x - vLength), 0.0);
  float away = length(vec2(past, vPixel.y));
  float cover = clamp(0.5 * width * pixelRatio + 0.5 - away, 0.0, 1.0);
  if (cover <= 0.0) discard;
  gl_FragColor = vec4(tint, cover * opacity);
  #include <colorspace_fragment>
}
`;
