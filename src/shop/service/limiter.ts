/** How much one visitor may ask: a bucket that fills by itself, one a visitor. Who is turned away loses nothing and may come again. */
import type { EpochMs } from '../../core/units.js';

export interface Allowance {
  readonly perSecond: number;
  readonly atOnce: number;
}

/** Visitors remembered at most; the ones longest away are forgotten first. */
const MOST_VISITORS = 20_000;

export class Limiter {
  readonly #allowance: Allowance;
  readonly #now: () => EpochMs;
  readonly #buckets = new Map<string, { left: number; at: number }>();

  constructor(allowance: Allowance, now: () => EpochMs) {
    this.#allowance = allowance;
    this.#now = now;
  }

  /** Whether it may; says so without taking when `cost` is nothing. */
  take(who: string, cost = 1): boolean {
    const { perSecond, atOnce } = this.#allowance;
    const now = this.#now();
    const { left, at } = this.#buckets.get(who) ?? { left: atOnce, at: now };
    const filled = Math.min(atOnce, left + (Math.max(0, now - at) / 1000) * perSecond);
    const may = filled >= Math.max(cost, 1);
    this.#buckets.delete(who);
    this.#buckets.set(who, { left: may ? filled - cost : filled, at: now });
    if (this.#buckets.size > MOST_VISITORS) this.#buckets.delete(this.#buckets.keys().next().value!);
    return may;
  }

  /** What was taken, where it turned out to be no guess. */
  giveBack(who: string): void {
    const bucket = this.#buckets.get(who);
    if (bucket) bucket.left = Math.min(this.#allowance.atOnce, bucket.left + 1);
  }
}

/** An IPv6 visitor has a whole network of addresses, so its first 64 bits stand for all. */
export function visitorOf(address: string): string {
  const plain = address.replace(/^::ffff:(?=\d+\.)/i, '').replace(/%.*$/, '');
  if (!plain.includes(':')) return plain;
  const [head = '', tail = ''] = plain.split('::');
  const left = head === '' ? [] : head.split(':');
  const right = tail === '' ? [] : tail.split(':');
  const gap = plain.includes('::') ? Array<string>(Math.max(0, 8 - left.length - right.length)).fill('0') : [];
  return [...left, ...gap, ...right]
    .slice(0, 4)
    .map((part) => part.toLowerCase().padStart(4, '0'))
    .join(':');
}
