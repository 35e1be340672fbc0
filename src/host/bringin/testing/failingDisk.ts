/** Disks that fail on purpose: the real one, with the chosen calls answered by the system's own error codes. */
import { type Disk, nodeDisk, type OpenFile } from '../disk.js';

export interface Failing {
  /** Asked before each write to a file under this path; a code makes it fail. */
  readonly write?: (path: string, position: number) => string | null;
  readonly read?: (path: string) => string | null;
  readonly sync?: (path: string) => string | null;
  /** Changes bytes as they come back from the disk. */
  readonly spoil?: (path: string, bytes: Uint8Array) => void;
}

const failed = (code: string, path: string): Error =>
  Object.assign(new Error(`${code}: made to fail, ${path}`), { code });

export function failingDisk(failing: Failing): Disk {
  return { ...nodeDisk, open: async (path, flags) => wrapped(await nodeDisk.open(path, flags), path, failing) };
}

function wrapped(file: OpenFile, path: string, failing: Failing): OpenFile {
  const answer = (code: string | null | undefined): void => {
    if (code) throw failed(code, path);
  };
  return {
    read: async (buffer, offset, length, position) => {
      answer(failing.read?.(path));
      const read = await file.read(buffer, offset, length, position);
      failing.spoil?.(path, buffer.subarray(offset, offset + read.bytesRead));
      return read;
    },
    write: async (buffer, offset, length, position) => {
      answer(failing.write?.(path, position));
      return file.write(buffer, offset, length, position);
    },
    sync: async () => {
      answer(failing.sync?.(path));
      return file.sync();
    },
    truncate: (bytes) => file.truncate(bytes),
    utimes: (atime, mtime) => file.utimes(atime, mtime),
    stat: () => file.stat(),
    close: () => file.close(),
  };
}
