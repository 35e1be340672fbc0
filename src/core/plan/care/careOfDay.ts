/** All of it together, as plain records with their sentences: for the page before leaving, the run sheet and the phone. */
import { cautionsOf } from './cautions.js';
import { noiseOfDay } from './noiseOfDay.js';
import type { CareInput, CareOfDay } from './types.js';
import { drinkingOfDay, heatOfDay, uvOfDay } from './weatherOfDay.js';

export interface CareWish extends CareInput {
  /** A way of the plan runs on a service road. */
  readonly usesServiceRoad?: boolean;
}

export function careOfDay(input: CareWish): CareOfDay {
  const heat = heatOfDay(input);
  return {
    noise: noiseOfDay(input),
    heat,
    drinking: drinkingOfDay(input.stays, heat),
    uv: uvOfDay(input),
    body: bodyOf(input),
    cautions: cautionsOf(input.stays, input.usesServiceRoad ?? false),
  };
}

/** Common practice for a day: 10 to 15 kg carried, 10 to 20 km walked. */
const MUCH_KG = 15;
const MUCH_KM = 20;
/** Break at the wheel at least this often. */
const BREAK_EVERY_MINUTES = 120;
const HOUR = 3_600_000;

function bodyOf({ stays, walkedM, carriedKg, driveHomeMinutes }: CareInput): readonly string[] {
  const hours = stays.length === 0 ? null : ((stays.at(-1)?.to ?? 0) - (stays[0]?.from ?? 0)) / HOUR;
  return [walkedSentence(walkedM), carriedSentence(carriedKg), driveSentence(driveHomeMinutes, hours)];
}

function walkedSentence(walkedM: number | undefined): string {
  if (walkedM === undefined) return 'How far you walk is not known until a plan with its ways is made.';
  const km = walkedM / 1000;
  const more = km > MUCH_KM ? ' That is more than a usual day: leave a spot out.' : '';
  return `${km.toFixed(1)} km on foot between spots and the van, by the ways drawn, as if nothing were driven.${more}`;
}

function carriedSentence(carriedKg: number | undefined): string {
  if (carriedKg === undefined) return 'What you carry is not weighed.';
  const more = carriedKg > MUCH_KG ? ' That is more than a usual bag: leave something in the van.' : '';
  return `${carriedKg.toFixed(1)} kg carried.${more}`;
}

function driveSentence(minutes: number | undefined, hours: number | null): string {
  const rest = 'Eat and sit down before you drive; do not sort pictures till you drop and then drive.';
  const day = hours === null ? '' : ` after ${Math.round(hours)} h at the track`;
  if (minutes === undefined) return `The drive home is not said. ${rest} A break every 2 h.`;
  const breaks = Math.max(0, Math.ceil(minutes / BREAK_EVERY_MINUTES) - 1);
  const drive = `The drive home is ${durationOf(minutes)}${day}.`;
  if (breaks === 0) return `${drive} ${rest}`;
  return `${drive} ${rest} At least ${breaks === 1 ? 'one break' : `${breaks} breaks`} on the way, one every 2 h.`;
}

const durationOf = (minutes: number): string =>
  minutes < 60 ? `${minutes} min` : `${Math.floor(minutes / 60)} h${minutes % 60 === 0 ? '' : ` ${minutes % 60} min`}`;
