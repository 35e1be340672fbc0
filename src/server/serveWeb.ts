/** The built screens: one page for every address, and its assets under names that hold their hash. */
import { readFile } from 'node:fs/promises';
import { extname, join, resolve, sep } from 'node:path';
import type { Hono } from 'hono';
import { DeskError } from './DeskError.js';
import type { Guard } from './guard.js';

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.woff2': 'font/woff2',
  '.svg': 'image/svg+xml',
  '.json': 'application/json',
  '.wasm': 'application/wasm',
};

/** As it stands in an address; what no address can hold names no file. */
function plain(path: string): string {
  try {
    return decodeURIComponent(path);
  } catch {
    return '';
  }
}

/** A file inside the folder, or null: nothing above it is ever read. */
async function fileIn(folder: string, path: string): Promise<Uint8Array<ArrayBuffer> | null> {
  const root = resolve(folder);
  const full = resolve(join(root, plain(path)));
  if (!full.startsWith(root + sep)) return null;
  return readFile(full).then(
    (bytes) => new Uint8Array(bytes),
    () => null,
  );
}

const NOT_BUILT = 'The screens are not built. Run “npm run build” (or “npx vite build”) and open the desk again.';

/** The page itself holds no data, so it is served before pairing; it then exchanges the token for a cookie. */
export function serveWeb(app: Hono, webFolder: string, guard: Guard): void {
  app.get('/assets/*', async (context) => {
    const bytes = await fileIn(webFolder, context.req.path);
    if (!bytes) throw new DeskError(404, `No file of the desk is called ${context.req.path}. Reload the page.`);
    return context.body(bytes, 200, {
      'Content-Type': TYPES[extname(context.req.path)] ?? 'application/octet-stream',
      'Cache-Control': 'public, max-age=31536000, immutable',
    });
  });
  app.get('*', async (context) => {
    const token = context.req.query('token');
    if (token !== undefined) {
      guard.pair(context, token);
      return context.redirect(context.req.path, 303);
    }
    const page = await fileIn(webFolder, 'index.html');
    if (!page) throw new DeskError(500, NOT_BUILT);
    // The day comes while the script still loads; asked for before pairing it would only be refused.
    if (guard.isPaired(context)) context.header('Link', '</api/day>; rel=preload; as=fetch; crossorigin');
    return context.body(page, 200, { 'Content-Type': TYPES['.html']!, 'Cache-Control': 'no-store' });
  });
}
