import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

/** The page is served by the service itself; in development the service runs beside Vite. */
const SERVICE_ORIGIN = process.env.TAPTRUE_SERVICE ?? 'http://127.0.0.1:4757';

export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  build: { outDir: 'dist', emptyOutDir: true, target: 'es2022', assetsInlineLimit: 0 },
  server: {
    proxy: {
      '/api': SERVICE_ORIGIN,
      '/stream': { target: SERVICE_ORIGIN, ws: true },
    },
  },
});
