/**
 * How alike pictures come out: sessions under passing clouds, rendered, measured as on a day, balanced, and looked at where they show the
 * same surface. Before and after of the same pairs; and each livery against itself in the reference light. Seeds are not those that
 * weights were chosen on (4100).
 */
import { aimOf, balanceFrames, type FrameLight } from '../../src/core/finish/alike/index.js';
import { colourChanger, lookOf, PLAIN_FINISH } from '../../src/core/finish/index.js';
import type { FrameId, RiderKey } from '../../src/core/ids.js';
import type { RgbImage } from '../../src/core/measure/index.js';
import type { LightSeen } from '../../src/core/measure/types.js';
import { ciede2000 } from '../../src/core/numeric/colourDifference.js';
import { measureImage, openVision, type Vision } from '../../src/host/vision/index.js';
import type { Figures } from '../figures.js';
import { liveriesOf, type Patch, patchesOf } from './alike/patches.js';
import { sessionOf, type Taken } from './alike/session.js';

const SESSIONS = [
  { seed: 9001, spot: 0 },
  { seed: 9002, spot: 1 },
] as const;
const RIDERS = 2;

interface Seen extends Taken {
  readonly frame: FrameId;
  readonly place: string;
  readonly measured: LightSeen | null;
}

async function seenIn(vision: Vision, { seed, spot }: (typeof SESSIONS)[number]): Promise<readonly Seen[]> {
  const seen: Seen[] = [];
  for (const taken of sessionOf(seed, spot, RIDERS)) {
    const frame = `${seed}-${spot}-${seen.length}` as FrameId;
    const { subjects } = await measureImage(vision, taken.image, {
      frameId: frame,
      source: 'shrink-on-load',
      tier: 'preview',
    });
    const measured = subjects.find(({ isMain }) => isMain)?.light ?? null;
    seen.push({ ...taken, frame, place: `${seed}-${spot}`, measured });
  }
  return seen;
}

const lightOf = ({ frame, place, measured, rider }: Seen): FrameLight => ({
  frame,
  spot: place,
  place,
  wall: null,
  ground: measured?.ground ?? null,
  riders: measured === null ? [] : [{ rider: rider as RiderKey, light: measured.subject }],
});

/** The pictures of a session with what the balance says done to them, and nothing else. */
function madeAlike(session: readonly Seen[]): ReadonlyMap<FrameId, RgbImage> {
  const lights = session.map(lightOf);
  const aim = aimOf(lights);
  const balances = aim === null ? new Map() : balanceFrames(lights, aim);
  return new Map(
    session.map(({ frame, image }) => {
      const data = Uint8Array.from(image.data);
      colourChanger(lookOf({ ...PLAIN_FINISH, alike: 1 }, balances.get(frame)))(data);
      return [frame, { ...image, data }];
    }),
  );
}

interface Mean {
  readonly sum: number;
  readonly count: number;
}
const NONE: Mean = { sum: 0, count: 0 };
const plus = (one: Mean, other: Mean): Mean => ({ sum: one.sum + other.sum, count: one.count + other.count });
const meanOf = ({ sum, count }: Mean): number => sum / Math.max(1, count);

/** Over every surface two pictures of one rider both show. */
function between(one: ReadonlyMap<string, Patch>, other: ReadonlyMap<string, Patch>): Mean {
  let [sum, count] = [0, 0];
  for (const [surface, { lab }] of one) {
    const same = other.get(surface);
    if (!same) continue;
    sum += ciede2000(lab, same.lab);
    count += 1;
  }
  return { sum, count };
}

function pairsOf(session: readonly Seen[], pictures: ReadonlyMap<FrameId, RgbImage>): Mean {
  const patches = session.map((seen) => ({
    rider: seen.rider,
    own: patchesOf(pictures.get(seen.frame) ?? seen.image, seen.visible),
  }));
  let mean = NONE;
  for (const [index, one] of patches.entries())
    for (const other of patches.slice(index + 1))
      if (one.rider === other.rider) mean = plus(mean, between(one.own, other.own));
  return mean;
}

/** Every livery of the changed frames against the same paint of the same rider in the reference light, both finished. */
function shiftOf(
  session: readonly Seen[],
  pictures: ReadonlyMap<FrameId, RgbImage>,
): { livery: Mean; shadows: number[] } {
  let livery = NONE;
  const shadows: number[] = [];
  for (const reference of session.filter(({ isReference }) => isReference))
    for (const seen of session.filter(({ isReference, rider }) => !isReference && rider === reference.rider)) {
      const of = (one: Seen) => patchesOf(pictures.get(one.frame)!, one.visible);
      const [own, meant] = [of(seen), of(reference)];
      livery = plus(livery, between(liveriesOf(own, meant), liveriesOf(meant, own)));
      shadows.push(...shadowsOf(own, meant));
    }
  return { livery, shadows };
}

/** By how much lighter (L*) the darkest sixth of the reference's surfaces came out. */
function shadowsOf(own: ReadonlyMap<string, Patch>, meant: ReadonlyMap<string, Patch>): readonly number[] {
  const shared = [...meant]
    .filter(([surface]) => own.has(surface))
    .sort(([, a], [, b]) => a.lab[0] - b.lab[0])
    .slice(0, Math.floor(meant.size / 6));
  return shared.map(([surface, { lab }]) => own.get(surface)!.lab[0] - lab[0]);
}

export async function alikeAccuracy(): Promise<{ readonly rows: readonly string[]; readonly figures: Figures }> {
  const vision = await openVision();
  const rows: string[] = [];
  let [before, after, livery] = [NONE, NONE, NONE];
  const shadows: number[] = [];
  for (const wanted of SESSIONS) {
    const session = await seenIn(vision, wanted);
    const changing = session.filter(({ isReference }) => !isReference);
    const own = {
      before: pairsOf(changing, new Map()),
      after: pairsOf(changing, madeAlike(changing)),
      ...shiftOf(session, madeAlike(session)),
    };
    before = plus(before, own.before);
    after = plus(after, own.after);
    livery = plus(livery, own.livery);
    shadows.push(...own.shadows);
    const silent = session.filter(({ measured }) => !measured?.ground).length;
    rows.push(
      `seed ${wanted.seed}, spot ${wanted.spot}: ${changing.length} frames of ${RIDERS} riders, ${own.before.count} pairs of patches: ΔE00 ${meanOf(own.before).toFixed(2)} as taken, ${meanOf(own.after).toFixed(2)} alike; liveries off by ${meanOf(own.livery).toFixed(2)}; no ground seen in ${silent}`,
    );
  }
  await vision.close();
  const lifted = shadows.reduce((sum, one) => sum + one, 0) / Math.max(1, shadows.length);
  return {
    rows: [
      ...rows,
      `the darkest surfaces come out lighter by L* ${lifted.toFixed(2)} on average, of ${shadows.length}`,
    ],
    figures: {
      'alike.deltaEBefore': figure(before, 'pairs of same-surface patches, as taken'),
      'alike.deltaEAfter': figure(after, 'the same pairs, alike'),
      'livery.deltaEShift': figure(livery, 'paints against themselves in the reference light'),
    },
  };
}

const figure = (mean: Mean, what: string) => ({
  value: meanOf(mean),
  unit: 'ΔE00',
  better: 'lower' as const,
  note: `${mean.count} ${what}`,
});
