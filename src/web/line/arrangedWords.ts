/** The foot's words about how the day came to stand as it does. */
import type { DayView } from '../../server/types.js';

const counted = (count: number): string => count.toLocaleString('en-GB');

export function arrangedWords({ arrangedInMs, counts }: Pick<DayView, 'arrangedInMs' | 'counts'>): string {
  const { measured, unmeasurable } = counts;
  const without = unmeasurable > 0 ? `; ${counted(unmeasurable)} could not be measured` : '';
  if (measured === 0) return `No frame is measured yet${without}`;
  const seconds = arrangedInMs < 100 ? 'under 0.1 s' : `${(arrangedInMs / 1000).toFixed(1)} s`;
  return `Arranged in ${seconds} from ${counted(measured)} measured ${measured === 1 ? 'frame' : 'frames'}${without}`;
}
