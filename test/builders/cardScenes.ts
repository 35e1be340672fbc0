/** How cards are photographed: from a tenth to half of the frame's width, tilted up to 25°, blurred, with glare. */
import type { CardScene } from './cardScene.js';

const WIDTHS = [0.1, 0.15, 0.25, 0.35, 0.44];

const WAYS: readonly Omit<CardScene, 'text' | 'width'>[] = [
  { turnedDeg: 0, aslantDeg: 0, blurPx: 0.6, glare: 0, jpegQuality: 90, noise: 3 },
  { turnedDeg: 25, aslantDeg: 0, blurPx: 0.8, glare: 0, jpegQuality: 85, noise: 4 },
  { turnedDeg: -12, aslantDeg: 25, blurPx: 0.8, glare: 0, jpegQuality: 85, noise: 4 },
  { turnedDeg: 8, aslantDeg: -10, blurPx: 1.3, glare: 0, jpegQuality: 80, noise: 6 },
  { turnedDeg: -5, aslantDeg: 12, blurPx: 0.8, glare: 0.5, jpegQuality: 80, noise: 4 },
  { turnedDeg: 20, aslantDeg: 20, blurPx: 1, glare: 0.3, jpegQuality: 75, noise: 6 },
];

export const cardScenes = (text: string): readonly CardScene[] => [
  ...WIDTHS.flatMap((width) => WAYS.map((way) => ({ text, width, ...way }))),
  // Half of the width fits the frame's height only where it stands nearly upright.
  { text, width: 0.5, ...WAYS[0]! },
];
