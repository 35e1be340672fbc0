/** ISO and opening for a shutter in a light. Practice gives the light's EV; a frame of the day knows better. */
import { APERTURES, fNumberFor, ISOS, isoFor, markOf, nearestMark, SHUTTERS } from '../../numeric/exposure.js';
import { airyDiameterMm } from '../../numeric/optics.js';
import type { SpotLight } from '../light/types.js';
import { BACKLIGHT_STOPS, BIKE_STOPS, BIKE_STOPS_UNSAID, CLOUD_STOPS, SUN_EV } from './practice.js';
import { markWords, rangeWords } from './speeds.js';
import type { BikeTone, Exposed, ExposureAdvice, Ladder, Practice, Sensor } from './types.js';

/** Trackside practice is f/5.6 to f/8: open no further while the ISO can be raised. */
const WIDEST = '5.6';
const SMALLEST = '22';
/** Airy's disc wider than this eats detail that the pixels could hold: own convention. */
const SOFT_FROM_AIRY_PX = 3;

export const exposureAdvice = (
  light: SpotLight,
  ladder: Ladder,
  sensor: Sensor,
  tone: BikeTone | undefined,
): ExposureAdvice => {
  const ev = evOf(light);
  const at = (shutter: string): Exposed | null => (ev === null ? null : exposedAt(middle(ev), shutter, sensor));
  const [atStart, atEnd] = [at(ladder.start), at(ladder.end)];
  return {
    ev,
    compensation: {
      light: light.kind === 'sun' && light.from === 'back' ? BACKLIGHT_STOPS : null,
      bike: tone === undefined ? BIKE_STOPS_UNSAID : BIKE_STOPS[tone],
    },
    atStart,
    atEnd,
    notes: notesOf(
      ev,
      [atStart, atEnd].filter((exposed) => exposed !== null),
    ),
  };
};

const middle = ({ range: [low, high] }: Practice): number => (low + high) / 2;

/** Of what the lens sees: the lit side, or in backlight the side in shade. */
export const evOf = (light: SpotLight): Practice | null => {
  if (light.kind === 'night') return null;
  const clear = (SUN_EV.find(({ fromDeg }) => light.sun.altitudeDeg >= fromDeg) ?? SUN_EV.at(-1)!).ev;
  if (light.kind === 'even') return darker(clear, CLOUD_STOPS.overcast);
  const behindCloud = light.isSoft ? darker(clear, CLOUD_STOPS['thin-cloud']) : clear;
  return light.from === 'back' ? darker(behindCloud, BACKLIGHT_STOPS) : behindCloud;
};

const darker = (clear: Practice, less: Practice): Practice => ({
  range: [clear.range[0] - less.range[1], clear.range[1] - less.range[0]],
  basis: 'common-practice',
  says: `${clear.says}, ${less.says}`,
});

/** The lowest ISO at which the opening is no wider than f/5.6. */
const exposedAt = (ev: number, shutter: string, sensor: Sensor): Exposed => {
  const { exact: seconds } = markOf(SHUTTERS, shutter);
  const widest = markOf(APERTURES, WIDEST).exact;
  const smallest = markOf(APERTURES, SMALLEST).exact;
  const iso = nearestMark(ISOS, Math.max(sensor.baseIso, isoFor(ev, seconds, widest)));
  const asked = fNumberFor(ev, seconds, iso.exact);
  const opening = nearestMark(APERTURES, Math.min(smallest, Math.max(widest, asked)));
  return {
    shutter,
    fNumber: opening.nominal,
    iso: iso.nominal,
    greyStops: Math.max(0, 2 * Math.log2(asked / smallest)),
    airyPx: (airyDiameterMm(opening.exact) * sensor.widthPx) / sensor.widthMm,
  };
};

const notesOf = (ev: Practice | null, exposed: readonly Exposed[]): readonly string[] => {
  if (ev === null) return ['No light is known for the dark.'];
  const soft = exposed.find(({ airyPx }) => airyPx > SOFT_FROM_AIRY_PX);
  const bright = exposed.find(({ greyStops }) => greyStops > 0.2);
  return [
    `EV ${rangeWords(ev.range, '')}: ${markWords(ev)}, ${ev.says}. In steady light set it by hand from a frame of the day.`,
    ...(soft === undefined
      ? []
      : [
          `At f/${soft.fNumber} the smallest spot is ${soft.airyPx.toFixed(1)} pixels wide: fine detail softens. A grey filter keeps the opening wider.`,
        ]),
    ...(bright === undefined
      ? []
      : [
          `At ${bright.shutter} f/22 is still too bright: a grey filter of ${bright.greyStops.toFixed(1)} stops, or stay quicker.`,
        ]),
  ];
};
