/** A typical pocket day of the invented circuit: three groups, 21 sessions, six spots, eight riders to look for. */
import type { SpotId } from '../../src/core/ids.js';
import type { PocketDay, PocketSlot, PocketStay, Watched } from '../../src/core/plan/pocket/index.js';
import { millisecondsOf, wallMsOf } from '../../src/core/units.js';

const GROUPS = [
  { key: 'N', name: 'Novice' },
  { key: 'I', name: 'Inters' },
  { key: 'F', name: 'Fast' },
];
const SPOTS = ['Beacon', 'Gannet', 'Lifeboat', 'Strand', 'Slipway', 'Coble'];
const MORNING_MIN = 9 * 60;
const AFTERNOON_MIN = 13 * 60;

const slots: readonly PocketSlot[] = Array.from({ length: 21 }, (_, index): PocketSlot => {
  const group = GROUPS[index % 3]!.key;
  const round = Math.floor(index / 3) + 1;
  const fromMin = index < 12 ? MORNING_MIN + 20 * index : AFTERNOON_MIN + 20 * (index - 12);
  return { name: `${group}${round}`, group, fromMin, toMin: fromMin + 20, isSighting: index < 3 };
});

/** Where one stands, two sessions at a time. */
const AT = [0, 1, 1, 3, 4, 2, 1, 0, 5, 3, 4];
const LIGHT = ['front', 'front', 'side', 'side', 'front', 'back', 'side', 'front', 'front', 'side', 'back'] as const;

const stays: readonly PocketStay[] = AT.map((spot, index): PocketStay => {
  const first = slots[2 * index]!;
  const last = slots[2 * index + 1] ?? first;
  const hour = first.fromMin / 60;
  const isMoved = index > 0 && spot !== AT[index - 1];
  return {
    fromMin: first.fromMin,
    toMin: last.toMin,
    spot: SPOTS[spot]!.toLowerCase() as SpotId,
    wayMin: isMoved ? 4 + ((spot * 3 + index) % 7) : 0,
    ...(isMoved && spot === 4 && { wayWords: 'by the tunnel' }),
    light: {
      kind: 'sun',
      from: LIGHT[index]!,
      altitudeDeg: Math.round(38 - 2.1 * (hour - 12.8) ** 2),
      ...(index > 8 && { lowFromMin: 17 * 60 + 31 }),
    },
    sure: [320, 400, 500, 320, 250, 400, 320, 500, 640, 320, 400][index]!,
    slow: [125, 160, 200, 125, 100, 160, 125, 200, 250, 125, 160][index]!,
    watch: index < 6 ? [] : index % 2 === 0 ? [0, 1, 2, 3, 4, 5, 6, 7] : [3, 0, 6, 2],
    ...(index >= 6 && { toGet: { riders: 10 - (index % 4), of: 31, neverSeen: 3 } }),
    ...(spot === 5 && { caution: 'behind the second wall' }),
  };
});

const watched = (
  words: string,
  number: string | undefined,
  code: string,
  riderTag: string,
  [bike, helmet]: readonly [Watched['bike'], Watched['helmet']?],
  lapS: number,
): Watched => ({
  words,
  ...(number !== undefined && { number }),
  code,
  riderTag,
  bike,
  ...(helmet !== undefined && { helmet }),
  lapMs: millisecondsOf(Math.round(lapS * 10) * 100),
  isNeverSeen: number === undefined,
});

const watch: readonly Watched[] = [
  watched('white, white helmet', '3', 'N-n', '3f09c1', [['white'], 'white'], 104.6),
  watched('yellow / green', '36', 'N-ad', '81d24e', [['yellow', 'green']], 101.2),
  watched('green / white, yellow helmet', '17', 'N-ah', 'c65b0f', [['green', 'white'], 'yellow'], 98.9),
  watched('black, red helmet, no plates', undefined, 'N-k', '07e8aa', [['black'], 'red'], 107.3),
  watched('navy / white', '18', 'I-w', 'e2319d', [['navy', 'white']], 93.4),
  watched('pink / lime', '49', 'F-s', '5a7cb8', [['pink', 'lime']], 86.7),
  watched('orange, black helmet', undefined, 'I-c', '9046f3', [['orange'], 'black'], 95.8),
  watched('silver / red, white helmet', '112', 'N-q', '2bd165', [['silver', 'red'], 'white'], 102.5),
];

export const typicalPocketDay: PocketDay = {
  meeting: 'Ebbstone, open track day',
  day: wallMsOf(Date.UTC(2026, 8, 19)),
  eastMin: 60,
  madeMin: 12 * 60 + 40,
  slipRule: 'clock-fixed',
  groups: GROUPS,
  slots,
  spots: SPOTS.map((name, index) => ({ id: name.toLowerCase() as SpotId, number: index + 1, name })),
  stays,
  watch,
  cautions: ['Plugs in, drink each hour.', 'Marshals first, always.'],
};
