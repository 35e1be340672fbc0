/** The identity of a frame (decision 1 of the design): its coded picture and the time the camera wrote. */
import { createXXHash128, type IHasher } from 'hash-wasm';
import type { FileId, FrameId } from '../../core/ids.js';
import type { FileMetadata } from '../../core/measure/types.js';
import { JpegScan, type ScanEnd } from './jpegScan.js';

const SOS_MARKER = Uint8Array.of(0xff, 0xda);

export interface FrameHasher {
  /** Bytes of the file in order, from its first. False once no more are needed. */
  push(chunk: Uint8Array): boolean;
  /** How the coded picture ended. Good after the last push. */
  readonly end: ScanEnd;
  /** Once only, after the last push. */
  frameId(captured: FileMetadata['captured'], fileId: FileId): FrameId;
}

/** A hasher is a module instance of its own, which takes longer to make than a header to read: used again and again. */
const idleHashers: IHasher[] = [];

/** Hashes a JPEG as it streams by; each byte is seen once, in chunks of any size. */
export const createFrameHasher = async (): Promise<FrameHasher> => {
  const scan = new JpegScan();
  const hash = (idleHashers.pop() ?? (await createXXHash128())).init();
  return {
    push: (chunk) => {
      const piece = scan.feed(chunk);
      if (piece.opens) hash.update(SOS_MARKER);
      if (piece.to > piece.from) hash.update(chunk.subarray(piece.from, piece.to));
      return !scan.isDone;
    },
    get end() {
      return scan.end;
    },
    frameId: (captured, fileId) => {
      idleHashers.push(hash);
      if (captured.kind === 'absent' || scan.end === 'no-scan') return wholeFile(fileId);
      return hash.update(timeText(captured.text, captured.subSec)).digest('hex') as FrameId;
    },
  };
};

/** Other types, and files without a time, are known by all their bytes. */
export const wholeFile = (fileId: FileId): FrameId => fileId as string as FrameId;

/** `YYYY:MM:DD HH:MM:SS` and `.sub` where there is one, whatever separators the camera used. */
const timeText = (text: string, subSec: string | undefined): string => {
  const [year, month, day, hour, minute, second] = text.match(/\d+/g) ?? [];
  const time = `${year}:${month}:${day} ${hour}:${minute}:${second}`;
  return subSec === undefined ? time : `${time}.${subSec}`;
};
