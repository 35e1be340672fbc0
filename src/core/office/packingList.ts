/**
 * What goes into the bag, drawn from the plan (rule PL928): lenses for the spots, cards for the frames expected, batteries by the
 * CIPA count, and what rain, noise, sun and a long day ask for. `missing`: the kit has not enough; `open`: not in the bag yet.
 */
import type { CareOfDay } from '../plan/care/types.js';
import type { CircuitSpot } from '../plan/circuit/types.js';
import type { Check, KitItem, KitKind, MeetingPapers } from './types.js';

export interface PackingInput {
  readonly kit: readonly KitItem[];
  readonly papers: MeetingPapers;
  /** Of the plan; empty where none is taken. */
  readonly spots: readonly CircuitSpot[];
  /** Sessions that are stood at; null where no plan is taken. */
  readonly sessions: number | null;
  readonly care: CareOfDay;
  readonly hasProtector: boolean;
}

/** Frames a session at 18 to 21 sessions and 6,000 to 8,000 a day; the middle is 350. */
const FRAMES_A_SESSION = { usual: 350, most: 444 };
/** A large JPEG, 8 to 12 MB (common practice); raw files are larger. */
const MB_A_FRAME = { usual: 10, most: 12 };
const MB_A_GB = 1000;

type Need = Omit<Check, 'is'> & { readonly lacks?: string };

export function packingList(input: PackingInput): readonly Check[] {
  const needs = [
    ...lensNeeds(input),
    ...cardNeeds(input),
    ...batteryNeeds(input),
    ...thingNeeds(input),
    ...wearNeeds(input),
    waterNeed(input.care),
  ];
  const packed = new Set(input.papers.packed);
  // With no kit written down that is what is missing; everything else is still to be packed.
  const isKitKnown = input.kit.length > 0;
  return needs.map(({ id, sentence, lacks: short }) => {
    const lacks = isKitKnown ? short : undefined;
    return {
      id,
      is: lacks === undefined ? (packed.has(id) ? 'settled' : 'open') : 'missing',
      sentence: lacks === undefined ? sentence : `${sentence} ${lacks}`,
    };
  });
}

const ofKind = (kit: readonly KitItem[], kind: KitKind): readonly KitItem[] => kit.filter((item) => item.kind === kind);
const countOf = (items: readonly KitItem[]): number => items.reduce((sum, { count }) => sum + count, 0);
const plural = (count: number, one: string, more: string): string => `${count} ${count === 1 ? one : more}`;

function lensNeeds({ kit, spots }: PackingInput): readonly Need[] {
  const lenses = ofKind(kit, 'lens').filter(({ focalMm }) => focalMm !== undefined);
  const used = new Map<string, CircuitSpot[]>();
  const without: Need[] = [];
  if (lenses.length === 0) return noLensNeeds(spots);
  for (const spot of spots) {
    if (spot.focalMm === undefined) continue;
    const [from, to] = spot.focalMm;
    const lens = lenses.find(({ focalMm }) => focalMm![0] <= to && focalMm![1] >= from);
    if (lens) used.set(lens.name, [...(used.get(lens.name) ?? []), spot]);
    else
      without.push({
        id: `lens ${spot.id}`,
        sentence: `A lens of ${from} to ${to} mm for spot ${spot.number} ${spot.name}.`,
        lacks: 'None of yours reaches it.',
      });
  }
  const carried = [...used].map(([name, at]) => ({
    id: `lens ${name}`,
    sentence: `${name}, for ${at.map(({ number, name: spot }) => `${number} ${spot}`).join(', ')}.`,
  }));
  return [...without, ...carried];
}

function noLensNeeds(spots: readonly CircuitSpot[]): readonly Need[] {
  const ranges = spots.flatMap(({ focalMm }) => (focalMm === undefined ? [] : [focalMm]));
  if (ranges.length === 0) return [];
  const [from, to] = [Math.min(...ranges.map(([low]) => low)), Math.max(...ranges.map(([, high]) => high))];
  const lacks = 'No lens with its focal lengths is written down.';
  return [{ id: 'lenses', sentence: `Lenses from ${from} to ${to} mm for the spots of the plan.`, lacks }];
}

interface Frames {
  readonly usual: number;
  readonly most: number;
  readonly because: string;
}

/** A person's word, else from the sessions of the plan; null where nothing is known. */
export function framesExpected({ papers, sessions }: Pick<PackingInput, 'papers' | 'sessions'>): Frames | null {
  if (papers.framesExpected !== undefined)
    return { usual: papers.framesExpected, most: papers.framesExpected, because: 'as you said' };
  if (sessions === null || sessions === 0) return null;
  const { usual, most } = FRAMES_A_SESSION;
  return {
    usual: usual * sessions,
    most: most * sessions,
    because: `a guess: ${usual} to ${most} in each of ${plural(sessions, 'session', 'sessions')}`,
  };
}

const inThousands = (value: number): string => String(value).replace(/\B(?=(\d{3})+(?!\d))/g, ',');

function cardNeeds(input: PackingInput): readonly Need[] {
  const frames = framesExpected(input);
  if (frames === null)
    return [{ id: 'cards', sentence: 'Cards: how many frames to expect is not known without a plan or your word.' }];
  const needGb = Math.ceil((frames.most * MB_A_FRAME.most) / MB_A_GB);
  const cards = ofKind(input.kit, 'card');
  const haveGb = cards.reduce((sum, { capacityGb, count }) => sum + (capacityGb ?? 0) * count, 0);
  const sentence = `Empty cards for ${inThousands(frames.usual)} frames (${frames.because}): up to ${needGb} GB at ${MB_A_FRAME.most} MB each, twice that where both slots are written.`;
  const lacks = haveGb < needGb ? `Your cards hold ${haveGb} GB.` : undefined;
  return [{ id: 'cards', sentence, ...(lacks === undefined ? {} : { lacks }) }];
}

/**
 * CIPA DC-002 takes a frame every 30 s with the screen on and half of them with flash, so a charge lasts longer in bursts: its
 * count is on the safe side. One spare stands for cold and age.
 */
function batteryNeeds(input: PackingInput): readonly Need[] {
  const bodies = ofKind(input.kit, 'body');
  const frames = framesExpected(input);
  if (bodies.length === 0)
    return [{ id: 'batteries', sentence: 'A body and its batteries.', lacks: 'No body is written down.' }];
  const fewest = Math.min(...bodies.map(({ framesACharge }) => framesACharge ?? Number.POSITIVE_INFINITY));
  const isKnown = frames !== null && Number.isFinite(fewest);
  const charges = isKnown ? Math.ceil(frames.most / fewest) : 0;
  const need = Math.max(charges, countOf(bodies)) + 1;
  const have = countOf(ofKind(input.kit, 'battery'));
  const why = isKnown
    ? `${inThousands(frames.most)} frames at ${inThousands(fewest)} a charge (CIPA), and a spare`
    : `one in each body and a spare; frames a charge are not written down, or frames not known`;
  const sentence = `${plural(need, 'charged battery', 'charged batteries')}: ${why}.`;
  return [
    {
      id: 'bodies',
      sentence: `${bodies.map(({ name, count }) => (count > 1 ? `${count} × ${name}` : name)).join(', ')}.`,
    },
    { id: 'batteries', sentence, ...(have < need ? { lacks: `You have ${have} written down.` } : {}) },
  ];
}

function thingNeeds({ kit, hasProtector }: PackingInput): readonly Need[] {
  const cover = ofKind(kit, 'cover');
  const bodies = countOf(ofKind(kit, 'body'));
  const ears = ofKind(kit, 'ears');
  const disks = countOf(ofKind(kit, 'disk'));
  return [
    {
      id: 'rain-cover',
      sentence: 'Rain covers, one a body, and a towel.',
      ...(countOf(cover) < bodies
        ? { lacks: `${plural(bodies, 'body', 'bodies')}, ${countOf(cover)} written down.` }
        : {}),
    },
    {
      id: 'ears',
      sentence: 'Ear protection, worn whenever bikes are out.',
      ...(ears.length === 0 && !hasProtector ? { lacks: 'None is written down.' } : {}),
    },
    {
      id: 'disks',
      sentence: 'Two disks and the card reader: a card is formatted when it lies on both.',
      ...(disks < 2 ? { lacks: `${plural(disks, 'disk is', 'disks are')} written down.` } : {}),
    },
  ];
}

function wearNeeds({ care }: PackingInput): readonly Need[] {
  const needsSun = care.uv.kind === 'unknown' || care.uv.protectAt.length > 0;
  return [
    { id: 'boots', sentence: 'Ankle boots with grip, long trousers, nothing red or yellow.' },
    { id: 'papers', sentence: 'Certificate, accreditation and proof of age, on paper.' },
    ...(needsSun ? [{ id: 'sun', sentence: 'Brim, long sleeves, sun cream.' }] : []),
    { id: 'food', sentence: 'Something to eat that keeps in the bag.' },
  ];
}

const waterNeed = ({ drinking }: CareOfDay): Need => ({
  id: 'water',
  sentence: drinking === null ? 'Water: how much is not known without a plan.' : drinking.sentence,
});
