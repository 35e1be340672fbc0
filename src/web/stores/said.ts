/** What was just said, and taking it back: one line at the foot of the desk. */
import type { Decision } from '../../core/log/types.js';
import { desk, newGesture } from '../api/client.js';
import { createStore } from './store.js';

export type SaidLine =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'saying'; readonly text: string }
  | { readonly kind: 'said'; readonly text: string }
  | { readonly kind: 'taken-back'; readonly text: string }
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

/** Sends one gesture. The line answers at once and is corrected when the desk does. Resolves to whether it was written down. */
export async function say(text: string, decisions: readonly Decision[]): Promise<boolean> {
  saidLine.set({ kind: 'saying', text });
  const request = newGesture(decisions);
  try {
    // A lost answer is asked for once more: the same gesture twice is one gesture.
    await inTurn(() => desk.gesture(request).catch(() => desk.gesture(request)));
    saidLine.set({ kind: 'said', text });
    return true;
  } catch (error) {
    saidLine.set({ kind: 'refused', text: sentenceOf(error) });
    return false;
  }
}

export async function takeBack(): Promise<void> {
  try {
    const { withdrawn, sentence } = await inTurn(desk.undo);
    saidLine.set({ kind: withdrawn === null ? 'refused' : 'taken-back', text: sentence });
  } catch (error) {
    saidLine.set({ kind: 'refused', text: sentenceOf(error) });
  }
}

/** For what is done rather than said: bringing in, making. */
export async function ask(text: string, work: () => Promise<unknown>): Promise<boolean> {
  try {
    await work();
    saidLine.set({ kind: 'taken-back', text });
    return true;
  } catch (error) {
    saidLine.set({ kind: 'refused', text: sentenceOf(error) });
    return false;
  }
}
