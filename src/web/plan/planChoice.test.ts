import { describe, expect, it } from 'vitest';
import type { SpotId } from '../../core/ids.js';
import type { Wish } from '../../core/plan/day/types.js';
import { wallMsOf } from '../../core/units.js';
import type { PlanView } from '../../server/planTypes.js';
import { type Choice, chosenOf, isOf, movedAcross, movedAlong, sessionAt } from './planChoice.js';
import { closed, forbidden, pinned, weighedGroup, weighedSpot, without } from './wishes.js';

const session = (name: string, from: number): PlanView['sessions'][number] => ({
  name,
  group: name.charAt(0),
  from: wallMsOf(from),
  to: wallMsOf(from + 20),
  isSighting: false,
});
const spot = (id: string, number: number): PlanView['spots'][number] => ({
  id: id as SpotId,
  number,
  name: id,
  needsPermit: false,
  hasShade: false,
  view: null,
});
const [quay, mole] = [spot('quay', 1), spot('mole', 2)];
const view: Pick<PlanView, 'sessions' | 'spots' | 'stays' | 'now'> = {
  now: wallMsOf(-600),
  sessions: [session('N1', 0), session('I1', 20), session('F1', 40), session('N2', 100)],
  spots: [quay, mole],
  stays: [
    {
      photographer: 0,
      stretch: 'N1 first half',
      slot: 'N1',
      spot: mole.id,
      from: wallMsOf(0),
      to: wallMsOf(10),
      why: null,
    },
  ],
};
const NOTHING: Choice = { spot: null, first: null, last: null };
const wordsOf = (choice: Choice) => {
  const chosen = chosenOf(view, choice)!;
  return `${chosen.spot.id}: ${chosen.sessions.map(({ name }) => name).join(' ')}`;
};

describe('what is spoken of on the plan sheet', () => {
  it('PL1313: begins at the session to come, where the plan stands', () => {
    expect(wordsOf(NOTHING)).toBe('mole: N1');
    expect(chosenOf({ ...view, now: wallMsOf(45) }, NOTHING)?.sessions[0]?.name).toBe('F1');
    expect(chosenOf({ ...view, now: wallMsOf(500) }, NOTHING)?.sessions[0]?.name).toBe('N1');
    expect(chosenOf({ ...view, sessions: [] }, NOTHING)).toBeNull();
    expect(chosenOf({ ...view, spots: [] }, NOTHING)).toBeNull();
  });

  it('PL1306: of a long session its parts are spoken of, each with the stay in it', () => {
    const parts = [session('O1 part 1', 0), session('O1 part 2', 30)];
    const stay = { ...view.stays[0]!, slot: 'O1', stretch: 'O1 part 2', from: wallMsOf(30), to: wallMsOf(60) };
    const open = { ...view, sessions: parts, stays: [stay] };
    expect(chosenOf(open, NOTHING)?.spot.id).toBe('quay');
    expect(chosenOf(open, movedAcross(open, NOTHING, 1, false))?.sessions[0]?.name).toBe('O1 part 2');
    expect(chosenOf(open, { ...NOTHING, first: 'O1 part 2' })?.spot.id).toBe('mole');
    expect(parts.map((one) => isOf(stay, one))).toEqual([false, true]);
  });

  it('PL1313: arrows go from session to session and from spot to spot, and no further than there are', () => {
    const right = movedAcross(view, NOTHING, 1, false);
    expect(wordsOf(right)).toBe('mole: I1');
    expect(wordsOf(movedAcross(view, movedAcross(view, NOTHING, -1, false), -1, false))).toBe('mole: N1');
    expect(wordsOf(movedAlong(view, right, -1))).toBe('quay: I1');
    expect(wordsOf(movedAlong(view, right, 1))).toBe('mole: I1');
  });

  it('PL1313: with Shift the stretch grows and shrinks at its end', () => {
    const grown = movedAcross(view, movedAcross(view, NOTHING, 1, true), 1, true);
    expect(wordsOf(grown)).toBe('mole: N1 I1 F1');
    expect(wordsOf(movedAlong(view, grown, -1))).toBe('quay: N1 I1 F1');
    expect(wordsOf(movedAcross(view, grown, -1, true))).toBe('mole: N1 I1');
    expect(wordsOf(movedAcross(view, grown, 1, false))).toBe('mole: N2');
  });

  it('PL1313: a press takes the session at that time, else the nearest', () => {
    expect(sessionAt(view, 30)).toBe('I1');
    expect(sessionAt(view, 75)).toBe('F1');
    expect(sessionAt(view, 95)).toBe('N2');
    expect(sessionAt({ ...view, sessions: [] }, 1)).toBeNull();
  });
});

describe('wishes', () => {
  const said = (...wishes: readonly Wish[]) => ({
    wishes: wishes.map((wish) => ({ wish, text: '' })),
    photographers: 1,
    hasVehicle: false,
  });
  const pin = (stretch: string, at = quay.id): Wish => ({ kind: 'pin', stretch, spot: at });
  const chosen = chosenOf(view, { spot: quay.id, first: 'N1', last: 'I1' })!;

  it('PL1306: a pin takes the place of another one of the same session, unless two share the day', () => {
    const before = said(pin('N1', mole.id), pin('N2', mole.id));
    expect(pinned(before, chosen)).toEqual([pin('N2', mole.id), pin('N1'), pin('I1')]);
    expect(pinned({ ...before, photographers: 2 }, chosen)).toEqual([
      pin('N1', mole.id),
      pin('N2', mole.id),
      pin('N1'),
      pin('I1'),
    ]);
    expect(pinned(said(pin('N1 first half', mole.id)), chosen)).toEqual([pin('N1'), pin('I1')]);
  });

  it('PL1306: what is forbidden is no longer pinned there, and the other way about', () => {
    const no: readonly Wish[] = [
      { kind: 'forbid', stretch: 'N1', spot: quay.id },
      { kind: 'forbid', stretch: 'I1', spot: quay.id },
    ];
    expect(forbidden(said(pin('N1'), pin('N10')), chosen)).toEqual([pin('N10'), ...no]);
    expect(pinned(said(...no), chosen)).toEqual([pin('N1'), pin('I1')]);
  });

  it('PL1306: closed takes the time of the sessions; as it is, is no weight; each wish goes alone', () => {
    expect(closed(said(), chosen)).toEqual([{ kind: 'closed', spot: quay.id, from: 0, to: 40 }]);
    const weighed = weighedSpot(said({ kind: 'weigh-spot', spot: quay.id, times: 3 }), quay.id, 2);
    expect(weighed).toEqual([{ kind: 'weigh-spot', spot: quay.id, times: 2 }]);
    expect(weighedSpot(said(...weighed), quay.id, 1)).toEqual([]);
    expect(weighedGroup(said(), 'N', 0.5)).toEqual([{ kind: 'weigh-group', group: 'N', times: 0.5 }]);
    expect(without(said(pin('N1'), pin('N1')), 1)).toEqual([pin('N1')]);
  });
});
