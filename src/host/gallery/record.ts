/**
 * Which proof each picture of an edition was made of: a line each, written as soon as the picture stands, so that a
 * killed run makes nothing twice. Lies beside the edition's folder, never in it.
 */
import { type FileHandle, open, readFile } from 'node:fs/promises';
import { z } from 'zod';
import { writeAtomically } from '../finish/index.js';

/** Raised when small pictures or faces would come out otherwise. */
const IMAGES_VERSION = 4;
const HEADER = JSON.stringify({ pictures: IMAGES_VERSION });
/** Public path, name of the proof. */
const line = z.tuple([z.string(), z.string()]);

export class ImageRecord {
  readonly #path: string;
  readonly #proofs: Map<string, string>;
  readonly #file: FileHandle;

  private constructor(path: string, proofs: Map<string, string>, file: FileHandle) {
    this.#path = path;
    this.#proofs = proofs;
    this.#file = file;
  }

  /** What cannot be read is not known: those pictures are made anew. */
  static async open(path: string): Promise<ImageRecord> {
    const proofs = readLines(await readFile(path, 'utf8').catch(() => ''));
    await writeAtomically(path, textOf(proofs));
    return new ImageRecord(path, proofs, await open(path, 'a'));
  }

  proofOf(image: string): string | undefined {
    return this.#proofs.get(image);
  }

  async add(image: string, proof: string): Promise<void> {
    this.#proofs.set(image, proof);
    await this.#file.appendFile(`${JSON.stringify([image, proof])}\n`);
  }

  /** Forgets what is not wanted any more; the same pictures give the same file. */
  async keepOnly(isWanted: (image: string) => boolean): Promise<void> {
    await writeAtomically(this.#path, textOf([...this.#proofs].filter(([image]) => isWanted(image))));
  }

  close(): Promise<void> {
    return this.#file.close();
  }
}

/** A last line that was torn by a kill is left out. */
function readLines(text: string): Map<string, string> {
  const [header, ...lines] = text.split('\n');
  if (header !== HEADER) return new Map();
  return new Map(
    lines.flatMap((one) => {
      const parsed = line.safeParse(parsedJson(one));
      return parsed.success ? [parsed.data] : [];
    }),
  );
}

function parsedJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

function textOf(proofs: Iterable<readonly [string, string]>): string {
  const sorted = [...proofs].sort(([a], [b]) => (a < b ? -1 : 1));
  return `${[HEADER, ...sorted.map((one) => JSON.stringify(one))].join('\n')}\n`;
}
