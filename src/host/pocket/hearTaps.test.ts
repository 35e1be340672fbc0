import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { RiderId } from '../../core/ids.js';
import { codeOfTaps, type Tap } from '../../core/plan/pocket/index.js';
import { wallMsOf } from '../../core/units.js';
import { newGestureId } from '../logbook/index.js';
import { createMeeting, type OpenMeeting, openMeeting } from '../meeting/index.js';
import { daysGiven, hearTaps, noteGiven, zlibSqueezer } from './index.js';

const DAY = '2031-05-17';
const at = (clock: string) => wallMsOf(Date.parse(`${DAY}T${clock}Z`));
const LATE: Tap = {
  seq: 1,
  at: at('10:01:00'),
  isUndone: false,
  kind: 'late',
  slot: 'N2',
  byMin: 7,
  plannedAt: at('10:00:00'),
};

let root: string;
let meeting: OpenMeeting;
beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-taps-'));
  const about = { name: 'Ebbstone', firstDay: DAY, lastDay: DAY, zone: 'Europe/London', spots: [] };
  await createMeeting(join(root, 'meeting'), about);
  meeting = await openMeeting(join(root, 'meeting'), { stateRoot: join(root, 'state'), readFills: async () => [] });
});
afterEach(async () => {
  await meeting.close();
  await rm(root, { recursive: true, force: true });
});

const hear = (...taps: Tap[]) => hearGiven(null, ...taps);
async function hearGiven(given: ReadonlySet<string> | null, ...taps: Tap[]) {
  const { code } = await codeOfTaps({ dayCheck: '0badcafe', phone: '1234abcd', eastMin: 60, taps }, zlibSqueezer);
  const heard = await hearTaps(code, { about: meeting.about, log: meeting.log.folded() }, given);
  if (heard.kind === 'refused') throw new Error(heard.sentence);
  return heard;
}

it('PL731: what was taken back at the desk is not said again by the same code', async () => {
  const [late] = (await hear(LATE)).taps;
  expect(late?.is).toBe('new');
  await meeting.log.append(late!.gesture, [late!.decision]);
  expect((await hear(LATE)).taps[0]?.is).toBe('said');
  await meeting.log.append(newGestureId(), [{ kind: 'withdraw', gesture: late!.gesture }]);
  expect((await hear(LATE)).taps[0]?.is).toBe('taken-back');
});

it('PL731: taps by a day that was not given along from here are told', async () => {
  expect(await daysGiven(join(root, 'meeting'))).toBeNull();
  await noteGiven(join(root, 'meeting'), '12345678', new Date(0));
  const strange = [expect.stringMatching(/^The day that the phone goes by was not given along from here\./)];
  expect((await hearGiven(await daysGiven(join(root, 'meeting')), LATE)).notes).toEqual(strange);
  await noteGiven(join(root, 'meeting'), '0badcafe', new Date(0));
  expect((await hearGiven(await daysGiven(join(root, 'meeting')), LATE)).notes).toEqual([]);
  expect((await hear(LATE)).notes).toEqual([]);
});

it('PL731: what was taken back on the phone since is withdrawn once, and never where it was not said', async () => {
  const undone: Tap = { ...LATE, isUndone: true };
  expect((await hear(undone)).taps).toEqual([]);
  const [late] = (await hear(LATE)).taps;
  await meeting.log.append(late!.gesture, [late!.decision]);
  const [back] = (await hear(undone)).taps;
  expect(back).toMatchObject({ is: 'new', decision: { kind: 'withdraw', gesture: late!.gesture } });
  await meeting.log.append(back!.gesture, [back!.decision]);
  expect(meeting.log.folded().inForce.filter(({ decision }) => decision.kind === 'slip')).toEqual([]);
  expect((await hear(undone)).taps).toEqual([]);
});

it('PL705, PL731: what a session already said late lacks is said, and heard again each tap says what it said', async () => {
  const slots = ['N2', 'I2'].map((name, index) => ({
    name,
    group: name[0]!,
    start: at(`10:${20 * index || '00'}:00`),
    end: at(`10:${20 * index + 20}:00`),
  }));
  const timetable = { groups: [], slipRule: 'sliding' as const, slots };
  await meeting.log.append(newGestureId(), [{ kind: 'timetable', timetable }]);
  const next: Tap = { ...LATE, seq: 2, slot: 'I2', byMin: 9, plannedAt: at('10:20:00') };
  const heard = (await hear(LATE, next)).taps;
  for (const { gesture, decision } of heard) await meeting.log.append(gesture, [decision]);
  const byMs = ({ decision }: (typeof heard)[number]) =>
    decision.kind === 'slip' && decision.slip.kind === 'late' ? decision.slip.byMs : null;
  expect(heard.map(byMs)).toEqual([420_000, 120_000]);
  const again = (await hear(LATE, next)).taps;
  expect(again.map((one) => [one.is, byMs(one)])).toEqual([
    ['said', 420_000],
    ['said', 120_000],
  ]);
});

it('PL705: two minted ids that end alike name nobody, and that is told', async () => {
  const got = (seq: number, riderTag: string): Tap => ({
    seq,
    at: at('11:00:00'),
    isUndone: false,
    kind: 'got',
    riderTag,
  });
  const mint = (rider: string) =>
    meeting.log.append(newGestureId(), [{ kind: 'rider-minted', rider: rider as RiderId, points: [] }]);
  await mint('019961f0-0000-7000-8000-0000003f09c1');
  expect((await hear(got(1, '3f09c1'))).taps[0]?.decision).toMatchObject({
    kind: 'got',
    rider: '019961f0-0000-7000-8000-0000003f09c1',
  });
  await mint('019961f0-0000-7000-8000-0000013f09c1');
  const heard = await hear(got(1, '3f09c1'));
  expect([heard.taps, heard.notes]).toEqual([[], [expect.stringMatching(/none is known by 3f09c1/)]]);
});
