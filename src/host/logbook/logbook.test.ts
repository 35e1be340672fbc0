import { spawn } from 'node:child_process';
import {
  appendFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import type { FileId, FrameId, GestureId } from '../../core/ids.js';
import { sealed } from '../../core/log/index.js';
import type { FrameMeasurement, MeasuredLine } from '../../core/measure/types.js';
import { epochMsOf } from '../../core/units.js';
import { newGestureId, openLogbook, openMeasuredStore } from './index.js';

const root = mkdtempSync(join(tmpdir(), 'tyrewall-logbook-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

let made = 0;
const freshFolder = (): string => join(root, `log ${++made}`);
const keep = (name: string) => ({ kind: 'keep', file: name as FileId }) as const;
const files = (folder: string): string[] => readdirSync(folder).map((name) => join(folder, name));
const rows = (folder: string): string[] =>
  files(folder).flatMap((file) => readFileSync(file, 'utf8').trim().split('\n'));

describe('appending decisions', () => {
  it('LB22: what is answered stands in the file, in order, with numbers without gaps', async () => {
    const folder = freshFolder();
    const log = await openLogbook(folder);
    expect(existsSync(folder)).toBe(false);
    const answers = await Promise.all(
      Array.from({ length: 200 }, (_, i) => log.append(newGestureId(), [keep(`a${i}`), keep(`b${i}`)])),
    );
    const lines = rows(folder).map((row) => JSON.parse(row));
    expect(lines.map(({ seq }) => seq)).toEqual(Array.from({ length: 400 }, (_, i) => i + 1));
    expect(lines.map(({ lamport }) => lamport)).toEqual(lines.map(({ seq }) => seq));
    expect(answers.flat().map(({ seq }) => seq)).toEqual(lines.map(({ seq }) => seq));
    expect(log.folded().inForce).toHaveLength(400);
    await log.close();
  });

  it('LB23: a gesture sent again is answered again and written once, at once, later, and after opening anew', async () => {
    const folder = freshFolder();
    const gesture = newGestureId();
    const first = await openLogbook(folder);
    const [one, two] = await Promise.all([first.append(gesture, [keep('a')]), first.append(gesture, [keep('a')])]);
    expect(one).toEqual(two);
    await first.append(gesture, [keep('a')]);
    await first.close();
    const second = await openLogbook(folder);
    expect(await second.append(gesture, [keep('a')])).toEqual(one);
    await second.close();
    expect(rows(folder)).toHaveLength(1);
  });

  it('LB24: each start writes its own file, says first what it has seen, and counts on from there', async () => {
    const folder = freshFolder();
    const first = await openLogbook(folder);
    await first.append(newGestureId(), [keep('a'), keep('b')]);
    await first.close();
    const second = await openLogbook(folder);
    const [line] = await second.append(newGestureId(), [keep('c')]);
    expect(second.writer).not.toBe(first.writer);
    expect(line).toMatchObject({ seq: 2, lamport: 4 });
    expect(second.folded().lines[2]?.decision).toEqual({ kind: 'seen', writers: { [first.writer]: 2 } });
    await second.close();
    expect(files(folder)).toHaveLength(2);
  });

  it('LB25: a decision that nobody could read later is refused with the member that is wrong', async () => {
    const folder = freshFolder();
    const log = await openLogbook(folder);
    const wrong = { kind: 'boundary', at: Number.NaN, is: 'here' } as never;
    await expect(log.append(newGestureId(), [keep('a'), wrong])).rejects.toThrow(/decision\.at.*Nothing was written/);
    expect(existsSync(folder)).toBe(false);
    await log.close();
  });

  it('LB26: a write that fails is not acknowledged, and what follows goes to a fresh file', async () => {
    const folder = freshFolder();
    const log = await openLogbook(folder);
    await log.append(newGestureId(), [keep('before')]);
    await log.close();
    const again = await openLogbook(folder);
    const failing = again.writer;
    mkdirSync(join(folder, `${failing}.jsonl`));
    const gesture = newGestureId();
    await expect(again.append(gesture, [keep('a')])).rejects.toThrow(
      /Nothing of it counts; make room or check the disk/,
    );
    expect(again.folded().inForce).toHaveLength(1);
    await again.append(gesture, [keep('a')]);
    await again.append(newGestureId(), [keep('b')]);
    expect(again.writer).not.toBe(failing);
    await again.close();
    rmSync(join(folder, `${failing}.jsonl`), { recursive: true });
    const later = await openLogbook(folder);
    expect(later.folded().inForce.map(({ decision }) => decision)).toEqual([keep('before'), keep('a'), keep('b')]);
    expect(later.notices).toEqual([]);
    await later.close();
  });
});

describe('reading decisions', () => {
  it('LB2: a torn last line is dropped with a notice and the writer goes on in a new file', async () => {
    const folder = freshFolder();
    const log = await openLogbook(folder);
    for (const name of ['a', 'b', 'c']) await log.append(newGestureId(), [keep(name)]);
    await log.close();
    const [file] = files(folder) as [string];
    truncateSync(file, readFileSync(file).length - 30);
    const again = await openLogbook(folder);
    expect(again.notices).toEqual([expect.stringContaining('was cut off while it was being written')]);
    expect(again.folded().inForce).toHaveLength(2);
    await again.append(newGestureId(), [keep('d')]);
    expect(again.folded().inForce).toHaveLength(3);
    await again.close();
  });

  it('LB3: bytes damaged in the middle cost their own line; what is missing is counted', async () => {
    const folder = freshFolder();
    const log = await openLogbook(folder);
    for (const name of ['a', 'b', 'c']) await log.append(newGestureId(), [keep(name)]);
    await log.close();
    const [file] = files(folder) as [string];
    const bytes = readFileSync(file);
    bytes[bytes.indexOf('"b"') + 1] = 0xff;
    writeFileSync(file, bytes);
    const again = await openLogbook(folder);
    expect(again.folded().inForce.map(({ decision }) => decision)).toEqual([keep('a'), keep('c')]);
    expect(again.notices).toEqual([
      expect.stringMatching(/line 2 of log\/.*\.jsonl, but its checksum says/),
      expect.stringMatching(/Expected 3 decisions in log\/.*but 1 of them are missing/),
    ]);
    await again.close();
  });

  it("LB27: a writer's file that is not here is missed by those who had seen it", async () => {
    const folder = freshFolder();
    const first = await openLogbook(folder);
    await first.append(newGestureId(), [keep('a')]);
    await first.close();
    const second = await openLogbook(folder);
    await second.append(newGestureId(), [keep('b')]);
    await second.close();
    rmSync(join(folder, `${first.writer}.jsonl`));
    const third = await openLogbook(folder);
    expect(third.notices).toEqual([expect.stringContaining(`Expected 1 decisions in log/${first.writer}.jsonl`)]);
    await third.close();
  });
});

const loader = pathToFileURL(createRequire(import.meta.url).resolve('tsx')).href;
const here = (name: string): string => fileURLToPath(new URL(name, import.meta.url));

/** Says what it asks for and what was acknowledged, in two letters and an id, until it is killed. */
const RESTLESS_WRITER = `
  import { writeSync } from 'node:fs';
  import { newGestureId, openLogbook } from ${JSON.stringify(here('./index.ts'))};
  const [folder, ...again] = process.argv.slice(2);
  const log = await openLogbook(folder);
  const say = async (gesture) => {
    writeSync(1, 'ask ' + gesture + '\\n');
    const decisions = Array.from({ length: 1 + gesture.charCodeAt(35) % 3 }, (_, i) => ({ kind: 'keep', file: gesture + i }));
    await log.append(gesture, decisions);
    writeSync(1, 'ack ' + gesture + '\\n');
  };
  await Promise.all(again.map(say));
  const forEver = async () => { for (;;) await say(newGestureId()); };
  await Promise.all([forEver(), forEver(), forEver()]);`;

/** Runs the writer until it is killed, `afterMs` after its first acknowledgement. */
function untilKilled(
  folder: string,
  again: readonly string[],
  afterMs: number,
): Promise<{ asked: string[]; acked: string[] }> {
  const program = join(root, 'restless.mts');
  writeFileSync(program, RESTLESS_WRITER);
  const child = spawn(process.execPath, ['--import', loader, program, folder, ...again], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  let said = '';
  let isDoomed = false;
  child.stdout.on('data', (text: Buffer) => {
    said += text.toString();
    if (isDoomed || !said.includes('ack ')) return;
    isDoomed = true;
    setTimeout(() => child.kill('SIGKILL'), afterMs);
  });
  return new Promise((resolve) => {
    child.once('close', () => {
      const whole = said.split('\n').filter((row) => row.length === 40);
      const idsOf = (word: string) => whole.filter((row) => row.startsWith(word)).map((row) => row.slice(4));
      resolve({ asked: idsOf('ask'), acked: idsOf('ack') });
    });
  });
}

it('LB28: killed at any moment, every acknowledged decision is there afterwards, whole, and none twice', async () => {
  const folder = freshFolder();
  const acked = new Set<string>();
  const asked = new Set<string>();
  for (const afterMs of [3, 41, 0, 17, 88]) {
    const pending = [...asked].filter((gesture) => !acked.has(gesture));
    const run = await untilKilled(folder, pending, afterMs);
    for (const gesture of run.asked) asked.add(gesture);
    for (const gesture of run.acked) acked.add(gesture);
  }
  expect(acked.size).toBeGreaterThan(5);
  const log = await openLogbook(folder);
  const kept = new Map<string, number>();
  for (const { line } of log.folded().inForce) kept.set(line.gesture, (kept.get(line.gesture) ?? 0) + 1);
  const linesOf = (gesture: string): number => 1 + (gesture.charCodeAt(35) % 3);
  for (const gesture of acked) expect(kept.get(gesture)).toBe(linesOf(gesture));
  for (const [gesture, count] of kept) expect([asked.has(gesture), count]).toEqual([true, linesOf(gesture)]);
  const decisions = log.folded().inForce.map(({ decision }) => (decision as { file: string }).file);
  expect(new Set(decisions).size).toBe(decisions.length);
  await log.close();
});

describe('measurements', () => {
  const pixels = (tier: 'preview' | 'full' | 'unmeasurable', at: number, v = 1): MeasuredLine => ({
    kind: 'pixels',
    at: epochMsOf(at),
    pixels: (tier === 'unmeasurable'
      ? { kind: tier, v, frameId: 'f', reason: 'broken' }
      : { kind: 'measured', v, frameId: 'f', tier, subjects: [], meanLuminance: at }) as unknown as FrameMeasurement,
  });
  const frame = 'f' as FrameId;

  it('LB29: a later line with the same key and version changes nothing and is not written', async () => {
    const folder = freshFolder();
    const store = await openMeasuredStore(folder);
    await store.append([pixels('preview', 1)]);
    await store.append([pixels('preview', 2), pixels('unmeasurable', 3)]);
    expect(store.pixels(frame)).toMatchObject({ meanLuminance: 1 });
    await store.append([pixels('full', 4)]);
    await store.append([pixels('preview', 5)]);
    expect(store.pixels(frame)).toMatchObject({ tier: 'full' });
    await store.append([pixels('preview', 6, 2)]);
    expect(store.pixels(frame)).toMatchObject({ v: 2, tier: 'preview' });
    await store.close();
    expect(rows(folder)).toHaveLength(3);
  });

  it('LB29: which of several measurements counts does not depend on the order of files', async () => {
    const lines = [pixels('preview', 1), pixels('full', 9), pixels('full', 8), pixels('unmeasurable', 0)];
    for (const order of [
      [0, 1, 2, 3],
      [3, 2, 1, 0],
      [1, 3, 0, 2],
    ]) {
      const folder = freshFolder();
      mkdirSync(folder);
      for (const [place, i] of order.entries()) {
        writeFileSync(join(folder, `writer-${place}.jsonl`), `${sealed(lines[i] as MeasuredLine)}\n`);
      }
      const store = await openMeasuredStore(folder);
      expect(store.pixels(frame)).toMatchObject({ tier: 'full', meanLuminance: 8 });
      await store.close();
    }
  });

  it('LB29: a line that is cut off or damaged costs that measurement, in one sentence', async () => {
    const folder = freshFolder();
    const store = await openMeasuredStore(folder);
    await store.append([pixels('preview', 1)]);
    await store.close();
    appendFileSync(files(folder)[0] as string, 'half a li');
    const again = await openMeasuredStore(folder);
    expect(again.notices).toEqual([expect.stringMatching(/^One line of measured\/.*measured again\.$/)]);
    expect(again.allPixels().size).toBe(1);
    await again.close();
  });
});

it('a gesture id is a UUID of version 7, later ones sorting later', () => {
  const ids: GestureId[] = Array.from({ length: 50 }, newGestureId);
  expect(ids[0]).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
  expect([...ids].sort()).toEqual(ids);
});
