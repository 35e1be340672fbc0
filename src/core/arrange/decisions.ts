/** What people said, sorted by what it is about. */
import type { BodyKey, FillId } from '../ids.js';
import type { Decision, FoldedLog } from '../log/types.js';

export type DecisionOf<Kind extends Decision['kind']> = Extract<Decision, { kind: Kind }>;

export interface Words {
  readonly fillBodies: ReadonlyMap<FillId, BodyKey>;
  readonly clocks: readonly DecisionOf<'body-clock'>[];
  readonly boundaries: readonly DecisionOf<'boundary'>[];
  readonly groups: readonly DecisionOf<'session-is'>[];
  readonly stands: readonly DecisionOf<'stood-at'>[];
  readonly apart: readonly DecisionOf<'apart'>[];
  readonly settled: readonly DecisionOf<'settled'>[];
  /** About riders, in order of their saying. */
  readonly riders: readonly RiderDecision[];
}

export type RiderDecision = DecisionOf<
  'same-rider' | 'different-riders' | 'line-up' | 'rider-is' | 'rider-minted' | 'instructor'
>;

const RIDER_KINDS: ReadonlySet<Decision['kind']> = new Set([
  'same-rider',
  'different-riders',
  'line-up',
  'rider-is',
  'rider-minted',
  'instructor',
]);

export function wordsOf(log: FoldedLog): Words {
  const decisions = log.inForce.map(({ decision }) => decision);
  const of = <Kind extends Decision['kind']>(kind: Kind): DecisionOf<Kind>[] =>
    decisions.filter((decision): decision is DecisionOf<Kind> => decision.kind === kind);
  return {
    fillBodies: new Map(of('fill-body').map(({ fill, body }) => [fill, body])),
    clocks: of('body-clock'),
    boundaries: of('boundary'),
    groups: of('session-is'),
    stands: of('stood-at'),
    apart: of('apart'),
    settled: of('settled'),
    riders: decisions.filter((decision): decision is RiderDecision => RIDER_KINDS.has(decision.kind)),
  };
}
