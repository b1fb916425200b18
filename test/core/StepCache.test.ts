import { describe, expect, it } from 'vitest';
import { StepCache } from '../../src/core/StepCache.ts';

describe('StepCache', () => {
  it('makes a value once a key, and keeps the last two of a step', async () => {
    const cache = new StepCache();
    let made = 0;
    const take = (key: string): Promise<string> => cache.remember('step', key, () => `${key}${++made}`);
    expect(await take('a')).toBe('a1');
    expect(await take('b')).toBe('b2');
    expect(await take('a')).toBe('a1');
    expect(await take('c')).toBe('c3');
    // b was the one used longest ago.
    expect(cache.has('step', 'b')).toBe(false);
    expect(await take('a')).toBe('a1');
    expect(await take('b')).toBe('b4');
  });

  it('keeps steps apart', async () => {
    const cache = new StepCache();
    expect(await cache.remember('one', 'k', () => 1)).toBe(1);
    expect(await cache.remember('two', 'k', () => 2)).toBe(2);
    expect(cache.has('three', 'k')).toBe(false);
  });

  it('a failed step leaves nothing behind and disturbs nothing', async () => {
    const cache = new StepCache();
    await cache.remember('step', 'a', () => 1);
    await expect(cache.remember('step', 'b', () => Promise.reject(new Error('no')))).rejects.toThrow('no');
    expect(cache.has('step', 'b')).toBe(false);
    expect(cache.has('step', 'a')).toBe(true);
    expect(await cache.remember('step', 'b', () => 2)).toBe(2);
  });

  it('remembers values that are nothing', async () => {
    const cache = new StepCache();
    let made = 0;
    const make = (): null => {
      made++;
      return null;
    };
    await cache.remember('step', 'k', make);
    expect(await cache.remember('step', 'k', make)).toBeNull();
    expect(made).toBe(1);
    cache.clear();
    await cache.remember('step', 'k', make);
    expect(made).toBe(2);
  });
});
