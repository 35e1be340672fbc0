/**
 * Grids and podiums of races: guesses from the timetable, from how many bikes stand in one picture, and from frames kept apart. No
 * labelled grids are known to us: the confidences are this project's reasoning and are said beside their reasons. Rules OG8, OG9.
 */
import type { Apart, Arrangement, Exposure } from '../../arrange/types.js';
import type { FrameId } from '../../ids.js';
import type { FrameMeasurement } from '../../measure/types.js';
import { plain } from '../../plan/timetable/index.js';
import type { Timetable, TimetableSlot } from '../../plan/types.js';
import type { GridGuess } from './types.js';

/** Written as `plain` leaves it, in the five languages timetables are read in. */
const RACE = /(?<![\p{L}\p{N}])(?:race|sprint|rennen|wertungslauf|course|gara|carrera)(?![\p{L}\p{N}])/u;
const NO_RACE = /(?<![\p{L}\p{N}])(?:practice|qualifying|training|essais|prove|warm up)(?![\p{L}\p{N}])/u;

/** Races among the slots; `said`: slots a person named, whatever they are called. */
export const racesOf = (timetable: Timetable | null, said: readonly string[] = []): readonly TimetableSlot[] =>
  (timetable?.slots ?? [])
    .filter(({ name }) => said.includes(name) || (RACE.test(plain(name)) && !NO_RACE.test(plain(name))))
    .sort((a, b) => a.start - b.start);

const MINUTE_MS = 60_000;
/** Bikes come to the grid ten minutes before the start at most meetings; a slot that begins late begins late in the slips, too. */
const BEFORE_START_MS = 12 * MINUTE_MS;
const AFTER_START_MS = MINUTE_MS / 2;
/** Fewer bikes in one picture are on any lap. */
const LEAST_BIKES = 4;

export function gridsOf(
  { exposures }: Pick<Arrangement, 'exposures'>,
  pixels: ReadonlyMap<FrameId, FrameMeasurement>,
  races: readonly TimetableSlot[],
): ReadonlyMap<FrameId, GridGuess> {
  const grids = new Map<FrameId, GridGuess>();
  for (const { frameId, wall } of exposures) {
    const race = wall === null ? undefined : races.find(({ start }) => isBefore(wall, start));
    const bikes = bikesIn(pixels.get(frameId));
    if (race === undefined || wall === null || bikes < LEAST_BIKES) continue;
    grids.set(frameId, { slot: race.name, source: guessOf(bikes, race.start - wall, race.name) });
  }
  return grids;
}

const isBefore = (wall: number, start: number): boolean =>
  wall >= start - BEFORE_START_MS && wall <= start + AFTER_START_MS;

const bikesIn = (measured: FrameMeasurement | undefined): number =>
  measured?.kind === 'measured' ? measured.subjects.filter(({ what }) => what !== 'person').length : 0;

function guessOf(bikes: number, beforeMs: number, slot: string): GridGuess['source'] {
  const minutes = Math.round(beforeMs / MINUTE_MS);
  const when = minutes <= 0 ? `at the start of ${slot}` : `${minutes} min before the start of ${slot}`;
  return {
    kind: 'guessed',
    confidence: Math.min(0.9, 0.4 + 0.05 * bikes),
    reasons: [`${bikes} bikes in one picture`, `${when} by the timetable`],
  };
}

const PODIUM_WITHIN_MS = 60 * MINUTE_MS;

/** Whose podium: of the one race that ended within the hour before. Of two nobody can tell, and none is said. */
export function podiumRace(
  exposure: Pick<Exposure, 'wall' | 'apart'>,
  races: readonly TimetableSlot[],
): GridGuess | null {
  const { wall } = exposure;
  if (!isPodium(exposure.apart) || wall === null) return null;
  const ended = races.filter(({ end }) => end <= wall && wall - end <= PODIUM_WITHIN_MS);
  const [race] = ended;
  if (race === undefined || ended.length > 1) return null;
  const reasons = [
    `the only race that ended in the hour before, ${Math.round((wall - race.end) / MINUTE_MS)} min earlier`,
  ];
  return { slot: race.name, source: { kind: 'guessed', confidence: 0.8, reasons } };
}

export const isPodium = (apart: Apart | null | undefined): boolean => apart?.is === 'podium';
