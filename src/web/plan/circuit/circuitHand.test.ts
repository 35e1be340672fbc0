import { describe, expect, it } from 'vitest';
import { EBBSTONE } from '../../../../demo/circuit/ebbstone.js';
import { distanceBetween } from '../../../core/plan/circuit/segments.js';
import { planeAt, pointOf } from '../../../core/plan/circuit/track.js';
import type { Circuit, Place } from '../../../core/plan/circuit/types.js';
import { createCircuitHand } from './circuitHand.js';
import { addPoint, aimAtTrack, beginLineHere, endWay, newBend, newSpot, omitPoint, removeHeld } from './handWords.js';
import { type Held, nextHeld, placeOfHeld } from './held.js';

const metresApart = (one: Place, other: Place): number =>
  distanceBetween(pointOf(planeAt(one), one), pointOf(planeAt(one), other));

/** A hand, what it said, and a desk that takes each word or refuses it. */
function handOn(circuit: Circuit = EBBSTONE) {
  const said: { readonly text: string; readonly circuit: Circuit; readonly was: Circuit }[] = [];
  const answers: ((isSaid: boolean) => void)[] = [];
  const hand = createCircuitHand(circuit, (text, now, was) => {
    said.push({ text, circuit: now, was });
    return new Promise((resolve) => answers.push(resolve));
  });
  const answer = async (isSaid: boolean) => {
    answers.shift()!(isSaid);
    await Promise.resolve();
    await Promise.resolve();
  };
  return { hand, said, answer, now: () => hand.store.get() };
}
const renamed = (circuit: Circuit, name: string): Circuit => ({
  ...circuit,
  spots: circuit.spots.map((one, i) => (i === 0 ? { ...one, name } : one)),
});
const [FIRST, SECOND] = EBBSTONE.spots as [Circuit['spots'][number], Circuit['spots'][number]];
const spot = (one: { readonly id: Circuit['spots'][number]['id'] }): Held => ({ kind: 'spot', id: one.id });

describe('drawing by hand', () => {
  it('PL115: arrows move what is held by metres; held down they are one change, said when let go', () => {
    const { hand, said, now } = handOn();
    hand.hold(spot(SECOND));
    for (let i = 0; i < 5; i++) hand.step(1, 0);
    hand.step(0, -10);
    expect(said).toEqual([]);
    hand.letGo();
    hand.letGo();
    expect(said.map(({ text }) => text)).toEqual([`Spot ${SECOND.number} ${SECOND.name} moved`]);
    const place = said[0]!.circuit.spots[1]!.place;
    expect(metresApart(SECOND.place, place)).toBeCloseTo(Math.hypot(5, 10), 1);
    expect(now().cross).toEqual(place);
    expect(said[0]!.circuit.spots[0]).toEqual(EBBSTONE.spots[0]);
  });

  it('PL115: whatever stands on the map can be held and moved by arrows', () => {
    const { hand, now } = handOn();
    const kinds = new Set<string>();
    let held: Held = { kind: 'cross' };
    for (let i = 0; i < 60; i++) {
      held = nextHeld(now().circuit, held);
      hand.hold(held);
      const before = placeOfHeld(now().circuit, held, now().cross)!;
      hand.step(10, 0);
      const after = placeOfHeld(now().circuit, now().held, now().cross)!;
      // A bend goes along the line, whose chord is a little shorter.
      expect(metresApart(before, after), JSON.stringify(held)).toBeGreaterThan(8);
      expect(metresApart(before, after), JSON.stringify(held)).toBeLessThan(10.1);
      kinds.add(held.kind);
      hand.letGo();
    }
    expect([...kinds].sort()).toEqual(['bend', 'cross', 'line', 'paddock', 'spot', 'way']);
  });

  it('PL115: a new spot stands at the cross, looks at the track and is held', () => {
    const { hand, said, now } = handOn();
    const at = { ...FIRST.place };
    hand.tap(at);
    newSpot(hand);
    const added = said[0]!.circuit.spots.at(-1)!;
    expect(metresApart(added.place, at)).toBeLessThan(0.05);
    expect(added.number).toBe(EBBSTONE.spots.length + 1);
    expect(now().held).toEqual(spot(added));
    hand.step(3, 0);
    aimAtTrack(hand);
    expect(said.map(({ text }) => text.replace(/\d+/g, '#'))).toEqual([
      'A new spot, Spot #',
      'Spot # Spot # moved',
      'Spot # Spot # turned',
    ]);
    removeHeld(hand);
    expect(said.at(-1)!.circuit.spots).toEqual(EBBSTONE.spots);
    expect(now().held).toEqual({ kind: 'cross' });
  });

  it('PL115: a way is drawn point by point, and its points can be moved, added and omitted', () => {
    const { hand, said, now } = handOn({ ...EBBSTONE, ways: [] });
    hand.tap(EBBSTONE.paddock);
    hand.draw([now().cross]);
    hand.step(50, 0);
    hand.tap(now().cross);
    hand.step(0, 30);
    hand.tap(now().cross);
    expect(said).toEqual([]);
    endWay(hand);
    const [way] = said[0]!.circuit.ways;
    expect(way).toMatchObject({ kind: 'path', crossing: 'none', onFoot: 'anyone', byVehicle: 'nobody' });
    expect(way!.line.slice(1).map((place, i) => Math.round(metresApart(way!.line[i]!, place)))).toEqual([50, 30]);
    addPoint(hand);
    expect(said.at(-1)!.circuit.ways[0]!.line).toHaveLength(4);
    omitPoint(hand);
    omitPoint(hand);
    omitPoint(hand);
    expect(said).toHaveLength(4);
    expect(now().remark).toMatch(/^Expected a way of two points and more/);
    expect(now().circuit.ways[0]!.line).toHaveLength(2);
  });

  it('PL115: bends keep their names when one is moved past another, and the one that is moved stays held', () => {
    const { hand, now } = handOn();
    hand.tap(EBBSTONE.spots[2]!.place);
    newBend(hand);
    const { held, circuit } = now();
    if (held.kind !== 'bend') throw new Error('Expected the new bend to be held.');
    const { name } = circuit.bends[held.index]!;
    for (let i = 0; i < 200; i++) {
      hand.step(10, 0);
      const { held: later, circuit: moved } = now();
      expect(later.kind === 'bend' && moved.bends[later.index]!.name).toBe(name);
    }
    expect(
      now()
        .circuit.bends.map((bend) => bend.name)
        .sort(),
    ).toEqual(circuit.bends.map((bend) => bend.name).sort());
  });

  it('PL115: the line can begin at another of its points', () => {
    const { hand, said } = handOn();
    hand.hold({ kind: 'line', point: 25 });
    beginLineHere(hand);
    expect(metresApart(said[0]!.circuit.centreline[0]!, EBBSTONE.centreline[25]!)).toBeLessThan(0.05);
  });

  it('PL115: what the desk refuses is as it was; what is taken back elsewhere is followed', async () => {
    const { hand, said, answer, now } = handOn();
    hand.hold(spot(FIRST));
    removeHeld(hand);
    expect(now().circuit.spots).toHaveLength(EBBSTONE.spots.length - 1);
    await answer(false);
    expect(now().circuit).toBe(EBBSTONE);

    removeHeld(hand);
    hand.hold(spot(FIRST));
    removeHeld(hand);
    const without = said.at(-1)!.circuit;
    await answer(true);
    hand.follow(without);
    expect(now().circuit).toEqual(without);
    hand.follow(EBBSTONE);
    expect(now().circuit).toBe(EBBSTONE);
  });

  it('PL115: what is done while something is taken back waits for it, and brings nothing of it back', async () => {
    const { hand, said, answer, now } = handOn();
    hand.hold(spot(FIRST));
    hand.step(10, 0);
    hand.letGo();
    await answer(true);
    hand.follow(said[0]!.circuit);
    let isBack = () => {};
    hand.waitFor(new Promise<void>((resolve) => (isBack = resolve)));
    // The arrow was pressed, and the spot named, before the desk answered.
    hand.step(0, 1);
    hand.letGo();
    hand.change({ circuit: renamed(now().circuit, 'Gate'), problems: [] }, 'A spot is called Gate');
    expect(said).toHaveLength(1);
    hand.follow(EBBSTONE);
    isBack();
    await new Promise((resolve) => setTimeout(resolve));
    expect(said.map(({ text }) => text).slice(1)).toEqual([
      `Spot ${FIRST.number} ${FIRST.name} moved`,
      'A spot is called Gate',
    ]);
    const [first] = now().circuit.spots;
    expect(first!.name).toBe('Gate');
    expect(metresApart(FIRST.place, first!.place)).toBeCloseTo(1, 1);
  });

  it('PL115: taken back before its own drawing was ever read, a change does not stay on the screen', async () => {
    const { hand, answer, now } = handOn();
    hand.change({ circuit: renamed(EBBSTONE, 'Gate'), problems: [] }, 'A spot is called Gate');
    hand.waitFor(Promise.resolve());
    hand.follow({ ...EBBSTONE });
    await new Promise((resolve) => setTimeout(resolve));
    await answer(true);
    expect(now().circuit).toEqual(EBBSTONE);
  });

  it('PL120: each word names the drawing before it, so that only what changed is said', async () => {
    const { hand, said, answer } = handOn();
    hand.hold(spot(FIRST));
    hand.step(10, 0);
    hand.letGo();
    hand.hold(spot(SECOND));
    hand.step(10, 0);
    hand.letGo();
    expect(said[0]!.was).toBe(EBBSTONE);
    expect(said[1]!.was).toBe(said[0]!.circuit);
    await answer(false);
    await answer(true);
    hand.follow({ ...EBBSTONE });
    hand.step(10, 0);
    hand.letGo();
    expect(said[2]!.was).toEqual(EBBSTONE);
  });

  it('PL115: while words are under way an older drawing of the desk does not jump in', async () => {
    const { hand, said, answer, now } = handOn();
    hand.hold(spot(FIRST));
    hand.step(10, 0);
    hand.letGo();
    hand.step(10, 0);
    hand.letGo();
    const [once, twice] = said.map(({ circuit }) => circuit);
    await answer(true);
    hand.follow(once!);
    expect(now().circuit).toEqual(twice);
    await answer(true);
    expect(now().circuit).toEqual(twice);
    hand.follow(twice!);
    expect(now().circuit).toEqual(twice);
  });

  it('PL120: taken back while the words for it are under way: what is drawn next waits for both', async () => {
    const { hand, said, answer } = handOn();
    hand.hold(spot(FIRST));
    hand.step(10, 0);
    hand.letGo();
    hand.waitFor(Promise.resolve().then(() => hand.follow({ ...EBBSTONE })));
    hand.step(0, 5);
    hand.letGo();
    await new Promise((resolve) => setTimeout(resolve));
    expect(said).toHaveLength(1);
    await answer(true);
    await new Promise((resolve) => setTimeout(resolve));
    expect(said).toHaveLength(2);
    expect(said[1]!.circuit.spots[0]!.place.longitudeDeg).toBe(FIRST.place.longitudeDeg);
    expect(said[1]!.circuit.spots[0]!.place.latitudeDeg).not.toBe(FIRST.place.latitudeDeg);
  });
});
