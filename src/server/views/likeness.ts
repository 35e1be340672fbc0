/**
 * How a rider fits one pass: looks, colours, number, laps and group. It gives an order for a person's eye, most alike
 * first, not a chance: chances are the arrangement's. The weights are this project's own choice, no source.
 */
import type { BikeRef, Pass, Rider } from '../../core/arrange/types.js';
import { areNeighbours, descriptorParts, ordinaryOf } from '../../core/measure/index.js';
import type { ColourName, ColourShare, PlainColour, Subject } from '../../core/measure/types.js';
import { unitIntervalOf } from '../../core/units.js';
import type { LikenessView, StandingView } from '../types.js';
import { type Known, passesOf, placedRiders, subjectOf } from './known.js';
import { middleOf, standingOf } from './unplaced.js';
import { spanWords } from './wallTime.js';
import { listed } from './words.js';

export interface Likeness extends LikenessView {
  readonly rider: Rider;
}

type Parts = readonly Float32Array[];

const decoded = new WeakMap<Subject, Parts>();

/** Empty where no descriptor was kept, or where it is of a format that this version does not read. */
function partsOf(subject: Subject): Parts {
  const before = decoded.get(subject);
  if (before) return before;
  const parts = subject.descriptor === '' ? [] : readParts(subject.descriptor);
  decoded.set(subject, parts);
  return parts;
}

function readParts(descriptor: string): Parts {
  try {
    // The detector's blocks say little before they are whitened.
    const { lab, taught } = descriptorParts(descriptor);
    return taught ? [lab, taught] : [lab];
  } catch (error) {
    if (error instanceof RangeError) return [];
    throw error;
  }
}

const dot = (a: Float32Array, b: Float32Array): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
};

/** Mean cosine of the parts that both have; null where they have none in common. */
function cosineOf(a: Parts, b: Parts): number | null {
  const both = Math.min(a.length, b.length);
  if (both === 0) return null;
  let sum = 0;
  for (let i = 0; i < both; i++) sum += dot(a[i]!, b[i]!);
  return sum / both;
}

const MOST_BIKES_LOOKED_AT = 10;

interface Sample {
  readonly pass: Pass;
  readonly subject: Subject;
}

const samples = new WeakMap<Known, Map<Rider, readonly Sample[]>>();

/** One bike of each of at most ten passes, spread over the day; the same for every pass that is asked about. */
function samplesOf(known: Known, rider: Rider): readonly Sample[] {
  const all = samples.get(known) ?? new Map<Rider, readonly Sample[]>();
  samples.set(known, all);
  const before = all.get(rider);
  if (before) return before;
  const passes = passesOf(known, rider);
  const step = Math.max(1, passes.length / MOST_BIKES_LOOKED_AT);
  const some = passes.filter((_, i) => Math.floor(i / step) !== Math.floor((i - 1) / step));
  const own = some.flatMap((pass) => {
    const bike = middleOf(pass);
    const subject = bike ? subjectOf(known, bike) : null;
    return subject ? [{ pass, subject }] : [];
  });
  all.set(rider, own);
  return own;
}

const cosines = new WeakMap<Subject, WeakMap<Subject, number | null>>();

/** Measurements never change: what two bikes look like to each other is worked out once while the desk is open. */
function cosineBetween(a: Subject, b: Subject): number | null {
  const own = cosines.get(a) ?? new WeakMap<Subject, number | null>();
  cosines.set(a, own);
  const before = own.get(b);
  if (before !== undefined) return before;
  const cosine = cosineOf(partsOf(a), partsOf(b));
  own.set(b, cosine);
  return cosine;
}

/** Mean of the three nearest: a rider seen from four sides looks like the query from one of them. */
function looksOf(known: Known, query: Subject, rider: Rider, asked: Pass | null): number | null {
  const nearest = samplesOf(known, rider)
    .flatMap(({ pass, subject }) => (pass === asked ? [] : (cosineBetween(query, subject) ?? [])))
    .sort((a, b) => b - a)
    .slice(0, 3);
  return nearest.length === 0 ? null : nearest.reduce((sum, one) => sum + one, 0) / nearest.length;
}

/** One picture never says fluorescent, all of a rider's pictures together may. */
const isSameColour = (inPicture: ColourName, ofRider: ColourName): boolean =>
  inPicture === ofRider || (ordinaryOf(ofRider)?.includes(inPicture as PlainColour) ?? false);

/** Shared colour, 0–1: a neighbouring name counts half. */
function colourOverlap(a: readonly ColourShare[], b: readonly ColourShare[]): number {
  const shareOf = (colours: readonly ColourShare[]) => colours.reduce((sum, { share }) => sum + share, 0);
  const most = Math.max(0.01, Math.min(shareOf(a), shareOf(b)));
  const shared = a.reduce((sum, { name, share }) => {
    const same = b.find((other) => isSameColour(name, other.name))?.share ?? 0;
    const near = b.reduce((most, other) => Math.max(most, areNeighbours(name, other.name) ? other.share : 0), 0);
    return sum + Math.min(share, Math.max(same, near / 2));
  }, 0);
  return Math.min(1, shared / most);
}

interface Clue {
  readonly times: number;
  readonly reason: string | null;
}

const NOTHING: Clue = { times: 1, reason: null };

function numberClue(query: Subject | null, rider: Rider): Clue {
  const read = query?.numbers?.find((reading) => reading.isWhole)?.text;
  if (read === undefined || rider.number === null) return NOTHING;
  return read === rider.number
    ? { times: 3, reason: `number ${read} on both` }
    : { times: 0.4, reason: `against: number ${read} here, ${rider.number} there` };
}

/** No bike comes round sooner than the fastest lap; where nobody said it, than a lap of any circuit (half a minute, no source). */
const LEAST_LAP_MS = 30_000;

function lapClue(known: Known, asked: Pass | null, rider: Rider): Clue {
  if (asked === null) return NOTHING;
  const least = (known.state.timetable?.fastestLapMs ?? LEAST_LAP_MS / 0.9) * 0.9;
  const sooner = passesOf(known, rider).find(
    (pass) => pass !== asked && pass.spot === asked.spot && Math.abs(pass.start - asked.start) < least,
  );
  if (!sooner) return NOTHING;
  const frames = new Set(asked.bikes.map((bike) => bike.frameId));
  if (sooner.bikes.some((bike) => frames.has(bike.frameId)))
    return { times: 0.15, reason: 'against: beside it in the same picture' };
  const span = spanWords(Math.abs(sooner.start - asked.start));
  return {
    times: 0.15,
    reason: `against: went by here ${span} ${sooner.start < asked.start ? 'before' : 'after'}, too soon for a lap`,
  };
}

function groupClue(known: Known, asked: Pass | null, rider: Rider): Clue {
  const group = asked === null ? null : (known.state.arrangement.sessions[asked.session]?.group ?? null);
  if (group === null || rider.groups.length === 0 || rider.isInstructor === true) return NOTHING;
  const name = (key: string) => known.groupByKey.get(key)?.name ?? key;
  return rider.groups.includes(group)
    ? { times: 1.15, reason: `rides with ${name(group)}, who were out` }
    : { times: 0.45, reason: `against: rides with ${listed(rider.groups.map(name))}, and ${name(group)} were out` };
}

/** Of the scale of {@link scaledLooks}; four fifths is this project's own choice, no source. */
const looksWords = (look: number | null): string | null =>
  look === 1 ? 'of all riders it looks most like this one' : look !== null && look > 0.8 ? 'looks much like it' : null;

const colourWords = (query: Subject, rider: Rider): string | null => {
  const mine = query.bikeColours.slice(0, 2).map(({ name }) => name);
  const shared = mine.filter((name) => rider.bikeColours.some((other) => isSameColour(name, other.name)));
  return shared.length === 0 ? null : `${listed(shared)} on both bikes`;
};

/** From the day's middle rider (0) to the nearest one (1): raw cosines of one day lie close together. */
function scaledLooks(looks: readonly (number | null)[]): readonly (number | null)[] {
  const known = looks.filter((one) => one !== null).sort((a, b) => a - b);
  const middle = known[Math.floor((known.length - 1) / 2)];
  const most = known.at(-1);
  if (middle === undefined || most === undefined || most <= middle) return looks.map(() => null);
  return looks.map((one) => (one === null ? null : Math.max(0, (one - middle) / (most - middle))));
}

/** Who has the pass, or would have it, then who comes near; of the others the looks decide. */
const HEADS: readonly StandingView['kind'][] = ['other', 'near', 'guessed', 'placed', 'said'];
const headOf = ({ standing }: Likeness): number => HEADS.indexOf(standing.kind);

/** Every rider who is placed: first those the arrangement names, then most alike first. */
export function likenessesOf(known: Known, bike: BikeRef, asked: Pass | null): readonly Likeness[] {
  const query = subjectOf(known, bike);
  const riders = placedRiders(known);
  const looks = scaledLooks(riders.map((rider) => (query ? looksOf(known, query, rider, asked) : null)));
  return riders
    .map((rider, i): Likeness => {
      const look = looks[i] ?? null;
      const colours = query
        ? 0.65 * colourOverlap(query.bikeColours, rider.bikeColours) +
          0.35 * colourOverlap(query.riderColours, rider.riderColours)
        : 0;
      const base = look === null ? colours : 0.6 * look + 0.4 * colours;
      const clues = [numberClue(query, rider), lapClue(known, asked, rider), groupClue(known, asked, rider)];
      const odds = clues.reduce((product, clue) => product * clue.times, (0.03 + base) / Math.max(0.03, 1.03 - base));
      const reasons = [
        looksWords(look),
        query ? colourWords(query, rider) : null,
        ...clues.map((clue) => clue.reason),
      ].filter((reason) => reason !== null);
      const standing = standingOf(known, asked, rider);
      return { rider, alike: unitIntervalOf(odds / (1 + odds)), reasons, standing };
    })
    .sort((a, b) => headOf(b) - headOf(a) || b.alike - a.alike || (a.rider.key < b.rider.key ? -1 : 1));
}
