/** Borders between bands that the shader has room for. */
export const MOST_BORDERS = 7;

/**
 * A map over the clay: flat bands of colour, ruled by lines between them, with the value that is judged in accent and what
 * lies on its wrong side hatched. For the fragment shader, after HATCH_FRAGMENT.
 * `vMap.x` is the value, `vMap.y` how much of it is told (0: bare clay), `vMap.z` the value that lines go by (see quietLines).
 */
export const MAP_VERTEX = /* glsl */ `
attribute vec3 map;
varying vec3 vMap;
`;

export const MAP_FRAGMENT = /* glsl */ `
uniform float isMapShown;
uniform float mapBorders[${MOST_BORDERS}];
uniform int mapBorderCount;
uniform vec3 mapColours[${MOST_BORDERS + 1}];
uniform vec2 mapJudged;
uniform vec2 mapHatch;
varying vec3 vMap;

vec3 drawMap(vec3 lit, vec3 tint, vec3 graphite, vec3 accent) {
  float slope = fwidth(vMap.x);
  float lineSlope = fwidth(vMap.z);
  if (isMapShown < 0.5 || vMap.y < 0.5) return lit;
  vec3 band = mapColours[0];
  for (int i = 0; i < ${MOST_BORDERS}; i++) {
    if (i >= mapBorderCount) break;
    float within = clamp((vMap.x - mapBorders[i]) / max(slope, 1e-7) + 0.5, 0.0, 1.0);
    band = mix(band, mapColours[i + 1], within);
  }
  // The form is left, but gently, so that a band can be known by its swatch in the legend.
  vec3 share = lit / max(tint, vec3(0.02));
  float shade = dot(share, vec3(1.0 / 3.0));
  vec3 drawn = band * mix(1.0, shade, 0.55);
  // Graphite on light bands, chalk on dark ones.
  float lightness = dot(band, vec3(0.2126, 0.7152, 0.0722));
  vec3 ink = lightness < 0.16 ? vec3(0.86) : graphite;
  bool isHatched = mapHatch.y < 0.0 ? vMap.x < mapHatch.x : mapHatch.y > 0.0 && vMap.x > mapHatch.x;
  if (isHatched) drawn = mix(drawn, ink, 0.8 * stroke(hatchPx(), vec2(0.70710678, -0.70710678), 7.0, 1.1));
  float before = -1e9;
  for (int i = 0; i < ${MOST_BORDERS}; i++) {
    if (i >= mapBorderCount) break;
    // Where it rises too steeply the lines would run together.
    float apartPx = (mapBorders[i] - before) / max(lineSlope, 1e-7) / pixelRatio;
    before = mapBorders[i];
    float line = contour(vMap.z, mapBorders[i], lineSlope, 1.2);
    drawn = mix(drawn, ink, 0.9 * line * smoothstep(2.0, 4.0, apartPx));
  }
  if (mapJudged.y > 0.5 && slope > 1e-7) {
    // A pale edge, or accent would drown on a dark band.
    drawn = mix(drawn, vec3(0.86), contour(vMap.x, mapJudged.x, slope, 4.4));
    drawn = mix(drawn, accent, contour(vMap.x, mapJudged.x, slope, 2.6));
  }
  return drawn;
}
`;
