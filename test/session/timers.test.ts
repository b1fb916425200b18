import { describe, expect, it } from 'vitest';
import { readTimers, startTimer, stopTimer } from '../../src/session/timers.ts';
import { readViewPrefs } from '../../src/session/ViewPrefs.ts';

const NOW = Date.UTC(2026, 11, 1, 9);
const MIN = 60_000;

describe('timers', () => {
  it('run to the instant at which they end; the soonest comes first; a second start takes the place of the first', () => {
    const long = startTimer([], { id: 'cure', label: 'Cure', minutes: 60 }, NOW);
    const both = startTimer(long, { id: 'mix', label: 'Mix', minutes: 7 }, NOW);
    expect(both.map((t) => [t.id, t.endMs - NOW])).toEqual([
      ['mix', 7 * MIN],
      ['cure', 60 * MIN],
    ]);
    const again = startTimer(both, { id: 'mix', label: 'Mix', minutes: 7 }, NOW + 2 * MIN);
    expect(again.map((t) => t.endMs - NOW)).toEqual([9 * MIN, 60 * MIN]);
    expect(stopTimer(again, 'mix').map((t) => t.id)).toEqual(['cure']);
    expect(startTimer(both, { id: 'mix', label: 'Mix', minutes: 0 }, NOW).map((t) => t.id)).toEqual(['cure']);
  });

  it('come back after a reload as they were kept, through the preferences', () => {
    const timers = startTimer([], { id: 'cure', label: 'Cure', minutes: 60 }, NOW);
    const kept: unknown = JSON.parse(JSON.stringify({ timers, isAlarmHeard: true }));
    const prefs = readViewPrefs(kept, NOW + 30 * MIN);
    expect(prefs.timers).toEqual(timers);
    expect(prefs.isAlarmHeard).toBe(true);
  });

  it('what is odd or of another day is left out', () => {
    const good = { id: 'a', label: 'A', startMs: NOW, endMs: NOW + MIN };
    const kept = [
      good,
      { ...good, label: 'again' },
      { ...good, id: 'b', endMs: NOW },
      { ...good, id: 'c', endMs: 'soon' },
      { ...good, id: 'd', endMs: NOW + 1e12 },
      { ...good, id: 'e', startMs: NOW - 1e9, endMs: NOW - 9e8 },
      null,
    ];
    expect(readTimers(kept, NOW)).toEqual([good]);
    expect(readTimers('none', NOW)).toEqual([]);
    expect(readTimers([{ ...good, endMs: Number.NaN }], NOW)).toEqual([]);
  });
});
