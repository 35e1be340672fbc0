import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { Worker } from 'node:worker_threads';
import ts from 'typescript';
import { afterAll, expect, it } from 'vitest';
import { moduleWorker } from './moduleWorker.js';

const folder = mkdtempSync(join(tmpdir(), 'tyrewall-worker-'));
afterAll(() => rmSync(folder, { recursive: true }));

const here = (name: string): string => fileURLToPath(new URL(name, import.meta.url));
const answerOf = (worker: Worker): Promise<unknown> =>
  new Promise((resolve, reject) => worker.once('message', resolve).once('error', reject));

writeFileSync(join(folder, 'package.json'), '{ "type": "module" }');
writeFileSync(
  join(folder, 'echo.ts'),
  `import { parentPort, workerData } from 'node:worker_threads';
   import { twice } from './twice.js';
   parentPort!.postMessage(twice(workerData as number));`,
);
writeFileSync(join(folder, 'twice.ts'), 'export const twice = (value: number): number => 2 * value;');

it('LB40: starts a TypeScript module, with its imports, under a test runner', async () => {
  const worker = moduleWorker('echo', pathToFileURL(join(folder, 'beside.ts')).href, { workerData: 21 });
  expect(await answerOf(worker)).toBe(42);
  await worker.terminate();
});

const program = (besideUrl: string): string => `
  const worker = moduleWorker('echo', ${JSON.stringify(besideUrl)}, { workerData: 21 });
  worker.once('message', (answer) => { console.log(answer); void worker.terminate(); });`;

it('LB40: starts the same module under the development loader', () => {
  const beside = pathToFileURL(join(folder, 'beside.ts')).href;
  const main = join(folder, 'main.mts');
  writeFileSync(main, `import { moduleWorker } from ${JSON.stringify(here('./moduleWorker.ts'))};${program(beside)}`);
  const loader = pathToFileURL(createRequire(import.meta.url).resolve('tsx')).href;
  expect(execFileSync(process.execPath, ['--import', loader, main], { encoding: 'utf8' }).trim()).toBe('42');
});

it('LB40: starts the built module where everything is JavaScript, without any loader', () => {
  const built = mkdtempSync(join(folder, 'built-'));
  for (const source of [join(folder, 'echo.ts'), join(folder, 'twice.ts'), here('./moduleWorker.ts')]) {
    const code = ts.transpile(readFileSync(source, 'utf8'), {
      module: ts.ModuleKind.ESNext,
      target: ts.ScriptTarget.ES2023,
    });
    writeFileSync(join(built, source.replace(/^.*\//, '').replace('.ts', '.js')), code);
  }
  const beside = pathToFileURL(join(built, 'main.js')).href;
  writeFileSync(join(built, 'main.js'), `import { moduleWorker } from './moduleWorker.js';${program(beside)}`);
  expect(execFileSync(process.execPath, [join(built, 'main.js')], { encoding: 'utf8' }).trim()).toBe('42');
});
