import { describe, expect, it } from 'vitest';
import type { GestureId } from '../../core/ids.js';
import { riderToChooseView } from '../../server/choosing/riderToChoose.js';
import type { RiderToChooseView, ToChooseFrameView } from '../../server/choosing/types.js';
import { createFakeDay } from '../../server/testing/fakeDay.js';
import { type FrameSaid, heardFrom, heldAgainst, nameOf, withFramesSaid } from './framesSaid.js';

const desk: RiderToChooseView = (() => {
  const day = createFakeDay({ frames: 300, riders: 6 });
  return riderToChooseView(day.state(), day.state().arrangement.riders[0]!.key);
})();
const frame = desk.passes[0]!.frames[0]!;
const gesture = (name: string) => name as GestureId;
const said = (name: string, is: FrameSaid['is'], was: ToChooseFrameView['kept']): FrameSaid => ({
  gesture: gesture(name),
  bike: nameOf(frame),
  is,
  was,
  isHeard: false,
  fellAt: null,
});
const keptIn = (view: RiderToChooseView) => view.passes[0]!.frames[0]!.kept;
/** The desk's view of a later state. */
const deskSays = (kept: ToChooseFrameView['kept'], asOf: number): RiderToChooseView => ({
  ...desk,
  asOf,
  passes: desk.passes.map((pass, i) => ({
    ...pass,
    frames: pass.frames.map((one, k) => (i === 0 && k === 0 ? { ...one, kept } : one)),
  })),
});

describe('what was said of frames', () => {
  it('CS5: stands at once, over what the desk still says; of two words the later', () => {
    const all = [said('1', 'kept-by-person', 'proposed'), said('2', 'left-out', 'kept-by-person')];
    expect(keptIn(withFramesSaid(deskSays('proposed', 1), all.slice(0, 1)))).toBe('kept-by-person');
    expect(keptIn(withFramesSaid(deskSays('proposed', 1), all))).toBe('left-out');
    expect(withFramesSaid(desk, [])).toBe(desk);
  });

  it('CS5: once the desk has shown it, the desk alone counts', () => {
    const heard = heardFrom(deskSays('left-out', 2), [said('1', 'left-out', 'proposed')]);
    expect(heard[0]!.isHeard).toBe(true);
    expect(keptIn(withFramesSaid(deskSays('kept-by-person', 3), heard))).toBe('kept-by-person');
    expect(heardFrom(deskSays('proposed', 2), [said('1', 'left-out', 'proposed')])[0]!.isHeard).toBe(false);
  });

  it('CS5: refused or taken back it is undone at once, till a newer view comes', () => {
    const all = [said('1', 'kept-by-person', 'proposed'), said('2', 'left-out', 'kept-by-person')];
    const one = heldAgainst(heardFrom(deskSays('left-out', 4), all), new Set([gesture('1')]), 4);
    expect(keptIn(withFramesSaid(deskSays('left-out', 4), one))).toBe('kept-by-person');
    const none = heldAgainst(one, new Set(), 4);
    expect(keptIn(withFramesSaid(deskSays('left-out', 4), none))).toBe('proposed');
    expect(keptIn(withFramesSaid(deskSays(null, 5), none))).toBeNull();
    const again = heldAgainst(none, new Set([gesture('1')]), 5);
    expect(keptIn(withFramesSaid(deskSays(null, 5), again))).toBe('kept-by-person');
  });
});
