import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

/** The page is served by the service itself; in development the service runs beside Vite. */
const SERVICE_ORIGIN = process.env.TAPTRUE_SERVICE ?? 'http://127.0.0.1:4757';

export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  build: {
    outDir: 'dist',
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0,
    // One file of 500 kB, 146 kB packed, comes from this computer or its network in well under a second. Vite's
    // advice to split it would be the first thing that whoever starts the bench reads.
    chunkSizeWarningLimit: 1000,
  },
  server: {
    proxy: {
      '/api': SERVICE_ORIGIN,
      '/stream': { target: SERVICE_ORIGIN, ws: true },
    },
  },
});
