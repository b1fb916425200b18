import { Color, DoubleSide, ShaderMaterial, Vector3, Vector4 } from 'three';

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
 * Unglazed clay: no highlight at all; a wide soft key light that the body's own hollows keep out, light from the sky
 * and from the paper below weighed by how open the spot is, and a weak light from the other side.
 * Needs attributes position, normal, and `aperture` (mean open direction and openness, see DepthMaps.sample).
 */
export function makeClayMaterial(light: SharedLight): ShaderMaterial {
  return new ShaderMaterial({
    side: DoubleSide,
    uniforms: {
      tint: { value: new Color() },
      keyDirection: light.key,
      fillDirection: light.fill,
      cutPlane: light.cut,
    },
    vertexShader: VERTEX,
    fragmentShader: FRAGMENT,
    // The bodies step back a hair, so that lines, cut faces and the rubber under a shell do not fight with them.
    polygonOffset: true,
    polygonOffsetFactor: 1,
    polygonOffsetUnits: 1,
  });
}

const VERTEX = /* glsl */ `
attribute vec4 aperture;
varying vec3 vNormal;
varying vec3 vEye;
varying vec4 vAperture;
varying vec3 vBody;

void main() {
  vEye = cameraPosition - (modelMatrix * vec4(position, 1.0)).xyz;
  vNormal = mat3(modelMatrix) * normal;
  vAperture = aperture;
  vBody = position;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}
`;

const FRAGMENT = /* glsl */ `
uniform vec3 tint;
uniform vec3 keyDirection;
uniform vec3 fillDirection;
uniform vec4 cutPlane;
varying vec3 vNormal;
varying vec3 vEye;
varying vec4 vAperture;
varying vec3 vBody;

void main() {
  if (dot(cutPlane.xyz, vBody) > cutPlane.w) discard;
  vec3 normal = normalize(vNormal);
  // The inside, seen through a cut or from under the board, is flat shade: it is not the subject.
  if (!gl_FrontFacing) {
    float inside = 0.20 + 0.10 * max(0.0, dot(-normal, keyDirection));
    gl_FragColor = vec4(tint * inside, 1.0);
    #include <colorspace_fragment>
    return;
  }
  vec3 open = normalize(vAperture.xyz + normal * 0.02);
  float openness = clamp(vAperture.w, 0.0, 1.0);

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
  gl_FragColor = vec4(lit, 1.0);
  #include <colorspace_fragment>
}
`;
