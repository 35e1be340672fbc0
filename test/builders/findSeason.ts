/** Riders of an invented season, and the plain scan that the index is held against: no index, no files, every entry looked at. */
import { numberKey, plainKey, slugKey } from '../../src/core/handover/find/keys.js';
import type { Criterion, FindEntry, FindRider, FoundRider, Why } from '../../src/core/handover/find/types.js';
import { neighboursOf } from '../../src/core/measure/index.js';
import type { ColourName } from '../../src/core/measure/types.js';
import { seededRandom } from '../../src/core/numeric/random.js';

const COLOURS: readonly ColourName[] = [
  'black',
  'white',
  'red',
  'orange',
  'yellow',
  'lime',
  'green',
  'blue',
  'navy',
  'purple',
];
const GROUPS = ['N', 'I', 'F'];

/** Meeting after meeting of 120 riders, 25 pictures each, seven sessions a group. Half of them carry a number. */
export function findSeason(entries: number, seed = 7): readonly FindRider[] {
  const random = seededRandom(seed);
  const of = (below: number) => random.integer(0, below - 1);
  const perRider = 25;
  return Array.from({ length: Math.ceil(entries / perRider) }, (_, i): FindRider => {
    const group = of(3);
    const meeting = Math.floor(i / 120);
    return {
      id: i.toString(16).padStart(32, '0'),
      bike: [...new Set([COLOURS[of(10)]!, COLOURS[of(10)]!])],
      leathers: COLOURS[of(10)]!,
      number: of(2) === 0 ? null : { text: String(1 + of(999)), isGuess: of(3) === 0 },
      class: of(4) === 0 ? 'Twins' : null,
      words: [`word${of(500)}`],
      card: null,
      entries: Array.from({ length: Math.min(perRider, entries - i * perRider) }, (__, n): FindEntry => {
        const outing = Math.floor((n * 7) / perRider);
        return {
          session: meeting * 21 + outing * 3 + group,
          group: GROUPS[group]!,
          spot: 1 + ((outing + of(2)) % 6),
          quarter: 36 + outing * 4 + group,
        };
      }),
    };
  });
}

/** What fits a criterion of one entry, and how well. */
function whyOf(rider: FindRider, entry: FindEntry, { facet, keys }: Criterion): { why: Why; exact: number } | null {
  const own = ownKeys(rider, entry, facet);
  const exact = keys.filter((key) => own.includes(key));
  const sorted = [...own].sort();
  const whyIs = (key: string | undefined, is: Why['is'], count = 0) =>
    key === undefined ? null : { why: { facet, key, is }, exact: count };
  if (facet === 'number') {
    const [number] = own;
    if (number === undefined || rider.number === null) return null;
    const wanted = keys.map(numberKey).filter((key) => key !== '');
    if (wanted.includes(number)) return rider.number.isGuess ? whyIs(number, 'guess') : whyIs(number, 'exact', 1);
    return wanted.some((key) => number.startsWith(key)) ? whyIs(number, 'near') : null;
  }
  if (exact.length > 0)
    return whyIs(
      sorted.find((key) => exact.includes(key)),
      'exact',
      exact.length,
    );
  if (facet === 'time')
    return whyIs(
      sorted.find((key) => keys.some((asked) => Math.abs(Number(asked) - Number(key)) === 1)),
      'near',
    );
  if (facet !== 'bike' && facet !== 'leathers') return null;
  const near = keys.flatMap((key) => neighboursOf(key.replace('-', ' ') as ColourName).map(slugKey));
  return whyIs(
    sorted.find((key) => near.includes(key)),
    'near',
  );
}

function ownKeys(rider: FindRider, entry: FindEntry, facet: Criterion['facet']): readonly string[] {
  switch (facet) {
    case 'group':
      return entry.group === null ? [] : [plainKey(entry.group)];
    case 'session':
      return entry.session === null ? [] : [String(entry.session)];
    case 'spot':
      return entry.spot === null ? [] : [String(entry.spot)];
    case 'time':
      return entry.quarter === null ? [] : [String(entry.quarter)];
    case 'bike':
      return rider.bike.map(slugKey);
    case 'leathers':
      return rider.leathers === null ? [] : [slugKey(rider.leathers)];
    case 'number':
      return rider.number === null ? [] : [numberKey(rider.number.text)];
    case 'class':
      return rider.class === null ? [] : [plainKey(rider.class)];
    default:
      return [];
  }
}

const COST = { exact: 0, guess: 1, near: 2 } as const;

export function plainScan(riders: readonly FindRider[], criteria: readonly Criterion[]): readonly FoundRider[] {
  const asked = criteria.filter(({ keys }) => keys.length > 0);
  if (asked.length === 0) return [];
  const found: (FoundRider & { readonly cost: number })[] = [];
  for (const [index, rider] of riders.entries()) {
    const fitting: { readonly why: readonly Why[]; readonly cost: number }[] = [];
    for (const entry of rider.entries) {
      const whys = asked.map((criterion) => whyOf(rider, entry, criterion));
      if (whys.some((one) => one === null)) continue;
      const cost = whys.reduce((sum, one) => sum + COST[one!.why.is] * 256 - one!.exact, 0);
      fitting.push({ why: whys.map((one) => one!.why), cost });
    }
    const cost = Math.min(...fitting.map((one) => one.cost));
    const best = fitting.filter((one) => one.cost === cost);
    if (best[0] !== undefined) found.push({ rider: index, pictures: best.length, why: best[0].why, cost });
  }
  return found
    .sort((a, b) => a.cost - b.cost || a.rider - b.rider)
    .map(({ rider, pictures, why }) => ({ rider, pictures, why }));
}
