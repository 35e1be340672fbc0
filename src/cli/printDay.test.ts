import { describe, expect, it } from 'vitest';
import type { DayState } from '../host/day/types.js';
import { createFakeDay } from '../server/testing/fakeDay.js';
import { questionsView } from '../server/views/questions.js';
import { dayLines } from './printDay.js';

const exposure = (frameId: string, path: string, wall: number | null) => ({
  frameId,
  mainFile: `file of ${frameId}`,
  files: [`file of ${frameId}`],
  path,
  wall,
  fill: 'fill-1',
});
const empty = 'Expected a picture but this file is empty (0 bytes).';

/** Only what is printed; the rest of a state has tests of its own. */
const stateOf = (arrangement: object, pixels: readonly string[] = []): DayState =>
  ({
    about: { name: 'Ebbstone', firstDay: '1970-01-01', lastDay: '1970-01-02', spots: [] },
    log: { lines: [], gestures: [], inForce: [], nextLamport: 1 },
    keepers: { byRider: new Map(), leftOut: [] },
    timetable: null,
    arrangement: {
      exposures: [],
      passes: [],
      saidBikes: [],
      sessions: [],
      riders: [],
      clocks: [],
      questions: [],
      ...arrangement,
    },
    coverage: { thin: [], riders: [] },
    fills: [{ id: 'fill-1', folder: 'CARD_A-12345678', files: [{ path: 'A.JPG' }, { path: 'B.JPG' }] }],
    toMeasure: { left: 0, secondsLeft: 0 },
    pixels: new Map(
      pixels.map((frame) => [frame, { kind: 'unmeasurable', frameId: frame, reason: 'The decoder stopped.' }]),
    ),
    metadata: new Map([['file of b', { notes: ['No lens is named.', empty] }]]),
  }) as unknown as DayState;

describe('the day in a terminal', () => {
  it('BI80: names the frames without a time and those that could not be measured, by card and cause, each once', () => {
    const exposures = [
      exposure('a', 'DCIM/1/A\n.JPG', null),
      exposure('b', 'DCIM/1/B.JPG', null),
      exposure('c', 'DCIM/1/C.JPG', 0),
    ];
    const lines = dayLines(stateOf({ exposures }, ['b', 'c']));
    expect(lines.filter((line) => line.includes('kept'))).toEqual([
      '1 frame without a usable capture time, kept but in no session: CARD_A-12345678/DCIM/1/A\ufffd.JPG. Look at the clock of that camera before it goes out again.',
      '1 frame that could not be measured, kept as on the card: CARD_A-12345678/DCIM/1/B.JPG. Expected a picture but this file is empty (0 bytes).',
      '1 frame that could not be measured, kept as on the card: CARD_A-12345678/DCIM/1/C.JPG. The decoder stopped.',
    ]);
  });

  it('BI80: names pictures that are neither JPEG nor raw, but not one that lies beside its JPEG', () => {
    const state = stateOf({ exposures: [exposure('a', 'DCIM/1/A.JPG', 0)] });
    const files = ['A.JPG', 'A.HIF', 'B.HIF', 'C.tif', 'C.XMP'].map((name) => ({ path: `DCIM/1/${name}` }));
    const fills = [{ id: 'fill-1', folder: 'CARD_A-12345678', files }] as unknown as DayState['fills'];
    expect(dayLines({ ...state, fills }).filter((line) => line.includes('neither'))).toEqual([
      '2 pictures neither JPEG nor raw, kept as on the card and in nobody’s set: CARD_A-12345678/DCIM/1/B.HIF, CARD_A-12345678/DCIM/1/C.tif. Write JPEGs of them under the same names and bring those in; have the camera write JPEG from now on.',
    ]);
  });

  it('AR41: frames kept apart stand under a title of their own, in runs, a guess with its figure and reasons', () => {
    const guessed = {
      is: 'paddock',
      source: { kind: 'guessed', confidence: 0.95, reasons: ['flash', 'nobody was riding then'] },
    };
    const at = (minute: number, apart: object) => ({
      ...exposure(`p${minute}`, `${minute}.JPG`, minute * 60_000),
      apart,
    });
    const exposures = [
      at(1, guessed),
      at(4, guessed),
      at(9, { is: 'podium', source: { kind: 'said' } }),
      exposure('t', 'T.JPG', 900_000),
    ];
    const lines = dayLines(stateOf({ exposures }));
    expect(lines.slice(lines.indexOf('Paddock and podium') + 1)).toEqual([
      '  paddock   00:01:00–00:04:00  2 frames    (guess, 95 %): flash, nobody was riding then',
      '  podium    00:09:00  1 frame     (said)',
    ]);
    expect(dayLines(stateOf({ exposures: [exposure('t', 'T.JPG', 0)] }))).not.toContain('Paddock and podium');
  });

  it('BI80: says how many frames are of no day of the meeting, of which card, from when to when, and what to do', () => {
    const walls = ['1969-12-31T08:59:00Z', '1969-12-31T17:03:11Z', '1970-01-01T10:00:00Z', '1970-01-02T00:00:00Z'];
    const exposures = walls.map((wall, i) => exposure(`f${i}`, `${i}.JPG`, Date.parse(wall)));
    const twoDays = stateOf({ exposures });
    expect(dayLines(twoDays).filter((line) => line.includes('of no day'))).toEqual([
      '2 frames of CARD_A-12345678 are of no day of this meeting (1970-01-01 to 1970-01-02): taken from 1969-12-31 08:59:00 to 1969-12-31 17:03:11. They are copied and kept. For a meeting of their own bring the card in again with --day 1969-12-31; if this meeting lasts longer, put its firstDay and lastDay right in meeting.json.',
    ]);
  });

  it('says nothing of such frames where there are none', () => {
    expect(dayLines(stateOf({ exposures: [exposure('a', 'A.JPG', 0)] })).join('\n')).not.toContain('kept');
  });

  it('says why nobody is shown instead of a title with nothing under it', () => {
    const exposures = [exposure('a', 'A.JPG', 0), exposure('b', 'B.JPG', 0)];
    const lines = dayLines(stateOf({ exposures }));
    expect(lines).toContain('No bike was seen in any of these 2 frames, so there is no rider.');
    expect(lines).not.toContain('Riders');
  });

  it('says that nothing is measured here, and what measures it, instead of a day of no frames', () => {
    const advice = 'measured here. Open the meeting (tyrewall open): it measures them from the pictures.';
    const nothing = { ...stateOf({}), metadata: new Map() };
    expect(dayLines(nothing)).toContain(`2 files brought in, but nothing ${advice}`);
    const waiting = stateOf({ exposures: [{ ...exposure('a', 'A.JPG', 0), role: 'unmeasured' }] });
    expect(dayLines(waiting)).toContain(`1 frame not ${advice}`);
    expect(dayLines(waiting).join('\n')).not.toContain('No bike');
    expect(dayLines(stateOf({})).join('\n')).not.toContain(advice);
  });

  it('counts the questions that stand at the desk, not those behind them', async () => {
    const day = createFakeDay({ frames: 1500, hasDoubts: true });
    const state = day.state();
    const { questions, more } = questionsView(state, null);
    expect(questions.length + more).not.toBe(state.arrangement.questions.length);
    expect(dayLines(state)).toContain(`${questions.length + more} questions to answer at the desk.`);
    await day.close();
  });

  it('of several days, says of each session which day it was held on; of one day, of none', () => {
    const session = { name: '1', group: 'N', groupSource: { kind: 'said' }, frames: [] };
    const at = (iso: string) => ({ ...session, start: Date.parse(iso), end: Date.parse(iso) + 900_000 });
    const sessions = [at('1970-01-01T09:00:00Z'), at('1970-01-02T09:00:00Z')];
    const printed = (some: readonly object[]) =>
      dayLines(stateOf({ sessions: some })).filter((line) => line.includes('–'));
    expect(printed(sessions).map((line) => line.trim().split(/ {2,}/)[1])).toEqual([
      '1970-01-01 09:00:00–09:15:00',
      '1970-01-02 09:00:00–09:15:00',
    ]);
    expect(printed(sessions.slice(0, 1)).join()).not.toContain('1970');
  });

  it('marks a guessed group, and calls no guess what is not known', () => {
    const session = { name: '1', start: 0, end: 60_000, frames: ['a'] };
    const source = { kind: 'guessed', confidence: 0.8 };
    const sessions = [
      { ...session, group: 'Novices', groupSource: source },
      { ...session, group: null, groupSource: { ...source, confidence: 0 } },
    ];
    const [known, unknown] = dayLines(stateOf({ sessions })).filter((line) => line.includes('–'));
    expect(known).toMatch(/Novices \(guess, 80 %\)$/);
    expect(unknown).toMatch(/group not known$/);
  });
});
