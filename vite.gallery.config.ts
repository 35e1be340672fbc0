import { defineConfig } from 'vite';

/** Builds the gallery's one script, kept beside its look so that a gallery can be made without building anything. */
export default defineConfig({
  publicDir: false,
  build: {
    lib: { entry: 'src/gallery/finder/main.ts', formats: ['iife'], name: 'gallery', fileName: () => 'find.js' },
    outDir: 'src/gallery/look',
    emptyOutDir: false,
    minify: true,
    target: 'es2022',
    modulePreload: false,
  },
});
