import { describe, expect, it } from 'vitest';
import type { FrameId } from '../../ids.js';
import { type Candidate, comingBack, hasName } from './comingBack.js';

const candidate = (frame: string, likeness: number, clues = ''): Candidate => ({
  frameId: frame as FrameId,
  likeness,
  hasSameTime: clues.includes('t'),
  hasSameName: clues.includes('n') || clues.includes('o'),
  hasOurName: clues.includes('o'),
});

describe('a picture that comes back', () => {
  it('FI14: is attached where content, time and name agree', () => {
    const found = comingBack([candidate('a', 0.7, 'tn'), candidate('b', 0.72, 't')]);
    expect(found).toEqual({ kind: 'attached', frameId: 'a', by: ['content', 'time', 'name'], likeness: 0.7 });
  });

  it('FI14: is a question where name or time say one frame and it shows another', () => {
    expect(comingBack([candidate('a', 0.2, 'tn')])).toMatchObject({ kind: 'unsure', candidates: ['a'] });
    const swapped = comingBack([candidate('a', 0.65, 'n'), candidate('b', 0.95)]);
    expect(swapped).toMatchObject({ kind: 'unsure', why: "it has one frame's name and looks more like another" });
    const torn = comingBack([candidate('a', 0.9, 'n'), candidate('b', 0.95, 't')]);
    expect(torn).toMatchObject({ kind: 'unsure', why: 'its name says one frame and its time another' });
  });

  it('FI14: is a question where several frames of a second look like it and none has its name', () => {
    const found = comingBack([candidate('a', 0.9, 't'), candidate('b', 0.88, 't')]);
    expect(found).toMatchObject({ kind: 'unsure', candidates: ['a', 'b'] });
  });

  it('FI14: without time and name it is attached only where one frame stands clear of all others', () => {
    expect(comingBack([candidate('a', 0.93), candidate('b', 0.6)])).toMatchObject({
      kind: 'attached',
      by: ['content'],
    });
    expect(comingBack([candidate('a', 0.93), candidate('b', 0.9)])).toMatchObject({ kind: 'unsure' });
    expect(comingBack([candidate('a', 0.7), candidate('b', 0.3)])).toMatchObject({ kind: 'unsure' });
    expect(comingBack([candidate('a', 0.4)])).toMatchObject({ kind: 'unknown' });
    expect(comingBack([])).toMatchObject({ kind: 'unknown' });
  });

  it('FI14: where a person says that names hold, what looks different goes to the frame whose full name it has', () => {
    const mirrored = [candidate('a', 0.1, 'to'), candidate('b', 0.2, 't')];
    expect(comingBack(mirrored)).toMatchObject({ kind: 'unsure' });
    expect(comingBack(mirrored, true)).toEqual({ kind: 'attached', frameId: 'a', by: ['name'], likeness: 0.1 });
    const ofTwoBodies = [candidate('a', 0.1, 'n'), candidate('b', 0.1, 'n')];
    expect(comingBack(ofTwoBodies, true)).toMatchObject({ kind: 'unsure', candidates: ['a', 'b'] });
    expect(comingBack([candidate('a', 0.1, 'n')], true)).toMatchObject({ kind: 'unsure' });
  });

  it('FI14: has a frame’s name where more words follow, and not where more digits do', () => {
    expect(hasName('HX7_0047-2 print.TIF', 'hx7_0047')).toBe(true);
    expect(hasName('hx7_0047.jpg', 'HX7_0047')).toBe(true);
    expect(hasName('hx7_00471.jpg', 'HX7_0047')).toBe(false);
    expect(hasName('0047.jpg', 'HX7_0047')).toBe(false);
  });
});
