/** What stands when people said different things about the same file (settled point 3 of the design). */
import type { FileId, RiderId } from '../ids.js';
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

/** Files and riders that must not be shown, whatever was kept or published after. */
export function takenDown(log: Pick<FoldedLog, 'inForce'>): {
  readonly files: ReadonlySet<FileId>;
  readonly riders: ReadonlySet<RiderId>;
} {
  const files = new Set<FileId>();
  const riders = new Set<RiderId>();
  for (const { decision } of log.inForce) {
    if (decision.kind !== 'take-down') continue;
    if (decision.file !== undefined) files.add(decision.file);
    if (decision.rider !== undefined) riders.add(decision.rider);
  }
  return { files, riders };
}
