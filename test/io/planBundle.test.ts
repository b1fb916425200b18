import { deflateSync, strToU8, unzipSync, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { MeshError, type MeshErrorCode } from '../../src/core/errors.ts';
import { safeFileName } from '../../src/io/bundleNames.ts';
import { readPlanBundle } from '../../src/io/readPlanBundle.ts';
import { type PlanBundle, writePlanBundle } from '../../src/io/writePlanBundle.ts';

const scanBytes = Uint8Array.from({ length: 100_000 }, (_, i) => (i * 7919) % 251).buffer;
const whole: PlanBundle = {
  planText: '{"schema":"scute-plan/5","job":{"name":"Büste"}}\n',
  scanName: 'bust.stl',
  scanBytes,
  picture: Uint8Array.of(137, 80, 78, 71).buffer,
};

async function codeOf(work: Promise<unknown>): Promise<MeshErrorCode | 'no error'> {
  try {
    await work;
    return 'no error';
  } catch (error) {
    if (error instanceof MeshError) return error.code;
    throw error;
  }
}

describe('one file of plan and scan', () => {
  it('gives back every byte, and the same file for the same job', async () => {
    const file = writePlanBundle(whole);
    expect(await readPlanBundle(file, 'b.scute')).toEqual(whole);
    expect(new Uint8Array(writePlanBundle(whole))).toEqual(new Uint8Array(file));
  });

  it('is a plain zip: any unzip gives the scan under its own name', () => {
    const files = unzipSync(new Uint8Array(writePlanBundle(whole)));
    expect(Object.keys(files)).toEqual(['plan.scute.json', 'bust.stl', 'picture.png']);
    expect(files['bust.stl']).toEqual(new Uint8Array(scanBytes));
  });

  it('is read when it was unpacked and packed again: deflated, in a folder, with hidden files beside it', async () => {
    const file = zipSync({
      'Büste/': new Uint8Array(0),
      'Büste/plan.scute.json': strToU8(whole.planText),
      'Büste/bust.stl': new Uint8Array(scanBytes),
      'Büste/.DS_Store': strToU8('x'),
      '__MACOSX/Büste/._bust.stl': strToU8('x'),
    });
    const read = await readPlanBundle(file, 'b.scute');
    expect(read).toEqual({ ...whole, picture: null });
  });

  it('says what is missing, and takes no scan for another', async () => {
    const plan = strToU8(whole.planText);
    const scan = new Uint8Array(scanBytes);
    const read = (files: Record<string, Uint8Array>) => codeOf(readPlanBundle(zipSync(files), 'b.scute'));
    expect(await read({ 'bust.stl': scan })).toBe('unknown-format');
    expect(await read({ 'plan.scute.json': plan })).toBe('unknown-format');
    expect(await read({ 'plan.scute.json': plan, 'a.stl': scan, 'b.stl': scan })).toBe('unknown-format');
    expect(await read({ 'plan.scute.json': plan, 'a.stl': new Uint8Array(0) })).toBe('empty-file');
    expect(await codeOf(readPlanBundle(new ArrayBuffer(0), 'b.scute'))).toBe('empty-file');
    expect(await codeOf(readPlanBundle(scan, 'b.scute'))).toBe('unknown-format');
    await expect(readPlanBundle(zipSync({ 'bust.stl': scan }), 'b.scute')).rejects.toThrow(
      /There is no plan\.scute\.json in "b\.scute"/,
    );
  });

  it('a file cut off anywhere, or with any byte of the scan changed, is refused', async () => {
    const file = new Uint8Array(writePlanBundle(whole));
    for (const share of [0.001, 0.1, 0.5, 0.9, 0.999]) {
      const cut = file.slice(0, Math.max(4, Math.floor(share * file.length)));
      expect(await codeOf(readPlanBundle(cut, 'b.scute')), `cut at ${share}`).toBe('truncated');
    }
    for (const at of [5_000, 50_000, 90_000]) {
      const spoilt = file.slice();
      spoilt[at] ^= 1;
      expect(await codeOf(readPlanBundle(spoilt, 'b.scute')), `byte ${at}`).toBe('truncated');
    }
  });

  it('a bomb is stopped at the limit, whatever size it claims', async () => {
    const zeros = new Uint8Array(3_000_000);
    const bomb = zipSync({ 'plan.scute.json': strToU8('{}'), 'a.stl': zeros }, { level: 9 });
    expect(bomb.length).toBeLessThan(10_000);
    expect(await codeOf(readPlanBundle(bomb, 'b.scute', undefined, 1_000_000))).toBe('too-large');
    // The size in the list of contents understated: more comes out than it promises.
    const liar = bomb.slice();
    const packed = deflateSync(zeros, { level: 9 }).length;
    expect(packed).toBeLessThan(10_000);
    const view = new DataView(liar.buffer);
    for (let at = 0; at + 28 < liar.length; at++) {
      const isEntry = view.getUint32(at, true) === 0x02014b50;
      if (isEntry && view.getUint32(at + 24, true) === zeros.length) view.setUint32(at + 24, 10, true);
    }
    expect(await codeOf(readPlanBundle(liar, 'b.scute'))).toBe('truncated');
  });

  it('odd names become no paths and no markup, and keep the ending that tells the format', async () => {
    const odd: Record<string, string> = {
      '../../etc/passwd': 'passwd',
      'C:\\scans\\bust.stl': 'bust.stl',
      '<img src=x onerror=alert(1)>.ply': '_img src=x onerror=alert(1)_.ply',
      '.hidden.stl': 'hidden.stl',
      '': 'scan',
      '...': 'scan',
      'a\u0000b\u202egnp.stl': 'a_b_gnp.stl',
      'plan.scute.json': 'scan-plan.scute.json',
      [`${'x'.repeat(300)}.glb`]: `${'x'.repeat(96)}.glb`,
      'büste 3–4.stl': 'büste 3–4.stl',
    };
    for (const [name, safe] of Object.entries(odd)) {
      expect(safeFileName(name), name).toBe(safe);
      const read = await readPlanBundle(writePlanBundle({ ...whole, scanName: name }), 'b.scute');
      expect(read.scanName, name).toBe(safe);
      expect(read.scanBytes.byteLength).toBe(scanBytes.byteLength);
    }
  });
});
