import { describe, expect, it } from 'vitest';
import { drawRgb, grain, type Rgb } from './drawnPictures.js';
import { resize, wholeRect } from './images.js';
import { boxBlur, maskSubject } from './maskSubject.js';

const isBike = (x: number, y: number) =>
  ((x - 200) / 90) ** 2 + ((y - 150) / 60) ** 2 < 1 || (x > 170 && x < 220 && y > 60 && y < 120);
const picture = drawRgb(400, 300, (x, y): Rgb => {
  const noise = Math.round(24 * grain(x, y));
  if (isBike(x, y)) return (x + y) % 40 < 20 ? [200 + noise, 40, 30] : [30 + noise, 30, 40];
  return y < 130 ? [70 + noise, 115 + noise, 60] : [105 + noise, 105 + noise, 106 + noise];
});
const box = [110 / 400, 60 / 300, 180 / 400, 150 / 300] as const;

describe('the mask', () => {
  const {
    inside,
    rect,
    picture: cut,
  } = maskSubject(picture, { what: 'motorcycle', box, bikeBox: box, score: 1, isCut: false });

  it('covers the drawn bike with an overlap (IoU) of 0.85 or more and leaves the surroundings out', () => {
    let [common, either] = [0, 0];
    for (let y = 0; y < cut.height; y += 1) {
      for (let x = 0; x < cut.width; x += 1) {
        const truth = isBike(
          rect.left + ((x + 0.5) * (rect.right - rect.left)) / cut.width,
          rect.top + ((y + 0.5) * (rect.bottom - rect.top)) / cut.height,
        );
        const claimed = inside[y * cut.width + x]! > 0.5;
        if (truth && claimed) common += 1;
        if (truth || claimed) either += 1;
      }
    }
    expect(common / either).toBeGreaterThan(0.85);
  });

  it('lies on a cut-out of 160 px that shows a quarter of the box around it', () => {
    expect(Math.max(cut.width, cut.height)).toBe(160);
    expect(rect.left).toBe(65);
    expect(rect.right).toBe(335);
  });
});

describe('the mask where the bike network has spoken', () => {
  const seenAs = (isThere: (x: number, y: number) => boolean) => {
    const rect = { left: 92, top: 45, right: 308, bottom: 225 };
    const plane = (value: (x: number, y: number) => number) =>
      Float32Array.from({ length: 48 * 48 }, (_, index) =>
        value(
          rect.left + (((index % 48) + 0.5) * (rect.right - rect.left)) / 48,
          rect.top + ((Math.floor(index / 48) + 0.5) * (rect.bottom - rect.top)) / 48,
        ),
      );
    const whole = plane((x, y) => (isThere(x, y) ? 0.97 : 0.03));
    const clothes = plane((x, y) => (isThere(x, y) && y < 90 ? 0.6 : 0));
    const helmet = plane((x, y) => (isThere(x, y) && y < 90 ? 0.3 : 0));
    return { rect, whole, clothes, helmet };
  };
  const subject = { what: 'motorcycle', box, bikeBox: box, score: 1, isCut: false } as const;
  /** Whether the mask has the pixel of the picture. */
  const has = ({ inside, rect, picture: cut }: ReturnType<typeof maskSubject>, x: number, y: number) => {
    const column = Math.floor(((x - rect.left) * cut.width) / (rect.right - rect.left));
    const row = Math.floor(((y - rect.top) * cut.height) / (rect.bottom - rect.top));
    return inside[row * cut.width + column]! > 0.5;
  };

  it('is the network’s, even where the colours say another thing', () => {
    const upper = maskSubject(
      picture,
      subject,
      seenAs((x, y) => isBike(x, y) && y < 150),
    );
    expect([has(upper, 195, 80), has(upper, 200, 130), has(upper, 200, 185)]).toEqual([true, true, false]);
  });

  it('says what is worn', () => {
    const { worn, picture: cut } = maskSubject(picture, subject, seenAs(isBike));
    const at = (x: number, y: number) =>
      worn![Math.floor(((y - 22) * cut.height) / 225) * cut.width + Math.floor(((x - 65) * cut.width) / 270)]!;
    expect(at(195, 75)).toBeGreaterThan(0.9);
    expect(at(200, 170)).toBeLessThan(0.05);
  });

  it('says whether somebody rides: where the detector saw a person, or the network a helmet', () => {
    const riderBox = [170 / 400, 60 / 300, 50 / 400, 60 / 300] as const;
    const bare = { ...seenAs(isBike), helmet: new Float32Array(48 * 48) };
    expect(maskSubject(picture, subject, seenAs(isBike)).isRidden).toBe(true);
    expect(maskSubject(picture, { ...subject, riderBox }, bare).isRidden).toBe(true);
    expect(maskSubject(picture, subject, bare).isRidden).toBe(false);
  });
});

describe('the box blur', () => {
  it('is the mean of the window, cut off at the border', () => {
    const values = Float32Array.of(0, 0, 9, 0, 0, 0);
    expect([...boxBlur(values, 6, 1, 1)].map((value) => Number(value.toFixed(6)))).toEqual([0, 3, 3, 3, 0, 0]);
    expect([...boxBlur(Float32Array.of(4, 0), 2, 1, 1)]).toEqual([2, 2]);
  });
});

describe('resizing', () => {
  const ramp = drawRgb(300, 200, (x, y) => [Math.floor((255 * x) / 299), Math.floor((255 * y) / 199), 128]);

  it.each([
    [150, 100],
    [97, 61],
    [30, 20],
    [420, 280],
  ])('to %i×%i keeps a ramp a ramp', (width, height) => {
    const small = resize(ramp, wholeRect(ramp), width, height);
    let worst = 0;
    for (let y = 2; y < height - 2; y += 1) {
      for (let x = 2; x < width - 2; x += 1) {
        const expected = (255 * (((x + 0.5) / width) * 300 - 0.5)) / 299;
        worst = Math.max(worst, Math.abs(small.data[3 * (y * width + x)]! - expected));
        worst = Math.max(worst, Math.abs(small.data[3 * (y * width + x) + 2]! - 128));
      }
    }
    expect(worst).toBeLessThan(2);
  });

  it('of a part shows that part only', () => {
    const part = resize(ramp, { left: 100, top: 50, right: 200, bottom: 100 }, 10, 5);
    expect(part.data[0]).toBeGreaterThan(80);
    expect(part.data[3 * 49]).toBeLessThan(175);
  });
});
