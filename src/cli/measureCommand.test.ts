import { cp, mkdir, mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { layOutCards } from '../../demo/cards.js';
import { createMeeting } from '../host/meeting/index.js';
import { measureCommand } from './measureCommand.js';
import { openWholeDay } from './openWholeDay.js';

let root = '';
beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-cli-'));
  vi.spyOn(console, 'log').mockImplementation(() => undefined);
});
afterEach(async () => {
  vi.restoreAllMocks();
  process.exitCode = undefined;
  await rm(root, { recursive: true, force: true });
});

const FRAMES = 8;

/** A card with the first few frames of the invented meeting, brought in and measured. */
async function meetingOfFewFrames(stateRoot: string): Promise<string> {
  const { cards, truth } = await layOutCards(join(root, 'cards'));
  const card = join(root, 'card');
  const first = truth.frames.filter((frame) => frame.card === cards[0]!.name && frame.role === 'bike');
  for (const { path } of first.slice(0, FRAMES)) {
    await mkdir(dirname(join(card, path)), { recursive: true });
    await cp(join(cards[0]!.path, path), join(card, path));
  }
  const folder = join(root, 'meeting');
  const { name, date, zone } = truth.meeting;
  await createMeeting(folder, { name, firstDay: date, lastDay: date, zone, spots: truth.spots });
  const whole = await openWholeDay(folder, { stateRoot });
  await whole.day.bringIn([card]);
  await whole.day.settled();
  await whole.close();
  return folder;
}

const judgedLines = async (folder: string): Promise<readonly string[]> => {
  const names = await readdir(join(folder, 'measured'));
  const texts = await Promise.all(names.map((name) => readFile(join(folder, 'measured', name), 'utf8')));
  return texts.flatMap((text) => text.split('\n').filter((line) => line.includes('"kind":"judged","v":')));
};

it('JU11, JU13: looks at the best in full once; a copy of the meeting without its originals has what was judged', {
  timeout: 180_000,
}, async () => {
  const stateRoot = join(root, 'state');
  const folder = await meetingOfFewFrames(stateRoot);
  expect(await judgedLines(folder)).toEqual([]);
  const said: string[] = [];
  await measureCommand(folder, { stateRoot }, (line) => said.push(line));
  const lines = await judgedLines(folder);
  expect(lines.length).toBeGreaterThan(0);
  expect(said).toContain(`${lines.length} bikes looked at in full, ${lines.length} of them now.`);
  const [ofMeeting] = await readdir(join(stateRoot, 'meetings'));
  const crops = await readdir(join(stateRoot, 'meetings', ofMeeting!, 'crops'));
  expect(new Set(crops)).toEqual(new Set(lines.map((line) => /"frameId":"(\w+)"/.exec(line)![1])));

  // The cache can be thrown away.
  await rm(join(stateRoot, 'meetings', ofMeeting!, 'crops'), { recursive: true });
  said.length = 0;
  await measureCommand(folder, { stateRoot }, (line) => said.push(line));
  expect(said).toContain(`${lines.length} bikes looked at in full, 0 of them now.`);
  expect(await judgedLines(folder)).toEqual(lines);

  const colleague = join(root, 'colleague');
  for (const part of ['meeting.json', 'measured', 'log'])
    await cp(join(folder, part), join(colleague, part), { recursive: true });
  const there = await openWholeDay(colleague, { stateRoot: join(root, 'elsewhere'), isForLooking: true });
  try {
    const { judgements, judged } = await there.day.settled();
    expect([...judgements.values()].flat()).toHaveLength(lines.length);
    expect(judged.size).toBe(lines.length);
  } finally {
    await there.close();
  }
});
