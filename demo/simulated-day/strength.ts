/**
 * How strong a simulated descriptor is: rank-1 of one frame among 148 others, across sessions and spots. This is the
 * share of bikes whose one frame is most like their own one frame elsewhere (cosine, the mean of each place taken away).
 */
import { makeAppearance } from './appearance.js';
import type { DayOptions } from './options.js';
import { makeRiders, planDay, runDay, type SimulatedSession } from './trackDay.js';

const OTHERS = 148;

/** Share 0–1; hire bikes, instructors and changed dress are left out of the field. */
export function measureStrength(options: DayOptions): number {
  const field = { key: 'N', name: 'Field', riders: OTHERS + 1, pace: 1.4, paceSpread: 0.05 };
  const plain = { ...options, groups: [field], fleetShare: 0, dressChangeShare: 0, instructors: 0 };
  const riders = makeRiders(plain);
  const [first, second] = runDay(plain, planDay(plain)) as [SimulatedSession, SimulatedSession];
  const appearance = makeAppearance(plain, riders);
  const seenAt = (session: SimulatedSession, spot: number) =>
    centred(riders.map((_, i) => valuesOf(appearance.descriptor(i, session, spot, `${i} ${session.name}`))));
  const here = seenAt(first, 0);
  const there = seenAt(second, 1);
  return here.filter((own, i) => nearestOf(own, there) === i).length / here.length;
}

const valuesOf = (descriptor: string): readonly number[] => [...new Int8Array(Buffer.from(descriptor, 'base64'))];

function centred(rows: readonly (readonly number[])[]): readonly (readonly number[])[] {
  const mean = rows[0]!.map((_, k) => rows.reduce((sum, row) => sum + row[k]!, 0) / rows.length);
  return rows.map((row) => {
    const own = row.map((value, k) => value - mean[k]!);
    const length = Math.hypot(...own);
    return own.map((value) => value / length);
  });
}

function nearestOf(own: readonly number[], among: readonly (readonly number[])[]): number {
  const likeness = among.map((row) => row.reduce((sum, value, k) => sum + value * own[k]!, 0));
  return likeness.indexOf(Math.max(...likeness));
}
