/** The invented meeting brought through the main job, as a photographer would: two cards at lunch, two in the evening. */
import { randomUUID } from 'node:crypto';
import { cp, mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { type DemoCard, layOutCards } from '../../demo/cards.js';
import { EBBSTONE } from '../../demo/circuit/ebbstone.js';
import type { DemoTruth } from '../../demo/truthTypes.js';
import type { BodyKey, SpotId } from '../core/ids.js';
import type { Decision } from '../core/log/types.js';
import { newGestureId } from '../host/logbook/index.js';
import { createMeeting } from '../host/meeting/index.js';
import { type OpenWish, openWholeDay, type WholeDay } from './openWholeDay.js';

export interface DemoMeeting {
  readonly whole: WholeDay;
  readonly truth: DemoTruth;
  readonly cards: readonly DemoCard[];
}

/** Cards, two disks and a state folder below `folder`; the circuit, the timetable and the stands are said, nothing is brought in yet. */
export async function layOutDemoMeeting(folder: string, wish: Pick<OpenWish, 'judges'> = {}): Promise<DemoMeeting> {
  const { cards, truth } = await layOutCards(join(folder, 'cards'));
  const { name, circuit, date, zone } = truth.meeting;
  const firstDisk = join(folder, 'disk-one', `${date} ${circuit}`);
  const secondDisk = join(folder, 'disk-two', `${date} ${circuit}`);
  await createMeeting(firstDisk, {
    name,
    circuit,
    firstDay: date,
    lastDay: date,
    zone,
    spots: truth.spots,
    creator: 'A. Trackside',
    credit: 'Trackside Pictures',
    copyright: `© ${date.slice(0, 4)} Trackside Pictures`,
  });
  await mkdir(join(secondDisk, 'cards'), { recursive: true });
  await cp(join(firstDisk, 'meeting.json'), join(secondDisk, 'meeting.json'));
  const whole = await openWholeDay(firstDisk, { otherDisks: [secondDisk], stateRoot: join(folder, 'state'), ...wish });
  await whole.day.decide(newGestureId(), saidBefore(truth));
  return { whole, truth, cards };
}

/** What the photographer says: the circuit, the timetable as printed, and where they stood. */
function saidBefore(truth: DemoTruth): readonly Decision[] {
  return [
    { kind: 'circuit', circuit: EBBSTONE },
    { kind: 'timetable', timetable: truth.timetable },
    ...truth.stands.map(
      ({ spot, from, to, body }): Decision => ({
        kind: 'stood-at',
        spot: spot as SpotId,
        from,
        to,
        ...(body === null ? {} : { body: body as BodyKey }),
      }),
    ),
  ];
}

/** A name for a folder of a run, so that two runs never meet. */
export const runName = (): string => `tyrewall-demo-${randomUUID().slice(0, 8)}`;
