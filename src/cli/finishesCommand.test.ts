import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { FIRST_FINISH } from '../core/finish/index.js';
import { createMeeting } from '../host/meeting/index.js';
import { type FinishesWish, finishesCommand } from './finishesCommand.js';
import { lookAt, sayDecisions } from './sayDecisions.js';

const DAY = '2026-09-19';
let place: string;
const stateRoot = () => ({ stateRoot: join(place, 'state') });
const meeting = (name: string) => join(place, name);
beforeEach(async () => {
  place = await mkdtemp(join(tmpdir(), 'tyrewall-finishes-'));
  for (const name of ['first', 'second'])
    await createMeeting(meeting(name), { name, firstDay: DAY, lastDay: DAY, zone: 'Europe/London', spots: [] });
});
afterEach(() => rm(place, { recursive: true }));

async function finishes(name: string | undefined, wish: FinishesWish = {}): Promise<readonly string[]> {
  const said: string[] = [];
  const folder = name === undefined ? undefined : meeting(name);
  await finishesCommand(folder, { ...stateRoot(), ...wish }, (line) => said.push(line));
  return said;
}
const saidIn = async (name: string) =>
  (await lookAt(meeting(name), stateRoot())).log.inForce.map(({ decision }) => decision);

it('LK20, LK21: a finish of one meeting is kept by name, and the next goes by it in its own log', async () => {
  expect(await finishes('first')).toEqual([
    'No finish is said in this meeting: pictures stay as they were taken.',
    'No finish is kept for other meetings yet.',
  ]);
  const finish = { ...FIRST_FINISH, ratios: ['4:5' as const] };
  await sayDecisions(meeting('first'), stateRoot(), [{ kind: 'finish', of: 'track', finish }]);
  const [stands, ...kept] = await finishes('first', { keepAs: 'low sun' });
  expect(stands).toMatch(/^This meeting goes by “one day”: alike 1, .*level, crops 4:5\.$/);
  expect(kept[1]).toMatch(/^ {2}low sun: alike 1, /);
  expect((await finishes('second', { by: 'Low sun' }))[0]).toMatch(/^This meeting goes by “low sun”: alike 1/);
  const taken = [{ kind: 'finish', of: 'track', finish: { ...finish, name: 'low sun' } }];
  expect(await saidIn('second')).toEqual(taken);
  expect(await finishes(undefined, { letGo: 'low sun' })).toEqual([
    '“low sun” is kept no longer; meetings that go by it still do.',
    'No finish is kept for other meetings yet.',
  ]);
  expect(await saidIn('second')).toEqual(taken);
});

it.each([
  ['first', { keepAs: 'low sun' }, /none is said in this meeting yet/],
  ['first', { by: 'low sun' }, /name of a kept finish but got low sun\. None is kept yet/],
  [undefined, { by: 'low sun' }, /name of a kept finish|meeting's folder/],
  [undefined, { keepAs: 'low sun' }, /meeting's folder with --keep-as/],
] as const)('LK20: of %s with %o is refused in a sentence', async (name, wish, words) => {
  await expect(finishes(name, wish)).rejects.toThrow(words);
  expect(await saidIn('first')).toEqual([]);
});
