/**
 * Which frames of a rider are good: the bike whole, the subject sharp against what was reached there.
 *
 * Sharpness is compared only with frames measured at the same scale, and with other riders' frames: a rider
 * does not set the bar for himself, so one more frame of his can never make his others worse.
 * Rules CV1–CV6, CV21 and CV23 in docs/rules/cover.md.
 */
import type { Arrangement, BikeRef, Pass } from '../arrange/types.js';
import type { FrameId } from '../ids.js';
import type { FrameMeasurement, Sharpness, Subject } from '../measure/types.js';
import type { ComparedWith, GoodFrameJudgement, GoodFrameRules } from './types.js';

export const GOOD_FRAME_RULES: GoodFrameRules = {
  sharpFrom: 0.5,
  sharpestOfPassFrom: 0.35,
  asSharpFrom: 0.9,
  passesToCompare: 5,
  doubtedBelow: 0.25,
};

/** The key of a bike in maps: one string for frame and subject. */
export const bikeKeyOf = (bike: BikeRef): string => `${bike.frameId}:${bike.subject}`;

export type Judgements = ReadonlyMap<string, GoodFrameJudgement>;

/** Per pass, beside its bikes. */
export type PassJudgements = readonly (readonly GoodFrameJudgement[])[];

type Pixels = ReadonlyMap<FrameId, FrameMeasurement>;

/** What can be compared: the bikes of one pass whose sharpness was measured at one scale. */
interface Comparable {
  readonly pass: Pass;
  readonly scale: number;
  /** Where the judgements of the pass are put. */
  readonly judged: GoodFrameJudgement[];
  readonly bikes: { readonly at: number; readonly overall: number }[];
}

interface Reference {
  readonly value: number | null;
  readonly comparedWith: ComparedWith;
  /** What was reached there is so far below the day's that it says nothing. */
  readonly isDoubted: boolean;
}

/** The subject a bike refers to, or why there is none. */
export function subjectOf(bike: BikeRef, pixels: Pixels): Subject | { readonly kind: 'none'; readonly reason: string } {
  const measured = pixels.get(bike.frameId);
  if (bike.subject < 0) return { kind: 'none', reason: 'only a person saw this bike; nothing was measured of it' };
  if (!measured) return { kind: 'none', reason: 'not measured yet' };
  if (measured.kind === 'unmeasurable') return { kind: 'none', reason: measured.reason };
  return measured.subjects[bike.subject] ?? { kind: 'none', reason: 'this bike is not in the newest measurement' };
}

/** Judges every bike of every pass. Pure and deterministic; about linear in the number of bikes. */
export function judgePasses(arrangement: Arrangement, pixels: Pixels, rules = GOOD_FRAME_RULES): PassJudgements {
  const judged = arrangement.passes.map(({ bikes }): GoodFrameJudgement[] => new Array(bikes.length));
  const comparable = arrangement.passes.flatMap((pass, p) => comparablesOf(pass, pixels, judged[p]!));
  const rings = ringsOf(comparable);
  for (const together of comparable) judgePass(together, rings, rules);
  return judged;
}

/** The same by `bikeKeyOf`. */
export function judgeBikes(arrangement: Arrangement, pixels: Pixels, rules = GOOD_FRAME_RULES): Judgements {
  const judged = judgePasses(arrangement, pixels, rules);
  return new Map(
    arrangement.passes.flatMap(({ bikes }, p) => bikes.map((bike, k) => [bikeKeyOf(bike), judged[p]![k]!] as const)),
  );
}

/** One bike's judgement; see `judgeBikes` for all of them at once. */
export function isGoodFrame(bike: BikeRef, arrangement: Arrangement, pixels: Pixels, rules = GOOD_FRAME_RULES) {
  const judgement = judgeBikes(arrangement, pixels, rules).get(bikeKeyOf(bike));
  return judgement ?? ({ kind: 'unsure', reason: 'this bike is in no pass' } as const satisfies GoodFrameJudgement);
}

/** What of a pass can be compared; the rest is judged at once. */
function comparablesOf(pass: Pass, pixels: Pixels, judged: GoodFrameJudgement[]): readonly Comparable[] {
  const byScale: Comparable[] = [];
  for (const [at, bike] of pass.bikes.entries()) {
    const subject = subjectOf(bike, pixels);
    const verdict = verdictWithoutComparing(subject);
    if (verdict !== null) judged[at] = verdict;
    else {
      const { scalePx, overall } = (subject as Subject).sharpness as Sharpness;
      const scale = scaleOf(scalePx);
      let own = byScale.find((one) => one.scale === scale);
      if (own === undefined) {
        own = { pass, scale, judged, bikes: [] };
        byScale.push(own);
      }
      own.bikes.push({ at, overall });
    }
  }
  return byScale;
}

function verdictWithoutComparing(subject: ReturnType<typeof subjectOf>): GoodFrameJudgement | null {
  if ('kind' in subject) return { kind: 'unsure', reason: subject.reason };
  if (subject.isCut) return { kind: 'cut', reason: 'the bike touches the edge of the picture' };
  if ('kind' in subject.sharpness)
    return { kind: 'unsure', reason: `sharpness not measured: ${subject.sharpness.reason}` };
  return null;
}

/** Sharpness falls as pictures are made smaller: only like is compared with like (steps of a quarter octave). */
const scaleOf = (scalePx: number): number => Math.round(Math.log2(Math.max(1, scalePx)) * 4);

/** From near to far; the first ring with enough passes of other riders is the one compared with. */
const RINGS: readonly { readonly name: ComparedWith; readonly key: (one: Comparable) => string | null }[] = [
  {
    name: 'spot-and-session',
    key: (one) => (one.pass.spot ? `${one.scale}|${one.pass.body}|${one.pass.session}|${one.pass.spot}` : null),
  },
  { name: 'session', key: (one) => `${one.scale}|${one.pass.body}|${one.pass.session}` },
  { name: 'day', key: (one) => `${one.scale}|${one.pass.body}` },
];

type PassBest = { readonly rider: string; readonly best: number };
type Rings = readonly { readonly name: ComparedWith; readonly bests: ReadonlyMap<string, readonly PassBest[]> }[];

/** Per ring and key: the sharpest frame of each pass, in ascending order of sharpness. */
function ringsOf(comparable: readonly Comparable[]): Rings {
  return RINGS.map(({ name, key }) => {
    const bests = new Map<string, PassBest[]>();
    for (const one of comparable) {
      const where = key(one);
      if (where === null) continue;
      const best = { rider: one.pass.rider, best: Math.max(...one.bikes.map(({ overall }) => overall)) };
      const list = bests.get(where);
      if (list === undefined) bests.set(where, [best]);
      else list.push(best);
    }
    for (const list of bests.values()) list.sort((a, b) => a.best - b.best);
    return { name, bests };
  });
}

/** The median of other riders' best frames in the nearest ring that has enough of them. */
function referenceFor(one: Comparable, rings: Rings, rules: GoodFrameRules): Reference {
  for (const [index, ring] of rings.entries()) {
    const where = RINGS[index]!.key(one);
    const others = where === null ? [] : (ring.bests.get(where) ?? []).filter((best) => best.rider !== one.pass.rider);
    if (others.length < rules.passesToCompare) continue;
    const median = others[(others.length - 1) >> 1]!.best;
    if (median <= 0) continue;
    const better = betterOfDay(one, rings, median / rules.doubtedBelow);
    return better === null
      ? { value: median, comparedWith: ring.name, isDoubted: false }
      : { value: better, comparedWith: 'day', isDoubted: true };
  }
  return { value: null, comparedWith: 'own-pass', isDoubted: false };
}

/**
 * What the better quarter of other riders' best frames reaches with this body in the day, where that lies above `atLeast`. A whole
 * session out of focus sets itself a bar that its soft frames pass.
 */
function betterOfDay(one: Comparable, rings: Rings, atLeast: number): number | null {
  const ofDay = rings.at(-1)!.bests.get(RINGS.at(-1)!.key(one)!)!;
  if (ofDay.at(-1)!.best <= atLeast) return null;
  const others = ofDay.filter((best) => best.rider !== one.pass.rider);
  const better = others[Math.floor(0.75 * (others.length - 1))]!.best;
  return better > atLeast ? better : null;
}

/** All bikes of one pass at one scale: they share their reference, and one of them is the sharpest. */
function judgePass(together: Comparable, rings: Rings, rules: GoodFrameRules): void {
  const reference = referenceFor(together, rings, rules);
  const sharpest = together.bikes.reduce((best, one) => (one.overall > best.overall ? one : best));
  const { value, comparedWith } = reference;
  const standings = value === null ? [] : together.bikes.map(({ overall }) => overall / value);
  // The least of them: a sharper one of the pass takes nothing from what is as sharp as this.
  const leastGood = Math.min(...standings.filter((standing) => standing >= rules.sharpFrom));
  for (const [i, one] of together.bikes.entries()) {
    const standing = standings[i];
    const isSharpest = one === sharpest;
    const judged =
      standing === undefined
        ? againstOwnPass(one.overall / sharpest.overall, isSharpest, together.bikes.length, rules)
        : againstOthers(standing, { isSharpest, leastGood, comparedWith }, rules);
    together.judged[one.at] = reference.isDoubted && judged.kind === 'soft' ? DOUBTED : judged;
  }
}

const DOUBTED: GoodFrameJudgement = {
  kind: 'unsure',
  reason: 'all that was taken there is far softer than the day’s better frames: look whether the lens was out of focus',
};

const AS_SHARP: GoodFrameJudgement = {
  kind: 'unsure',
  reason: 'all but as sharp as the sharpest of its pass, and there is nothing else to compare with',
};

const WHERE: Readonly<Record<ComparedWith, string>> = {
  'spot-and-session': 'at this spot in this session',
  session: 'in this session',
  day: 'with this body today',
  'own-pass': 'in its own pass',
};

interface InItsPass {
  readonly isSharpest: boolean;
  /** Standing of the least sharp frame of the pass that is sharp by itself; infinite where none is. */
  readonly leastGood: number;
  readonly comparedWith: ComparedWith;
}

function againstOthers(
  standing: number,
  { isSharpest, leastGood, comparedWith }: InItsPass,
  rules: GoodFrameRules,
): GoodFrameJudgement {
  const share = `${Math.round(standing * 100)} % of what others' best frames reach ${WHERE[comparedWith]}`;
  if (standing >= rules.sharpFrom) return { kind: 'good', reason: `sharp: ${share}`, comparedWith, standing } as const;
  if (isSharpest && standing >= rules.sharpestOfPassFrom) {
    return { kind: 'good', reason: `the sharpest of its pass: ${share}`, comparedWith, standing } as const;
  }
  if (standing >= rules.asSharpFrom * leastGood) {
    return { kind: 'good', reason: `as sharp as a sharp one of its pass: ${share}`, comparedWith, standing } as const;
  }
  return { kind: 'soft', reason: `soft: ${share}`, comparedWith, standing } as const;
}

function againstOwnPass(share: number, isSharpest: boolean, frames: number, rules: GoodFrameRules): GoodFrameJudgement {
  if (frames < 2) return { kind: 'unsure', reason: 'nothing to compare its sharpness with yet' };
  if (!isSharpest && share >= rules.asSharpFrom) return AS_SHARP;
  const compared = { comparedWith: 'own-pass', standing: null } as const;
  return isSharpest
    ? { kind: 'good', reason: `the sharpest of ${frames} frames of its pass`, ...compared }
    : {
        kind: 'soft',
        reason: 'another frame of its pass is sharper, and there is nothing else to compare with',
        ...compared,
      };
}
