/** Small pictures of the riders to look for: what goes into the file and is too large for a code. */
import sharp from 'sharp';
import type { PocketDay } from '../../core/plan/pocket/index.js';
import type { Day } from '../day/types.js';

const WIDTH = 104;
const HEIGHT = 74;
const QUALITY = 55;
/** Around the bike, as a share of its size. */
const AROUND = 0.08;

/** Riders without a picture here go along without one. */
export async function withCrops(carried: PocketDay, day: Pick<Day, 'state' | 'picture'>): Promise<PocketDay> {
  const riders = new Map(day.state().arrangement.riders.map((rider) => [rider.code, rider]));
  const watch = await Promise.all(
    carried.watch.map(async (one) => {
      const rider = riders.get(one.code ?? '');
      const crop = rider === undefined ? null : await cropOf(day, rider.face);
      return crop === null ? one : { ...one, crop };
    }),
  );
  return { ...carried, watch };
}

async function cropOf(
  day: Pick<Day, 'state' | 'picture'>,
  { frameId, subject }: { readonly frameId: Parameters<Day['picture']>[0]; readonly subject: number },
): Promise<Uint8Array | null> {
  const measured = day.state().pixels.get(frameId);
  const box = measured?.kind === 'measured' ? measured.subjects[subject]?.box : undefined;
  const path = box === undefined ? null : await day.picture(frameId);
  if (path === null || box === undefined) return null;
  try {
    const { width, height } = await sharp(path).metadata();
    return new Uint8Array(
      await sharp(path)
        .extract(around(box, width, height))
        .resize(WIDTH, HEIGHT)
        .jpeg({ quality: QUALITY })
        .toBuffer(),
    );
  } catch {
    return null;
  }
}

function around([left, top, wide, high]: readonly [number, number, number, number], width: number, height: number) {
  const from = (at: number, size: number, all: number) => Math.max(0, Math.floor((at - size * AROUND) * all));
  const [x, y] = [from(left, wide, width), from(top, high, height)];
  return {
    left: x,
    top: y,
    width: Math.max(1, Math.min(width - x, Math.ceil(wide * (1 + 2 * AROUND) * width))),
    height: Math.max(1, Math.min(height - y, Math.ceil(high * (1 + 2 * AROUND) * height))),
  };
}
