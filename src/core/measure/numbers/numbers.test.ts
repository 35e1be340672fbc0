import { describe, expect, it } from 'vitest';
import { PARTS_EDGE, type PartsSeen } from '../bikeSeen.js';
import type { RgbImage } from '../images.js';
import type { NumberReading } from '../types.js';
import { chanceRight } from './chanceRight.js';
import { cutTurned } from './cutTurned.js';
import { isWorthReading, numberKey, readNumbers, voteNumber } from './index.js';
import type { DigitMaps, SeenNumber } from './types.js';

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

  it('MS21: calls a number incomplete where the network says that digits are hidden', async () => {
    const readings = await readNumbers(image, rect, async (_, w, h) => mapsOf('46', w, h, 0.1));
    expect(readings[0]).toMatchObject({ text: '46', isWhole: false });
  });

  it('looks at the one candidate again twice, and at a bike without numbers once', async () => {
    const sides: string[] = [];
    const seeing = (text: string) => async (_: Float32Array, w: number, h: number) => {
      sides.push(`${w}×${h}`);
      return mapsOf(text, w, h);
    };
    await readNumbers(image, rect, seeing('46'));
    expect(sides).toEqual(['448×448', '192×96', '192×96']);
    sides.length = 0;
    await readNumbers(image, rect, seeing(''));
    expect(sides).toEqual(['448×448']);
  });

  it('puts the number where it stands also in a picture that is halved before it is looked at', async () => {
    const large: RgbImage = { width: 1024, height: 1024, data: new Uint8Array(3 * 1024 * 1024) };
    const subject = { left: 100, top: 200, right: 900, bottom: 1000 };
    const [reading] = await readNumbers(large, subject, async (_, w, h) => mapsOf('46', w, h));
    const [left, top, width, height] = reading!.box;
    expect(left + width / 2).toBeCloseTo(500 / 1024, 1);
    expect(top + height / 2).toBeCloseTo(600 / 1024, 1);
  });

  it('MS21: leaves out what is too small for any digit to be told', () => {
    expect(isWorthReading({ left: 10, top: 10, right: 60, bottom: 50 })).toBe(false);
    expect(isWorthReading({ left: 10, top: 10, right: 110, bottom: 50 })).toBe(true);
  });

  it('MS21: leaves out a figure that stands beside the bike', async () => {
    const look = async (_: Float32Array, w: number, h: number) => mapsOf('46', w, h);
    const everywhere = new Float32Array(PARTS_EDGE ** 2).fill(1);
    const seen: PartsSeen = { rect, whole: everywhere, clothes: everywhere, helmet: everywhere };
    expect(await readNumbers(image, rect, look, seen)).toHaveLength(1);
    // A bike in the lower third alone; the figure stands in the middle.
    const below = everywhere.map((_, at) => (at < (2 / 3) * PARTS_EDGE ** 2 ? 0 : 1));
    expect(await readNumbers(image, rect, look, { ...seen, whole: below })).toEqual([]);
  });

  it('gives nothing where nothing is seen', async () => {
    expect(await readNumbers(image, rect, async (_, w, h) => mapsOf('', w, h))).toEqual([]);
  });
});

describe('the chance that a reading is right', () => {
  const sureOf = (digit: number, chance: number) =>
    Array.from({ length: 10 }, (_, k) => (k === digit ? chance : (1 - chance) / 9));
  const seen: SeenNumber = {
    ...{ digits: [sureOf(4, 0.9), sureOf(6, 0.9)], text: '46', x: 0, y: 0, height: 30, angle: 0 },
    ...{ found: 0.8, number: 0.7, lengthChance: 0.9, whole: 0.9, agreement: 1, score: 0 },
  };

  it('MS21: falls with each clue that speaks less for it', () => {
    const chance = chanceRight(seen);
    expect(chance).toBeGreaterThan(0.5);
    expect(chance).toBeLessThan(1);
    for (const weaker of [{ number: 0.4 }, { lengthChance: 0.4 }, { whole: 0.4 }, { agreement: 0.3 }])
      expect(chanceRight({ ...seen, ...weaker })).toBeLessThan(chance);
    expect(chanceRight({ ...seen, digits: [sureOf(4, 0.99), sureOf(6, 0.4)] })).toBeLessThan(chance);
  });

  it('is less for a single digit, which is often a part of something else', () => {
    expect(chanceRight({ ...seen, digits: [sureOf(4, 0.9)], text: '4' })).toBeLessThan(chanceRight(seen));
  });
});
