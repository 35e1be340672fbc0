/** Proposes keepers for every rider, greedily, under a person's word. Rules in docs/rules/choose.md. */
import type { Arrangement, BikeRef, Rider } from '../arrange/types.js';
import { bikeKeyOf, type Coverage, GOOD_FRAME_RULES, judgePasses, type PassJudgements } from '../cover/index.js';
import type { FrameId, RiderKey } from '../ids.js';
import type { Judged } from '../judge/index.js';
import type { FoldedLog } from '../log/types.js';
import type { FrameMeasurement } from '../measure/types.js';
import { once, onceEach } from '../numeric/once.js';
import { limitInAll } from './limitInAll.js';
import { offersOf } from './offers.js';
import { type RiderSet, riderSet } from './riderSet.js';
import type { ChooseRules, Keepers, SpotsFacts, TakenWith } from './types.js';
import { bikesPointedAt, type Word, wordsOf } from './words.js';

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

export const chooseKeepers = (input: ChooseInput, sets = setsOf(input)): Keepers => {
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

export const setsOf = (input: ChooseInput): RiderSets => rememberingSets()(input);

/**
 * Sets that keep what the next ones can use: after a word about one rider's frames, only that rider's set is made anew.
 * What is told of frames must be other objects when what is in them has changed.
 */
export function rememberingSets(): (input: ChooseInput) => RiderSets {
  let known: ReturnType<typeof knownOf> | null = null;
  const made = new Map<RiderKey, { readonly under: string; readonly set: RiderSet }>();
  return (input) => {
    if (known === null || !isSameDay(known.input, input)) {
      known = knownOf(input);
      made.clear();
    }
    const { riders, offersOf } = known;
    const rules = rulesOf(input);
    const words = wordsOf(input.arrangement, input.pixels, input.log, known.bikesAt());
    const rulesText = JSON.stringify(rules);
    const make = (rider: Rider): RiderSet => {
      const offers = offersOf(rider);
      const said = offers.map(({ bike }) => words.get(bikeKeyOf(bike)));
      const under = `${rulesText} ${said.join()}`;
      const before = made.get(rider.key);
      if (before?.under === under) return before.set;
      const set = riderSet(rider, offers, words, rules);
      made.set(rider.key, { under, set });
      return set;
    };
    const limited =
      rules.mostInAll === null
        ? null
        : new Map(limitInAll([...riders.values()].map(make), rules).map((set) => [set.rider.key, set] as const));
    const asked = onceEach((rider: Rider) => limited?.get(rider.key) ?? make(rider));
    return {
      rules,
      words,
      setOf(key) {
        const rider = riders.get(key);
        return rider === undefined ? null : asked(rider);
      },
    };
  };
}

/** What hangs on the frames alone, whatever a person says of them. */
function knownOf(input: ChooseInput) {
  const { arrangement, pixels, coverage } = input;
  const judgements = input.judgements ?? judgePasses(arrangement, pixels, coverage.rules.goodFrame ?? GOOD_FRAME_RULES);
  const order = new Map(arrangement.exposures.map((exposure, index) => [exposure.frameId, index]));
  return {
    input,
    riders: new Map(arrangement.riders.map((rider) => [rider.key, rider])),
    offersOf: onceEach((rider: Rider) => offersOf(rider, { ...input, judgements }, order)),
    bikesAt: once(() => bikesPointedAt(arrangement, pixels)),
  };
}

const isSameDay = (one: ChooseInput, other: ChooseInput): boolean =>
  one.arrangement === other.arrangement &&
  one.pixels === other.pixels &&
  one.judgements === other.judgements &&
  one.judged === other.judged &&
  one.taken === other.taken &&
  one.spots === other.spots &&
  (other.judgements !== undefined || one.coverage === other.coverage);

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
