import {
  Color,
  DataTexture,
  Group,
  LinearFilter,
  Mesh,
  type Object3D,
  PlaneGeometry,
  RedFormat,
  ShaderMaterial,
} from 'three';
import type { SurfacePicture } from '../../jobs/protocol.ts';
import { darkerOf } from '../darkerOf.ts';
import { FatLine } from '../overlay/FatLine.ts';
import { makeFatLineMaterial, type OverlayFrame, UNCUT } from '../overlay/fatLineMaterial.ts';
import type { ViewBox, ViewTheme } from '../viewTypes.ts';
import { type BoardRectangle, computeBoardShadow } from './computeBoardShadow.ts';
import { workInSlices } from './workInSlices.ts';

/** The board reaches beyond the mould by this share of the mould's larger side, as room for flanges. */
const MARGIN_SHARE = 0.09;
const SHADOW_CELLS = 160;
/** The board lies this share of the mould's height below z = 0, so that the mould's base does not fight with it. */
const SINK_SHARE = 0.0008;
const EDGE_PX = 1.4;
/** Shade is darker still than the sheet's darkest tone, or it would not be seen on slate. */
const SHADE_SHARE = 0.35;

/** The board the mould stands on: its edge as one line, which from the side becomes the ground line, and a soft shade. */
export class Board {
  private readonly root = new Group();
  private readonly plate: Mesh<PlaneGeometry, ShaderMaterial>;
  private readonly edge: FatLine;
  private stopShading = (): void => {};

  /** @param onChange when there is something new to draw that was not asked for just now */
  constructor(
    parent: Object3D,
    frame: OverlayFrame,
    private readonly onChange: () => void,
  ) {
    this.plate = new Mesh(
      new PlaneGeometry(1, 1),
      new ShaderMaterial({
        depthWrite: false,
        uniforms: {
          paper: { value: new Color() },
          ink: { value: new Color() },
          dark: { value: new Color() },
          shadeShare: { value: 1 },
          shade: { value: new DataTexture(new Uint8Array(1), 1, 1, RedFormat) },
        },
        vertexShader: /* glsl */ `
          varying vec2 vUv;
          void main() {
            vUv = uv;
            gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
          }
        `,
        fragmentShader: /* glsl */ `
          uniform vec3 paper;
          uniform vec3 ink;
          uniform vec3 dark;
          uniform float shadeShare;
          uniform sampler2D shade;
          varying vec2 vUv;
          void main() {
            vec3 plate = mix(paper, ink, 0.03);
            gl_FragColor = vec4(mix(plate, dark, 0.62 * shadeShare * texture2D(shade, vUv).r), 1.0);
            #include <colorspace_fragment>
          }
        `,
      }),
    );
    this.plate.renderOrder = -2;
    this.plate.frustumCulled = false;
    parent.add(this.root);
    this.root.add(this.plate);
    const look = { widthPx: EDGE_PX, dashPx: null, opacity: 1, part: 'front', liftPx: 0 } as const;
    this.edge = new FatLine(this.root, [makeFatLineMaterial(frame, UNCUT, look)], -1);
    this.setVisible(false);
  }

  setVisible(isVisible: boolean): void {
    this.plate.visible = isVisible;
    if (!isVisible) this.edge.setPaths([]);
  }

  /** Draws the board so far above where it lies; without the mould's shade, when the mould is not where that was taken. */
  lift(mm: number, isShaded: boolean): void {
    this.root.position.z = mm;
    this.plate.material.uniforms['shadeShare'].value = isShaded ? 1 : 0;
  }

  /** Lays the board under a mould, whose shade comes a little later; returns its four corners, 4 x 3, mm. */
  layUnder(rubber: SurfacePicture, box: ViewBox): number[] {
    const [x0, y0] = box.min;
    const [x1, y1, z1] = box.max;
    const margin = MARGIN_SHARE * Math.max(x1 - x0, y1 - y0);
    const rectangle = { minX: x0 - margin, minY: y0 - margin, maxX: x1 + margin, maxY: y1 + margin };
    const { minX, minY, maxX, maxY } = rectangle;
    const z = -SINK_SHARE * z1;
    this.plate.scale.set(maxX - minX, maxY - minY, 1);
    this.plate.position.set((minX + maxX) / 2, (minY + maxY) / 2, z);
    this.stopShading();
    this.stopShading = workInSlices(this.shadeBy(rubber, rectangle));
    const corners = [minX, minY, z, maxX, minY, z, maxX, maxY, z, minX, maxY, z];
    this.edge.setPaths([[...corners, minX, minY, z]]);
    this.plate.visible = true;
    return corners;
  }

  setTheme(theme: ViewTheme): void {
    this.plate.material.uniforms['paper'].value.set(theme.paper);
    this.plate.material.uniforms['ink'].value.set(theme.ink);
    const dark = this.plate.material.uniforms['dark'].value as Color;
    dark.set(darkerOf(theme.ink, theme.paper)).multiplyScalar(SHADE_SHARE);
    this.edge.setTint(theme.ink);
  }

  private *shadeBy(rubber: SurfacePicture, rectangle: BoardRectangle): Generator<void> {
    const cells = yield* computeBoardShadow(rubber.positions, rubber.indices, rectangle, SHADOW_CELLS);
    const shade = this.plate.material.uniforms['shade'];
    (shade.value as DataTexture).dispose();
    const texture = new DataTexture(cells, SHADOW_CELLS, SHADOW_CELLS, RedFormat);
    texture.magFilter = LinearFilter;
    texture.minFilter = LinearFilter;
    texture.needsUpdate = true;
    shade.value = texture;
    this.onChange();
  }

  dispose(): void {
    this.stopShading();
    this.plate.removeFromParent();
    this.plate.geometry.dispose();
    (this.plate.material.uniforms['shade'].value as DataTexture).dispose();
    this.plate.material.dispose();
    this.edge.dispose();
    this.root.removeFromParent();
  }
}
