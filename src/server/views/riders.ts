/** All riders, to be found by colour, number, group and time; what is not placed yet; and who one bike may be. */
import type { Rider } from '../../core/arrange/types.js';
import type { FrameId } from '../../core/ids.js';
import { foundUnder, neighboursOf } from '../../core/measure/index.js';
import type { ColourName, ColourShare } from '../../core/measure/types.js';
import type { DayState } from '../../host/day/types.js';
import { DeskError } from '../DeskError.js';
import type { FoundRiderView, LikeliestView, RidersView } from '../types.js';
import { type Known, knownOf, passesOf, placedRiders, pointOf, subjectOf, whereOfPass } from './known.js';
import { likenessesOf } from './likeness.js';
import { pictureOf, riderLineOf, TAB_CSS } from './riderLine.js';
import { unplacedPass, unplacedPasses } from './unplaced.js';

/** Under this share of the surface a colour is trim: nobody would describe the bike by it. */
const LEAST_NAMED_SHARE = 0.08;

const namesOf = (colours: readonly ColourShare[]): readonly ColourName[] =>
  foundUnder(colours.filter(({ share }, i) => i === 0 || share >= LEAST_NAMED_SHARE).map(({ name }) => name));

const foundRider = (known: Known, rider: Rider): FoundRiderView => ({
  rider: riderLineOf(known, rider),
  group: known.groupByKey.get(rider.group ?? '') ?? null,
  bikeColours: namesOf(rider.bikeColours),
  riderColours: [...new Set([...namesOf(rider.riderColours), ...namesOf(rider.helmetColours ?? [])])],
  passedAt: passesOf(known, rider).map((pass) => pass.start),
});

const COLOURS = Object.keys(TAB_CSS) as readonly ColourName[];

/** Only colours that somebody has, in the order in which they stand beside each other. */
const coloursOf = (riders: readonly FoundRiderView[]): RidersView['colours'] =>
  COLOURS.map((name) => ({
    name,
    css: TAB_CSS[name],
    neighbours: neighboursOf(name),
    onBikes: riders.filter((rider) => rider.bikeColours.includes(name)).length,
    onRiders: riders.filter((rider) => rider.riderColours.includes(name)).length,
  })).filter((colour) => colour.onBikes + colour.onRiders > 0);

/** In the timetable's order of groups, riders without one last. */
export function ridersView(state: DayState): RidersView {
  const known = knownOf(state);
  const placeOf = (rider: FoundRiderView) => (rider.group ? known.groups.indexOf(rider.group) : known.groups.length);
  const riders = placedRiders(known)
    .map((rider) => foundRider(known, rider))
    .sort((a, b) => placeOf(a) - placeOf(b));
  return {
    asOf: state.asOf,
    riders,
    colours: coloursOf(riders),
    unplaced: unplacedPasses(known).flatMap((pass) => unplacedPass(known, pass) ?? []),
  };
}

/** Who the bike in a frame may be; without `subject` the main one is meant. */
export function likeliestView(state: DayState, frame: string, subject?: number): LikeliestView {
  const known = knownOf(state);
  const exposure = known.exposureById.get(frame as FrameId);
  if (!exposure)
    throw new DeskError(404, 'Expected a frame of this meeting, but none has this address. Go back to the riders.');
  const passes = state.arrangement.passes.filter((pass) => pass.bikes.some((bike) => bike.frameId === frame));
  const pixels = state.pixels.get(exposure.frameId);
  const subjects = pixels?.kind === 'measured' ? pixels.subjects : [];
  const main = Math.max(
    0,
    subjects.findIndex((one) => one.isMain),
  );
  const asked = subject !== undefined && subjects[subject] ? subject : main;
  const bike = { frameId: exposure.frameId, subject: asked };
  const pass =
    passes.find((one) => one.bikes.some((other) => other.frameId === frame && other.subject === asked)) ?? null;
  return {
    asOf: state.asOf,
    picture: pictureOf(known, bike),
    name: exposure.path.split('/').at(-1) ?? exposure.path,
    subject: asked,
    point: pointOf(known, bike),
    wall: exposure.wall,
    where: pass ? whereOfPass(known, pass) : 'in no pass',
    isUnplaced: pass === null || known.unplaced.has(pass.index),
    besides: subjects.flatMap((one, i) =>
      i === asked || one.what !== 'motorcycle'
        ? []
        : [{ subject: i, picture: pictureOf(known, { ...bike, subject: i }) }],
    ),
    riders: subjectOf(known, bike)
      ? likenessesOf(known, bike, pass).map(({ rider, ...likeness }) => ({
          key: rider.key,
          point: pointOf(known, rider.face),
          ...likeness,
        }))
      : [],
    initials: known.initials,
  };
}
