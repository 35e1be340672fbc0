/** A rider's frames as they stand to be chosen: what each is worth by itself, and what it would show. */
import type { Arrangement, BikeRef, Pass, Rider } from '../arrange/types.js';
import { bikeKeyOf, type PassJudgements, subjectOf } from '../cover/index.js';
import type { FrameId, SpotId } from '../ids.js';
import type { Judged } from '../judge/index.js';
import type { FrameMeasurement, Subject } from '../measure/types.js';
import type { BikeSide } from '../plan/circuit/types.js';
import { type LookedAt, type Quality, qualitiesOf, qualityOf } from './quality.js';
import { FIRSTS, type First } from './setWorth.js';
import type { SpotsFacts, TakenWith } from './types.js';

export interface Offer {
  readonly bike: BikeRef;
  readonly pass: Pass;
  readonly subject: Subject | null;
  readonly quality: Quality;
  readonly seen: Seen;
  /** Per facet, in the order of `FACET_NAMES`: the number of the class it belongs to, among the rider's. */
  readonly classes: readonly number[];
  readonly firsts: readonly { readonly what: First; readonly key: string; readonly counts: number }[];
  /** Place among the rider's frames in the day's order; breaks ties, so that the choice is the same every time. */
  readonly order: number;
}

export type View = 'narrow' | 'between' | 'wide' | 'unknown';

/** What is seen in a frame. */
export interface Seen {
  readonly view: View;
  readonly side: BikeSide | 'both' | 'unknown';
  readonly shutter: 'sure' | 'slow' | 'unknown';
  readonly shutterS: number | null;
  /** The rider's number can be read in it. */
  readonly number: string | null;
}

/** What is known of the frames of a day. */
export interface KnownOfFrames {
  readonly arrangement: Arrangement;
  readonly pixels: ReadonlyMap<FrameId, FrameMeasurement>;
  readonly judgements: PassJudgements;
  /** By `bikeKeyOf`; absent: nobody looked closely yet. */
  readonly judged?: ReadonlyMap<string, Judged>;
  readonly taken?: ReadonlyMap<FrameId, TakenWith>;
  readonly spots?: SpotsFacts;
}

/** In the day's order. `order` gives each frame its place. */
export function offersOf(rider: Rider, known: KnownOfFrames, order: ReadonlyMap<FrameId, number>): readonly Offer[] {
  const bikes = rider.passes
    .flatMap((index) => bikesOf(index, known, order))
    .sort((a, b) => a.inDay - b.inDay || a.bike.subject - b.bike.subject);
  const qualities = judgedTogether(bikes, known);
  const met = new Map<unknown, number>();
  return bikes.map((one, place): Offer => {
    const seen = seenIn(one, rider, known);
    return {
      bike: one.bike,
      pass: one.pass,
      subject: one.subject,
      quality: qualities[place]!,
      seen,
      classes: classesOf(one.pass, seen, met),
      firsts: firstsOf(one.pass, seen),
      order: place,
    };
  });
}

interface Bike extends LookedAt {
  readonly inDay: number;
  readonly bike: BikeRef;
  readonly pass: Pass;
}

function bikesOf(
  index: number,
  { arrangement, pixels, judgements, judged }: KnownOfFrames,
  order: ReadonlyMap<FrameId, number>,
): readonly Bike[] {
  const pass = arrangement.passes[index];
  if (pass === undefined) return [];
  return pass.bikes.map((bike, k): Bike => {
    const subject = subjectOf(bike, pixels);
    return {
      inDay: order.get(bike.frameId) ?? 0,
      bike,
      pass,
      subject: 'kind' in subject ? null : subject,
      judgement: judgements[index]?.[k] ?? { kind: 'unsure', reason: 'not judged' },
      judged: judged?.get(bikeKeyOf(bike)) ?? null,
    };
  });
}

/** Frames may be held against each other at one spot with one lens and shutter; where that is not known, within a pass. */
function judgedTogether(bikes: readonly Bike[], { judged, taken }: KnownOfFrames): readonly Quality[] {
  // Without a closer look nothing is held against anything here.
  if (!judged) return bikes.map((one) => qualityOf(one));
  const groups = new Map<string, number[]>();
  for (const [place, { bike, pass }] of bikes.entries()) {
    const { shutterS, focalLengthMm } = taken?.get(bike.frameId) ?? {};
    const isKnown = pass.spot !== null && shutterS !== undefined && focalLengthMm !== undefined;
    const key = isKnown ? `${pass.spot}|${pass.body}|${focalLengthMm}|${shutterS}` : `pass ${pass.index}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [place]);
    else group.push(place);
  }
  const qualities: Quality[] = new Array(bikes.length);
  for (const places of groups.values())
    for (const [k, quality] of qualitiesOf(places.map((place) => bikes[place]!)).entries())
      qualities[places[k]!] = quality;
  return qualities;
}

/** A side told from the picture less surely than this is not believed. */
const SURE_OF_SIDE = 0.8;

function seenIn(
  { bike, pass, subject, judged }: Bike,
  rider: Rider,
  { taken, spots, arrangement }: KnownOfFrames,
): Seen {
  const facts = pass.spot === null ? undefined : spots?.get(pass.spot);
  const group = arrangement.sessions[pass.session]?.group ?? rider.group;
  const sureS = group === null ? undefined : facts?.sureShutterS?.get(group);
  const shutterS = taken?.get(bike.frameId)?.shutterS ?? null;
  const told = judged?.side.kind === 'told' && judged.side.confidence >= SURE_OF_SIDE ? judged.side.is : undefined;
  return {
    view: viewOf(subject),
    side: told ?? facts?.side ?? 'unknown',
    shutter: shutterS === null || sureS === undefined ? 'unknown' : shutterS > sureS * SAME_MARK ? 'slow' : 'sure',
    shutterS,
    number: subject?.numbers?.some(({ text, isWhole }) => isWhole && text === rider.number) ? rider.number : null,
  };
}

/** Cameras write 1/160 or 1/161; the next mark is a quarter slower. */
const SAME_MARK = 1.06;

/**
 * How the bike is seen, from the shape of its box alone: narrow is towards or away from the camera, wide is
 * from the side. Boxes are in shares of the picture, so this holds among pictures of one shape.
 */
function viewOf(subject: Subject | null): View {
  if (!subject) return 'unknown';
  const ratio = subject.box[2] / Math.max(subject.box[3], 1e-6);
  if (ratio < 0.55) return 'narrow';
  return ratio < 0.95 ? 'between' : 'wide';
}

/** Classes are small numbers, which are quick to look up: these, and behind them spots and sessions as they are met. */
const VIEWS: Readonly<Record<View, number>> = { narrow: 1, between: 2, wide: 3, unknown: 4 };
const SIDES: Readonly<Record<Seen['side'], number>> = { left: 5, right: 6, both: 7, unknown: 8 };
const SHUTTERS: Readonly<Record<Seen['shutter'], number>> = { sure: 9, slow: 10, unknown: 11 };
const NUMBERED_FROM = 12;

/** In the order of `FACET_NAMES`. */
const classesOf = ({ spot, session }: Pass, { view, side, shutter }: Seen, met: Map<unknown, number>) => [
  numberOf(spot, met),
  VIEWS[view],
  numberOf(session, met),
  SIDES[side],
  SHUTTERS[shutter],
  0,
];

function numberOf(what: SpotId | null | number, met: Map<unknown, number>): number {
  const known = met.get(what);
  if (known !== undefined) return known;
  met.set(what, NUMBERED_FROM + met.size);
  return NUMBERED_FROM + met.size - 1;
}

const NO_FIRSTS: Offer['firsts'] = [];

function firstsOf({ spot }: Pass, { side, shutter, number }: Seen): Offer['firsts'] {
  const isSide = side === 'left' || side === 'right';
  if (spot === null && number === null && !isSide && shutter === 'unknown') return NO_FIRSTS;
  return [
    ...(spot === null ? [] : [firstOf('spot', spot)]),
    ...(number === null ? [] : [firstOf('number', number)]),
    ...(isSide ? [firstOf('side', side)] : []),
    ...(shutter === 'unknown' ? [] : [firstOf('shutter', shutter)]),
  ];
}

const firstOf = (what: First, is: string) => ({ what, key: `${what}:${is}`, counts: FIRSTS[what] });
