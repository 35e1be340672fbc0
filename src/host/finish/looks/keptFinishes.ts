/** Finishes kept for other meetings: one rewritable file of this machine, by name. A meeting's own finish is said in its log. */
import { mkdir, readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { z } from 'zod';
import type { Finish } from '../../../core/log/finishSaid.js';
import { finishMembers } from '../../../core/log/finishSchemas.js';
import { writeWhole } from '../../meeting/writeWhole.js';
import { FinishError } from '../finishError.js';

export interface KeptFinishes {
  readonly path: string;
  /** By name. None where there is no file yet. Damaged, it is refused and left as it is. */
  read(): Promise<readonly Finish[]>;
  /** Stands in for one of the same name. */
  keep(finish: Finish): Promise<readonly Finish[]>;
  letGo(name: string): Promise<readonly Finish[]>;
}

const VERSION = 1;

export const finishesPathOf = (stateRoot: string): string => join(stateRoot, 'finishes.json');

/** Capitals and spaces at the ends tell no two finishes apart. */
export const isNamed = (finish: Finish, name: string): boolean => plain(finish.name) === plain(name);
const plain = (name: string): string => name.trim().toLocaleLowerCase('en');

export function openKeptFinishes(path: string): KeptFinishes {
  let last: Promise<unknown> = Promise.resolve();
  const read = () => readFinishes(path);
  const change = (how: (before: readonly Finish[]) => readonly Finish[]): Promise<readonly Finish[]> => {
    const mine = last.then(async () => {
      const after = how(await read()).toSorted((one, other) => one.name.localeCompare(other.name, 'en'));
      await write(path, after);
      return after;
    });
    last = mine.catch(() => undefined);
    return mine;
  };
  return {
    path,
    read,
    keep: (finish) => change((before) => [...before.filter(({ name }) => !isNamed(finish, name)), finish]),
    letGo: (name) => change((before) => before.filter((finish) => !isNamed(finish, name))),
  };
}

async function write(path: string, finishes: readonly Finish[]): Promise<void> {
  try {
    await mkdir(dirname(path), { recursive: true });
    await writeWhole(path, `${JSON.stringify({ v: VERSION, finishes }, null, 2)}\n`);
  } catch (cause) {
    throw new FinishError(
      `Expected to write your finishes to ${path} but ${(cause as Error).message}. What was there before still is. Make room, or make the folder writable, and keep it again.`,
      path,
      cause,
    );
  }
}

const fileSchema = z.looseObject({ v: z.number(), finishes: z.array(finishMembers.finish) });
const versionSchema = z.looseObject({ v: z.number() });

async function readFinishes(path: string): Promise<readonly Finish[]> {
  const text = await readFile(path, 'utf8').catch((cause: NodeJS.ErrnoException) => {
    if (cause.code === 'ENOENT') return null;
    throw new FinishError(`Expected to read your finishes in ${path} but ${cause.message}.`, path, cause);
  });
  return text === null ? [] : parse(text, path);
}

function parse(text: string, path: string): readonly Finish[] {
  const refuse = (what: string, cause: unknown): FinishError =>
    new FinishError(
      `Expected your finishes in ${path} but ${what}. It was left as it is: mend it, or move it away and keep them anew.`,
      path,
      cause,
    );
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (cause) {
    throw refuse(`it is not JSON (${(cause as Error).message})`, cause);
  }
  const version = versionSchema.safeParse(value);
  if (version.success && version.data.v > VERSION)
    throw new FinishError(
      `Your finishes in ${path} were written by a newer Tyrewall (format ${version.data.v}, this one knows ${VERSION}). Use that one; nothing was changed.`,
      path,
    );
  const answer = fileSchema.safeParse(value);
  if (answer.success) return answer.data.finishes;
  const [issue] = answer.error.issues;
  throw refuse(`at ${issue?.path.join('.') || 'its top'}: ${issue?.message}`, answer.error);
}
