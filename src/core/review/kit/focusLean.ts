/**
 * Whether missed focus fell before or behind the bike: rules PL815, PL816.
 *
 * Of passes that are soft in every direction alike (focus, not movement) it is asked whether the ground before the bike is sharper against
 * the ground behind it than in sharp frames of the same spot, body and lens. Each pass has one voice: frames of a burst miss together. It
 * is said where a body and lens have enough of them, and a side only where chance does not explain it.
 */
import { tellBlur } from '../../measure/measureSharpness.js';
import type { Box, GroundSharpness, Sharpness } from '../../measure/types.js';
import { shareOf } from '../../numeric/wilson.js';
import { bodyName } from './dustWords.js';
import { groupedBy, type JudgedBike, MOST_EVIDENCE, medianOf, percent } from './judgedBikes.js';
import type { FocusLean } from './types.js';

/** Sharp passes of a spot that what is missed there is compared with; fewer say little of its ground. */
const LEAST_SHARP = 5;
/** With fewer, even if all of them lean one way, one in twenty-five bodies does so by chance. */
const LEAST_MISSED = 8;

type WithGround = JudgedBike & {
  readonly subject: NonNullable<JudgedBike['subject']> & { readonly ground: GroundSharpness; sharpness: Sharpness };
};

interface Missed {
  readonly bike: WithGround;
  /** Above 0: the nearer ground is the sharper, against sharp frames there. */
  readonly lean: number;
}

export function focusLean(bikes: readonly JudgedBike[]): readonly FocusLean[] {
  const spots = groupedBy(bikes.filter(hasGround), ({ exposure, lens, pass }) =>
    JSON.stringify([exposure.body, lens, pass.spot]),
  );
  const missed = [...spots.values()].flatMap(missedOfSpot);
  const ofLens = groupedBy(missed, ({ bike }) => JSON.stringify([bike.exposure.body, bike.lens]));
  return [...ofLens.values()].filter((all) => all.length >= LEAST_MISSED).flatMap(recordOf);
}

const hasGround = (bike: JudgedBike): bike is WithGround =>
  bike.subject?.ground !== undefined && 'overall' in bike.subject.sharpness;

const leanOf = ({ subject: { ground } }: WithGround): number => Math.log(ground.before / ground.behind);

/** One for each pass: its middle frame by lean. */
function missedOfSpot(bikes: readonly WithGround[]): readonly Missed[] {
  const sharp = bikes.filter(({ isSharp }) => isSharp);
  if (new Set(sharp.map(({ pass }) => pass.index)).size < LEAST_SHARP) return [];
  const usual = medianOf(sharp.map(leanOf));
  const best = medianSharpness(sharp.map(({ subject }) => subject.sharpness));
  const soft = bikes.filter(({ isSharp, subject }) => !isSharp && tellBlur(subject.sharpness, best).kind === 'defocus');
  return [...groupedBy(soft, ({ pass }) => String(pass.index)).values()].map((frames) => {
    const inOrder = [...frames].sort((a, b) => leanOf(a) - leanOf(b));
    const bike = inOrder[inOrder.length >> 1]!;
    return { bike, lean: leanOf(bike) - usual };
  });
}

function medianSharpness(all: readonly Sharpness[]): Sharpness {
  const median = (of: (one: Sharpness) => number) => medianOf(all.map(of));
  return {
    alongX: median(({ alongX }) => alongX),
    alongY: median(({ alongY }) => alongY),
    alongDown: median(({ alongDown }) => alongDown ?? 1),
    alongUp: median(({ alongUp }) => alongUp ?? 1),
    overall: median(({ overall }) => overall),
    scalePx: median(({ scalePx }) => scalePx),
  };
}

function recordOf(missed: readonly Missed[]): readonly FocusLean[] {
  const { exposure, lens } = missed[0]!.bike;
  const before = missed.filter(({ lean }) => lean > 0).length;
  const share = shareOf(before, missed.length);
  if (share === null) return [];
  const falls = share.from > 0.5 ? 'before' : share.to < 0.5 ? 'behind' : 'either';
  const leading = [...missed].sort((a, b) => (falls === 'behind' ? a.lean - b.lean : b.lean - a.lean));
  const what = lens === null ? bodyName(exposure.body) : `${bodyName(exposure.body)}, ${lens}`;
  return [
    {
      kind: 'measurement',
      body: exposure.body,
      lens,
      falls,
      passes: missed.length,
      before,
      share,
      evidence: leading
        .slice(0, MOST_EVIDENCE)
        .map(({ bike }) => ({ frameId: bike.bike.frameId, look: withGround(bike.subject.box) })),
      sentence: `${what}: of ${missed.length} passes that are out of focus and not smeared, the ground before the bike is the sharper in ${before}, by what sharp frames there show (${percent(share.from)}–${percent(share.to)} % to be expected). ${WHERE[falls]}`,
    },
  ];
}

const WHERE: Readonly<Record<FocusLean['falls'], string>> = {
  before: 'The focus falls in front of the bike.',
  behind: 'The focus falls behind the bike.',
  either: 'It does not fall to one side.',
};

/** Bike, and the ground that was compared. */
function withGround([left, top, width, height]: Box): Box {
  const [from, to] = [Math.max(0, left - 0.5 * width), Math.min(1, left + 1.5 * width)];
  return [from, top, to - from, Math.min(1, top + 1.45 * height) - top];
}
