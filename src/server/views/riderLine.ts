/** A rider in one line: livery in words and tabs, number, wheel, face. */
import type { BikeRef, Rider } from '../../core/arrange/types.js';
import type { ColourName, ColourShare } from '../../core/measure/types.js';
import type { ArcView, LiveryView, PictureView, RiderLineView, Spoken, TabColour } from '../types.js';
import { aspectOf, boxOf, type Known, metadataOf, passesOf } from './known.js';
import { spokenBy } from './spoken.js';

/** Paint for the tabs, chosen by eye to be told apart beside their names; not measurements. */
export const TAB_CSS: Readonly<Record<ColourName, string>> = {
  black: '#1B1D1F',
  white: '#FFFFFF',
  grey: '#8A8D8F',
  silver: '#C9CCCE',
  red: '#CC2027',
  orange: '#EE7E1C',
  yellow: '#EBC81E',
  lime: '#8CD22C',
  green: '#14874B',
  teal: '#1B9AA0',
  blue: '#2347C9',
  navy: '#1C2A56',
  purple: '#6B2DB5',
  pink: '#E0218A',
  brown: '#7A4B2A',
  'fluorescent yellow': '#DFFF1F',
  'fluorescent orange': '#FF5A1A',
  'fluorescent red': '#FF2A3C',
};

/** A colour under a tenth of the surface is trim, and does not make the tab. */
const LEAST_TAB_SHARE = 0.1;

const tabsOf = (colours: readonly ColourShare[]): readonly TabColour[] =>
  colours
    .filter((colour, i) => i === 0 || colour.share >= LEAST_TAB_SHARE)
    .slice(0, 2)
    .map(({ name }) => ({ name, css: TAB_CSS[name] }));

export const liveryOf = (rider: Rider): LiveryView => ({
  words: rider.livery,
  bike: tabsOf(rider.bikeColours),
  rider: tabsOf(rider.riderColours),
});

export const pictureOf = (known: Known, bike: BikeRef): PictureView => ({
  frameId: bike.frameId,
  box: boxOf(known, bike),
  aspect: aspectOf(metadataOf(known, bike.frameId)),
  ...(isShared(known, bike) ? { isShared: true as const } : {}),
});

const isShared = ({ state }: Known, { frameId, subject }: BikeRef): boolean => {
  const pixels = state.pixels.get(frameId);
  return pixels?.kind === 'measured' && pixels.subjects.some(({ what }, i) => i !== subject && what !== 'person');
};

/** Below this a rider is more a guess than not, and all of the wheel is drawn half as thick. */
const SURE_ENOUGH_FOR_FULL_ARCS = 0.6;

export function wheelOf(known: Known, rider: Rider): readonly ArcView[] {
  const coverage = known.coverageByKey.get(rider.key);
  const isGuess = rider.source.kind === 'guessed' && rider.source.confidence < SURE_ENOUGH_FOR_FULL_ARCS;
  const saidAt = saidSpotsOf(known, rider);
  return (coverage?.wheel ?? []).flatMap((arc) => {
    const spot = known.spotById.get(arc.spot);
    if (!spot) return [];
    return [
      { spot: arc.spot, number: spot.number, name: spot.name, state: arc.state, isGuess, isSaid: saidAt.has(arc.spot) },
    ];
  });
}

const saidSpotsOf = (known: Known, rider: Rider): ReadonlySet<string> => {
  if (known.saidFiles.size === 0) return new Set();
  const isSaid = (bike: BikeRef) => known.saidFiles.has(known.exposureById.get(bike.frameId)?.mainFile ?? '');
  return new Set(passesOf(known, rider).flatMap((pass) => (pass.spot && pass.bikes.some(isSaid) ? [pass.spot] : [])));
};

export const numberOf = (known: Known, rider: Rider): Spoken | null =>
  rider.number === null ? null : spokenBy(rider.numberSource ?? { kind: 'measured' }, rider.number, known.initials);

export function riderLineOf(known: Known, rider: Rider): RiderLineView {
  const coverage = known.coverageByKey.get(rider.key);
  return {
    key: rider.key,
    code: rider.code,
    livery: liveryOf(rider),
    number: numberOf(known, rider),
    wheel: wheelOf(known, rider),
    goodFrames: coverage?.goodFrames ?? 0,
    frames: coverage?.frames ?? 0,
    isThin: coverage?.isThin ?? false,
    face: pictureOf(known, rider.face),
    ...(rider.isInstructor === true ? { isInstructor: true as const } : {}),
    ...(rider.alike?.length ? { alike: rider.alike.length } : {}),
  };
}
