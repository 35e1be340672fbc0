/** How amounts and times read in the terminal. */
export function bytesInWords(bytes: number): string {
  if (bytes < 1e3) return counted(bytes, 'byte');
  if (bytes < 999.5e3) return `${(bytes / 1e3).toFixed(0)} kB`;
  if (bytes < 999.5e6) return `${(bytes / 1e6).toFixed(0)} MB`;
  return `${(bytes / 1e9).toFixed(1)} GB`;
}

/** Rounded up before it is split, so that no part reaches sixty. */
export function secondsInWords(seconds: number): string {
  const whole = Math.ceil(seconds);
  if (whole < 60) return `${whole} s`;
  if (whole < 3600) return `${Math.floor(whole / 60)} min ${twoDigits(whole % 60)} s`;
  const minutes = Math.ceil(whole / 60);
  return `${Math.floor(minutes / 60)} h ${twoDigits(minutes % 60)} min`;
}

const twoDigits = (count: number): string => String(count).padStart(2, '0');

/** `1 rider`, `3 riders`. */
export const counted = (count: number, one: string, many = `${one}s`): string => `${count} ${count === 1 ? one : many}`;

/** `HH:MM:SS` of a zoneless wall time. */
export const clockOf = (wall: number): string => new Date(wall).toISOString().slice(11, 19);

/** `YYYY-MM-DD` of a zoneless wall time. */
export const dayOf = (wall: number): string => new Date(wall).toISOString().slice(0, 10);

/** A name from a card, which may hold line ends and other control characters. */
export const onOneLine = (name: string): string => name.replace(/\p{Cc}/gu, '\ufffd');
