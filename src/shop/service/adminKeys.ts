/**
 * Who may speak to the admin side: whoever can read the data folder's key, or knows the password. Passwords are kept as argon2id with the
 * parameters OWASP's password storage sheet names least (19 MiB, 2 passes). Rule OR35.
 */
import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import { argon2id, argon2Verify } from 'hash-wasm';
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
    const isRight = await argon2Verify({ password: word.normalize('NFC'), hash: keys.adminPassword });
    if (isRight) known = digest;
    return isRight ? 'let-in' : 'refused';
  };
}

/** Digests are of one length, so neither length nor first wrong letter can be timed. */
const digestOf = (word: string): Buffer => createHash('sha256').update(word).digest();
