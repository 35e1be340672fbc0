/**
 * Questions answered on this screen. The next one stands there at once, while the answer is written down and the day is
 * arranged anew behind it; till then the desk's list still holds what was answered. An answer that is refused or taken
 * back makes its question stand there again.
 */
import type { GestureId } from '../../core/ids.js';
import type { Decision } from '../../core/log/types.js';
import type { QuestionView } from '../../server/types.js';
import { sayNow, standing } from './said.js';
import { createStore } from './store.js';

export interface Answered {
  readonly given: readonly { readonly question: QuestionView; readonly gesture: GestureId }[];
  /** To be asked again, before all others. */
  readonly back: QuestionView | null;
}

export const answered = createStore<Answered>({ given: [], back: null });

export const isAnswered = ({ given }: Answered, id: string): boolean =>
  given.some(({ question }) => question.id === id);

/** What no longer stands is asked again. */
export function heldAgainst(before: Answered, inForce: ReadonlySet<GestureId>): Answered {
  const over = before.given.findLast(({ gesture }) => !inForce.has(gesture));
  return over === undefined
    ? before
    : { given: before.given.filter(({ gesture }) => inForce.has(gesture)), back: over.question };
}

standing.subscribe(() => answered.update((before) => heldAgainst(before, standing.get())));

export function answerQuestion(question: QuestionView, text: string, decisions: readonly Decision[]): void {
  const gesture = sayNow(text, decisions);
  answered.update(({ given }) => ({ given: [...given, { question, gesture }], back: null }));
}
