/** The few files of the pages' look, read once. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Hono } from 'hono';

const require = createRequire(import.meta.url);
const FILES = {
  'orders.css': { type: 'text/css; charset=utf-8', path: () => new URL('../pages/orders.css', import.meta.url) },
  'archivo-latin.woff2': {
    type: 'font/woff2',
    path: () => require.resolve('@fontsource-variable/archivo/files/archivo-latin-standard-normal.woff2'),
  },
} as const;

export function addLook(app: Hono): void {
  for (const [name, { type, path }] of Object.entries(FILES)) {
    const bytes = new Uint8Array(readFileSync(path()));
    app.get(`/look/${name}`, (context) =>
      context.body(bytes, 200, { 'content-type': type, 'cache-control': 'public, max-age=86400' }),
    );
  }
}
