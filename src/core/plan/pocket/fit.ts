/**
 * Makes a day fit one QR code. What helps least beside the track is left out first; slots, stays, settings and cautions never
 * are, for without them the page would mislead.
 */
import { codeOfDay, type PocketCode, type Squeezer } from './code.js';
import type { PocketDay, PocketStay, Watched } from './types.js';

/**
 * Letters of an address that a phone still reads off a laptop's screen: version 22 at level L holds 1,003 bytes (ISO/IEC 18004,
 * table 7) in 105 modules, some seven pixels each on a screen 900 high.
 */
export const MOST_QR_LETTERS = 1003;

export type Fitted =
  | { readonly kind: 'fits'; readonly day: PocketDay; readonly code: PocketCode; readonly leftOut: readonly string[] }
  | { readonly kind: 'too-large'; readonly sentence: string };

interface Step {
  readonly what: string;
  readonly without: (day: PocketDay) => PocketDay;
}

/** In the order in which they go. */
const STEPS: readonly Step[] = [
  { what: 'the small pictures', without: (day) => eachWatched(day, ({ crop: _, ...rest }) => rest) },
  { what: 'stays that are over', without: withoutPastStays },
  { what: 'second lines about riders', without: (day) => eachWatched(day, ({ more: _, ...rest }) => rest) },
  { what: 'laps', without: (day) => eachWatched(day, ({ lapMs: _, ...rest }) => rest) },
  { what: 'riders to look for after the next three stays', without: (day) => watchOnly(day, 3, 8) },
  { what: 'all but four riders to look for at each stay', without: (day) => watchOnly(day, 3, 4) },
  { what: 'words about ways', without: (day) => eachStay(day, ({ wayWords: _, ...rest }) => rest) },
  { what: 'all riders to look for', without: (day) => watchOnly(day, 0, 0) },
];

/** @param letters room for the code, the address before it taken off */
export async function fitDay(day: PocketDay, letters: number, squeezer: Squeezer): Promise<Fitted> {
  let fitted = day;
  const leftOut: string[] = [];
  for (const step of [null, ...STEPS]) {
    const less = step === null ? fitted : step.without(fitted);
    if (step !== null && isSame(less, fitted)) continue;
    if (step !== null) leftOut.push(step.what);
    fitted = less;
    const code = await codeOfDay(fitted, squeezer);
    if (code.code.length <= letters) return { kind: 'fits', day: fitted, code, leftOut };
  }
  const { code } = await codeOfDay(fitted, squeezer);
  const sentence = `Expected at most ${letters} letters for one code but ${day.meeting} needs ${code.length}, even without riders to look for. Give the phone the file instead.`;
  return { kind: 'too-large', sentence };
}

const isSame = (a: PocketDay, b: PocketDay): boolean => JSON.stringify(a) === JSON.stringify(b);

const eachWatched = (day: PocketDay, of: (watched: Watched) => Watched): PocketDay => ({
  ...day,
  watch: day.watch.map(of),
});

const eachStay = (day: PocketDay, of: (stay: PocketStay, index: number) => PocketStay): PocketDay => ({
  ...day,
  stays: day.stays.map(of),
});

function withoutPastStays(day: PocketDay): PocketDay {
  return dropUnwatched({ ...day, stays: day.stays.filter(({ toMin }) => toMin > day.madeMin) });
}

/** Riders to look for at the next stays only, so many at each. */
function watchOnly(day: PocketDay, stays: number, riders: number): PocketDay {
  let coming = 0;
  return dropUnwatched(
    eachStay(day, (stay) => {
      const place = stay.toMin > day.madeMin ? coming++ : stays;
      return { ...stay, watch: place < stays ? stay.watch.slice(0, riders) : [] };
    }),
  );
}

/** Riders that no stay asks for any more go, and the rest keep their order. */
function dropUnwatched(day: PocketDay): PocketDay {
  const kept = [...new Set(day.stays.flatMap(({ watch }) => watch))].sort((a, b) => a - b);
  const placeOf = new Map(kept.map((place, now) => [place, now]));
  return {
    ...eachStay(day, (stay) => ({ ...stay, watch: stay.watch.map((place) => placeOf.get(place)!) })),
    watch: kept.map((place) => day.watch[place]!),
  };
}
