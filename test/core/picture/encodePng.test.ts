import { decode } from 'fast-png';
import { describe, expect, it } from 'vitest';
import { encodePng } from '../../../src/core/picture/encodePng.ts';
import { dataUri } from '../../../src/report/dataUri.ts';
import { seededRandom } from '../../fixtures/seededRandom.ts';

describe('encodePng', () => {
  it('comes back pixel by pixel (random picture, seed 7)', () => {
    const random = seededRandom(7);
    const rgb = Uint8Array.from({ length: 3 * 37 * 11 }, () => Math.floor(256 * random()));
    const back = decode(encodePng({ widthPx: 37, heightPx: 11, rgb }));
    expect([back.width, back.height, back.channels, back.depth]).toEqual([37, 11, 3, 8]);
    expect(Uint8Array.from(back.data)).toEqual(rgb);
  });

  it('begins as ISO/IEC 15948 (PNG), section 5.2, has it', () => {
    const png = encodePng({ widthPx: 1, heightPx: 1, rgb: Uint8Array.of(1, 2, 3) });
    expect([...png.subarray(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10]);
  });

  it('refuses a buffer that does not fit', () => {
    expect(() => encodePng({ widthPx: 2, heightPx: 2, rgb: new Uint8Array(11) })).toThrow(RangeError);
  });
});

describe('dataUri', () => {
  it('holds the bytes, also more than one chunk of them', () => {
    const bytes = Uint8Array.from({ length: 20_001 }, (_, i) => i % 251);
    const [head, body] = dataUri(bytes, 'image/png').split(',');
    expect(head).toBe('data:image/png;base64');
    expect(Uint8Array.from(Buffer.from(body, 'base64'))).toEqual(bytes);
  });
});
