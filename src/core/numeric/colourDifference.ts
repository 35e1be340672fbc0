/**
 * CIEDE2000 colour difference. G. Sharma, W. Wu, E. N. Dalal, "The CIEDE2000 Color-Difference Formula: Implementation
 * Notes, Supplementary Test Data, and Mathematical Observations", Color Research & Application 30(1), 21–30 (2005);
 * equation numbers at line ends, names as there, kL = kC = kH = 1.
 * Not a metric: it is discontinuous where hues differ by 180° (pair 14 of their table), so nothing clusters on it.
 * Expected accuracy: the paper's four decimals.
 */
import type { Lab } from './colour.js';

const POW25_7 = 25 ** 7;
const radiansOf = (deg: number): number => (deg * Math.PI) / 180;
const seventhPowerShare = (c: number): number => Math.sqrt(c ** 7 / (c ** 7 + POW25_7));

const hueDeg = (a: number, b: number): number => {
  if (a === 0 && b === 0) return 0;
  const deg = (Math.atan2(b, a) * 180) / Math.PI;
  return deg < 0 ? deg + 360 : deg;
};

/** Signed hue difference in degrees, the short way round. (10) */
function hueDifference(h1: number, h2: number, chromaProduct: number): number {
  if (chromaProduct === 0) return 0;
  const difference = h2 - h1;
  if (difference > 180) return difference - 360;
  return difference < -180 ? difference + 360 : difference;
}

/** Mean hue in degrees. (14) */
function meanHue(h1: number, h2: number, chromaProduct: number): number {
  const sum = h1 + h2;
  if (chromaProduct === 0) return sum;
  if (Math.abs(h1 - h2) <= 180) return sum / 2;
  return sum < 360 ? (sum + 360) / 2 : (sum - 360) / 2;
}

/** ΔE00 of two Lab colours under the same white. */
export function ciede2000([l1, a1, b1]: Lab, [l2, a2, b2]: Lab): number {
  const meanC = (Math.hypot(a1, b1) + Math.hypot(a2, b2)) / 2; // (2) (3)
  const g = 0.5 * (1 - seventhPowerShare(meanC)); // (4)
  const ap1 = (1 + g) * a1; // (5)
  const ap2 = (1 + g) * a2;
  const cp1 = Math.hypot(ap1, b1); // (6)
  const cp2 = Math.hypot(ap2, b2);
  const hp1 = hueDeg(ap1, b1); // (7)
  const hp2 = hueDeg(ap2, b2);

  const dL = l2 - l1; // (8)
  const dC = cp2 - cp1; // (9)
  const dh = hueDifference(hp1, hp2, cp1 * cp2); // (10)
  const dH = 2 * Math.sqrt(cp1 * cp2) * Math.sin(radiansOf(dh / 2)); // (11)

  const meanL = (l1 + l2) / 2; // (12)
  const meanCp = (cp1 + cp2) / 2; // (13)
  const h = meanHue(hp1, hp2, cp1 * cp2); // (14)
  const t =
    1 -
    0.17 * Math.cos(radiansOf(h - 30)) +
    0.24 * Math.cos(radiansOf(2 * h)) +
    0.32 * Math.cos(radiansOf(3 * h + 6)) -
    0.2 * Math.cos(radiansOf(4 * h - 63)); // (15)
  const dTheta = 30 * Math.exp(-(((h - 275) / 25) ** 2)); // (16)
  const rC = 2 * seventhPowerShare(meanCp); // (17)
  const sL = 1 + (0.015 * (meanL - 50) ** 2) / Math.sqrt(20 + (meanL - 50) ** 2); // (18)
  const sC = 1 + 0.045 * meanCp; // (19)
  const sH = 1 + 0.015 * meanCp * t; // (20)
  const rT = -Math.sin(radiansOf(2 * dTheta)) * rC; // (21)
  return Math.sqrt((dL / sL) ** 2 + (dC / sC) ** 2 + (dH / sH) ** 2 + rT * (dC / sC) * (dH / sH)); // (22)
}
