import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { EBBSTONE } from '../../demo/circuit/ebbstone.js';
import type { SpotId } from '../core/ids.js';
import { wallMsOf } from '../core/units.js';
import { createMeeting } from '../host/meeting/index.js';
import { lookAt, sayDecisions } from './sayDecisions.js';
import { wishCommand } from './wishCommand.js';

const DAY = '2026-09-19';
const at = (clock: string) => wallMsOf(Date.parse(`${DAY}T${clock}:00Z`));
let place: string;
let folder: string;
const stateRoot = () => ({ stateRoot: join(place, 'state') });
beforeEach(async () => {
  place = await mkdtemp(join(tmpdir(), 'tyrewall-wish-'));
  folder = join(place, 'meeting');
  await createMeeting(folder, { name: 'Round', firstDay: DAY, lastDay: DAY, zone: 'Europe/London', spots: [] });
  await sayDecisions(folder, stateRoot(), [
    { kind: 'circuit', circuit: EBBSTONE },
    {
      kind: 'timetable',
      timetable: {
        slipRule: 'clock-fixed',
        groups: [
          { key: 'N', name: 'Novice' },
          { key: 'F', name: 'Fast' },
        ],
        slots: ['09:00', '09:20', '10:00'].map((clock, i) => ({
          name: ['N1', 'F1', 'N2'][i]!,
          group: ['N', 'F', 'N'][i]!,
          start: at(clock),
          end: wallMsOf(at(clock) + 1_200_000),
          isSighting: false,
        })),
      },
    },
  ]);
});
afterEach(() => rm(place, { recursive: true }));

async function wish(...words: readonly string[]): Promise<readonly string[]> {
  const said: string[] = [];
  await wishCommand(folder, words, stateRoot(), (line: string) => said.push(line));
  return said;
}
const inForce = async () => (await lookAt(folder, stateRoot())).log.inForce.map(({ decision }) => decision);

it('PL636: wishes are said in a terminal, told with their numbers, and dropped by them', async () => {
  expect(await wish()).toEqual(['Nothing is wished yet.']);
  await wish('here', 'n1', 'beacon');
  await wish('closed', '2', '13:00', '14:00');
  expect(await wish('weigh', 'novice', '2')).toEqual([
    '1  1 Beacon in N1',
    '2  2 Gannet closed, 13:00 to 14:00',
    '3  Novice counts twice',
    'A plan taken before stands as it is: say tyrewall plan --anew for one that keeps to this.',
  ]);
  expect((await wish('here', 'N1', 'gannet')).slice(0, 3)).not.toContain('1  1 Beacon in N1');
  await wish('photographers', '2');
  await wish('vehicle', 'yes');
  expect((await wish('drop', '1')).length).toBe(5);
  const last = (await inForce()).findLast(({ kind }) => kind === 'wishes');
  expect(last).toMatchObject({ photographers: 2, hasVehicle: true });
  expect((last as { wishes: readonly unknown[] }).wishes).toEqual([
    { kind: 'weigh-group', group: 'N', times: 2 },
    { kind: 'pin', stretch: 'N1', spot: 'gannet' as SpotId },
  ]);
});

it('PL636: the sky is a word of its own', async () => {
  await wish('sky', 'overcast', '09:00', '12:00');
  expect((await inForce()).at(-1)).toEqual({ kind: 'sky', is: 'overcast', from: at('09:00'), to: at('12:00') });
});

it.each([
  [['here', 'N9', 'Beacon'], 'Expected a session of 2026-09-19, N1, F1, N2, but got N9.'],
  [['here', 'N1', 'Harbour'], 'Turnstone, but got Harbour.'],
  [['rest', '13:00', '12:00'], 'Expected a time and a later one, but got 13:00 and 12:00.'],
  [['weigh', 'Beacon', '9'], 'Expected how many times it counts, 0 to 3, but got 9.'],
  [['drop', '1'], 'Expected a wish to drop, but nothing is wished yet.'],
  [['sky', 'blue', '09:00', '10:00'], 'but got blue.'],
  [['stand'], 'Expected what is wished, as here N3 Beacon;'],
])('PL636: %j is refused with what was expected', async (words, sentence) => {
  const before = (await inForce()).length;
  await expect(wish(...words)).rejects.toThrow(sentence);
  expect((await inForce()).length).toBe(before);
});
