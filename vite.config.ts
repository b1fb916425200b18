import { VitePWA } from 'vite-plugin-pwa';
import { defineConfig } from 'vitest/config';

/** A lane in a real browser, one file after another and after the unit tests, so that the browser has both cores. */
function browserLane(name: string, include: string) {
  return {
    extends: true as const,
    test: {
      name,
      include: [include],
      environment: 'node' as const,
      globalSetup: ['test/browser/globalSetup.ts'],
      testTimeout: 120_000,
      hookTimeout: 180_000,
      fileParallelism: false,
      sequence: { groupOrder: 1 },
    },
  };
}

/** One file configures the page's build and the test lanes. */
export default defineConfig({
  build: { target: 'es2022', sourcemap: false },
  // Copied as they are: the manifest names them.
  publicDir: 'assets/icons',
  plugins: [
    VitePWA({
      strategies: 'generateSW',
      // The page registers it itself, so that nothing inline stands in its way, and takes a new version at the next start only.
      injectRegister: null,
      registerType: 'prompt',
      manifest: {
        name: 'Scute',
        short_name: 'Scute',
        description: 'Plans the rigid support shell over a brush-on rubber mould, from one scan.',
        id: './',
        start_url: './',
        scope: './',
        display: 'standalone',
        lang: 'en',
        background_color: '#f6f3eb',
        theme_color: '#f6f3eb',
        icons: [
          { src: 'icon.svg', sizes: 'any', type: 'image/svg+xml' },
          { src: 'icon-192.png', sizes: '192x192', type: 'image/png' },
          { src: 'icon-512.png', sizes: '512x512', type: 'image/png' },
          { src: 'icon-maskable-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
        ],
      },
      workbox: {
        // Everything that any stage may ask for: the worker and its parts, the union of solids, both weights, the demo's scan.
        globPatterns: ['**/*.{html,js,css,wasm,woff2,ply,svg,png}'],
        maximumFileSizeToCacheInBytes: 8_000_000,
        inlineWorkboxRuntime: true,
        cleanupOutdatedCaches: true,
        sourcemap: false,
      },
    }),
  ],
  worker: { format: 'es' },
  test: {
    projects: [
      {
        extends: true,
        test: {
          name: 'unit',
          include: ['test/**/*.test.ts'],
          exclude: ['test/browser/**'],
          environment: 'node',
          testTimeout: 60_000,
          // By default one core of two would lie idle.
          maxWorkers: 2,
          // Files share what they load: a third of the lane's time. What they change in common they put back.
          isolate: false,
          restoreMocks: true,
          unstubGlobals: true,
          sequence: { groupOrder: 0 },
        },
      },
      browserLane('browser', 'test/browser/**/*.test.ts'),
      // Minutes each, so not in `npm test`.
      browserLane('walk', 'test/browser/**/*.walk.ts'),
    ],
  },
});
