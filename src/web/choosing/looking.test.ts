import { describe, expect, it } from 'vitest';
import { riderToChooseView } from '../../server/choosing/riderToChoose.js';
import type { RiderToChooseView, ToChooseFrameView } from '../../server/choosing/types.js';
import { createFakeDay } from '../../server/testing/fakeDay.js';
import {
  afterLeaving,
  allPlaces,
  besidePlace,
  currentPlace,
  goneThrough,
  isKept,
  isSame,
  LOOKING_AFRESH,
  type Looking,
  rowsOf,
  stepBeside,
  stepPlace,
} from './looking.js';

const viewOf = (): RiderToChooseView => {
  const day = createFakeDay({ frames: 1200, riders: 12, untilHour: 18 });
  const most = [...day.state().arrangement.riders].sort((a, b) => b.passes.length - a.passes.length)[0]!;
  return riderToChooseView(day.state(), most.key);
};
const view = viewOf();
const places = allPlaces(rowsOf(view, false));

/** The same set with some frames said otherwise. */
const withKept = (kept: (frame: ToChooseFrameView) => ToChooseFrameView['kept']): RiderToChooseView => ({
  ...view,
  passes: view.passes.map((pass) => ({
    ...pass,
    frames: pass.frames.map((frame) => ({ ...frame, kept: kept(frame) })),
  })),
});

describe('a rider’s set', () => {
  it('CS1: stands spot by spot as on the wheel, each kept frame once, and says where nothing is kept', () => {
    const rows = rowsOf(view, false);
    expect(rows.map(({ spot }) => spot?.number)).toEqual(view.rider.wheel.map(({ number }) => number));
    const kept = view.passes.flatMap(({ frames }) => frames).filter(isKept);
    expect(kept.length).toBeGreaterThan(5);
    expect(new Set(places.map(({ frame }) => frame.frameId))).toEqual(new Set(kept.map(({ frameId }) => frameId)));
    for (const row of rows) expect(row.places.every(({ pass }) => pass.spot?.number === row.spot?.number)).toBe(true);
  });

  it('CS1: shows every pass once asked to, by its best frame where none is kept', () => {
    const all = allPlaces(rowsOf(view, true));
    expect(new Set(all.map(({ pass }) => pass.index)).size).toBe(view.passes.length);
    expect(all.length).toBeGreaterThan(places.length);
  });

  it('CS14: of a rider of whom nothing is kept the best there is stands there', () => {
    const none = withKept(() => null);
    expect(allPlaces(rowsOf(none, false))).toEqual([]);
    const current = currentPlace(none, LOOKING_AFRESH);
    expect(current?.frame).toBe(current?.pass.frames[current.pass.bestFirst[0]!]);
  });

  it('CS14: a pass of one frame is held against what came second in another, else against nothing', () => {
    const pass = { ...view.passes[0]!, frames: [{ ...view.passes[0]!.frames[0]!, second: null }], bestFirst: [0] };
    const alone: RiderToChooseView = { ...view, passes: [pass] };
    expect(besidePlace(alone, LOOKING_AFRESH, currentPlace(alone, LOOKING_AFRESH))).toBeNull();
  });
});

describe('looking through it', () => {
  const walk = (step: 1 | -1, isFar: boolean): readonly (string | undefined)[] => {
    let state: Looking = { ...LOOKING_AFRESH, current: places[step === 1 ? 0 : places.length - 1]!.frame };
    return Array.from({ length: places.length + 2 }, () => {
      const now = currentPlace(view, state)?.frame.frameId;
      state = stepPlace(view, state, step, isFar);
      return now;
    });
  };

  it('CS4: arrows walk the set once, both ways, and stop at both ends; with Shift spot by spot', () => {
    const ids = places.map(({ frame }) => frame.frameId as string);
    expect([...new Set(walk(1, false))]).toEqual(ids);
    expect([...new Set(walk(-1, false))]).toEqual(ids.toReversed());
    const spots = new Set(
      walk(1, true).map((id) => places.find(({ frame }) => frame.frameId === id)?.pass.spot?.number),
    );
    expect(spots).toEqual(new Set(places.map(({ pass }) => pass.spot?.number)));
    expect(new Set(walk(1, true)).size).toBe(spots.size);
  });

  it('CS7: a comma sets every other frame of the pass beside the current one, one after another', () => {
    const place = places.find(({ pass }) => pass.frames.length > 2)!;
    let state: Looking = { ...LOOKING_AFRESH, current: place.frame };
    const seen = new Set<string>();
    for (let i = 0; i < place.pass.frames.length; i++) {
      state = stepBeside(view, state);
      const beside = besidePlace(view, state, currentPlace(view, state))!;
      expect(isSame(beside.frame, place.frame)).toBe(false);
      seen.add(beside.frame.frameId);
    }
    expect(seen.size).toBe(place.pass.frames.length - 1);
    expect(currentPlace(view, state)?.frame).toBe(place.frame);
  });

  it('CS7: first the best of the pass that is neither kept nor left out stands beside it', () => {
    const place = places.find(({ pass }) => pass.frames.length > 2)!;
    const [best] = place.pass.bestFirst
      .map((i) => place.pass.frames[i]!)
      .filter((one) => !isSame(one, place.frame) && one.kept === null);
    expect(besidePlace(view, LOOKING_AFRESH, place)?.frame).toBe(best);
    const without = withKept((frame) => (isSame(frame, best!) ? 'left-out' : frame.kept));
    const there = currentPlace(without, { ...LOOKING_AFRESH, current: place.frame });
    expect(besidePlace(without, LOOKING_AFRESH, there)?.frame.frameId).not.toBe(best!.frameId);
  });

  it('CS6: when the current one leaves, the eye goes to the next, at the end to the one before', () => {
    const from = (index: number) =>
      afterLeaving(view, { ...LOOKING_AFRESH, current: places[index]!.frame }).current?.frameId;
    expect(from(0)).toBe(places[1]!.frame.frameId);
    expect(from(places.length - 1)).toBe(places.at(-2)!.frame.frameId);
  });

  it('CS3: going on writes down the set as it stood, and keeps nothing by a person’s word', () => {
    const said = goneThrough(view);
    expect(said).toEqual({
      kind: 'gone-through',
      of: view.point,
      files: [...new Set(view.passes.flatMap(({ frames }) => frames.filter(isKept).map(({ file }) => file)))],
    });
    expect(goneThrough({ ...view, point: null })).toBeNull();
  });
});
