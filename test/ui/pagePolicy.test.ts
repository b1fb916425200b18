import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';

it('the page’s policy has no exceptions: everything is the page’s own, nothing inline, nothing evaluated', () => {
  const page = readFileSync(new URL('../../index.html', import.meta.url), 'utf8');
  const content = /http-equiv="Content-Security-Policy"\s+content="([^"]*)"/.exec(page)?.[1] ?? '';
  const policy = Object.fromEntries(
    content.split(';').map((directive) => {
      const [name, ...sources] = directive.trim().split(/\s+/);
      return [name, sources.join(' ')];
    }),
  );
  expect(policy).toEqual({
    'default-src': "'none'",
    'script-src': "'self'",
    'worker-src': "'self'",
    'manifest-src': "'self'",
    'style-src': "'self'",
    'font-src': "'self'",
    // Pictures that the page made itself: small ones of kept plans, the sides on the sheet.
    'img-src': "'self' blob:",
    'connect-src': "'self'",
    'base-uri': "'none'",
    'form-action': "'none'",
  });
  // It counts only for what stands behind it.
  expect(page.indexOf('Content-Security-Policy')).toBeLessThan(page.search(/<(link|script|style)\b/));
  expect(page).not.toMatch(/\son\w+\s*=|<style\b|\sstyle\s*=|<script(?![^>]*\ssrc=)/);
});
