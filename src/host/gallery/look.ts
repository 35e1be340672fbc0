/** The look of the gallery: its style stands in the pages, script and letters lie beside them. */
import { createHash } from 'node:crypto';
import { copyFile, readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Style } from '../../gallery/index.js';

const require = createRequire(import.meta.url);
const LOOK = fileURLToPath(new URL('../../gallery/look/', import.meta.url));
const ARCHIVO = '@fontsource-variable/archivo';

const LOOK_FILES: readonly (readonly [name: string, from: () => string])[] = [
  ['find.js', () => join(LOOK, 'find.js')],
  ['archivo-latin.woff2', () => require.resolve(`${ARCHIVO}/files/archivo-latin-standard-normal.woff2`)],
  ['archivo-latin-ext.woff2', () => require.resolve(`${ARCHIVO}/files/archivo-latin-ext-standard-normal.woff2`)],
  ['archivo-licence.txt', () => join(dirname(require.resolve(`${ARCHIVO}/package.json`)), 'LICENSE')],
];

/** Into the folder's `look/`, which must be there. */
export async function copyLook(folder: string): Promise<void> {
  for (const [name, from] of LOOK_FILES) await copyFile(from(), join(folder, 'look', name));
}

const PARTS = ['base', 'gallery', 'bikes', 'cards', 'find', 'form', 'day'] as const satisfies (keyof Style['css'])[];
const read = (part: string): Promise<string> => readFile(join(LOOK, `${part}.css`), 'utf8');

export async function readStyle(): Promise<Style> {
  const css = Object.fromEntries(await Promise.all(PARTS.map(async (part) => [part, await read(part)] as const)));
  return {
    css: css as Style['css'],
    hashOf: (text) => createHash('sha256').update(text).digest('base64'),
  };
}
