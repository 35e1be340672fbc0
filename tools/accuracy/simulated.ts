/**
 * What the program makes of simulated days (descriptors, not frames), against their truth: how right its riders are, how
 * many frames it places and how surely, what forty screens of questions are worth, how many riders are still unseen.
 */
import { hardDay, measureStrength, type Setting, syntheticDay } from '../../demo/simulated-day/index.js';
import { arrange } from '../../src/core/arrange/index.js';
import { reliability } from '../../src/core/numeric/reliability.js';
import type { Figure, Figures } from '../figures.js';
import { type Answered, answerScreens, eyeOf } from './person.js';
import { ownersOf, type PlacedBike, placedBikes, type RidersScore, scoreRiders, scoreWords } from './ridersScore.js';
import { SEEDS } from './seeds.js';
import { scoreUnseen, type UnseenCase, withFoundIdentities, withTrueIdentities } from './unseen.js';

const SETTINGS: readonly Setting[] = ['s74', 's50', 'fleet'];
const BUDGET_MS = 8 * 60_000;

interface SimulatedAccuracy {
  readonly rows: readonly string[];
  readonly figures: Figures;
}

interface DayResult {
  readonly setting: Setting;
  readonly seed: number;
  readonly frames: number;
  readonly score: RidersScore;
  /** Of the same day when nobody has said its timetable. */
  readonly untimed: RidersScore;
  /** Of days that end so early, by rounds of sessions. */
  readonly thin: readonly RidersScore[];
  readonly bikes: readonly PlacedBike[];
  readonly answered: Answered;
  readonly after: RidersScore;
  readonly unseenTrue: readonly UnseenCase[];
  readonly unseenFound: readonly UnseenCase[];
}

export function simulatedAccuracy(): SimulatedAccuracy {
  const until = performance.now() + BUDGET_MS;
  const results: DayResult[] = [];
  const left: string[] = [];
  for (const seed of SEEDS.reported)
    for (const setting of SETTINGS) {
      if (performance.now() > until) left.push(`${setting} ${seed}`);
      else results.push(measureDay(setting, seed));
    }
  return { rows: [...strengthRows(), ...rowsOf(results), ...leftRows(left)], figures: figuresOf(results) };
}

/** As at lunch, or after the first card: few passes have taught what bikes look like. */
const THIN_ROUNDS = [1, 2] as const;

function measureDay(setting: Setting, seed: number): DayResult {
  const day = syntheticDay(hardDay(setting, seed));
  const arrangement = arrange(day.input);
  const eye = eyeOf(day);
  const bikes = placedBikes(arrangement, eye);
  const answered = answerScreens(day.input, eye, seed);
  return {
    setting,
    seed,
    frames: day.input.files.length,
    score: scoreRiders(bikes),
    untimed: scoreRiders(placedBikes(arrange({ ...day.input, timetable: null }), eye)),
    thin: THIN_ROUNDS.map((rounds) => thinScore(setting, seed, rounds)),
    bikes,
    answered,
    after: scoreRiders(placedBikes(answered.arrangement, eye)),
    unseenTrue: withTrueIdentities(day),
    unseenFound: withFoundIdentities(day, arrangement),
  };
}

function thinScore(setting: Setting, seed: number, rounds: number): RidersScore {
  const day = syntheticDay({ ...hardDay(setting, seed), rounds });
  return scoreRiders(placedBikes(arrange(day.input), eyeOf(day)));
}

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

const strengthRows = (): readonly string[] =>
  (['s74', 's50'] as const).map((setting) => {
    const shares = SEEDS.reported.map((seed) => measureStrength(hardDay(setting, seed)));
    const list = shares.map((share) => (100 * share).toFixed(0)).join(', ');
    return `${setting}: rank-1 of one frame among 148 others is ${(100 * mean(shares)).toFixed(1)} % (${list})`;
  });

const leftRows = (left: readonly string[]): readonly string[] =>
  left.length === 0 ? [] : [`NOT MEASURED, out of time: ${left.join(', ')}`];

function rowsOf(results: readonly DayResult[]): readonly string[] {
  const days = results.flatMap((result) => [
    `${result.setting} ${result.seed}: ${result.frames} frames, ${scoreWords(result.score)}`,
    `  without a timetable: ${scoreWords(result.untimed)}`,
    ...result.thin.map((score, i) => `  rounds photographed: ${THIN_ROUNDS[i]}: ${scoreWords(score)}`),
    `  after ${answeredWords(result)}: ${scoreWords(result.after)}`,
  ]);
  return [...days, ...SETTINGS.flatMap((setting) => calibrationRows(setting, results)), ...unseenRows(results)];
}

const answeredWords = ({ answered: { asked } }: DayResult): string =>
  `${asked.length} screens (${asked.reduce((sum, { seconds }) => sum + seconds, 0).toFixed(0)} s of a person)`;

/** The reliability curve, where the program says how sure it is. */
function calibrationRows(setting: Setting, results: readonly DayResult[]): readonly string[] {
  const curve = reliability(sureness(setting, results));
  if (curve === null) return [];
  const bins = curve.bins.map(({ said, right, count }) => `${said.toFixed(2)}→${right.toFixed(2)} (${count})`);
  return [
    `${setting}: confidence said→right: ${bins.join(', ')}; expected calibration error ${curve.expectedError.toFixed(4)}, ` +
      `Brier ${curve.brier.toFixed(4)} against ${curve.brierOfConstant.toFixed(4)} of the constant rate`,
  ];
}

function sureness(setting: Setting, results: readonly DayResult[]) {
  return results
    .filter((result) => result.setting === setting)
    .flatMap(({ bikes }) => {
      const owners = ownersOf(bikes);
      return bikes.flatMap(({ rider, trueRider, confidence }) =>
        confidence === null ? [] : [{ said: confidence, isRight: owners.get(rider) === trueRider }],
      );
    });
}

function unseenRows(results: readonly DayResult[]): readonly string[] {
  return SETTINGS.flatMap((setting) => {
    const own = results.filter((result) => result.setting === setting);
    return (['unseenTrue', 'unseenFound'] as const).flatMap((kind) => {
      const score = scoreUnseen(own.flatMap((result) => result[kind]));
      if (score === null) return [];
      const whose = kind === 'unseenTrue' ? 'true identities' : 'found riders';
      const share = (100 * score.coveredShare).toFixed(1);
      return [
        `${setting}, ${whose}: the range of riders unseen holds the truth in ${share} % of ${score.sessions} group-sessions, median width ${score.medianWidth}, ${score.meanTruth.toFixed(2)} unseen in the mean`,
      ];
    });
  });
}

const figuresOf = (results: readonly DayResult[]): Figures => ({
  ...Object.assign({}, ...SETTINGS.map((setting) => settingFigures(setting, results))),
  ...strongFigures(results.filter(({ setting }) => setting === 's74')),
  ...calibrationFigure(results),
  ...untimedFigures(results),
  ...thinFigures(results),
  ...unseenFigures(results),
});

function settingFigures(setting: Setting, results: readonly DayResult[]): Figures {
  const days = results.filter((result) => result.setting === setting);
  if (days.length === 0) return {};
  const f1 = (of: (day: DayResult) => RidersScore, note: string): Figure => ({
    value: mean(days.map((day) => of(day).riders.f1)),
    unit: 'F1',
    better: 'higher',
    note,
  });
  const screens = Math.max(...days.map(({ answered }) => answered.asked.length));
  return {
    [`sim.${setting}.bcubedF1`]: f1(({ score }) => score, noteOf(days)),
    [`sim.${setting}.afterQuestions`]: f1(({ after }) => after, `after ${screens} screens at most; ${noteOf(days)}`),
  };
}

const noteOf = (days: readonly DayResult[]): string =>
  `mean of ${days.length} simulated days, seeds ${days.map(({ seed }) => seed).join(', ')}`;

function strongFigures(days: readonly DayResult[]): Figures {
  if (days.length === 0) return {};
  const note = noteOf(days);
  const share = (of: (score: RidersScore) => number) => mean(days.map(({ score }) => of(score)));
  const lost = days.reduce((sum, { score }) => sum + score.lost.length, 0);
  return {
    'sim.s74.precision': { value: share(({ riders }) => riders.precision), unit: 'share', better: 'higher', note },
    'sim.s74.ridersLost': { value: lost, unit: 'riders', better: 'lower', note: `${days.length} days together` },
    'sim.placedShare': { value: share(({ placedShare }) => placedShare), unit: 'share', better: 'higher', note },
    'sim.placedWrongShare': { value: share(({ wrongShare }) => wrongShare), unit: 'share', better: 'lower', note },
  };
}

function untimedFigures(days: readonly DayResult[]): Figures {
  if (days.length === 0) return {};
  const note = `no timetable said; mean of ${days.length} days of all three settings`;
  return {
    'sim.noTimetable.bcubedF1': {
      value: mean(days.map(({ untimed }) => untimed.riders.f1)),
      unit: 'F1',
      better: 'higher',
      note,
    },
    'sim.noTimetable.placedWrongShare': {
      value: mean(days.map(({ untimed }) => untimed.wrongShare)),
      unit: 'share',
      better: 'lower',
      note,
    },
  };
}

function thinFigures(days: readonly DayResult[]): Figures {
  if (days.length === 0) return {};
  const note = `after one and two rounds of sessions; mean of ${days.length} days of all three settings`;
  const meanOf = (of: (score: RidersScore) => number) => mean(days.flatMap(({ thin }) => thin.map(of)));
  return {
    'sim.thin.bcubedF1': { value: meanOf(({ riders }) => riders.f1), unit: 'F1', better: 'higher', note },
    'sim.thin.placedWrongShare': { value: meanOf((one) => one.wrongShare), unit: 'share', better: 'lower', note },
    'sim.thin.placedShare': { value: meanOf((one) => one.placedShare), unit: 'share', better: 'higher', note },
  };
}

function calibrationFigure(results: readonly DayResult[]): Figures {
  const curve = reliability(sureness('s74', results));
  if (curve === null) return {};
  const note = 'ten bins of equal width over frames, strength 74 %';
  return { 'sim.calibrationError': { value: curve.expectedError, unit: 'share', better: 'lower', note } };
}

function unseenFigures(results: readonly DayResult[]): Figures {
  return Object.fromEntries(
    [
      ['True', results.flatMap(({ unseenTrue }) => unseenTrue)] as const,
      ['Found', results.flatMap(({ unseenFound }) => unseenFound)] as const,
    ].flatMap(([name, cases]) => {
      const score = scoreUnseen(cases);
      if (score === null) return [];
      const note = `${score.sessions} group-sessions of ${results.length} days of all three settings, median width ${score.medianWidth}`;
      return [
        [`sim.unseen.intervalCovers${name}`, { value: score.coveredShare, unit: 'share', better: 'higher', note }],
      ];
    }),
  );
}
