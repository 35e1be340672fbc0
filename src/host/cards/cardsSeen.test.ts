import { expect, it } from 'vitest';
import { headCountsOf, unseenRiders } from '../../core/cover/index.js';
import type { FrameId, GestureId, PersonId } from '../../core/ids.js';
import type { Decision } from '../../core/log/types.js';
import type { SeenCard } from '../../core/measure/cards/index.js';
import type { FrameMeasured } from '../../core/measure/types.js';
import { epochMsOf, type WallMs } from '../../core/units.js';
import { createFakeDay, type FakeDay } from '../../server/testing/fakeDay.js';
import { clocksByCards, ridersByCards, rollCalled } from './index.js';

const at = { x: 0.5, y: 0.5 };
const HOUR_MS = 3_600_000;

/** The made-up day with cards in some of its frames. */
function seen(day: FakeDay, cards: ReadonlyMap<FrameId, SeenCard>) {
  const state = day.state();
  const pixels = new Map(
    [...state.pixels].map(([id, measured]) => {
      const card = cards.get(id);
      return [id, card === undefined ? measured : ({ ...measured, cards: [card] } as FrameMeasured)] as const;
    }),
  );
  return { ...state, pixels };
}

const gesture = (n: number) => `019961f0-0000-7000-8000-00000000010${n}` as GestureId;
const own = (day: FakeDay) => {
  const { exposures } = day.state().arrangement;
  const [{ body }] = exposures as [(typeof exposures)[number]];
  return exposures.filter((one) => one.body === body);
};
/** The card as it stood when the body's clock was so many seconds ahead. */
const clockCard = (recorded: number, fastS: number): SeenCard => ({
  kind: 'clock-card',
  body: 2,
  shownAt: epochMsOf(recorded - HOUR_MS - fastS * 1000),
  next: 'N2',
  at,
});

it('PL732: a clock card asks to set its body, to the second and with its error; answered it is not asked again', async () => {
  const day = createFakeDay({ frames: 60, riders: 4 });
  const [first] = own(day);
  const cards = new Map([[first!.frameId, clockCard(first!.recorded as WallMs, 102)]]);
  const [asked] = clocksByCards(seen(day, cards)).proposals;
  expect(asked).toMatchObject({ is: 'asked', body: first!.body, number: 2, standsByMs: 0 });
  expect(Math.abs(asked!.offsetMs + 102_000)).toBeLessThanOrEqual(asked!.errorMs);
  expect(asked!.errorMs).toBeLessThanOrEqual(1100);
  await day.decide(gesture(1), [{ kind: 'card-answered', frame: first!.frameId, is: 'not-taken' }]);
  expect(clocksByCards(seen(day, cards)).proposals[0]?.is).toBe('not-taken');
});

it('PL732: a clock that is right by its card asks nothing; one set between two cards is asked of each part', () => {
  const day = createFakeDay({ frames: 60, riders: 4 });
  const frames = own(day);
  const [first, later] = [frames[0]!, frames[10]!];
  const right = new Map([[first.frameId, clockCard(first.recorded as WallMs, 0)]]);
  expect(clocksByCards(seen(day, right)).proposals.map(({ is }) => is)).toEqual(['right']);
  const both = new Map([
    [first.frameId, clockCard(first.recorded as WallMs, 102)],
    [later.frameId, clockCard(later.recorded as WallMs, 3600)],
  ]);
  const [before, after] = clocksByCards(seen(day, both)).proposals;
  expect([before?.fromFrame, before?.toFrame]).toEqual([undefined, frames[9]!.frameId]);
  expect([after?.fromFrame, after?.toFrame]).toEqual([later.frameId, undefined]);
});

it('PL733: a number card asks whose bike it is; nobody’s contact needed, and a card of another meeting asks nothing', async () => {
  const day = createFakeDay({ frames: 60, riders: 4 });
  const frame = day.state().arrangement.exposures.find(({ role }) => role === 'bike')!;
  const card: SeenCard = { kind: 'number-card', number: 17, token: 'ABCDEFGHIJKLMNOPQRSTUVWXYZ', at };
  const cards = new Map([[frame.frameId, card]]);
  const known = { tokenOf: () => card.token, personOf: () => undefined };
  expect(ridersByCards(seen(day, cards), known).proposals).toMatchObject([
    { is: 'asked', card: 17, person: 'card-17', point: { file: frame.mainFile } },
  ]);
  const held = { ...known, personOf: () => 'p-a' as PersonId };
  expect(ridersByCards(seen(day, cards), held).proposals[0]?.person).toBe('p-a');
  const other = ridersByCards(seen(day, cards), { ...known, tokenOf: () => 'OTHER' });
  expect([other.proposals, other.notes.length]).toEqual([[], 1]);
  await day.decide(gesture(2), [{ kind: 'card-answered', frame: frame.frameId, is: 'taken' }]);
  expect(ridersByCards(seen(day, cards), known).proposals[0]?.is).toBe('taken');
});

it('PL734: the roll of a stretch counts bikes, and its head count, once said, makes who is unseen', async () => {
  const day = createFakeDay({ frames: 600, riders: 30 });
  const { arrangement, pixels } = day.state();
  const session = arrangement.sessions[0]!;
  const roll = rollCalled(day.state(), { group: session.group!, from: session.start, to: session.end });
  expect(roll.most).toBeGreaterThan(1);
  expect(roll.least).toBeLessThanOrEqual(roll.most);
  expect(roll.looks.length).toBe(roll.most);
  for (const { frameId, subject } of roll.looks) {
    const measured = pixels.get(frameId);
    expect(measured?.kind === 'measured' && measured.subjects[subject]?.what).toBe('motorcycle');
  }
  const counted: Decision = { kind: 'head-count', at: roll.from, group: roll.group, riders: 25 };
  await day.decide(gesture(3), [counted]);
  const unseen = unseenRiders(arrangement, headCountsOf(day.state().log)).filter(({ group }) => group === roll.group);
  expect(unseen.length).toBeGreaterThan(0);
  for (const { source, reason } of unseen)
    expect([source, reason]).toEqual(['head-count', expect.stringMatching(/^25 riders were counted/)]);
});
