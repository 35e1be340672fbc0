/** Small days on which keepers are chosen, for tests: rider `a` as a test says, and five others to compare with. */
import { startChoosing } from '../../src/core/choose/index.js';
import type { ChooseRules, Choosing, Proposal, SpotFacts, TakenWith } from '../../src/core/choose/types.js';
import { bikeKeyOf, cover } from '../../src/core/cover/index.js';
import type { FrameId, RiderKey, SpotId } from '../../src/core/ids.js';
import type { Decision, FoldedLog } from '../../src/core/log/types.js';
import {
  type BuiltDay,
  buildDay,
  type DaySpec,
  type FrameSpec,
  logOf,
  type PassSpec,
  type RiderSpec,
} from './arrangement.js';
import { type JudgedSpec, judgedOf } from './judged.js';

export const A = 'a' as RiderKey;

const SESSIONS: DaySpec['sessions'] = [
  { name: 'N1', group: 'N', start: '09:00', end: '09:20' },
  { name: 'N2', group: 'N', start: '10:00', end: '10:20' },
  { name: 'N3', group: 'N', start: '11:00', end: '11:20' },
];

const others: readonly PassSpec[] = ['u', 'v', 'w', 'x', 'y'].flatMap((rider, i) =>
  [0, 1, 2].map((session) => ({
    rider,
    session,
    spot: 'beacon',
    at: `${9 + session}:10:${10 + i}`,
    frames: [{ sharp: 1 }],
  })),
);

export interface ChoosingSpec {
  readonly passes: readonly PassSpec[];
  readonly riders?: Readonly<Record<string, RiderSpec>>;
  readonly decisions?: readonly Decision[];
  readonly log?: FoldedLog;
  readonly rules?: Partial<ChooseRules>;
  /** By pass and place in it. */
  readonly judged?: Readonly<Record<string, JudgedSpec>>;
  readonly taken?: Readonly<Record<string, TakenWith>>;
  readonly spots?: Readonly<Record<string, SpotFacts>>;
}

export interface BuiltChoosing {
  readonly day: BuiltDay;
  readonly choosing: Choosing;
  readonly ofA: Proposal;
  /** `pass/place` of the keepers of `a`, in the order they were taken. */
  readonly kept: readonly string[];
  readonly nameOf: (frame: FrameId) => string;
}

export function choosingOf({
  passes,
  riders,
  decisions = [],
  log,
  rules,
  judged,
  taken,
  spots,
}: ChoosingSpec): BuiltChoosing {
  const day = buildDay({ sessions: SESSIONS, passes: [...passes, ...others], ...(riders ? { riders } : {}) });
  const names = new Map(day.frames.flatMap((own, p) => own.map((frame, k) => [frame, `${p}/${k}`] as const)));
  const nameOf = (frame: FrameId): string => names.get(frame)!;
  const frameOf = (name: string): FrameId => [...names].find(([, is]) => is === name)![0];
  const coverage = cover({ ...day, stands: [], spots: [], timetable: null, entries: null, now: null });
  const choosing = startChoosing({
    ...day,
    coverage,
    log: log ?? logOf(decisions),
    ...(rules ? { rules } : {}),
    ...(judged ? { judged: byBike(judged, frameOf) } : {}),
    ...(taken ? { taken: new Map(Object.entries(taken).map(([name, is]) => [frameOf(name), is])) } : {}),
    ...(spots ? { spots: new Map(Object.entries(spots).map(([id, facts]) => [id as SpotId, facts])) } : {}),
  });
  const ofA = choosing.proposalFor(A)!;
  return { day, choosing, ofA, kept: ofA.keepers.map(({ bike }) => nameOf(bike.frameId)), nameOf };
}

const byBike = (judged: Readonly<Record<string, JudgedSpec>>, frameOf: (name: string) => FrameId) =>
  new Map(
    Object.entries(judged).map(([name, spec]) => [bikeKeyOf({ frameId: frameOf(name), subject: 0 }), judgedOf(spec)]),
  );

/** A pass of rider `a`. */
export const passOfA = (
  session: number,
  spot: string | null,
  at: string,
  ...frames: readonly FrameSpec[]
): PassSpec => ({
  rider: 'a',
  session,
  spot,
  at,
  frames,
});
