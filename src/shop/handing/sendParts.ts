/**
 * Sends bytes that lie in memory and in files one behind the other, from any place to any other, at the pace they are taken. At most one
 * file is open and one piece in memory, whatever the whole is. Rules HD9–HD12.
 */
import { type FileHandle, open } from 'node:fs/promises';
import { type Asked, askedOf } from './ranges.js';
import type { ZipPart } from './zip/layout.js';

const PIECE_BYTES = 256 * 1024;

export interface Sent {
  readonly parts: readonly ZipPart[];
  readonly bytes: number;
  /** Strong: other bytes have another. Without quotes. */
  readonly tag: string;
  readonly type: string;
  /** The name it is kept under on the buyer's side. */
  readonly name: string;
  /** The last byte was taken, by whoever had the ones before. */
  readonly onTaken: () => Promise<void>;
}

export function sendParts(request: Request, sent: Sent): Response {
  const tag = `"${sent.tag}"`;
  const header = (name: string) => request.headers.get(name) ?? undefined;
  const isHead = request.method === 'HEAD';
  const asked: Asked = askedOf(isHead ? withoutRange(header) : header, tag, sent.bytes);
  const headers = new Headers({
    etag: tag,
    'accept-ranges': 'bytes',
    // One person's pictures: not for a cache in between. It may be kept by who has it, as long as it is asked after.
    'cache-control': 'private, no-cache',
  });
  switch (asked.kind) {
    case 'not-modified':
      return new Response(null, { status: 304, headers });
    case 'other-by-now':
      return new Response(null, { status: 412, headers });
    case 'not-there':
      headers.set('content-range', `bytes */${sent.bytes}`);
      return new Response(null, { status: 416, headers });
    case 'whole':
    case 'part': {
      const { first, last } = asked.kind === 'part' ? asked : { first: 0, last: sent.bytes - 1 };
      headers.set('content-type', sent.type);
      headers.set('content-disposition', disposition(sent.name));
      headers.set('content-length', String(last - first + 1));
      if (asked.kind === 'part') headers.set('content-range', `bytes ${first}-${last}/${sent.bytes}`);
      const body = isHead ? null : streamOf(sent, first, last);
      return new Response(body, { status: asked.kind === 'part' ? 206 : 200, headers });
    }
  }
}

/** A range is of GET alone (RFC 9110, 14.2). */
const withoutRange =
  (header: (name: string) => string | undefined) =>
  (name: string): string | undefined =>
    name === 'range' ? undefined : header(name);

/** Opens nothing before the first piece is asked for, so that an answer nobody reads costs nothing. */
function streamOf(sent: Sent, first: number, last: number): ReadableStream<Uint8Array> {
  const pieces = piecesOf(sent.parts, first, last);
  return new ReadableStream<Uint8Array>(
    {
      async pull(controller) {
        const { value, done } = await pieces.next().catch(cutOff);
        if (!done) return controller.enqueue(value);
        // The connection has taken all of it, or this would not be asked.
        if (last === sent.bytes - 1) await sent.onTaken();
        controller.close();
      },
      async cancel() {
        await pieces.return(undefined);
      },
    },
    { highWaterMark: 0 },
  );
}

/** Node's adapter says an error's words to whoever asks, as long as nothing was sent yet; a path is nothing to be told there. */
function cutOff(error: Error): never {
  console.error(`An answer was cut off: ${error.message}`);
  throw new Error('The answer was cut off. Try again.');
}

async function* piecesOf(
  parts: readonly ZipPart[],
  first: number,
  last: number,
): AsyncGenerator<Uint8Array<ArrayBuffer>, undefined> {
  for (const part of parts) {
    const from = Math.max(first - part.at, 0);
    const to = Math.min(last - part.at + 1, part.bytes);
    if (from >= to) continue;
    if ('content' in part) yield new Uint8Array(part.content.subarray(from, to));
    else yield* fileBytes(part.path, part.bytes, from, to);
  }
}

/** A file that is not as it was when its length was said must end the answer short, never fill it with something else. */
async function* fileBytes(
  path: string,
  bytes: number,
  from: number,
  to: number,
): AsyncGenerator<Uint8Array<ArrayBuffer>, undefined> {
  let file: FileHandle | null = null;
  try {
    file = await open(path, 'r');
    const { size } = await file.stat();
    if (size !== bytes)
      throw new Error(`Expected ${bytes} bytes in ${path} but found ${size}; the answer was cut off.`);
    for (let at = from; at < to; ) {
      const piece = new Uint8Array(Math.min(PIECE_BYTES, to - at));
      const { bytesRead } = await file.read(piece, 0, piece.length, at);
      if (bytesRead === 0) throw new Error(`Expected ${bytes} bytes in ${path} but it ended at ${at}.`);
      at += bytesRead;
      yield piece.subarray(0, bytesRead);
    }
  } finally {
    await file?.close();
  }
}

/** RFC 6266 with the name in UTF-8 by RFC 8187, and one in ASCII for whoever reads only that. */
export function disposition(name: string): string {
  const ascii = name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[^\x20-\x7e]|["\\%]/g, '-');
  const encoded = encodeURIComponent(name).replace(/['()*]/g, (letter) => `%${letter.charCodeAt(0).toString(16)}`);
  return `attachment; filename="${ascii}"; filename*=UTF-8''${encoded}`;
}
