/** The page beside the track: where, how long, with what, whom. */
import {
  type Glance,
  glanceAt,
  type PocketDay,
  type PocketSlot,
  type PocketStay,
  standingFlag,
} from '../core/plan/pocket/index.js';
import { isPressedTwice, lateTap, outTap, startingSlot } from './acts.js';
import { button, el } from './dom.js';
import { trouble } from './otherViews.js';
import type { PocketStore } from './store.js';
import { strip, tintOf } from './strip.js';
import { watchList } from './watchList.js';
import { clock, countdown, isOut, light, otherDay, shutter, tapped, WORDS, way } from './words.js';

const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;

export interface Shown {
  readonly glance: Glance;
  readonly nowMs: number;
}

/** What stands now, in the day's own time. */
export function shownAt(store: PocketStore, day: PocketDay, now: number): Shown {
  const nowMs = now + day.eastMin * MINUTE_MS - day.day;
  return { nowMs, glance: glanceAt(day, store.state.fresh, nowMs) };
}

export const countdownText = ({ countdown: left }: Glance): string => ('ms' in left ? countdown(left.ms) : '');

/** What the page is built from, beside the counting figure: where this is the same nothing needs to be drawn anew. */
export const shapeOf = ({ glance, nowMs }: Shown): string =>
  JSON.stringify([
    Math.floor(nowMs / MINUTE_MS),
    glance.isOut?.name,
    glance.stay?.fromMin,
    glance.way,
    glance.stoppedAtMin,
    glance.countdown.to,
  ]);

export function nowView(store: PocketStore, day: PocketDay, shown: Shown): readonly HTMLElement[] {
  const { glance, nowMs } = shown;
  const { stay } = glance;
  const nowMin = nowMs / MINUTE_MS;
  const timeOf = (wall: number) => clock((wall - day.day) / MINUTE_MS);
  const isToday = nowMs >= 0 && nowMs < DAY_MS;
  return [
    el('main', {}, [
      !isToday && el('p', { class: 'trouble' }, [otherDay(day, day.day + nowMs)]),
      trouble(store),
      head(day, glance),
      stay === null ? el('p', { class: 'over' }, [WORDS.planIsOver]) : hereAndNow(day, stay, shown),
      el('div', { class: 'light' }, [
        strip(day, glance, nowMin),
        stay === null
          ? null
          : el('p', {}, [el('span', { class: 'num' }, [clock(nowMin)]), el('span', {}, [light(stay.light)])]),
      ]),
      stay === null ? null : watchList(store, day, stay, timeOf),
      cautions(day, stay),
      el('nav', { 'aria-label': WORDS.more }, [
        button('clock-card', { class: 'wide' }, [WORDS.clockCard], () => store.show('clock-card')),
        button('hand-back', { class: 'wide' }, [WORDS.handBack], () => store.show('hand-back')),
      ]),
    ]),
    el('div', { class: 'acts' }, [lastTap(store, day, nowMs), acts(store, day, glance, nowMin)]),
  ];
}

function head({ spots }: PocketDay, { stay, isOut: slot, stoppedAtMin }: Glance): HTMLElement {
  const spot = spots.find(({ id }) => id === stay?.spot);
  return el('header', {}, [
    el('h1', {}, [spot === undefined ? WORDS.title : `${spot.number} ${spot.name}`]),
    el('span', { class: stoppedAtMin === null ? '' : 'red' }, [isOut(slot, stoppedAtMin)]),
  ]);
}

function hereAndNow(day: PocketDay, stay: PocketStay, { glance }: Shown): HTMLElement {
  const { after } = glance;
  const afterSpot = day.spots.find(({ id }) => id === after?.spot);
  return el('section', { class: 'here' }, [
    glance.way !== 'there' &&
      stay.wayMin > 0 &&
      el('p', { class: glance.way === 'go' ? 'go red' : 'go' }, [way(stay, glance.way === 'go')]),
    el('div', { class: 'board' }, [
      el('span', { class: 'countdown num', role: 'timer' }, [countdownText(glance)]),
      el('p', {}, whatComes(day, glance)),
    ]),
    (stay.sure !== undefined || stay.slow !== undefined) && settings(stay),
    after !== null &&
      afterSpot !== undefined &&
      el('p', { class: 'after' }, [
        `${WORDS.afterThat} ${afterSpot.number} ${afterSpot.name} `,
        after.wayMin > 0
          ? `${WORDS.at} ${clock(after.fromMin)} (${way(after, false)})`
          : `${WORDS.at} ${clock(after.fromMin)}`,
      ]),
  ]);
}

function whatComes(day: PocketDay, { countdown: left }: Glance): readonly (Node | string)[] {
  if (left.to === 'nothing') return [WORDS.noSession];
  if (left.to === 'going-on') return [chip(day, left.slot), ` ${WORDS.stopped}`, el('br'), WORDS.nobodyUnderRed];
  const { slot } = left;
  const times =
    left.to === 'out'
      ? [`${WORDS.at} `, bold(clock(slot.fromMin)), `, ${WORDS.to} `, bold(clock(slot.toMin))]
      : [`${WORDS.at} `, bold(clock(slot.toMin))];
  return [
    chip(day, slot),
    ` ${left.to === 'out' ? WORDS.goesOut : WORDS.ends}`,
    ...(slot.isSighting ? [`, ${WORDS.sighting}`] : []),
    el('br'),
    ...times,
  ];
}

const bold = (text: string): HTMLElement => el('b', { class: 'num' }, [text]);
const chip = (day: PocketDay, slot: PocketSlot): HTMLElement =>
  el('span', { class: `chip tint-${tintOf(day, slot)}` }, [slot.name]);

const settings = ({ sure, slow, watch }: PocketStay): HTMLElement =>
  el('p', { class: 'settings' }, [
    sure !== undefined && el('span', {}, [`${WORDS.sure} `, el('b', { class: 'num' }, [shutter(sure)])]),
    slow !== undefined &&
      el('span', {}, [
        `${watch.length > 0 ? WORDS.listDone : WORDS.thenSlow} `,
        el('b', { class: 'num slow' }, [shutter(slow)]),
      ]),
  ]);

const cautions = (day: PocketDay, stay: PocketStay | null): HTMLElement =>
  el('section', { class: 'cautions' }, [
    ...[stay?.caution, ...day.cautions].flatMap((words) => (words === undefined ? [] : [el('p', {}, [words])])),
    day.cautions.length === 0 && el('p', {}, [WORDS.caution]),
  ]);

/** What was just tapped stands by the thumb while it may have been a slip; later it is taken back where all taps stand. */
function lastTap(store: PocketStore, day: PocketDay, nowMs: number): HTMLElement {
  const { taps, isKept } = store.state;
  const tap = taps.at(-1);
  const isFresh = tap !== undefined && nowMs - (tap.at - day.day) < MINUTE_MS;
  const timeOf = (wall: number) => clock((wall - day.day) / MINUTE_MS);
  return el('div', { class: 'last', role: 'status' }, [
    !isKept && el('p', { class: 'red' }, [WORDS.notKept]),
    isFresh &&
      el('p', {}, [
        tap.isUndone ? `${tapped(tap, timeOf)}, ${WORDS.takenBack}` : tapped(tap, timeOf),
        !tap.isUndone && button('take-back', { class: 'small' }, [WORDS.takeBack], () => store.takeBack(tap.seq)),
      ]),
  ]);
}

function acts(store: PocketStore, day: PocketDay, glance: Glance, nowMin: number): HTMLElement {
  const taps = store.state.fresh;
  const slot = startingSlot(glance, taps, nowMin);
  const planned = day.slots.find(({ name }) => name === slot?.name);
  const flag = standingFlag(taps);
  const isStopped = glance.stoppedAtMin !== null && flag !== null;
  const name = planned?.name ?? '';
  // The buttons were drawn up to a minute before they are pressed.
  const minuteNow = () => (store.wallNow() - day.day) / MINUTE_MS;
  return el('div', { class: 'row' }, [
    button('out', { disabled: planned === undefined }, [`${name} ${WORDS.out}`], () => {
      if (!isPressedTwice(taps, store.wallNow())) store.tap(outTap(planned!, minuteNow()));
    }),
    isStopped
      ? button('goes-on', { class: 'red' }, [WORDS.goesOn], () => store.tap({ kind: 'resumed', stoppedAt: flag.at }))
      : button('red-flag', { class: 'red', disabled: glance.isOut === null }, [WORDS.redFlag], () =>
          store.tap({ kind: 'red-flag' }),
        ),
    button('late', { disabled: planned === undefined }, [`${name} ${WORDS.late}`], () =>
      store.tap(lateTap(planned!, taps, minuteNow(), day.day)),
    ),
  ]);
}
