/**
 * Who may speak to the admin side: whoever can read the data folder's key, or knows the password. Passwords are kept as argon2id with the
 * parameters OWASP's password storage sheet names least (19 MiB, 2 passes). Rule OR35.
 */
import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import { argon2id } from 'hash-wasm';
import { epochMsOf } from '../../core/units.js';
import { Limiter } from './limiter.js';

const LEAST_LETTERS = 12;

export const isLongEnough = (password: string): boolean => [...password].length >= LEAST_LETTERS;

export const hashPassword = (password: string): Promise<string> =>
  argon2id({
    password: password.normalize('NFC'),
    salt: randomBytes(16),
    iterations: 2,
    memorySize: 19_456,
    parallelism: 1,
    hashLength: 32,
    outputType: 'encoded',
  });

const ENCODED = /^\$argon2id\$v=19\$m=(\d+),t=(\d+),p=(\d+)\$([A-Za-z0-9+/]+)\$([A-Za-z0-9+/]+)$/;

/** Reckoned again with what stands in the encoded text, and compared in constant time, which hash-wasm's own comparison is not. */
export async function isPassword(password: string, encoded: string): Promise<boolean> {
  const [, memory, iterations, parallelism, salt = '', kept = ''] = ENCODED.exec(encoded) ?? [];
  const expected = Buffer.from(kept, 'base64');
  if (expected.length === 0) return false;
  const found = await argon2id({
    password: password.normalize('NFC'),
    salt: Buffer.from(salt, 'base64'),
    iterations: Number(iterations),
    memorySize: Number(memory),
    parallelism: Number(parallelism),
    hashLength: expected.length,
    outputType: 'binary',
  });
  return timingSafeEqual(found, expected);
}

export type Knock = 'let-in' | 'refused' | 'too-often';

/** Tries at the password are few a minute for all together: each costs this machine a tenth of a second. */
const TRIES = { perSecond: 1 / 12, atOnce: 5 } as const;

export function adminDoor(
  keys: { readonly adminKey: string; readonly adminPassword: string | null },
  nowMs: () => number,
): (word: string | undefined) => Promise<Knock> {
  const tries = new Limiter(TRIES, () => epochMsOf(nowMs()));
  /** The password that was right, so that it is weighed once. */
  let known: Buffer | null = null;
  return async (word) => {
    if (word === undefined || word.length > 1000) return 'refused';
    const digest = digestOf(word);
    if (timingSafeEqual(digest, digestOf(keys.adminKey)) || (known !== null && timingSafeEqual(digest, known)))
      return 'let-in';
    if (keys.adminPassword === null) return 'refused';
    if (!tries.take('all')) return 'too-often';
    const isRight = await isPassword(word, keys.adminPassword);
    if (isRight) known = digest;
    return isRight ? 'let-in' : 'refused';
  };
}

/** Digests are of one length, so neither length nor first wrong letter can be timed. */
const digestOf = (word: string): Buffer => createHash('sha256').update(word).digest();
