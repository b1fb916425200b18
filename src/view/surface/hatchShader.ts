/**
 * Hatching as on paper: strokes of constant width and distance on the screen, at the slant that the legend shows, whichever
 * way the surface turns. Carried along when the body is panned or slid, because strokes are counted from the place
 * of the body's own origin in the picture. Edges are softened over one device pixel, so nothing shimmers.
 *
 * For the vertex shader: `placeAnchor()`; for the fragment shader: `stroke`, `dots`, `contour`, and `hatchPx()`.
 * Both need the uniforms `resolution` (device pixels) and `pixelRatio`.
 */
export const HATCH_VERTEX = /* glsl */ `
uniform vec2 resolution;
varying vec2 vAnchor;

void placeAnchor() {
  vec4 anchor = projectionMatrix * modelViewMatrix * vec4(0.0, 0.0, 0.0, 1.0);
  vAnchor = (anchor.xy / anchor.w * 0.5 + 0.5) * resolution;
}
`;

export const HATCH_FRAGMENT = /* glsl */ `
uniform float pixelRatio;
varying vec2 vAnchor;

// CSS pixels from the body's origin, y up.
vec2 hatchPx() {
  return (gl_FragCoord.xy - vAnchor) / pixelRatio;
}

float softened(float insidePx) {
  return clamp(insidePx * pixelRatio + 0.5, 0.0, 1.0);
}

// How much of the pixel a stroke covers; strokes run square to the unit vector 'across', 'spacing' apart.
float stroke(vec2 px, vec2 across, float spacing, float width) {
  float away = abs(fract(dot(px, across) / spacing) - 0.5) * spacing;
  return softened(0.5 * width - away);
}

// Dots set like bricks.
float dots(vec2 px, float spacing, float radius) {
  float row = floor(px.y / spacing);
  vec2 cell = vec2(fract(px.x / spacing + 0.5 * mod(row, 2.0)), fract(px.y / spacing)) - 0.5;
  return softened(radius - length(cell) * spacing);
}

// A line where 'value' is 'level', of constant width; 'slope' is the value's change over one device pixel.
float contour(float value, float level, float slope, float width) {
  return softened(0.5 * width - abs(value - level) / max(slope, 1e-7) / pixelRatio);
}
`;
