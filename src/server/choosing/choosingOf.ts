/** Choosing over one state of the day: prepared once per state, by whichever view asks first. */
import { startChoosing } from '../../core/choose/index.js';
import type { Choosing } from '../../core/choose/types.js';
import { rememberingChooseInput } from '../../host/day/chooseInput.js';
import type { Known } from '../views/known.js';

const inputOf = rememberingChooseInput();
const started = new WeakMap<Known, Choosing>();

export function choosingOf(known: Known): Choosing {
  const before = started.get(known);
  if (before) return before;
  const now = startChoosing(inputOf(known.state));
  started.set(known, now);
  return now;
}
