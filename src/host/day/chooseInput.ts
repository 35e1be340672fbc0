/** All that choosing is told of a state of the day. */
import { type ChooseInput, takenWith } from '../../core/choose/index.js';
import { rememberingSpotFacts } from './spotFacts.js';
import type { DayState } from './types.js';

/** What hangs on files and drawing alone is kept from one state to the next. */
export function rememberingChooseInput(): (state: DayState) => ChooseInput & Pick<DayState, 'keepers'> {
  const spotFacts = rememberingSpotFacts();
  return ({ arrangement, coverage, pixels, log, judged, metadata, timetable, keepers }) => ({
    arrangement,
    coverage,
    pixels,
    log,
    judged,
    keepers,

    taken: takenWith(arrangement, (file) => metadata.get(file)),
    spots: spotFacts(log, timetable),
  });
}
