import type { TestProject } from 'vitest/node';
import { servePage } from './servePage.ts';

declare module 'vitest' {
  export interface ProvidedContext {
    pageUrl: string;
    pageFolder: string;
  }
}

/** Builds and serves the page once for all browser tests of a run; they read its address and folder with `inject`. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const served = await servePage();
  project.provide('pageUrl', served.url);
  project.provide('pageFolder', served.folder);
  return served.close;
}
