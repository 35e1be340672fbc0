/**
 * What a fill has on one destination before its manifest says so: one line a file, beside the manifests, under a
 * hidden name. It saves reading everything again after a stop; the manifest, once written, takes its place.
 */
import { appendFile, mkdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { manifestFolder } from '../../core/bringin/manifest.js';
import { partPrefix } from '../../core/bringin/names.js';
import type { FillFile } from '../../core/bringin/types.js';
import type { FillId } from '../../core/ids.js';

export const journalName = `${partPrefix}journal.jsonl`;

export type JournalLine =
  | { readonly kind: 'fill'; readonly id: FillId }
  /** Whole and flushed under its hidden name; about to get its own. */
  | { readonly kind: 'written'; readonly file: FillFile }
  /** Read back and equal. */
  | { readonly kind: 'read-back'; readonly file: FillFile };

export interface Journal {
  append(line: JournalLine): Promise<void>;
  /** Resolves when all that was appended is in the file. */
  settled(): Promise<void>;
  remove(): Promise<void>;
}

export async function openJournal(fillFolder: string): Promise<Journal> {
  const path = join(fillFolder, manifestFolder, journalName);
  await mkdir(join(fillFolder, manifestFolder), { recursive: true });
  // A line torn by a stop must not swallow the next one.
  let last: Promise<void> = appendFile(path, '\n');
  return {
    append: (line) => {
      last = last.catch(() => undefined).then(() => appendFile(path, `${JSON.stringify(line)}\n`));
      return last;
    },
    settled: () => last.catch(() => undefined),
    remove: async () => {
      await last.catch(() => undefined);
      await rm(path, { force: true });
    },
  };
}

export interface JournalContents {
  readonly fill: FillId | null;
  readonly written: readonly FillFile[];
  readonly readBack: readonly FillFile[];
}

/** A line torn by a stop is dropped: its file will be looked at again. */
export async function readJournal(fillFolder: string): Promise<JournalContents> {
  const text = await readFile(join(fillFolder, manifestFolder, journalName), 'utf8').catch(() => '');
  const lines = text.split('\n').flatMap(parseLine);
  const readBack = new Map(lines.flatMap((line) => (line.kind === 'read-back' ? [[line.file.path, line.file]] : [])));
  const written = new Map(lines.flatMap((line) => (line.kind === 'written' ? [[line.file.path, line.file]] : [])));
  const fill = lines.find((line) => line.kind === 'fill');
  return {
    fill: fill?.kind === 'fill' ? fill.id : null,
    written: [...written.values()].filter((file) => !readBack.has(file.path)),
    readBack: [...readBack.values()],
  };
}

function parseLine(text: string): readonly JournalLine[] {
  try {
    return text === '' ? [] : [JSON.parse(text) as JournalLine];
  } catch {
    return [];
  }
}
