/** Pictures in order of corrected time → sessions, each with what its start and group rest on. */

import type { Timetable } from '../../plan/types.js';
import { type Milliseconds, type WallMs, wallMsOf } from '../../units.js';
import type { Source } from '../types.js';
import { type AlignedSegment, alignSessions, type GroupWord } from './align.js';
import { type BoundaryDecision, findCuts } from './cuts.js';
import { type Cut, type Divider, MINUTE_MS, type Shot } from './evidence.js';

export interface SplitInput {
  /** In order of corrected time, without dividers. */
  readonly shots: readonly Shot[];
  readonly dividers: readonly Divider[];
  readonly timetable: Timetable | null;
  readonly boundaryWords: readonly BoundaryDecision[];
  readonly groupWords: readonly GroupWord[];
}

export interface SplitSession {
  readonly name: string;
  readonly group: string | null;
  readonly slot: string | null;
  readonly start: WallMs;
  readonly end: WallMs;
  readonly startSource: Source;
  readonly groupSource: Source;
}

export interface Split {
  readonly sessions: readonly SplitSession[];
  /** Per shot, index into `sessions`; −1 outside every session. */
  readonly sessionOf: Int32Array;
}

export function splitSessions(input: SplitInput): Split {
  const timetable = inOrder(input.timetable);
  const cuts = findCuts(input.shots, input.dividers, input.boundaryWords);
  const segments = alignSessions({ shots: input.shots, cuts, timetable, groupWords: input.groupWords });
  const sessionOf = new Int32Array(input.shots.length).fill(-1);
  const sessions: SplitSession[] = [];
  for (const stretch of joinResumed(segments)) {
    for (const { from, to } of stretch) sessionOf.fill(sessions.length, from, to);
    sessions.push(describe(stretch, sessions.length, cuts, { ...input, timetable }));
  }
  return { sessions, sessionOf };
}

function inOrder(timetable: Timetable | null): Timetable | null {
  if (timetable === null) return null;
  return { ...timetable, slots: [...timetable.slots].sort((a, b) => a.start - b.start) };
}

/** A stopped and resumed session is one session. */
function joinResumed(segments: readonly AlignedSegment[]): readonly (readonly AlignedSegment[])[] {
  const stretches: AlignedSegment[][] = [];
  for (const segment of segments) {
    if (segment.label.kind === 'outside') continue;
    const last = stretches.at(-1);
    if (segment.label.kind === 'slot' && segment.label.isResumed && last !== undefined) last.push(segment);
    else stretches.push([segment]);
  }
  return stretches;
}

function describe(
  stretch: readonly AlignedSegment[],
  index: number,
  cuts: readonly Cut[],
  input: SplitInput,
): SplitSession {
  const { from, label } = stretch[0]!;
  const cut = cuts.find((c) => c.position === from)!;
  const slot = label.kind === 'slot' ? input.timetable!.slots[label.slot]! : null;
  const start = startOf(cut, input.shots[from]!.wall);
  const end = input.shots[stretch.at(-1)!.to - 1]!.wall;
  const group = slot?.group ?? (label.kind === 'unlisted' ? label.group : null);
  return {
    name: slot?.name ?? String(index + 1),
    group,
    slot: slot?.name ?? null,
    start: start.at,
    end,
    startSource: start.source,
    groupSource: groupSource(label, slot, start.at, end, input),
  };
}

function startOf(cut: Cut, firstShot: WallMs): { readonly at: WallMs; readonly source: Source } {
  if (cut.word === 'here' && cut.wordAt !== null) return { at: cut.wordAt, source: { kind: 'said' } };
  const divider = firstOfLastRun(cut.dividers);
  if (divider !== null && firstShot - divider < 20 * MINUTE_MS) return { at: divider, source: { kind: 'measured' } };
  const minutes = Math.round(cut.gapMs / MINUTE_MS);
  const reason =
    cut.position === 0 ? 'first picture of the day' : `no divider here, but ${minutes} min without pictures`;
  return { at: firstShot, source: { kind: 'guessed', confidence: cut.position === 0 ? 0.9 : 0.7, reasons: [reason] } };
}

/** Two dividers within a minute are one; of two further apart the later opens the session. */
function firstOfLastRun(dividers: readonly Divider[]): WallMs | null {
  let at: number | null = null;
  for (const { wall } of [...dividers].sort((a, b) => b.wall - a.wall)) {
    if (at !== null && at - wall > MINUTE_MS) break;
    at = wall;
  }
  return at === null ? null : wallMsOf(at);
}

function groupSource(
  label: AlignedSegment['label'],
  slot: { readonly name: string; readonly start: WallMs } | null,
  start: WallMs,
  end: WallMs,
  input: SplitInput,
): Source {
  if (input.groupWords.some(({ at }) => at >= start && at <= end)) return { kind: 'said' };
  if (slot === null || label.kind !== 'slot') {
    const reason = input.timetable === null ? 'no timetable' : 'no slot of the timetable fits';
    return { kind: 'guessed', confidence: 0, reasons: [reason] };
  }
  const confidence = 1 / (1 + Math.exp(label.cost - 4));
  return { kind: 'guessed', confidence, reasons: [lateSentence(slot.name, (start - slot.start) as Milliseconds)] };
}

function lateSentence(slot: string, late: Milliseconds): string {
  const minutes = Math.round(Math.abs(late) / MINUTE_MS);
  if (minutes === 0) return `starts with ${slot} of the timetable`;
  return `starts ${minutes} min ${late > 0 ? 'after' : 'before'} ${slot} of the timetable`;
}
