import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { choosingOf, passOfA } from '../../test/builders/choosing.js';
import { createMeeting } from '../host/meeting/index.js';
import { type ChooseWish, chooseCommand } from './chooseCommand.js';
import { chosenLines, setLines } from './chosenLines.js';
import { lookAt } from './sayDecisions.js';

const DAY = '2026-09-19';
let place: string;
beforeEach(async () => {
  place = await mkdtemp(join(tmpdir(), 'tyrewall-choose-'));
  await createMeeting(join(place, 'meeting'), {
    name: 'Round',
    firstDay: DAY,
    lastDay: DAY,
    zone: 'Europe/London',
    spots: [],
  });
});
afterEach(() => rm(place, { recursive: true }));

async function choose(wish: ChooseWish): Promise<readonly string[]> {
  const said: string[] = [];
  await chooseCommand(join(place, 'meeting'), { ...wish, stateRoot: join(place, 'state') }, (line) => said.push(line));
  return said;
}

describe('tyrewall choose', () => {
  it('CH5: quotas are said in a terminal, one by one, and hold from then on', async () => {
    expect((await choose({}))[1]).toBe('At most 12 a rider and 4 a spot; 3 are the least');
    await choose({ mostPerRider: '20' });
    expect((await choose({ mostInAll: '900', leastPerRider: '5' }))[1]).toBe(
      'At most 20 a rider and 4 a spot, 900 in all; 5 are the least',
    );
    const { log } = await lookAt(join(place, 'meeting'), { stateRoot: join(place, 'state') });
    expect(log.inForce.at(-1)!.decision).toEqual({
      kind: 'choose-rules',
      mostPerRider: 20,
      mostInAll: 900,
      leastPerRider: 5,
    });
  });

  it('refuses what is no count, out of range or mixed up, with what to say, and writes nothing down', async () => {
    await expect(choose({ mostPerSpot: 'four' })).rejects.toThrow(
      'Expected how many after --most-per-spot, from 1 to 200, but got four. Nothing was said.',
    );
    await expect(choose({ mostPerRider: '0' })).rejects.toThrow('from 1 to 200, but got 0');
    await expect(choose({ mostPerRider: '2', leastPerRider: '3' })).rejects.toThrow(
      'Expected the least for a rider to be no more than the most, but the least is 3 and the most 2. Say both anew.',
    );
    await expect(choose({ rider: 'N-zz' })).rejects.toThrow("Expected a rider's code after --rider but got N-zz.");
    expect((await lookAt(join(place, 'meeting'), { stateRoot: join(place, 'state') })).log.lines).toEqual([]);
  });

  it('CH6, CH28: thin riders stand first; of one set each keeper says why, what was second and what is not shown', () => {
    const { day, choosing } = choosingOf({
      passes: [
        passOfA(0, 'beacon', '09:02:00', { sharp: 1 }, { sharp: 0.9 }),
        passOfA(0, 'gannet', '09:05:00', { sharp: 0.1 }),
      ],
      riders: { a: { number: '27' } },
    });
    const lines = chosenLines(day.arrangement, choosing);
    expect(lines[0]).toBe('16 keepers of 6 riders, 0 kept by a person, 0 left out');
    expect(lines[3]).toBe('  thin  N-a     1 keeper, 1 more could be added  black');
    expect(setLines(day, choosing, 'n-A').map((line) => line.trim())).toEqual([
      expect.stringMatching(/^proposed {2}09:02:00 INV_0001\.JPG: sharp: .*first from this spot/),
      'second: 09:02:00 INV_0002.JPG: less sharp',
      'to add: 09:05:00 INV_0003.JPG',
      'not shown: number 27',
    ]);
  });
});
