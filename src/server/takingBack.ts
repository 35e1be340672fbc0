/**
 * Taking back and saying again. A key takes back what was said at this desk since it was opened, newest first; what sets
 * the day up, and what was said before, is named and asked about first.
 */
import type { GestureId } from '../core/ids.js';
import type { DecisionKind } from '../core/log/types.js';
import type { Day, DayState } from '../host/day/types.js';
import { DeskError } from './DeskError.js';
import type { AgainAnswer, UndoAnswer } from './types.js';
import { gestureWords } from './views/said.js';

export interface TakingBack {
  /** Said at this desk just now. */
  said(gesture: GestureId): void;
  /** The named gesture, else the newest one that a key may take back. */
  takeBack(gesture?: GestureId): Promise<UndoAnswer>;
  /** What was taken back last stands again. */
  sayAgain(): Promise<AgainAnswer>;
}

const HANDED_OVER =
  'Expected something said since the gallery was handed over, but handing over came last and its addresses stay. Say what is wrong on the rider’s sheet, and hand over again.';
const GONE =
  'Expected something that still stands, but it was taken back already. Look at what was said so far under the questions.';

export function createTakingBack(day: Day): TakingBack {
  const here = new Set<GestureId>();
  const takenBack: { readonly gesture: GestureId; readonly by: GestureId; readonly words: string }[] = [];
  const withdraw = async (gesture: GestureId): Promise<UndoAnswer> => {
    const words = gestureWords(day.state(), gesture);
    takenBack.push({ gesture, by: await day.withdraw(gesture), words });
    return { withdrawn: gesture, sentence: `Taken back: ${words}.` };
  };
  return {
    said(gesture) {
      here.add(gesture);
      takenBack.length = 0;
    },
    async takeBack(named) {
      const state = day.state();
      if (named !== undefined) {
        if (!state.log.gestures.includes(named)) throw new DeskError(409, GONE);
        return withdraw(named);
      }
      const newest = state.log.gestures.findLast((gesture) => here.has(gesture));
      if (isHandedOverSince(state, newest ?? state.log.gestures.at(-1))) throw new DeskError(409, HANDED_OVER);
      return newest === undefined || setsUp(state, newest) ? askAbout(state, newest) : withdraw(newest);
    },
    async sayAgain() {
      const last = takenBack.pop();
      if (last === undefined)
        return { again: null, sentence: 'Nothing was taken back since something was last said here.' };
      await day.withdraw(last.by);
      return { again: last.gesture, sentence: `It stands again: ${last.words}.` };
    },
  };
}

/** Ids and addresses given out by a gallery stay, so words before it are taken back by name alone. */
function isHandedOverSince({ log }: DayState, gesture: GestureId | undefined): boolean {
  const last = log.inForce.findLastIndex(({ decision }) => decision.kind === 'published');
  return last >= 0 && last >= log.inForce.findLastIndex(({ line }) => line.gesture === gesture);
}

const SET_UP: ReadonlySet<DecisionKind> = new Set(['timetable', 'spots', 'stood-at']);

const setsUp = ({ log }: DayState, gesture: GestureId): boolean =>
  log.inForce.some(({ line, decision }) => line.gesture === gesture && SET_UP.has(decision.kind));

function askAbout(state: DayState, settingUp: GestureId | undefined): UndoAnswer {
  const asked = settingUp ?? state.log.gestures.at(-1);
  if (asked === undefined) return { withdrawn: null, sentence: 'Nothing is left to take back.' };
  const words = gestureWords(state, asked);
  const sentence =
    settingUp === undefined
      ? `Nothing said since this desk was opened is left to take back. Said before, it stays: ${words}.`
      : `The whole day is arranged by it, so it stays until you say so: ${words}.`;
  return { withdrawn: null, sentence, asks: asked };
}
