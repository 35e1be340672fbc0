// Oracle: xxHash's own self-test, cli/xsum_sanity_check.c of github.com/Cyan4973/xxHash (facts of the published
// algorithm: length, and the value with seed 0, the only seed a manifest uses; high half first, as xxhsum prints it).
import { describe, expect, it } from 'vitest';
import type { HashKind } from '../../core/bringin/manifestTypes.js';
import { giveBackHasher, hashBytesWith, takeHasher } from './hashing.js';

/** The self-test's buffer: the top byte of a 64-bit generator that begins at PRIME32 and is multiplied by PRIME64. */
function selfTestBytes(length: number): Uint8Array {
  let state = 2_654_435_761n;
  return Uint8Array.from({ length }, () => {
    const byte = Number(state >> 56n);
    state = (state * 11_400_714_785_074_694_797n) & 0xffff_ffff_ffff_ffffn;
    return byte;
  });
}

const published: Partial<Record<HashKind, readonly (readonly [number, string])[]>> = {
  xxh128: [
    [0, '99aa06d3014798d86001c324468d497f'],
    [1, 'a6cd5e9392000f6ac44bdff4074eecdb'],
    [6, '082afe0b8162d12a3e7039bdda43cfc6'],
    [12, '6e3efd8fc7802b18061a192713f69ad9'],
    [24, '0ce966e4678d37611e7044d28b1b901d'],
    [48, 'a002ac4e5478227ef942219aed80f67b'],
    [81, '4952f58181ab00425e8bafb9f95fb803'],
    [222, '337e09641b948717f1aebd597cec6b3a'],
    [403, '1b6de21e332dd73dcdeb804d65c6dea4'],
    [512, '18d2d110dcc9bca1617e49599013cb6b'],
    [2048, 'f736557fd47073a5dd59e2c3a5f038e0'],
    [2240, 'ccb134fbfa7ce49d6e73a90539cf2948'],
    [2367, 'e89c0f6ff369b427cb37aeb9e5d361ed'],
  ],
  xxh3: [
    [0, '2d06800538d394c2'],
    [1, 'c44bdff4074eecdb'],
    [6, '27b56a84cd2d7325'],
    [12, 'a713daf0dfbb77e7'],
    [24, 'a3fe70bf9d3510eb'],
    [48, '397da259ecba1f11'],
    [80, 'bcdefbbb2c47c90a'],
    [195, 'cd94217ee362ec3a'],
    [403, 'cdeb804d65c6dea4'],
    [512, '617e49599013cb6b'],
    [2048, 'dd59e2c3a5f038e0'],
    [2240, '6e73a90539cf2948'],
    [2367, 'cb37aeb9e5d361ed'],
  ],
  xxh64: [
    [0, 'ef46db3751d8e999'],
    [1, 'e934a84adb052768'],
    [4, '9136a0dca57457ee'],
    [14, '8282dcc4994e35c8'],
    [222, 'b641ae8cb691c174'],
  ],
};
const vectors = Object.entries(published).flatMap(([kind, values]) =>
  values.map(([length, value]) => [kind as HashKind, length, value] as const),
);

describe('hashes against xxHash’s own self-test', () => {
  it.each(vectors)('BI30: %s of %i bytes', async (kind, length, value) => {
    expect((await hashBytesWith(kind))(selfTestBytes(length))).toBe(value);
  });

  it('BI30: fed in pieces of any length, and used again, the hash is the same', async () => {
    for (const [kind, length, value] of vectors) {
      const hasher = await takeHasher(kind);
      const bytes = selfTestBytes(length);
      for (let at = 0, piece = 1; at < length; at += piece, piece = (piece * 7) % 257)
        hasher.update(bytes.subarray(at, at + piece));
      expect(hasher.digest(), `${kind} of ${length}`).toBe(value);
      giveBackHasher(kind, hasher);
    }
    expect(vectors).toHaveLength(31);
  });
});
