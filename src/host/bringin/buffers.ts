/**
 * Buffers that begin on a page: `O_DIRECT` wants that, and Node's own do not promise it. WebAssembly's memory is
 * mapped in 64 KiB pages. A fixed number of them bounds what copying may hold, however many cards come at once.
 */
declare const WebAssembly: { Memory: new (size: { initial: number; maximum: number }) => { buffer: ArrayBuffer } };

const wasmPageBytes = 65_536;
/** Disks transfer in whole blocks of at most this size. */
export const blockBytes = 4096;

export interface BufferPool {
  readonly chunkBytes: number;
  /** Waits until one is free. Whoever takes one gives it back. */
  take(): Promise<Uint8Array>;
  giveBack(buffer: Uint8Array): void;
}

export function makeBufferPool(count: number, chunkBytes: number): BufferPool {
  const pages = Math.ceil((count * chunkBytes) / wasmPageBytes);
  const { buffer } = new WebAssembly.Memory({ initial: pages, maximum: pages });
  const free: Uint8Array[] = Array.from(
    { length: count },
    (_, index) => new Uint8Array(buffer, index * chunkBytes, chunkBytes),
  );
  const waiting: ((buffer: Uint8Array) => void)[] = [];
  return {
    chunkBytes,
    take: () => {
      const ready = free.pop();
      return ready ? Promise.resolve(ready) : new Promise((resolve) => waiting.push(resolve));
    },
    giveBack: (returned) => {
      const next = waiting.shift();
      if (next) next(returned);
      else free.push(returned);
    },
  };
}

let shared: BufferPool | undefined;
/** The process's own pool: 16 buffers of 4 MiB. */
export const sharedBuffers = (): BufferPool => (shared ??= makeBufferPool(16, 4 * 1_048_576));
