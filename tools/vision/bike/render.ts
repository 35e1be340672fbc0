/**
 * Renders pictures of invented riders for the bike network. Bundled into one file (see README.md) and run as
 *
 *     node render.js <out folder> <seconds> <workers> [first seed]
 *
 * Each worker writes `<n>.rgb` (pictures of 224 × 224 × 3 bytes), `<n>.parts` (for each, coverage by bike and rider, by
 * clothes and by helmet, three planes of 112 × 112 bytes), `<n>.paint` (eight planes of 224 × 224 bytes, see `Surfaces`)
 * and `<n>.jsonl` (identity, family of look-alikes, box).
 */
import { fork } from 'node:child_process';
import { closeSync, mkdirSync, openSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { repaint } from '../../../demo/render/colours.js';
import { render } from '../../../demo/render/frame.js';
import { randomFrom } from '../../../demo/render/noise.js';
import { inventFamily, inventShades, inventShot } from './invent.js';

export const EDGE_PX = 224;
const HALF_PX = EDGE_PX / 2;
const VIEWS = 8;
/** Families are numbered 1,000 apart from seed to seed, so that a held-back seed shares none. */
const FAMILIES_A_SEED = 100_000;

function halved(plane: Float32Array): Uint8Array {
  const out = new Uint8Array(HALF_PX * HALF_PX);
  for (let y = 0; y < HALF_PX; y++)
    for (let x = 0; x < HALF_PX; x++) {
      const at = 2 * y * EDGE_PX + 2 * x;
      const sum = plane[at]! + plane[at + 1]! + plane[at + EDGE_PX]! + plane[at + EDGE_PX + 1]!;
      out[y * HALF_PX + x] = Math.round(Math.min(1, sum / 4) * 255);
    }
  return out;
}

interface Files {
  readonly rgb: readonly Uint8Array[];
  readonly parts: readonly Uint8Array[];
  readonly paint: readonly Uint8Array[];
}
type Write = (files: Files, line: object) => void;

function renderFamily(family: number, endsMs: number, write: Write): void {
  const random = randomFrom(family * 7919 + 13);
  const riders = inventFamily(random);
  const restore = repaint(inventShades(random));
  try {
    riders.forEach((rider, member) => {
      for (let view = 0; view < VIEWS && performance.now() < endsMs; view++) {
        const other = random.oneOf(riders.filter((one) => one !== rider));
        const { pixels, boxes, visible } = render(inventShot(rider, other, EDGE_PX, random), { withVisible: true });
        const [box, shown] = [boxes[0], visible?.[0]];
        if (!box || !shown) continue;
        const parts = [shown.whole, shown.clothes, shown.helmet].map(halved);
        const { paint, gloss, place, part } = shown.surfaces;
        write(
          { rgb: [pixels], parts, paint: [...paint, gloss, ...place, part] },
          { family, member, box: box.map((v) => Math.round(v * 1e4) / 1e4) },
        );
      }
    });
  } finally {
    restore();
  }
}

function work(folder: string, seconds: number, worker: number, workers: number, seed: number): void {
  const open = (kind: string): number => openSync(join(folder, `${worker}.${kind}`), 'w');
  const to = { rgb: open('rgb'), parts: open('parts'), paint: open('paint') };
  const lines = open('jsonl');
  const endsMs = performance.now() + 1000 * seconds;
  for (let count = 0; performance.now() < endsMs; count++) {
    renderFamily(seed * FAMILIES_A_SEED + count * workers + worker, endsMs, (files, line) => {
      for (const kind of ['rgb', 'parts', 'paint'] as const)
        for (const plane of files[kind]) writeSync(to[kind], plane);
      // Last of all: whoever reads while this writes trusts the lines.
      writeSync(lines, `${JSON.stringify(line)}\n`);
    });
  }
  for (const file of [...Object.values(to), lines]) closeSync(file);
}

const [folder = 'pictures', seconds = '60', workers = '2', seed = '1', worker] = process.argv.slice(2);
if (worker !== undefined) work(folder, Number(seconds), Number(worker), Number(workers), Number(seed));
else {
  mkdirSync(folder, { recursive: true });
  for (let n = 0; n < Number(workers); n++) fork(process.argv[1]!, [folder, seconds, workers, seed, String(n)]);
}
