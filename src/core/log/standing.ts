/** What stands when people said different things about the same file (settled point 3 of the design). */
import type { FileId, PersonId, RiderId } from '../ids.js';
import type { Causality } from './causality.js';
import type { Decision, FoldedLog, LogLine } from './types.js';

type InForce<Kind extends Decision['kind']> = {
  readonly line: LogLine;
  readonly decision: Extract<Decision, { kind: Kind }>;
};

export type KeepStatement = InForce<'keep' | 'leave-out'>;

/**
 * Of statements about one and the same thing, in order: the later one stands; of those said at once, `keep` does.
 * Callers who know that two files are one exposure, or two points one bike, pass both files' statements together.
 */
export function lastWord(statements: readonly KeepStatement[], causality: Causality): KeepStatement | undefined {
  const unanswered = statements.filter(
    (one) => !statements.some((other) => other !== one && causality.isBefore(one.line, other.line)),
  );
  return unanswered.findLast((one) => one.decision.kind === 'keep') ?? unanswered.at(-1);
}

/** Files, riders and persons that must not be shown, whatever was kept or published after. */
export function takenDown(log: Pick<FoldedLog, 'inForce'>): {
  readonly files: ReadonlySet<FileId>;
  readonly riders: ReadonlySet<RiderId>;
  readonly persons: ReadonlySet<PersonId>;
} {
  const files = new Set<FileId>();
  const riders = new Set<RiderId>();
  const persons = new Set<PersonId>();
  for (const { decision } of log.inForce) {
    if (decision.kind !== 'take-down') continue;
    if (decision.file !== undefined) files.add(decision.file);
    if (decision.rider !== undefined) riders.add(decision.rider);
    if (decision.person !== undefined) persons.add(decision.person);
  }
  return { files, riders, persons };
}

/**
 * Whether a frame with these files is held back: the later word stands, and of those said at once on two laptops `held` does.
 * `causality` is asked only where somebody released it.
 */
export function isHeld(files: readonly FileId[], log: Pick<FoldedLog, 'inForce'>, causality: () => Causality): boolean {
  const said = log.inForce.filter(
    (one): one is InForce<'held' | 'released'> =>
      (one.decision.kind === 'held' || one.decision.kind === 'released') && files.includes(one.decision.file),
  );
  const held = said.filter(({ decision }) => decision.kind === 'held');
  const released = said.filter(({ decision }) => decision.kind === 'released');
  return held.some((one) => !released.some((other) => causality().isBefore(one.line, other.line)));
}
