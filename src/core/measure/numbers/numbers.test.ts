import { describe, expect, it } from 'vitest';
import type { RgbImage } from '../images.js';
import type { NumberReading } from '../types.js';
import { cutTurned } from './cutTurned.js';
import { numberKey, readNumbers, voteNumber } from './index.js';
import type { DigitMaps } from './types.js';

const reading = (text: string, confidence: number, isWhole = true): NumberReading => ({
  text,
  confidence,
  isWhole,
  box: [0.4, 0.4, 0.1, 0.1],
  turnedDeg: 0,
});

describe('a vote over the frames of a rider', () => {
  it('is for what most frames read, however sure one frame is of something else', () => {
    const vote = voteNumber([reading('46', 0.8), reading('46', 0.85), reading('46', 0.8), reading('48', 0.9)]);
    expect(vote).toMatchObject({ kind: 'read', text: '46', readings: 3 });
  });

  it('says that two texts contradict each other where neither leads clearly', () => {
    expect(voteNumber([reading('12', 0.8), reading('72', 0.82)])).toEqual({
      kind: 'contradicted',
      texts: ['72', '12'],
    });
  });

  it('takes the entry where the other text is on no list: a plate left from another race', () => {
    const vote = voteNumber([reading('12', 0.8), reading('72', 0.82)], ['12', '99']);
    expect(vote).toMatchObject({ kind: 'read', text: '12' });
  });

  it('calls a number unread where digits were hidden, or nothing was read', () => {
    expect(voteNumber([reading('4', 0.9, false)])).toEqual({ kind: 'unread', reason: 'only-incomplete' });
    expect(voteNumber([])).toEqual({ kind: 'unread', reason: 'no-readings' });
    expect(voteNumber([reading('4', 0.2)])).toEqual({ kind: 'unread', reason: 'too-weak' });
  });

  it('does not depend on the order of the frames', () => {
    const all = [reading('46', 0.8), reading('48', 0.7), reading('46', 0.4), reading('4', 0.6)];
    expect(voteNumber([...all].reverse())).toEqual(voteNumber(all));
  });

  it('keeps the same number of two classes apart', () => {
    expect(numberKey('Autumn', 'Rookie 600', '7')).not.toBe(numberKey('Autumn', 'Open', '7'));
    expect(numberKey('a/b', 'c', '1')).not.toBe(numberKey('a', 'b/c', '1'));
  });
});

describe('a turned part of a picture', () => {
  const image: RgbImage = { width: 8, height: 8, data: Uint8Array.from({ length: 192 }, (_, i) => (i * 7) % 256) };

  it('is the picture itself where it is neither turned nor scaled', () => {
    const planes = cutTurned(image, { x: 4, y: 4, angle: 0, scale: 1 }, 8, 8);
    for (let i = 0; i < 64; i += 1) expect(planes[64 + i]).toBeCloseTo(image.data[3 * i + 1]!, 3);
  });

  it('has what was left at the top after a quarter turn', () => {
    const planes = cutTurned(image, { x: 4, y: 4, angle: Math.PI / 2, scale: 1 }, 8, 8);
    // One step along the turned line is one step down in the picture.
    expect(planes[1]).toBeCloseTo(image.data[3 * (1 * 8 + 7)]!, 3);
  });
});

/** Maps of an invented network that sees the digits of a number in a row, level, 24 px high, at the middle. */
function mapsOf(text: string, width: number, height: number, whole = 0.9): DigitMaps {
  const [columns, rows] = [width / 4, height / 4];
  const data = new Float32Array(27 * columns * rows);
  const set = (channel: number, cell: number, value: number) => {
    data[channel * columns * rows + cell] = value;
  };
  const row = Math.floor(rows / 2);
  [...text].forEach((digit, place) => {
    const column = Math.floor(columns / 2) + Math.round((place - (text.length - 1) / 2) * 4.5);
    const cell = row * columns + column;
    const values: Record<number, number> = { 0: 0.9, [2 + Number(digit)]: 0.95, 14: 0, 15: Math.log(1.5), 16: 1 };
    for (const [channel, value] of Object.entries(values)) set(Number(channel), cell, value);
    set(18, cell, ((Math.floor(columns / 2) - column) * 4) / 24);
    set(22 + text.length, cell, 0.95);
    set(26, cell, whole);
  });
  set(1, row * columns + Math.floor(columns / 2), 0.9);
  return { data, columns, rows };
}

describe('reading', () => {
  const image: RgbImage = { width: 448, height: 448, data: new Uint8Array(3 * 448 * 448) };
  const rect = { left: 0, top: 0, right: 448, bottom: 448 };

  it.each(['7', '46', '046'])('gives %s back in reading order, with where it stands', async (text) => {
    const readings = await readNumbers(image, rect, async (_, w, h) => mapsOf(text, w, h));
    expect(readings).toHaveLength(1);
    expect(readings[0]).toMatchObject({ text, isWhole: true });
    expect(readings[0]!.confidence).toBeGreaterThan(0.5);
    const [left, top, width, height] = readings[0]!.box;
    expect(left + width / 2).toBeCloseTo(0.5, 1);
    expect(top + height / 2).toBeCloseTo(0.5, 1);
  });

  it('calls a number incomplete where the network says that digits are hidden', async () => {
    const readings = await readNumbers(image, rect, async (_, w, h) => mapsOf('46', w, h, 0.1));
    expect(readings[0]).toMatchObject({ text: '46', isWhole: false });
  });

  it('gives nothing where nothing is seen', async () => {
    expect(await readNumbers(image, rect, async (_, w, h) => mapsOf('', w, h))).toEqual([]);
  });
});
