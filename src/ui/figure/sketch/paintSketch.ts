import type { SketchInk, SketchShape } from './Sketch.ts';

/** What a canvas needs to draw as the page does. */
export interface PaintInks {
  /** #rrggbb or another colour that a canvas knows. */
  colour(ink: SketchInk): string;
  /** Family of the type, as in a CSS font. */
  readonly face: string;
}

/** Draws shapes where the canvas's present origin lies, as `renderShapes` does in the page. */
export function paintShapes(
  canvas: CanvasRenderingContext2D,
  shapes: readonly SketchShape[],
  inks: PaintInks,
): void {
  for (const shape of shapes) {
    canvas.save();
    if (shape.kind === 'path') {
      const path = new Path2D(shape.d);
      if (shape.fill) {
        canvas.fillStyle = inks.colour(shape.fill);
        canvas.fill(path);
      }
      if (shape.stroke) {
        canvas.strokeStyle = inks.colour(shape.stroke);
        canvas.lineWidth = shape.widthPx ?? 1;
        canvas.setLineDash([...(shape.dashPx ?? [])]);
        canvas.stroke(path);
      }
    } else {
      canvas.translate(shape.x, shape.y);
      canvas.rotate(((shape.turnDeg ?? 0) * Math.PI) / 180);
      canvas.font = `${shape.sizePx}px ${inks.face}`;
      canvas.textAlign = shape.anchor === 'middle' ? 'center' : shape.anchor;
      if (shape.haloPx > 0) {
        canvas.strokeStyle = inks.colour('--paper');
        canvas.lineWidth = shape.haloPx;
        canvas.lineJoin = 'round';
        canvas.strokeText(shape.text, 0, 0);
      }
      canvas.fillStyle = inks.colour(shape.ink);
      canvas.fillText(shape.text, 0, 0);
    }
    canvas.restore();
  }
}
