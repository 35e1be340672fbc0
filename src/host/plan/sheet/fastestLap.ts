/** The fastest lap of a meeting's circuit, and who knows it. */
import { type Milliseconds, millisecondsOf } from '../../../core/units.js';
import type { SheetDay } from './sheetOfDay.js';

export interface FastestLap {
  readonly ms: Milliseconds;
  readonly words: string;
}

/** A person's word for this meeting first, then what its frames showed, then the circuit's record. Null: nobody knows. */
export function fastestLapOf({ state, circuit }: Pick<SheetDay, 'state' | 'circuit'>): FastestLap | null {
  const { timetable, arrangement } = state;
  const known: readonly (readonly [number | undefined, string])[] = [
    [timetable?.fastestLapMs, 'the fastest lap you said'],
    [arrangement.calibration?.fastestLapMs, 'the fastest lap measured'],
    [circuit?.lapRecordMs, 'the circuit’s lap record'],
  ];
  const [first] = known.flatMap(([ms, words]) => (ms === undefined ? [] : [{ ms: millisecondsOf(ms), words }]));
  return first ?? null;
}
