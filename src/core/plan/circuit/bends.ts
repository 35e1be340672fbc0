/** Bends of the line: where they are, how far they reach, what of them is had at a place. Rules PL102, PL104. */
import { metresOf } from '../../units.js';
import { curvatureAt, type Track, wrapAlong } from './track.js';
import type { Bend, Moment } from './types.js';

const STEP_M = 2;
/** What turns more gently than this, or by less in all, is nobody's bend. Common practice turned into numbers. */
const GENTLEST_RADIUS_M = 300;
const LEAST_TURN_DEG = 20;
/** Braking before a bend and drive out of it, on either side of where it curves. Common practice. */
const APPROACH_M = 80;
/** A bike is followed this far either side of where the view meets the line. Common practice. */
const FOLLOWED_M = 20;

/**
 * Bends of a line nobody named yet, by number from the start line.
 * @param windowM wider for a line that errs: a phone's wiggles are no bends.
 */
export function findBends(track: Track, windowM?: number): Bend[] {
  const count = Math.max(8, Math.round(track.lengthM / STEP_M));
  const curvatures = Array.from({ length: count }, (_, i) => curvatureAt(track, (i * track.lengthM) / count, windowM));
  const sideOf = (i: number): number => {
    const curvature = curvatures[i % count]!;
    return Math.abs(curvature) * GENTLEST_RADIUS_M < 1 ? 0 : Math.sign(curvature);
  };
  const start = curvatures.findIndex((_, i) => sideOf(i) !== sideOf(i + count - 1));
  if (start < 0) return [];
  const apexes: number[] = [];
  for (let i = start, end = start; i < start + count; i = end) {
    while (end < start + count && sideOf(end) === sideOf(i)) end++;
    const run = Array.from({ length: end - i }, (_, k) => (i + k) % count);
    const turn = run.reduce((sum, k) => sum + Math.abs(curvatures[k]!), 0) * (track.lengthM / count);
    if (sideOf(i) === 0 || (turn * 180) / Math.PI < LEAST_TURN_DEG) continue;
    apexes.push(tightestOf(run, curvatures) * (track.lengthM / count));
  }
  return apexes
    .map((alongM) => wrapAlong(track, alongM))
    .sort((a, b) => a - b)
    .map((alongM, i) => ({ name: `Bend ${i + 1}`, alongM: metresOf(Math.round(alongM)) }));
}

/** In a bend of one radius the whole arc is tightest: its middle stands. */
function tightestOf(run: readonly number[], curvatures: readonly number[]): number {
  const most = Math.max(...run.map((k) => Math.abs(curvatures[k]!)));
  const tight = run.filter((k) => Math.abs(curvatures[k]!) > 0.97 * most);
  return tight[Math.floor(tight.length / 2)]!;
}

/** How far the bend curves before and after its apex: while it turns the same way at least half as tightly. */
function reachOf(track: Track, bend: Bend): { readonly beforeM: number; readonly afterM: number } {
  const apex = curvatureAt(track, bend.alongM);
  const curvesAt = (offset: number): boolean => curvatureAt(track, bend.alongM + offset) / apex >= 0.5;
  const walk = (way: 1 | -1): number => {
    let reach = 0;
    while (reach < track.lengthM / 2 && curvesAt(way * (reach + STEP_M))) reach += STEP_M;
    return reach;
  };
  return { beforeM: walk(-1), afterM: walk(1) };
}

/** What is had where the view meets the line, and just before and after: the bike is followed. */
export function momentsAt(track: Track, bends: readonly Bend[], alongM: number): Moment[] {
  const reaches = bends.map((bend) => ({ bend, ...reachOf(track, bend) }));
  const momentAt = (along: number): Moment => {
    const offsets = reaches
      .map((one) => ({ ...one, offset: signedAlong(track, along - one.bend.alongM) }))
      .filter(({ offset, beforeM, afterM }) => offset >= -beforeM - APPROACH_M && offset <= afterM + APPROACH_M)
      .sort((p, q) => outside(p) - outside(q));
    const nearest = offsets[0];
    if (nearest === undefined) return 'straight';
    const { offset, beforeM, afterM } = nearest;
    if (offset < -beforeM / 3) return 'entry';
    return offset > afterM / 3 ? 'exit' : 'apex';
  };
  const order: readonly Moment[] = ['straight', 'entry', 'apex', 'exit'];
  const seen = new Set([-FOLLOWED_M, 0, FOLLOWED_M].map((offset) => momentAt(alongM + offset)));
  return order.filter((moment) => seen.has(moment));
}

interface Reached {
  readonly offset: number;
  readonly beforeM: number;
  readonly afterM: number;
}
/** Metres outside of where the bend curves; inside it, how near its apex, below nought. */
const outside = ({ offset, beforeM, afterM }: Reached): number => Math.max(-beforeM - offset, offset - afterM);

const signedAlong = (track: Track, metres: number): number =>
  metres - track.lengthM * Math.round(metres / track.lengthM);
