/** A pocket day as bytes and back. What follows from something else is not written: it makes the QR code coarser. */
import type { SpotId } from '../../ids.js';
import { millisecondsOf, wallMsOf } from '../../units.js';
import type { LightFrom } from '../light/types.js';
import type { Group } from '../types.js';
import { ByteReader, ByteWriter, UnreadableBytes } from './bytes.js';
import {
  POCKET_COLOURS,
  type PocketDay,
  type PocketLight,
  type PocketSlot,
  type PocketSpot,
  type PocketStay,
  type Watched,
} from './types.js';

const DAY_MS = 86_400_000;
const NO_SUN = ['night', 'cloud', 'not-known'] as const;
const LIGHT_FROM: readonly LightFrom[] = ['front', 'side', 'back'];
const TAG_DIGITS = 6;
/** Laps are told to the tenth of a second. */
const LAP_STEP_MS = 100;

export function bytesOfDay(day: PocketDay): Uint8Array {
  const to = new ByteWriter();
  to.text(day.meeting);
  to.whole(Math.floor(day.day / DAY_MS));
  to.signed(day.eastMin);
  to.whole(day.madeMin * 2 + (day.slipRule === 'sliding' ? 1 : 0));
  to.list(day.groups, ({ key, name }) => {
    to.text(key);
    to.text(name);
  });
  writeSlots(to, day);
  to.list(day.spots, ({ id, number, name }) => {
    to.whole(number);
    to.text(name);
    to.text(id === idFromName(name) ? '' : id);
  });
  to.list(day.watch, (watched) => writeWatched(to, watched));
  writeStays(to, day);
  to.list(day.cautions, (words) => to.text(words));
  return to.done();
}

/** Throws `UnreadableBytes` where the bytes are no such day. */
export function dayOfBytes(bytes: Uint8Array): PocketDay {
  const from = new ByteReader(bytes);
  const meeting = from.text();
  const day = wallMsOf(from.whole() * DAY_MS);
  const eastMin = from.signed();
  const made = from.whole();
  const groups = from.list((): Group => ({ key: from.text(), name: from.text() }));
  const slots = readSlots(from, groups);
  const spots = from.list((): PocketSpot => {
    const number = from.whole();
    const name = from.text();
    return { id: (from.text() || idFromName(name)) as SpotId, number, name };
  });
  const watch = from.list(() => readWatched(from));
  const stays = readStays(from, spots, watch.length);
  const cautions = from.list(() => from.text());
  from.end();
  return {
    meeting,
    day,
    eastMin,
    madeMin: Math.floor(made / 2),
    slipRule: made % 2 === 1 ? 'sliding' : 'clock-fixed',
    groups,
    slots,
    spots,
    stays,
    watch,
    cautions,
  };
}

const idFromName = (name: string): string => name.toLowerCase().replace(/[^a-z0-9]+/g, '-');

/** Slots are mostly called by their group and count, one after the other. */
function writeSlots(to: ByteWriter, { slots, groups }: PocketDay): void {
  const names = new SlotNames();
  let at = 0;
  to.list(slots, ({ name, group, fromMin, toMin, isSighting }) => {
    const isCounted = names.next(group) === name;
    to.whole((placeOf(groups, ({ key }) => key === group, group) * 2 + (isSighting ? 1 : 0)) * 2 + (isCounted ? 0 : 1));
    to.signed(fromMin - at);
    to.signed(toMin - fromMin);
    if (!isCounted) to.text(name);
    at = toMin;
  });
}

function readSlots(from: ByteReader, groups: readonly Group[]): PocketSlot[] {
  const names = new SlotNames();
  let at = 0;
  return from.list((): PocketSlot => {
    const packed = from.whole();
    const group = itemAt(groups, packed >> 2).key;
    const counted = names.next(group);
    const fromMin = at + from.signed();
    const toMin = fromMin + from.signed();
    at = toMin;
    return { name: packed & 1 ? from.text() : counted, group, fromMin, toMin, isSighting: (packed & 2) > 0 };
  });
}

class SlotNames {
  readonly #counts = new Map<string, number>();

  next(group: string): string {
    const count = (this.#counts.get(group) ?? 0) + 1;
    this.#counts.set(group, count);
    return `${group}${count}`;
  }
}

/** What a stay has, as bits; the spot stands above them. */
const HAS = { gap: 1, way: 2, wayWords: 4, sure: 8, slow: 16, toGet: 32, caution: 64 } as const;

function writeStays(to: ByteWriter, { stays, spots, watch }: PocketDay): void {
  let at = 0;
  to.list(stays, (stay) => {
    const { spot, fromMin, wayMin, wayWords, sure, slow, toGet, caution } = stay;
    const has: Record<keyof typeof HAS, boolean> = {
      gap: fromMin !== at,
      way: wayMin > 0,
      wayWords: wayWords !== undefined,
      sure: sure !== undefined,
      slow: slow !== undefined,
      toGet: toGet !== undefined,
      caution: caution !== undefined,
    };
    const bits = Object.entries(HAS).reduce((sum, [name, bit]) => sum + (has[name as keyof typeof HAS] ? bit : 0), 0);
    to.whole(bits);
    to.whole(placeOf(spots, ({ id }) => id === spot, spot));
    if (has.gap) to.signed(fromMin - at);
    to.signed(stay.toMin - fromMin);
    if (has.way) to.whole(wayMin);
    if (wayWords !== undefined) to.text(wayWords);
    writeLight(to, stay.light);
    if (sure !== undefined) writeShutter(to, sure);
    if (slow !== undefined) writeShutter(to, slow);
    if (toGet !== undefined) for (const count of [toGet.riders, toGet.of, toGet.neverSeen]) to.whole(count);
    if (caution !== undefined) to.text(caution);
    writePlaces(to, stay.watch, watch.length);
    at = stay.toMin;
  });
}

function readStays(from: ByteReader, spots: readonly PocketSpot[], watched: number): PocketStay[] {
  let at = 0;
  return from.list((): PocketStay => {
    const bits = from.whole();
    const has = (name: keyof typeof HAS) => (bits & HAS[name]) > 0;
    const spot = itemAt(spots, from.whole()).id;
    const fromMin = at + (has('gap') ? from.signed() : 0);
    const toMin = fromMin + from.signed();
    at = toMin;
    return {
      fromMin,
      toMin,
      spot,
      wayMin: has('way') ? from.whole() : 0,
      ...(has('wayWords') && { wayWords: from.text() }),
      light: readLight(from),
      ...(has('sure') && { sure: readShutter(from) }),
      ...(has('slow') && { slow: readShutter(from) }),
      ...(has('toGet') && { toGet: { riders: from.whole(), of: from.whole(), neverSeen: from.whole() } }),
      ...(has('caution') && { caution: from.text() }),
      watch: readPlaces(from, watched),
    };
  });
}

/** 0: all, in order, as most lists are. */
function writePlaces(to: ByteWriter, places: readonly number[], all: number): void {
  const isAll = places.length === all && places.every((place, index) => place === index);
  to.whole(isAll ? 0 : places.length + 1);
  if (!isAll) for (const place of places) to.whole(place);
}

function readPlaces(from: ByteReader, all: number): number[] {
  const count = from.whole();
  const places =
    count === 0 ? Array.from({ length: all }, (_, place) => place) : from.items(count - 1, () => from.whole());
  if (places.some((place) => place >= all)) throw new UnreadableBytes('it watches for a rider it lacks');
  return places;
}

/** What a camera's dial offers, in thirds of a stop: one byte each, and any other as it is. */
const SHUTTERS = [
  4, 5, 6, 8, 10, 13, 15, 20, 25, 30, 40, 50, 60, 80, 100, 125, 160, 200, 250, 320, 400, 500, 640, 800, 1000, 1250,
  1600, 2000, 2500, 3200, 4000,
];

function writeShutter(to: ByteWriter, figure: number): void {
  to.whole(SHUTTERS.indexOf(figure) + 1);
  if (!SHUTTERS.includes(figure)) to.whole(figure);
}

function readShutter(from: ByteReader): number {
  const place = from.whole();
  return place === 0 ? from.whole() : itemAt(SHUTTERS, place - 1);
}

/** What is no sun, then where the sun stands, with and without a time from which it is low. */
function writeLight(to: ByteWriter, light: PocketLight): void {
  if (light.kind !== 'sun') {
    to.whole(NO_SUN.indexOf(light.kind));
    return;
  }
  const { from, altitudeDeg, lowFromMin } = light;
  to.whole(NO_SUN.length + LIGHT_FROM.indexOf(from) * 2 + (lowFromMin === undefined ? 0 : 1));
  to.signed(altitudeDeg);
  if (lowFromMin !== undefined) to.whole(lowFromMin);
}

function readLight(from: ByteReader): PocketLight {
  const packed = from.whole();
  const none = NO_SUN[packed];
  if (none !== undefined) return { kind: none };
  const ofSun = packed - NO_SUN.length;
  const light = { kind: 'sun', from: itemAt(LIGHT_FROM, ofSun >> 1), altitudeDeg: from.signed() } as const;
  return ofSun % 2 === 1 ? { ...light, lowFromMin: from.whole() } : light;
}

function writeWatched(to: ByteWriter, watched: Watched): void {
  const { more, number, code, riderTag, lapMs, crop, helmet } = watched;
  const words = watched.words === liveryWords(watched) ? undefined : watched.words;
  const present = [number, code, riderTag, lapMs, helmet, words, more, crop].map((value) => value !== undefined);
  to.whole(present.reduce((bits, is, bit) => bits + (is ? 2 << bit : 0), watched.isNeverSeen ? 1 : 0));
  to.list(watched.bike, (colour) => to.whole(POCKET_COLOURS.indexOf(colour)));
  if (number !== undefined) to.text(number);
  if (code !== undefined) to.text(code);
  if (riderTag !== undefined) to.hex(riderTag, TAG_DIGITS);
  if (lapMs !== undefined) to.whole(Math.round(lapMs / LAP_STEP_MS));
  if (helmet !== undefined) to.whole(POCKET_COLOURS.indexOf(helmet));
  if (words !== undefined) to.text(words);
  if (more !== undefined) to.text(more);
  if (crop !== undefined) to.raw(crop);
}

function readWatched(from: ByteReader): Watched {
  const packed = from.whole();
  const has = (bit: number) => (packed & (2 << bit)) > 0;
  const bike = from.list(() => itemAt(POCKET_COLOURS, from.whole()));
  const seen = {
    bike,
    isNeverSeen: (packed & 1) > 0,
    ...(has(0) && { number: from.text() }),
    ...(has(1) && { code: from.text() }),
    ...(has(2) && { riderTag: from.hex(TAG_DIGITS) }),
    ...(has(3) && { lapMs: millisecondsOf(from.whole() * LAP_STEP_MS) }),
    ...(has(4) && { helmet: itemAt(POCKET_COLOURS, from.whole()) }),
  };
  return {
    ...seen,
    words: has(5) ? from.text() : liveryWords(seen),
    ...(has(6) && { more: from.text() }),
    ...(has(7) && { crop: from.raw() }),
  };
}

/** The words that follow from the colours, and so need not be written: `navy / white, red helmet`. */
const liveryWords = ({ bike, helmet }: Pick<Watched, 'bike' | 'helmet'>): string =>
  [bike.join(' / '), ...(helmet === undefined ? [] : [`${helmet} helmet`])].join(', ');

function placeOf<Item>(items: readonly Item[], is: (item: Item) => boolean, what: string): number {
  const place = items.findIndex(is);
  if (place < 0)
    throw new RangeError(`Expected “${what}” among the groups and spots of the pocket day; it is not there.`);
  return place;
}

function itemAt<Item>(items: readonly Item[], place: number): Item {
  const item = items[place];
  if (item === undefined) throw new UnreadableBytes('it points at something that is not in it');
  return item;
}
