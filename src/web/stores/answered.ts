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

interface Given {
  readonly question: QuestionView;
  readonly gesture: GestureId;
}

export interface Answered {
  readonly given: readonly Given[];
  /** Refused or taken back; said again, they are given again. */
  readonly over: readonly Given[];
  /** To be asked again, before all others. */
  readonly back: QuestionView | null;
}

export const answered = createStore<Answered>({ given: [], over: [], back: null });

export const isAnswered = ({ given }: Answered, id: string): boolean =>
  given.some(({ question }) => question.id === id);

/** What no longer stands is asked again; what stands again is not. */
export function heldAgainst(before: Answered, inForce: ReadonlySet<GestureId>): Answered {
  const stands = ({ gesture }: Given): boolean => inForce.has(gesture);
  const fallen = before.given.filter((one) => !stands(one));
  const risen = before.over.filter(stands);
  if (fallen.length === 0 && risen.length === 0) return before;
  return {
    given: [...before.given.filter(stands), ...risen],
    over: [...before.over.filter((one) => !stands(one)), ...fallen],
    back: fallen.at(-1)?.question ?? null,
  };
}

standing.subscribe(() => answered.update((before) => heldAgainst(before, standing.get())));

export function answerQuestion(question: QuestionView, text: string, decisions: readonly Decision[]): void {
  const gesture = sayNow(text, decisions);
  answered.update(({ given, over }) => ({ given: [...given, { question, gesture }], over, back: null }));
}
