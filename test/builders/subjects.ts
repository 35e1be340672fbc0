/** A subject with nothing measured but what it is and where. */
import type { Box, Subject } from '../../src/core/measure/types.js';

export const subjectOf = (what: Subject['what'], box: Box = [0.2, 0.2, 0.5, 0.6]): Subject => ({
  what,
  box,
  bikeBox: box,
  score: 0.9,
  isMain: true,
  isCut: false,
  bikeColours: [],
  riderColours: [],
  sharpness: { kind: 'absent', reason: 'not measured' },
  descriptor: '',
});
