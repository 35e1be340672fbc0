/**
 * The logbook: reading and folding 50,000 decisions, acknowledged decisions a second, and opening a meeting of 7,500
 * and 30,000 frames with its index and without. Invented lines; three runs after a warm-up, the least is the figure.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FileId, FrameId, GestureId, WriterId } from '../../src/core/ids.js';
import { fold, lineText, readLog, sealed } from '../../src/core/log/index.js';
import type { Decision, LogLine } from '../../src/core/log/types.js';
import type { FileMetadata, FrameMeasured, MeasuredLine } from '../../src/core/measure/types.js';
import { seededRandom } from '../../src/core/numeric/random.js';
import { epochMsOf } from '../../src/core/units.js';
import { newGestureId, openLogbook } from '../../src/host/logbook/index.js';
import { createMeeting, openMeeting } from '../../src/host/meeting/index.js';
import type { Figure, Figures } from '../../tools/figures.js';

const DECISIONS = 50_000;
const RUNS = 3;
const random = seededRandom(20_260_606);

export async function benchLogbook(): Promise<Figures> {
  const folder = mkdtempSync(join(tmpdir(), 'tyrewall-bench-'));
  try {
    return {
      ...(await foldFigures()),
      ...(await appendFigures(join(folder, 'log'))),
      ...(await openFigures(folder, 7_500)),
      ...(await openFigures(folder, 30_000)),
    };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

async function timed(work: () => unknown): Promise<{ leastMs: number; mostMs: number }> {
  const took: number[] = [];
  for (let run = 0; run <= RUNS; run++) {
    const start = performance.now();
    await work();
    if (run > 0) took.push(performance.now() - start);
  }
  return { leastMs: Math.min(...took), mostMs: Math.max(...took) };
}

const milliseconds = ({ leastMs, mostMs }: { leastMs: number; mostMs: number }, note: string): Figure => ({
  value: leastMs,
  unit: 'ms',
  better: 'lower',
  note: `${note}; ${leastMs.toFixed(0)}–${mostMs.toFixed(0)} ms in ${RUNS} runs`,
});

const hash = (): string =>
  Array.from({ length: 4 }, () =>
    random
      .integer(0, 2 ** 31 - 1)
      .toString(16)
      .padStart(8, '0'),
  ).join('');

/** Two in three are keep or leave-out, one in three joins two bikes; one in ten is taken back. */
function inventedLines(count: number): readonly LogLine[] {
  const writers = ['anna', 'bea', 'cleo'] as WriterId[];
  const seqs = new Map<WriterId, number>();
  const files = Array.from({ length: 7_500 }, () => hash() as FileId);
  const anyFile = (): FileId => random.oneOf(files);
  return Array.from({ length: count }, (_, i) => {
    const writer = writers[Math.floor((i * writers.length) / count)] as WriterId;
    const seq = (seqs.get(writer) ?? 0) + 1;
    seqs.set(writer, seq);
    const gesture = `gesture-${i}` as GestureId;
    return { writer, seq, v: 1, lamport: i + 1, gesture, at: epochMsOf(i), decision: invented(i, anyFile) };
  });
}

function invented(i: number, anyFile: () => FileId): Decision {
  if (i % 10 === 9) return { kind: 'withdraw', gesture: `gesture-${i - 1 - random.integer(0, 8)}` as GestureId };
  if (i % 3 < 2) return { kind: i % 2 ? 'keep' : 'leave-out', file: anyFile() };
  const points = [0, 1].map(() => ({ file: anyFile(), x: random.next(), y: random.next() }));
  return { kind: 'same-rider', points };
}

async function foldFigures(): Promise<Figures> {
  const lines = inventedLines(DECISIONS);
  const text = `${lines.map(lineText).join('\n')}\n`;
  const read = await timed(() => readLog(text, 'bench'));
  const folded = await timed(() => fold(lines));
  return {
    'logbook.readMs50000': milliseconds(read, `${(text.length / 1e6).toFixed(1)} MB with checksums`),
    'logbook.foldMs50000': milliseconds(folded, `${fold(lines).inForce.length} in force`),
  };
}

async function appendFigures(folder: string): Promise<Figures> {
  const log = await openLogbook(folder);
  const decision: Decision = { kind: 'keep', file: hash() as FileId };
  const one = await timed(() => log.append(newGestureId(), [decision]));
  const many = await timed(() =>
    Promise.all(Array.from({ length: 100 }, () => log.append(newGestureId(), [decision]))),
  );
  await log.close();
  return {
    'logbook.appendMs': milliseconds(one, 'one decision, flushed to the disk'),
    'logbook.append100Ms': milliseconds(many, '100 decisions that arrive at once'),
  };
}

/** About the size of real lines: one subject, 96-byte descriptors. */
function measuredLines(frames: number): readonly MeasuredLine[] {
  const descriptor = Buffer.alloc(96, 7).toString('base64');
  return Array.from({ length: frames }, (): readonly MeasuredLine[] => {
    const fileId = hash() as FileId;
    const frameId = hash() as FrameId;
    return [
      { kind: 'metadata', at: epochMsOf(1), metadata: inventedMetadata(fileId, frameId) },
      { kind: 'pixels', at: epochMsOf(1), pixels: inventedPixels(frameId, descriptor) },
    ];
  }).flat();
}

const inventedMetadata = (fileId: FileId, frameId: FrameId): FileMetadata => ({
  v: 1,
  fileId,
  frameId,
  media: 'jpeg',
  bytes: 8_000_000,
  captured: { kind: 'recorded', text: '2026:06:06 10:00:00', subSec: '45' },
  body: { make: 'Invented', model: 'One', serial: '0001234' },
  lens: { model: 'Invented 100-400', focalLengthMm: 320 },
  exposure: { shutterS: 0.001, fNumber: 5.6, iso: 400 },
  orientation: 1,
  widthPx: 6000,
  heightPx: 4000,
  preview: { widthPx: 1620, heightPx: 1080, offset: 30_000, bytes: 400_000 },
  notes: [],
});

function inventedPixels(frameId: FrameId, descriptor: string): FrameMeasured {
  const colours = (['red', 'black', 'white'] as const).map((name) => ({
    name,
    share: 0.3,
    lab: [50.1, 40.2, 30.3] as const,
  }));
  const box = [random.next() / 2, 0.25, 0.4, 0.5] as const;
  const sharpness = { alongX: 0.1, alongY: 0.2, overall: random.next(), scalePx: 640 };
  const subject = {
    what: 'motorcycle',
    ...{ box, bikeBox: box, riderBox: box },
    score: random.next(),
    isMain: true,
    isCut: false,
    ...{ bikeColours: colours, riderColours: colours, sharpness, descriptor },
  } as const;
  return {
    kind: 'measured',
    v: 1,
    frameId,
    tier: 'preview',
    source: 'mpf-preview',
    subjects: [subject],
    dividerScore: 0.02,
    sceneDescriptor: descriptor,
    meanLuminance: 0.41,
    clippedShare: 0.01,
  };
}

async function openFigures(root: string, frames: number): Promise<Figures> {
  const folder = join(root, `meeting-${frames}`);
  const stateRoot = join(root, `state-${frames}`);
  const day = { firstDay: '2026-06-06', lastDay: '2026-06-06', zone: 'Europe/London' };
  await createMeeting(folder, { name: 'Bench', ...day, spots: [] });
  const lines = measuredLines(frames);
  writeFileSync(join(folder, 'measured', 'bench.jsonl'), `${lines.map(sealed).join('\n')}\n`);
  const openAndClose = async (): Promise<void> => {
    const meeting = await openMeeting(folder, { stateRoot });
    if (meeting.measured.allPixels().size !== frames)
      throw new Error(`Expected ${frames} frames in the bench's meeting.`);
    await meeting.close();
  };
  const fresh = await timed(async () => {
    rmSync(stateRoot, { recursive: true, force: true });
    await openAndClose();
  });
  const looking = await timed(async () => {
    const meeting = await openMeeting(folder, { stateRoot, isForLooking: true });
    await meeting.close();
  });
  const indexed = await timed(openAndClose);
  return {
    [`logbook.openMs${frames}`]: milliseconds(indexed, 'with its index'),
    [`logbook.openFromFilesMs${frames}`]: milliseconds(looking, 'from the files alone, no index made'),
    [`logbook.openAnewMs${frames}`]: milliseconds(fresh, 'state folder deleted: files read and index made'),
  };
}
