/**
 * Proofs and finished pictures of 24-megapixel originals against a bare sharp loop that only resizes and saves, and
 * against libvips' own command line, in turn in one run with every core busy.
 *
 * Why the references are fair: the bare loop runs in as many children as the finisher, through the same pool, sharp set
 * alike, with the same size, quality and chroma, writing to the same disk; it reads no metadata, draws no mark, writes
 * no words and waits for no flush. The command line is called once a picture, as many at a time as there are cores, with
 * the same size and quality.
 */
import { spawn } from 'node:child_process';
import { mkdir, mkdtemp, rm } from 'node:fs/promises';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import {
  FIRST_FINISH,
  lookOf,
  type PicturePlan,
  type PictureWords,
  planFinal,
  planProof,
} from '../../src/core/finish/index.js';
import type { FrameId } from '../../src/core/ids.js';
import type { EpochMs, WallMs } from '../../src/core/units.js';
import { startFinisher, usualChildren } from '../../src/host/finish/finisher.js';
import type { Figures } from '../../tools/figures.js';
import { makeFrames } from '../measure/frames.js';
import { type BareJob, startBareLoop } from './bareLoop.js';
import { cpuTimes, makeHere } from './cpuTime.js';

const ROUNDS = 8;
/** Whole pictures take ten times as long. */
const WHOLE_ROUNDS = 2;
const EDGE_PX = 1400;

export const WORDS: PictureWords = {
  title: null,
  keywords: [],
  creator: 'R. Quill',
  credit: 'R. Quill',
  copyright: '© 2026 R. Quill',
  event: 'Ebbstone',
  contact: 'pictures@example.invalid',
  usageTerms: 'Proof, for looking at only.',
  captured: { wall: Date.UTC(2026, 4, 30, 10) as WallMs, instant: Date.UTC(2026, 4, 30, 9) as EpochMs },
};
const MARKED = { subjectBoxes: [[0.3, 0.3, 0.4, 0.4]], longEdgePx: EDGE_PX } as const;
/** Every part of the finish does something. */
const LOOK = lookOf({ ...FIRST_FINISH, warmth: 0.2 }, { gains: [1.04, 1, 0.97] });

type Make = (path: string, index: number) => Promise<unknown>;

export const benchFinish = async (): Promise<Figures> => {
  const folder = await mkdtemp(join(tmpdir(), 'tyrewall-bench-finish-'));
  const finisher = startFinisher();
  const bare = startBareLoop(usualChildren());
  try {
    const originals = (await makeFrames(folder)).map(({ path }) => path);
    await mkdir(join(folder, 'out'));
    const to = (index: number) => join(folder, 'out', `${index}.jpg`);
    const finished =
      (plan: PicturePlan): Make =>
      async (original, index) => {
        const outcome = await finisher.run({ frameId: '0'.repeat(32) as FrameId, original, plan, to: to(index) });
        if (outcome.kind === 'failed') throw new Error(outcome.sentence);
      };
    const loop =
      (settings: Omit<BareJob, 'from' | 'to'>): Make =>
      (from, index) =>
        bare.run({ from, to: to(index), ...settings });
    const tool = await commandLine(originals, to);
    const ours = {
      bare: loop({ longEdgePx: EDGE_PX, quality: 82, chromaSubsampling: '4:2:0' }),
      proof: finished(planProof(WORDS, MARKED)),
      finishedProof: finished(planProof(WORDS, { ...MARKED, look: LOOK })),
    };
    const small =
      tool === null
        ? await inTurn(originals, ROUNDS, ours)
        : await inTurn(originals, ROUNDS, { ...ours, commandLine: tool });
    const whole = await inTurn(originals, WHOLE_ROUNDS, {
      bareWhole: loop({ longEdgePx: null, quality: 92, chromaSubsampling: '4:4:4' }),
      final: finished(planFinal(WORDS, LOOK, null, { kind: 'camera' })),
    });
    const cpu = await cpuTimes(originals, {
      bare: (path) => sharp(path).resize(EDGE_PX, EDGE_PX, { fit: 'inside' }).jpeg({ quality: 82 }).toFile(to(0)),
      proof: makeHere(planProof(WORDS, MARKED), to(0)),
      finishedProof: makeHere(planProof(WORDS, { ...MARKED, look: LOOK }), to(0)),
    });
    return figuresOf({ ...small, ...whole }, cpu, originals.length);
  } finally {
    await Promise.all([finisher.close(), bare.close()]);
    await rm(folder, { recursive: true, force: true });
  }
};

type CpuTimes = Readonly<Record<'bare' | 'proof' | 'finishedProof', number>>;
type Seconds = Readonly<Record<'bare' | 'proof' | 'finishedProof' | 'bareWhole' | 'final', number>> & {
  readonly commandLine?: number;
};

/** So many pictures are timed together: enough to keep every core busy, few enough that a quiet moment holds them. */
const TOGETHER = 6;

/**
 * Every way in turn with each few pictures, after a round to warm up. Each few count with their least time over the
 * rounds: what else the machine does is in the others.
 */
async function inTurn<Way extends string>(
  originals: readonly string[],
  rounds: number,
  ways: Readonly<Record<Way, Make>>,
): Promise<Record<Way, number>> {
  const names = Object.keys(ways) as Way[];
  const seconds = Object.fromEntries(names.map((name) => [name, 0])) as Record<Way, number>;
  for (let from = 0; from < originals.length; from += TOGETHER) {
    const few = originals.slice(from, from + TOGETHER);
    const least = Object.fromEntries(names.map((name) => [name, Number.POSITIVE_INFINITY])) as Record<Way, number>;
    for (let turn = 0; turn < (rounds + 1) * names.length; turn += 1) {
      const name = names[turn % names.length]!;
      const taken = await secondsFor(() => Promise.all(few.map(ways[name])));
      if (turn >= names.length) least[name] = Math.min(least[name], taken);
    }
    for (const name of names) seconds[name] += least[name];
  }
  return seconds;
}

async function secondsFor(work: () => Promise<unknown>): Promise<number> {
  const start = performance.now();
  await work();
  return (performance.now() - start) / 1000;
}

/** Null, said, where the tool is not installed. */
async function commandLine(originals: readonly string[], to: (index: number) => string): Promise<Make | null> {
  try {
    await thumbnail(originals[0]!, to(0));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
    console.warn(
      'SKIPPED: vipsthumbnail is not installed (Debian: libvips-tools); proofs.ratioToCommandLine is not measured.',
    );
    return null;
  }
  const atOnce = availableParallelism();
  let running: Promise<void>[] = [];
  return async (path, index) => {
    while (running.length >= atOnce) await Promise.race(running);
    const one = thumbnail(path, to(index)).finally(() => {
      running = running.filter((other) => other !== one);
    });
    running.push(one);
    return one;
  };
}

const thumbnail = (path: string, to: string): Promise<void> =>
  new Promise((resolve, reject) => {
    const options = [path, '--size', `${EDGE_PX}x${EDGE_PX}`, '-o', `${to}[Q=82,optimize_coding,strip]`];
    const tool = spawn('vipsthumbnail', options, { stdio: 'ignore', env: { ...process.env, VIPS_CONCURRENCY: '1' } });
    tool.on('error', reject);
    tool.on('exit', (code) => (code === 0 ? resolve() : reject(new Error(`vipsthumbnail ended with ${code}`))));
  });

function figuresOf(seconds: Seconds, cpu: CpuTimes, pictures: number): Figures {
  const { commandLine } = seconds;
  const ms = (value: number) => `${((value * 1000) / pictures).toFixed(0)} ms`;
  const ratio = (reference: number, ours: number, note: string) =>
    ({ value: reference / ours, unit: '×', better: 'higher', note }) as const;
  const atProofSize = seconds.bare / seconds.finishedProof;
  const whole = seconds.bareWhole / seconds.final;
  return {
    'proofs.ratioToBareLoop': ratio(
      seconds.bare,
      seconds.proof,
      `rate of marked proofs with words ÷ rate of sharp that only resizes and saves, both cores busy: a picture every ${ms(seconds.proof)} and ${ms(seconds.bare)}; by CPU time alone ${cpu.proof.toFixed(0)} and ${cpu.bare.toFixed(0)} ms: ${(cpu.bare / cpu.proof).toFixed(2)}`,
    ),
    ...(commandLine === undefined
      ? {}
      : {
          'proofs.ratioToCommandLine': ratio(
            commandLine,
            seconds.proof,
            `÷ rate of libvips' command line, as many at a time as cores: a picture every ${ms(commandLine)}`,
          ),
        }),
    'finish.ratioToBareLoop': ratio(
      seconds.bare,
      seconds.finishedProof,
      `proofs with every part of the finish, ${ms(seconds.finishedProof)}: ${atProofSize.toFixed(2)}; by CPU time alone ${(cpu.bare / cpu.finishedProof).toFixed(2)}; whole finals against load and save alone ${ms(seconds.final)} ÷ ${ms(seconds.bareWhole)}: ${whole.toFixed(2)}`,
    ),
  };
}
