/** The few things bringing in does to a disk, as a port: tests put failing disks in its place. */
import { constants } from 'node:fs';
import { type FileHandle, lstat, mkdir, open, rename, rm } from 'node:fs/promises';

export interface OpenFile {
  read(buffer: Uint8Array, offset: number, length: number, position: number): Promise<{ readonly bytesRead: number }>;
  write(
    buffer: Uint8Array,
    offset: number,
    length: number,
    position: number,
  ): Promise<{ readonly bytesWritten: number }>;
  truncate(bytes: number): Promise<void>;
  utimes(atime: number, mtime: number): Promise<void>;
  sync(): Promise<void>;
  stat(): Promise<{ readonly size: number; readonly mtimeMs: number }>;
  close(): Promise<void>;
}

export interface Disk {
  open(path: string, flags: number): Promise<OpenFile>;
  rename(from: string, to: string): Promise<void>;
  remove(path: string): Promise<void>;
  makeFolder(path: string): Promise<void>;
  /** Size and time of a file, or null where there is none. */
  look(path: string): Promise<{ readonly size: number; readonly mtimeMs: number } | null>;
  /** Flushes a folder's own entries; does nothing where the system has no such thing. */
  syncFolder(path: string): Promise<void>;
}

export const nodeDisk: Disk = {
  open: (path, flags) => open(path, flags, 0o644) as Promise<FileHandle>,
  rename,
  remove: (path) => rm(path, { force: true }),
  makeFolder: async (path) => void (await mkdir(path, { recursive: true })),
  look: (path) => lstat(path).catch(() => null),
  syncFolder: async (path) => {
    if (process.platform === 'win32') return;
    const folder = await open(path, constants.O_RDONLY);
    try {
      await folder.sync();
    } finally {
      await folder.close();
    }
  },
};
