/** All that choosing is told of a state of the day. */
import { type ChooseInput, takenWith } from '../../core/choose/index.js';
import { rememberLast } from './rememberLast.js';
import { rememberingSpotFacts } from './spotFacts.js';
import type { DayState } from './types.js';

/** What hangs on files and drawing alone is kept from one state to the next: news of files comes with a new arrangement. */
export function rememberingChooseInput(): (state: DayState) => ChooseInput & Pick<DayState, 'keepers'> {
  const spotFacts = rememberingSpotFacts();
  const takenHeld = rememberLast((arrangement: DayState['arrangement'], metadata: DayState['metadata']) =>
    takenWith(arrangement, (file) => metadata.get(file)),
  );
  return ({ arrangement, coverage, pixels, log, judged, metadata, timetable, keepers }) => ({
    arrangement,
    coverage,
    pixels,
    log,
    judged,
    keepers,
    taken: takenHeld(arrangement, metadata),
    spots: spotFacts(log, timetable),
  });
}
