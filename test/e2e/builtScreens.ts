/** The desk's screens for a browser: built anew where what they are made of has changed since. */
import { execFile } from 'node:child_process';
import { readdir, rename, rm, stat, utimes } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';

const ROOT = resolve(dirname(fileURLToPath(import.meta.url)), '../..');
export const WEB_FOLDER = resolve(ROOT, 'dist/web');
/** The server's part is its types. */
const SOURCES = ['src/web', 'src/core', 'src/server', 'vite.config.ts', 'package-lock.json'];

/** When the newest file was changed, in milliseconds since 1970; tests are in no build. */
export async function newestOf(path: string): Promise<number> {
  const known = await stat(path);
  if (!known.isDirectory()) return known.mtimeMs;
  const inside = (await readdir(path)).filter((name) => !/\.test\.tsx?$/.test(name));
  return Math.max(0, ...(await Promise.all(inside.map((name) => newestOf(resolve(path, name))))));
}

/** `page` absent: nothing was built yet. */
export async function isBuilt(page: string, sources: readonly string[]): Promise<boolean> {
  const built = await stat(page).catch(() => null);
  if (built === null) return false;
  const newest = await Promise.all(sources.map(newestOf));
  return newest.every((changed) => changed <= built.mtimeMs);
}

/** Beside the old ones and then in their place, for another test may be showing those. */
async function build(): Promise<void> {
  const page = (folder: string) => resolve(folder, 'index.html');
  const sources = SOURCES.map((path) => resolve(ROOT, path));
  if (await isBuilt(page(WEB_FOLDER), sources)) return;
  const begun = new Date();
  const beside = `${WEB_FOLDER}-${process.pid}`;
  const vite = resolve(ROOT, 'node_modules/vite/bin/vite.js');
  await promisify(execFile)(process.execPath, [vite, 'build', '--logLevel', 'warn', '--outDir', beside], { cwd: ROOT });
  // What is changed while it builds is newer than the build.
  await utimes(page(beside), begun, begun);
  await rm(WEB_FOLDER, { recursive: true, force: true });
  await rename(beside, WEB_FOLDER).catch(() => rm(beside, { recursive: true }));
}

let built: Promise<void> | null = null;

export const buildWeb = (): Promise<void> => {
  built ??= build();
  return built;
};
