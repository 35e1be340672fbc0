/** Choosing over one state of the day: prepared once per state, by whichever view asks first. */
import { rememberingSets, startChoosing } from '../../core/choose/index.js';
import type { Choosing } from '../../core/choose/types.js';
import { rememberingChooseInput } from '../../host/day/chooseInput.js';
import type { Known } from '../views/known.js';

const inputOf = rememberingChooseInput();
const setsOf = rememberingSets();
const started = new WeakMap<Known, Choosing>();

export function choosingOf(known: Known): Choosing {
  const before = started.get(known);
  if (before) return before;
  const input = inputOf(known.state);
  const now = startChoosing(input, setsOf(input));
  started.set(known, now);
  return now;
}
