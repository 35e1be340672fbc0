import { describe, expect, it } from 'vitest';
import { wallMsOf } from '../../core/units.js';
import type { DayLineView } from '../../server/types.js';
import { moveEnd, readStretch, stretchOf, stretchText, wallAt } from './stretch.js';

const DATE = '2026-09-19';
const at = (clock: string) => wallMsOf(Date.parse(`${DATE}T${clock}Z`));
const session = { start: at('10:25:14'), end: at('10:49:58') } as DayLineView['sessions'][number];
const line = { date: DATE, from: at('08:00:00'), to: at('18:00:00'), sessions: [session] };

describe('a stretch of the day', () => {
  it('DK90: ends fall on whole minutes, and stick to the edges of a session so that all of it is in', () => {
    expect(wallAt(line, 0.123456)).toBe(at('09:14:00'));
    expect(wallAt(line, 0.2424)).toBe(at('10:25:00'));
    expect(wallAt(line, 0.2826)).toBe(at('10:50:00'));
    expect(wallAt(line, -3)).toBe(line.from);
    expect(wallAt(line, 7)).toBe(line.to);
  });

  it('DK91: dragged either way it is the same stretch, and a shaking click is none', () => {
    const there = stretchOf(line, at('10:00:00'), at('11:00:00'));
    expect(there).toEqual({ from: at('10:00:00'), to: at('11:00:00') });
    expect(stretchOf(line, at('11:00:00'), at('10:00:00'))).toEqual(there);
    expect(stretchOf(line, at('11:00:00'), at('11:00:20'))).toBeNull();
  });

  it('DK92: an end moved by key stops at the other end and at the line’s own', () => {
    const stretch = { from: at('10:00:00'), to: at('10:10:00') };
    expect(moveEnd(line, stretch, 'from', 5)).toEqual({ from: at('10:05:00'), to: stretch.to });
    expect(moveEnd(line, stretch, 'from', 500)).toEqual({ from: at('10:09:00'), to: stretch.to });
    expect(moveEnd(line, stretch, 'to', 5000)).toEqual({ from: stretch.from, to: line.to });
  });

  it('DK93: its word in the address is read back, and nonsense there is no stretch', () => {
    const stretch = { from: at('10:00:00'), to: at('10:10:00') };
    expect(readStretch(line, stretchText(stretch))).toEqual(stretch);
    const late = { ...line, to: wallMsOf(at('00:00:00') + 86_400_000) };
    const toMidnight = { from: at('23:00:00'), to: late.to };
    expect(readStretch(late, stretchText(toMidnight))).toEqual(toMidnight);
    for (const wrong of [undefined, '', '10:00', '25:00-26:00', '10:70-11:00', '10:10-10:10', '<b>'])
      expect(readStretch(line, wrong)).toBeNull();
  });
});
