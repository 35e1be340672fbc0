/**
 * What was put where: a line for each file, written when the place has taken it. A page about to be replaced is
 * forgotten first, so a kill in between never leaves a note of what does not lie there any more.
 */
import { type FileHandle, mkdir, open, readFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { z } from 'zod';
import type { Note } from '../../core/handover/putUp/index.js';
import { writeAtomically } from '../finish/atomically.js';

const HEADER = JSON.stringify({ putUp: 1 });
const line = z.union([
  z.tuple([z.string(), z.number(), z.string(), z.string(), z.array(z.string())]),
  // Only a path: nothing of ours is known to lie there.
  z.tuple([z.string()]),
]);

export class Notes {
  readonly #notes: Map<string, Note>;
  readonly #file: FileHandle;

  private constructor(notes: Map<string, Note>, file: FileHandle) {
    this.#notes = notes;
    this.#file = file;
  }

  static async open(path: string): Promise<Notes> {
    const notes = await readNotes(path);
    await mkdir(dirname(path), { recursive: true });
    await writeAtomically(path, textOf(notes.values()));
    return new Notes(notes, await open(path, 'a'));
  }

  /** Of one edition, by paths from its root. */
  under(folder: string): ReadonlyMap<string, Note> {
    return notesUnder(folder, this.#notes);
  }

  all(): Iterable<Note> {
    return this.#notes.values();
  }

  async add(note: Note): Promise<void> {
    this.#notes.set(note.path, note);
    await this.#file.appendFile(lineOf(note));
  }

  async forget(path: string): Promise<void> {
    if (!this.#notes.delete(path)) return;
    await this.#file.appendFile(`${JSON.stringify([path])}\n`);
  }

  close(): Promise<void> {
    return this.#file.close();
  }
}

export function notesUnder(folder: string, notes: ReadonlyMap<string, Note>): ReadonlyMap<string, Note> {
  const own = [...notes.values()].filter(({ path }) => path.startsWith(`${folder}/`));
  return new Map(own.map((note) => [note.path.slice(folder.length + 1), note]));
}

/** A last line that was torn by a kill is left out: what it was of is put there once more. */
export async function readNotes(path: string): Promise<Map<string, Note>> {
  const [header, ...lines] = (await readFile(path, 'utf8').catch(() => '')).split('\n');
  const notes = new Map<string, Note>();
  if (header !== HEADER) return notes;
  for (const text of lines) {
    const parsed = line.safeParse(parsedJson(text));
    if (!parsed.success) continue;
    if (parsed.data.length === 1) {
      notes.delete(parsed.data[0]);
      continue;
    }
    const [place, bytes, stamp, tag, names] = parsed.data;
    notes.set(place, { path: place, bytes, stamp, tag, names });
  }
  return notes;
}

function parsedJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

const lineOf = ({ path, bytes, stamp, tag, names }: Note): string =>
  `${JSON.stringify([path, bytes, stamp, tag, names])}\n`;
const textOf = (notes: Iterable<Note>): string => `${HEADER}\n${[...notes].map(lineOf).join('')}`;
