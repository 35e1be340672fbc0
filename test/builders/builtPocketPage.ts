/** The pocket page as it is built now, for whatever looks at it. */
import { execFile } from 'node:child_process';
import { resolve } from 'node:path';
import { promisify } from 'node:util';

const ROOT = resolve(import.meta.dirname, '../..');

export async function buildPocketPage(): Promise<void> {
  const vite = resolve(ROOT, 'node_modules/vite/bin/vite.js');
  const options = ['build', '-c', 'vite.pocket.config.ts', '--logLevel', 'warn'];
  await promisify(execFile)(process.execPath, [vite, ...options], { cwd: ROOT });
}
