import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

/** Builds the desk's screens into `dist/web`, where the desk's server finds them. */
export default defineConfig({
  root: 'src/web',
  plugins: [react()],
  build: {
    outDir: '../../dist/web',
    emptyOutDir: true,
    assetsInlineLimit: 0,
    target: 'es2022',
    // Read from this machine's own disk, once.
    chunkSizeWarningLimit: 1000,
  },
});
