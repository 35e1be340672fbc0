/**
 * Brings a card in, in a process of its own, and kills itself at one step: `<index of killSteps> <card> <destination…>`.
 * The system's own calls are watched, so that the code under test is the one that runs everywhere else.
 */
import fs from 'node:fs/promises';
import { syncBuiltinESMExports } from 'node:module';
import { type Call, killSteps } from './killSteps.js';

const [index, card, ...destinations] = process.argv.slice(2);
const step = killSteps[Number(index)]!;
let seen = 0;

const die = (): Promise<never> => {
  process.kill(process.pid, 'SIGKILL');
  return new Promise(() => undefined);
};

interface Watched {
  readonly call: Call;
  readonly path: string;
  readonly text?: string;
  readonly position?: number;
  /** Writes the first half only. */
  readonly half?: () => Promise<unknown>;
}

const isMeant = ({ call, path, text, position }: Watched): boolean =>
  call === step.call &&
  new RegExp(step.path).test(path) &&
  (step.text === undefined || (text ?? '').includes(step.text)) &&
  (position ?? 0) >= (step.from ?? 0) &&
  ++seen === step.nth;

async function watch<Result>(watched: Watched, go: () => Promise<Result>): Promise<Result> {
  if (!isMeant(watched)) return go();
  if (step.when === 'torn') await watched.half?.();
  if (step.when === 'after') await go();
  return die();
}

const textOf = (data: unknown): string =>
  typeof data === 'string' ? data : Buffer.from(data as Uint8Array).toString('latin1');
const real = { ...fs };

function watchFile(file: fs.FileHandle, path: string): fs.FileHandle {
  const { read, write, writeFile, utimes, sync } = file;
  const bound = (method: unknown, values: readonly unknown[]): Promise<unknown> =>
    (method as (...all: unknown[]) => Promise<unknown>).apply(file, [...values]);
  const ways: Readonly<Record<string, (...values: unknown[]) => Promise<unknown>>> = {
    read: (...values) => watch({ call: 'read', path }, () => bound(read, values)),
    utimes: (...values) => watch({ call: 'utimes', path }, () => bound(utimes, values)),
    sync: () => watch({ call: 'sync', path }, () => bound(sync, [])),
    write: (...values) => {
      const [bytes, offset, length, position] = values as [Uint8Array, number, number, number];
      const half = (): Promise<unknown> => bound(write, [bytes, offset, Math.floor(length / 8192) * 4096, position]);
      return watch({ call: 'write', path, position, half }, () => bound(write, values));
    },
    writeFile: (...values) => {
      const half = (): Promise<unknown> => bound(writeFile, [textOf(values[0]).slice(0, textOf(values[0]).length / 2)]);
      return watch({ call: 'writeFile', path, text: textOf(values[0]), half }, () => bound(writeFile, values));
    },
  };
  return Object.assign(file, ways);
}

Object.assign(fs, {
  open: async (path: string, ...more: []) =>
    watch({ call: 'open', path }, async () => watchFile(await real.open(path, ...more), path)),
  rename: (from: string, to: string) => watch({ call: 'rename', path: to }, () => real.rename(from, to)),
  rm: (path: string, ...more: []) => watch({ call: 'rm', path }, () => real.rm(path, ...more)),
  appendFile: (path: string, data: string) => {
    const half = (): Promise<void> => real.appendFile(path, data.slice(0, data.length / 2));
    return watch({ call: 'appendFile', path, text: data, half }, () => real.appendFile(path, data));
  },
} as object);
syncBuiltinESMExports();

const { bringIn } = await import('../index.js');
await bringIn({ cards: [card!], destinations });
process.exit(0);
