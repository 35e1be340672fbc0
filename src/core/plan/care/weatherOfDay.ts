/** Heat, drinking and ultraviolet light through the plan (rules PL912 and PL913). */
import { clearSkyUvIndex, estimateWbgt, heatIndexC, uvClassOf } from '../../numeric/heat.js';
import { wallMsOf } from '../../units.js';
import type { CareInput, CareStay, Drinking, HeatOfDay, UvOfDay } from './types.js';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;

/** The National Weather Service’s steps of the heat index: 80, 90, 103 and 125 °F. */
const STEPS: readonly (readonly [fromC: number, sentence: string])[] = [
  [51.7, 'Heat stroke is likely. Stay in the shade; no picture is worth it.'],
  [
    39.4,
    'Heat cramps and exhaustion are likely, heat stroke is possible: leave sessions out and sit them out in the shade.',
  ],
  [32.2, 'Heat cramps and exhaustion are possible: shade at every pause, and somebody who knows where you are.'],
  [26.7, 'Tiring with long standing and carrying: shade at lunch, hat and long sleeves.'],
];
const HOT_FROM_C = 26.7;
/** ISO 7243’s reference for moderate work of somebody not used to heat. */
const WBGT_MODERATE_C = 26;

export function heatOfDay({ air }: Pick<CareInput, 'air'>): HeatOfDay {
  if (air === undefined)
    return {
      kind: 'not-said',
      sentence: 'How hot and damp it will be is not said; write down a temperature and a humidity.',
    };
  const index = heatIndexC(air.temperatureC, air.humidityPercent);
  const wbgt = estimateWbgt(air.temperatureC, air.humidityPercent);
  const isHot = index >= HOT_FROM_C || wbgt.celsius >= WBGT_MODERATE_C;
  const step = STEPS.find(([fromC]) => index >= fromC)?.[1];
  return {
    kind: 'heat',
    air,
    heatIndexC: index,
    wbgt,
    isHot,
    sentences: [
      `${air.temperatureC} °C at ${air.humidityPercent} % feels like ${Math.round(index)} °C in the shade; full sun adds up to 8.`,
      `WBGT about ${Math.round(wbgt.celsius)} °C, an estimate that supposes ${wbgt.supposes}.`,
      ...(step ? [step] : []),
      ...(wbgt.celsius >= WBGT_MODERATE_C
        ? [`From ${WBGT_MODERATE_C} on somebody not used to heat should carry and walk less, and rest more.`]
        : []),
    ],
  };
}

/** 250 ml every quarter of an hour when working hard in heat; public advice, and below the 1.4 l an hour one never passes. */
const HOT_LITRES_AN_HOUR = 1;
/** Common practice, no source. */
const COOL_LITRES_AN_HOUR = 0.25;

export function drinkingOfDay(stays: readonly CareStay[], heat: HeatOfDay): Drinking | null {
  const first = stays[0];
  const last = stays.at(-1);
  if (first === undefined || last === undefined) return null;
  const hours = (last.to - first.from) / HOUR;
  const litres = (rate: number) => Math.round(hours * rate * 2) / 2;
  const [cool, hot] = [litres(COOL_LITRES_AN_HOUR), litres(HOT_LITRES_AN_HOUR)];
  const hotWords = 'a glass (250 ml) every quarter of an hour, and salt with it; never more than 1.4 l in an hour';
  if (heat.kind === 'not-said')
    return { litres: [cool, hot], sentence: `Water: ${cool} l on a cool day, ${hot} l if it is hot (${hotWords}).` };
  if (heat.isHot) return { litres: [hot, hot], sentence: `Water: about ${hot} l for the day: ${hotWords}.` };
  return { litres: [cool, cool], sentence: `Water: about ${cool} l for the day; drink before you are thirsty.` };
}

/** WHO: protect yourself from this index on. */
const PROTECT_FROM = 3;
const STEP = 10 * MINUTE;

export function uvOfDay({ stays, sunAltitudeDeg }: Pick<CareInput, 'stays' | 'sunAltitudeDeg'>): UvOfDay {
  if (sunAltitudeDeg === undefined || stays.length === 0)
    return { kind: 'unknown', sentence: 'Sunburn: not known until circuit, day and plan are said.' };
  const indexOf = (stay: CareStay): number => {
    let highest = clearSkyUvIndex(sunAltitudeDeg(stay.to));
    for (let at = stay.from as number; at < stay.to; at += STEP)
      highest = Math.max(highest, clearSkyUvIndex(sunAltitudeDeg(wallMsOf(at))));
    return highest;
  };
  const highestIndex = Math.max(...stays.map(indexOf));
  const protectAt = stays.filter((stay) => Math.round(indexOf(stay)) >= PROTECT_FROM);
  const uvClass = uvClassOf(highestIndex);
  const opening = `Ultraviolet: at most ${Math.round(highestIndex)} (${uvClass}) under a clear sky and thin ozone; thin cloud takes little of it.`;
  const what =
    protectAt.length === 0
      ? 'No protection is needed.'
      : 'Brim, long sleeves and sun cream; shade at lunch, since it is strongest from 11 to 15.';
  return { kind: 'at-most', highestIndex, uvClass, protectAt, sentence: `${opening} ${what}` };
}
