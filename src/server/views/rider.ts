/** One rider through the day, and who else might be the same one. */
import type { Pass, Rider } from '../../core/arrange/types.js';
import type { RiderKey } from '../../core/ids.js';
import type { BikePoint } from '../../core/log/types.js';
import type { MeetingCards } from '../../host/cards/index.js';
import type { DayState } from '../../host/day/types.js';
import { DeskError } from '../DeskError.js';
import type { RiderView } from '../types.js';
import { cardsAgainst } from './cardQuestions.js';
import { type Known, knownOf, passesOf, pointOf } from './known.js';
import { likenessesOf } from './likeness.js';
import { passViews } from './passes.js';
import { riderLineOf } from './riderLine.js';
import { spokenBy } from './spoken.js';
import { perhapsOf } from './unplaced.js';
import { capital, counted, listed } from './words.js';

const MOST_ANCHORS = 3;
const MOST_NEAREST = 24;

const hasFrame = (pass: Pass, frame: string): boolean => pass.bikes.some((bike) => bike.frameId === frame);

/**
 * Keys of riders are good until the next arrangement, so an address also names a frame: where the key is gone, or goes
 * with a picture that was taken off the sheet, the rider who has that frame now is meant. A key is itself the name of a
 * bike, for addresses that name no frame.
 */
export function findRider(known: Known, key: string, frame?: string): Rider {
  const rider = known.riderByKey.get(key as RiderKey);
  if (rider && (frame === undefined || passesOf(known, rider).some((pass) => hasFrame(pass, frame)))) return rider;
  const pass = known.state.arrangement.passes.find((one) =>
    frame === undefined ? one.bikes.some((bike) => `${bike.frameId}:${bike.subject}` === key) : hasFrame(one, frame),
  );
  const now = (pass && known.riderByKey.get(pass.rider)) ?? rider;
  if (now) return now;
  throw new DeskError(
    404,
    'No rider stands under this address any more: an answer or a new card has moved the pictures. Go back to the day.',
  );
}

/** Bikes that surely are this rider: the face, then one from each of the longest passes. */
function anchorsOf(known: Known, rider: Rider): readonly BikePoint[] {
  const passes = [...passesOf(known, rider)].sort((a, b) => b.bikes.length - a.bikes.length);
  const bikes = [rider.face, ...passes.flatMap((pass) => pass.bikes[Math.floor(pass.bikes.length / 2)] ?? [])];
  const points = bikes.flatMap((bike) => pointOf(known, bike) ?? []);
  const files = new Set<string>();
  return points.filter((point) => !files.has(point.file) && files.add(point.file)).slice(0, MOST_ANCHORS + 3);
}

/** Another group's rider has to look so much more alike to stand before one of the same group; own choice, no source. */
const OTHER_GROUP = 0.6;

/** Who looks most like this one, those first of whom the arrangement says that they look the same. */
function nearestOf(known: Known, rider: Rider): RiderView['nearest'] {
  const isSame = (other: Rider) => Number(rider.alike?.includes(other.key) ?? false);
  return likenessesOf(known, rider.face, null)
    .filter(({ rider: other }) => other.key !== rider.key)
    .map(({ rider: other, alike }) => ({ other, near: alike * (other.group === rider.group ? 1 : OTHER_GROUP) }))
    .sort((a, b) => isSame(b.other) - isSame(a.other) || b.near - a.near)
    .slice(0, MOST_NEAREST)
    .flatMap(({ other }) => {
      const anchor = pointOf(known, other.face);
      return anchor
        ? [{ rider: riderLineOf(known, other), group: known.groupByKey.get(other.group ?? '') ?? null, anchor }]
        : [];
    });
}

function sessionsOf(known: Known, rider: Rider): RiderView['sessions'] {
  const passes = passesOf(known, rider);
  const indices = [...new Set(passes.map((pass) => pass.session))].sort((a, b) => a - b);
  return indices.map((index) => {
    const views = passViews(
      known,
      passes.filter((pass) => pass.session === index),
    );
    const spots = new Map(views.flatMap((view) => (view.spot ? [[view.spot.number, view.spot] as const] : [])));
    return {
      index,
      name: known.state.arrangement.sessions[index]?.name ?? `${index + 1}`,
      spots: [...spots.values()],
      passes: views,
    };
  });
}

const sessionsWithout = (known: Known, rider: Rider): RiderView['without'] => {
  const seen = new Set(passesOf(known, rider).map((pass) => pass.session));
  return known.state.arrangement.sessions
    .filter((session) => session.group !== null && session.group === rider.group && !seen.has(session.index))
    .map(({ index, name }) => ({ index, name }));
};

const sentenceOf = (rider: Rider): string => {
  const leathers = rider.riderColours.slice(0, 2).map((colour) => colour.name);
  return `${capital(rider.livery)}${leathers.length === 0 || rider.livery.includes('leathers') ? '' : `; ${listed(leathers)} leathers`}.`;
};

/** Riders in the order of the first screen, so that "next" is the one the eye expects. */
function neighbours(known: Known, rider: Rider): { previous: RiderKey | null; next: RiderKey | null } {
  const inOrder = known.groups
    .flatMap((group) => known.state.arrangement.riders.filter((other) => other.group === group.key))
    .concat(known.state.arrangement.riders.filter((other) => !known.groupByKey.has(other.group ?? '')));
  const at = inOrder.findIndex((other) => other.key === rider.key);
  return { previous: inOrder[at - 1]?.key ?? null, next: inOrder[at + 1]?.key ?? null };
}

/** The last word about a bike of this rider, else what the arrangement takes it for. */
function instructsOf(known: Known, rider: Rider): RiderView['instructs'] {
  const files = filesOf(known, rider);
  const said = known.state.log.inForce.findLast(
    ({ decision }) => decision.kind === 'instructor' && files.has(decision.point.file),
  )?.decision;
  if (said?.kind === 'instructor') return said.is ? { kind: 'said' } : null;
  const names = rider.groups.map((key) => known.groupByKey.get(key)?.name ?? key);
  return rider.isInstructor === true
    ? { kind: 'guessed', words: `seen with ${counted(names.length, 'group')}: ${listed(names)}` }
    : null;
}

const filesOf = (known: Known, rider: Rider): ReadonlySet<string> =>
  new Set(
    passesOf(known, rider).flatMap((pass) =>
      pass.bikes.flatMap((bike) => known.exposureById.get(bike.frameId)?.mainFile ?? []),
    ),
  );

function saidNumberOf(known: Known, rider: Rider): RiderView['saidNumber'] {
  const files = filesOf(known, rider);
  const said = known.state.log.inForce.findLast(
    ({ decision }) => decision.kind === 'rider-is' && decision.number !== undefined && files.has(decision.point.file),
  )?.decision;
  if (said?.kind !== 'rider-is' || said.number === undefined || said.number !== rider.number) return null;
  const name = said.class === undefined ? null : (known.groupByKey.get(said.class)?.name ?? said.class);
  return { number: said.number, class: name };
}

/** The last time that this sheet was said to be right. */
function settledOf(known: Known, rider: Rider): RiderView['settled'] {
  const ids = new Set<string>(rider.id === null ? [] : [rider.id, ...rider.aliases]);
  const last = known.state.log.inForce.findLast(
    ({ decision }) => decision.kind === 'settled' && ids.has(decision.rider),
  )?.decision;
  if (last?.kind !== 'settled') return null;
  const then = new Set<string>(last.files);
  const joined = [...filesOf(known, rider)].filter((file) => !then.has(file)).length;
  return { frames: then.size, joined };
}

export function riderView(state: DayState, key: string, frame?: string, cards: MeetingCards | null = null): RiderView {
  const known = knownOf(state);
  const rider = findRider(known, key, frame);
  const line = riderLineOf(known, rider);
  const sure = rider.source.kind === 'said' ? 'one rider, by your word' : 'one rider';
  return {
    asOf: state.asOf,
    rider: line,
    group: known.groupByKey.get(rider.group ?? '') ?? null,
    sentence: sentenceOf(rider),
    oneRider: spokenBy(rider.source, sure, known.initials),
    keepers: state.keepers.byRider.get(rider.key)?.length ?? 0,
    passes: rider.passes.length,
    sessions: sessionsOf(known, rider),
    without: sessionsWithout(known, rider),
    anchors: anchorsOf(known, rider),
    nearest: nearestOf(known, rider),
    alike: (rider.alike ?? [])
      .flatMap((other) => known.riderByKey.get(other) ?? [])
      .map((other) => riderLineOf(known, other)),
    perhaps: perhapsOf(known, rider),
    instructs: instructsOf(known, rider),
    saidNumber: saidNumberOf(known, rider),
    classes: known.groups,
    settled: settledOf(known, rider),
    id: rider.id,
    cards: cardsAgainst(known, rider, cards),
    isBarred: known.down.riders.has(rider.key),
    ...neighbours(known, rider),
    initials: known.initials,
  };
}
