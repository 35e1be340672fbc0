/**
 * Seeded random numbers for tests, benches and the invented days. Never used by a stage: those are deterministic.
 *
 * Generator: mulberry32 (Tommy Ettinger, 2017, public domain): 32 bits of state, period 2^32. Good enough to make
 * days from, not for cryptography or for Monte Carlo figures with many digits.
 */
export interface Random {
  /** Uniform in [0, 1). */
  next(): number;
  /** Uniform in [low, high). */
  between(low: number, high: number): number;
  /** Whole number from low to high, both included. */
  integer(low: number, high: number): number;
  /** Standard normal, by Box and Muller (1958). */
  normal(): number;
  /** Exponential with the given mean. */
  exponential(mean: number): number;
  chance(probability: number): boolean;
  oneOf<T>(items: readonly T[]): T;
  /** A new array in random order (Fisher and Yates). */
  shuffled<T>(items: readonly T[]): T[];
}

/** @param seed any whole number; equal seeds give equal sequences. */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0;
  let spare: number | null = null;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const normal = (): number => {
    if (spare !== null) {
      const kept = spare;
      spare = null;
      return kept;
    }
    const radius = Math.sqrt(-2 * Math.log(1 - next()));
    const angle = 2 * Math.PI * next();
    spare = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  };
  const integer = (low: number, high: number): number => low + Math.floor((high - low + 1) * next());
  return {
    next,
    between: (low, high) => low + (high - low) * next(),
    integer,
    normal,
    exponential: (mean) => -mean * Math.log(1 - next()),
    chance: (probability) => next() < probability,
    oneOf: (items) => {
      if (items.length === 0) throw new RangeError('Expected at least one item to choose from, but the list is empty.');
      return items[integer(0, items.length - 1)]!;
    },
    shuffled: (items) => {
      const out = [...items];
      for (let i = out.length - 1; i > 0; i--) {
        const j = integer(0, i);
        [out[i], out[j]] = [out[j]!, out[i]!];
      }
      return out;
    },
  };
}
