/** The few files of the pages' look, read once. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Hono } from 'hono';

const require = createRequire(import.meta.url);
const letters = (which: string) => ({
  type: 'font/woff2',
  from: [require.resolve(`@fontsource-variable/archivo/files/archivo-${which}-standard-normal.woff2`)],
});
const FILES = {
  'orders.css': {
    type: 'text/css; charset=utf-8',
    from: [new URL('../../gallery/look/base.css', import.meta.url), new URL('../pages/orders.css', import.meta.url)],
  },
  'archivo-latin.woff2': letters('latin'),
  'archivo-latin-ext.woff2': letters('latin-ext'),
} as const;

export function addLook(app: Hono): void {
  for (const [name, { type, from }] of Object.entries(FILES)) {
    const bytes = new Uint8Array(Buffer.concat(from.map((path) => readFileSync(path))));
    app.get(`/look/${name}`, (context) =>
      context.body(bytes, 200, { 'content-type': type, 'cache-control': 'public, max-age=86400' }),
    );
  }
}
