import { describe, expect, test } from 'vitest';
import { newOverlayFrame } from '../../../src/view/overlay/fatLineMaterial.ts';
import { Body, type BodyMap } from '../../../src/view/surface/Body.ts';
import { newBodyInk } from '../../../src/view/surface/BodyInk.ts';
import { newSharedLight } from '../../../src/view/surface/clayMaterial.ts';

// What says that nothing changed is not drawn anew: the picture is offered with every step of the progress.
describe('a map laid over a body', () => {
  const map: BodyMap = { corners: new Float32Array(3), least: 0, most: 1 };

  test('is another one only where its values or its limits are', () => {
    const body = new Body(newSharedLight(), newBodyInk(newOverlayFrame()), 'locks');
    expect(body.setMap(null)).toBe(false);
    expect(body.setMap(map)).toBe(true);
    expect(body.setMap({ ...map })).toBe(false);
    expect(body.setMap({ ...map, most: 2 })).toBe(true);
    expect(body.setMap({ ...map, corners: new Float32Array(3) })).toBe(true);
    expect(body.setMap(null)).toBe(true);
  });
});
