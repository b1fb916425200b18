import type { Demo } from './Workshop.ts';

// Found at build time, so that the demo's generator alone decides what it is called.
const scans = import.meta.glob<string>('../../../assets/demo/*.ply', {
  query: '?url',
  import: 'default',
  eager: true,
});
const plans = import.meta.glob<unknown>('../../../assets/demo/*.json', { import: 'default' });

/** The demo that is built into the page, or null when there is none. */
export async function findDemo(): Promise<Demo | null> {
  const [path, url] = Object.entries(scans)[0] ?? [];
  if (path === undefined || url === undefined) return null;
  const readPlan = Object.values(plans)[0];
  return {
    name: path.slice(path.lastIndexOf('/') + 1),
    plan: readPlan ? await readPlan() : null,
    fetchBytes: async () => {
      const response = await fetch(url);
      if (!response.ok) throw new Error(`The page's own file answered ${response.status}.`);
      return response.arrayBuffer();
    },
  };
}
