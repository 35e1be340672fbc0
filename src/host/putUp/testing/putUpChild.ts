/** Puts a gallery up in a process of its own, to be killed: says each step, and goes slowly enough to be hit. */
import { setTimeout as wait } from 'node:timers/promises';
import { openPlace } from '../openPlace.js';
import { putUp } from '../putUp.js';
import type { Place, PlaceAddress } from '../types.js';
import { EDITION, MARK } from './said.js';

export interface ChildOrder {
  readonly address: PlaceAddress;
  readonly meetingFolder: string;
  readonly withdrawn: readonly string[];
}

function slowly(place: Place): Place {
  return {
    ...place,
    async put(...all) {
      const placed = await place.put(...all);
      await wait(2);
      return placed;
    },
    async remove(path) {
      await place.remove(path);
      await wait(2);
    },
  };
}

const { address, meetingFolder, withdrawn } = JSON.parse(process.argv[2]!) as ChildOrder;
const place = slowly(await openPlace(address));
await putUp(EDITION, {
  place,
  name: 'website',
  meetingFolder,
  withdrawn: new Set(withdrawn),
  mark: MARK,
  now: () => new Date(),
  onProgress: ({ done }) => process.send?.(done),
});
await place.close();
process.disconnect?.();
