/** From the run sheet to what goes into the pocket: the same stays, cut to what is needed beside the track. */
import type { SpotId } from '../../ids.js';
import type { WallMs } from '../../units.js';
import type { SpotLight } from '../light/types.js';
import type { RunSheet, SheetStay } from '../sheet/types.js';
import type { SlipRule } from '../types.js';
import type { PocketDay, PocketLight, PocketStay, Watched } from './types.js';

const MINUTE_MS = 60_000;
/** Nobody keeps more than so many liveries in mind. */
export const MOST_WATCHED = 8;

export interface PocketInput {
  readonly sheet: Pick<RunSheet, 'meeting' | 'day' | 'printedAt' | 'groups' | 'slots' | 'rows' | 'cautions'>;
  /** Minutes the circuit's clocks are ahead of UTC on this day. */
  readonly eastMin: number;
  readonly slipRule: SlipRule;
  /** Null: where the spot looks is not known. */
  lightAt(spot: SpotId, at: WallMs): SpotLight | null;
  /** Most wanted first; only the first eight go along. */
  watchAt(stay: SheetStay): readonly Watched[];
  toGetAt(stay: SheetStay): PocketStay['toGet'] | null;
}

export function pocketDayOf(input: PocketInput): PocketDay {
  const { sheet } = input;
  const minuteOf = (at: WallMs) => Math.round((at - sheet.day) / MINUTE_MS);
  const stays = sheet.rows.flatMap((row) => (row.kind === 'stay' ? [row] : []));
  const watch = new WatchTable();
  return {
    meeting: sheet.meeting,
    day: sheet.day,
    eastMin: input.eastMin,
    madeMin: Math.max(0, minuteOf(sheet.printedAt)),
    slipRule: input.slipRule,
    groups: sheet.groups.map(({ key, name }) => ({ key, name })),
    slots: sheet.slots.map(({ name, group, start, end, isSighting = false }) => ({
      name,
      group,
      fromMin: minuteOf(start),
      toMin: minuteOf(end),
      isSighting,
    })),
    spots: [...new Map(stays.map(({ spot }) => [spot.id, spot])).values()].map(({ id, number, name }) => ({
      id,
      number,
      name,
    })),
    stays: stays.map((stay) => pocketStay(input, stay, minuteOf, watch)),
    watch: watch.riders,
    cautions: sheet.cautions,
  };
}

function pocketStay(
  input: PocketInput,
  stay: SheetStay,
  minuteOf: (at: WallMs) => number,
  watch: WatchTable,
): PocketStay {
  const { spot, from, to, sure, slow, cautions } = stay;
  const toGet = input.toGetAt(stay);
  return {
    fromMin: minuteOf(from),
    toMin: minuteOf(to),
    spot: spot.id,
    wayMin: wayBefore(input, stay),
    light: pocketLight(input, stay, minuteOf),
    ...(sure !== null && { sure }),
    ...(slow !== null && { slow }),
    watch: input
      .watchAt(stay)
      .slice(0, MOST_WATCHED)
      .map((rider) => watch.placeOf(rider)),
    ...(toGet !== null && toGet !== undefined && { toGet }),
    ...(cautions.length > 0 && { caution: cautions.join(' ') }),
  };
}

/** The way that ends where the stay begins; on the sheet it is the row before. */
function wayBefore({ sheet }: PocketInput, stay: SheetStay): number {
  const row = sheet.rows[sheet.rows.indexOf(stay) - 1];
  return row?.kind === 'way' ? Math.ceil(row.minutes) : 0;
}

function pocketLight(
  { lightAt }: PocketInput,
  { spot, from, to }: SheetStay,
  minuteOf: (at: WallMs) => number,
): PocketLight {
  const light = lightAt(spot.id, from);
  if (light === null) return { kind: 'not-known' };
  if (light.kind === 'night') return { kind: 'night' };
  if (light.kind === 'even') return { kind: 'cloud' };
  const low = firstLow((at) => lightAt(spot.id, at), from, to);
  return {
    kind: 'sun',
    from: light.from,
    altitudeDeg: Math.round(light.sun.altitudeDeg),
    ...(low !== null && { lowFromMin: minuteOf(low) }),
  };
}

function firstLow(lightAt: (at: WallMs) => SpotLight | null, from: WallMs, to: WallMs): WallMs | null {
  for (let at = from as number; at <= to; at += MINUTE_MS) {
    const light = lightAt(at as WallMs);
    if (light?.kind === 'sun' && light.isLowIntoLens) return at as WallMs;
  }
  return null;
}

/** Each rider once, however many stays look for them. */
class WatchTable {
  readonly riders: Watched[] = [];

  placeOf(rider: Watched): number {
    const place = this.riders.findIndex((one) => (one.riderTag ?? one.words) === (rider.riderTag ?? rider.words));
    return place >= 0 ? place : this.riders.push(rider) - 1;
  }
}
