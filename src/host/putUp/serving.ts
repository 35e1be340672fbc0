/** How a web server should hand a file out: its type, and how long it may be kept. */
import type { EditionFile } from '../../core/handover/putUp/index.js';
import type { Serving } from './types.js';

const TYPES: Readonly<Record<string, string>> = {
  html: 'text/html; charset=utf-8',
  css: 'text/css; charset=utf-8',
  js: 'text/javascript; charset=utf-8',
  json: 'application/json',
  txt: 'text/plain; charset=utf-8',
  svg: 'image/svg+xml',
  jpg: 'image/jpeg',
  png: 'image/png',
  webp: 'image/webp',
  avif: 'image/avif',
  woff2: 'font/woff2',
  pdf: 'application/pdf',
};

/** What is named by content never changes under its name (RFC 8246); anything else is asked after each time (RFC 9111). */
export const servingOf = ({ path, role }: Pick<EditionFile, 'path' | 'role'>): Serving => ({
  type: TYPES[path.slice(path.lastIndexOf('.') + 1)] ?? 'application/octet-stream',
  cache: role === 'byContent' ? 'public, max-age=31536000, immutable' : 'no-cache',
});
