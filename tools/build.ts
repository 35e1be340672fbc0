/** `npm run build`: JavaScript for the package, the desk's screens, and the files that stand beside the code. */
import { spawnSync } from 'node:child_process';
import { cpSync, rmSync } from 'node:fs';
import { besideTheCode } from './besideTheCode.js';

function run(command: string, ...rest: readonly string[]): void {
  const { status } = spawnSync(process.execPath, [command, ...rest], { stdio: 'inherit' });
  if (status !== 0)
    throw new Error(`Expected ${command} to end well but it ended with ${status ?? 'a signal'}. See above.`);
}

rmSync('dist', { recursive: true, force: true });
run('node_modules/typescript/bin/tsc', '-p', 'tsconfig.build.json');
run('node_modules/vite/bin/vite.js', 'build', '--logLevel', 'warn');
run('node_modules/vite/bin/vite.js', 'build', '-c', 'vite.pocket.config.ts', '--logLevel', 'warn');
for (const path of besideTheCode) cpSync(path, `dist/${path}`, { recursive: true });
