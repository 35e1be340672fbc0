/** Hashes as ASC MHL writes them: lower-case hex, seed 0, big-endian; C4 as 90 characters. */
import { createHash } from 'node:crypto';
import { createXXHash3, createXXHash64, createXXHash128 } from 'hash-wasm';
import { c4OfDigest } from '../../core/bringin/c4.js';
import type { HashKind } from '../../core/bringin/manifestTypes.js';

export interface Hasher {
  update(bytes: Uint8Array): void;
  /** Ends this hash; the hasher can be used again after `init`. */
  digest(): string;
  init(): void;
}

/** WebAssembly hashers take a while to make and hold memory, so they are used again and again. */
const idle = new Map<HashKind, Hasher[]>();

export async function takeHasher(kind: HashKind): Promise<Hasher> {
  const hasher = idle.get(kind)?.pop() ?? (await makeHasher(kind));
  hasher.init();
  return hasher;
}

export function giveBackHasher(kind: HashKind, hasher: Hasher): void {
  idle.set(kind, [...(idle.get(kind) ?? []), hasher]);
}

/** A function that hashes small things at once, for directory hashes. */
export async function hashBytesWith(kind: HashKind): Promise<(bytes: Uint8Array) => string> {
  const hasher = await makeHasher(kind);
  return (bytes) => {
    hasher.init();
    hasher.update(bytes);
    return hasher.digest();
  };
}

export function c4Of(bytes: Uint8Array): string {
  return c4OfDigest(createHash('sha512').update(bytes).digest());
}

async function makeHasher(kind: HashKind): Promise<Hasher> {
  switch (kind) {
    case 'xxh128':
      return createXXHash128();
    case 'xxh64':
      return createXXHash64();
    case 'xxh3':
      return createXXHash3();
    case 'md5':
    case 'sha1':
    case 'c4':
      return nodeHasher(kind);
  }
}

function nodeHasher(kind: 'md5' | 'sha1' | 'c4'): Hasher {
  const make = () => createHash(kind === 'c4' ? 'sha512' : kind);
  let hash = make();
  return {
    init: () => {
      hash = make();
    },
    update: (bytes) => void hash.update(bytes),
    digest: () => (kind === 'c4' ? c4OfDigest(hash.digest()) : hash.digest('hex')),
  };
}
