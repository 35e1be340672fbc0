/** One line of settings for a stay: what most of its groups start from, and in the notes what the others do. */
import type { Group } from '../types.js';
import type { PlainStay } from './stays.js';
import type { SheetInput, SheetSettings } from './types.js';
import { shutterInWords } from './words.js';

export interface StaySettings {
  readonly lens: string | null;
  readonly sure: number | null;
  readonly slow: number | null;
  readonly notes: readonly string[];
}

export function settingsOfStay(input: SheetInput, { spot, sessions }: PlainStay): StaySettings {
  const groups = input.groups.filter(({ key }) => sessions.some(({ group }) => group === key));
  const each = groups.map((group) => ({ group, is: input.settings(spot.id, group.key) ?? {} }));
  const sure = mostCommon(each.map(({ is }) => is.sure));
  const slow = mostCommon(each.map(({ is }) => is.slow));
  const notes = each.flatMap(({ group, is }) => noteOf(group, is, sure, slow));
  return { lens: mostCommon(each.map(({ is }) => is.lens)), sure, slow, notes };
}

const IN_THE_DARK = 'what light is left only a test frame tells; no flash';

/** The shutters are reckoned for daylight: of a stay in the dark none stands. */
export function inLight(light: string | null, settings: StaySettings): StaySettings {
  if (light === null || !/\bdark\b/.test(light)) return settings;
  return light === 'dark'
    ? { ...settings, sure: null, slow: null, notes: [IN_THE_DARK] }
    : { ...settings, notes: [...settings.notes, `then ${IN_THE_DARK}`] };
}

/** `Fast 1/500` or, where only the slow frame differs, `Fast slow 1/160`. */
function noteOf(group: Group, is: SheetSettings, sure: number | null, slow: number | null): readonly string[] {
  const parts = [
    ...(is.sure === undefined || is.sure === sure ? [] : [shutterInWords(is.sure)]),
    ...(is.slow === undefined || is.slow === slow ? [] : [`slow ${shutterInWords(is.slow)}`]),
  ];
  return parts.length === 0 ? [] : [`${group.name} ${parts.join(', ')}`];
}

/** The first of the most common; null where none is known. */
function mostCommon<Value>(values: readonly (Value | undefined)[]): Value | null {
  const counts = new Map<Value, number>();
  for (const value of values) if (value !== undefined) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0] ?? null;
}
