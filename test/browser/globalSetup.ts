import type { TestProject } from 'vitest/node';
import { servePage } from './servePage.ts';

declare module 'vitest' {
  export interface ProvidedContext {
    pageUrl: string;
  }
}

/** Builds and serves the page once for all browser tests of a run; they read the address with `inject('pageUrl')`. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const served = await servePage();
  project.provide('pageUrl', served.url);
  return served.close;
}
