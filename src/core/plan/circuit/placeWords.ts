/** Places and lengths as they stand in sentences. */
import type { Place } from './types.js';

export const sayPlace = ({ latitudeDeg, longitudeDeg }: Place): string =>
  `${Math.abs(latitudeDeg).toFixed(5)}° ${latitudeDeg < 0 ? 'S' : 'N'} ${Math.abs(longitudeDeg).toFixed(5)}° ${
    longitudeDeg < 0 ? 'W' : 'E'
  }`;
export const sayMetres = (metres: number): string =>
  metres >= 10_000 ? `${(metres / 1000).toFixed(1)} km` : `${Math.round(metres)} m`;
/** `one place`, `3 places`. */
export const sayCount = (count: number, one: string, many: string): string =>
  count === 1 ? `one ${one}` : `${count} ${many}`;
