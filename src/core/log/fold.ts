/** From lines to the decisions in force. Pure: the same set of lines gives the same fold, in whatever order it came. */
import type { GestureId, WriterId } from '../ids.js';
import { type Causality, causalityOf } from './causality.js';
import { withWholeCircuits } from './circuitEdits.js';
import { decisionOf } from './line.js';
import { compareLines, mergeLines } from './merge.js';
import { type KeepStatement, lastWord, takenDown } from './standing.js';
import type { Decision, DecisionKind, FoldedLog, LogLine } from './types.js';

type InForce = FoldedLog['inForce'][number];

/** Book-keeping of the program: no person's word, so nothing for a person to take back step by step. */
const NOT_UNDONE: ReadonlySet<DecisionKind> = new Set([
  'seen',
  'withdraw',
  'calibration',
  'rider-minted',
  'published',
  'own-link',
  'take-down',
]);

/** Folds every writer's lines; `lines` need be neither sorted nor unique. */
export function fold(...logs: readonly (readonly LogLine[])[]): FoldedLog {
  const lines = mergeLines(...logs);
  const gestures = chosenGestures(lines);
  const withdrawn = withdrawnGestures(gestures);
  const standing = gestures.filter(({ gesture }) => !withdrawn.has(gesture));
  const said = withWholeCircuits(standing.flatMap(({ lines: ofGesture }) => ofGesture.flatMap(asInForce)));
  const inForce = withoutOverruled(
    said.filter(({ decision }) => !isBookKeeping(decision)),
    lines,
  );
  return {
    lines,
    gestures: standing.filter(canBeUndone).map(({ gesture }) => gesture),
    inForce,
    nextLamport: (lines.at(-1)?.lamport ?? 0) + 1,
  };
}

interface Gesture {
  readonly gesture: GestureId;
  readonly lines: readonly LogLine[];
}

function asInForce(line: LogLine): readonly InForce[] {
  const decision = decisionOf(line);
  return decision === null ? [] : [{ line, decision }];
}

const isBookKeeping = (decision: Decision): boolean => decision.kind === 'seen' || decision.kind === 'withdraw';

const canBeUndone = ({ lines }: Gesture): boolean =>
  lines.some((line) => {
    const decision = decisionOf(line);
    return decision !== null && !NOT_UNDONE.has(decision.kind);
  });

/** Gestures in order of their first line. One sent to two writers counts once: the whole one, else the earliest. */
function chosenGestures(lines: readonly LogLine[]): readonly Gesture[] {
  const lastSeq = new Map<WriterId, number>();
  const byGesture = new Map<GestureId, LogLine[]>();
  for (const line of lines) {
    lastSeq.set(line.writer, Math.max(line.seq, lastSeq.get(line.writer) ?? 0));
    const known = byGesture.get(line.gesture);
    if (known === undefined) byGesture.set(line.gesture, [line]);
    else known.push(line);
  }
  const chosen: Gesture[] = [];
  for (const [gesture, ofGesture] of byGesture) {
    const attempt = ofGesture.length === 1 && !ofGesture[0]?.part ? ofGesture : bestAttempt(ofGesture, lastSeq);
    if (attempt !== undefined) chosen.push({ gesture, lines: attempt });
  }
  return chosen.sort((a, b) => compareLines(a.lines[0] as LogLine, b.lines[0] as LogLine));
}

function bestAttempt(
  lines: readonly LogLine[],
  lastSeq: ReadonlyMap<WriterId, number>,
): readonly LogLine[] | undefined {
  const writers = [...new Set(lines.map((line) => line.writer))];
  const attempts = writers.map((writer) => onePerPart(lines.filter((line) => line.writer === writer)));
  const usable = attempts.filter((attempt) => isWhole(attempt) || !isCutOff(attempt, lastSeq));
  return usable.find(isWhole) ?? usable.sort((a, b) => b.length - a.length)[0];
}

const partOf = (line: LogLine): readonly [number, number] => line.part ?? [1, 1];

const onePerPart = (lines: readonly LogLine[]): readonly LogLine[] =>
  lines.filter((line, i) => lines.findIndex((other) => partOf(other)[0] === partOf(line)[0]) === i);

const isWhole = (attempt: readonly LogLine[]): boolean => attempt.length === partOf(attempt[0] as LogLine)[1];

/** The writer's file ends inside this gesture: it died while writing, and nobody was told that the gesture is safe. */
function isCutOff(attempt: readonly LogLine[], lastSeq: ReadonlyMap<WriterId, number>): boolean {
  const last = attempt.at(-1) as LogLine;
  return last.seq === lastSeq.get(last.writer) && partOf(last)[0] < partOf(last)[1];
}

/** From the last to the first, so that a withdraw that was itself withdrawn has no effect. */
function withdrawnGestures(gestures: readonly Gesture[]): ReadonlySet<GestureId> {
  const place = new Map(gestures.map(({ gesture }, i) => [gesture, i]));
  const withdrawn = new Set<GestureId>();
  for (const [i, { gesture, lines }] of [...gestures.entries()].reverse()) {
    if (withdrawn.has(gesture)) continue;
    for (const { decision } of lines.flatMap(asInForce)) {
      if (decision.kind !== 'withdraw') continue;
      const isEarlier = (place.get(decision.gesture) ?? i) < i;
      if (isEarlier) withdrawn.add(decision.gesture);
    }
  }
  return withdrawn;
}

const isKeepStatement = (statement: InForce): statement is KeepStatement =>
  statement.decision.kind === 'keep' || statement.decision.kind === 'leave-out';

/** File, and the very point where one was meant; who knows more (exposures, bikes) asks {@link lastWord} again. */
function targetOf({ decision }: KeepStatement): string {
  const point = decision.point;
  return point === undefined ? decision.file : `${decision.file} ${point.x} ${point.y}`;
}

function groupByTarget(statements: readonly KeepStatement[]): ReadonlyMap<string, readonly KeepStatement[]> {
  const groups = new Map<string, KeepStatement[]>();
  for (const statement of statements) {
    const group = groups.get(targetOf(statement));
    if (group === undefined) groups.set(targetOf(statement), [statement]);
    else group.push(statement);
  }
  return groups;
}

/** Leaves one statement per kept or left-out thing, and none that would show what was taken down. */
function withoutOverruled(statements: readonly InForce[], lines: readonly LogLine[]): readonly InForce[] {
  const byTarget = groupByTarget(statements.filter(isKeepStatement));
  const causality = causalityOf(lines);
  const down = takenDown({ inForce: statements });
  const overruled = new Set<InForce>();
  for (const ofTarget of byTarget.values()) {
    const winner = winnerOf(ofTarget, causality);
    for (const one of ofTarget) if (one !== winner) overruled.add(one);
    if (winner?.decision.kind === 'keep' && down.files.has(winner.decision.file)) overruled.add(winner);
  }
  return statements.filter((statement) => !overruled.has(statement));
}

const winnerOf = (statements: readonly KeepStatement[], causality: Causality): KeepStatement | undefined =>
  statements.length === 1 ? statements[0] : lastWord(statements, causality);
