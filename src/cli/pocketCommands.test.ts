import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { EBBSTONE } from '../../demo/circuit/ebbstone.js';
import { buildPocketPage } from '../../test/builders/builtPocketPage.js';
import type { Decision } from '../core/log/types.js';
import { qrRuns } from '../core/measure/cards/index.js';
import { codeOfTaps, readCode, type Tap } from '../core/plan/pocket/index.js';
import type { Timetable } from '../core/plan/types.js';
import { wallMsOf } from '../core/units.js';
import { readQr } from '../host/cards/readQr.js';
import { newGestureId } from '../host/logbook/index.js';
import { createMeeting, openMeeting } from '../host/meeting/index.js';
import { daysGiven, zlibSqueezer } from '../host/pocket/index.js';
import { cardsCommand } from './cardsCommand.js';
import { pocketCommand } from './pocketCommand.js';
import { rollCallCommand } from './rollCallCommand.js';
import { tapsCommand } from './tapsCommand.js';
import { terminalQr } from './terminalQr.js';

const DAY = '2031-05-17';
const at = (clock: string) => wallMsOf(Date.parse(`${DAY}T${clock}:00Z`));
const now = () => Date.parse('2031-05-17T07:00:00Z');
const TIMETABLE: Timetable = {
  groups: [{ key: 'N', name: 'Novice' }],
  slipRule: 'sliding',
  slots: [9, 10, 11].map((hour, i) => ({
    name: `N${i + 1}`,
    group: 'N',
    start: at(`${hour < 10 ? '0' : ''}${hour}:00`),
    end: at(`${hour < 10 ? '0' : ''}${hour}:20`),
  })),
};

let root: string;
let folder: string;
let said: string[];
const say = (line: string) => said.push(line);
const state = () => ({ stateRoot: join(root, 'state') });
beforeAll(buildPocketPage, 60_000);
beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-pocket-'));
  folder = join(root, 'meeting');
  said = [];
  await createMeeting(folder, { name: 'Ebbstone', firstDay: DAY, lastDay: DAY, zone: 'Europe/London', spots: [] });
  await tell(
    { kind: 'timetable', timetable: TIMETABLE },
    { kind: 'circuit', circuit: EBBSTONE },
    { kind: 'stood-at', spot: EBBSTONE.spots[0]!.id, from: at('08:55'), to: at('10:20') },
  );
});
afterEach(() => rm(root, { recursive: true, force: true }));

async function tell(...decisions: readonly Decision[]): Promise<void> {
  const meeting = await openMeeting(folder, { ...state(), readFills: async () => [] });
  await meeting.log.append(newGestureId(), decisions);
  await meeting.close();
}

async function slips(): Promise<readonly Decision[]> {
  const meeting = await openMeeting(folder, { ...state(), isForLooking: true });
  const { inForce } = meeting.log.folded();
  await meeting.close();
  return inForce.map(({ decision }) => decision).filter(({ kind }) => kind === 'slip');
}

describe('tyrewall pocket', () => {
  it('PL730: prints a code that is read back as the day, for the address said', async () => {
    await pocketCommand(folder, { ...state(), now, address: 'https://pictures.example/pocket/' }, say);
    expect(said).toContain('1 stay, 0 riders to look for.');
    const text = said.at(-1)!;
    const read = await readCode(text, zlibSqueezer);
    expect(read.kind === 'day' && read.day.stays.map(({ spot }) => spot)).toEqual([EBBSTONE.spots[0]!.id]);
    const lines = terminalQr(qrRuns(text, 'L')!);
    expect(said.slice(-1 - lines.length, -1)).toEqual(lines);
    expect(await readTerminal(lines)).toBe(text);
  });

  it('PL730: without an address it says what can be done; the files need none', async () => {
    await expect(pocketCommand(folder, { ...state(), now }, say)).rejects.toThrow(
      /^Expected where the pocket page is hosted.*--address.*--file/,
    );
    const [file, code, out] = ['day.html', 'day.txt', 'page'].map((name) => join(root, name)) as [
      string,
      string,
      string,
    ];
    await pocketCommand(folder, { ...state(), now, file, code, out }, say);
    const inside = /id="day">([^<]+)</.exec(await readFile(file, 'utf8'))?.[1] ?? '';
    const given = await daysGiven(folder);
    for (const text of [inside, await readFile(code, 'utf8')]) {
      const read = await readCode(text, zlibSqueezer);
      if (read.kind !== 'day') throw new Error(`Expected a day but got ${JSON.stringify(read)}`);
      // What comes back by this day is known to be of it.
      expect(given?.has(read.check)).toBe(true);
    }
    expect((await readdir(out)).sort()).toEqual(['icon.svg', 'index.html', 'manifest.webmanifest', 'worker.js']);
  });
});

/** The half blocks as a picture. */
async function readTerminal(lines: readonly string[]): Promise<string> {
  const rows = lines.flatMap((line) => {
    const blocks = [...line.replace(/^.*107m/, '').replace(/.\[0m$/, '')];
    return [blocks.map((one) => '▀█'.includes(one)), blocks.map((one) => '▄█'.includes(one))];
  });
  const [width, height] = [rows[0]!.length, rows.length];
  const small = Buffer.from(rows.flat().map((isDark) => (isDark ? 0 : 255)));
  const { data, info } = await sharp(small, { raw: { width, height, channels: 1 } })
    .resize(width * 6, height * 6, { kernel: 'nearest' })
    .toColourspace('srgb')
    .removeAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  const [code] = await readQr({ data, width: info.width, height: info.height });
  return code?.text ?? 'nothing was read';
}

describe('tyrewall taps', () => {
  const LATE: Tap = {
    seq: 1,
    at: at('09:06'),
    isUndone: false,
    kind: 'late',
    slot: 'N1',
    byMin: 7,
    plannedAt: at('09:00'),
  };
  async function tapsFile(...taps: Tap[]): Promise<string> {
    const { code } = await codeOfTaps({ dayCheck: '0badcafe', phone: '1234abcd', eastMin: 60, taps }, zlibSqueezer);
    await writeFile(join(root, 'taps.txt'), `tyrewall#${code}\n`);
    return join(root, 'taps.txt');
  }

  it('PL731: shows first, takes with --take, and once', async () => {
    await expect(tapsCommand(folder, join(root, 'none.txt'), state(), say)).rejects.toThrow(
      /^Expected the file that the phone saved at .*none\.txt but (?!ENOENT).*\. Look at its name\.$/,
    );
    const file = await tapsFile(LATE);
    await tapsCommand(folder, file, state(), say);
    expect(said[0]).toBe('N1 started 7 minutes late');
    expect(said.join(' ')).toContain('N2');
    expect(said.at(-1)).toBe('1 tap to take; say it again with --take.');
    expect(await slips()).toEqual([]);
    await tapsCommand(folder, file, { ...state(), take: true }, say);
    await tapsCommand(folder, file, { ...state(), take: true }, say);
    expect(said.at(-1)).toBe('Nothing new was tapped.');
    expect(await slips()).toEqual([{ kind: 'slip', slip: { kind: 'late', slot: 'N1', on: DAY, byMs: 420_000 } }]);
  });

  it('PL731: a file that is none, and one that is not there, are refused in a sentence', async () => {
    await writeFile(join(root, 'other.txt'), 'no code at all');
    await expect(tapsCommand(folder, join(root, 'other.txt'), state(), say)).rejects.toThrow(
      /^Expected what was tapped/,
    );
    await expect(tapsCommand(folder, join(root, 'none.txt'), state(), say)).rejects.toThrow(
      /^Expected the file that the phone saved/,
    );
  });
});

describe('tyrewall cards and roll-call', () => {
  it('PL733: cards go on paper; where no picture shows one, that is said', async () => {
    const pdf = join(root, 'cards.pdf');
    await cardsCommand(folder, { ...state(), print: '1-9', pdf }, say);
    expect(said[0]).toContain('cards 1 to 9 on 2 pages A4');
    expect((await readFile(pdf)).subarray(0, 4).toString()).toBe('%PDF');
    await cardsCommand(folder, state(), say);
    expect(said.at(-1)).toBe('No card of this meeting was read in a picture.');
    await expect(cardsCommand(folder, { ...state(), print: '9-1', pdf }, say)).rejects.toThrow(
      /^Expected the first and the last card/,
    );
  });

  it('PL734: a roll without bikes says so; a head count said there is in the log', async () => {
    await rollCallCommand(folder, 'N', ['08:10', '08:25'], { ...state(), riders: '28' }, say);
    expect(said[0]).toBe('Novice: No bike stands large in a picture from 08:10 to 08:25.');
    expect(said.at(-1)).toContain('28 riders of Novice by the head count');
    await expect(rollCallCommand(folder, 'Q', ['08:10', '08:25'], state(), say)).rejects.toThrow(
      /^Expected a group of the meeting, N/,
    );
    await expect(rollCallCommand(folder, 'N', ['08:10', 'late'], state(), say)).rejects.toThrow(
      /^Expected a time of the day/,
    );
  });
});
