/**
 * What a group seen in a stretch from a spot is worth, by parts that are multiplied or added and each say why. The figures are
 * conventions of this program, none is measured: they say what is preferred to what. Whoever prefers otherwise weighs spots and
 * groups.
 */
import { type WallMs, wallMsOf } from '../../units.js';
import type { DayInputs, DaySpot, GroupLap } from './inputs.js';
import { minutesOf } from './legs.js';
import type { Stretch, Wish } from './types.js';

export const DAY_WORTH = {
  /** A pass that gives a keeper: practice is 30 to 60 of 100 passes. */
  keeperAPass: 0.35,
  /** Minutes of a session gone at each end with rolling on and off; practice is 3 to 5 of 20 together. */
  rollingMinutes: 2,
  /** A lap where nobody said one. */
  lapMinutes: 2,
  /** Sighting laps: slow, in a row behind the instructor. */
  sighting: 0.4,
  /** But they show what colours the group has. */
  palette: 0.25,
  /** Many stay in the paddock. */
  rain: 0.6,
  aClient: 0.15,
  aClientHere: 0.35,
  noShadeAnHour: -0.15,
  bothSides: 0.6,
  /**
   * Shares that the best, second best … half session of a group at a spot keeps. Half a session shows some 80 of 100 of a group,
   * a whole one nearly all: what comes after is more of the same.
   */
  returns: [1, 0.45, 0.25, 0.15],
  /** And each one further, however many: there is always somebody who sat out before, and ten to thirty pictures are wanted. */
  further: 0.1,
  /**
   * Whoever is at the circuit does not skip sessions to save a walk: a usual day's 20 km with 15 kg (practice), some 290 min,
   * cost about one group well seen, and not half a day.
   */
  onFootAMinute: 0.0012,
  byVehicleAMinute: 0.0006,
  /** A load that doubles what a minute on foot costs. */
  doublingKg: 15,
} as const;

export interface Returns {
  /** Of the first times, beyond what every time keeps; falling, then nothing. */
  readonly first: readonly number[];
  readonly everyTime: number;
}

/** A day in whole sessions counts each as its two halves. Rule PL502. */
export function returnsOf(isHalved: boolean): Returns {
  const { returns, further } = DAY_WORTH;
  if (isHalved) return { first: returns.map((share) => share - further), everyTime: further };
  const whole = returns.flatMap((share, i) => (i % 2 === 0 ? [share + (returns[i + 1] ?? further)] : []));
  const everyTime = (2 * further) / whole[0]!;
  return { first: whole.map((share) => share / whole[0]! - everyTime), everyTime };
}

export interface WorthPart {
  readonly kind:
    | 'light'
    | 'passes'
    | 'pace'
    | 'sighting'
    | 'palette'
    | 'rain'
    | 'client'
    | 'lacking'
    | 'weighed'
    | 'no-shade';
  /** Multiplied, or added in full each time. */
  readonly by: { readonly times: number } | { readonly plus: number };
  readonly words: string;
}

export function partsOfWorth(inputs: DayInputs, stretch: Stretch, spot: DaySpot): WorthPart[] {
  const fit = inputs.fitOf?.(spot.id, stretch.group);
  return [
    lightPart(inputs, stretch, spot),
    passesPart(inputs, stretch),
    ...(fit ? [{ kind: 'pace', by: { times: fit.share }, words: fit.words } as const] : []),
    ...sightingParts(stretch),
    ...rainPart(inputs, stretch),
    ...clientPart(inputs, stretch, spot),
    ...lackingPart(inputs, stretch, spot),
    ...weighedParts(inputs, stretch, spot),
    ...shadePart(inputs, stretch, spot),
  ];
}

/** Of the middles of five parts: light changes slowly, and in steps where the sun comes round a side. */
function lightPart({ lightAt }: DayInputs, { from, to }: Stretch, { id }: DaySpot): WorthPart {
  const shares = [0.1, 0.3, 0.5, 0.7, 0.9].map((part) => lightAt(id, wallMsOf(from + part * (to - from))));
  const mean = shares.reduce((sum, { share }) => sum + share, 0) / shares.length;
  return { kind: 'light', by: { times: mean }, words: shares[2]!.words };
}

function passesPart({ lapOf, timetable }: DayInputs, stretch: Stretch): WorthPart {
  const lap = lapOf?.(stretch.group) ?? null;
  const lapMinutes = lap === null ? DAY_WORTH.lapMinutes : minutesOf(lap.ms);
  const passes = Math.max(0, Math.floor(ridingMinutes(timetable.slots, stretch) / lapMinutes));
  const words = `${passes} ${passes === 1 ? 'pass' : 'passes'}${lapWords(lap)}`;
  return { kind: 'passes', by: { times: 1 - (1 - DAY_WORTH.keeperAPass) ** passes }, words };
}

function lapWords(lap: GroupLap | null): string {
  if (lap === null) return ', at a lap of 2 min that nobody said';
  return lap.guessedFrom === null ? '' : `, at a lap of about ${clockOfLap(lap.ms)} guessed from ${lap.guessedFrom}`;
}

/** `1:52`. */
function clockOfLap(ms: number): string {
  const seconds = Math.round(ms / 1000);
  return `${Math.floor(seconds / 60)}:${`${seconds % 60}`.padStart(2, '0')}`;
}

function ridingMinutes(slots: DayInputs['timetable']['slots'], { slot, from, to }: Stretch): number {
  const whole = slots.find(({ name, start, end }) => name === slot && start <= from && end >= to);
  const onFrom = (whole?.start ?? from) + DAY_WORTH.rollingMinutes * 60_000;
  const offTo = (whole?.end ?? to) - DAY_WORTH.rollingMinutes * 60_000;
  return minutesOf(Math.min(to, offTo) - Math.max(from, onFrom));
}

const sightingParts = ({ isSighting }: Stretch): WorthPart[] =>
  isSighting
    ? [
        { kind: 'sighting', by: { times: DAY_WORTH.sighting }, words: 'sighting laps, slow and in a row' },
        { kind: 'palette', by: { plus: DAY_WORTH.palette }, words: 'shows the colours of the group' },
      ]
    : [];

export const rainsIn = (wishes: readonly Wish[], stretch: Stretch): boolean =>
  wishes.some((wish) => wish.kind === 'rain' && isDuring(wish, stretch));

const rainPart = ({ wishes }: DayInputs, stretch: Stretch): WorthPart[] =>
  rainsIn(wishes, stretch)
    ? [{ kind: 'rain', by: { times: DAY_WORTH.rain }, words: 'rain: many stay in the paddock' }]
    : [];

const isDuring = (span: { readonly from: WallMs; readonly to: WallMs }, { from, to }: Stretch): boolean =>
  span.from < to && span.to > from;

function clientPart({ clients }: DayInputs, { group }: Stretch, spot: DaySpot): WorthPart[] {
  const ofGroup = clients.filter((client) => client.group === group);
  if (ofGroup.length === 0) return [];
  const here = ofGroup.filter(({ spots }) => spots.includes(spot.id)).length;
  const times = 1 + DAY_WORTH.aClient * (ofGroup.length - here) + DAY_WORTH.aClientHere * here;
  const who = ofGroup.length === 1 ? '1 client rides' : `${ofGroup.length} clients ride`;
  return [{ kind: 'client', by: { times }, words: here > 0 ? `${who}, ${here} asked for this spot` : who }];
}

function lackingPart({ demands }: DayInputs, { group, name }: Stretch, spot: DaySpot): WorthPart[] {
  const demand = demands.find(
    (each) => each.group === group && each.spot === spot.id && (each.stretch === undefined || each.stretch === name),
  );
  if (demand === undefined || demand.riders === 0) return [];
  const { lacking, riders, owed, unseen = 0 } = demand;
  // Who is one rider is a guess, and so is every count of them; those in no picture most of all.
  const guess = unseen >= 0.5 ? `guess, with about ${Math.round(unseen)} whom no picture shows` : 'guess';
  return [
    {
      kind: 'lacking',
      by: { times: owed ?? lacking / riders },
      words: `${Math.round(lacking)} of ${Math.round(riders)} still lack good frames from here (${guess})`,
    },
  ];
}

function weighedParts({ wishes }: DayInputs, { group }: Stretch, spot: DaySpot): WorthPart[] {
  const meant = (wish: Wish): wish is Extract<Wish, { times: number }> =>
    (wish.kind === 'weigh-spot' && wish.spot === spot.id) || (wish.kind === 'weigh-group' && wish.group === group);
  return wishes
    .filter(meant)
    .map(({ times }): WorthPart => ({ kind: 'weighed', by: { times }, words: `weighed ${times} times by you` }));
}

function shadePart({ needsShade }: DayInputs, { from, to }: Stretch, { hasShade }: DaySpot): WorthPart[] {
  if (hasShade || !needsShade?.(from, to)) return [];
  return [{ kind: 'no-shade', by: { plus: (DAY_WORTH.noShadeAnHour * minutesOf(to - from)) / 60 }, words: 'no shade' }];
}

export const timesOf = (parts: readonly WorthPart[]): number =>
  parts.reduce((product, { by }) => ('times' in by ? product * by.times : product), 1);

export const plusOf = (parts: readonly WorthPart[]): number =>
  parts.reduce((sum, { by }) => ('plus' in by ? sum + by.plus : sum), 0);
