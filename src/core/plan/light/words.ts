/** A light in words: short enough for a run sheet, and why. */
import { isLow } from './lightAt.js';
import type { SpotLight, SunPosition } from './types.js';
import { LIGHT_WORTH } from './worth.js';

export interface LightWords {
  /** For instance `side, sun low`. */
  readonly short: string;
  /** Whole sentences. */
  readonly reasons: readonly string[];
}

export const lightWords = (light: SpotLight): LightWords => {
  switch (light.kind) {
    case 'night':
      return { short: 'dark', reasons: ['The sun is below the horizon.'] };
    case 'even':
      return { short: 'even', reasons: ['Overcast: the light comes from everywhere.', sunSentence(light.sun)] };
    case 'sun':
      return { short: shortOf(light), reasons: reasonsOf(light) };
  }
};

type Sun = Extract<SpotLight, { kind: 'sun' }>;

const shortOf = (light: Sun): string => {
  const more = [
    ...(light.from !== 'back' && light.onSide <= 0 ? ['in shade'] : []),
    ...(light.isLowIntoLens ? ['low sun into the lens'] : isLow(light.sun) ? ['sun low'] : []),
    ...(light.sun.altitudeDeg > LIGHT_WORTH.highFromDeg ? ['sun high'] : []),
    ...(light.isSoft ? ['soft'] : []),
  ];
  return [light.from, ...more].join(', ');
};

const reasonsOf = (light: Sun): readonly string[] => [
  `${sunSentence(light.sun)} It is ${Math.round(light.offLensDeg)}° off the line behind your lens.`,
  light.onSide > 0
    ? `It falls on the side you see at ${Math.round((Math.asin(light.onSide) * 180) / Math.PI)}°; 90° is straight on.`
    : 'The side you see is in shade.',
  ...(light.isLowIntoLens ? ['Below 12° and within 40° of the view: flare, and you see little.'] : []),
  light.shadowLength === null
    ? 'Shadows run on without an end.'
    : `Shadows are ${light.shadowLength.toFixed(light.shadowLength < 10 ? 1 : 0)} times as long as what throws them.`,
  ...(light.isSoft ? ['Thin cloud softens it.'] : []),
];

const sunSentence = ({ azimuthDeg, altitudeDeg }: SunPosition): string =>
  `The sun stands ${Math.max(0, Math.round(altitudeDeg))}° high in the ${COMPASS[Math.round(azimuthDeg / 45) % 8]}.`;

const COMPASS = ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west'] as const;
