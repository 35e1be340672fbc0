/** The hours around now as the day line has them: sessions in their group's tint, spots below, now as a red needle. */
import type { Glance, PocketDay, PocketSlot, PocketStay } from '../core/plan/pocket/index.js';
import { drawn } from './dom.js';
import { clock, WORDS } from './words.js';

const WIDTH = 358;
const BEFORE_MIN = 25;
const SHOWN_MIN = 160;
const SESSION_HEIGHT = 22;
const SPOT_TOP = 28;
const SPOT_HEIGHT = 22;
/** Below this width a block has no room for its words. */
const LEAST_WORDS = 24;

export function strip(day: PocketDay, { slots }: Glance, nowMin: number): SVGElement {
  const from = nowMin - BEFORE_MIN;
  const x = (minute: number) =>
    Math.round(Math.min(WIDTH, Math.max(0, ((minute - from) / SHOWN_MIN) * WIDTH)) * 10) / 10;
  const isSeen = ({ fromMin, toMin }: { fromMin: number; toMin: number }) => x(toMin) - x(fromMin) > 2;
  return drawn(
    'svg',
    { class: 'strip', viewBox: `0 0 ${WIDTH} 56`, role: 'img', 'aria-label': stripWords(day, slots, nowMin) },
    [
      ...slots.filter(isSeen).map((slot) => session(slot, tintOf(day, slot), x)),
      ...day.stays.filter(isSeen).map((stay) => stand(stay, numberOf(day, stay), stay.toMin <= nowMin, x)),
      drawn('path', { d: `M${x(nowMin)} 0V56`, class: 'needle' }),
    ],
  );
}

function session(slot: PocketSlot, tint: number, x: (minute: number) => number): SVGElement {
  const [left, right] = [x(slot.fromMin), x(slot.toMin)];
  return drawn('g', { class: `ses tint-${tint}` }, [
    drawn('rect', { x: left + 0.5, y: 0.5, width: right - left - 1, height: SESSION_HEIGHT }),
    right - left >= LEAST_WORDS && drawn('text', { x: left + 5, y: 17 }, [slot.name]),
  ]);
}

function stand(stay: PocketStay, number: number, isOver: boolean, x: (minute: number) => number): SVGElement {
  const [left, right] = [x(stay.fromMin), x(stay.toMin)];
  return drawn('g', { class: isOver ? 'stand over' : 'stand' }, [
    drawn('rect', { x: left + 0.5, y: SPOT_TOP, width: right - left - 1, height: SPOT_HEIGHT }),
    right - left >= LEAST_WORDS && drawn('text', { x: left + 5, y: SPOT_TOP + 17 }, [String(number)]),
  ]);
}

const numberOf = ({ spots }: PocketDay, { spot }: PocketStay): number =>
  spots.find(({ id }) => id === spot)?.number ?? 0;

/** The fourth tint is the third of three groups: tints climb from light to dark. */
export function tintOf({ groups }: PocketDay, { group }: PocketSlot): number {
  const place = groups.findIndex(({ key }) => key === group);
  return groups.length <= 3 && place === 2 ? 3 : Math.min(3, Math.max(0, place));
}

const stripWords = (day: PocketDay, slots: readonly PocketSlot[], nowMin: number): string =>
  [
    WORDS.day,
    ...slots
      .filter(({ toMin }) => toMin > nowMin)
      .slice(0, 5)
      .map(({ name, fromMin }) => `${name} ${clock(fromMin)}`),
    ...day.stays
      .filter(({ toMin }) => toMin > nowMin)
      .slice(0, 3)
      .map((stay) => `${day.spots.find(({ id }) => id === stay.spot)?.name} ${clock(stay.fromMin)}`),
  ].join(', ');
