/** Proposes keepers for every rider, greedily, under a person's word. Rules in docs/rules/choose.md. */
import type { Arrangement, BikeRef, Rider } from '../arrange/types.js';
import { bikeKeyOf, type Coverage, GOOD_FRAME_RULES, judgePasses, type PassJudgements } from '../cover/index.js';
import type { FrameId, RiderKey } from '../ids.js';
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

export const chooseKeepers = (input: ChooseInput): Keepers => {
  const sets = setsOf(input);
  const { arrangement } = input;
  return {
    rules: sets.rules,
    byRider: new Map(
      arrangement.riders.map(({ key }) => [key, sets.setOf(key)?.taken.map(({ keeper }) => keeper) ?? []] as const),
    ),
    leftOut: leftOut(arrangement, sets.words),
  };
};

export interface RiderSets {
  readonly rules: ChooseRules;
  readonly words: ReadonlyMap<string, Word>;
  /** Null: no such rider. Each is made when it is first asked for; under a limit over all riders, all at once. */
  readonly setOf: (rider: RiderKey) => RiderSet | null;
}

export function setsOf(input: ChooseInput): RiderSets {
  const { arrangement, pixels, log, coverage } = input;
  const rules = rulesOf(input);
  const words = wordsOf(arrangement, pixels, log);
  const judgements = input.judgements ?? judgePasses(arrangement, pixels, coverage.rules.goodFrame ?? GOOD_FRAME_RULES);
  const known = { ...input, judgements };
  const order = new Map(arrangement.exposures.map((exposure, index) => [exposure.frameId, index]));
  const make = (rider: Rider): RiderSet => riderSet(rider, offersOf(rider, known, order), words, rules);
  const riders = new Map(arrangement.riders.map((rider) => [rider.key, rider]));
  const made = new Map<RiderKey, RiderSet>();
  if (rules.mostInAll !== null)
    for (const set of limitInAll(arrangement.riders.map(make), rules)) made.set(set.rider.key, set);
  return {
    rules,
    words,
    setOf(key) {
      const rider = riders.get(key);
      if (rider === undefined) return null;
      const set = made.get(key) ?? make(rider);
      made.set(key, set);
      return set;
    },
  };
}

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
