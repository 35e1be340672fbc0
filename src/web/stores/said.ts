/** What was just said, and taking it back: one line at the foot of the desk. */
import type { GestureId } from '../../core/ids.js';
import type { Decision } from '../../core/log/types.js';
import type { GestureRequest } from '../../server/types.js';
import { DeskProblem, desk, newGesture } from '../api/client.js';
import { createStore } from './store.js';

export type SaidLine =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'saying'; readonly text: string }
  | { readonly kind: 'said'; readonly text: string }
  /** Written down, and not to be taken back. */
  | { readonly kind: 'for-good'; readonly text: string }
  | { readonly kind: 'taken-back'; readonly text: string }
  /** Not taken back yet: it is asked about first. */
  | { readonly kind: 'asks'; readonly text: string; readonly gesture: GestureId }
  /** Done rather than said, or said again. */
  | { readonly kind: 'done'; readonly text: string }
  | { readonly kind: 'refused'; readonly text: string };

export const saidLine = createStore<SaidLine>({ kind: 'nothing' });

const sentenceOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/**
 * What is said goes to the desk in the order it was said: a taking back that overtook the words it was meant for would
 * take back the ones before them.
 */
let lastSent: Promise<unknown> = Promise.resolve();
function inTurn<T>(work: () => Promise<T>): Promise<T> {
  const mine = lastSent.then(work, work);
  lastSent = mine;
  return mine;
}

/** Gestures of this screen that stand: sent, and neither refused nor taken back. */
export const standing = createStore<ReadonlySet<GestureId>>(new Set());

const without = (gesture: GestureId | null) => (all: ReadonlySet<GestureId>) =>
  new Set([...all].filter((one) => one !== gesture));

/** What can be done instead, where what was said last is in no log and no key takes it back. */
let instead: string | null = null;

/** Says something outside the log, for good; the next taking back only says what can be done instead. */
export async function tellForGood(text: string, insteadOfBack: string, work: () => Promise<unknown>): Promise<boolean> {
  saidLine.set({ kind: 'saying', text });
  try {
    await inTurn(work);
    instead = insteadOfBack;
    saidLine.set({ kind: 'for-good', text });
    return true;
  } catch (error) {
    saidLine.set({ kind: 'refused', text: sentenceOf(error) });
    return false;
  }
}

/** Sends one gesture. The line answers at once and is corrected when the desk does. Resolves to whether it was written down. */
export const say = (text: string, decisions: readonly Decision[]): Promise<boolean> =>
  send(text, newGesture(decisions));

/** What the desk puts into decisions itself, under the gesture it is given. `for-good`: no key takes it back; it was asked twice. */
export function sayThrough(
  text: string,
  work: (gesture: GestureId) => Promise<unknown>,
  kind: 'said' | 'for-good' = 'said',
): Promise<boolean> {
  const request = newGesture([]);
  return send(text, request, kind, () => work(request.gesture));
}

/** The same for those who do not wait: the gesture's name, by which they hear whether it stands. */
export function sayNow(text: string, decisions: readonly Decision[]): GestureId {
  const request = newGesture(decisions);
  void send(text, request);
  return request.gesture;
}

/** A lost answer is asked for once more, for the same gesture twice is one gesture; a refusal stands. */
function onceMore(error: unknown, work: () => Promise<unknown>): Promise<unknown> {
  if (error instanceof DeskProblem && error.status !== 0) throw error;
  return work();
}

async function send(
  text: string,
  request: GestureRequest,
  kind: 'said' | 'for-good' = 'said',
  work: () => Promise<unknown> = () => desk.gesture(request),
): Promise<boolean> {
  instead = null;
  standing.update((all) => new Set([...all, request.gesture]));
  saidLine.set({ kind: 'saying', text });
  try {
    await inTurn(() => work().catch((error: unknown) => onceMore(error, work)));
    saidLine.set({ kind, text });
    return true;
  } catch (error) {
    standing.update(without(request.gesture));
    saidLine.set({ kind: 'refused', text: sentenceOf(error) });
    return false;
  }
}

/** The newest taking back or saying again: screens that draw on what is said wait for it. */
export const takingBack = createStore<Promise<void>>(Promise.resolve());

/** The named gesture, else the newest one that a key may take back. */
export function takeBack(gesture?: GestureId): Promise<void> {
  const work = sendBack(gesture);
  takingBack.set(work);
  return work;
}

/** What was taken back last stands again. */
export function sayAgain(): Promise<void> {
  const work = sendAgain();
  takingBack.set(work);
  return work;
}

async function sendBack(gesture?: GestureId): Promise<void> {
  if (gesture === undefined && instead !== null) return saidLine.set({ kind: 'refused', text: instead });
  try {
    const { withdrawn, sentence: text, asks } = await inTurn(() => desk.undo(gesture));
    standing.update(without(withdrawn));
    if (asks !== undefined) saidLine.set({ kind: 'asks', text, gesture: asks });
    else saidLine.set({ kind: withdrawn === null ? 'refused' : 'taken-back', text });
  } catch (error) {
    saidLine.set({ kind: 'refused', text: sentenceOf(error) });
  }
}

async function sendAgain(): Promise<void> {
  try {
    const { again, sentence: text } = await inTurn(desk.again);
    if (again !== null) standing.update((all) => new Set([...all, again]));
    saidLine.set({ kind: again === null ? 'refused' : 'done', text });
  } catch (error) {
    saidLine.set({ kind: 'refused', text: sentenceOf(error) });
  }
}

/** For what is done rather than said: bringing in, making. */
export async function ask(text: string, work: () => Promise<unknown>): Promise<boolean> {
  try {
    await work();
    saidLine.set({ kind: 'done', text });
    return true;
  } catch (error) {
    saidLine.set({ kind: 'refused', text: sentenceOf(error) });
    return false;
  }
}
