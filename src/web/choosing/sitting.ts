/**
 * Going through the riders: who stands when in the order, where one is, who was gone through. The order is held as it was when one
 * sat down, for a set that gains a frame moves its rider, and nobody may be skipped or met twice by that.
 */
import type { GestureId, RiderKey } from '../../core/ids.js';
import type { ChoosingView, MinutesView, RiderInTurn } from '../../server/choosing/types.js';
import { standing } from '../stores/said.js';
import { createStore } from '../stores/store.js';
import { lookAfresh } from './looking.js';

interface WentOn {
  readonly key: RiderKey;
  readonly gesture: GestureId;
}

/** So many minutes were said: who is looked at in them, most gain first. */
export interface SoManyMinutes {
  readonly minutes: number;
  readonly look: readonly RiderKey[];
  /** Of this person, or a convention. */
  readonly pace: MinutesView['pace'];
}

export interface Sitting {
  readonly riders: readonly RiderInTurn[];
  /** Null: not begun. */
  readonly at: RiderKey | 'over' | null;
  /** Gone on from here, newest last. */
  readonly gone: readonly WentOn[];
  /** Taken back; said again, they are gone again. */
  readonly back: readonly WentOn[];
  readonly only: SoManyMinutes | null;
  /** The rest was said to stand as proposed: where one was then, to go back to when that is taken back. */
  readonly rested: Rested | null;
}

interface Rested extends Pick<Sitting, 'at' | 'only'> {
  readonly gesture: GestureId;
}

export const NOT_BEGUN: Sitting = { riders: [], at: null, gone: [], back: [], only: null, rested: null };

/** Who has a turn, in order. */
export const turnsOf = ({ riders, only }: Sitting): readonly RiderKey[] => {
  const keys = riders.map(({ key }) => key);
  if (only === null) return keys;
  const here = new Set(keys);
  return only.look.filter((key) => here.has(key));
};

export const leftOf = (sitting: Sitting): readonly RiderKey[] => stillToGo(sitting, turnsOf(sitting));

function stillToGo({ riders, gone }: Sitting, keys: readonly RiderKey[]): readonly RiderKey[] {
  const over = new Set([...gone, ...riders.filter((rider) => rider.isGone)].map(({ key }) => key));
  return keys.filter((key) => !over.has(key));
}

/** The desk's view came: who is known keeps their place, who is new comes last, and has a turn even after all others. */
export function seated(sitting: Sitting, view: ChoosingView, asked: string | undefined): Sitting {
  const fresh = new Map(view.riders.map((rider) => [rider.key, rider]));
  const held = sitting.riders.flatMap(({ key }) => fresh.get(key) ?? []);
  const riders = [...held, ...view.riders.filter(({ key }) => !held.some((one) => one.key === key))];
  const now: Sitting = { ...sitting, riders };
  const isMore = sitting.at === 'over' && sitting.only === null && leftOf(now).length > 0;
  if (sitting.at !== null && !isMore) return now;
  const at = riders.find(({ key }) => key === asked)?.key ?? leftOf(now)[0] ?? (riders.length > 0 ? 'over' : null);
  return { ...now, at };
}

/** An address that names a rider is gone to, wherever one was. */
export const goneTo = (sitting: Sitting, asked: string): Sitting => ({
  ...sitting,
  at: sitting.riders.find(({ key }) => key === asked)?.key ?? sitting.at,
});

const placeIn = (turns: readonly string[], at: Sitting['at']): number => (at === null ? -1 : turns.indexOf(at));

/** Who was not gone through, from here on and then from the beginning. */
export function upcoming(sitting: Sitting): readonly RiderKey[] {
  const turns = turnsOf(sitting);
  const at = placeIn(turns, sitting.at);
  const inTurn = [...turns.slice(at + 1), ...turns.slice(0, Math.max(0, at))];
  return stillToGo(sitting, inTurn);
}

export const nextOf = (sitting: Sitting): RiderKey | 'over' => upcoming(sitting)[0] ?? 'over';

export function wentOn(sitting: Sitting, gesture: GestureId | null): Sitting {
  const { at } = sitting;
  if (at === null || at === 'over') return sitting;
  const next = nextOf(sitting);
  return gesture === null
    ? { ...sitting, at: next }
    : { ...sitting, at: next, gone: [...sitting.gone, { key: at, gesture }] };
}

/** One rider on or back, gone through or not. */
export function stepRider(sitting: Sitting, step: 1 | -1): Sitting {
  const turns = turnsOf(sitting);
  const at = sitting.at === 'over' ? turns.length : placeIn(turns, sitting.at);
  return { ...sitting, at: turns[at + step] ?? sitting.at };
}

/** Of those left, who stands before here in the order: passed over by an arrow, they have their turn in the end. */
export function passedOver(sitting: Sitting): readonly RiderKey[] {
  const turns = turnsOf(sitting);
  return stillToGo(sitting, turns.slice(0, Math.max(0, placeIn(turns, sitting.at))));
}

/** Everybody of these stands as proposed, by one gesture. */
export const restAsProposed = (sitting: Sitting, riders: readonly RiderKey[], gesture: GestureId): Sitting => ({
  ...sitting,
  at: 'over',
  only: null,
  gone: [...sitting.gone, ...riders.map((key) => ({ key, gesture }))],
  rested: { gesture, at: sitting.at, only: sitting.only },
});

/** Starts with the first of those who are looked at in so many minutes, or with all again. */
export function withOnly(sitting: Sitting, only: SoManyMinutes | null): Sitting {
  const now = { ...sitting, only };
  const here = sitting.at !== null && turnsOf(now).some((key) => key === sitting.at) && only === null;
  return here ? now : { ...now, at: leftOf(now)[0] ?? 'over' };
}

/** Of riders gone on from, those whose word no longer stands have their turn again; the newest is gone back to, or where one was. */
export function turnsAgainst(sitting: Sitting, inForce: ReadonlySet<GestureId>): Sitting {
  const stands = ({ gesture }: WentOn) => inForce.has(gesture);
  const fallen = sitting.gone.filter((one) => !stands(one));
  const risen = sitting.back.filter(stands);
  if (fallen.length === 0 && risen.length === 0) return sitting;
  const now: Sitting = {
    ...sitting,
    gone: [...sitting.gone.filter(stands), ...risen],
    back: [...sitting.back.filter((one) => !stands(one)), ...fallen],
    riders: sitting.riders.map((rider) =>
      fallen.some(({ key }) => key === rider.key) ? { ...rider, isGone: false } : rider,
    ),
  };
  const { rested } = sitting;
  const isOfRest = ({ gesture }: WentOn) => gesture === rested?.gesture;
  if (rested && fallen.some(isOfRest)) return { ...now, at: rested.at, only: rested.only };
  if (risen.some(isOfRest)) return { ...now, at: 'over', only: null };
  const last = fallen.at(-1);
  if (last) return { ...now, at: last.key };
  return risen.some(({ key }) => key === sitting.at) ? { ...now, at: nextOf(now) } : now;
}

export const sitting = createStore<Sitting>(NOT_BEGUN);

/** Whoever comes to stand there is looked at from the beginning. */
export function sit(change: (before: Sitting) => Sitting): void {
  const before = sitting.get().at;
  sitting.update(change);
  if (sitting.get().at !== before) lookAfresh();
}

standing.subscribe(() => sit((before) => turnsAgainst(before, standing.get())));
