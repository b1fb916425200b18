import { DoubleSide, GreaterDepth, ShaderMaterial } from 'three';
import type { BodyInk } from './BodyInk.ts';
import { type SharedLight, TOUCH_FRAGMENT, TOUCH_VERTEX } from './clayMaterial.ts';
import { HATCH_FRAGMENT, HATCH_VERTEX } from './hatchShader.ts';

/**
 * The part of a shell that is inside the rubber lies hidden in it: its strokes alone are drawn over whatever hides them, as
 * a drawing shows a hidden edge. For the geometry of a body made with `marks: 'touch'`.
 */
export function makeTouchMaterial(light: SharedLight, ink: BodyInk): ShaderMaterial {
  return new ShaderMaterial({
    side: DoubleSide,
    transparent: true,
    depthWrite: false,
    depthFunc: GreaterDepth,
    uniforms: {
      cutPlane: light.cut,
      resolution: ink.frame.resolution,
      pixelRatio: ink.frame.pixelRatio,
      accent: ink.accent,
      slideMm: { value: 0 },
      softMm: { value: 1 },
    },
    vertexShader: /* glsl */ `
      varying vec3 vBody;
      ${HATCH_VERTEX}
      ${TOUCH_VERTEX}
      void main() {
        vBody = position;
        vTouch = touchMm();
        placeAnchor();
        gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
      }
    `,
    fragmentShader: /* glsl */ `
      uniform vec3 accent;
      uniform vec4 cutPlane;
      varying vec3 vBody;
      ${HATCH_FRAGMENT}
      ${TOUCH_FRAGMENT}
      void main() {
        if (vTouch <= 0.0 || dot(cutPlane.xyz, vBody) > cutPlane.w) discard;
        float line = touchStrokes(hatchPx());
        if (line <= 0.0) discard;
        gl_FragColor = vec4(accent, line);
        #include <colorspace_fragment>
      }
    `,
  });
}
