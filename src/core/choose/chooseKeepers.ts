/** Proposes keepers for every rider, greedily, under a person's word. Rules in docs/rules/choose.md. */
import type { Arrangement, BikeRef } from '../arrange/types.js';
import { bikeKeyOf, type Coverage, GOOD_FRAME_RULES, judgePasses, type PassJudgements } from '../cover/index.js';
import type { FrameId } from '../ids.js';
import type { Judged } from '../judge/index.js';
import type { FoldedLog } from '../log/types.js';
import type { FrameMeasurement } from '../measure/types.js';
import { limitInAll } from './limitInAll.js';
import { offersOf } from './offers.js';
import { type RiderSet, riderSet } from './riderSet.js';
import type { ChooseRules, Keepers, SpotsFacts, TakenWith } from './types.js';
import { type Word, wordsOf } from './words.js';

export interface ChooseInput {
  readonly arrangement: Arrangement;
  readonly coverage: Coverage;
  readonly pixels: ReadonlyMap<FrameId, FrameMeasurement>;
  readonly log: FoldedLog;
  /** In place of what was said and of the program's own. */
  readonly rules?: Partial<ChooseRules>;
  /** Of this arrangement by the coverage's rules, where somebody judged them already. */
  readonly judgements?: PassJudgements;
  /** By `bikeKeyOf`: what a closer look said. Without it, the small picture's word stands. */
  readonly judged?: ReadonlyMap<string, Judged>;
  readonly taken?: ReadonlyMap<FrameId, TakenWith>;
  readonly spots?: SpotsFacts;
}

/** Ten to thirty finished pictures a rider from at least three angles is common practice, no source. */
export const CHOOSE_RULES: ChooseRules = { mostPerRider: 12, mostPerSpot: 4, mostInAll: null, leastPerRider: 3 };

export const chooseKeepers = (input: ChooseInput): Keepers => keepersOf(chooseSets(input));

export interface ChosenSets {
  readonly rules: ChooseRules;
  readonly words: ReadonlyMap<string, Word>;
  /** In the arrangement's order of riders. */
  readonly sets: readonly RiderSet[];
  readonly arrangement: Arrangement;
}

export function chooseSets(input: ChooseInput): ChosenSets {
  const { arrangement, pixels, log, coverage } = input;
  const rules = rulesOf(input);
  const words = wordsOf(arrangement, pixels, log);
  const judgements = input.judgements ?? judgePasses(arrangement, pixels, coverage.rules.goodFrame ?? GOOD_FRAME_RULES);
  const order = new Map(arrangement.exposures.map((exposure, index) => [exposure.frameId, index]));
  const sets = arrangement.riders.map((rider) =>
    riderSet(rider, offersOf(rider, { ...input, judgements }, order), words, rules),
  );
  return { rules, words, sets: limitInAll(sets, rules), arrangement };
}

export const keepersOf = ({ rules, words, sets, arrangement }: ChosenSets): Keepers => ({
  rules,
  byRider: new Map(sets.map(({ rider, taken }) => [rider.key, taken.map(({ keeper }) => keeper)])),
  leftOut: leftOut(arrangement, words),
});

function rulesOf({ log, rules }: ChooseInput): ChooseRules {
  const last = log.inForce.findLast(({ decision }) => decision.kind === 'choose-rules')?.decision;
  const { kind: _, ...said } = last?.kind === 'choose-rules' ? last : { kind: null };
  const all = { ...CHOOSE_RULES, ...said, ...rules };
  return { ...all, leastPerRider: Math.min(all.leastPerRider, all.mostPerRider) };
}

function leftOut(arrangement: Arrangement, words: ReadonlyMap<string, Word>): readonly BikeRef[] {
  if (words.size === 0) return [];
  return arrangement.passes.flatMap((pass) => pass.bikes).filter((bike) => words.get(bikeKeyOf(bike)) === 'leave-out');
}
