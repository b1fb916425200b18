import fc from 'fast-check';
import ICAL from 'ical.js';
import { expect, it } from 'vitest';
import { contentLine, escapeText } from '../../../src/report/calendar/contentLine.ts';

const octets = (text: string): number => new TextEncoder().encode(text).length;

it('folds before the 76th octet and goes on after a space', () => {
  // RFC 5545, section 3.1: at most 75 octets a line, the line break not counted.
  expect(contentLine('SUMMARY', 'x'.repeat(67))).toBe(`SUMMARY:${'x'.repeat(67)}\r\n`);
  expect(contentLine('SUMMARY', 'x'.repeat(68))).toBe(`SUMMARY:${'x'.repeat(67)}\r\n x\r\n`);
  expect(contentLine('SUMMARY', 'x'.repeat(67 + 74 + 1))).toBe(
    `SUMMARY:${'x'.repeat(67)}\r\n ${'x'.repeat(74)}\r\n x\r\n`,
  );
});

it('counts octets and breaks no character', () => {
  // 67 octets are left on the first line: 33 of two, 22 of three, 16 of four octets.
  expect(contentLine('SUMMARY', 'é'.repeat(34)).split('\r\n ')[0]).toBe(`SUMMARY:${'é'.repeat(33)}`);
  expect(contentLine('SUMMARY', '€'.repeat(23)).split('\r\n ')[0]).toBe(`SUMMARY:${'€'.repeat(22)}`);
  expect(contentLine('SUMMARY', '🪣'.repeat(17)).split('\r\n ')[0]).toBe(`SUMMARY:${'🪣'.repeat(16)}`);
});

it('escapes what RFC 5545, section 3.3.11 names, and nothing else', () => {
  // The section's own example.
  expect(escapeText('Project XYZ Final Review\nConference Room - 3B\nCome Prepared.')).toBe(
    'Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared.',
  );
  expect(escapeText('a\\b;c,d:e"f')).toBe('a\\\\b\\;c\\,d:e"f');
  expect(escapeText('one\r\ntwo\rthree')).toBe('one\\ntwo\\nthree');
  expect(escapeText('bell\u0007, half \ud83e')).toBe('bell\ufffd\\, half \ufffd');
});

it('reads back the same by an independent reader, whatever the text (seed 5545)', () => {
  fc.assert(
    fc.property(
      fc.array(fc.constantFrom('\\', ';', ',', '\n', ' ', ':', '"', 'n', 'é', '€', '🪣', '\t', 'word'), {
        maxLength: 120,
      }),
      fc.string({ unit: 'binary', maxLength: 60 }),
      (parts, tail) => {
        const text = parts.join('') + tail.replaceAll(/[^\P{Control}\t\n]/gu, '');
        const line = contentLine('SUMMARY', escapeText(text));
        for (const one of line.slice(0, -2).split('\r\n')) expect(octets(one)).toBeLessThanOrEqual(75);
        const event = new ICAL.Component(ICAL.parse(`BEGIN:VEVENT\r\n${line}END:VEVENT\r\n`));
        expect(event.getFirstPropertyValue('summary')).toBe(text);
      },
    ),
    { seed: 5545, numRuns: 100 },
  );
});
