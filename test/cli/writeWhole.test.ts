import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { CallError } from '../../src/cli/CallError.ts';
import { writeWhole } from '../../src/cli/writeWhole.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'scute-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

it('makes the folder, writes every file, leaves nothing beside', async () => {
  const target = join(folder, 'a', 'b');
  await writeWhole(target, { 'result.json': '{}\n', 'report.txt': 'x\n' });
  expect(readdirSync(target).sort()).toEqual(['report.txt', 'result.json']);
  expect(readFileSync(join(target, 'result.json'), 'utf8')).toBe('{}\n');
});

it('writes bytes as they are, text as UTF-8', async () => {
  const bytes = Uint8Array.from([0, 255, 128, 10, 13, 0]);
  await writeWhole(folder, { 'a.stl': bytes, 'b.txt': 'ä' });
  expect(Uint8Array.from(readFileSync(join(folder, 'a.stl')))).toEqual(bytes);
  expect(Uint8Array.from(readFileSync(join(folder, 'b.txt')))).toEqual(Uint8Array.from([0xc3, 0xa4]));
});

it('all or nothing: when one file cannot be written, none is, and what was there stays', async () => {
  writeFileSync(join(folder, 'a.txt'), 'old');
  const files = { 'a.txt': 'new', 'no-such-folder/b.stl': Uint8Array.from([1]) };
  await expect(writeWhole(folder, files)).rejects.toThrow(CallError);
  expect(readdirSync(folder)).toEqual(['a.txt']);
  expect(readFileSync(join(folder, 'a.txt'), 'utf8')).toBe('old');
});

it('all or nothing: a folder in the place of one file stops it before any takes its name', async () => {
  writeFileSync(join(folder, 'a.txt'), 'old');
  mkdirSync(join(folder, 'b.txt'));
  await expect(writeWhole(folder, { 'a.txt': 'new', 'b.txt': 'new' })).rejects.toThrow(/is a folder/);
  expect(readdirSync(folder).sort()).toEqual(['a.txt', 'b.txt']);
  expect(readFileSync(join(folder, 'a.txt'), 'utf8')).toBe('old');
});

it('replaces what was there', async () => {
  writeFileSync(join(folder, 'result.json'), 'old and longer');
  await writeWhole(folder, { 'result.json': 'new' });
  expect(readFileSync(join(folder, 'result.json'), 'utf8')).toBe('new');
});

it('refuses a file where the folder should be, and leaves it alone', async () => {
  const file = join(folder, 'file');
  writeFileSync(file, 'mine');
  await expect(writeWhole(file, { 'result.json': '{}' })).rejects.toThrow(CallError);
  expect(readFileSync(file, 'utf8')).toBe('mine');
});
