/** Files of an order with where their finals stand. */
import type { HandedFile } from '../../core/handover/orders/index.js';
import type { FinalAnswer, FinalsOf } from './types.js';

export type Answered = readonly (HandedFile & { readonly answer: FinalAnswer })[];

/** Asks for what is not there, too. */
export const answersOf = (finals: FinalsOf, files: readonly HandedFile[]): Promise<Answered> =>
  Promise.all(files.map(async (file) => ({ ...file, answer: await finals.want(file) })));

export const isReady = ({ answer }: Answered[number]): boolean => answer.kind === 'ready';

/** Whether nothing is still to come: what cannot be made does not hold up the rest. */
export const isSettled = (files: Answered): boolean =>
  files.every(({ answer }) => answer.kind === 'ready' || answer.kind === 'cannot');
