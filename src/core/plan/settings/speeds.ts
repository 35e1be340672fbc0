/** How quick a group goes by a spot: what a person said, what was measured, what can be guessed, each kept as what it is. */
import { metresPerSecond, speedOfLeanMs } from '../../numeric/motion.js';
import type { SpotView } from '../circuit/types.js';
import { LEAN, LEAN_OF_ANYBODY, PACE, STRAIGHT_BY_MEAN } from './practice.js';
import type { Level, Practice, Range, Speed, SpeedSources } from './types.js';

/** Wider bends are taken by the throttle, not by the lean: own convention. */
const WIDEST_BEND_M = 300;
/** Either way, for a speed taken over from another group: own convention. */
const TAKEN_OVER = 0.1;

/** The one to work with first: a person's word, a measurement, then guesses, nearest to the spot first. */
export const speedsAt = (view: SpotView, sources: SpeedSources): readonly [Speed, ...Speed[]] => {
  const bend = bendOf(view);
  const known = [
    ...(sources.saidKmh === undefined ? [] : [{ kind: 'said', kmh: sources.saidKmh } as const]),
    ...(sources.measured === undefined ? [] : [{ kind: 'measured', ...sources.measured } as const]),
    ...fromOthers(bend, sources),
    ...(bend === null ? [] : [fromLean(bend, sources.level)]),
    ...fromRecord(bend, sources),
  ];
  const [first, ...rest] = known;
  if (first !== undefined) return [first, ...rest];
  return [
    {
      kind: 'unknown',
      reason: 'No word, no bend to guess a lean from, no lap record with a length of lap and a level.',
    },
  ];
};

export const kmhOf = (speed: Speed): Range | null => {
  switch (speed.kind) {
    case 'said':
    case 'measured':
      return [speed.kmh, speed.kmh];
    case 'guessed':
      return speed.kmh;
    case 'unknown':
      return null;
  }
};

export const msOf = (speed: Speed): Range | null => {
  const kmh = kmhOf(speed);
  return kmh === null ? null : [metresPerSecond(kmh[0]), metresPerSecond(kmh[1])];
};

const bendOf = ({ radiusM }: SpotView): number | null =>
  radiusM !== null && radiusM <= WIDEST_BEND_M ? radiusM : null;

const fromLean = (radiusM: number, level: Level | null): Speed => {
  const lean = level === null ? LEAN_OF_ANYBODY : LEAN[level];
  const kmh = (deg: number) => speedOfLeanMs(radiusM, deg) * 3.6;
  return {
    kind: 'guessed',
    from: 'lean-and-radius',
    kmh: [kmh(lean.range[0]), kmh(lean.range[1])],
    reasons: [
      `Radius ${Math.round(radiusM)} m, from the drawing.`,
      `Lean ${rangeWords(lean.range, '°')}: ${markWords(lean)}, ${lean.says}.`,
    ],
  };
};

const fromRecord = (bend: number | null, { level, lapRecordMs, lapLengthM }: SpeedSources): readonly Speed[] => {
  if (level === null || lapRecordMs === undefined || lapLengthM === undefined) return [];
  const pace = PACE[level];
  const mean = (times: number) => (lapLengthM / ((lapRecordMs / 1000) * times)) * 3.6;
  const [slowest, quickest] = [mean(pace.range[1]), mean(pace.range[0])];
  return [
    {
      kind: 'guessed',
      from: 'lap-record-and-pace',
      kmh: bend === null ? [slowest, mean(middle(pace)) * STRAIGHT_BY_MEAN.range[1]] : [slowest, quickest],
      reasons: [
        `Lap record × ${rangeWords(pace.range, '')}: ${markWords(pace)}, ${pace.says}.`,
        bend === null
          ? `The lap’s mean, and up to ${STRAIGHT_BY_MEAN.range[1]} times as much on a straight: ${markWords(STRAIGHT_BY_MEAN)}.`
          : 'The lap’s mean; this bend may be slower or quicker.',
      ],
    },
  ];
};

const fromOthers = (bend: number | null, { level, others = [] }: SpeedSources): readonly Speed[] =>
  others.flatMap(({ group, level: otherLevel, kmh }): readonly Speed[] => {
    if (level === null || otherLevel === null) return [];
    const ratio = bend === null ? middle(PACE[otherLevel]) / middle(PACE[level]) : leanRatio(level, otherLevel);
    const own = kmh * ratio;
    return [
      {
        kind: 'guessed',
        from: 'word-about-another-group',
        kmh: [own * (1 - TAKEN_OVER), own * (1 + TAKEN_OVER)],
        reasons: [
          `${Math.round(kmh)} km/h was said of ${group}, times ${ratio.toFixed(2)} for the ${bend === null ? 'pace' : 'lean'} of the levels, ±10 %.`,
        ],
      },
    ];
  });

const middle = ({ range: [low, high] }: Practice): number => (low + high) / 2;
const leanRatio = (own: Level, other: Level): number =>
  speedOfLeanMs(1, middle(LEAN[own])) / speedOfLeanMs(1, middle(LEAN[other]));

const MARKS = {
  published: 'published',
  'common-practice': 'common practice',
  'own-convention': 'our own guess',
} as const;
export const markWords = ({ basis }: Practice): string => MARKS[basis];

export const rangeWords = ([low, high]: Range, unit: string): string =>
  low === high ? `${low}${unit}` : `${low}–${high}${unit}`;

/** What a group's name says of its level, as a guess for the person to settle; null: nothing. */
export const guessLevel = (name: string): Level | null =>
  (Object.keys(LEVEL_WORDS) as Level[]).find((level) => LEVEL_WORDS[level].test(name)) ?? null;

const LEVEL_WORDS: Readonly<Record<Level, RegExp>> = {
  novice: /\b(novices?|beginners?|slow)\b/i,
  inters: /\b(inters?|intermediates?|medium)\b/i,
  fast: /\b(fast|advanced|experts?|quick)\b/i,
};
