/** What was handed over last, by the log: a desk opened again must not look as if nothing had been. */
import type { DayState } from '../../host/day/types.js';
import type { ActionsView } from '../types.js';
import { wallIn } from './wallTime.js';

export function handedOverOf({ log, about }: DayState): ActionsView['handedOver'] {
  const last = log.inForce.findLast(({ decision }) => decision.kind === 'published');
  if (last?.decision.kind !== 'published') return null;
  const { edition, riders } = last.decision;
  const pictures = new Set(Object.values(riders).flat());
  return { edition, riders: Object.keys(riders).length, pictures: pictures.size, at: wallIn(about.zone, last.line.at) };
}
