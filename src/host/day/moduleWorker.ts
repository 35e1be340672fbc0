/**
 * A worker thread from a module of this project, in development and when built. Beside a built `.js` the worker is
 * that file. Beside a `.ts` a plain worker knows no TypeScript (Node 20 strips none, and a test runner's own
 * transformation does not reach into threads), so the thread's first line takes the loader in, then the module.
 * Tried and left: `--import` among the thread's arguments; its entry is still refused as an unknown file extension.
 */
import { createRequire } from 'node:module';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { Worker, type WorkerOptions } from 'node:worker_threads';

const isTypeScript = (url: URL): boolean => fileURLToPath(url).endsWith('.ts');

/** `name` is the module's file without its ending, beside the module whose `import.meta.url` is given. */
export function moduleWorker(name: string, besideUrl: string, options: WorkerOptions = {}): Worker {
  const beside = new URL(besideUrl);
  const ending = isTypeScript(beside) ? 'ts' : 'js';
  const module = new URL(`./${name}.${ending}`, beside);
  if (ending === 'js') return new Worker(module, options);
  return new Worker(withLoader(module), { ...options, eval: true, execArgv: [] });
}

/** The loader is looked up only here: a built program does not have it. */
function withLoader(module: URL): string {
  const loader = new URL('./esm/api/index.mjs', pathToFileURL(createRequire(import.meta.url).resolve('tsx'))).href;
  return `import(${JSON.stringify(loader)}).then(({ register }) => { register(); return import(${JSON.stringify(module.href)}); });`;
}
