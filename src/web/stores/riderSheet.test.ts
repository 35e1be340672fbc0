import { describe, expect, it } from 'vitest';
import { createFakeDay } from '../../server/testing/fakeDay.js';
import type { RiderView } from '../../server/types.js';
import { riderView } from '../../server/views/rider.js';
import {
  allPasses,
  currentPass,
  divideDecisions,
  joinWholeDecisions,
  markedFrames,
  markOf,
  meantFrames,
  moveDecisions,
  NOTHING_MARKED,
  stayingFrame,
  stepFrame,
  stepPass,
  takeOutDecisions,
  turnMark,
} from './riderSheet.js';

const viewOf = (): RiderView => {
  const day = createFakeDay({ frames: 400, riders: 12 });
  return riderView(day.state(), day.state().arrangement.riders.find((rider) => rider.passes.length > 4)!.key);
};
const view = viewOf();

describe('a rider’s sheet', () => {
  it('DK70: arrows walk every pass once, and stop at both ends', () => {
    let state = stepPass(view, NOTHING_MARKED, 1, false);
    const walked = [currentPass(view, state)?.index];
    for (let i = 0; i < allPasses(view).length + 3; i++) {
      state = stepPass(view, state, 1, false);
      const index = currentPass(view, state)?.index;
      if (index !== walked.at(-1)) walked.push(index);
    }
    expect(walked).toEqual(allPasses(view).map((pass) => pass.index));
  });

  it('DK71: with Shift an arrow goes to the next session’s first pass', () => {
    const first = stepPass(view, NOTHING_MARKED, 1, false);
    const far = stepPass(view, first, 1, true);
    expect(currentPass(view, far)).toBe(view.sessions[1]!.passes[0]!);
  });

  it('DK72: a comma marks frame after frame and then the whole pass again', () => {
    const first = stepPass(view, NOTHING_MARKED, 1, false);
    const pass = currentPass(view, first)!;
    expect(markedFrames(pass, first)).toHaveLength(pass.frames.length);
    let state = first;
    for (let i = 0; i < pass.frames.length; i++) {
      state = stepFrame(view, state);
      expect(markedFrames(pass, state)).toEqual([pass.frames[i]]);
    }
    expect(stepFrame(view, state).frame).toBeNull();
  });

  it('DK77: arranged anew, the current pass stays the one it was, and one that left the sheet marks no other', () => {
    const third = allPasses(view)[2]!;
    const state = { ...NOTHING_MARKED, pass: markOf(third), frame: third.frames[0]!.frameId };
    const sessionsOf = (change: (passes: RiderView['sessions'][number]['passes']) => typeof passes) =>
      view.sessions.map((session) => ({ ...session, passes: change(session.passes) }));
    const renumbered = {
      ...view,
      sessions: sessionsOf((passes) => passes.map((pass) => ({ ...pass, index: pass.index + 1 }))),
    };
    expect(currentPass(renumbered, state)?.frames).toEqual(third.frames);
    const without = { ...view, sessions: sessionsOf((passes) => passes.filter((pass) => pass !== third)) };
    expect(currentPass(without, state)).toBeNull();
    expect(divideDecisions(without, state)).toBeNull();
    const next = currentPass(without, stepPass(without, state, 1, false));
    expect(next).toBe(allPasses(view)[3]);
  });

  it('DK73: taking out never makes a frame differ from one that is taken out with it', () => {
    const pass = allPasses(view)[0]!;
    const decisions = takeOutDecisions(view, pass.frames)!;
    const out = new Set(pass.frames.map((frame) => frame.file as string));
    const differing = decisions.filter((decision) => decision.kind === 'different-riders');
    expect(differing.length).toBeGreaterThanOrEqual(pass.frames.length);
    for (const { points } of differing) {
      expect(points).toHaveLength(2);
      expect(out.has(points[0]!.file)).toBe(true);
      expect(out.has(points[1]!.file)).toBe(false);
    }
  });

  it('DK78: after taking out, the sheet follows a frame that the ones taken out were said to differ from', () => {
    for (const pass of allPasses(view)) {
      const staying = stayingFrame(view, pass.frames);
      const file = allPasses(view)
        .flatMap((one) => one.frames)
        .find((frame) => frame.frameId === staying)!.file;
      const differing = takeOutDecisions(view, pass.frames)!.flatMap((decision) =>
        decision.kind === 'different-riders' ? [decision.points[1]!.file] : [],
      );
      expect(differing).toContain(file);
    }
  });

  it('DK79: what is taken out is said to differ from every pass that stays, so that none goes along with it', () => {
    const [pass, ...others] = allPasses(view);
    const differing = takeOutDecisions(view, pass!.frames)!.flatMap((decision) =>
      decision.kind === 'different-riders' ? [decision.points[1]!.file] : [],
    );
    expect(others.length).toBeGreaterThan(3);
    for (const other of others) expect(other.frames.some((frame) => differing.includes(frame.file))).toBe(true);
  });

  it('DK74: the last pass of a rider cannot be taken off the sheet: there is nothing to differ from', () => {
    const only = { ...view, anchors: [], sessions: [{ ...view.sessions[0]!, passes: [allPasses(view)[0]!] }] };
    expect(takeOutDecisions(only, allPasses(only)[0]!.frames)).toBeNull();
  });

  it('DK75: moving a pass is one gesture that says both: not this rider, but that one', () => {
    const pass = allPasses(view)[1]!;
    const to = view.nearest[0]!.anchor;
    const decisions = moveDecisions(view, pass.frames, to)!;
    expect(decisions.at(-1)).toEqual({ kind: 'same-rider', points: [pass.frames[0]!.point, to] });
    expect(decisions.some((decision) => decision.kind === 'different-riders')).toBe(true);
    expect(joinWholeDecisions(view, to)).toEqual([{ kind: 'same-rider', points: [view.anchors[0], to] }]);
  });

  it('DK76: dividing keeps each part together and parts them at the current pass', () => {
    const passes = allPasses(view);
    const state = { ...NOTHING_MARKED, pass: markOf(passes[2]!) };
    const decisions = divideDecisions(view, state)!;
    const joined = decisions
      .filter((decision) => decision.kind === 'same-rider')
      .map((decision) => decision.points.length);
    expect(joined).toEqual([2, passes.length - 2]);
    expect(divideDecisions(view, { ...NOTHING_MARKED, pass: markOf(passes[0]!) })).toBeNull();
  });

  it('DK150: marked passes go together, whichever is current; a marked frame goes alone', () => {
    const [first, second, third] = allPasses(view);
    const on = (pass: typeof first, state = NOTHING_MARKED) => ({ ...state, pass: markOf(pass!) });
    const marked = turnMark(view, on(third, turnMark(view, on(first))));
    const files = (state: typeof marked) => meantFrames(view, state).map((frame) => frame.file);
    const own = (...passes: (typeof first)[]) => passes.flatMap((pass) => pass!.frames.map((frame) => frame.file));
    expect(files(on(second, marked))).toEqual(own(first, third));
    expect(files(on(second))).toEqual(own(second));
    expect(files({ ...on(second, marked), frame: second!.frames[0]!.frameId })).toEqual(own(second).slice(0, 1));
    expect(files(turnMark(view, on(first, marked)))).toEqual(own(third));
    const out = takeOutDecisions(view, meantFrames(view, marked))!;
    expect(out[0]).toEqual({ kind: 'same-rider', points: meantFrames(view, marked).map((frame) => frame.point) });
    const apart = out.filter((decision) => decision.kind === 'different-riders').map(({ points }) => points[1]!.file);
    expect(apart.length).toBeGreaterThan(3);
    expect(apart.some((file) => files(marked).includes(file))).toBe(false);
  });
});
