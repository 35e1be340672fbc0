/**
 * One append-only file of one writer. A write is answered only after the file, and the folder that names it, are
 * flushed to the disk; so what was answered survives a kill or a power cut.
 */
import { type FileHandle, mkdir, open } from 'node:fs/promises';
import { join } from 'node:path';
import { LogbookError } from './logbookError.js';

export interface AppendOnlyFile {
  readonly path: string;
  /** Whole lines without their newlines. After a rejection the file takes no more: begin another. */
  append(lines: readonly string[]): Promise<void>;
  close(): Promise<void>;
}

/** Where folders cannot be opened (Windows), the file system keeps the name by itself. */
export async function flushFolder(folder: string): Promise<void> {
  const handle = await open(folder, 'r').catch(() => null);
  if (handle === null) return;
  await handle.sync().catch(() => undefined);
  await handle.close();
}

/** Made at the first append, so that only looking at a meeting leaves no empty file. */
export function appendOnlyFile(folder: string, name: string): AppendOnlyFile {
  const path = join(folder, name);
  let opened: FileHandle | null = null;
  let flushedBytes = 0;

  const openOnce = async (): Promise<FileHandle> => {
    if (opened !== null) return opened;
    await mkdir(folder, { recursive: true });
    opened = await open(path, 'ax', 0o644);
    await flushFolder(folder);
    return opened;
  };

  const append = async (lines: readonly string[]): Promise<void> => {
    const bytes = Buffer.from(lines.map((line) => `${line}\n`).join(''), 'utf8');
    try {
      const handle = await openOnce();
      await handle.appendFile(bytes);
      await handle.datasync();
      flushedBytes += bytes.length;
    } catch (cause) {
      // Half a line may stand there now. Cut it off where that works; where not, readers drop it.
      await opened?.truncate(flushedBytes).catch(() => undefined);
      const why = (cause as Error).message;
      const sentence = `Expected to write ${bytes.length} bytes to ${name} but ${why}. Nothing of it counts; make room or check the disk, then do it again.`;
      throw new LogbookError(sentence, { path, cause });
    }
  };

  const close = async (): Promise<void> => {
    await opened?.close();
    opened = null;
  };
  return { path, append, close };
}
