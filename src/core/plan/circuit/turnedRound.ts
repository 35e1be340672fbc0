/** The same file with latitude and longitude in each other's place, for who knows that they are swapped. Rule PL123. */
import { isXml } from './recording/readRecording.js';

export function turnedRound(text: string): string {
  if (isXml(text)) return text.replace(/(?<=\s)(lat|lon)(?=\s*=)/g, (name) => (name === 'lat' ? 'lon' : 'lat'));
  try {
    return JSON.stringify(JSON.parse(text.replace(/^\uFEFF/, '')), (key, value: unknown) =>
      key === 'coordinates' ? turned(value) : value,
    );
  } catch {
    // What is no JSON is named by whoever reads it.
    return text;
  }
}

function turned(value: unknown): unknown {
  if (!Array.isArray(value)) return value;
  const [first, second, ...rest] = value as unknown[];
  return typeof first === 'number' && typeof second === 'number' ? [second, first, ...rest] : value.map(turned);
}
