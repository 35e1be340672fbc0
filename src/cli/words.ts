/** How amounts and times read in the terminal. */
export function bytesInWords(bytes: number): string {
  if (bytes < 1e6) return `${(bytes / 1e3).toFixed(0)} kB`;
  if (bytes < 1e9) return `${(bytes / 1e6).toFixed(0)} MB`;
  return `${(bytes / 1e9).toFixed(1)} GB`;
}

export function secondsInWords(seconds: number): string {
  if (seconds < 60) return `${Math.ceil(seconds)} s`;
  if (seconds < 3600) return `${Math.floor(seconds / 60)} min ${String(Math.ceil(seconds % 60)).padStart(2, '0')} s`;
  return `${Math.floor(seconds / 3600)} h ${String(Math.ceil((seconds % 3600) / 60)).padStart(2, '0')} min`;
}

/** `1 rider`, `3 riders`. */
export const counted = (count: number, one: string, many = `${one}s`): string => `${count} ${count === 1 ? one : many}`;

/** `HH:MM:SS` of a zoneless wall time. */
export const clockOf = (wall: number): string => new Date(wall).toISOString().slice(11, 19);

/** `YYYY-MM-DD` of a zoneless wall time. */
export const dayOf = (wall: number): string => new Date(wall).toISOString().slice(0, 10);
